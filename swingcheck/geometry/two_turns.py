"""Two turning bodies at once: how near they come over both angles, and where they meet.

Each body is made of convex pieces and turns about a line of its own. At any
two angles the distance of two convex pieces is the greatest separation of
their extents along one direction, and the direction is a face's normal or
runs between two edges; any direction gives a lower bound. Held over a range of
both angles it still does: a corner's place along it is ``K + A cos s +
B sin s + G s``, whose least over the range is closed form. Where the distance
is least the bound is off by no more than the square of the range's width; so
ranges are halved until none can hold anything nearer than what was measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.booleans import gap_between
from swingcheck.geometry.clearance import segment_distance
from swingcheck.geometry.features import features
from swingcheck.geometry.frames import turning
from swingcheck.geometry.solid import Floats, Ints, Solid

TOUCHING_IN = 1e-9
"""No overlap is less deep than this."""

ROUNDS = 48
"""How often ranges are halved at the most."""

FIRST_PARTS, MOST_RANGES, NEAREST_RANGES = 8, 512, 8
"""Into how many ranges each angle is parted to begin with, how many pairs of ranges are looked at
in one round, and how many of the nearest of these are measured."""

MOST_PAIRS = 100_000
"""Pairs of edges looked at in one go."""

FAR_IN = 1e3
"""No two slabs that swing beside each other are farther apart."""

SAME_WAY_COS = 1 - 1e-9
"""Faces whose normals' cosine is past this look the same way."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """Convex pieces as they stand at angle 0, and the line that they turn about.

    ``point`` and ``direction`` (3,) are the line, the direction a unit; they
    climb along it by ``rise`` inches a radian.
    """

    pieces: tuple[Solid, ...]
    point: Floats
    direction: Floats
    rise: float = 0.0

    def posed(self, angle: float) -> list[Solid]:
        """Return the pieces turned by an angle, radians."""
        turn = turning(self.direction, angle)
        shift = self.point - turn @ self.point + self.rise * angle * self.direction
        return [piece.moved(turn, shift) for piece in self.pieces]


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """How near two bodies come: ``distance`` at ``angles`` (first, second), 0 where they overlap.

    Nowhere are they nearer than ``certain``.
    """

    distance: float
    certain: float
    angles: tuple[float, float]


Range = tuple[float, float]


def least_apart(
    first: Body, second: Body, turns: Range, others: Range, *, accuracy: float = 1e-3
) -> Apart:
    """Return the least distance of two bodies over ranges of both their angles.

    Both in one frame, inches, over angles ``turns`` of the first and ``others`` of the
    second, radians. The distance is no less than the true least one and no more than
    ``accuracy`` above it.
    """
    search = _Search(first, second)
    boxes = np.concatenate([_ends_of(turns, others), _boxes(turns, others)])
    best, at, low = np.inf, (turns[0], others[0]), np.inf
    for _ in range(ROUNDS):
        apart, bound = search.looked_at(boxes)
        for nearest in np.argsort(apart, kind="stable")[:NEAREST_RANGES]:
            if apart[nearest] >= best - TOUCHING_IN:
                break
            gap = search.distance(boxes[nearest, 0], boxes[nearest, 1])
            if gap < best - TOUCHING_IN:
                best, at = gap, (boxes[nearest, 0], boxes[nearest, 1])
        if best < TOUCHING_IN:
            return Apart(distance=0.0, certain=0.0, angles=(float(at[0]), float(at[1])))
        open_ = bound < best - accuracy
        low = min(low, float(bound[~open_].min(initial=np.inf)))
        if not open_.any():
            break
        boxes = _halved(boxes[open_], search.reach)
    else:
        low = min(low, float(bound[open_].min()))
    certain = max(min(low, best), 0.0)
    return Apart(distance=best, certain=certain, angles=(float(at[0]), float(at[1])))


def first_overlap(
    first: Body, second: Body, turns: Range, others: Range, *, width: float
) -> tuple[float, float] | None:
    """Return where the first body's angle is least at which the second overlaps it anywhere.

    Both in one frame, inches, over angles ``turns`` of the first, looked at from the first
    of them on, and ``others`` of the second, radians. Returned are both angles, the first
    no more than ``width`` past the true one; None where they nowhere overlap by more than
    touching.
    """
    search = _Search(first, second)
    sense = 1.0 if turns[1] >= turns[0] else -1.0
    boxes, kept = _boxes(turns, others), np.empty((0, 4))
    found: tuple[float, float] | None = None
    best = np.inf
    while len(boxes):
        apart, bound = search.looked_at(boxes)
        gone = sense * (boxes[:, 0] - turns[0])
        for soonest in np.argsort(gone, kind="stable"):
            if gone[soonest] >= best:
                break
            if apart[soonest] < -TOUCHING_IN and search.overlaps(*boxes[soonest, :2]):
                best, found = float(gone[soonest]), (boxes[soonest, 0], boxes[soonest, 1])
        open_ = (bound < -TOUCHING_IN) & (gone - boxes[:, 2] < best - width)
        open_ &= (boxes[:, 2] > width / 64) | (boxes[:, 3] > width / 64)
        kept = np.concatenate([_halved(boxes[open_], search.reach), kept])
        begins = sense * (kept[:, 0] - turns[0]) - kept[:, 2]
        order = np.argsort(begins, kind="stable")
        order = order[begins[order] < best - width]
        boxes, kept = kept[order[:MOST_RANGES]], kept[order[MOST_RANGES:]]
    return None if found is None else (float(found[0]), float(found[1]))


def overlap(first: Body, second: Body, angles: tuple[float, float]) -> bool:
    """Tell whether two bodies overlap at two angles by more than touching."""
    search = _Search(first, second)
    apart, _ = search.looked_at(np.array([[*angles, 0.0, 0.0]]))
    return bool(apart[0] < -TOUCHING_IN) and search.overlaps(*angles)


def _boxes(turns: Range, others: Range) -> Floats:
    """Return a grid of ranges (n, 4): both middles, and both half widths."""
    axes = []
    for low, high in (sorted(turns), sorted(others)):
        half = (high - low) / (2 * FIRST_PARTS)
        axes.append((low + half * (2 * np.arange(FIRST_PARTS) + 1), half))
    (first, half), (second, other_half) = axes
    middle = np.stack(np.meshgrid(first, second, indexing="ij"), axis=-1).reshape(-1, 2)
    halves = np.broadcast_to([half, other_half], middle.shape)
    return np.concatenate([middle, halves], axis=1)


def _ends_of(turns: Range, others: Range) -> Floats:
    """Return both angles at either end of their ranges (4, 4), as ranges of no width."""
    return np.array([(turn, other, 0.0, 0.0) for turn in turns for other in others])


def _halved(boxes: Floats, reach: tuple[float, float]) -> Floats:
    """Return the ranges halved, each in the angle whose body moves the farther over it."""
    wide = boxes[:, 2] * reach[0] >= boxes[:, 3] * reach[1]
    step = np.where(wide[:, None], [1.0, 0.0], [0.0, 1.0]) * boxes[:, 2:] / 2
    halves = np.where(wide[:, None], [0.5, 1.0], [1.0, 0.5]) * boxes[:, 2:]
    low = np.concatenate([boxes[:, :2] - step, halves], axis=1)
    high = np.concatenate([boxes[:, :2] + step, halves], axis=1)
    return np.concatenate([low, high])


class _Piece:
    """A convex piece about its body's line: corners, edges and the ways its faces look."""

    def __init__(self, solid: Solid, body: Body) -> None:
        own = features(solid)
        self.body = body
        away = own.corners - body.point
        along = away @ body.direction
        self.foot = body.point + along[:, None] * body.direction
        self.across = away - along[:, None] * body.direction
        self.ahead = np.cross(body.direction, self.across)
        self.ends: Ints = _ends(own.edges, own.corners)
        self.normals = _ways(own.faces)
        self.radius = float(np.linalg.norm(self.across, axis=1).max())

    def corners(self, angles: Floats) -> Floats:
        """Return the corners (n, k, 3) at each of n angles."""
        cos, sin = np.cos(angles)[:, None, None], np.sin(angles)[:, None, None]
        lift = (self.body.rise * angles)[:, None, None] * self.body.direction
        return self.foot + lift + cos * self.across + sin * self.ahead

    def faces(self, angles: Floats) -> Floats:
        """Return the ways (n, k, 3) its faces look at each of n angles."""
        d = self.body.direction
        along = (self.normals @ d)[:, None] * d
        across = self.normals - along
        cos, sin = np.cos(angles)[:, None, None], np.sin(angles)[:, None, None]
        return along + cos * across + sin * np.cross(d, across)

    def lowest(self, ways: Floats, angles: Floats, halves: Floats) -> Floats:
        """Return how low any corner gets along each way (n, 3) within its range of angles (n,)."""
        level = ways @ self.foot.T
        a, b = ways @ self.across.T, ways @ self.ahead.T
        climb = self.body.rise * (ways @ self.body.direction)
        lift = climb * angles - np.abs(climb) * halves
        # A corner stands highest where it is turned to its phase, and lowest half a turn off.
        off = np.abs((angles[:, None] - np.arctan2(b, a) + np.pi) % (2 * np.pi) - np.pi)
        farthest = np.minimum(off + halves[:, None], np.pi)
        swing = np.hypot(a, b) * np.cos(farthest)
        found: Floats = (level + swing).min(axis=1) + lift
        return found


def _ends(edges: Floats, corners: Floats) -> Ints:
    """Return the corner indices (m, 2) of edges (m, 2, 3)."""
    numbers = {tuple(corner): k for k, corner in enumerate(corners.tolist())}
    return np.array([[numbers[tuple(end)] for end in edge] for edge in edges.tolist()])


def _ways(faces: Floats) -> Floats:
    """Return the unit normals (k, 3) of triangles (m, 3, 3), those alike once."""
    across = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    normals = across / np.linalg.norm(across, axis=1)[:, None]
    kept: list[int] = []
    for k, normal in enumerate(normals):
        if not (normals[kept] @ normal > SAME_WAY_COS).any():
            kept.append(k)
    ways: Floats = normals[kept]
    return ways


class _Search:
    """Looks at ranges of both angles: the distance in the middle, and a bound over the range."""

    def __init__(self, first: Body, second: Body) -> None:
        self.bodies = first, second
        self.first = [_Piece(piece, first) for piece in first.pieces]
        self.second = [_Piece(piece, second) for piece in second.pieces]
        self.reach = (
            max(piece.radius for piece in self.first),
            max(piece.radius for piece in self.second),
        )

    def looked_at(self, boxes: Floats) -> tuple[Floats, Floats]:
        """Return how far apart they are at least: in the middle of ranges (n, 4), and over them.

        Negative where they may overlap: no measure of how deep.
        """
        distance = np.full(len(boxes), np.inf)
        bound = np.full(len(boxes), np.inf)
        for one in self.first:
            for other in self.second:
                way, apart = _separation(one, other, boxes[:, 0], boxes[:, 1])
                distance = np.minimum(distance, apart)
                bound = np.minimum(bound, _least_along(one, other, way, boxes))
        return distance, bound

    def distance(self, turn: float, other: float) -> float:
        """Return the distance at two angles, 0 where they touch or overlap."""
        best = np.inf
        for here in self.bodies[0].posed(turn):
            for there in self.bodies[1].posed(other):
                best = min(best, gap_between(here, there, within=min(best, FAR_IN)))
        return float(best)

    def overlaps(self, turn: float, other: float) -> bool:
        """Tell whether they touch or overlap at two angles."""
        return any(
            gap_between(here, there, within=TOUCHING_IN) <= 0
            for here in self.bodies[0].posed(turn)
            for there in self.bodies[1].posed(other)
        )


def _least_along(one: _Piece, other: _Piece, way: Floats, boxes: Floats) -> Floats:
    """Return a lower bound (n,) of the distance over ranges: along a way (n, 3), or the line.

    Pieces that stand one over the other keep their distance along the line
    all the while, though in the middle of a range they are nearest another way.
    """
    bounds = []
    up = np.broadcast_to(one.body.direction, way.shape)
    for each in (way, up, -up):
        low = one.lowest(each, boxes[:, 0], boxes[:, 2])
        high = -other.lowest(-each, boxes[:, 1], boxes[:, 3])
        bounds.append(low - high)
    found: Floats = np.max(bounds, axis=0)
    return found


def _separation(one: _Piece, other: _Piece, turns: Floats, others: Floats) -> tuple[Floats, Floats]:
    """Return the way (n, 3) from the other piece to the one along which they are most apart."""
    here, there = one.corners(turns), other.corners(others)
    way, apart = _best_way(
        np.concatenate([-one.faces(turns), other.faces(others)], axis=1), here, there
    )
    away = np.linalg.norm(here[:, :, None] - there[:, None], axis=3).min(axis=(1, 2))
    spare = away - apart
    between = np.empty_like(way)
    for rows in _chunks(len(way), len(one.ends) * len(other.ends)):
        between[rows] = _between_edges(
            _nearest_edges(here[rows], one.ends, way[rows], spare[rows]),
            _nearest_edges(there[rows], other.ends, -way[rows], spare[rows]),
        )
    return _best_way(np.stack([way, between], axis=1), here, there)


def _chunks(count: int, pairs: int) -> Iterator[slice]:
    """Yield the rows of a search in lots that hold no more than so many pairs of edges."""
    step = max(1, MOST_PAIRS // pairs)
    for low in range(0, count, step):
        yield slice(low, low + step)


def _best_way(ways: Floats, here: Floats, there: Floats) -> tuple[Floats, Floats]:
    """Return which of several ways (n, k, 3) parts corners most, and how far apart along it."""
    low = np.einsum("nwk,nck->nwc", ways, here).min(axis=2)
    high = np.einsum("nwk,nck->nwc", ways, there).max(axis=2)
    best = np.argmax(low - high, axis=1)
    rows = np.arange(len(ways))
    return ways[rows, best], (low - high)[rows, best]


def _nearest_edges(corners: Floats, ends: Ints, way: Floats, spare: Floats) -> Floats:
    """Return the edges (n, k, 2, 3) that may be nearest: those that lie low along a way (n, 3).

    Of two pieces parted by ``apart`` along a way and ``away`` from each other
    at the most, no place that is nearest is more than ``away - apart`` above
    the lowest: that is to ``spare`` (n,).
    """
    edges = corners[:, ends]
    height = np.einsum("nejk,nk->nej", edges, way).min(axis=2)
    height -= height.min(axis=1)[:, None]
    count = int((height <= spare[:, None] + TOUCHING_IN).sum(axis=1).max())
    if count == len(ends):
        return edges
    lowest = np.argpartition(height, count - 1, axis=1)[:, :count]
    few: Floats = np.take_along_axis(edges, lowest[:, :, None, None], axis=1)
    return few


def _between_edges(one: Floats, other: Floats) -> Floats:
    """Return the way (n, 3) between the nearest two edges, from the other's to the one's."""
    count, edges, against = len(one), one.shape[1], other.shape[1]
    a = np.repeat(one, against, axis=1).reshape(-1, 2, 3)
    b = np.tile(other, (1, edges, 1, 1)).reshape(-1, 2, 3)
    distance, start, end = segment_distance(a, b)
    nearest = np.argmin(distance.reshape(count, -1), axis=1)
    rows = np.arange(count) * edges * against + nearest
    way = start[rows] - end[rows]
    length = np.linalg.norm(way, axis=1)[:, None]
    up = np.array([0.0, 0.0, 1.0])
    return np.where(length > 1e-12, way / np.maximum(length, 1e-300), up)
