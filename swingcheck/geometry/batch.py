"""The first contact of many variants at once, over the pairs that can meet in any of them.

The equations and the tolerances are those of :mod:`.contact` and
:mod:`.pairs`; here every number is an array over the variants, so arrays are
(..., n). Pairs come in blocks by their earliest turn, and a variant is done as
soon as it has met something before the next block's. What a batch cannot tell
for sure (two solids met within a hair of one angle, a touch at the start, a
corner that slides within a face's plane) is marked as doubtful: whoever asks
looks at that variant by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.geometry.pairs import GRAZE_IN, SAME_TURN_RAD
from swingcheck.geometry.reach import CORNER_MOVES, EDGES, FACE_MOVES, Pairs, Skins
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Bools, Floats, Ints

BLOCK = 192  # pairs looked at together
DOUBT_RAD = 1e-8  # turns that differ by less may come in another order one at a time
TIE_RAD = 1e-10  # turns that differ by less are one
DONE_SHARE = 0.7  # variants are packed anew where fewer of them than this are left


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Met:
    """First contacts of n variants: ``turn`` (n,), inf for none, and the ``fixed`` solid, -1.

    ``doubtful`` (n,) tells which are to be looked at one at a time.
    """

    turn: Floats
    fixed: Ints
    doubtful: Bools


@dataclass(frozen=True, slots=True, eq=False)
class _Lot:
    """Some pairs of one kind: rows of the features that move and that stand, and the latter."""

    kind: int
    first: Ints
    second: Ints
    movers: Ints
    rest: Ints
    owner: Ints

    def numbered(self, number: Ints) -> _Lot:
        """Return the same pairs with corners numbered anew."""
        return replace(self, movers=number[self.movers], rest=number[self.rest])


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Blocks:
    """The pairs of a tier made ready: ``corners`` (k,) are the only ones that they use."""

    corners: Ints
    lots: tuple[tuple[float, tuple[_Lot, ...]], ...]


def blocks(skins: Skins, pairs: Pairs) -> Blocks:
    """Return pairs made ready to be looked at, by their earliest turn."""
    lots = []
    used: list[Ints] = []
    for low in range(0, len(pairs.kind), BLOCK):
        block = pairs.picked(np.arange(low, min(low + BLOCK, len(pairs.kind))))
        mine = tuple(
            _lot(skins, block.picked(block.kind == kind), kind)
            for kind in (CORNER_MOVES, FACE_MOVES, EDGES)
            if (block.kind == kind).any()
        )
        lots.append((float(block.earliest[0]), mine))
        used += [part.ravel() for lot in mine for part in (lot.movers, lot.rest)]
    corners = np.unique(np.concatenate(used)) if used else np.zeros(0, np.int64)
    number = np.full(len(skins.owner), -1)
    number[corners] = np.arange(len(corners))
    return Blocks(
        corners=corners,
        lots=tuple(
            (earliest, tuple(lot.numbered(number) for lot in mine)) for earliest, mine in lots
        ),
    )


def _lot(skins: Skins, pairs: Pairs, kind: int) -> _Lot:
    moving, first = np.unique(pairs.moving, return_inverse=True)
    fixed, second = np.unique(pairs.fixed, return_inverse=True)
    corners: tuple[Ints, Ints] = (
        moving if kind == CORNER_MOVES else _corners(skins, kind)[moving],
        fixed if kind == FACE_MOVES else _corners(skins, kind)[fixed],
    )
    lead = corners[1] if kind == FACE_MOVES else corners[1][:, 0]
    return _Lot(kind, first.reshape(-1), second.reshape(-1), *corners, skins.owner[lead][second])


def _corners(skins: Skins, kind: int) -> Ints:
    return skins.edges if kind == EDGES else skins.triangles


@dataclass(frozen=True, slots=True, eq=False)
class _Touch(Rows):
    """Touches: which variant, at which turn, of which fixed solid, (k,) each."""

    variant: Ints
    turn: Floats
    fixed: Ints


def first_met(tier: Blocks, corners: Floats, span: float, room: float) -> Met:
    """Return the first contact of every variant.

    Parameters
    ----------
    tier : Blocks
        The pairs that can meet.
    corners : (k, 3, n) float64
        The corners that the tier uses, with the turning axis on z, the moving
        ones as the turn starts; it goes counter-clockwise.
    span : float
        How far it goes, radians, at most half a turn.
    room : float
        How far outside a face or an edge still counts as on it, inches.
    """
    count = corners.shape[2]
    best, doubtful = np.full(count, span), np.zeros(count, dtype=bool)
    left, kept = np.arange(count), []
    for earliest, lots in tier.lots:
        going = best[left] >= earliest - DOUBT_RAD
        if not going.any():
            break
        if going.mean() < DONE_SHARE:
            left, corners = left[going], np.ascontiguousarray(corners[:, :, going])
        for lot in lots:
            search = _Search(corners, np.cos(np.minimum(best[left] + DOUBT_RAD, np.pi)), room)
            turn, variant, pair = search.edges(lot) if lot.kind == EDGES else search.faces(lot)
            doubtful[left[search.slides]] = True
            touch = _Touch(left[variant], turn, lot.owner[pair])
            touch = touch.picked(turn <= best[touch.variant] + DOUBT_RAD)
            np.minimum.at(best, touch.variant, touch.turn)
            kept.append(touch)
    return _met(kept, best, doubtful, span)


def _met(kept: list[_Touch], best: Floats, doubtful: Bools, span: float) -> Met:
    """Return the first of the touches kept, and what is in doubt about it."""
    none = np.iinfo(np.int64).max
    fixed = np.full(len(best), none)
    if kept:
        touch = _Touch.joined(kept)
        late = touch.turn - best[touch.variant]
        tied = touch.picked(late <= TIE_RAD)
        np.minimum.at(fixed, tied.variant, tied.fixed)
        near = touch.picked((late > TIE_RAD) & (late <= DOUBT_RAD))
        other = near.fixed != fixed[near.variant]
        doubtful[near.variant[other]] = True
    touched = fixed != none
    doubtful |= touched & ((best <= DOUBT_RAD) | (best >= span - DOUBT_RAD))
    return Met(
        turn=np.where(touched, best, np.inf), fixed=np.where(touched, fixed, -1), doubtful=doubtful
    )


_Found = tuple[Floats, Ints, Ints]
"""Turns (k,), the variants, and the pairs."""


class _Search:
    """Where pairs meet in variants, of which ``latest`` (n,) is the cosine of the last turn.

    ``slides`` are the variants in which a corner stays within a face's plane.
    """

    def __init__(self, corners: Floats, latest: Floats, room: float) -> None:
        self.corners, self.latest, self.room = corners, latest, room
        self.slides: Ints = np.zeros(0, np.int64)

    def faces(self, lot: _Lot) -> _Found:
        """Return where corners enter faces."""
        sense = 1.0 if lot.kind == CORNER_MOVES else -1.0
        corner, face = (lot.movers, lot.rest)[:: int(sense)]
        which, over = (lot.first, lot.second)[:: int(sense)]
        across, offset = self._planes(face)
        px, py, pz = self.corners[corner[which]].swapaxes(0, 1)
        nx, ny, nz = (part[over] for part in across)
        a = nx * px + ny * py
        b = sense * (ny * px - nx * py)
        c = nz * pz - offset[over]
        r = np.sqrt(a * a + b * b)
        if r.min(initial=1.0) <= self.room:
            still = (r <= self.room) & (np.abs(c) <= self.room) & (nz * nz > 0.5)
            self.slides = np.flatnonzero(still.any(axis=0))
        pair, variant = np.nonzero((np.abs(c) <= r + self.room) & (r - c > GRAZE_IN))
        terms = [part[pair, variant] for part in (a, b, c, r)]
        cos, sin, some = self._roots(terms, variant, 1.0)
        pair, variant = pair[some], variant[some]
        point = self.corners[corner[which[pair]], :, variant]
        x = cos * point[:, 0] - sense * sin * point[:, 1]
        y = cos * point[:, 1] + sense * sin * point[:, 0]
        local = np.stack([x, y, point[:, 2]], axis=1)
        inside = self._inside(face[over[pair]], across[:, over[pair], variant].T, local, variant)
        turn = np.arctan2(sin[inside], cos[inside])
        return np.maximum(turn, 0.0), variant[inside], pair[inside]

    def _planes(self, face: Ints) -> tuple[Floats, Floats]:
        """Return the outward normals (3, m, n) of faces and their planes' offsets (m, n)."""
        first, second, third = (self.corners[face[:, k]].swapaxes(0, 1) for k in range(3))
        across = _crossed(second - first, third - first)
        length = np.sqrt((across * across).sum(axis=0))
        across /= np.where(length > 0, length, 1.0)
        return across, (across * first).sum(axis=0)

    def _inside(self, face: Ints, normal: Floats, point: Floats, variant: Ints) -> Bools:
        """Tell which points (k, 3) of faces' planes lie within the faces (k, 3)."""
        inside = np.ones(len(point), dtype=bool)
        for k in range(3):
            begin = self.corners[face[:, k], :, variant]
            side = self.corners[face[:, (k + 1) % 3], :, variant] - begin
            length = np.sqrt(np.einsum("ij,ij->i", side, side))
            depth = np.einsum("ij,ij->i", _crossed_rows(normal, side), point - begin)
            inside &= depth >= -self.room * length
        return inside

    def _roots(
        self, terms: list[Floats], variant: Ints, sign: float
    ) -> tuple[Floats, Floats, Ints]:
        """Return cosine and sine of the roots (k,) that come soon enough, and which those are."""
        a, b, c, r = terms
        s = sign * np.sqrt(np.maximum((r - c) * (r + c), 0.0))
        square = r * r
        cos, sin = (-a * c - b * s) / square, (-b * c + a * s) / square
        soon = (sin >= -SAME_TURN_RAD) & (cos >= self.latest[variant] - DOUBT_RAD)
        some = np.flatnonzero(soon)
        return cos[some], sin[some], some

    def edges(self, lot: _Lot) -> _Found:
        """Return where edges cross."""
        (p, u, m, u_long), (q, v, k, v_long) = (
            self._lines(part) for part in (lot.movers, lot.rest)
        )
        i, j = lot.first, lot.second
        (ux, uy, uz), (mx, my, mz) = u[:, i], m[:, i]
        (vx, vy, vz), (kx, ky, kz) = v[:, j], k[:, j]
        a = vx * mx + vy * my + kx * ux + ky * uy
        b = vy * mx - vx * my + ky * ux - kx * uy
        c = vz * mz + kz * uz
        r = np.sqrt(a * a + b * b)
        pair, variant = np.nonzero((np.abs(c) < r) & (r > self.room))
        terms = [part[pair, variant] for part in (a, b, c, r)]
        found: list[_Found] = []
        for sign in (1.0, -1.0):
            cos, sin, some = self._roots(terms, variant, sign)
            these, here = pair[some], variant[some]
            depth = terms[3][some] - np.abs(terms[2][some])
            ours = [_turned(part[:, i[these], here], cos, sin) for part in (p, u)]
            theirs = [part[:, j[these], here] for part in (q, v)]
            within = self._crossing(
                ours, theirs, u_long[i[these], here], v_long[j[these], here], depth
            )
            turn = np.maximum(np.arctan2(sin[within], cos[within]), 0.0)
            found.append((turn, here[within], these[within]))
        turns, variants, pairs = zip(*found, strict=True)
        return np.concatenate(turns), np.concatenate(variants), np.concatenate(pairs)

    def _lines(self, edges: Ints) -> tuple[Floats, Floats, Floats, Floats]:
        """Return edges' starts, directions and moments (3, m, n), and their lengths (m, n)."""
        start = self.corners[edges[:, 0]].swapaxes(0, 1)
        along = self.corners[edges[:, 1]].swapaxes(0, 1) - start
        length = np.sqrt((along * along).sum(axis=0))
        along /= np.where(length > 0, length, 1.0)
        return start, along, _crossed(start, along), length

    def _crossing(
        self,
        ours: list[Floats],
        theirs: list[Floats],
        u_long: Floats,
        v_long: Floats,
        depth: Floats,
    ) -> Ints:
        """Return which lines, each a start and a way (3, k), meet within both edges."""
        (p, u), (q, v) = ours, theirs
        w = _crossed(u, v)
        square = (w * w).sum(axis=0)
        gap = q - p
        with np.errstate(invalid="ignore", divide="ignore"):
            on_u = (_crossed(gap, v) * w).sum(axis=0) / square
            on_v = (_crossed(gap, u) * w).sum(axis=0) / square
            deep = depth / np.sqrt(square) > GRAZE_IN
            apart = p + on_u * u - q - on_v * v
        within = deep & (on_u >= -self.room) & (on_u <= u_long + self.room)
        within &= (on_v >= -self.room) & (on_v <= v_long + self.room)
        within &= (apart * apart).sum(axis=0) <= (100 * self.room) ** 2
        return np.flatnonzero(within)


def _turned(way: Floats, cos: Floats, sin: Floats) -> Floats:
    """Return points or directions (3, k), turned about z."""
    return np.stack([cos * way[0] - sin * way[1], sin * way[0] + cos * way[1], way[2]])


def _crossed(a: Floats, b: Floats) -> Floats:
    """Return cross products (3, ...)."""
    return np.stack(
        [
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        ]
    )


def _crossed_rows(a: Floats, b: Floats) -> Floats:
    """Return cross products (k, 3)."""
    return _crossed(a.T, b.T).T


def chunks(count: int, size: int) -> Iterator[slice]:
    """Yield slices of so many variants at a time."""
    for low in range(0, count, size):
        yield slice(low, min(low + size, count))
