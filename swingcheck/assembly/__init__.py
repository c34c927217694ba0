"""From a scene to posed solids and the pin line."""

from swingcheck.assembly.assembled import assemble
from swingcheck.assembly.build import hinge_name
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
    "hinge_name",
]
