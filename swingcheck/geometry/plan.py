"""First contact in plan, for many variants of one picture at once.

Where every part is a prism along the turning axis, contact is a question of
plane outlines turning about the origin. A corner at radius ``r`` can only meet
the line of an edge where that line is ``r`` away from the axis: with ``n`` the
edge's outward normal, ``u`` its direction and ``d`` its offset, at
``d n + s u`` with ``s = +-sqrt((r - d)(r + d))``. Turning with ``sense`` +1 or
-1, the corner moves inward across it at the point where ``s`` has that sign,
so whether it meets the edge at all takes no angle to tell; the angle is worked
out for the few that do. Written over arrays it answers for all variants
together. Outlines of one variant may be concave; each is a closed ring of
corners, counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.pairs import GRAZE_IN as GRAZE
from swingcheck.geometry.pairs import SAME_TURN_RAD as SAME
from swingcheck.geometry.solid import Bools, Floats, Ints

ROOM_SHARE = 1e-11  # of the picture's size
Pairs = Sequence[tuple[int, int]]

CHUNK_VARIANTS = 8192  # variants at a time: small enough to stay in the processor's cache


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanContact:
    """First contacts of n variants: ``angle`` (n,) radians, nan for none; ``fixed`` (n,), -1."""

    angle: Floats
    fixed: Ints


def first_plan_contact(
    moving: Sequence[Floats],
    fixed: Sequence[Floats],
    *,
    start: float,
    stop: float,
    pairs: Pairs | None = None,
) -> PlanContact:
    """Return the first contact of every variant as ``moving`` turns from start toward stop.

    Parameters
    ----------
    moving, fixed : sequence of (n, k, 2) float64
        Outlines of n variants about the origin, inches, the moving ones at
        angle 0. ``k`` may differ from outline to outline. They must be apart
        at ``start``.
    start, stop : float
        Radians, counter-clockwise; at most one whole turn.
    pairs : sequence of (int, int), optional
        Which moving outline can meet which fixed one, where they do not all
        stand at one height. Of two that are met at one angle the earlier pair
        is told.
    """
    count = len(moving[0])
    angle = np.full(count, np.nan)
    hit = np.full(count, -1, dtype=np.int64)
    sense = 1.0 if stop >= start else -1.0
    for rows in _chunks(count):
        movers = [_ring(outline[rows], start) for outline in moving]
        rest = [_ring(outline[rows]) for outline in fixed]
        meeting = [(movers[i], rest[j], j) for i, j in pairs or _all_pairs(moving, fixed)]
        turn, hit[rows] = _first(meeting, sense, abs(stop - start))
        angle[rows] = np.where(np.isfinite(turn), start + sense * turn, np.nan)
    return PlanContact(angle=angle, fixed=hit)


def overlapping_in_plan(
    moving: Sequence[Floats],
    fixed: Sequence[Floats],
    angle: float,
    *,
    pairs: Pairs | None = None,
) -> Bools:
    """Tell (n,) in which variants a moving outline, turned by ``angle``, overlaps a fixed one.

    Outlines that only touch do not overlap. ``pairs`` is as for
    :func:`first_plan_contact`.
    """
    count = len(moving[0])
    found = np.zeros(count, dtype=np.bool_)
    for rows in _chunks(count):
        movers = [_columns(outline[rows], angle) for outline in moving]
        rest = [_columns(outline[rows]) for outline in fixed]
        for i, j in pairs or _all_pairs(moving, fixed):
            near = np.flatnonzero(_boxes_meet(movers[i], rest[j]))
            if len(near):
                found[rows.start + near] |= _overlap(movers[i][:, :, near], rest[j][:, :, near])
    return found


def _all_pairs(moving: Sequence[Floats], fixed: Sequence[Floats]) -> Pairs:
    return [(i, j) for j in range(len(fixed)) for i in range(len(moving))]


def _chunks(count: int) -> Iterator[slice]:
    for low in range(0, count, CHUNK_VARIANTS):
        yield slice(low, min(low + CHUNK_VARIANTS, count))


def _columns(outline: Floats, angle: float = 0.0) -> Floats:
    """Return an outline (n, k, 2), turned by an angle, as (2, k, n): a corner's n side by side."""
    x, y = np.ascontiguousarray(outline.transpose(2, 1, 0))
    if angle == 0.0:
        return np.stack([x, y])
    cos, sin = np.cos(angle), np.sin(angle)
    return np.stack([cos * x - sin * y, sin * x + cos * y])


@dataclass(frozen=True, slots=True, eq=False)
class _Ring:
    """An outline in every variant: corners, and the edge from each to the next, all (k, n).

    ``u`` is an edge's direction, ``offset`` its line's distance from the axis
    along the outward normal ``(uy, -ux)``, ``begin`` how far along the line
    from its foot the edge begins. ``radii`` and ``reach`` are the least and
    greatest distance from the axis in any variant, of each corner and of each
    edge, (k, 2).
    """

    x: Floats
    y: Floats
    radius: Floats
    ux: Floats
    uy: Floats
    length: Floats
    offset: Floats
    begin: Floats
    radii: Floats
    reach: Floats
    size: float


def _ring(outline: Floats, angle: float = 0.0) -> _Ring:
    x, y = _columns(outline, angle)
    dx, dy = np.roll(x, -1, axis=0) - x, np.roll(y, -1, axis=0) - y
    length = np.sqrt(dx * dx + dy * dy)
    some = np.maximum(length, 1e-300)
    ux, uy = dx / some, dy / some
    offset, begin = uy * x - ux * y, ux * x + uy * y
    radius = np.sqrt(x * x + y * y)
    # The edge's nearest point: its foot, or the end that is nearer to it.
    ahead = np.maximum(begin, 0.0) + np.minimum(begin + length, 0.0)
    near = np.sqrt(offset * offset + ahead * ahead)
    low, high = radius.min(axis=1), radius.max(axis=1)
    reach = np.stack([near.min(axis=1), np.maximum(high, np.roll(high, -1))], axis=1)
    radii = np.stack([low, high], axis=1)
    return _Ring(x, y, radius, ux, uy, length, offset, begin, radii, reach, float(high.max()))


def _first(
    meeting: Sequence[tuple[_Ring, _Ring, int]], sense: float, span: float
) -> tuple[Floats, Ints]:
    """Return the least turn (n,) at which a pair meets, inf for none, and which fixed one (n,)."""
    count = meeting[0][0].x.shape[1]
    best = np.full(count, np.inf)
    hit = np.full(count, -1, dtype=np.int64)
    for mover, outline, k in meeting:
        for corners, edges, way in ((mover, outline, sense), (outline, mover, -sense)):
            turn = _corners_to_edges(corners, edges, way, np.minimum(best, span))
            hit[turn < best - SAME] = k
            np.minimum(best, turn, out=best)
    return best, hit


def _corners_to_edges(corners: _Ring, edges: _Ring, way: float, limit: Floats) -> Floats:
    """Return the least turn (n,) at which a corner enters an edge, inf for none within limit."""
    best = np.full(corners.x.shape[1], np.inf)
    room = ROOM_SHARE * max(corners.size, edges.size)
    meets = (corners.radii[:, :1] <= edges.reach[:, 1] + room) & (
        corners.radii[:, 1:] >= edges.reach[:, 0] - room
    )
    farthest = float(limit.max()) + SAME
    for i, j in zip(*np.nonzero(meets), strict=True):
        r, d = corners.radius[i], edges.offset[j]
        over, under = r - d, r + d
        along = way * np.sqrt(np.maximum(over * under, 0.0))
        place = along - edges.begin[j]
        within = (place >= -room) & (place <= edges.length[j] + room)
        rows = np.flatnonzero(within & (over >= -room) & (under > GRAZE))
        if len(rows) == 0:
            continue
        rows, turn = _turns_to(corners, i, edges, j, along[rows], rows, way, farthest)
        turn[turn > limit[rows] + SAME] = np.inf
        best[rows] = np.minimum(best[rows], turn)
    return best


def _turns_to(
    corners: _Ring,
    i: int,
    edges: _Ring,
    j: int,
    along: Floats,
    rows: Ints,
    way: float,
    farthest: float,
) -> tuple[Ints, Floats]:
    """Return which turns bring a corner to the place ``along`` an edge's line, and how far.

    Only those up to ``farthest``. One that was passed by no more than rounding
    is a turn of 0.
    """
    x, y, d = corners.x[i][rows], corners.y[i][rows], edges.offset[j][rows]
    ux, uy = edges.ux[j][rows], edges.uy[j][rows]
    to_x, to_y = uy * d + ux * along, uy * along - ux * d
    ahead, beside = x * to_x + y * to_y, way * (x * to_y - y * to_x)
    if farthest < np.pi:
        size = corners.radius[i][rows] ** 2
        near = np.flatnonzero(
            (beside >= -2 * SAME * size) & (ahead >= (np.cos(farthest) - SAME) * size)
        )
        rows, ahead, beside = rows[near], ahead[near], beside[near]
    turn = np.arctan2(beside, ahead)
    turn = np.where(turn < -SAME, turn + 2 * np.pi, np.maximum(turn, 0.0))
    return rows, np.where(turn > 2 * np.pi - SAME, 0.0, turn)


def _boxes_meet(first: Floats, second: Floats) -> Bools:
    low, high = first.min(axis=1), first.max(axis=1)
    meet: Bools = ((low < second.max(axis=1)) & (second.min(axis=1) < high)).all(axis=0)
    return meet


def _overlap(first: Floats, second: Floats) -> Bools:
    """Tell (n,) where two outlines (2, k, n) overlap."""
    return _crossing(first, second) | _holds(second, first[:, 0]) | _holds(first, second[:, 0])


def _crossing(first: Floats, second: Floats) -> Bools:
    """Tell (n,) where an edge of one outline properly crosses an edge of the other."""
    found = np.zeros(first.shape[2], dtype=np.bool_)
    for i in range(first.shape[1]):
        a, b = first[:, i], first[:, (i + 1) % first.shape[1]]
        for j in range(second.shape[1]):
            c, d = second[:, j], second[:, (j + 1) % second.shape[1]]
            found |= (_side_of(a, b, c) * _side_of(a, b, d) < -1e-18) & (
                _side_of(c, d, a) * _side_of(c, d, b) < -1e-18
            )
    return found


def _side_of(a: Floats, b: Floats, p: Floats) -> Floats:
    side: Floats = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return side


def _holds(outline: Floats, point: Floats) -> Bools:
    """Tell (n,) where an outline holds a point (2, n): odd crossings of a ray along +x."""
    inside = np.zeros(point.shape[1], dtype=np.bool_)
    x, y = point
    for k in range(outline.shape[1]):
        a, b = outline[:, k], outline[:, (k + 1) % outline.shape[1]]
        spans = (a[1] > y) != (b[1] > y)
        with np.errstate(invalid="ignore", divide="ignore"):
            at = a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
        inside ^= spans & (x < at - 1e-9)
    return inside
