"""From a scene to posed solids and the pin line."""

from swingcheck.assembly.assemble import assemble, bare_assembly, barrel_parts
from swingcheck.assembly.leaves import hinge_name
from swingcheck.assembly.parts import BESIDE, FITTED, GROUND, Assembly, Axis, Other, Part, PartKind
from swingcheck.assembly.shape import (
    Corners,
    Shape,
    assembled,
    corners_of,
    hinges_alike,
    shape_of,
    why_not_many,
    with_one_hinge,
)
