"""The first contact of many variants at once, over the pairs that can meet in any of them.

The equations and the tolerances are those of :mod:`..contact` and
:mod:`..pairs`; here every number is an array over the variants, so arrays are
(..., n). Pairs come in blocks by their earliest turn, and a variant is done as
soon as it has met something before the next block's. What a batch cannot tell
for sure (two solids met within a hair of one angle, a touch at the start or
the end) is marked as doubtful: whoever asks looks at that variant by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.many.reach import CORNER_MOVES, EDGES
from swingcheck.geometry.many.tiers import DOUBT_RAD, TIE_RAD, Lot, Tier
from swingcheck.geometry.pairs import GRAZE_IN, SAME_TURN_RAD
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Bools, Floats, Ints

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
    for earliest, lots in tier.blocks:
        going = best[left] >= earliest - DOUBT_RAD
        if not going.any():
            break
        if going.mean() < DONE_SHARE:
            left, corners = left[going], np.ascontiguousarray(corners[:, :, going])
        for lot in lots:
            search = _Search(corners, np.cos(np.minimum(best[left] + DOUBT_RAD, np.pi)), room)
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
    """Where pairs meet in variants, of which ``latest`` (n,) is the cosine of the last turn."""

    def __init__(self, corners: Floats, latest: Floats, room: float) -> None:
        self.corners, self.latest, self.room = corners, latest, room

    def faces(self, lot: Lot) -> _Found:
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
        slides = (r <= self.room) & (np.abs(c) <= self.room) if r.min() <= self.room else None
        meets = (np.abs(c) <= r + self.room) & (r - c > GRAZE_IN)
        pair, variant = np.nonzero(meets if slides is None else meets & ~slides)
        terms = [part[pair, variant] for part in (a, b, c, r)]
        cos, sin, some = self.roots(terms, variant, 1.0)
        pair, variant = pair[some], variant[some]
        over_face = _Over(self, face[over[pair]], across[:, over[pair], variant].T, variant)
        inside = over_face.holds(self.corners[corner[which[pair]], :, variant], cos, sense * sin)
        turn = np.arctan2(sin[inside], cos[inside])
        found = np.maximum(turn, 0.0), variant[inside], pair[inside]
        if slides is None:
            return found
        pair, variant = np.nonzero(slides)
        over_face = _Over(self, face[over[pair]], across[:, over[pair], variant].T, variant)
        point = self.corners[corner[which[pair]], :, variant]
        each = [(turn, variant[k], pair[k]) for turn, k in over_face.slides(point, sense)]
        turns, variants, pairs = zip(found, *each, strict=True)
        return np.concatenate(turns), np.concatenate(variants), np.concatenate(pairs)

    def _planes(self, face: Ints) -> tuple[Floats, Floats]:
        """Return the outward normals (3, m, n) of faces and their planes' offsets (m, n)."""
        first, second, third = (self.corners[face[:, k]].swapaxes(0, 1) for k in range(3))
        across = _crossed(second - first, third - first)
        length = np.sqrt((across * across).sum(axis=0))
        across /= np.where(length > 0, length, 1.0)
        return across, (across * first).sum(axis=0)

    def roots(self, terms: list[Floats], variant: Ints, sign: float) -> tuple[Floats, Floats, Ints]:
        """Return cosine and sine of the roots (k,) that come soon enough, and which those are."""
        a, b, c, r = terms
        s = sign * np.sqrt(np.maximum((r - c) * (r + c), 0.0))
        square = r * r
        cos, sin = (-a * c - b * s) / square, (-b * c + a * s) / square
        soon = (sin >= -SAME_TURN_RAD) & (cos >= self.latest[variant] - DOUBT_RAD)
        some = np.flatnonzero(soon)
        return cos[some], sin[some], some

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
        pair, variant = np.nonzero((np.abs(c) < r) & (r > self.room))
        terms = [part[pair, variant] for part in (a, b, c, r)]
        found: list[_Found] = []
        for sign in (1.0, -1.0):
            cos, sin, some = self.roots(terms, variant, sign)
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


class _Over:
    """Faces (k, 3) with their normals (k, 3), each in its own variant (k,), under points."""

    def __init__(self, search: _Search, face: Ints, normal: Floats, variant: Ints) -> None:
        self.search, self.variant = search, variant
        corners = [search.corners[face[:, k], :, variant] for k in range(3)]
        self.borders = []
        for k in range(3):
            side = corners[(k + 1) % 3] - corners[k]
            inward = _crossed(normal.T, side.T)
            offset = (inward * corners[k].T).sum(axis=0)
            self.borders.append((inward, offset, np.sqrt((side * side).sum(axis=1))))

    def holds(self, point: Floats, cos: Floats, sin: Floats) -> Bools:
        """Tell which points (k, 3), turned, lie within the borders."""
        x, y, z = _turned(point.T, cos, sin)
        inside = np.ones(len(point), dtype=bool)
        for (across, out, up), offset, length in self.borders:
            depth = across * x + out * y + up * z - offset
            inside &= depth >= -self.search.room * length
        return inside

    def slides(self, point: Floats, sense: float) -> Iterator[tuple[Floats, Ints]]:
        """Yield turns at which points (k, 3) that move within the planes enter, and of which."""
        count = len(point)
        rows = np.flatnonzero(self.holds(point, np.ones(count), np.zeros(count)))
        yield np.zeros(len(rows)), rows
        px, py, pz = point.T
        for (x, y, z), offset, _ in self.borders:
            a, b = x * px + y * py, sense * (y * px - x * py)
            c, r = z * pz - offset, np.hypot(a, b)
            with np.errstate(invalid="ignore", divide="ignore"):
                cos, sin, some = self.search.roots([a, b, c, r], self.variant, -1.0)
            turns = np.full((2, count), np.nan)
            turns[:, some] = cos, sin
            within = self.holds(point, turns[0], sense * turns[1]) & (np.abs(c) <= r)
            rows = np.flatnonzero(within)
            yield np.maximum(np.arctan2(turns[1, rows], turns[0, rows]), 0.0), rows


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
