"""The least distance between turning solids and fixed ones, certified over the whole turn.

The nearest places of two solids that are apart are a corner over a face, or
two edges (a corner on an edge being the end of one). Over a turn, a corner's
height over a face is ``A cos t + B sin t + C``, so its least value is closed
form. Two edges are searched by halving the turn: at the middle of an interval
the nearest points give a direction ``w``; the fixed edge's extent along ``w``
does not change and the moving edge's ends give ``w . R(t) x``, whose change
over the interval is bounded in closed form. That bound costs nothing where the
edges slide past each other at a constant distance (a top edge under a head),
which is where a bound by speed alone never ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.features import Features, about_axis
from swingcheck.geometry.frames import turned_about_z
from swingcheck.geometry.heights import Heights
from swingcheck.geometry.solid import Bools, Floats, Ints, Solid
from swingcheck.geometry.sweep import WHOLE_TURN, Sweep, edge_sweep

ACCURACY_IN = 1e-4  # inches
TOUCHING_IN = 1e-9  # inches: a corner no deeper in a face than this is on it, but for rounding
SEED_PAIRS = 48  # nearest-looking pairs of edges tried first for each fixed solid


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The least distance to one fixed solid over a turn, inches, and the angle where it is."""

    distance: float
    angle: float


def least_distances(
    moving: Sequence[Solid | Features],
    fixed: Sequence[Solid | Features],
    *,
    point: Floats,
    direction: Floats,
    start: float,
    stop: float,
    accuracy: float = ACCURACY_IN,
    rise: float = 0.0,
) -> tuple[Nearest, ...]:
    """Return the least distance to each fixed solid as ``moving`` turns from start to stop.

    Parameters
    ----------
    moving, fixed : sequence of Solid or Features
        Closed solids in one frame, inches, apart all along the turn; the
        moving ones as they stand at angle 0.
    point, direction : (3,) float64
        A point on the turning axis, and its unit direction.
    start, stop : float
        Radians, right-handed about ``direction``; may be equal.
    accuracy : float
        Each distance is no less than the true least one and no more than this
        above it, inches.
    rise : float
        How far the moving solids climb along ``direction`` as they turn,
        inches a radian.

    Notes
    -----
    Distances are between surfaces: a solid wholly inside another is not seen.
    """
    about = about_axis(
        moving, fixed, point=point, direction=direction, start=start, stop=stop, rise=rise
    )
    least = _Least(len(fixed), accuracy)
    way = _Way(span=about.span, rise=rise)
    movers, rest = about.movers, about.rest
    _edges_by_edges(movers, rest, way, least)
    for corner_moves in (True, False):
        _corners_by_faces(movers, rest, way, least, corner_moves=corner_moves)
    return tuple(
        Nearest(distance=float(d), angle=start + about.sense * float(t))
        for d, t in zip(least.distance, least.turn, strict=True)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """A turn by ``span`` radians that climbs by ``rise`` inches a radian."""

    span: float
    rise: float

    def swept(self, ranges: Sweep) -> Sweep:
        """Return the ranges of moving features over the climb."""
        return ranges.climbing(self.rise * self.span)


class _Least:
    """The least distance found so far to each fixed solid, and the turn where it was."""

    def __init__(self, count: int, accuracy: float) -> None:
        self.distance = np.full(count, np.inf)
        self.turn = np.zeros(count)
        self.accuracy = accuracy

    def take(self, owner: Ints, distance: Floats, turn: Floats) -> None:
        """Keep what is nearer than what was known."""
        order = np.lexsort((distance, owner))
        owner, distance, turn = owner[order], distance[order], turn[order]
        first = np.flatnonzero(np.diff(owner, prepend=-1))
        nearer = first[distance[first] < self.distance[owner[first]]]
        self.distance[owner[nearer]] = distance[nearer]
        self.turn[owner[nearer]] = turn[nearer]

    def open_for(self, owner: Ints, bound: Floats) -> Bools:
        """Tell for which rows a distance of ``bound`` would still be news."""
        news: Bools = bound < self.distance[owner] - self.accuracy
        return news


def _gap_bound(mover: Sweep, rest: Sweep) -> Floats:
    """Return a lower bound (n, m) of the distance of every pair: radii and heights never change."""
    radial = np.maximum(rest.near - mover.far[:, None], mover.near[:, None] - rest.far)
    height = np.maximum(rest.low - mover.high[:, None], mover.low[:, None] - rest.high)
    return np.maximum(np.maximum(radial, height), 0.0)


def _open_pairs(
    mover: Sweep, rest: Sweep, owner: Ints, span: float, least: _Least, bound: Floats | None = None
) -> tuple[Ints, Ints]:
    """Return the pairs that could still be nearer than what is known.

    Where the angles of two features never meet, the farther one keeps its
    radius times the sine of the angle left between them.
    """
    known = least.distance[owner] - least.accuracy
    first, second = np.nonzero((_gap_bound(mover, rest) if bound is None else bound) < known)
    swept = mover.width[first] + span
    ahead = (rest.angle[second] - mover.angle[first] - swept) % WHOLE_TURN
    behind = WHOLE_TURN - (ahead + swept + rest.width[second])
    apart = np.where(behind < 0, 0.0, np.minimum(ahead, behind))
    farther = np.maximum(rest.near[second], mover.near[first])
    keep = np.sin(np.minimum(apart, np.pi / 2)) * farther < known[second]
    return first[keep], second[keep]


def _corners_by_faces(
    movers: Features, rest: Features, way: _Way, least: _Least, *, corner_moves: bool
) -> None:
    """Take the least heights of corners over the faces that they stand over.

    A height ``a cos t + b sin t + c + g t`` is least at an end of the turn or
    where ``b cos t - a sin t = -g``.
    """
    heights = Heights(movers, rest, corner_moves=corner_moves, rise=way.rise)
    mover, other = heights.sweeps()
    owner = rest.face_owner if corner_moves else rest.corner_owner
    first, second = _open_pairs(way.swept(mover), other, owner, way.span, least)
    corner, face = heights.paired(first, second)
    fixed = owner[second]
    a, b, c, g = heights.terms(corner, face)
    reach = np.maximum(np.hypot(a, b), 1e-300)
    aside = np.arccos(np.clip(-g / reach, -1.0, 1.0))
    lowest = [(side * aside - np.arctan2(a, b)) % WHOLE_TURN for side in (1.0, -1.0)]
    for turn in (np.zeros(len(a)), np.full(len(a), way.span), *lowest):
        turn = np.minimum(turn, way.span)
        height = a * np.cos(turn) + b * np.sin(turn) + c + g * turn
        rows = np.flatnonzero((height >= -TOUCHING_IN) & (height < least.distance[fixed]))
        rows = rows[heights.inside(corner[rows], face[rows], turn[rows], 0.0)[0]]
        least.take(fixed[rows], np.maximum(height[rows], 0.0), turn[rows])


def _edges_by_edges(movers: Features, rest: Features, way: _Way, least: _Least) -> None:
    """Take the least distances of pairs of edges, by halving the turn."""
    mover, other = way.swept(edge_sweep(movers.edges)), edge_sweep(rest.edges)
    owner = rest.edge_owner
    bound = _gap_bound(mover, other)
    first, second = _seeds(bound, owner, len(least.distance))
    for turn in (np.zeros(len(first)), np.full(len(first), way.span)):
        posed = _posed(movers.edges[first], turn, way.rise)
        distance, _, _ = segment_distance(posed, rest.edges[second])
        least.take(owner[second], distance, turn)
    _search(movers.edges, rest.edges, first, second, owner, way, least, rounds=4)
    first, second = _open_pairs(mover, other, owner, way.span, least, bound)
    _search(movers.edges, rest.edges, first, second, owner, way, least, rounds=60)


def _seeds(bound: Floats, owner: Ints, count: int) -> tuple[Ints, Ints]:
    """Return, for each fixed solid, the pairs of edges that look nearest."""
    first: list[Ints] = []
    second: list[Ints] = []
    for fixed in range(count):
        columns = np.flatnonzero(owner == fixed)
        part = bound[:, columns]
        take = min(SEED_PAIRS, part.size)
        flat = np.argpartition(part, take - 1, axis=None)[:take]
        i, j = np.unravel_index(flat, part.shape)
        first.append(i)
        second.append(columns[j])
    return np.concatenate(first), np.concatenate(second)


def _search(
    moving: Floats,
    fixed: Floats,
    first: Ints,
    second: Ints,
    owner: Ints,
    way: _Way,
    least: _Least,
    *,
    rounds: int,
) -> None:
    """Halve the turn of every pair until no interval can hold anything nearer."""
    middle = np.full(len(first), way.span / 2)
    half = np.full(len(first), way.span / 2)
    for _ in range(rounds):
        if len(first) == 0:
            return
        a, b = _posed(moving[first], middle, way.rise), fixed[second]
        distance, here, there = segment_distance(a, b)
        least.take(owner[second], distance, middle)
        lower = _interval_bound(a, b, here - there, distance, half, way.rise)
        keep = least.open_for(owner[second], lower)
        first, second = np.tile(first[keep], 2), np.tile(second[keep], 2)
        half = np.tile(half[keep] / 2, 2)
        step = half[: len(half) // 2]
        middle = np.concatenate([middle[keep] - step, middle[keep] + step])


def _posed(edges: Floats, turn: Floats, rise: float) -> Floats:
    """Return edges (n, 2, 3), each at its own turn (n,)."""
    return turned_about_z(edges, turn[:, None], rise * turn[:, None])


def _interval_bound(
    a: Floats, b: Floats, gap: Floats, distance: Floats, half: Floats, rise: float
) -> Floats:
    """Return the least distance that edges ``a`` can have from ``b`` within a turn of +-half.

    Edges that touch have no direction between them to go by; theirs is 0.
    """
    w = gap / np.maximum(distance, 1e-300)[:, None]
    ahead = np.einsum("ijk,ik->ij", a, w)
    outward = a[:, :, 0] * w[:, None, 0] + a[:, :, 1] * w[:, None, 1]
    speed = -a[:, :, 1] * w[:, None, 0] + a[:, :, 0] * w[:, None, 1]
    sin, versine = np.sin(np.minimum(half, np.pi / 2)), 1 - np.cos(half)
    drop = np.abs(speed) * sin[:, None] + np.maximum(outward, 0.0) * versine[:, None]
    drop += (np.abs(rise * w[:, 2]) * half)[:, None]
    behind = np.einsum("ijk,ik->ij", b, w).max(axis=1)
    lower: Floats = np.maximum((ahead - drop).min(axis=1) - behind, 0.0)
    return np.where(half > np.pi / 2, 0.0, lower)


def segment_distance(a: Floats, b: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the distance between segments ``a`` and ``b``, and the nearest point on each.

    Parameters
    ----------
    a, b : (n, 2, 3) float64
        End points.

    Returns
    -------
    tuple of (n,), (n, 3), (n, 3) float64

    Notes
    -----
    The nearest points of the two lines, each held to its segment in turn:
    Ericson (2005), Real-Time Collision Detection, section 5.1.9.
    """
    u, v, r = a[:, 1] - a[:, 0], b[:, 1] - b[:, 0], a[:, 0] - b[:, 0]
    uu, vv, uv = (np.einsum("ij,ij->i", x, y) for x, y in ((u, u), (v, v), (u, v)))
    ur, vr = np.einsum("ij,ij->i", u, r), np.einsum("ij,ij->i", v, r)
    denominator = uu * vv - uv * uv
    with np.errstate(invalid="ignore", divide="ignore"):
        s = np.where(denominator > 1e-14 * uu * vv, (uv * vr - ur * vv) / denominator, 0.0)
        s = np.clip(s, 0.0, 1.0)
        t = np.clip((uv * s + vr) / vv, 0.0, 1.0)
        s = np.clip((uv * t - ur) / uu, 0.0, 1.0)
    here, there = a[:, 0] + s[:, None] * u, b[:, 0] + t[:, None] * v
    return np.linalg.norm(here - there, axis=1), here, there
