"""The first contact of many variants at once, over the pairs that can meet in any of them.

The equations and the tolerances are those of :mod:`..contact` and
:mod:`..pairs`; here every number is an array over the variants, so arrays are
(..., n). Pairs come in blocks by their earliest turn, and a variant is done as
soon as it has met something before the next block's. What a batch cannot tell
for sure (two solids met within a hair of one angle, a touch at the start or
the end) is marked as doubtful: whoever asks looks at that variant by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.geometry.many.reach import CORNER_MOVES, EDGES
from swingcheck.geometry.many.tiers import DOUBT_RAD, TIE_RAD, Lot, Tier
from swingcheck.geometry.pairs import GRAZE_IN, SAME_TURN_RAD
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Bools, Floats, Ints

Vectors = Floats | Sequence[Floats]

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
class _Touch(Rows):
    """Touches: which variant, at which turn, of which fixed solid, (k,) each."""

    variant: Ints
    turn: Floats
    fixed: Ints


def first_met(tier: Tier, corners: Floats, span: float, room: float) -> Met:
    """Return the first contact of every variant.

    ``corners`` (k, 3, n) are those that the ``tier`` uses, with the turning axis on z, the
    moving ones as the turn starts; it goes counter-clockwise through ``span``, radians, at
    most half a turn. ``room`` is how far outside a face or an edge still counts as on it,
    inches.
    """
    count = corners.shape[2]
    best, doubtful = np.full(count, span), np.zeros(count, dtype=bool)
    left, kept = np.arange(count), []
    places = np.ascontiguousarray(corners.swapaxes(0, 1))
    for earliest, lots in tier.blocks:
        going = best[left] >= earliest - DOUBT_RAD
        if not going.any():
            break
        if going.mean() < DONE_SHARE:
            left, places = left[going], np.compress(going, places, axis=2)
        for lot in lots:
            search = _Search(places, np.cos(np.minimum(best[left] + DOUBT_RAD, np.pi)), room)
            turn, variant, pair = search.edges(lot) if lot.kind == EDGES else search.faces(lot)
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
    """Where pairs meet in variants: by corners (3, c, n) and cosines ``latest`` (n,)."""

    def __init__(self, corners: Floats, latest: Floats, room: float) -> None:
        self.corners, self.latest, self.room = corners, latest, room

    def faces(self, lot: Lot) -> _Found:
        """Return where corners enter faces."""
        sense = 1.0 if lot.kind == CORNER_MOVES else -1.0
        corner, face = (lot.movers, lot.rest)[:: int(sense)]
        which, over = (lot.first, lot.second)[:: int(sense)]
        across, offset = self._planes(face)
        px, py, pz = self.corners[:, corner[which]]
        nx, ny, nz = (part[over] for part in across)
        a = nx * px + ny * py
        b = sense * (ny * px - nx * py)
        c = nz * pz - offset[over]
        r = np.sqrt(a * a + b * b)
        slides = (r <= self.room) & (np.abs(c) <= self.room) if r.min() <= self.room else None
        meets = (np.abs(c) <= r + self.room) & (r - c > GRAZE_IN)
        cos, sin, soon = self.roots([a, b, c, r], 1.0)
        pair, variant = np.nonzero(soon & (meets if slides is None else meets & ~slides))
        cos, sin = cos[pair, variant], sin[pair, variant]
        faces = self._under(face, across, over, pair, variant)
        point = self.at(corner[which[pair]], variant)
        inside = faces.holds(point, cos, sense * sin)
        turn = np.arctan2(sin[inside], cos[inside])
        found = np.maximum(turn, 0.0), variant[inside], pair[inside]
        if slides is None:
            return found
        pair, variant = np.nonzero(slides)
        faces = self._under(face, across, over, pair, variant)
        point = self.at(corner[which[pair]], variant)
        each = [(turn, variant[k], pair[k]) for turn, k in faces.slides(point, sense)]
        turns, variants, pairs = zip(found, *each, strict=True)
        return np.concatenate(turns), np.concatenate(variants), np.concatenate(pairs)

    def _under(self, face: Ints, across: Floats, over: Ints, pair: Ints, variant: Ints) -> _Faces:
        """Return the faces of some pairs in some variants, by all of their normals (3, m, n)."""
        return _Faces(self, face[over[pair]].T, _picked(across, over[pair], variant), variant)

    def at(self, corner: Ints, variant: Ints) -> Floats:
        """Return corners (3, k), each in its variant (k,)."""
        return _picked(self.corners, corner, variant)

    def _planes(self, face: Ints) -> tuple[Floats, Floats]:
        """Return the outward normals (3, m, n) of faces and their planes' offsets (m, n)."""
        first, second, third = (self.corners[:, face[:, k]] for k in range(3))
        across = _crossed(second - first, third - first)
        length = np.sqrt(_dot(across, across))
        across /= np.where(length > 0, length, 1.0)
        return across, _dot(across, first)

    def roots(
        self, terms: Sequence[Floats], sign: float, variant: Any = slice(None)
    ) -> tuple[Floats, Floats, Bools]:
        """Return cosine and sine of roots (..., k), and which come soon enough."""
        a, b, c, r = terms
        with np.errstate(invalid="ignore", divide="ignore"):
            per = 1 / (r * r)
            s = sign * np.sqrt(np.maximum((r - c) * (r + c), 0.0))
            cos, sin = (-a * c - b * s) * per, (a * s - b * c) * per
        soon = (sin >= -SAME_TURN_RAD) & (cos >= self.latest[variant] - DOUBT_RAD)
        return cos, sin, soon

    def edges(self, lot: Lot) -> _Found:
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
        crosses = (np.abs(c) < r) & (r > self.room)
        found: list[_Found] = []
        for sign in (1.0, -1.0):
            cos, sin, soon = self.roots([a, b, c, r], sign)
            these, here = np.nonzero(soon & crosses)
            cos, sin = cos[these, here], sin[these, here]
            depth = r[these, here] - np.abs(c[these, here])
            ours = [_turned(_picked(part, i[these], here), cos, sin) for part in (p, u)]
            theirs = [_picked(part, j[these], here) for part in (q, v)]
            within = self._crossing(
                ours, theirs, u_long[i[these], here], v_long[j[these], here], depth
            )
            turn = np.maximum(np.arctan2(sin[within], cos[within]), 0.0)
            found.append((turn, here[within], these[within]))
        turns, variants, pairs = zip(*found, strict=True)
        return np.concatenate(turns), np.concatenate(variants), np.concatenate(pairs)

    def _lines(self, edges: Ints) -> tuple[Floats, Floats, Floats, Floats]:
        """Return edges' starts, directions and moments (3, m, n), and their lengths (m, n)."""
        start = self.corners[:, edges[:, 0]]
        along = self.corners[:, edges[:, 1]] - start
        length = np.sqrt(_dot(along, along))
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
        square = _dot(w, w)
        gap = q - p
        with np.errstate(invalid="ignore", divide="ignore"):
            on_u = _dot(_crossed(gap, v), w) / square
            on_v = _dot(_crossed(gap, u), w) / square
            deep = depth / np.sqrt(square) > GRAZE_IN
            apart = p + on_u * u - q - on_v * v
        within = deep & (on_u >= -self.room) & (on_u <= u_long + self.room)
        within &= (on_v >= -self.room) & (on_v <= v_long + self.room)
        within &= _dot(apart, apart) <= (100 * self.room) ** 2
        return np.flatnonzero(within)


class _Faces:
    """Faces (3, k), by their corners, with their normals (3, k), each in its own variant (k,)."""

    def __init__(self, search: _Search, face: Ints, normal: Floats, variant: Ints) -> None:
        self.search, self.face, self.normal, self.variant = search, face, normal, variant

    def border(self, side: int) -> tuple[Floats, Floats, Floats]:
        """Return a side's start and its way in (3, k), and its length (k,)."""
        start, end = (self.search.at(self.face[k % 3], self.variant) for k in (side, side + 1))
        along = end - start
        return start, _crossed(self.normal, along), np.sqrt(_dot(along, along))

    def some(self, rows: Ints) -> _Faces:
        """Return some of the faces."""
        face, normal = self.face.take(rows, axis=1), self.normal.take(rows, axis=1)
        return _Faces(self.search, face, normal, self.variant[rows])

    def holds(self, point: Floats, cos: Floats, sin: Floats) -> Ints:
        """Return which of the points (3, k), turned, lie within the borders."""
        rows, place, faces = np.arange(len(cos)), _turned(point, cos, sin), self
        for side in range(3):
            start, inward, length = faces.border(side)
            within = np.flatnonzero(_dot(place - start, inward) >= -self.search.room * length)
            rows, place, faces = rows[within], place.take(within, axis=1), faces.some(within)
        return rows

    def slides(self, point: Floats, sense: float) -> Iterator[tuple[Floats, Ints]]:
        """Yield turns at which points (3, k) that move within the planes enter, and of which."""
        count = point.shape[1]
        rows = self.holds(point, np.ones(count), np.zeros(count))
        yield np.zeros(len(rows)), rows
        px, py, pz = point
        for side in range(3):
            start, (x, y, z), _ = self.border(side)
            a, b = x * px + y * py, sense * (y * px - x * py)
            c, r = z * pz - _dot(start, (x, y, z)), np.hypot(a, b)
            cos, sin, soon = self.search.roots([a, b, c, r], -1.0, self.variant)
            rows = self.holds(point, cos, sense * sin)
            rows = rows[(soon & (np.abs(c) <= r))[rows]]
            yield np.maximum(np.arctan2(sin[rows], cos[rows]), 0.0), rows


def _picked(array: Floats, row: Ints, variant: Ints) -> Floats:
    """Return columns (3, k) of an array (3, m, n)."""
    place = row * array.shape[2] + variant
    return np.stack([part.reshape(-1).take(place) for part in array])


def _turned(way: Floats, cos: Floats, sin: Floats) -> Floats:
    """Return points or directions (3, k), turned about z."""
    return np.stack([cos * way[0] - sin * way[1], sin * way[0] + cos * way[1], way[2]])


def _dot(a: Vectors, b: Vectors) -> Floats:
    """Return products (...) of vectors (3, ...)."""
    found: Floats = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    return found


def _crossed(a: Floats, b: Floats) -> Floats:
    """Return cross products (3, ...)."""
    return np.stack(
        [
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        ]
    )
