"""The exact angle at which a solid turning about a fixed line first touches another.

With the line on z, a point ``p`` of the moving solid is at ``R(t) p`` after a
turn of ``t``. A contact between triangle meshes that were apart begins in one
of three ways, and each is one equation ``A cos t + B sin t + C = 0``:

- a moving corner meets a fixed face (unit normal ``n``, offset ``d``):
  ``n . R p = d``;
- a fixed corner meets a moving face: the same with the turn reversed;
- a moving edge (``p``, direction ``u``, moment ``m = p x u``) meets a fixed
  edge (``q``, ``v``, ``k = q x v``): ``v . R m + k . R u = 0``, the reciprocal
  product of two lines.

With ``r = hypot(A, B)`` and ``S = sqrt((r - C)(r + C))`` the roots are
``cos t = (-A C -+ B S) / r^2``, ``sin t = (-B C +- A S) / r^2``; the upper
signs are the root at which the function falls through zero. Derived from the
rotation matrix; the line product is in any text on Pluecker coordinates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.booleans import gap_between
from swingcheck.geometry.features import Features, features, joined_features, solid_of
from swingcheck.geometry.frames import axis_frame, turn_about_z
from swingcheck.geometry.solid import Bools, Floats, Ints, Solid
from swingcheck.geometry.sweep import Sweep, candidate_pairs, corner_sweep, edge_sweep, face_sweep

ROOM = 1e-11  # of the scene's size: how far outside a face or an edge still counts as on it
SAME = 1e-9  # radians: contacts this close together are one
NUDGE = 1e-4  # radians: a touch at the start is looked at again after this much of the turn
GRAZE = 1e-6  # inches: a touch that never gets deeper than this is no contact
CHUNK = 8192  # candidate pairs solved at a time


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Contact:
    """A first contact.

    ``angle`` is radians about the axis; ``moving`` and ``fixed`` the indices
    of the two solids; ``points`` (k, 3) all the places where those two touch
    at that angle; ``others`` the indices of further fixed solids that are
    touched at the same angle.
    """

    angle: float
    moving: int
    fixed: int
    points: Floats
    others: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class _Touches:
    """Candidate contacts: turn (n,), point (n, 3), and the two owners (n,)."""

    turn: Floats
    point: Floats
    moving: Ints
    fixed: Ints


def first_contact(
    moving: Sequence[Solid | Features],
    fixed: Sequence[Solid | Features],
    *,
    point: Floats,
    direction: Floats,
    start: float,
    stop: float,
) -> Contact | None:
    """Return the first contact as ``moving`` turns from ``start`` toward ``stop``.

    Parameters
    ----------
    moving, fixed : sequence of Solid or Features
        Closed, outward-facing solids in one frame, inches; the moving ones as
        they stand at angle 0. They must be apart at ``start``, touching
        allowed: a touch there counts only if the turn presses it closer or
        drags it along, not if the two solids come apart.
    point, direction : (3,) float64
        A point on the turning axis, and its unit direction.
    start, stop : float
        Radians about ``direction``, right-handed; at most one whole turn.

    Returns
    -------
    Contact or None
        ``None`` when nothing is touched on the way.
    """
    if not moving or not fixed:
        return None
    sense = 1.0 if stop >= start else -1.0
    span = abs(stop - start)
    rotation, shift = axis_frame(point, sense * np.asarray(direction, dtype=np.float64))
    movers = _joined(moving).moved(rotation, shift)
    movers = movers.moved(turn_about_z(sense * start), np.zeros(3))
    rest = _joined(fixed).moved(rotation, shift)
    size = max(np.abs(movers.faces).max(), np.abs(rest.faces).max())
    found = _earliest(movers, rest, span, ROOM * size)
    if found is None:
        return None
    return _contact(found, start, sense, span, rotation, shift)


def _joined(parts: Sequence[Solid | Features]) -> Features:
    return joined_features([p if isinstance(p, Features) else features(p) for p in parts])


def _contact(
    found: _Touches, start: float, sense: float, span: float, rotation: Floats, shift: Floats
) -> Contact:
    turn = float(found.turn.min())
    order = np.lexsort((found.moving, found.fixed))
    hit = order[0]
    same = (found.moving == found.moving[hit]) & (found.fixed == found.fixed[hit])
    others = sorted(set(found.fixed.tolist()) - {int(found.fixed[hit])})
    return Contact(
        angle=start + sense * min(max(turn, 0.0), span),
        moving=int(found.moving[hit]),
        fixed=int(found.fixed[hit]),
        points=(found.point[same] - shift) @ rotation,
        others=tuple(others),
    )


def _earliest(movers: Features, rest: Features, span: float, room: float) -> _Touches | None:
    """Return every touch within ``SAME`` of the first one, or None."""
    corner_face = _CornerFace(movers, rest, room, corner_moves=True)
    face_corner = _CornerFace(rest, movers, room, corner_moves=False)
    edge_edge = _EdgeEdge(movers, rest, room)
    searches: list[tuple[Sweep, Sweep, Callable[[Ints, Ints], _Touches]]] = [
        (corner_sweep(movers.corners), face_sweep(rest.faces), corner_face),
        (face_sweep(movers.faces), corner_sweep(rest.corners), face_corner),
        (edge_sweep(movers.edges), edge_sweep(rest.edges), edge_edge),
    ]
    start = _Start(movers, rest, room)
    best = span
    kept: list[_Touches] = []
    for mover_sweep, rest_sweep, solve in searches:
        for touches in _solved(mover_sweep, rest_sweep, room, best, solve, start):
            if len(touches.turn):
                best = min(best, float(touches.turn.min()))
                kept.append(touches)
    return _first_of(kept, best)


def _solved(
    mover: Sweep,
    rest: Sweep,
    room: float,
    span: float,
    solve: Callable[[Ints, Ints], _Touches],
    start: _Start,
) -> Iterator[_Touches]:
    """Yield the touches of candidate pairs, chunk by chunk, until none can come earlier."""
    first, second, earliest = candidate_pairs(mover, rest, room, span)
    order = np.argsort(earliest, kind="stable")
    best = span
    for low in range(0, len(order), CHUNK):
        chunk = order[low : low + CHUNK]
        if earliest[chunk[0]] > best + SAME:
            return
        touches = start.kept(solve(first[chunk], second[chunk]))
        soon = touches.turn <= best + SAME
        touches = _picked(touches, soon)
        if len(touches.turn):
            best = min(best, float(touches.turn.min()))
        yield touches


def _picked(touches: _Touches, rows: Bools) -> _Touches:
    return _Touches(
        touches.turn[rows], touches.point[rows], touches.moving[rows], touches.fixed[rows]
    )


def _first_of(kept: list[_Touches], best: float) -> _Touches | None:
    if not kept:
        return None
    everything = _Touches(
        np.concatenate([k.turn for k in kept]),
        np.concatenate([k.point for k in kept]),
        np.concatenate([k.moving for k in kept]),
        np.concatenate([k.fixed for k in kept]),
    )
    return _picked(everything, everything.turn <= best + SAME)


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


def _turned(points: Floats, turn: Floats) -> Floats:
    cos, sin = np.cos(turn), np.sin(turn)
    x, y = points[:, 0], points[:, 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y, points[:, 2]], axis=1)


class _Start:
    """Tells touches at the start that last from those between solids that come apart.

    A corner on the border of a face may pass its plane inward and still leave
    the solid, over another face; so it is the two solids, not the features,
    that are looked at again a little later.
    """

    def __init__(self, movers: Features, rest: Features, room: float) -> None:
        self.movers, self.rest, self.room = movers, rest, room
        self.known: dict[tuple[int, int], bool] = {}

    def kept(self, touches: _Touches) -> _Touches:
        """Return the touches without those at the start between solids that come apart."""
        early = np.flatnonzero(touches.turn <= SAME)
        keep: Bools = np.ones(len(touches.turn), dtype=bool)
        pairs = zip(touches.moving[early].tolist(), touches.fixed[early].tolist(), strict=True)
        keep[early] = [self._lasts(moving, fixed) for moving, fixed in pairs]
        return _picked(touches, keep)

    def _lasts(self, moving: int, fixed: int) -> bool:
        if (moving, fixed) not in self.known:
            mover = solid_of(self.movers, moving).moved(turn_about_z(NUDGE), np.zeros(3))
            gap = gap_between(mover, solid_of(self.rest, fixed), within=1.0)
            self.known[moving, fixed] = gap <= self.room
        return self.known[moving, fixed]


class _CornerFace:
    """Corners of one set against faces of the other; one of the two turns."""

    def __init__(
        self, corners: Features, faces: Features, room: float, *, corner_moves: bool
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

    def __call__(self, first: Ints, second: Ints) -> _Touches:
        corner, face = (first, second) if self.corner_moves else (second, first)
        p, n = self.corners[corner], self.normals[face]
        a = n[:, 0] * p[:, 0] + n[:, 1] * p[:, 1]
        b = self.sense * (n[:, 1] * p[:, 0] - n[:, 0] * p[:, 1])
        c = n[:, 2] * p[:, 2] - self.offsets[face]
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
        found = _first_of(slid, np.inf)
        assert found is not None
        return found

    def _inside(self, corner: Ints, face: Ints, turn: Floats) -> _Touches:
        """Return the touches whose point lies within its face."""
        local = _turned(self.corners[corner], self.sense * turn)
        depth = np.einsum("ijk,ik->ij", self.inward[face], local) - self.borders[face]
        rows = np.flatnonzero((depth >= -self.room).all(axis=1))
        corner, face, turn = corner[rows], face[rows], turn[rows]
        point = local[rows] if self.corner_moves else self.corners[corner]
        owners = (self.corner_owner[corner], self.face_owner[face])
        moving, fixed = owners if self.corner_moves else owners[::-1]
        return _Touches(turn, point, moving, fixed)

    def _slides(self, corner: Ints, face: Ints) -> Iterator[_Touches]:
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


class _EdgeEdge:
    """Moving convex edges against fixed convex edges."""

    def __init__(self, movers: Features, rest: Features, room: float) -> None:
        self.p, self.u, self.u_length = _lines(movers.edges)
        self.q, self.v, self.v_length = _lines(rest.edges)
        self.m = np.cross(self.p, self.u)
        self.k = np.cross(self.q, self.v)
        self.owner, self.rest_owner = movers.edge_owner, rest.edge_owner
        self.room = room

    def __call__(self, first: Ints, second: Ints) -> _Touches:
        u, m = self.u[first], self.m[first]
        v, k = self.v[second], self.k[second]
        a = v[:, 0] * m[:, 0] + v[:, 1] * m[:, 1] + k[:, 0] * u[:, 0] + k[:, 1] * u[:, 1]
        b = v[:, 1] * m[:, 0] - v[:, 0] * m[:, 1] + k[:, 1] * u[:, 0] - k[:, 0] * u[:, 1]
        c = v[:, 2] * m[:, 2] + k[:, 2] * u[:, 2]
        r = np.hypot(a, b)
        rows = np.flatnonzero((np.abs(c) < r) & (r > self.room))
        depth = (r - np.abs(c))[rows]
        first, second = np.tile(first[rows], 2), np.tile(second[rows], 2)
        falling = turn_roots(a[rows], b[rows], c[rows], 1.0)
        rising = turn_roots(a[rows], b[rows], c[rows], -1.0)
        return self._crossing(first, second, np.concatenate([falling, rising]), np.tile(depth, 2))

    def _crossing(self, first: Ints, second: Ints, turn: Floats, depth: Floats) -> _Touches:
        """Return the touches that lie within both edges."""
        p, u = _turned(self.p[first], turn), _turned(self.u[first], turn)
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
        return _Touches(turn[rows], here[close], *owners)


def _lines(edges: Floats) -> tuple[Floats, Floats, Floats]:
    along = edges[:, 1] - edges[:, 0]
    length = np.linalg.norm(along, axis=1)
    return edges[:, 0], along / length[:, None], length
