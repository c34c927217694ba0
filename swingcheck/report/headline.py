"""The verdict in one line, as the carpenter wants it first, and what further slabs do."""

from __future__ import annotations

from swingcheck.assembly import PartKind
from swingcheck.model import Relation
from swingcheck.report.fit_words import reason_text
from swingcheck.report.words import Lengths, place_in_swing, short_of_closed, turned
from swingcheck.swing.found import (
    Clearance,
    FitWord,
    Foul,
    Found,
    Order,
    OtherFound,
    Together,
    Touch,
    Verdict,
    Way,
)
from swingcheck.units import angle_text
from swingcheck.units.words import listed_parts, sentence, the

_THIS = {
    Relation.INACTIVE: "the active slab",
    Relation.LOWER: "the upper slab",
    Relation.NEIGHBOUR: "this slab",
}

SAME_ANGLE_RAD = 1e-3
"""Angles no farther apart than this read alike."""


def other_label(other: OtherFound) -> str:
    """Return what another slab's entry is headed."""
    return other.relation.name.capitalize()


def other_text(other: OtherFound, lengths: Lengths) -> str:
    """Return what another slab does alone, against this one, and together with it."""
    parts = [_alone(other), _order(other), _together(other, lengths)]
    return " ".join(sentence(part) for part in parts if part)


def other_finding(result: Found) -> str:
    """Return the verdict that another slab decides, in one line."""
    other = _decider(result)
    if other.relation is Relation.NEIGHBOUR:
        return f"FOULS {_named(other)} - {_widest_foul(other)}"
    return f"{result.verdict.value.upper()}: {_fault(other)}"


def decided_cause(result: Found) -> str:
    """Return why the verdict is what another slab decides."""
    other = _decider(result)
    if other.relation is Relation.NEIGHBOUR:
        return (
            f"By itself the slab swings; but short of what is wanted of both, it and"
            f" {_named(other)} meet: open one, and it holds the other."
        )
    return sentence(f"{_THIS[other.relation]} swings, but {_fault(other)}")


def _decider(result: Found) -> OtherFound:
    return next(each for each in result.others if each.name == result.decided_by)


def _named(other: OtherFound) -> str:
    if other.relation is not Relation.NEIGHBOUR:
        return the(other.name)
    own = f"{other.name}'s slab"
    return own if own[0].isupper() else the(own)


def _fault(other: OtherFound) -> str:
    name = _named(other)
    touch = other.decided.touch
    if touch is None:
        overlapped = listed_parts(other.decided.blocked_by)
        return f"{name} overlaps {overlapped} where its closing starts"
    return f"{name} meets {the(touch.against)} at {turned(touch.angle)}"


def _alone(other: OtherFound) -> str:
    name = _named(other)
    if other.verdict is not Verdict.SWINGS:
        return _fault(other)
    if other.opening is None:
        return f"{name} swings"
    return f"{name} swings, and opens to {angle_text(other.opening.angle)}"


def _order(other: OtherFound) -> str:
    this, name = _THIS[other.relation], _named(other)
    if other.relation is Relation.NEIGHBOUR:
        if other.held is None:
            return f"it opens all the way past {this} closed"
        return f"with {this} closed it opens to {angle_text(other.held.angle)}"
    held = f", which it holds from {angle_text(other.held.angle)} on" if other.held else ""
    return {
        Order.EITHER: "either opens with the other closed",
        Order.THIS: f"{this} opens first: closed, it is in the way of {name}{held}",
        Order.OTHER: f"{name} opens first: closed, it is in the way of {this}",
        Order.NEITHER: "neither opens while the other is closed",
    }[other.order]


def _together(other: OtherFound, lengths: Lengths) -> str:
    found = other.together
    if found.fouls:
        return f"swung together they meet: {_widest_foul(other)}; {_clear_of(found)}"
    most = "at least " if found.fills else ""
    return (
        f"swung together they come no nearer than {most}{lengths.full(found.least)},"
        f" {_where(found)}"
    )


def _where(found: Together) -> str:
    this, other = found.angles
    if max(this, other) < SAME_ANGLE_RAD:
        return "when closed"
    return f"this one {angle_text(this)} and the other {angle_text(other)} open"


def widest_foul(found: Together) -> Foul | None:
    """Return at which of this slab's angles the other is held longest; ``None`` for none."""
    return max(found.fouls, key=lambda foul: foul.high - foul.low, default=None)


def _widest_foul(other: OtherFound) -> str:
    widest = widest_foul(other.together)
    if widest is None:
        return "short of what is wanted of both"
    return (
        f"this slab {angle_text(widest.angle)} open, from {angle_text(widest.low)} to"
        f" {angle_text(widest.high)} of the other"
    )


def _clear_of(found: Together) -> str:
    """Return between which of this slab's angles they meet at all."""
    low, high = found.fouls[0].angle, found.fouls[-1].angle
    begins = "closed" if low < SAME_ANGLE_RAD else angle_text(low)
    ends = "on" if high > found.reaches[0] - SAME_ANGLE_RAD else f"to {angle_text(high)}"
    return f"they meet with this slab from {begins} {ends}, and no other way"


JUST_TOUCHING_IN = 0.0005
"""A clearance that reads as nothing at all."""

LEAVES = {PartKind.SLAB_LEAF, PartKind.JAMB_LEAF}


def headline(result: Found, lengths: Lengths) -> str:
    """Return the scene's title and its verdict with the one number that matters."""
    return f"{result.scene.title}: {finding(result, lengths)}"


def finding(result: Found, lengths: Lengths) -> str:
    """Return the verdict with the one number that matters."""
    decided = result.decided
    verdict, touch = decided.verdict, decided.touch
    if decided.way is None:
        if result.fit.word is FitWord.GOOD:
            return f"SWINGS - {_how_it_closes(result, lengths)}"
        why = reason_text(result, result.fit.reasons[0], lengths)
        return f"SWINGS, BUT {result.fit.word.value.upper()} - {why}"
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
