"""The least distance between turning solids and fixed ones, certified over the whole turn.

The nearest places of two solids that are apart are a corner over a face, or
two edges (a corner on an edge being the end of one). Over a turn, a corner's
height over a face is ``A cos t + B sin t + C``, so its least value is closed
form. Two edges are searched by parting the turn: at the middle of a range the
nearest points give a direction ``w``; the fixed edge's extent along ``w`` does
not change and the moving edge's ends give ``w . R(t) x``, whose change over the
range is bounded in closed form. That bound costs nothing where the edges slide
past each other at a constant distance (a top edge under a head), which is where
a bound by speed alone never ends. Where two pass each other closely ``w`` turns
fast; there the direction at the nearest place found so far bounds better.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.frames import turned_about_z
from swingcheck.geometry.pairs import Heights
from swingcheck.geometry.solid import Floats, Ints
from swingcheck.geometry.sweep import WHOLE_TURN, near_by, overlapping, turns_between
from swingcheck.geometry.turning import (
    CORNER_MOVES,
    EDGES,
    FACE_MOVES,
    Kind,
    Turning,
)

ACCURACY_IN = 1e-4  # inches
TOUCHING_IN = 1e-9  # inches: a corner no deeper in a face than this is on it, but for rounding
SEED_EDGES = 8  # edges of either side that look nearest, tried first for each fixed solid
NEAR_IN = 0.25  # inches: what comes nearer than this is looked for first
ROUNDS, PARTS = 30, 4  # how often ranges of the turn are parted at the most, and into how many


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The least distance to one fixed solid over a turn, inches, and the angle where it is."""

    distance: float
    angle: float


def least_distances_of(
    turning: Turning, stop: float, wanted: Sequence[int], accuracy: float = ACCURACY_IN
) -> tuple[Nearest, ...]:
    """Return the least distance to each wanted fixed solid of what turns from its start to stop.

    Apart all along the turn; ``stop`` radians may be where it starts. Each distance is no
    less than the true least one and no more than ``accuracy`` above it, inches, between
    surfaces: a solid wholly inside another is not seen.
    """
    way = _Way(
        turning=turning,
        sense=1.0 if stop >= turning.start else -1.0,
        span=abs(stop - turning.start),
    )
    least = _Least(int(turning.rest.own.owner[-1]) + 1, wanted, accuracy)
    _edges_by_edges(way, least)
    for kind in (CORNER_MOVES, FACE_MOVES):
        _corners_by_faces(way, least, kind)
    return tuple(
        Nearest(
            distance=float(least.distance[k]),
            angle=turning.start + way.sense * float(least.turn[k]),
        )
        for k in wanted
    )


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Way:
    """A turn by ``span`` radians one way round (``sense``)."""

    turning: Turning
    sense: float
    span: float

    @property
    def climb(self) -> float:
        """Inches a radian of this turn."""
        return self.sense * self.turning.rise

    def posed(self, edges: Ints | slice, turn: Floats) -> Floats:
        """Return moving edges (n, 2, 3), each at its own turn (n,)."""
        points, turn = self.turning.movers.edges[edges], turn[:, None]
        return turned_about_z(points, self.sense * turn, self.climb * turn)


class _Least:
    """The least distance found so far to each fixed solid, and the turn where it was.

    ``ways`` (n, 3) are the ways from a fixed solid to what was nearest, 0 where none is known.
    """

    def __init__(self, count: int, wanted: Sequence[int], accuracy: float) -> None:
        self.distance = np.full(count, -np.inf)
        self.distance[list(wanted)] = np.inf
        self.turn = np.zeros(count)
        self.ways = np.zeros((count, 3))
        self._accuracy = accuracy
        self.look(within=np.inf)

    def look(self, *, within: float, past: float = -np.inf) -> None:
        """Call news only what is nearer than ``within``, to solids farther than ``past``."""
        self._within, self._settled = within, self.distance <= past

    def news(self, owner: Ints) -> Floats:
        """Return what a distance (n,) must be less than to be news."""
        known = np.minimum(self.distance - self._accuracy, self._within)
        return np.where(self._settled, -np.inf, known)[owner]

    def take(self, owner: Ints, distance: Floats, turn: Floats, way: Floats | None = None) -> None:
        """Keep what is nearer than what was known."""
        before = self.distance.copy()
        np.minimum.at(self.distance, owner, distance)
        least = self.distance[owner]
        rows = np.flatnonzero((distance == least) & (distance < before[owner]))[::-1]
        self.turn[owner[rows]] = turn[rows]
        if way is not None:
            self.ways[owner[rows]] = way[rows]


@dataclass(frozen=True, slots=True, eq=False)
class _Ranges:
    """Pairs of features (n,), each over a range of the turn: its middle and half its width (n,)."""

    first: Ints
    second: Ints
    middle: Floats
    half: Floats

    def parted(self, rows: Ints) -> _Ranges:
        """Return the parts of some of the ranges, each a quarter of one."""
        rows = np.repeat(rows, PARTS)
        half = self.half[rows] / PARTS
        off = np.tile(np.arange(1 - PARTS, PARTS, 2), len(rows) // PARTS)
        return _Ranges(self.first[rows], self.second[rows], self.middle[rows] + off * half, half)


def _open_ranges(way: _Way, kind: Kind, least: _Least) -> _Ranges:
    """Return the pairs that could still be nearer than what is known, and when in the turn.

    Of two features at radii no less than ``r`` and an angle ``g`` apart, the
    distance is no less than ``r sin g``, nor than from height to height and
    from radius to radius.
    """
    mover, rest = way.turning.sweeps(kind)
    _, owner = way.turning.owners(kind)
    over = mover.over(way.sense * way.span, way.climb * way.span)
    first, second = overlapping(over, near_by(rest, least.news(owner)))
    known = least.news(owner[second])
    near, other_near = mover.near[first], rest.near[second]
    aside = np.maximum(other_near - mover.far[first], near - rest.far[second])
    above = np.maximum(rest.low[second] - over.high[first], over.low[first] - rest.high[second])
    keep = np.hypot(np.maximum(aside, 0.0), np.maximum(above, 0.0)) < known
    first, second, known = first[keep], second[keep], known[keep]
    farther = np.maximum(near, other_near)[keep]
    early = np.full(len(first), np.pi)
    some = farther > known
    early[some] = np.arcsin(known[some] / farther[some])
    ahead, wide = turns_between(mover, rest, first, second, way.sense)
    begin = np.concatenate([ahead - early, ahead - early - WHOLE_TURN])
    end = begin + np.tile(wide + 2 * early, 2)
    low, high = np.maximum(begin, 0.0), np.minimum(end, way.span)
    rows = np.flatnonzero(low <= high)
    pair = rows % max(len(first), 1)
    return _Ranges(
        first[pair], second[pair], (low[rows] + high[rows]) / 2, (high[rows] - low[rows]) / 2
    )


def _corners_by_faces(way: _Way, least: _Least, kind: Kind) -> None:
    """Take the least heights of corners over the faces that they stand over.

    A height ``a cos t + b sin t + c + g t`` is least at an end of the turn or
    where ``b cos t - a sin t = -g``.
    """
    heights = Heights(way.turning, kind, way.sense)
    ranges = _open_ranges(way, kind, least)
    _, owner = way.turning.owners(kind)
    corner, face = heights.paired(ranges.first, ranges.second)
    fixed = owner[ranges.second]
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


def _edges_by_edges(way: _Way, least: _Least) -> None:
    """Take the least distances of pairs of edges, by parting the turn.

    What comes near is settled before what stays far: where the first look at a
    solid found nothing near, few pairs are looked at until something is.
    """
    first, second = _seeds(way, least)
    for end in (0.0, way.span):
        _measured(way, least, _Ranges(first, second, *np.full((2, len(first)), end)))
    for within, past in ((NEAR_IN, -np.inf), (np.inf, NEAR_IN)):
        least.look(within=within, past=past)
        ranges = _open_ranges(way, EDGES, least)
        for _ in range(ROUNDS):
            if len(ranges.first) == 0:
                break
            ranges = ranges.parted(_measured(way, least, ranges))
    least.look(within=np.inf)


def _measured(way: _Way, least: _Least, ranges: _Ranges) -> Ints:
    """Take the distances in the middle of ranges; return which may hold anything nearer."""
    owner = way.turning.rest.edge_owner[ranges.second]
    a = way.posed(ranges.first, ranges.middle)
    b = way.turning.rest.edges[ranges.second]
    distance, here, there = segment_distance(a, b)
    own = (here - there) / np.maximum(distance, 1e-300)[:, None]
    least.take(owner, distance, ranges.middle, own)
    bound = _range_bound(a, b, np.stack([own, least.ways[owner]]), ranges.half, way.climb)
    return np.flatnonzero(bound < least.news(owner))


def _seeds(way: _Way, least: _Least) -> tuple[Ints, Ints]:
    """Return, for each fixed solid, the pairs of edges that look nearest where the turn ends."""
    turning = way.turning
    _, owner = turning.owners(EDGES)
    posed = way.posed(slice(None), np.full(len(turning.movers.edges), way.span))
    moving, fixed = _boxes(posed), _boxes(turning.rest.edges)
    firsts = np.flatnonzero(np.diff(owner, prepend=-1))
    owners = owner[firsts]
    whole = np.minimum.reduceat(fixed, firsts, axis=1)
    reach = _box_gaps(moving, whole)
    count = min(SEED_EDGES, len(reach))
    nearest = np.argpartition(reach, count - 1, axis=0)[:count]
    about = moving[:, nearest].min(axis=1)
    place = np.empty(len(least.distance), dtype=np.int64)
    place[owners] = np.arange(len(owners))
    gap = _paired_gaps(about[:, place[owner]], fixed)
    order = np.lexsort((gap, owner))
    rank = np.arange(len(order)) - firsts[place[owner[order]]]
    second = order[rank < SEED_EDGES]
    first = nearest[:, place[owner[second]]]
    return first.reshape(-1), np.tile(second, count)


def _boxes(edges: Floats) -> Floats:
    """Return the least and the negative greatest coordinates (6, n) of edges (n, 2, 3)."""
    ends = edges.transpose(1, 2, 0)
    return np.concatenate([ends.min(axis=0), -ends.max(axis=0)])


def _box_gaps(one: Floats, other: Floats) -> Floats:
    """Return how far every two boxes are apart, (n, m)."""
    return _paired_gaps(one[:, :, None], other[:, None, :])


def _paired_gaps(one: Floats, other: Floats) -> Floats:
    """Return how far boxes (6, ...) are apart, each from its own; negative the more they share."""
    gaps: Floats = np.maximum(one[:3] + other[3:], other[:3] + one[3:]).max(axis=0)
    return gaps


def _range_bound(a: Floats, b: Floats, ways: Floats, half: Floats, climb: float) -> Floats:
    """Return the least distance that edges ``a`` can have from ``b`` within a turn of +-half.

    The best of several unit ways (k, n, 3) to go by; 0 where all are 0.
    """
    ahead = np.einsum("nik,mnk->mni", a, ways)
    x, y, z = np.moveaxis(ways[:, :, None], -1, 0)
    outward = ahead - a[:, :, 2] * z
    speed = a[:, :, 0] * y - a[:, :, 1] * x
    sin, versine = np.sin(np.minimum(half, np.pi / 2)), 1 - np.cos(half)
    drop = np.abs(speed) * sin[:, None] + np.maximum(outward, 0.0) * versine[:, None]
    low = (ahead - drop).min(axis=2) - np.abs(climb * ways[:, :, 2]) * half
    lower = (low - np.einsum("nik,mnk->mni", b, ways).max(axis=2)).max(axis=0)
    return np.where(half > np.pi / 2, 0.0, np.maximum(lower, 0.0))


def segment_distance(a: Floats, b: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the distance between segments ``a`` and ``b``, and the nearest point on each.

    (n,), (n, 3) and (n, 3), of end points (n, 2, 3): the nearest points of the two lines,
    each held to its segment in turn. Ericson (2005), Real-Time Collision Detection,
    section 5.1.9.
    """
    u, v, r = a[:, 1] - a[:, 0], b[:, 1] - b[:, 0], a[:, 0] - b[:, 0]
    uu, vv, uv = _dots(u, u), _dots(v, v), _dots(u, v)
    ur, vr = _dots(u, r), _dots(v, r)
    denominator = uu * vv - uv * uv
    apart = denominator > 1e-14 * uu * vv
    s = _held(np.where(apart, uv * vr - ur * vv, 0.0) / np.where(apart, denominator, 1.0))
    t = _held((uv * s + vr) / vv)
    s = _held((uv * t - ur) / uu)
    here, there = a[:, 0] + s[:, None] * u, b[:, 0] + t[:, None] * v
    gap = here - there
    return np.sqrt(_dots(gap, gap)), here, there


def _dots(a: Floats, b: Floats) -> Floats:
    dots: Floats = np.einsum("ij,ij->i", a, b)
    return dots


def _held(share: Floats) -> Floats:
    return np.minimum(np.maximum(share, 0.0), 1.0)
