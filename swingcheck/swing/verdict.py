"""From what is touched to the one word for it."""

from __future__ import annotations

from swingcheck.assembly import PartKind
from swingcheck.model import Face, Scene
from swingcheck.swing.found import Touch, Verdict
from swingcheck.swing.slab_part import LIP

#: What wider hinges carry an open slab clear of.
TRIM = (PartKind.CASING, PartKind.WALL, PartKind.BASEBOARD)

STOPS = (PartKind.HINGE_STOP, PartKind.STRIKE_STOP, PartKind.HEAD_STOP)

#: The verdict when closing is ended by a part of this kind.
VERDICTS = {
    PartKind.HINGE_STOP: Verdict.PINCHES,
    PartKind.STRIKE_LEG: Verdict.STRIKES,
    PartKind.HINGE_LEG: Verdict.HINGE_BOUND,
    PartKind.JAMB_LEAF: Verdict.HINGE_BOUND,
    PartKind.FLOOR: Verdict.DRAGS,
    PartKind.CARPET: Verdict.DRAGS,
    PartKind.THRESHOLD: Verdict.DRAGS,
    PartKind.HEAD: Verdict.DRAGS,
    PartKind.STRIKE_STOP: Verdict.STANDS_OFF,
    PartKind.HEAD_STOP: Verdict.STANDS_OFF,
    PartKind.CASING: Verdict.FOULS,
    PartKind.WALL: Verdict.FOULS,
    PartKind.OBSTACLE: Verdict.FOULS,
    PartKind.BASEBOARD: Verdict.FOULS,
    PartKind.WALL_RETURN: Verdict.FOULS,
    PartKind.INACTIVE: Verdict.STRIKES,
    PartKind.ACTIVE: Verdict.STRIKES,
    PartKind.LOWER: Verdict.DRAGS,
    PartKind.UPPER: Verdict.DRAGS,
    PartKind.SHELF: Verdict.DRAGS,
    PartKind.NEIGHBOUR: Verdict.FOULS,
    PartKind.OTHER_LEAF: Verdict.FOULS,
}


def laps_frame(scene: Scene, closing: Touch) -> bool:
    """Tell whether a contact is a lip or an astragal coming to rest on the frame that it laps."""
    if closing.against_kind not in (PartKind.STRIKE_LEG, PartKind.HEAD, PartKind.INACTIVE):
        return False
    strip = scene.slab.astragal
    is_strip = strip is not None and strip.face is Face.PULL and strip.overlap > strip.stem
    laps = closing.by_kind is PartKind.ASTRAGAL and is_strip
    return laps or closing.feature in (f"{LIP}strike edge", f"{LIP}head edge")


def verdict_of(kind: PartKind, hinge_stop_gap: float, *, laps: bool = False) -> Verdict:
    """Return the verdict when closing is ended by a part of this kind.

    ``hinge_stop_gap`` is the closed slab's face to the hinge stop at the top,
    inches. A slab that would stand into its hinge stop may meet the head stop
    first, in the corner beside it: the cause is the same and so is the word.
    ``laps`` tells that a lip or an astragal rests on the frame.
    """
    if laps:
        return Verdict.STANDS_OFF
    if kind is PartKind.HEAD_STOP and hinge_stop_gap < 0:
        return Verdict.PINCHES
    return VERDICTS[kind]
