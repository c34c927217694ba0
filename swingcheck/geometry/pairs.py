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
from swingcheck.geometry.risingroots import Wave, rising_roots
from swingcheck.geometry.solid import Bools, Floats, Ints

SAME = 1e-9  # radians: contacts this close together are one
GRAZE = 1e-6  # inches: a touch that never gets deeper than this is no contact


@dataclass(frozen=True, slots=True, eq=False)
class Touches:
    """Candidate contacts: turn (n,), point (n, 3), and the two owners (n,)."""

    turn: Floats
    point: Floats
    moving: Ints
    fixed: Ints


def picked(touches: Touches, rows: Bools) -> Touches:
    """Return some of the touches."""
    return Touches(
        touches.turn[rows], touches.point[rows], touches.moving[rows], touches.fixed[rows]
    )


def first_of(kept: list[Touches], best: float) -> Touches | None:
    """Return those of several lots of touches that come within ``SAME`` of the turn ``best``."""
    if not kept:
        return None
    everything = Touches(
        np.concatenate([k.turn for k in kept]),
        np.concatenate([k.point for k in kept]),
        np.concatenate([k.moving for k in kept]),
        np.concatenate([k.fixed for k in kept]),
    )
    return picked(everything, everything.turn <= best + SAME)


def turn_roots(a: Floats, b: Floats, c: Floats, sign: float) -> Floats:
    """Return the root in [0, 2 pi) of ``a cos t + b sin t + c = 0``.

    Where ``c`` is out of reach (``|c| > hypot(a, b)``) it is the turn that
    comes closest: leave such rows out unless they are so by rounding. ``sign``
    +1 gives the root at which the function falls, -1 the one at which it
    rises. A turn less than ``SAME`` short of a whole one is a turn of 0: the
    root was passed by no more than rounding.
    """
    r = np.hypot(a, b)
    s = sign * np.sqrt(np.maximum((r - c) * (r + c), 0.0))
    turn = np.arctan2(-b * c + a * s, -a * c - b * s)
    turn = np.where(turn < -SAME, turn + 2 * np.pi, np.maximum(turn, 0.0))
    return np.where(turn > 2 * np.pi - SAME, 0.0, turn)


def turned_about_z(points: Floats, turn: Floats, lift: Floats | float = 0.0) -> Floats:
    """Return points (n, 3), each turned about z by its own turn (n,) and lifted along it."""
    cos, sin = np.cos(turn), np.sin(turn)
    x, y = points[:, 0], points[:, 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y, points[:, 2] + lift], axis=1)


class CornerFace:
    """Corners of one set against faces of the other; one of the two turns."""

    def __init__(
        self,
        corners: Features,
        faces: Features,
        room: float,
        *,
        corner_moves: bool,
        span: float,
        rise: float,
    ) -> None:
        self.corners, self.corner_owner = corners.corners, corners.corner_owner
        points = faces.faces
        self.face_owner = faces.face_owner
        across = np.cross(points[:, 1] - points[:, 0], points[:, 2] - points[:, 0])
        self.normals = across / np.linalg.norm(across, axis=1)[:, None]
        self.offsets = np.einsum("ij,ij->i", self.normals, points.mean(axis=1))
        sides = np.roll(points, -1, axis=1) - points
        sides /= np.linalg.norm(sides, axis=2)[:, :, None]
        self.inward = np.cross(self.normals[:, None, :], sides)
        self.borders = np.einsum("ijk,ijk->ij", self.inward, points)
        self.room, self.corner_moves = room, corner_moves
        self.sense = 1.0 if corner_moves else -1.0
        self.span, self.rise = span, rise

    def __call__(self, first: Ints, second: Ints) -> Touches:
        """Return the touches of pairs of a moving feature (n,) and a fixed one (n,)."""
        corner, face = (first, second) if self.corner_moves else (second, first)
        p, n = self.corners[corner], self.normals[face]
        a = n[:, 0] * p[:, 0] + n[:, 1] * p[:, 1]
        b = self.sense * (n[:, 1] * p[:, 0] - n[:, 0] * p[:, 1])
        c = n[:, 2] * p[:, 2] - self.offsets[face]
        if self.rise:
            return self._rising(corner, face, a, b, c)
        r = np.hypot(a, b)
        crossing = (np.abs(c) <= r + self.room) & (r - c > GRAZE)
        sliding = (r <= self.room) & (np.abs(c) <= self.room)
        rows = np.flatnonzero(crossing & ~sliding)
        turn = turn_roots(a[rows], b[rows], c[rows], 1.0)
        touches = self._inside(corner[rows], face[rows], turn)
        if not sliding.any():
            return touches
        rows = np.flatnonzero(sliding)
        slid = [touches, *self._slides(corner[rows], face[rows])]
        found = first_of(slid, np.inf)
        assert found is not None
        return found

    def _rising(self, corner: Ints, face: Ints, a: Floats, b: Floats, c: Floats) -> Touches:
        """Return the touches of a turn that rises: where a corner's height over a face falls."""
        none = np.zeros(len(a))
        climb = self.sense * self.rise * self.normals[face, 2]
        wave = Wave(a, b, c, climb, none, none)
        number, turn = rising_roots(wave, self.span)
        met = wave.picked(number)
        slope = met.slope(turn)
        enters = (slope < 0) & (slope * slope > 2 * GRAZE * np.hypot(met.a, met.b))
        number, turn = number[enters], turn[enters]
        return self._inside(corner[number], face[number], turn)

    def _inside(self, corner: Ints, face: Ints, turn: Floats) -> Touches:
        """Return the touches whose point lies within its face."""
        corners = self.corners[corner]
        lift = self.sense * self.rise * turn
        local = turned_about_z(corners, self.sense * turn, lift)
        depth = np.einsum("ijk,ik->ij", self.inward[face], local) - self.borders[face]
        rows = np.flatnonzero((depth >= -self.room).all(axis=1))
        corner, face, turn = corner[rows], face[rows], turn[rows]
        point = local[rows] if self.corner_moves else self.corners[corner]
        owners = (self.corner_owner[corner], self.face_owner[face])
        moving, fixed = owners if self.corner_moves else owners[::-1]
        return Touches(turn, point, moving, fixed)

    def _slides(self, corner: Ints, face: Ints) -> Iterator[Touches]:
        """Yield touches of corners that move within a face's plane: where they cross its border."""
        yield self._inside(corner, face, np.zeros(len(corner)))
        p = self.corners[corner]
        for side in range(3):
            g = self.inward[face, side]
            a = g[:, 0] * p[:, 0] + g[:, 1] * p[:, 1]
            b = self.sense * (g[:, 1] * p[:, 0] - g[:, 0] * p[:, 1])
            c = g[:, 2] * p[:, 2] - self.borders[face, side]
            rows = np.flatnonzero(np.abs(c) <= np.hypot(a, b))
            turn = turn_roots(a[rows], b[rows], c[rows], -1.0)
            yield self._inside(corner[rows], face[rows], turn)


class EdgeEdge:
    """Moving convex edges against fixed convex edges."""

    def __init__(
        self, movers: Features, rest: Features, room: float, *, span: float, rise: float
    ) -> None:
        self.span, self.rise = span, rise
        self.p, self.u, self.u_length = _lines(movers.edges)
        self.q, self.v, self.v_length = _lines(rest.edges)
        self.m = np.cross(self.p, self.u)
        self.k = np.cross(self.q, self.v)
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
        w = np.cross(u, v)
        w2 = np.einsum("ij,ij->i", w, w)
        gap = q - p
        with np.errstate(invalid="ignore", divide="ignore"):
            on_u = np.einsum("ij,ij->i", np.cross(gap, v), w) / w2
            on_v = np.einsum("ij,ij->i", np.cross(gap, u), w) / w2
            deep = depth / np.sqrt(w2) > GRAZE
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
