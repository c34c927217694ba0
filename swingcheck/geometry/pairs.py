"""Pairs of features of turning and fixed solids: where each pair touches.

Everything stands in the axis's frame: the turn is about z, and by ``rise``
inches a radian along it (0 for a plain hinge, not for a rising one). A corner
and a face, or two edges, are in touch where

    A cos t + B sin t + C + t (G + D cos t + E sin t) = 0

with ``G``, ``D`` and ``E`` all 0 where nothing rises. Then the roots are
closed form; with a rise they are isolated and closed in on (see
:mod:`.risingroots`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.features import Features
from swingcheck.geometry.frames import turned_about_z
from swingcheck.geometry.heights import Heights
from swingcheck.geometry.risingroots import Wave, rising_roots
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Floats, Ints, crossed
from swingcheck.geometry.sweep import edge_sweep

SAME_TURN_RAD = 1e-9  # radians: contacts this close together are one
GRAZE_IN = 1e-6  # inches: a touch that never gets deeper than this is no contact


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


def turn_roots(a: Floats, b: Floats, c: Floats, sign: float) -> Floats:
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


class CornerFace:
    """Corners of one set against faces of the other; one of the two turns."""

    def __init__(
        self,
        movers: Features,
        rest: Features,
        room: float,
        *,
        corner_moves: bool,
        span: float,
        rise: float,
    ) -> None:
        self.heights = Heights(movers, rest, corner_moves=corner_moves, rise=rise)
        self.sweeps = self.heights.sweeps()
        self.room, self.span, self.rise = room, span, rise

    def __call__(self, first: Ints, second: Ints) -> Touches:
        """Return the touches of pairs of a moving feature (n,) and a fixed one (n,)."""
        corner, face = self.heights.paired(first, second)
        a, b, c, g = self.heights.terms(corner, face)
        if self.rise:
            return self._rising(corner, face, Wave(a, b, c, g, np.zeros(len(a)), np.zeros(len(a))))
        r = np.hypot(a, b)
        crossing = (np.abs(c) <= r + self.room) & (r - c > GRAZE_IN)
        sliding = (r <= self.room) & (np.abs(c) <= self.room)
        rows = np.flatnonzero(crossing & ~sliding)
        turn = turn_roots(a[rows], b[rows], c[rows], 1.0)
        touches = self._inside(corner[rows], face[rows], turn)
        if not sliding.any():
            return touches
        rows = np.flatnonzero(sliding)
        return Touches.joined([touches, *self._slides(corner[rows], face[rows])])

    def _rising(self, corner: Ints, face: Ints, wave: Wave) -> Touches:
        """Return the touches of a turn that rises: where a corner's height over a face falls."""
        number, turn = rising_roots(wave, self.span)
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
            a, b, c = own.over(corner, own.inward[face, side], own.borders[face, side])
            rows = np.flatnonzero(np.abs(c) <= np.hypot(a, b))
            turn = turn_roots(a[rows], b[rows], c[rows], -1.0)
            yield self._inside(corner[rows], face[rows], turn)


class EdgeEdge:
    """Moving convex edges against fixed convex edges."""

    def __init__(
        self, movers: Features, rest: Features, room: float, *, span: float, rise: float
    ) -> None:
        self.sweeps = edge_sweep(movers.edges), edge_sweep(rest.edges)
        self.span, self.rise = span, rise
        self.p, self.u, self.u_length = _lines(movers.edges)
        self.q, self.v, self.v_length = _lines(rest.edges)
        self.m = crossed(self.p, self.u)
        self.k = crossed(self.q, self.v)
        self.owner, self.rest_owner = movers.edge_owner, rest.edge_owner
        self.room = room

    def __call__(self, first: Ints, second: Ints) -> Touches:
        """Return the touches of pairs of a moving edge (n,) and a fixed one (n,)."""
        u, m = self.u[first], self.m[first]
        v, k = self.v[second], self.k[second]
        a = v[:, 0] * m[:, 0] + v[:, 1] * m[:, 1] + k[:, 0] * u[:, 0] + k[:, 1] * u[:, 1]
        b = v[:, 1] * m[:, 0] - v[:, 0] * m[:, 1] + k[:, 1] * u[:, 0] - k[:, 0] * u[:, 1]
        c = v[:, 2] * m[:, 2] + k[:, 2] * u[:, 2]
        if self.rise:
            return self._rising(first, second, a, b, c)
        r = np.hypot(a, b)
        rows = np.flatnonzero((np.abs(c) < r) & (r > self.room))
        depth = (r - np.abs(c))[rows]
        first, second = np.tile(first[rows], 2), np.tile(second[rows], 2)
        falling = turn_roots(a[rows], b[rows], c[rows], 1.0)
        rising = turn_roots(a[rows], b[rows], c[rows], -1.0)
        return self._crossing(first, second, np.concatenate([falling, rising]), np.tile(depth, 2))

    def _rising(self, first: Ints, second: Ints, a: Floats, b: Floats, c: Floats) -> Touches:
        """Return the touches of a turn that rises: its line product gains terms in the turn."""
        u, v = self.u[first], self.v[second]
        d = self.rise * (v[:, 1] * u[:, 0] - v[:, 0] * u[:, 1])
        e = -self.rise * (v[:, 0] * u[:, 0] + v[:, 1] * u[:, 1])
        wave = Wave(a, b, c, np.zeros(len(a)), d, e)
        number, turn = rising_roots(wave, self.span)
        met = wave.picked(number)
        bend = np.maximum(met.bend(self.span), 1e-300)
        depth = met.slope(turn) ** 2 / (2 * bend)
        return self._crossing(first[number], second[number], turn, depth)

    def _crossing(self, first: Ints, second: Ints, turn: Floats, depth: Floats) -> Touches:
        """Return the touches that lie within both edges."""
        p = turned_about_z(self.p[first], turn, self.rise * turn)
        u = turned_about_z(self.u[first], turn)
        q, v = self.q[second], self.v[second]
        w = crossed(u, v)
        w2 = np.einsum("ij,ij->i", w, w)
        gap = q - p
        with np.errstate(invalid="ignore", divide="ignore"):
            on_u = np.einsum("ij,ij->i", crossed(gap, v), w) / w2
            on_v = np.einsum("ij,ij->i", crossed(gap, u), w) / w2
            deep = depth / np.sqrt(w2) > GRAZE_IN
        within = (
            (on_u >= -self.room)
            & (on_u <= self.u_length[first] + self.room)
            & (on_v >= -self.room)
            & (on_v <= self.v_length[second] + self.room)
            & deep
        )
        rows = np.flatnonzero(within)
        here = p[rows] + on_u[rows, None] * u[rows]
        there = q[rows] + on_v[rows, None] * v[rows]
        close = np.linalg.norm(here - there, axis=1) <= 100 * self.room
        rows = rows[close]
        owners = (self.owner[first[rows]], self.rest_owner[second[rows]])
        return Touches(turn[rows], here[close], *owners)


def _lines(edges: Floats) -> tuple[Floats, Floats, Floats]:
    along = edges[:, 1] - edges[:, 0]
    length = np.linalg.norm(along, axis=1)
    return edges[:, 0], along / length[:, None], length
