"""What a feature sweeps as it turns about z, and which pairs can meet at all.

Distance from the axis and height never change in a turn about z, so two
features come near each other only if both ranges do; the angles between them
say how far the turn must go before they can.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Bools, Floats, Ints

BLOCK = 8  # features compared at a time, alike in height and radius: each block reaches few
WHOLE_TURN = 2 * np.pi
SLACK_RAD = 1e-7  # how far apart two features still count as met, for rounding


@dataclass(frozen=True, slots=True, eq=False)
class Sweep(Rows):
    """Ranges of features about z: radius, height, and angle from ``angle`` on by ``width``.

    All (n,); angles in [0, 2 pi). A feature about the axis has the whole
    circle. A point on the axis has no angle, and is given any: what reaches it
    is near by at every angle (:func:`near_by`).
    """

    near: Floats
    far: Floats
    low: Floats
    high: Floats
    angle: Floats
    width: Floats

    def over(self, turn: float, climb: float) -> Sweep:
        """Return the ranges over a turn (radians) that climbs (inches), of either sign."""
        return replace(
            self.climbing(climb),
            angle=(self.angle + min(turn, 0.0)) % WHOLE_TURN,
            width=np.minimum(self.width + abs(turn), WHOLE_TURN),
        )

    def climbing(self, climb: float) -> Sweep:
        """Return the ranges of features that rise by up to ``climb`` (of either sign)."""
        return replace(self, low=self.low + min(climb, 0.0), high=self.high + max(climb, 0.0))


def corner_sweep(corners: Floats) -> Sweep:
    """Return the ranges of points (n, 3)."""
    return _sweep(corners[:, None, :], np.hypot(corners[:, 0], corners[:, 1]))


def edge_sweep(edges: Floats) -> Sweep:
    """Return the ranges of segments (n, 2, 3)."""
    return _sweep(edges, _nearest(edges[:, 0, :2], edges[:, 1, :2]))


def face_sweep(faces: Floats) -> Sweep:
    """Return the ranges of triangles (n, 3, 3)."""
    flat = faces[:, :, :2]
    following = flat[:, [1, 2, 0]]
    near = _nearest(flat.reshape(-1, 2), following.reshape(-1, 2)).reshape(-1, 3).min(axis=1)
    side = flat[:, :, 0] * following[:, :, 1] - flat[:, :, 1] * following[:, :, 0]
    around = (side > 0).all(axis=1) | (side < 0).all(axis=1)
    return _sweep(faces, np.where(around, 0.0, near))


def widened(sweep: Sweep, aside: Floats, up: Floats, around: Floats) -> Sweep:
    """Return the ranges of features whose points may stand elsewhere by so much (n,) each way.

    ``aside`` is square to the axis, ``up`` along it, both inches; ``around``
    is the angle about it, radians.
    """
    near = np.maximum(sweep.near - aside, 0.0)
    width = sweep.width + 2 * around
    whole = (near <= 0.0) | (width >= WHOLE_TURN)
    return Sweep(
        near=near,
        far=sweep.far + aside,
        low=sweep.low - up,
        high=sweep.high + up,
        angle=np.where(whole, 0.0, (sweep.angle - around) % WHOLE_TURN),
        width=np.where(whole, WHOLE_TURN, width),
    )


def _sweep(points: Floats, near: Floats) -> Sweep:
    """Return the ranges of the hulls of points (n, k, 3), given the least radius of each."""
    far = np.hypot(points[:, :, 0], points[:, :, 1]).max(axis=1)
    angles = np.arctan2(points[:, :, 1], points[:, :, 0])
    from_first = (angles - angles[:, :1] + np.pi) % WHOLE_TURN - np.pi
    start, end = from_first.min(axis=1), from_first.max(axis=1)
    whole = end - start > np.pi
    return Sweep(
        near=near,
        far=far,
        low=points[:, :, 2].min(axis=1),
        high=points[:, :, 2].max(axis=1),
        angle=np.where(whole, 0.0, (angles[:, 0] + start) % WHOLE_TURN),
        width=np.where(whole, WHOLE_TURN, end - start),
    )


def _nearest(a: Floats, b: Floats) -> Floats:
    """Return the distance from the origin to the segments a-b, (n, 2) each."""
    along = b - a
    length = np.einsum("ij,ij->i", along, along)
    t = -np.einsum("ij,ij->i", a, along) / np.maximum(length, 1e-300)
    foot = a + np.minimum(np.maximum(t, 0.0), 1.0)[:, None] * along
    return np.hypot(foot[:, 0], foot[:, 1])


def candidate_pairs(
    mover: Sweep, rest: Sweep, room: float, turn: float
) -> tuple[Ints, Ints, Floats]:
    """Return the pairs that can meet within a turn, and how far each turns until it can.

    Pairs are given as two index arrays (n,) into the features. ``turn`` is
    radians, negative clockwise; the least turn (n,) is a lower bound, 0 where
    their angles overlap at the start.
    """
    first, second = overlapping(mover.over(turn, 0.0), near_by(rest, room))
    ahead, wide = turns_between(mover, rest, first, second, 1.0 if turn >= 0 else -1.0)
    earliest = np.where(ahead + wide >= WHOLE_TURN - SLACK_RAD, 0.0, ahead - SLACK_RAD)
    soon = earliest <= abs(turn)
    return first[soon], second[soon], earliest[soon]


def near_by(sweep: Sweep, room: Floats | float) -> Sweep:
    """Return the ranges of what is no farther from features than ``room`` (n,), inches.

    What is an angle ``g`` from something at a radius of ``r`` is no nearer to
    it than ``r sin g``. Nothing is near by within ``-inf``.
    """
    room = np.broadcast_to(room, sweep.near.shape)
    share = np.clip(room / np.maximum(sweep.near, 1e-300), 0.0, 1.0)
    return widened(sweep, room, room, np.arcsin(share) + SLACK_RAD)


def turns_between(
    mover: Sweep, rest: Sweep, first: Ints, second: Ints, sense: float
) -> tuple[Floats, Floats]:
    """Return how far pairs turn until their angles meet, and how long they then do, radians.

    Both (n,), of movers ``first`` and others ``second`` (n,), for a turn one
    way round (``sense`` +1 counter-clockwise, -1 clockwise). The first is in
    [0, 2 pi): where both together come to more than a whole turn, the angles
    meet at the start too.
    """
    wide = mover.width[first] + rest.width[second]
    gap = rest.angle[second] - mover.angle[first]
    gap = gap - mover.width[first] if sense > 0 else -gap - rest.width[second]
    return gap % WHOLE_TURN, wide


def overlapping(one: Sweep, other: Sweep) -> tuple[Ints, Ints]:
    """Return the pairs whose ranges overlap, as two index arrays (n,)."""
    if not len(one.near) or not len(other.near):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    first, second = _Blocks(one), _Blocks(other)
    i, j = np.nonzero(_met(first.whole[:, :, None], second.whole[:, None, :]))
    met = _met(first.each[:, i, :, None], second.each[:, j, None, :])
    block, row, column = np.nonzero(met)
    return first.rows[i[block], row], second.rows[j[block], column]


class _Blocks:
    """Features in blocks of those alike: the blocks' ranges (6, k), and each one's (6, k, BLOCK).

    In strips of height, and by radius within each. Where a block is not full
    its ranges are not a number and meet nothing.
    """

    def __init__(self, own: Sweep) -> None:
        count = len(own.near)
        blocks = -(-count // BLOCK)
        strip = np.empty(count, dtype=np.int64)
        strips = np.arange(count) * round(np.sqrt(blocks)) // count
        strip[np.argsort(own.low, kind="stable")] = strips
        order = np.lexsort((own.near, strip))
        self.rows: Ints = np.zeros((blocks, BLOCK), dtype=np.int64)
        self.rows.reshape(-1)[:count] = order
        columns = own.near, own.low, own.far, own.high, own.angle, own.width
        ranges = np.array(columns)[:, order]
        self.each = np.full((6, blocks, BLOCK), np.nan)
        self.each.reshape(6, -1)[:, :count] = ranges
        starts = np.arange(0, count, BLOCK)
        about = np.repeat(ranges[4, starts], BLOCK)[:count]
        begin = (ranges[4] - about + np.pi) % WHOLE_TURN - np.pi
        least = np.minimum.reduceat([ranges[0], ranges[1], begin], starts, axis=1)
        most = np.maximum.reduceat([ranges[2], ranges[3], begin + ranges[5]], starts, axis=1)
        angle = (least[2] + ranges[4, starts]) % WHOLE_TURN
        width = np.minimum(most[2] - least[2], WHOLE_TURN)
        self.whole = np.array([*least[:2], *most[:2], angle, width])


def _met(one: Floats, other: Floats) -> Bools:
    """Tell whether ranges overlap: rows of near, low, far, high, angle and width."""
    met: Bools = one[0] <= other[2]
    met = met & (one[2] >= other[0])
    met &= one[1] <= other[3]
    met &= one[3] >= other[1]
    ahead = other[4] - one[4]
    ahead = np.where(ahead < 0, ahead + WHOLE_TURN, ahead)
    met &= (ahead <= one[5]) | (ahead + other[5] >= WHOLE_TURN)
    return met
