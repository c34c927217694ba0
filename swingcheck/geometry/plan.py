"""First contact and least gap in plan, for many variants of one picture at once.

Where every part is a prism along the turning axis, contact is a question of
plane outlines turning about the origin: a corner of one meets an edge of the
other, and again ``A cos t + B sin t + C = 0`` (see :mod:`.contact`). Written
over arrays it answers for all variants together. Outlines of one variant may
be concave; each is a closed ring of corners, counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.contact import GRAZE, turn_roots
from swingcheck.geometry.solid import Bools, Floats, Ints

ROOM = 1e-11  # of the picture's size
CHUNK = 4096  # variants at a time: small enough to stay in the processor's cache


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanContact:
    """First contacts of n variants: ``angle`` (n,) radians, nan for none; ``fixed`` (n,), -1."""

    angle: Floats
    fixed: Ints


def first_plan_contact(
    moving: Sequence[Floats], fixed: Sequence[Floats], *, start: float, stop: float
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
    """
    count = len(moving[0])
    angle = np.full(count, np.nan)
    hit = np.full(count, -1, dtype=np.int64)
    sense = 1.0 if stop >= start else -1.0
    for low in range(0, count, CHUNK):
        rows = slice(low, low + CHUNK)
        turned = [_turned(outline[rows], start) for outline in moving]
        turn, index = _first(turned, [f[rows] for f in fixed], sense, abs(stop - start))
        angle[rows] = np.where(np.isfinite(turn), start + sense * turn, np.nan)
        hit[rows] = index
    return PlanContact(angle=angle, fixed=hit)


def least_plan_gaps(
    moving: Sequence[Floats], fixed: Sequence[Floats], *, start: float, stop: Floats
) -> Floats:
    """Return the least gap (n, len(fixed)) from ``moving`` to each fixed outline on the way.

    Parameters
    ----------
    moving, fixed : sequence of (n, k, 2) float64
        As for :func:`first_plan_contact`; apart all along the turn.
    start : float
        Radians.
    stop : (n,) float64
        Where each variant's turn ends, radians, all on one side of ``start``.
    """
    count = len(moving[0])
    gaps = np.full((count, len(fixed)), np.inf)
    sense = -1.0 if (stop < start).any() else 1.0
    for low in range(0, count, CHUNK):
        rows = slice(low, low + CHUNK)
        turned = [_turned(outline[rows], start) for outline in moving]
        span = np.abs(stop[rows] - start)
        for k, outline in enumerate(fixed):
            for mover in turned:
                np.minimum(gaps[rows, k], _gap(mover, outline[rows], sense, span), gaps[rows, k])
    return gaps


def _turned(outline: Floats, angle: float) -> Floats:
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = outline[..., 0], outline[..., 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y], axis=-1)


def _first(
    moving: Sequence[Floats], fixed: Sequence[Floats], sense: float, span: float
) -> tuple[Floats, Ints]:
    best = np.full(len(moving[0]), np.inf)
    hit = np.full(len(moving[0]), -1, dtype=np.int64)
    for k, outline in enumerate(fixed):
        for mover in moving:
            for corners, edges, way in ((mover, outline, sense), (outline, mover, -sense)):
                turn = _corners_to_edges(corners, edges, way, np.minimum(best, span))
                sooner = turn < best - 1e-12
                best[sooner], hit[sooner] = turn[sooner], k
    return best, hit


@dataclass(frozen=True, slots=True, eq=False)
class _Side:
    """One edge of an outline in every variant: ends, outward normal, offset, direction, radii."""

    a: Floats
    normal: Floats
    offset: Floats
    along: Floats
    length: Floats
    near: Floats
    far: Floats


def _sides(outline: Floats) -> Iterator[_Side]:
    for k in range(outline.shape[1]):
        a, b = outline[:, k], outline[:, (k + 1) % outline.shape[1]]
        along = b - a
        length = np.hypot(along[:, 0], along[:, 1])
        along = along / np.maximum(length, 1e-300)[:, None]
        normal = np.stack([along[:, 1], -along[:, 0]], axis=1)
        foot = np.clip(-np.einsum("ij,ij->i", a, along), 0.0, length)
        near = a + foot[:, None] * along
        yield _Side(
            a,
            normal,
            np.einsum("ij,ij->i", normal, a),
            along,
            length,
            np.hypot(near[:, 0], near[:, 1]),
            np.maximum(np.hypot(a[:, 0], a[:, 1]), np.hypot(b[:, 0], b[:, 1])),
        )


def _corners_to_edges(corners: Floats, outline: Floats, way: float, limit: Floats) -> Floats:
    """Return the least turn (n,) at which a corner enters an edge, inf for none within limit."""
    best = np.full(len(corners), np.inf)
    room = ROOM * max(np.abs(corners).max(), np.abs(outline).max())
    radius = np.hypot(corners[..., 0], corners[..., 1])
    for side in _sides(outline):
        for k in range(corners.shape[1]):
            r = radius[:, k]
            rows = np.flatnonzero((r >= side.near - room) & (r <= side.far + room))
            if len(rows) == 0:
                continue
            turn = _entering(corners[rows, k], side, rows, way, room)
            turn[turn > np.minimum(limit, best)[rows] + 1e-9] = np.inf
            best[rows] = np.minimum(best[rows], turn)
    return best


def _entering(p: Floats, side: _Side, rows: Ints, way: float, room: float) -> Floats:
    n = side.normal[rows]
    a = n[:, 0] * p[:, 0] + n[:, 1] * p[:, 1]
    b = way * (n[:, 1] * p[:, 0] - n[:, 0] * p[:, 1])
    c = -side.offset[rows]
    r = np.hypot(a, b)
    turn = turn_roots(a, b, c, 1.0)
    cos, sin = np.cos(turn), way * np.sin(turn)
    along, start = side.along[rows], side.a[rows]
    place = (
        (cos * p[:, 0] - sin * p[:, 1] - start[:, 0]) * along[:, 0]
        + (sin * p[:, 0] + cos * p[:, 1] - start[:, 1]) * along[:, 1]
    )
    within = (np.abs(c) <= r + room) & (r - c > GRAZE)
    within &= (place >= -room) & (place <= side.length[rows] + room)
    return np.where(within, turn, np.inf)


def _gap(mover: Floats, outline: Floats, sense: float, span: Floats) -> Floats:
    """Return the least distance (n,) between two outlines over each variant's turn."""
    best = np.full(len(mover), np.inf)
    for corners, edges, way in ((mover, outline, sense), (outline, mover, -sense)):
        for side in _sides(edges):
            for k in range(corners.shape[1]):
                np.minimum(best, _corner_gap(corners[:, k], side, way, span), best)
    return best


def _corner_gap(p: Floats, side: _Side, way: float, span: Floats) -> Floats:
    """Return the least distance (n,) of a turning corner from an edge and from its first end.

    Both are least at an end of the turn or where closed form says: the height
    over the edge at its lowest, the distance to the end where both are in one
    line with the axis.
    """
    n = side.normal
    a = n[:, 0] * p[:, 0] + n[:, 1] * p[:, 1]
    b = way * (n[:, 1] * p[:, 0] - n[:, 0] * p[:, 1])
    lowest = np.minimum(np.arctan2(-b, -a) % (2 * np.pi), span)
    toward = np.arctan2(side.a[:, 1], side.a[:, 0]) - np.arctan2(p[:, 1], p[:, 0])
    in_line = np.minimum(way * toward % (2 * np.pi), span)
    best = np.full(len(p), np.inf)
    for turn in (np.zeros(len(p)), span, lowest, in_line):
        cos, sin = np.cos(turn), way * np.sin(turn)
        x = cos * p[:, 0] - sin * p[:, 1] - side.a[:, 0]
        y = sin * p[:, 0] + cos * p[:, 1] - side.a[:, 1]
        place = np.clip(x * side.along[:, 0] + y * side.along[:, 1], 0.0, side.length)
        apart = np.hypot(x - place * side.along[:, 0], y - place * side.along[:, 1])
        np.minimum(best, apart, best)
    return best


def overlapping_in_plan(moving: Sequence[Floats], fixed: Sequence[Floats], angle: float) -> Bools:
    """Tell (n,) in which variants a moving outline, turned by ``angle``, overlaps a fixed one.

    Outlines that only touch do not overlap.
    """
    found = np.zeros(len(moving[0]), dtype=np.bool_)
    for mover in moving:
        turned = _turned(mover, angle)
        for outline in fixed:
            rows = np.flatnonzero(_boxes_meet(turned, outline))
            a, b = turned[rows], outline[rows]
            found[rows] |= _crossing(a, b) | _holds(b, a[:, 0]) | _holds(a, b[:, 0])
    return found


def _boxes_meet(first: Floats, second: Floats) -> Bools:
    low, high = first.min(axis=1), first.max(axis=1)
    meet: Bools = ((low < second.max(axis=1)) & (second.min(axis=1) < high)).all(axis=1)
    return meet


def _crossing(first: Floats, second: Floats) -> Bools:
    """Tell (n,) where an edge of one outline properly crosses an edge of the other."""
    found = np.zeros(len(first), dtype=np.bool_)
    for i in range(first.shape[1]):
        a, b = first[:, i], first[:, (i + 1) % first.shape[1]]
        for j in range(second.shape[1]):
            c, d = second[:, j], second[:, (j + 1) % second.shape[1]]
            found |= (_side_of(a, b, c) * _side_of(a, b, d) < -1e-18) & (
                _side_of(c, d, a) * _side_of(c, d, b) < -1e-18
            )
    return found


def _side_of(a: Floats, b: Floats, p: Floats) -> Floats:
    side: Floats = (b[:, 0] - a[:, 0]) * (p[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (
        p[:, 0] - a[:, 0]
    )
    return side


def _holds(outline: Floats, point: Floats) -> Bools:
    """Tell (n,) where an outline holds a point (n, 2): odd crossings of a ray along +x."""
    inside = np.zeros(len(point), dtype=np.bool_)
    x, y = point[:, 0], point[:, 1]
    for k in range(outline.shape[1]):
        a, b = outline[:, k], outline[:, (k + 1) % outline.shape[1]]
        spans = (a[:, 1] > y) != (b[:, 1] > y)
        with np.errstate(invalid="ignore", divide="ignore"):
            at = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
        inside ^= spans & (x < at - 1e-9)
    return inside
