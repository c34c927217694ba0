"""What a feature sweeps as it turns about z, and which pairs can meet at all.

Distance from the axis and height never change in a turn about z, so two
features meet only if both ranges overlap; the angles between them say how far
the turn must go before they can.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Floats, Ints

BLOCK = 160  # features compared at a time, alike in radius, so that each block reaches few others
WHOLE_TURN = 2 * np.pi
SLACK_RAD = 1e-7  # how far apart two features still count as met, for rounding
ON_AXIS = 1e-6  # of the largest radius: a feature this near the axis reaches it


@dataclass(frozen=True, slots=True, eq=False)
class Sweep(Rows):
    """Ranges of features about z: radius, height, and angle from ``angle`` on by ``width``.

    All (n,); angles in [0, 2 pi); a feature that reaches the axis has the
    whole circle.
    """

    near: Floats
    far: Floats
    low: Floats
    high: Floats
    angle: Floats
    width: Floats

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
    following = np.roll(flat, -1, axis=1)
    near = np.min([_nearest(flat[:, k], following[:, k]) for k in range(3)], axis=0)
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
    whole = (near <= ON_AXIS * far.max(initial=1.0)) | (end - start > np.pi)
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
    with np.errstate(invalid="ignore", divide="ignore"):
        t = np.where(length > 0, -np.einsum("ij,ij->i", a, along) / length, 0.0)
    foot = a + np.clip(t, 0.0, 1.0)[:, None] * along
    return np.hypot(foot[:, 0], foot[:, 1])


def candidate_pairs(
    mover: Sweep, rest: Sweep, room: float, span: float
) -> tuple[Ints, Ints, Floats]:
    """Return the pairs that can meet within a turn of ``span``, and the least turn of each.

    Pairs are given as two index arrays (n,) into the features; the least turn
    (n,) is a lower bound, 0 where their angles overlap at the start.
    """
    order = np.argsort(mover.near, kind="stable")
    found = [
        _block_pairs(mover, order[k : k + BLOCK], rest, room, span)
        for k in range(0, len(order), BLOCK)
    ]
    if not found:
        return np.zeros(0, np.int64), np.zeros(0, np.int64), np.zeros(0)
    first, second, earliest = (np.concatenate(column) for column in zip(*found, strict=True))
    return first, second, earliest


def _block_pairs(
    mover: Sweep, rows: Ints, rest: Sweep, room: float, span: float
) -> tuple[Ints, Ints, Floats]:
    some = mover.picked(rows)
    reached = np.flatnonzero(
        (rest.low <= some.high.max() + room)
        & (rest.high >= some.low.min() - room)
        & (rest.near <= some.far.max() + room)
        & (rest.far >= some.near.min() - room)
    )
    other = rest.picked(reached)
    meets = (some.low[:, None] <= other.high + room) & (some.high[:, None] >= other.low - room)
    meets &= (some.near[:, None] <= other.far + room) & (some.far[:, None] >= other.near - room)
    i, j = np.nonzero(meets)
    ahead = (other.angle[j] - some.angle[i] - some.width[i]) % WHOLE_TURN
    overlap = ahead + some.width[i] + other.width[j] >= WHOLE_TURN - SLACK_RAD
    earliest = np.where(overlap, 0.0, ahead - SLACK_RAD)
    soon = earliest <= span
    return rows[i[soon]], reached[j[soon]], earliest[soon]
