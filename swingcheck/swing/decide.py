"""Which contact decides, and whose: this slab's, its push side's, or a further slab's."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from swingcheck.assembly import GROUND
from swingcheck.model import Relation, Scene
from swingcheck.swing.found import (
    Decided,
    Margins,
    OtherFound,
    Side,
    Together,
    Verdict,
    Way,
)
from swingcheck.swing.verdict import laps_frame, verdict_of

SAME_ANGLE_RAD = 1e-9
"""A slab that opens to within this of what is wanted opens as far as wanted."""

SWINGS = Decided(verdict=Verdict.SWINGS)


def decide(
    scene: Scene,
    margins: Margins,
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

    Parameters
    ----------
    scene : Scene
        The opening and its slab.
    margins : Margins
        Of the closed slab.
    side, push : Side
        What the slab does, and what on the push side if it swings both ways.
    beside : iterable of Decided
        What each further slab adds; taken no farther than one that decides.
    name : str
        What the slab is called where it is itself a further one.
    """
    found = _decided_on(scene, margins, side)
    if found.way is None and push is not None:
        found = _decided_on(scene, margins, push)
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


def _decided_on(scene: Scene, margins: Margins, side: Side) -> Decided:
    if side.blocked_by:
        return Decided(verdict=Verdict.BLOCKED, way=Way.START, blocked_by=side.blocked_by)
    met = side.closing
    if met is not None and not side.seated:
        gap = margins.hinge_stop[0] if margins.hinge_stop else 0.0
        word = verdict_of(met.against_kind, gap, laps=laps_frame(scene, met))
        return Decided(verdict=word, way=Way.CLOSING, touch=met)
    met = side.opening
    if met is not None and abs(met.angle) < scene.swing.wanted - SAME_ANGLE_RAD:
        word = Verdict.DRAGS if met.against_kind in GROUND else Verdict.FOULS
        return Decided(verdict=word, way=Way.OPENING, touch=met)
    return SWINGS
