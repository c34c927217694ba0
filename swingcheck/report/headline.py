"""The verdict in one line, as the carpenter wants it first."""

from __future__ import annotations

from swingcheck.assembly import PartKind
from swingcheck.report.second_slab import other_finding
from swingcheck.report.words import Lengths, listed_parts, short_of_closed, the, turned
from swingcheck.swing.found import Clearance, Found, Touch, Verdict, Way

JUST_TOUCHING_IN = 0.0005
"""A clearance that reads as nothing at all."""

CLOSED_RAD = 1e-3
"""A slab no farther open than this is closed for reading."""

LEAVES = {PartKind.SLAB_LEAF, PartKind.JAMB_LEAF}


def headline(result: Found, lengths: Lengths) -> str:
    """Return the scene's title and its verdict with the one number that matters."""
    return f"{result.scene.title}: {finding(result, lengths)}"


def finding(result: Found, lengths: Lengths) -> str:
    """Return the verdict with the one number that matters."""
    decided = result.decided
    verdict, touch = decided.verdict, decided.touch
    if decided.way is None:
        return f"SWINGS - {_how_it_closes(result, lengths)}"
    if decided.slab:
        return other_finding(result)
    if touch is None:
        start = result.scene.swing.start * (-1 if decided.push else 1)
        overlapped = listed_parts(decided.blocked_by)
        return f"BLOCKED - at the start, {turned(start)} open, the slab overlaps {overlapped}"
    if decided.way is Way.OPENING or verdict is Verdict.FOULS:
        way = "FOULS" if verdict is Verdict.FOULS else f"{verdict.value.upper()}: meets"
        return f"{way} {the(touch.against)}, {turned(touch.angle)} open"
    side = " on the push side" if decided.push else ""
    return f"{_met(verdict, touch)}, {short_of_closed(touch, lengths)}{side}"


def nearest(result: Found) -> Clearance | None:
    """Return the least clearance along the swing to anything but what the slab seats on."""
    seat = result.closing.against if result.closing and result.seated else None
    free = [found for found in result.clearances if found.against != seat]
    return min(free, key=lambda found: found.least, default=None)


def _met(verdict: Verdict, touch: Touch) -> str:
    if verdict is Verdict.HINGE_BOUND and {touch.by_kind, touch.against_kind} <= LEAVES:
        return "HINGE-BOUND - the leaves meet"
    does = {
        Verdict.STRIKES: "",
        Verdict.HINGE_BOUND: " - meets",
        Verdict.STANDS_OFF: " - rests on",
    }.get(verdict, " on")
    return f"{verdict.value.upper()}{does} {the(touch.against)}"


def _how_it_closes(result: Found, lengths: Lengths) -> str:
    if result.closing is not None:
        rest = result.closing
        at_seat = lengths.full(rest.opening_at_strike)
        return f"closes on {the(rest.against)}, within {at_seat} at the strike edge"
    near = nearest(result)
    if near is None:
        return "nothing touches"
    if near.least < JUST_TOUCHING_IN:
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
    return "when closed" if abs(angle) < CLOSED_RAD else f"at {turned(angle)}"
