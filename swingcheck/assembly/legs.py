"""Where a jamb leg's face stands at any height, and outlines carried up it, opening frame.

A leg is seen in plan at one height: its pull-side edge, the direction along
its face from there to the stop side, and the normal out of the face into the
opening. With no twist the hinge leg's face runs along -y and its normal is +x;
positive twist narrows the stop side.

What is said in plan takes numbers or arrays (n,) of variants alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from swingcheck.geometry.sizes import Sizes, point, points, variants
from swingcheck.geometry.solid import Floats
from swingcheck.model import Opening, station_value

#: How far an arched or warped face's facets may stray from what was measured, inches.
FACE_SAGITTA = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LegPlan:
    """A leg in plan at one height, or n variants of it.

    ``edge`` (2, ...) is the pull-side edge of the face, ``along`` (2, ...) the
    unit direction from it to the stop side, ``normal`` (2, ...) the unit
    normal out of the face into the opening, and ``rabbet`` (...) the distance
    along the face to the stop's face.
    """

    edge: Floats
    along: Floats
    normal: Floats
    rabbet: Any

    def at(self, along: Sizes, out: Sizes) -> Floats:
        """Return the plan point (2, ...) this far along the face and out of it."""
        return in_frame(self.edge, (along, self.along), (out, self.normal))

    def gap(self, point: Floats) -> Floats:
        """Return how far plan points (2, ...) stand out of the face, square to it."""
        x, y = point
        gap: Floats = (x - self.edge[0]) * self.normal[0] + (y - self.edge[1]) * self.normal[1]
        return gap


def in_frame(origin: Floats, *parts: tuple[Any, Floats]) -> Floats:
    """Return the point (d, ...) that stands some sizes (...) along directions (d, ...)."""
    return point(
        *(start + sum(size * way[axis] for size, way in parts) for axis, start in enumerate(origin))
    )


def leg_in_plan(side: int, edge: Floats, twist: Sizes, rabbet: Sizes) -> LegPlan:
    """Return the hinge (0) or strike (1) leg through its pull-side edge (2, ...).

    Twisted by ``twist`` radians, it runs along ``(s sin, -cos)`` and looks
    along ``(s cos, sin)``: ``s`` is 1 for the hinge leg and -1 for the strike leg.
    """
    way = (1.0, -1.0)[side]
    sin, cos = np.sin(twist), np.cos(twist)
    shape = np.broadcast_shapes(edge.shape[1:], np.shape(twist))
    each = (np.broadcast_to(own, shape) for own in (way * sin, -cos, way * cos, sin))
    along, out, across, up = each
    return LegPlan(edge=edge, along=point(along, out), normal=point(across, up), rabbet=rabbet)


def leg_plan(opening: Opening, side: int, z: Sizes, *, twists: bool = True) -> LegPlan:
    """Return the hinge (0) or strike (1) leg in plan at a height, or at heights (...).

    Without ``twists`` its face is square to the wall all the way up.
    """
    down = [_share_down(height, z) for height in opening.height]
    leg = (opening.hinge_leg, opening.strike_leg)[side]
    rabbet = (opening.rabbet.hinge, opening.rabbet.strike)[side]
    level = np.zeros(np.shape(z))
    x = station_value(leg.plumb, down[side]) + level
    if side:
        if len(opening.width) == 1:
            x = opening.width[0] - x
        else:
            hinge = station_value(opening.hinge_leg.plumb, down[0])
            x = hinge + station_value(opening.width, down[1])
    return leg_in_plan(
        side,
        point(x, station_value(leg.cross, down[side])),
        station_value(leg.twist, down[side]) if twists else 0.0,
        station_value(rabbet, down[side]),
    )


def hinge_leg_plan(opening: Opening, z: Sizes) -> LegPlan:
    """Return the hinge leg in plan at height ``z``."""
    return leg_plan(opening, 0, z)


def strike_leg_plan(opening: Opening, z: Sizes) -> LegPlan:
    """Return the strike leg in plan at height ``z``."""
    return leg_plan(opening, 1, z)


def leg_heights(opening: Opening, side: int) -> tuple[float, ...]:
    """Return the heights at which the hinge (0) or strike (1) leg was measured, lowest first."""
    heights = {float(mark.height(opening)) for mark in marks_of(opening, side)}
    return tuple(sorted({0.0, opening.height[side], *heights}))


def leg_edges(opening: Opening, side: int) -> Floats:
    """Return how far across a leg's edge stands wherever it was measured, (marks, n)."""
    ends = Mark(side, 1.0), Mark(side, 0.0)
    heights = point(*(mark.height(opening) for mark in (*ends, *marks_of(opening, side))))
    edge: Floats = leg_plan(opening, side, variants(heights, 1)).edge[0]
    return edge


def rectangle(along: tuple[Sizes, Sizes], out: tuple[Sizes, Sizes]) -> Floats:
    """Return a rectangle's outline (4, 2, ...)."""
    return points([(along[i], out[j]) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))])


class Mark(NamedTuple):
    """A height at which a leg was measured: a share of the way down from a side's head."""

    side: int
    down: float

    def height(self, opening: Opening) -> Sizes:
        """Return the height in an opening."""
        return opening.height[self.side] * (1 - self.down)


def marks_of(opening: Opening, side: int) -> list[Mark]:
    """Return where readings are at several places, none where all are at one."""
    leg = (opening.hinge_leg, opening.strike_leg)[side]
    rabbet = (opening.rabbet.hinge, opening.rabbet.strike)[side]
    read = [(side, each) for each in (leg.plumb, leg.cross, leg.twist, rabbet)]
    if side and len(opening.width) > 1:
        read += [(1, opening.width), (0, opening.hinge_leg.plumb)]
    several = [(at, len(each)) for at, each in read if len(each) > 1]
    return sorted({Mark(at, k / (count - 1)) for at, count in several for k in range(count)})


def _share_down(height: Sizes, z: Sizes) -> Sizes:
    return (height - z) / height
