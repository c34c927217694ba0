"""The one word for a contact; which contact decides, and whose.

This slab's, its push side's, or a further slab's.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from swingcheck.assembly import GROUND, PartKind
from swingcheck.model import Face, Relation, Scene, Wanted
from swingcheck.swing.found import Decided, OtherFound, Side, Together, Touch, Verdict, Way
from swingcheck.swing.slab_part import LIP

#: What wider hinges carry an open slab clear of.
TRIM = (PartKind.CASING, PartKind.WALL, PartKind.BASEBOARD)

STOPS = (PartKind.HINGE_STOP, PartKind.STRIKE_STOP, PartKind.HEAD_STOP)

#: The verdict when closing is ended by a part of this kind.
VERDICTS = {
    PartKind.HINGE_STOP: Verdict.PINCHES,
    **dict.fromkeys((PartKind.HINGE_LEG, PartKind.JAMB_LEAF), Verdict.HINGE_BOUND),
    **dict.fromkeys((PartKind.STRIKE_STOP, PartKind.HEAD_STOP), Verdict.STANDS_OFF),
    **dict.fromkeys((PartKind.STRIKE_LEG, PartKind.INACTIVE, PartKind.ACTIVE), Verdict.STRIKES),
    **dict.fromkeys((*GROUND, PartKind.HEAD), Verdict.DRAGS),
    **dict.fromkeys((PartKind.LOWER, PartKind.UPPER, PartKind.SHELF), Verdict.DRAGS),
    **dict.fromkeys((*TRIM, PartKind.OBSTACLE, PartKind.WALL_RETURN), Verdict.FOULS),
    **dict.fromkeys((PartKind.NEIGHBOUR, PartKind.OTHER_LEAF), Verdict.FOULS),
}

SAME_ANGLE_RAD = 1e-9
"""A slab that opens to within this of what is wanted opens as far as wanted."""

SLACK = 1e-9
"""What is short by no more than this is not short, inches."""

SWINGS = Decided(verdict=Verdict.SWINGS)


def wanted_of(scene: Scene) -> Wanted:
    """Return what is wanted of a scene, the usual where it says nothing."""
    return scene.wanted or Wanted()


def decide(
    scene: Scene,
    side: Side,
    push: Side | None = None,
    beside: Iterable[Decided] = (),
    *,
    name: str = "",
) -> Decided:
    """Return what the verdict of an opening speaks of.

    The slab itself goes first: its start, then what keeps it from closing, then
    what keeps it from opening as far as wanted; after it the same on the push
    side; after that each further slab.

    ``side`` is what it does, ``push`` what on the push side if it swings both ways;
    ``beside`` is what each further slab adds, taken no farther than one that decides,
    and ``name`` what the slab is called where it is itself a further one.
    """
    found = _decided_on(scene, side)
    if found.way is None and push is not None:
        found = _decided_on(scene, push)
        found = replace(found, push=found.way is not None)
    if found.way is None:
        return next((each for each in beside if each.way is not None), SWINGS)
    return replace(found, slab=name)


def counted(other: OtherFound) -> Decided:
    """Return what a further slab adds to the verdict.

    One that hangs in the same opening counts as this one does. A neighbour's
    counts where the two foul each other short of what is wanted of both:
    whether it swings at all is its own opening's verdict.
    """
    if other.relation is Relation.NEIGHBOUR:
        clear = other.together.within_wanted
        return SWINGS if clear else fouling(other.name, other.together)
    return other.decided


def fouling(name: str, together: Together | None = None) -> Decided:
    """Return the verdict on two slabs that foul each other."""
    return Decided(verdict=Verdict.FOULS, way=Way.TOGETHER, slab=name, together=together)


def _decided_on(scene: Scene, side: Side) -> Decided:
    if side.blocked_by:
        return Decided(verdict=Verdict.BLOCKED, way=Way.START, blocked_by=side.blocked_by)
    met = side.closing
    if met is not None and not side.seated:
        word = verdict_of(met.against_kind, met.hinge_half, laps=laps_frame(scene, met))
        return Decided(verdict=word, way=Way.CLOSING, touch=met)
    met = side.opening
    if met is not None and abs(met.angle) < scene.swing.wanted - SAME_ANGLE_RAD:
        word = Verdict.DRAGS if met.against_kind in GROUND else Verdict.FOULS
        return Decided(verdict=word, way=Way.OPENING, touch=met)
    return SWINGS


def laps_frame(scene: Scene, closing: Touch) -> bool:
    """Tell whether a contact is a lip or an astragal coming to rest on the frame that it laps."""
    if closing.against_kind not in (PartKind.STRIKE_LEG, PartKind.HEAD, PartKind.INACTIVE):
        return False
    laps = closing.by_kind is PartKind.ASTRAGAL and strip_laps(scene)
    return laps or closing.feature in (f"{LIP}strike edge", f"{LIP}head edge")


def strip_laps(scene: Scene) -> bool:
    """Tell whether an astragal on the pull side laps the frame, or the other slab of a pair."""
    strip = scene.slab.astragal
    return strip is not None and strip.face is Face.PULL and strip.overlap > strip.stem


def verdict_of(kind: PartKind, hinge_half: bool, *, laps: bool = False) -> Verdict:
    """Return the verdict when closing is ended by a part of this kind.

    ``hinge_half`` tells that it is met nearer to the hinges than to the latch: there
    the head stop pinches as the hinge stop does, elsewhere the slab stands off it.
    ``laps`` tells that a lip or an astragal rests on the frame.
    """
    if laps:
        return Verdict.STANDS_OFF
    if kind is PartKind.HEAD_STOP and hinge_half:
        return Verdict.PINCHES
    return VERDICTS[kind]
