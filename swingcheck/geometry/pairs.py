"""Pairs of features of turning and fixed solids: where each pair touches.

Everything stands in the axis's frame: the turn is about z, and by ``rise``
inches a radian along it (0 for a plain hinge, not for a rising one). A corner
and a face, or two edges, are in touch where

    A cos t + B sin t + C + t (G + D cos t + E sin t) = 0

with ``G``, ``D`` and ``E`` all 0 where nothing rises. Then the roots are
closed form.

With a rise there is no closed form, so the roots are isolated by halving. On an
interval of half-width ``h`` about ``m``, with ``M`` a bound of ``|F''|`` over
the whole span, Taylor's theorem gives two certain answers: where
``|F(m)| > |F'(m)| h + M h^2 / 2`` there is no root, and where ``|F'(m)| > M h``
the function is monotonic, so that the signs at the ends tell whether there is
just one, which is then closed in on to the last bit. What is left after 40
halvings is a touch whose depth is under ``M h^2 / 2``, far below anything that
counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.geometry.frames import turned_about_z
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Floats, Ints, crossed
from swingcheck.geometry.turning import CORNER_MOVES, EDGES, Kind, Turning

SAME_TURN_RAD = 1e-9  # radians: contacts this close together are one
GRAZE_IN = 1e-6  # inches: a touch that never gets deeper than this is no contact
HALVINGS = 40  # how often the turn is halved until a rising root stands by itself
CLOSINGS = 70  # how often what holds a rising root is halved


@dataclass(frozen=True, slots=True, eq=False)
class Touches(Rows):
    """Candidate contacts: turn (n,), point (n, 3), and the two owners (n,)."""

    turn: Floats
    point: Floats
    moving: Ints
    fixed: Ints


def first_of(kept: list[Touches], best: float) -> Touches | None:
    """Return those of several lots that come within ``SAME_TURN_RAD`` of the turn ``best``."""
    if not kept:
        return None
    every = Touches.joined(kept)
    return every.picked(every.turn <= best + SAME_TURN_RAD)


def turn_roots(a: Floats, b: Floats, c: Floats, sign: Floats | float) -> Floats:
    """Return the root in [0, 2 pi) of ``a cos t + b sin t + c = 0``.

    Where ``c`` is out of reach (``|c| > hypot(a, b)``) it is the turn that
    comes closest: leave such rows out unless they are so by rounding. ``sign``
    +1 gives the root at which the function falls, -1 the one at which it
    rises. A turn less than ``SAME_TURN_RAD`` short of a whole one is a turn of 0: the
    root was passed by no more than rounding.
    """
    r = np.hypot(a, b)
    s = sign * np.sqrt(np.maximum((r - c) * (r + c), 0.0))
    turn = np.arctan2(-b * c + a * s, -a * c - b * s)
    turn = np.where(turn < -SAME_TURN_RAD, turn + 2 * np.pi, np.maximum(turn, 0.0))
    return np.where(turn > 2 * np.pi - SAME_TURN_RAD, 0.0, turn)


@dataclass(frozen=True, slots=True, eq=False)
class Wave(Rows):
    """The coefficients (n,) of n contact equations."""

    a: Floats
    b: Floats
    c: Floats
    g: Floats
    d: Floats
    e: Floats

    def value(self, t: Floats) -> Floats:
        """Return F, (n,)."""
        cos, sin = np.cos(t), np.sin(t)
        value: Floats = (
            self.a * cos + self.b * sin + self.c + t * (self.g + self.d * cos + self.e * sin)
        )
        return value

    def slope(self, t: Floats) -> Floats:
        """Return F', (n,)."""
        cos, sin = np.cos(t), np.sin(t)
        slope: Floats = (
            -self.a * sin
            + self.b * cos
            + self.g
            + self.d * cos
            + self.e * sin
            + t * (self.e * cos - self.d * sin)
        )
        return slope

    def bend(self, span: float) -> Floats:
        """Return a bound (n,) of ``|F''|`` on [0, span]."""
        turned = np.hypot(self.d, self.e)
        return np.hypot(self.a, self.b) + (2 + span) * turned


def rising_roots(wave: Wave, span: float) -> tuple[Ints, Floats]:
    """Return the equations' numbers (k,) and the turns (k,) of all roots in [0, span].

    A root within 1e-9 before the start is given as 0. An equation that is
    nothing at every turn (two plumb edges at one radius) has none to give.
    """
    low = -1e-9
    bend = wave.bend(span + 1e-9)
    rows = np.flatnonzero((bend > 0) | (wave.c != 0) | (wave.g != 0))
    half = np.full(len(rows), (span - low) / 2)
    middle = np.full(len(rows), low) + half
    numbers: list[Ints] = []
    brackets: list[Floats] = []
    for _ in range(HALVINGS):
        part = wave.picked(rows)
        value, slope, most = part.value(middle), np.abs(part.slope(middle)), bend[rows]
        may = np.abs(value) <= slope * half + most * half * half / 2
        single = may & (slope > most * half)
        ends = np.stack([middle - half, middle + half], axis=1)[single]
        numbers.append(rows[single])
        brackets.append(ends)
        split = may & ~single
        rows, half = np.tile(rows[split], 2), np.tile(half[split] / 2, 2)
        step = half[: len(half) // 2]
        middle = np.concatenate([middle[split] - step, middle[split] + step])
        if len(rows) == 0:
            break
    found = np.concatenate(numbers)
    return _closed_in(wave.picked(found), found, np.concatenate(brackets))


def _closed_in(wave: Wave, numbers: Ints, ends: Floats) -> tuple[Ints, Floats]:
    """Return the roots of equations that are monotonic between their ends (k, 2), by halving."""
    low, high = ends[:, 0], ends[:, 1]
    at_low, at_high = wave.value(low), wave.value(high)
    rows = np.flatnonzero((at_low <= 0) != (at_high <= 0))
    wave, low, high, sign = wave.picked(rows), low[rows], high[rows], at_low[rows] <= 0
    for _ in range(CLOSINGS):
        middle = (low + high) / 2
        before = (wave.value(middle) <= 0) == sign
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    return numbers[rows], np.maximum((low + high) / 2, 0.0)


class Heights:
    """Corners of one set of solids over the faces of the other; one of the two turns.

    After a turn of ``t`` a corner stands ``A cos t + B sin t + C + G t`` over
    a face's plane; ``G`` is 0 where nothing rises.

    The ``kind`` is moving corners over fixed faces, or fixed corners under moving faces;
    ``sense`` which way they turn: +1 about the axis, right-handed, or -1.
    """

    def __init__(self, turning: Turning, kind: Kind, sense: float) -> None:
        self.corner_moves = kind is CORNER_MOVES
        sides = turning.movers, turning.rest
        corners, faces = sides if self.corner_moves else sides[::-1]
        self.sense = sense if self.corner_moves else -sense
        self.climb = self.sense * turning.rise
        self.corners, self.corner_owner = corners.corners, corners.corner_owner
        self.planes, self.face_owner = faces.planes, faces.face_owner

    def paired(self, first: Ints, second: Ints) -> tuple[Ints, Ints]:
        """Return pairs of a moving and a fixed one as corner and face, or the other way round."""
        return (first, second) if self.corner_moves else (second, first)

    def terms(self, corner: Ints, face: Ints) -> tuple[Floats, Floats, Floats, Floats]:
        """Return A, B, C and G (n,) of pairs of a corner and a face."""
        normals = self.planes.normals[face]
        return *self.over(corner, normals, self.planes.offsets[face]), self.climb * normals[:, 2]

    def over(self, corner: Ints, ways: Floats, offsets: Floats) -> tuple[Floats, Floats, Floats]:
        """Return A, B and C (n,) of corners along ways (n, 3) of the other's, past offsets (n,)."""
        x, y, z = self.corners[corner].T
        across, out, up = ways.T
        return across * x + out * y, self.sense * (out * x - across * y), up * z - offsets

    def inside(self, corner: Ints, face: Ints, turn: Floats, room: float) -> tuple[Ints, Floats]:
        """Return which pairs (k,) have the corner in its face, and where faces see it (k, 3)."""
        local = turned_about_z(self.corners[corner], self.sense * turn, self.climb * turn)
        planes = self.planes
        depth = np.einsum("ijk,ik->ij", planes.inward[face], local) - planes.borders[face]
        rows = np.flatnonzero((depth >= -room).all(axis=1))
        return rows, local[rows]


class CornerFace:
    """Corners of one set against faces of the other; one of the two turns."""

    def __init__(self, turning: Turning, kind: Kind, sense: float, room: float) -> None:
        self.kind, self.heights, self.room = kind, Heights(turning, kind, sense), room

    def touches(self, first: Ints, second: Ints, span: float) -> Touches:
        """Return the touches of pairs of a moving feature (n,) and a fixed one (n,) in a turn."""
        corner, face = self.heights.paired(first, second)
        a, b, c, g = self.heights.terms(corner, face)
        if self.heights.climb:
            none = np.zeros(len(a))
            return self._rising(corner, face, Wave(a, b, c, g, none, none), span)
        r = np.hypot(a, b)
        crossing = (np.abs(c) <= r + self.room) & (r - c > GRAZE_IN)
        sliding = (r <= self.room) & (np.abs(c) <= self.room)
        rows = np.flatnonzero(crossing & ~sliding)
        turn = turn_roots(a[rows], b[rows], c[rows], 1.0)
        soon = turn <= span + SAME_TURN_RAD
        rows, turn = rows[soon], turn[soon]
        touches = self._inside(corner[rows], face[rows], turn)
        if not sliding.any():
            return touches
        rows = np.flatnonzero(sliding)
        return Touches.joined([touches, *self._slides(corner[rows], face[rows])])

    def _rising(self, corner: Ints, face: Ints, wave: Wave, span: float) -> Touches:
        """Return the touches of a turn that rises: where a corner's height over a face falls."""
        number, turn = rising_roots(wave, span)
        met = wave.picked(number)
        slope = met.slope(turn)
        enters = (slope < 0) & (slope * slope > 2 * GRAZE_IN * np.hypot(met.a, met.b))
        number, turn = number[enters], turn[enters]
        return self._inside(corner[number], face[number], turn)

    def _inside(self, corner: Ints, face: Ints, turn: Floats) -> Touches:
        """Return the touches whose point lies within its face."""
        own = self.heights
        rows, local = own.inside(corner, face, turn, self.room)
        corner, face = corner[rows], face[rows]
        point = local if own.corner_moves else own.corners[corner]
        owners = own.paired(own.corner_owner[corner], own.face_owner[face])
        return Touches(turn[rows], point, *owners)

    def _slides(self, corner: Ints, face: Ints) -> Iterator[Touches]:
        """Yield touches of corners that move within a face's plane: where they cross its border."""
        own = self.heights
        yield self._inside(corner, face, np.zeros(len(corner)))
        for side in range(3):
            a, b, c = own.over(
                corner, own.planes.inward[face, side], own.planes.borders[face, side]
            )
            rows = np.flatnonzero(np.abs(c) <= np.hypot(a, b))
            turn = turn_roots(a[rows], b[rows], c[rows], -1.0)
            yield self._inside(corner[rows], face[rows], turn)


class EdgeEdge:
    """Moving convex edges against fixed convex edges."""

    kind = EDGES

    def __init__(self, turning: Turning, sense: float, room: float) -> None:
        self.mover, self.other = turning.movers.lines, turning.rest.lines
        self.owner, self.rest_owner = turning.owners(EDGES)
        self.room, self.sense, self.climb = room, sense, sense * turning.rise

    def touches(self, first: Ints, second: Ints, span: float) -> Touches:
        """Return the touches of pairs of a moving edge (n,) and a fixed one (n,) in a turn."""
        u, m = self.mover.along[first].T, self.mover.moment[first].T
        v, k = self.other.along[second].T, self.other.moment[second].T
        a = v[0] * m[0] + v[1] * m[1] + k[0] * u[0] + k[1] * u[1]
        b = self.sense * (v[1] * m[0] - v[0] * m[1] + k[1] * u[0] - k[0] * u[1])
        c = v[2] * m[2] + k[2] * u[2]
        if self.climb:
            return self._rising(first, second, Wave(a, b, c, *np.zeros((3, len(a)))), span)
        r = np.hypot(a, b)
        rows = np.flatnonzero((np.abs(c) < r) & (r > self.room))
        rows = np.concatenate([rows, rows])
        sign = np.ones(len(rows))
        sign[len(rows) // 2 :] = -1.0
        turn = turn_roots(a[rows], b[rows], c[rows], sign)
        soon = turn <= span + SAME_TURN_RAD
        rows, turn = rows[soon], turn[soon]
        return self._crossing(first[rows], second[rows], turn, r[rows] - np.abs(c[rows]))

    def _rising(self, first: Ints, second: Ints, level: Wave, span: float) -> Touches:
        """Return the touches of a turn that rises: its line product gains terms in the turn."""
        u, v = self.mover.along[first].T, self.other.along[second].T
        d = self.climb * (v[1] * u[0] - v[0] * u[1])
        e = -self.climb * self.sense * (v[0] * u[0] + v[1] * u[1])
        wave = replace(level, d=d, e=e)
        number, turn = rising_roots(wave, span)
        met = wave.picked(number)
        bend = np.maximum(met.bend(span), 1e-300)
        depth = met.slope(turn) ** 2 / (2 * bend)
        return self._crossing(first[number], second[number], turn, depth)

    def _crossing(self, first: Ints, second: Ints, turn: Floats, depth: Floats) -> Touches:
        """Return the touches that lie within both edges."""
        one, other = self.mover.picked(first), self.other.picked(second)
        p = turned_about_z(one.point, self.sense * turn, self.climb * turn)
        u = turned_about_z(one.along, self.sense * turn)
        q, v = other.point, other.along
        w = crossed(u, v)
        w2 = np.einsum("ij,ij->i", w, w)
        gap = q - p
        with np.errstate(invalid="ignore", divide="ignore"):
            on_u = np.einsum("ij,ij->i", crossed(gap, v), w) / w2
            on_v = np.einsum("ij,ij->i", crossed(gap, u), w) / w2
            deep = depth / np.sqrt(w2) > GRAZE_IN
        within = (
            (on_u >= -self.room)
            & (on_u <= one.length + self.room)
            & (on_v >= -self.room)
            & (on_v <= other.length + self.room)
            & deep
        )
        rows = np.flatnonzero(within)
        here = p[rows] + on_u[rows, None] * u[rows]
        there = q[rows] + on_v[rows, None] * v[rows]
        close = np.linalg.norm(here - there, axis=1) <= 100 * self.room
        rows = rows[close]
        owners = (self.owner[first[rows]], self.rest_owner[second[rows]])
        return Touches(turn[rows], here[close], *owners)
