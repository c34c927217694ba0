"""What goes wrong beyond the ends of a window, and how near the nearest miss comes, in words."""

from __future__ import annotations

from swingcheck.advice.window import End, Fault, Interval, Miss, Window
from swingcheck.model import Scene, Wanted
from swingcheck.report.words import Lengths, listed, the
from swingcheck.swing.found import Touch, Verdict
from swingcheck.swing.trial import Limit, wanted_of
from swingcheck.units import angle_text

AS_CLOSED_IN = 1 / 128
"""Within this of closed at the strike edge a contact is one of the closed slab, inches."""

_MEETS = {
    Verdict.PINCHES: "it pinches on",
    Verdict.STRIKES: "it strikes",
    Verdict.HINGE_BOUND: "it is hinge-bound on",
    Verdict.DRAGS: "it drags on",
    Verdict.STANDS_OFF: "it stands off on",
    Verdict.FOULS: "it fouls",
}


def interval_text(window: Window, interval: Interval, lengths: Lengths) -> str:
    """Return an interval for reading; one value where its ends read alike.

    An end that is only the end of what was looked at is said to be open.
    """
    low, high = (lengths.of(window.measurement, end.value) for end in (interval.low, interval.high))
    if interval.low.beyond and interval.high.beyond:
        return f"{low} to {high}" if low != high else low
    if interval.high.beyond:
        return f"up to {high}"
    return f"{low} and over" if interval.low.beyond else f"all of {low} to {high}"


def beyond_texts(window: Window, interval: Interval, scene: Scene, lengths: Lengths) -> list[str]:
    """Return what goes wrong under the low end and over the high one."""
    texts = []
    for side, end in (("under", interval.low), ("over", interval.high)):
        if end.beyond is not None:
            value = lengths.of(window.measurement, end.value)
            texts.append(f"{side} {value} {end_fault(end, scene, lengths)}")
    return texts


def end_fault(end: End, scene: Scene, lengths: Lengths) -> str:
    """Return what goes wrong just beyond an end."""
    assert end.beyond is not None
    return fault_text(end.beyond, scene, lengths)


def fault_text(fault: Fault, scene: Scene, lengths: Lengths) -> str:
    """Return what goes wrong, a contact with its angle or the limit that is broken."""
    if fault.limit is not None:
        return _past_limit(fault.limit, wanted_of(scene), lengths)
    if fault.verdict is None:
        return "it cannot be built"
    whose = the(fault.slab) if fault.slab else "it"
    if fault.blocked_by:
        return (
            f"{whose} overlaps {listed([the(name) for name in fault.blocked_by])} where it starts"
        )
    if fault.touch is None:
        return f"it and {whose}'s slab foul each other"
    return f"{whose}{_contact(fault.verdict, fault.touch, lengths).removeprefix('it')}"


def _contact(verdict: Verdict, touch: Touch, lengths: Lengths) -> str:
    if verdict is Verdict.FOULS:
        return f"it fouls {the(touch.against)}, {angle_text(touch.angle)} open"
    if touch.opening_at_strike < AS_CLOSED_IN:
        return f"{_MEETS[verdict]} {the(touch.against)} when closed"
    short = lengths.full(touch.opening_at_strike)
    where = f"{angle_text(touch.angle)}, {short} short of closed"
    return f"{_MEETS[verdict]} {the(touch.against)} at {where}"


def _past_limit(limit: Limit, wanted: Wanted, lengths: Lengths) -> str:
    least, flush = lengths.full(wanted.least_margin), lengths.full(wanted.flush)
    return {
        Limit.HINGE_STOP: f"less than {lengths.full(wanted.hinge_stop)} is left to the hinge stop",
        Limit.HINGE_MARGIN: f"the hinge margin is less than {least}",
        Limit.STRIKE_MARGIN: f"the strike margin is less than {least}",
        Limit.HEAD_MARGIN: f"the head margin is less than {least}",
        Limit.PROUD: f"the wide face stands more than {flush} proud",
        Limit.SHY: f"the wide face stands more than {flush} shy",
        Limit.PINS: "a pin comes too far off the line of the others",
    }[limit]


def miss_text(miss: Miss, scene: Scene, lengths: Lengths) -> str:
    """Return what is still wrong where it comes nearest to working."""
    wanted = wanted_of(scene)
    allowed = {
        Limit.HINGE_STOP: ("only {} is left to the hinge stop", wanted.hinge_stop, -1),
        Limit.HINGE_MARGIN: ("the hinge margin is only {}", wanted.least_margin, -1),
        Limit.STRIKE_MARGIN: ("the strike margin is only {}", wanted.least_margin, -1),
        Limit.HEAD_MARGIN: ("the head margin is only {}", wanted.least_margin, -1),
        Limit.PROUD: ("the wide face stands {} proud", wanted.flush, 1),
        Limit.SHY: ("the wide face stands {} shy", wanted.flush, 1),
    }
    texts = []
    for fault in miss.faults:
        if fault.limit is None or fault.limit not in allowed:
            texts.append(fault_text(fault, scene, lengths))
        else:
            words, limit, sense = allowed[fault.limit]
            at = lengths.full(limit + sense * fault.short)
            texts.append(f"{words.format(at)} ({lengths.full(limit)} wanted)")
    return listed(texts)


def wanted_text(scene: Scene, lengths: Lengths) -> str:
    """Return what a setting may not go past."""
    wanted = wanted_of(scene)
    margin = f"{lengths.full(wanted.least_margin)} at hinge, strike and head"
    if scene.stop is None:
        return f"at least {margin}"
    return (
        f"at least {lengths.full(wanted.hinge_stop)} to the hinge stop, {margin};"
        f" the wide face within {lengths.full(wanted.flush)} of flush"
    )
