"""What goes wrong beyond the ends of a window, and how near the nearest miss comes, in words."""

from __future__ import annotations

from swingcheck.advice.window import Fault, Interval, Miss, Window
from swingcheck.model import Scene, Wanted
from swingcheck.report.words import Lengths, listed, listed_parts, the
from swingcheck.swing.found import Touch, Verdict
from swingcheck.swing.trial import Limit, wanted_of
from swingcheck.units import angle_text

AS_CLOSED_IN = 1 / 128
"""Within this of closed at the strike edge a contact is one of the closed slab, inches."""


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
            texts.append(f"{side} {value} {fault_text(end.beyond, scene, lengths)}")
    return texts


def fault_text(fault: Fault, scene: Scene, lengths: Lengths) -> str:
    """Return what goes wrong, a contact with its angle or the limit that is broken."""
    if fault.limit is not None:
        return _past_limit(fault.limit, wanted_of(scene), lengths)
    if fault.verdict is None:
        return "it cannot be built"
    whose = the(fault.slab) if fault.slab else "it"
    if fault.blocked_by:
        return f"{whose} overlaps {listed_parts(fault.blocked_by)} where it starts"
    if fault.touch is None:
        return f"it and {whose}'s slab foul each other"
    return f"{whose} {_contact(fault.verdict, fault.touch, lengths)}"


def _contact(verdict: Verdict, touch: Touch, lengths: Lengths) -> str:
    if verdict is Verdict.FOULS:
        return f"fouls {the(touch.against)}, {angle_text(touch.angle)} open"
    does = f"{'is ' * (verdict is Verdict.HINGE_BOUND)}{verdict.value}"
    met = f"{does}{' on' * (verdict is not Verdict.STRIKES)} {the(touch.against)}"
    if touch.opening_at_strike < AS_CLOSED_IN:
        return f"{met} when closed"
    short = lengths.full(touch.opening_at_strike)
    return f"{met} at {angle_text(touch.angle)}, {short} short of closed"


_LIMITS = {
    Limit.HINGE_STOP: ("{} is left to the hinge stop", "hinge_stop", -1),
    Limit.HINGE_MARGIN: ("the hinge margin is {}", "least_margin", -1),
    Limit.STRIKE_MARGIN: ("the strike margin is {}", "least_margin", -1),
    Limit.HEAD_MARGIN: ("the head margin is {}", "least_margin", -1),
    Limit.PROUD: ("the wide face stands {} proud", "flush", 1),
    Limit.SHY: ("the wide face stands {} shy", "flush", 1),
}
"""Each limit that is a length: what is said of it, the length wanted, which way it is broken."""


def _past_limit(limit: Limit, wanted: Wanted, lengths: Lengths) -> str:
    if limit not in _LIMITS:
        return "a pin comes too far off the line of the others"
    words, name, sense = _LIMITS[limit]
    than = "more than" if sense > 0 else "less than"
    return words.format(f"{than} {lengths.full(getattr(wanted, name))}")


def miss_text(miss: Miss, scene: Scene, lengths: Lengths) -> str:
    """Return what is still wrong where it comes nearest to working."""
    texts = []
    for fault in miss.faults:
        if fault.limit is None or fault.limit not in _LIMITS:
            texts.append(fault_text(fault, scene, lengths))
        else:
            words, name, sense = _LIMITS[fault.limit]
            limit = getattr(wanted_of(scene), name)
            at = f"{'only ' * (sense < 0)}{lengths.full(limit + sense * fault.short)}"
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
