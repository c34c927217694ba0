"""How far the corners of many variants can stand from the middle one's, and what can meet then.

Variants of one scene have the same corners in other places. Where each corner
is bounded, so is what it sweeps as it turns, and which pairs of features can
meet at all: pairs that cannot are looked at in no variant.

With ``x`` what a variant is off the middle in each number, ``J`` how a corner
moves with each number by itself and ``r`` the sum of all second differences
over the whole box, a corner stands within ``|x J| + r`` of its middle place,
along each of the three directions. ``r`` is measured, not proven to the third
order, so a tenth is added; the tests hold it against variants over the box.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Bools, Floats, Ints, crossed, face_normals
from swingcheck.geometry.sweep import (
    Sweep,
    candidate_pairs,
    corner_sweep,
    edge_sweep,
    face_sweep,
    widened,
)

SECOND_ORDER = 1.1  # times the measured second differences: for what is beyond the second order
TIGHT, WIDE = 3.6, 1.02  # times the standard deviation of likely variants, and the whole box
ALIKE_SHARE = 0.02  # of their deltas: corners that go the same way to this have one test
REFLEX_SINE = 0.03  # an edge that is hollow by less may be raised in some variant
FLAT_SINE = 1e-9  # sine of the angle between two faces below which their edge is flat

CORNER_MOVES, FACE_MOVES, EDGES = range(3)
"""The kinds of pairs: moving corner and fixed face, fixed corner and moving face, two edges."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Skins:
    """The skins of one shape: what its corners (c,) are joined to, in every variant.

    ``triangles`` (m, 3) and ``edges`` (k, 2) number corners, ``owner`` (c,)
    tells the solid of each; the first ``movers`` solids move. Edges are those
    that may be convex in some variant.
    """

    triangles: Ints
    edges: Ints
    owner: Ints
    movers: int

    @property
    def moves(self) -> Bools:
        """Tell (c,) which corners move."""
        found: Bools = self.owner < self.movers
        return found


def convex_edges(triangles: Ints, corners: Floats) -> Ints:
    """Return the edges (k, 2) of closed skins that are convex in some variant.

    ``triangles`` (m, 3) are corner numbers, counter-clockwise from outside, ``corners``
    (c, 3, n) some variants. An edge that is flat in all of them is left out, one that is
    only a little hollow is not.
    """
    count = corners.shape[0]
    directed = np.concatenate([triangles[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
    owner = np.tile(np.arange(len(triangles)), 3)
    forward, backward = (directed[:, i] * count + directed[:, 1 - i] for i in (0, 1))
    order = np.argsort(backward, kind="stable")
    back = owner[order][np.searchsorted(backward[order], forward)]
    once = directed[:, 0] < directed[:, 1]
    ends, first, second = directed[once], owner[once], back[once]
    keep = np.zeros(len(ends), dtype=bool)
    bent = np.zeros(len(ends), dtype=bool)
    for points in np.moveaxis(corners, 2, 0):
        normals = _units(face_normals(points[triangles]))
        along = _units(points[ends[:, 1]] - points[ends[:, 0]])
        sine = np.einsum("ij,ij->i", crossed(normals[first], normals[second]), along)
        folded = np.einsum("ij,ij->i", normals[first], normals[second]) < -0.5
        keep |= (sine > -REFLEX_SINE) | (folded & (np.abs(sine) <= FLAT_SINE))
        bent |= (np.abs(sine) > FLAT_SINE) | folded
    found: Ints = ends[keep & bent]
    return found


def _units(ways: Floats) -> Floats:
    """Return directions (n, 3) of unit length; nothing stays nothing."""
    length = np.linalg.norm(ways, axis=1)[:, None]
    return np.divide(ways, length, out=np.zeros_like(ways), where=length > 0)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Bounds:
    """Where corners stand: ``middle`` (c, 3), ``slopes`` (d, 3c) a number, ``rest`` (3c,).

    Or where any other numbers (k,) that go with the variants' do.

    ``half`` (d,) is how far each number goes from the middle; the bounds hold
    no farther.
    """

    middle: Floats
    slopes: Floats
    rest: Floats
    half: Floats

    @property
    def tight(self) -> Floats:
        """A delta (3c,) that most variants are within.

        Where each number is as likely as the sum of two even ones, its variance is a sixth of
        the square of how far it goes.
        """
        spread = np.sqrt(self.half**2 / 6 @ self.slopes**2)
        return np.minimum(TIGHT * spread + self.rest, self.wide)

    @property
    def wide(self) -> Floats:
        """A delta (3c,) that every variant of the box is within."""
        delta: Floats = WIDE * (self.half @ np.abs(self.slopes)) + self.rest
        return delta


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Within:
    """Tells which variants have every corner within a delta, by ways (d, k) and limits (k,).

    A variant off by ``x`` is within where ``|x @ ways|`` is nowhere over the
    limits, and it is within the box.
    """

    half: Floats
    ways: Floats
    limits: Floats

    def holds(self, off: Floats) -> Bools:
        """Tell which variants (n,), off by (n, d), are certain to be within."""
        slack = 1e-12 + 1e-9 * self.half
        inside = np.all(np.abs(off) <= self.half + slack, axis=1)
        within: Bools = inside & np.all(np.abs(off @ self.ways) <= self.limits, axis=1)
        return within


def within(bound: Bounds, delta: Floats) -> Within:
    """Return what tells which variants have every corner within delta (3c,).

    Corners that go nearly the same way share one test, which leaves as much as
    they differ anywhere in the box; those that get nowhere near their delta
    need none.
    """
    spare = np.maximum(delta - bound.rest, 1e-300)
    ways = bound.slopes / spare
    reach = bound.half @ np.abs(ways)
    rows = np.flatnonzero(reach > 1)
    ways = ways[:, rows[np.argsort(-reach[rows], kind="stable")]]
    found, limits = [], []
    while ways.shape[1]:
        lead = ways[:, :1]
        apart = np.minimum(*(bound.half @ np.abs(ways - sign * lead) for sign in (1, -1)))
        near = apart <= ALIKE_SHARE
        found.append(lead)
        limits.append(1 - float(apart[near].max()))
        ways = ways[:, ~near]
    return Within(
        half=bound.half,
        ways=np.concatenate(found, axis=1) if found else np.zeros((len(bound.half), 0)),
        limits=np.array(limits),
    )


def probes(half: Floats) -> Floats:
    """Return how far (r, d) the variants are off the middle that tell the bounds of a box.

    Its half-widths are (d,).
    """
    count = len(half)
    singles = np.eye(count) * half
    both = [singles[i] + singles[j] for i, j in combinations(range(count), 2)]
    none = np.zeros((1, count))
    return np.concatenate([none, singles, -singles, np.reshape(both, (-1, count))])


def bounds(found: Floats, half: Floats) -> Bounds:
    """Return the bounds of what probes have, (..., r), over the box of half-widths (d,)."""
    count = len(half)
    each = found.reshape(-1, found.shape[-1]).T
    middle, over, under = each[0], each[1 : count + 1], each[count + 1 : 2 * count + 1]
    rest = np.abs(over + under - 2 * middle).sum(axis=0) / 2
    pairs = combinations(range(count), 2)
    for (i, j), both in zip(pairs, each[2 * count + 1 :], strict=True):
        rest += np.abs(both - over[i] - over[j] + middle)
    with np.errstate(invalid="ignore", divide="ignore"):
        slopes = np.where(half[:, None] > 0, (over - under) / (2 * half[:, None]), 0.0)
    return Bounds(middle=found[..., 0].copy(), slopes=slopes, rest=SECOND_ORDER * rest, half=half)


@dataclass(frozen=True, slots=True, eq=False)
class Pairs(Rows):
    """Pairs of features that can meet: ``kind``, what moves, what stands, the earliest turn.

    All (n,), by the earliest turn. A corner is told by its number, a face and
    an edge by its row.
    """

    kind: Ints
    moving: Ints
    fixed: Ints
    earliest: Floats


def reached(skins: Skins, middle: Floats, delta: Floats, span: float, room: float) -> Pairs:
    """Return the pairs that can meet while every corner stands within delta (3c,) of (c, 3).

    The middle's corners stand about the turning axis, the moving ones as the
    turn of ``span`` radians starts.
    """
    off = delta.reshape(-1, 3)
    aside, up = np.hypot(off[:, 0], off[:, 1]), off[:, 2]

    def swept(rows: Ints, sweep: Callable[[Floats], Sweep]) -> Sweep:
        reach = _angles(middle[rows], aside[rows])
        own = sweep(middle[rows])
        if rows.ndim == 1:
            return widened(own, aside[rows], up[rows], reach)
        return widened(own, *(part.max(axis=1) for part in (aside[rows], up[rows], reach)))

    found = []
    for kind, mover, rest in _sides(skins):
        moving, fixed = (swept(side, sweep) for side, _, sweep in (mover, rest))
        first, second, earliest = candidate_pairs(moving, fixed, room, span)
        kinds = np.full(len(first), kind)
        found.append(Pairs(kinds, mover[1][first], rest[1][second], earliest))
    every = Pairs.joined(found)
    return every.picked(np.argsort(every.earliest, kind="stable"))


_Side = tuple[Ints, Ints, Callable[[Floats], Sweep]]


def _sides(skins: Skins) -> Iterator[tuple[int, _Side, _Side]]:
    """Yield each kind of pairs with its moving and fixed features, their numbers, their sweep."""
    moves = skins.moves
    used = np.unique(skins.edges)
    for kind, first, second in (
        (CORNER_MOVES, used, skins.triangles),
        (FACE_MOVES, skins.triangles, used),
        (EDGES, skins.edges, skins.edges),
    ):
        sides = []
        for features, own in ((first, True), (second, False)):
            lead = features if features.ndim == 1 else features[:, 0]
            rows = np.flatnonzero(moves[lead] == own)
            corners = features.ndim == 1
            sweep = corner_sweep if corners else edge_sweep if kind == EDGES else face_sweep
            sides.append((features[rows], features[rows] if corners else rows, sweep))
        yield kind, sides[0], sides[1]


def _angles(points: Floats, aside: Floats) -> Floats:
    """Return how far (...) about the axis points (..., 3) can be turned by going so far aside."""
    radius = np.hypot(points[..., 0], points[..., 1])
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(radius > 0, aside / radius, np.inf)
    return np.where(share < 1, np.arcsin(np.minimum(share, 1.0)), np.pi)
