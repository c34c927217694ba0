"""From a scene to posed solids and the pin line."""

from swingcheck.assembly.build import assemble, hinge_name
from swingcheck.assembly.parts import FITTED, GROUND, Assembly, Axis, Part, PartKind

__all__ = ["FITTED", "GROUND", "Assembly", "Axis", "Part", "PartKind", "assemble", "hinge_name"]
