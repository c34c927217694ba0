"""Where a jamb leg's face stands at any height, and outlines carried up it, opening frame.

A leg is seen in plan at one height: its pull-side edge, the direction along
its face from there to the stop side, and the normal out of the face into the
opening. With no twist the hinge leg's face runs along -y and its normal is +x;
positive twist narrows the stop side.

What is said in plan takes numbers or arrays (n,) of variants alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Any, NamedTuple

import numpy as np

from swingcheck.geometry.sizes import Sizes, hold, point, points, variants
from swingcheck.geometry.solid import Floats
from swingcheck.model import Opening, station_value

#: How far a twisted or warped face's facets may stray from what was measured, inches.
FACE_SAGITTA = 1e-3

#: Heights nearer to each other than this are one, inches.
_SAME_HEIGHT = 2e-9


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
    return LegPlan(
        edge=edge,
        along=point(way * sin, -cos),
        normal=point(way * cos, sin),
        rabbet=rabbet,
    )


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
        level + (station_value(leg.twist, down[side]) if twists else 0.0),
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
    heights = {float(mark.height(opening)) for mark in _marks(opening, side)}
    return tuple(sorted({0.0, opening.height[side], *heights}))


def leg_edges(opening: Opening, side: int) -> Floats:
    """Return how far across a leg's edge stands wherever it was measured, (marks, n)."""
    ends = Mark(side, 1.0), Mark(side, 0.0)
    heights = point(*(mark.height(opening) for mark in (*ends, *_marks(opening, side))))
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


def _marks(opening: Opening, side: int) -> list[Mark]:
    """Return where readings are at several places, none where all are at one."""
    leg = (opening.hinge_leg, opening.strike_leg)[side]
    rabbet = (opening.rabbet.hinge, opening.rabbet.strike)[side]
    read = [(side, each) for each in (leg.plumb, leg.cross, leg.twist, rabbet)]
    if side and len(opening.width) > 1:
        read += [(1, opening.width), (0, opening.hinge_leg.plumb)]
    several = [(at, len(each)) for at, each in read if len(each) > 1]
    return sorted({Mark(at, k / (count - 1)) for at, count in several for k in range(count)})


class Levels(NamedTuple):
    """The marks that a leg is carried up through, and into how many bands between them."""

    marks: tuple[Mark, ...]
    bands: tuple[int, ...]


def settled_levels(
    opening: Opening, side: int, low: Sizes, high: Sizes, *, twists: bool = True
) -> Levels:
    """Return what a leg is carried up through from one height to another, of one scene.

    Two triangles stand off a twisted face by a quarter of what its far edge
    turns between two heights; heights are added until that is within
    :data:`FACE_SAGITTA`.
    """
    between = {float(mark.height(opening)): mark for mark in _marks(opening, side)}
    first, last = (float(np.ravel(z)[0]) for z in (low, high))
    heights = [first]
    for z in sorted(between):
        if heights[-1] + _SAME_HEIGHT < z < last - _SAME_HEIGHT:
            heights.append(z)
    ends = np.array([*heights, last])
    along = leg_plan(opening, side, ends, twists=twists).along
    turns = np.hypot(*np.diff(along))
    bands = (max(1, ceil(opening.depth * turn / 4 / FACE_SAGITTA - 1e-9)) for turn in turns)
    return Levels(tuple(between[z] for z in heights[1:]), tuple(bands))


def level_heights(
    name: str, levels: Levels, opening: Opening, side: int, low: Sizes, high: Sizes
) -> Floats:
    """Return the heights (s, 1, n) of a leg's rings, lowest first.

    Raises
    ------
    GeometryError
        Where they do not rise, or a reading lies between them.
    """
    marks = [mark.height(opening) for mark in levels.marks]
    ends = variants(point(low, *marks, high), 1)[:, None]
    band = np.repeat(np.arange(len(levels.bands)), levels.bands)
    up = np.concatenate([np.arange(count) / count for count in levels.bands])[:, None, None]
    found = np.concatenate([ends[band] + (ends[band + 1] - ends[band]) * up, ends[-1:]])
    hold(name, np.diff(found, axis=0) > 0, "its heights do not rise at these sizes")
    for mark in set(_marks(opening, side)) - set(levels.marks):
        z = np.asarray(mark.height(opening))
        beyond = (z < low + _SAME_HEIGHT) | (z > high - _SAME_HEIGHT)
        at_mark = (np.abs(ends[:, 0] - z) < _SAME_HEIGHT).any(axis=0)
        hold(name, beyond | at_mark, "a reading lies between its heights at these sizes")
    return found


def rings_up(leg: LegPlan, heights: Floats, outline: Floats, *, from_stop: bool = False) -> Floats:
    """Return an outline (k, 2, n) at every height (s, 1, n), (s, k, 3, n).

    ``leg`` is the leg in plan at those heights; ``from_stop``: along from the stop's face.
    """
    start = leg.rabbet if from_stop else 0.0
    x, y = leg.at(start + outline[:, 0], outline[:, 1])
    return np.moveaxis(point(x, y, heights), 0, 2)


def _share_down(height: Sizes, z: Sizes) -> Sizes:
    return (height - z) / height
