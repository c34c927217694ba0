"""The few sentences that stand on a picture."""

from __future__ import annotations

from swingcheck.assembly import PartKind
from swingcheck.render.pen.subject import Subject
from swingcheck.units import MM_PER_INCH, angle_text, fraction_text, length_text, rough_length
from swingcheck.units.words import listed_parts, the, upper

NEAR_SECTION_IN = 0.25
"""A contact within this of the section's height is at it, inches."""


def contact_words(subject: Subject, height: float) -> str:
    """Return what touches what, and how far from the section where it is not in it."""
    pose = subject.pose
    touch = pose.touch
    if pose.at is None:
        return ""
    if touch is None:
        slab = the(subject.slab or "slab")
        return upper(f"{slab} overlaps {listed_parts(pose.overlaps)} before it has moved")
    what = touch.feature if touch.by_kind is PartKind.SLAB else touch.by
    of = f" of {the(subject.slab)}" if subject.slab and subject.slab not in what else ""
    verb = "rests on" if pose.seated else "touches"
    words = f"{upper(what)}{of} {verb} {listed_parts(pose.against)} here"
    low, high = pose.span
    if low - NEAR_SECTION_IN <= height <= high + NEAR_SECTION_IN:
        return words
    return f"{words}, {rough_length(pose.at[2], subject.unit)} above the floor"


def section_words(subject: Subject, height: float) -> str:
    """Return the line under the headline: the moment, the height, how it is seen."""
    return (
        f"{moment_words(subject)}. Plan section {rough_length(height, subject.unit)} above the"
        " floor; you stand at the bottom, on the pull side, hinges on your"
        f" {subject.assembly.scene.hinges_on}."
    )


def moment_words(subject: Subject) -> str:
    """Return which moment of the swing is drawn, and of which slab where it is a further one."""
    pose = subject.pose
    angle = angle_text(abs(pose.angle)) + (" to the push side" if pose.angle < 0 else "")
    drawn = f"The {subject.slab} drawn" if subject.slab else "Drawn"
    if pose.overlaps:
        return f"{drawn} where the closing starts, {angle} open"
    if pose.closed and pose.touch is None:
        return f"{drawn} closed"
    if pose.seated:
        return f"{drawn} resting on its stop, {angle} from closed"
    if pose.at is None:
        return f"{drawn} {angle} open"
    words = f"{drawn} at first contact, {angle} open"
    if subject.turned is None:
        return words
    return f"{words}, {listed_parts(pose.against)} {angle_text(subject.turned)} open"


def bare_length(length: float, unit: str) -> str:
    """Return a round length without its unit.

    Examples
    --------
    >>> bare_length(0.375, "in"), bare_length(1.0, "mm")
    ('3/8', '25')
    """
    return fraction_text(length) if unit == "in" else f"{length * MM_PER_INCH:.0f}"


def gap_words(gap: float, unit: str) -> str:
    """Return a gap as a figure, or how much the slab overlaps."""
    return length_text(gap, unit) if gap >= 0 else f"overlaps {length_text(-gap, unit)}"
