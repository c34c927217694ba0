"""From a scene to posed solids and the pin line."""

from swingcheck.assembly.assemble import assemble, bare_assembly, barrel_parts
from swingcheck.assembly.leaves import hinge_name
from swingcheck.assembly.parts import BESIDE, FITTED, GROUND, Assembly, Axis, Other, Part, PartKind

__all__ = [
    "BESIDE",
    "FITTED",
    "GROUND",
    "Assembly",
    "Axis",
    "Other",
    "Part",
    "PartKind",
    "assemble",
    "bare_assembly",
    "barrel_parts",
    "hinge_name",
]
