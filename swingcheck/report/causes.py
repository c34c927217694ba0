"""Why the slab does not swing: which cause holds, an entry each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from swingcheck.assembly import FITTED, GROUND, PartKind
from swingcheck.report.cause_words import (
    Case,
    below,
    blocked,
    fitted,
    floor,
    head,
    leaf_depths,
    leaves_meet,
    lip,
    lip_gaps,
    past_parallel,
    pin_and_casing,
    pivots,
    run_out,
    setbacks,
    stops_out_of_plane,
    too_wide,
    twisted,
)
from swingcheck.report.headline import decided_cause
from swingcheck.report.words import Lengths, meeting, turned
from swingcheck.swing.found import Found, Verdict
from swingcheck.swing.slab_part import LIP
from swingcheck.units import angle_text


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause: the verdicts that it explains, none for any; where it holds; its words."""

    words: Callable[[Case], str]
    verdicts: tuple[Verdict, ...] = ()
    holds: Callable[[Case], object] = lambda case: True


def why(result: Found, lengths: Lengths) -> str:
    """Return what touches what and where, and the measurement that makes it so."""
    decided = result.decided
    if decided.way is None:
        return ""
    if decided.slab:
        return decided_cause(result)
    if decided.touch is None:
        return blocked(result, lengths)
    case = Case(result, decided.touch, lengths)
    said = [meeting(decided.touch, lengths)]
    if decided.verdict is Verdict.FOULS:
        wanted = angle_text(case.scene.swing.wanted)
        said.append(f"It opens {turned(case.touch.angle)} of the {wanted} wanted.")
    cause = next(
        (
            each
            for each in CAUSES
            if (not each.verdicts or decided.verdict in each.verdicts) and each.holds(case)
        ),
        None,
    )
    return " ".join(filter(None, [*said, cause.words(case) if cause else ""]))


CAUSES = (
    Cause(
        lip,
        holds=lambda c: c.touch.feature.startswith(LIP) and c.scene.slab.lip and lip_gaps(c)[1],
    ),
    Cause(fitted, holds=lambda c: c.touch.by_kind in FITTED),
    Cause(
        leaves_meet,
        (Verdict.HINGE_BOUND,),
        lambda c: PartKind.JAMB_LEAF in (c.touch.by_kind, c.touch.against_kind),
    ),
    Cause(
        pivots,
        (Verdict.PINCHES, Verdict.HINGE_BOUND, Verdict.STANDS_OFF),
        lambda c: c.scene.pivot,
    ),
    Cause(setbacks, (Verdict.PINCHES,)),
    Cause(setbacks, (Verdict.STANDS_OFF,), lambda c: min(c.margins.hinge_stop or (0.0,)) < 0),
    Cause(stops_out_of_plane, (Verdict.STANDS_OFF,)),
    Cause(too_wide, (Verdict.STRIKES,), lambda c: min(c.margins.strike) < 0),
    Cause(run_out, (Verdict.STRIKES,)),
    Cause(
        twisted,
        (Verdict.HINGE_BOUND,),
        lambda c: past_parallel(c) > 0 and min(c.margins.hinge) > 0,
    ),
    Cause(leaf_depths, (Verdict.HINGE_BOUND,)),
    Cause(floor, (Verdict.DRAGS,), lambda c: c.touch.against_kind in GROUND),
    Cause(
        below,
        (Verdict.DRAGS,),
        lambda c: c.touch.against_kind in (PartKind.LOWER, PartKind.SHELF, PartKind.OTHER_LEAF),
    ),
    Cause(head, (Verdict.DRAGS,)),
    Cause(
        pin_and_casing,
        (Verdict.FOULS,),
        lambda c: c.touch.against_kind is PartKind.CASING and c.scene.casing,
    ),
)
"""The causes, the first that holds first."""
