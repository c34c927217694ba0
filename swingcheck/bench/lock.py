"""Where the lock goes: bores and latch face on the slab, the strike on the leg.

On a bevelled edge the backset is at mid-thickness: from the wide face's arris
it is ``T / 2 tan(bevel)`` more, from the narrow face's as much less. That is
the convention of the published lock preparations (ANSI/BHMA A156.115), from
memory; the arithmetic is exact. The latch runs level, square to the slab's
edge as it was before it was bevelled.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import cos, tan

from swingcheck.assembly.slab import bore_centre
from swingcheck.model import Edge, Lock, Scene
from swingcheck.swing.latch import StrikePlace, bolts, strike_place

MOST_REVEAL_IN = 1 / 8
"""The most between latch face and strike, inches: read in a secondary text only."""

LEAST_HOLD_IN = 1 / 4
"""The least a bolt stands into its strike, inches. Common practice, no source."""

_NOTHING_IN = 1e-9


class LockConcern(Enum):
    """What is wrong where a bolt meets its strike, or a bore its slab."""

    MISSES = "the {name} does not reach its strike: it throws {throw} and the gap is {gap}"
    SHALLOW = "the {name} stands only {hold} into its strike"
    REVEAL = (
        "the gap from the edge to the {name}'s strike is {gap}, over 1/8 in: close the strike"
        " margin or pack the strike out"
    )
    FACE_TOO_WIDE = "the {name}'s face, {face_width}, is wider than the edge"
    BORE_TOO_WIDE = "the {name}'s edge bore is as wide as the slab is thick"
    BREAKS_OUT = "the {name}'s cross bore breaks out of the strike edge"
    PAST_STRIP = "the {name}'s cross bore runs past the stile"


@dataclass(frozen=True, slots=True, kw_only=True)
class Backset:
    """Edge to the bore's centre: at mid-thickness, and from either face's arris."""

    middle: float
    wide: float
    narrow: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltMarks:
    """One bolt: the latch of the lock, or the deadbolt over it.

    ``lock`` has its sizes. ``from_top`` and ``from_bottom`` are to the bore's
    centre, along the strike edge. The face's mortise has its ends ``face_top``
    and ``face_bottom`` down the strike edge and its sides ``face_near`` and
    ``face_far`` from the wide face's arris along the edge; ``edge_centre`` is
    the edge bore's centre on that line.
    """

    name: str
    lock: Lock
    backset: Backset
    from_top: float
    from_bottom: float
    face_top: float
    face_bottom: float
    face_near: float
    face_far: float
    edge_centre: float
    strike: StrikePlace
    concerns: tuple[LockConcern, ...]


def lock_marks(scene: Scene, strip: float | None = None) -> tuple[BoltMarks, ...]:
    """Return the latch's marks and the deadbolt's; nothing for a slab without a lock.

    ``scene`` has the slab as it will hang; ``strip`` is how wide the solid strip or
    stile along the strike edge is left, where a bore must not run past it.
    """
    return tuple(_bolt_marks(scene, name, bolt, strip) for name, bolt in bolts(scene).items())


def backset_from_faces(backset: float, edge: Edge, thickness: float) -> Backset:
    """Return a backset at mid-thickness, and the same from either face's arris.

    On a round edge mid-thickness is the crown, and both faces' arrises stand
    back from it.
    """
    middle = backset + thickness / 2 * tan(edge.lean)
    return Backset(
        middle=backset,
        wide=middle - edge.wide_inset(thickness),
        narrow=middle - edge.narrow_inset(thickness),
    )


def _bolt_marks(scene: Scene, name: str, lock: Lock, strip: float | None) -> BoltMarks:
    slab = scene.slab
    z = float(bore_centre(scene, lock)[2])
    down = slab.height[1] - z
    middle = slab.thickness / 2 / cos(slab.strike_edge.lean)
    place = strike_place(scene, lock)
    backset = backset_from_faces(lock.backset, slab.strike_edge, slab.thickness)
    return BoltMarks(
        name=name,
        lock=lock,
        backset=backset,
        from_top=down,
        from_bottom=z,
        face_top=down - lock.face_length / 2,
        face_bottom=down + lock.face_length / 2,
        face_near=middle - lock.face_width / 2,
        face_far=middle + lock.face_width / 2,
        edge_centre=middle,
        strike=place,
        concerns=_concerns(scene, lock, backset, place, strip),
    )


def _concerns(
    scene: Scene, lock: Lock, backset: Backset, place: StrikePlace, strip: float | None
) -> tuple[LockConcern, ...]:
    slab = scene.slab
    wide = slab.thickness / cos(slab.strike_edge.lean)
    past = strip is not None and backset.wide + lock.bore / 2 > strip
    found = (
        (LockConcern.MISSES, place.hold <= 0),
        (LockConcern.SHALLOW, 0 < place.hold < LEAST_HOLD_IN - _NOTHING_IN),
        (LockConcern.REVEAL, place.hold > 0 and place.gap > MOST_REVEAL_IN + _NOTHING_IN),
        (LockConcern.FACE_TOO_WIDE, lock.face_depth > 0 and lock.face_width > wide),
        (LockConcern.BORE_TOO_WIDE, lock.edge_bore >= slab.thickness),
        (LockConcern.BREAKS_OUT, lock.bore / 2 >= min(backset.wide, backset.narrow)),
        (LockConcern.PAST_STRIP, past),
    )
    return tuple(concern for concern, applies in found if applies)
