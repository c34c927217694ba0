"""Where a jamb leg's face stands at any height, and outlines carried up it, opening frame.

A leg is seen in plan at one height: its pull-side edge, the direction along
its face from there to the stop side, and the normal out of the face into the
opening. With no twist the hinge leg's face runs along -y and its normal is +x;
positive twist narrows the stop side.

What is said in plan takes numbers or arrays (n,) of variants alike.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.model import Opening, Stations, station_value

#: A number, or one for each of n variants (n,).
Sizes = float | Floats

#: How far a twisted or warped face's facets may stray from what was measured, inches.
FACE_SAGITTA = 1e-3

#: A ring that stands off its neighbours' skin by less than this share of their size is on it.
_ON_SKIN = 1e-12


def plan_points(x: Sizes, y: Sizes) -> Floats:
    """Return plan points or directions (..., 2)."""
    points: Floats = np.empty((*np.broadcast_shapes(np.shape(x), np.shape(y)), 2))
    points[..., 0], points[..., 1] = x, y
    return points


def along_way(size: Sizes, way: Floats) -> Floats:
    """Return so much (...) of a plan direction (..., 2)."""
    return np.asarray(size)[..., None] * way


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LegPlan:
    """A leg in plan at one height, or n variants of it.

    ``edge`` (..., 2) is the pull-side edge of the face, ``along`` (..., 2) the
    unit direction from it to the stop side, ``normal`` (..., 2) the unit
    normal out of the face into the opening, and ``rabbet`` (...) the distance
    along the face to the stop's face.
    """

    edge: Floats
    along: Floats
    normal: Floats
    rabbet: Any

    def at(self, along: Sizes, out: Sizes) -> Floats:
        """Return the plan point (..., 2) this far along the face and out of it."""
        return self.edge + along_way(along, self.along) + along_way(out, self.normal)

    def gap(self, point: Floats) -> Floats:
        """Return how far plan points (..., 2) stand out of the face, square to it."""
        gap: Floats = ((point - self.edge) * self.normal).sum(axis=-1)
        return gap


LegPlanAt = Callable[[float], LegPlan]


def leg_in_plan(side: int, edge: Floats, twist: Sizes, rabbet: Sizes) -> LegPlan:
    """Return the hinge (0) or strike (1) leg through its pull-side edge (..., 2).

    Twisted by ``twist`` radians, it runs along ``(s sin, -cos)`` and looks
    along ``(s cos, sin)``: ``s`` is 1 for the hinge leg and -1 for the strike leg.
    """
    way = (1.0, -1.0)[side]
    sin, cos = np.sin(twist), np.cos(twist)
    return LegPlan(
        edge=edge,
        along=plan_points(way * sin, -cos),
        normal=plan_points(way * cos, sin),
        rabbet=rabbet,
    )


def leg_plan(opening: Opening, side: int, z: float, *, twists: bool = True) -> LegPlan:
    """Return the hinge (0) or strike (1) leg in plan at height ``z``.

    Without ``twists`` its face is square to the wall all the way up.
    """
    down = [_share_down(height, z) for height in opening.height]
    leg = (opening.hinge_leg, opening.strike_leg)[side]
    rabbet = (opening.rabbet.hinge, opening.rabbet.strike)[side]
    x = station_value(leg.plumb, down[side])
    if side:
        if len(opening.width) == 1:
            x = opening.width[0] - x
        else:
            hinge = station_value(opening.hinge_leg.plumb, down[0])
            x = hinge + station_value(opening.width, down[1])
    return leg_in_plan(
        side,
        np.array([x, station_value(leg.cross, down[side])]),
        station_value(leg.twist, down[side]) if twists else 0.0,
        station_value(rabbet, down[side]),
    )


def hinge_leg_plan(opening: Opening, z: float) -> LegPlan:
    """Return the hinge leg in plan at height ``z``."""
    return leg_plan(opening, 0, z)


def strike_leg_plan(opening: Opening, z: float) -> LegPlan:
    """Return the strike leg in plan at height ``z``."""
    return leg_plan(opening, 1, z)


def leg_heights(opening: Opening, side: int) -> tuple[float, ...]:
    """Return the heights at which the hinge (0) or strike (1) leg was measured, lowest first."""
    leg = (opening.hinge_leg, opening.strike_leg)[side]
    rabbet = (opening.rabbet.hinge, opening.rabbet.strike)[side]
    heights = _heights(opening.height[side], leg.plumb, leg.cross, leg.twist, rabbet)
    if side and len(opening.width) > 1:
        heights |= _heights(opening.height[1], opening.width)
        heights |= _heights(opening.height[0], opening.hinge_leg.plumb)
    return tuple(sorted(heights))


def rectangle(along: tuple[float, float], out: tuple[float, float]) -> Floats:
    """Return a rectangle's outline (4, 2)."""
    return np.array([(along[i], out[j]) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))])


def loft_heights(
    plan_at: LegPlanAt, measured: Sequence[float], low: float, high: float, depth: float
) -> list[float]:
    """Return the heights to loft through: those measured, and more where the twist changes.

    Two triangles stand off a twisted face by a quarter of what its far edge
    turns between two heights; heights are added until that is within
    :data:`FACE_SAGITTA`.
    """
    marks = [low, *(z for z in measured if low < z < high), high]
    heights = [low]
    for here, above in pairwise(marks):
        turn = float(np.linalg.norm(plan_at(above).along - plan_at(here).along))
        steps = max(1, ceil(depth * turn / 4 / FACE_SAGITTA - 1e-9))
        heights += [here + (above - here) * k / steps for k in range(1, steps)]
        heights.append(above)
    return heights


def rings_up(
    plan_at: LegPlanAt, heights: Sequence[float], outline: Floats, *, from_stop: bool = False
) -> Floats:
    """Return the outline at every height, (s, k, 3); ``from_stop``: along from the stop's face."""
    rings = np.empty((len(heights), len(outline), 3))
    for ring, z in zip(rings, heights, strict=True):
        leg = plan_at(z)
        start = leg.rabbet if from_stop else 0.0
        ring[:, :2] = leg.at(start + outline[:, 0], outline[:, 1])
        ring[:, 2] = z
    return needed(rings)


def needed(rings: Floats) -> Floats:
    """Return the rings without those that lie on the straight skin between their neighbours."""
    kept = [0]
    for k in range(1, len(rings) - 1):
        low, high = rings[kept[-1]], rings[k + 1]
        share = (rings[k, 0, 2] - low[0, 2]) / (high[0, 2] - low[0, 2])
        if np.abs(rings[k] - (low + share * (high - low))).max() > _ON_SKIN * np.abs(high).max():
            kept.append(k)
    return rings[[*kept, len(rings) - 1]]


def _share_down(height: float, z: float) -> float:
    return (height - z) / height


def _heights(height: float, *measured: Stations) -> set[float]:
    found = {0.0, height}
    for stations in measured:
        last = len(stations) - 1
        found.update(height * (1 - k / last) for k in range(last + 1) if last)
    return found
