"""The verdict in one line, as the carpenter wants it first."""

from __future__ import annotations

from swingcheck.assembly import PartKind
from swingcheck.report.lengths import Lengths
from swingcheck.report.second_slab import other_finding
from swingcheck.report.words import listed, short_of_closed, the, turned
from swingcheck.swing.found import Clearance, Found, Touch, Verdict

JUST_TOUCHING = 0.0005
"""A clearance that reads as nothing at all, inches."""

LEAVES = (PartKind.SLAB_LEAF, PartKind.JAMB_LEAF)


def headline(result: Found, lengths: Lengths) -> str:
    """Return the scene's title and its verdict with the one number that matters."""
    return f"{result.scene.title}: {finding(result, lengths)}"


def finding(result: Found, lengths: Lengths) -> str:
    """Return the verdict with the one number that matters."""
    verdict = result.verdict
    if verdict is Verdict.SWINGS:
        return f"SWINGS - {_how_it_closes(result, lengths)}"
    if result.decided_by:
        return other_finding(result)
    if verdict is Verdict.BLOCKED:
        start, names = result.scene.swing.start, result.blocked_by
        if not names and result.push is not None:
            start, names = -start, result.push.blocked_by
        overlapped = listed([the(name) for name in names])
        return f"BLOCKED - at the start, {turned(start)} open, the slab overlaps {overlapped}"
    touch = decisive_touch(result)
    if touch is None:
        return verdict.value.upper()
    closings = (result.closing, result.push.closing if result.push else None)
    if verdict is Verdict.FOULS or not any(touch is each for each in closings):
        way = "FOULS" if verdict is Verdict.FOULS else f"{verdict.value.upper()}: meets"
        return f"{way} {the(touch.against)}, {turned(touch.angle)} open"
    side = " on the push side" if touch.angle < 0 else ""
    return f"{_met(verdict, touch)}, {short_of_closed(touch, lengths)}{side}"


def decisive_touch(result: Found) -> Touch | None:
    """Return the touch that the verdict speaks of: closing, or opening where that is clean."""
    closing = None if result.seated else result.closing
    opening, wanted = result.opening, result.scene.swing.wanted - 1e-9
    is_clear = closing is None and (opening is None or opening.angle >= wanted)
    if result.push is not None and is_clear:  # the push side decides
        return result.push.closing or result.push.opening
    if result.verdict is Verdict.FOULS or closing is None:
        return opening
    return closing


def nearest(result: Found) -> Clearance | None:
    """Return the least clearance along the swing to anything but what the slab seats on."""
    seat = result.closing.against if result.closing and result.seated else None
    free = [found for found in result.clearances if found.against != seat]
    return min(free, key=lambda found: found.least, default=None)


def _met(verdict: Verdict, touch: Touch) -> str:
    against = the(touch.against)
    if verdict is Verdict.PINCHES:
        return f"PINCHES on {against}"
    if verdict is Verdict.STRIKES:
        return f"STRIKES {against}"
    if verdict is Verdict.DRAGS:
        return f"DRAGS on {against}"
    if verdict is Verdict.STANDS_OFF:
        return f"STANDS OFF - rests on {against}"
    if touch.by_kind in LEAVES and touch.against_kind in LEAVES:
        return "HINGE-BOUND - the leaves meet"
    return f"HINGE-BOUND - meets {against}"


def _how_it_closes(result: Found, lengths: Lengths) -> str:
    if result.closing is not None:
        rest = result.closing
        at_seat = lengths.full(rest.opening_at_strike)
        return f"closes on {the(rest.against)}, within {at_seat} at the strike edge"
    near = nearest(result)
    if near is None:
        return "nothing touches"
    if near.least < JUST_TOUCHING:
        return f"closes just touching {the(near.against)}"
    return (
        f"nothing touches; nearest is {the(near.against)}, by {lengths.full(near.least)}"
        f" {place_in_swing(near.angle)}"
    )


def place_in_swing(angle: float) -> str:
    """Return where in the swing: closed, or at an angle.

    Examples
    --------
    >>> place_in_swing(0.0), place_in_swing(0.05)
    ('when closed', 'at 2.86 deg')
    """
    return "when closed" if abs(angle) < 1e-3 else f"at {turned(angle)}"
