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

A solid may also rise as it turns, by so much a radian: then each equation
gains terms in ``t`` (see :mod:`.pairs`).

With ``r = hypot(A, B)`` and ``S = sqrt((r - C)(r + C))`` the roots are
``cos t = (-A C -+ B S) / r^2``, ``sin t = (-B C +- A S) / r^2``; the upper
signs are the root at which the function falls through zero. Derived from the
rotation matrix; the line product is in any text on Pluecker coordinates.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.booleans import gap_between
from swingcheck.geometry.features import Features, solid_of
from swingcheck.geometry.frames import turn_about_z
from swingcheck.geometry.pairs import SAME_TURN_RAD, CornerFace, EdgeEdge, Touches, first_of
from swingcheck.geometry.solid import Bools, Floats, Ints, Solid
from swingcheck.geometry.sweep import candidate_pairs
from swingcheck.geometry.turning import CORNER_MOVES, FACE_MOVES, Kind, Turning, turning_about

ROOM_SHARE = 1e-11  # of the scene's size: how far outside a face or an edge still counts as on it
NUDGE_RAD = 1e-4  # radians: a touch at the start is looked at again after this much of the turn
PAIRS_AT_A_TIME = 32768  # candidate pairs solved at a time


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


def first_contact(
    moving: Sequence[Solid | Features],
    fixed: Sequence[Solid | Features],
    *,
    point: Floats,
    direction: Floats,
    start: float,
    stop: float,
    rise: float = 0.0,
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
    rise : float, optional
        How far the moving solids climb along ``direction`` as they turn,
        inches a radian; they stand as given at angle 0.

    Returns
    -------
    Contact or None
        ``None`` when nothing is touched on the way.
    """
    if not moving or not fixed:
        return None
    turning = turning_about(moving, fixed, point=point, direction=direction, start=start, rise=rise)
    return first_contact_of(turning, stop)


def first_contact_of(turning: Turning, stop: float) -> Contact | None:
    """Return the first contact of what turns from its start toward ``stop``, radians.

    See :func:`first_contact`.
    """
    sense = 1.0 if stop >= turning.start else -1.0
    span = abs(stop - turning.start)
    size = max(np.abs(each.own.points).max() for each in (turning.movers, turning.rest))
    found = _earliest(turning, sense, span, ROOM_SHARE * size)
    if found is None:
        return None
    turn = float(found.turn.min())
    order = np.lexsort((found.moving, found.fixed))
    hit = order[0]
    same = (found.moving == found.moving[hit]) & (found.fixed == found.fixed[hit])
    others = sorted(set(found.fixed.tolist()) - {int(found.fixed[hit])})
    return Contact(
        angle=turning.start + sense * min(max(turn, 0.0), span),
        moving=int(found.moving[hit]),
        fixed=int(found.fixed[hit]),
        points=turning.own_frame(found.point[same]),
        others=tuple(others),
    )


def _earliest(turning: Turning, sense: float, span: float, room: float) -> Touches | None:
    """Return every touch within ``SAME_TURN_RAD`` of the first one, or None."""
    searches = (
        CornerFace(turning, CORNER_MOVES, sense, room),
        CornerFace(turning, FACE_MOVES, sense, room),
        EdgeEdge(turning, sense, room),
    )
    start = _Start(turning, room, sense)
    best = span
    kept: list[Touches] = []
    for search in searches:
        for first, second in _chunks(turning, search.kind, room, sense, best):
            touches = start.kept(search.touches(first, second, best))
            touches = touches.picked(touches.turn <= best + SAME_TURN_RAD)
            if len(touches.turn):
                best = min(best, float(touches.turn.min()))
                kept.append(touches)
    return first_of(kept, best)


def _chunks(
    turning: Turning, kind: Kind, room: float, sense: float, best: float
) -> Iterator[tuple[Ints, Ints]]:
    """Yield the pairs of a kind that can meet within a turn of ``best``, by lots, soonest first."""
    mover, rest = turning.sweeps(kind)
    climbing = mover.climbing(sense * turning.rise * best)
    first, second, earliest = candidate_pairs(climbing, rest, room, sense * best)
    rows = np.arange(len(first))
    if len(rows) > PAIRS_AT_A_TIME:
        rows = np.argsort(earliest, kind="stable")
    for low in range(0, len(rows), PAIRS_AT_A_TIME):
        chunk = rows[low : low + PAIRS_AT_A_TIME]
        yield first[chunk], second[chunk]


class _Start:
    """Tells touches at the start that last from those between solids that come apart.

    A corner on the border of a face may pass its plane inward and still leave
    the solid, over another face; so it is the two solids, not the features,
    that are looked at again a little later.
    """

    def __init__(self, turning: Turning, room: float, sense: float) -> None:
        self.turning, self.room, self.nudge = turning, room, sense * NUDGE_RAD
        self.known: dict[tuple[int, int], bool] = {}

    def kept(self, touches: Touches) -> Touches:
        """Return the touches without those at the start between solids that come apart."""
        early = np.flatnonzero(touches.turn <= SAME_TURN_RAD)
        keep: Bools = np.ones(len(touches.turn), dtype=bool)
        pairs = zip(touches.moving[early].tolist(), touches.fixed[early].tolist(), strict=True)
        keep[early] = [self._lasts(moving, fixed) for moving, fixed in pairs]
        return touches.picked(keep)

    def _lasts(self, moving: int, fixed: int) -> bool:
        if (moving, fixed) not in self.known:
            lift = np.array([0.0, 0.0, self.turning.rise * self.nudge])
            mover = solid_of(self.turning.movers.own, moving)
            mover = mover.moved(turn_about_z(self.nudge), lift)
            gap = gap_between(mover, solid_of(self.turning.rest.own, fixed), within=1.0)
            self.known[moving, fixed] = gap <= self.room
        return self.known[moving, fixed]
