"""Two scenes to be looked at side by side: what is drawn of each, and at which moment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.assembly import Assembly, assemble
from swingcheck.geometry.section import kept_half
from swingcheck.geometry.solid import Floats
from swingcheck.render.chart.lines import HIGHEST
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.panel import Box, View, fitted_view
from swingcheck.render.pen.subject import SAME_ANGLE_RAD, Pose, Subject, subject_of
from swingcheck.render.pen.words import moment_words, named
from swingcheck.render.plan.corners import Corners, Detail
from swingcheck.swing.by_angle import turning_gaps
from swingcheck.swing.found import Found
from swingcheck.units import length_text

SAME_OUTLINE_IN = 1e-6
"""Corners whose sizes differ by less are the same."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Side:
    """One of two scenes: what it is called, how it is shown, and its own assembly.

    ``moment`` says when in the swing it is drawn.
    """

    name: str
    subject: Subject
    assembly: Assembly
    moment: str


Compared = tuple[str, Found, str]
"""A scene to be compared: its name, its check, and the verdict's words."""


def sides_of(one: Compared, other: Compared, angle: float | None = None) -> tuple[Side, Side]:
    """Return two scenes as they are shown.

    Each stands at the contact that its verdict speaks of; one that touches
    nothing stands where the other does, so that the gap it has there is seen.
    Both stand at ``angle`` (radians) where one is asked for.
    """
    first, second = (subject_of(found, caption, angle) for _, found, caption in (one, other))
    sides = []
    for (name, found, _), subject, beside in (
        (one, first, second.pose),
        (other, second, first.pose),
    ):
        moment = moment_words(subject)
        if angle is None and _is_free(subject.pose) and not _is_free(beside):
            subject = replace(subject, pose=Pose(angle=beside.angle))
            moment = f"{moment_words(subject)}, as the other is: {_gap_there(subject, beside)}"
        assembly = assemble(found.scene)
        sides.append(Side(name=name, subject=subject, assembly=assembly, moment=f"{moment}."))
    return sides[0], sides[1]


def _is_free(pose: Pose) -> bool:
    return pose.at is None or pose.seated


def _gap_there(subject: Subject, other: Pose) -> str:
    """Return how near a slab that is free is to what the other one touches."""
    assembly, unit = subject.assembly, subject.unit
    wanted = other.against[0]
    facing = [part for part in assembly.fixed if part.name == wanted]
    if not facing:
        return f"there is no {wanted} to touch"
    within = HIGHEST[unit]
    gap = float(turning_gaps(assembly, facing, within).at([subject.pose.angle])[0, 0])
    if gap >= within:
        return f"{named((wanted,))} is more than {length_text(within, unit)} off"
    return f"it clears {named((wanted,))} by {length_text(gap, unit)}"


def differing(first: Corners, second: Corners) -> Sequence[str]:
    """Return the letters of the corners worth comparing: those that differ, or have a contact.

    Both, where neither does.
    """
    shown = [
        letter
        for letter, one, other in zip("AB", first.details, second.details, strict=True)
        if letter in (first.home, second.home) or not _same(one, other)
    ]
    return shown or ("A", "B")


def _same(first: Detail, second: Detail) -> bool:
    """Return whether two close-ups show the same outlines at the same angle."""
    if abs(first.pose.angle - second.pose.angle) > SAME_ANGLE_RAD:
        return False
    shown = [
        [
            clipped_outline(page(outline), first.view)
            for part in (*detail.cut.fixed, *detail.cut.moving)
            for outline in part.outlines
        ]
        for detail in (first, second)
    ]
    return len(shown[0]) == len(shown[1]) and all(
        one.shape == other.shape and bool((np.abs(one - other) < SAME_OUTLINE_IN).all())
        for one, other in zip(*shown, strict=True)
    )


def clipped_outline(outline: Floats, view: View) -> Floats:
    """Return what of an outline (n, 2) of page points lies in a view, side by side cut off."""
    for k in (0, 1):
        outline = kept_half(outline, outline[:, k] - view.low[k])
        outline = kept_half(outline, view.high[k] - outline[:, k])
    return outline


def common_views(first: Corners, second: Corners, letter: str, window: Box) -> tuple[View, View]:
    """Return the views of one corner of both, at one scale, the jamb at the same place."""
    k = "AB".index(letter)
    edges = []
    rects = []
    for corners in (first, second):
        margin = (corners.hinge, corners.strike)[k].margin
        edge = page(margin.start)
        view = corners.details[k].view
        edges.append(edge)
        rects.append((view.low - edge, view.high - edge))
    low = np.minimum(rects[0][0], rects[1][0])
    high = np.maximum(rects[0][1], rects[1][1])
    both = fitted_view(low.tolist(), high.tolist(), window)
    one, other = (
        View(low=both.low + edge, high=both.high + edge, scale=both.scale) for edge in edges
    )
    return one, other
