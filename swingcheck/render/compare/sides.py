"""Two scenes to be looked at side by side: what is drawn of each, and at which moment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.geometry.gaps import TurningGaps
from swingcheck.geometry.solid import Floats
from swingcheck.render.chart.lines import HIGHEST
from swingcheck.render.pen.figure import Subject
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.panel import Box, View, fitted_view
from swingcheck.render.pen.words import moment_words, named
from swingcheck.render.plan.corners import Corners, Detail
from swingcheck.render.plan.pose import SAME_ANGLE, Pose, shown_pose
from swingcheck.swing.found import Found
from swingcheck.units import length_text

SAME = 1e-6
"""Corners whose sizes differ by less are the same, inches."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Side:
    """One of two scenes: what it is called, how it is shown, and what the check found.

    ``moment`` says when in the swing it is drawn.
    """

    name: str
    subject: Subject
    result: Found
    moment: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compared:
    """A scene to be compared: its name, its solids, its check, and the verdict's words."""

    name: str
    assembly: Assembly
    result: Found
    caption: str


def sides_of(pair: tuple[Compared, Compared], angle: float | None = None) -> tuple[Side, Side]:
    """Return two scenes as they are shown.

    Each stands at the contact that its verdict speaks of; one that touches
    nothing stands where the other does, so that the gap it has there is seen.
    Both stand at ``angle`` (radians) where one is asked for.
    """
    own = [shown_pose(each.result, angle) for each in pair]
    sides = []
    for k, each in enumerate(pair):
        pose, other = own[k], own[1 - k]
        follows = angle is None and _is_free(pose) and not _is_free(other)
        if follows:
            pose = Pose(angle=other.angle)
        words = moment_words(pose)
        if follows:
            words = f"{words}, as the other is: {_gap_there(each, pose, other)}"
        subject = Subject(assembly=each.assembly, pose=pose, caption=each.caption)
        sides.append(Side(name=each.name, subject=subject, result=each.result, moment=f"{words}."))
    return sides[0], sides[1]


def _is_free(pose: Pose) -> bool:
    return (pose.touch is None or pose.seated) and not pose.blocked_by


def _gap_there(each: Compared, pose: Pose, other: Pose) -> str:
    """Return how near a slab that is free is to what the other one touches."""
    assembly, unit = each.assembly, each.assembly.scene.unit
    names = [part.name for part in assembly.fixed]
    wanted = other.touch.against if other.touch is not None else other.blocked_by[0]
    if wanted not in names:
        return f"there is no {wanted} to touch"
    within = HIGHEST[unit]
    gaps = TurningGaps(
        [part.solid for part in assembly.moving],
        [assembly.fixed[names.index(wanted)].solid],
        point=assembly.axis.point,
        direction=assembly.axis.direction,
        rise=assembly.axis.rise,
        within=within,
    )
    gap = float(gaps.at([pose.angle])[0, 0])
    if gap >= within:
        return f"{named((wanted,))} is more than {length_text(within, unit)} off"
    return f"it clears {named((wanted,))} by {length_text(gap, unit)}"


def differing(first: Corners, second: Corners, poses: Sequence[Pose]) -> tuple[str, ...]:
    """Return the letters of the corners worth comparing: those that differ, or have a contact.

    Both, where neither does.
    """
    shown = []
    for k, letter in enumerate("AB"):
        here = any(
            corners.home(pose) == letter
            for corners, pose in zip((first, second), poses, strict=True)
        )
        if here or not _same(first.details[k], second.details[k]):
            shown.append(letter)
    return tuple(shown) or ("A", "B")


def _same(first: Detail, second: Detail) -> bool:
    """Return whether two close-ups show the same outlines at the same angle."""
    if abs(first.pose.angle - second.pose.angle) > SAME_ANGLE:
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
        one.shape == other.shape and bool((np.abs(one - other) < SAME).all())
        for one, other in zip(*shown, strict=True)
    )


def clipped_outline(outline: Floats, view: View) -> Floats:
    """Return what of an outline (n, 2) of page points lies in a view, side by side cut off.

    Sutherland and Hodgman (1974), "Reentrant polygon clipping".
    """
    for k, bound, sign in (
        (0, view.low[0], 1.0),
        (0, view.high[0], -1.0),
        (1, view.low[1], 1.0),
        (1, view.high[1], -1.0),
    ):
        height = sign * (outline[:, k] - bound)
        kept: list[Floats] = []
        for j in range(len(outline)):
            here, there = height[j - 1], height[j]
            if (here < 0) != (there < 0):
                share = here / (here - there)
                kept.append(outline[j - 1] + share * (outline[j] - outline[j - 1]))
            if there >= 0:
                kept.append(outline[j])
        outline = np.array(kept).reshape(-1, 2)
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
