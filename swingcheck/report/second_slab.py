"""Further slabs beside the one that is looked at, in sentences."""

from __future__ import annotations

from swingcheck.model import Relation
from swingcheck.report.words import Lengths, listed_parts, sentence, the, turned
from swingcheck.swing.found import Foul, Found, Order, OtherFound, Together, Verdict
from swingcheck.units import angle_text

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
    """Return what keeps another slab from swinging, as a clause."""
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
