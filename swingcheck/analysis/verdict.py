"""From what is touched to the one word for it."""

from __future__ import annotations

from swingcheck.analysis.result import Verdict
from swingcheck.assembly import PartKind

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
}


def verdict_of(kind: PartKind, hinge_stop_gap: float) -> Verdict:
    """Return the verdict when closing is ended by a part of this kind.

    ``hinge_stop_gap`` is the closed slab's face to the hinge stop at the top,
    inches. A slab that would stand into its hinge stop may meet the head stop
    first, in the corner beside it: the cause is the same and so is the word.
    """
    if kind is PartKind.HEAD_STOP and hinge_stop_gap < 0:
        return Verdict.PINCHES
    return VERDICTS[kind]
