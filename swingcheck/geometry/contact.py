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
from swingcheck.geometry.features import AboutAxis, Features, about_axis, solid_of
from swingcheck.geometry.frames import turn_about_z
from swingcheck.geometry.pairs import SAME_TURN_RAD, CornerFace, EdgeEdge, Touches, first_of
from swingcheck.geometry.solid import Bools, Floats, Solid
from swingcheck.geometry.sweep import candidate_pairs

ROOM_SHARE = 1e-11  # of the scene's size: how far outside a face or an edge still counts as on it
NUDGE_RAD = 1e-4  # radians: a touch at the start is looked at again after this much of the turn
PAIRS_AT_A_TIME = 8192  # candidate pairs solved at a time


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
    about = about_axis(
        moving, fixed, point=point, direction=direction, start=start, stop=stop, rise=rise
    )
    size = max(np.abs(about.movers.faces).max(), np.abs(about.rest.faces).max())
    found = _earliest(about.movers, about.rest, about.span, ROOM_SHARE * size, rise)
    if found is None:
        return None
    return _contact(found, about, start)


def _contact(found: Touches, about: AboutAxis, start: float) -> Contact:
    turn = float(found.turn.min())
    order = np.lexsort((found.moving, found.fixed))
    hit = order[0]
    same = (found.moving == found.moving[hit]) & (found.fixed == found.fixed[hit])
    others = sorted(set(found.fixed.tolist()) - {int(found.fixed[hit])})
    return Contact(
        angle=start + about.sense * min(max(turn, 0.0), about.span),
        moving=int(found.moving[hit]),
        fixed=int(found.fixed[hit]),
        points=(found.point[same] - about.shift) @ about.rotation,
        others=tuple(others),
    )


def _earliest(
    movers: Features, rest: Features, span: float, room: float, rise: float
) -> Touches | None:
    """Return every touch within ``SAME_TURN_RAD`` of the first one, or None."""
    searches = (
        CornerFace(movers, rest, room, corner_moves=True, span=span, rise=rise),
        CornerFace(movers, rest, room, corner_moves=False, span=span, rise=rise),
        EdgeEdge(movers, rest, room, span=span, rise=rise),
    )
    start = _Start(movers, rest, room, rise)
    best = span
    kept: list[Touches] = []
    for search in searches:
        for touches in _solved(search, room, best, rise * span, start):
            if len(touches.turn):
                best = min(best, float(touches.turn.min()))
                kept.append(touches)
    return first_of(kept, best)


def _solved(
    search: CornerFace | EdgeEdge, room: float, span: float, climb: float, start: _Start
) -> Iterator[Touches]:
    """Yield the touches of candidate pairs, chunk by chunk, until none can come earlier."""
    mover, rest = search.sweeps
    first, second, earliest = candidate_pairs(mover.climbing(climb), rest, room, span)
    order = np.argsort(earliest, kind="stable")
    best = span
    for low in range(0, len(order), PAIRS_AT_A_TIME):
        chunk = order[low : low + PAIRS_AT_A_TIME]
        if earliest[chunk[0]] > best + SAME_TURN_RAD:
            return
        touches = start.kept(search(first[chunk], second[chunk]))
        touches = touches.picked(touches.turn <= best + SAME_TURN_RAD)
        if len(touches.turn):
            best = min(best, float(touches.turn.min()))
        yield touches


class _Start:
    """Tells touches at the start that last from those between solids that come apart.

    A corner on the border of a face may pass its plane inward and still leave
    the solid, over another face; so it is the two solids, not the features,
    that are looked at again a little later.
    """

    def __init__(self, movers: Features, rest: Features, room: float, rise: float) -> None:
        self.movers, self.rest, self.room, self.rise = movers, rest, room, rise
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
            mover = solid_of(self.movers, moving).moved(
                turn_about_z(NUDGE_RAD), np.array([0.0, 0.0, self.rise * NUDGE_RAD])
            )
            gap = gap_between(mover, solid_of(self.rest, fixed), within=1.0)
            self.known[moving, fixed] = gap <= self.room
        return self.known[moving, fixed]
