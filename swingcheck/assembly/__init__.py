"""From a scene to posed solids and the pin line."""

from swingcheck.assembly.build import hinge_name
from swingcheck.assembly.parts import BESIDE, FITTED, GROUND, Assembly, Axis, Other, Part, PartKind
from swingcheck.assembly.whole import assemble

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
