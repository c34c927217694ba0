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
    PartKind.HEAD: Verdict.DRAGS,
    PartKind.STRIKE_STOP: Verdict.STANDS_OFF,
    PartKind.HEAD_STOP: Verdict.STANDS_OFF,
    PartKind.CASING: Verdict.FOULS,
    PartKind.WALL: Verdict.FOULS,
    PartKind.OBSTACLE: Verdict.FOULS,
}
