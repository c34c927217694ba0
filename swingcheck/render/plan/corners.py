"""The two corners of a slab in plan as panels: what each shows, and drawing it with its words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from swingcheck.assembly import Assembly
from swingcheck.assembly.parts import is_mirrored
from swingcheck.geometry.solid import Floats
from swingcheck.render.pen.figure import Subject
from swingcheck.render.pen.ink import Pen, contact_colour, page
from swingcheck.render.pen.panel import Box, View, draw_cut, opened_pen, write_contact, write_title
from swingcheck.render.plan.closeups import (
    OPENING_SHOWN,
    Corner,
    hinge_view,
    strike_view,
    write_hinge_corner,
    write_strike_corner,
)
from swingcheck.render.plan.measures import HingeCorner, StrikeCorner, hinge_corner, strike_corner
from swingcheck.render.plan.pose import PlanCut, Pose, cut_height, plan_cut

COLUMN, TITLE_ROW = 1.45, 0.4
"""Width of the column of labels beside a window, and height of the row over it, inches."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Detail:
    """A close-up: the slab at ``pose``, which is closed where it has swung out of the view."""

    letter: str
    title: str
    view: View
    cut: PlanCut
    pose: Pose


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Corners:
    """A plan section at a pose, what is measured at its two corners, and their close-ups."""

    cut: PlanCut
    hinge: HingeCorner
    strike: StrikeCorner
    details: tuple[Detail, Detail]

    def home(self, pose: Pose) -> str:
        """Return the letter of the close-up that shows the contact; empty where neither does."""
        if pose.touch is None:
            return ""
        at = page(pose.touch.point[:2])
        here = (detail for detail in self.details if detail.pose is pose)
        return next((detail.letter for detail in here if detail.view.shows(at)), "")


def corners_of(subject: Subject, window: Box, *, shown: float = OPENING_SHOWN) -> Corners:
    """Return a subject's two corners, each view as large as fits a window of paper.

    Parameters
    ----------
    subject : Subject
        The slab in its opening, at a pose.
    window : Box
        The paper that each close-up has.
    shown : float
        Opened farther than this at the strike edge, inches, the slab is drawn
        closed at the strike corner.
    """
    assembly, pose = subject.assembly, subject.pose
    cut = plan_cut(assembly, pose, cut_height(assembly, pose))
    hinge = hinge_corner(assembly, pose, cut.height, cut.hinge)
    strike = strike_corner(assembly, pose, cut.height)
    title, near, near_cut, found = "Strike corner", pose, cut, strike
    if strike.opening.length > shown:
        title, near = "Strike corner, slab closed", Pose(angle=0.0)
        near_cut = plan_cut(assembly, near, cut.height)
        found = strike_corner(assembly, near, cut.height)
    views = hinge_view(assembly, hinge, window), strike_view(assembly, found, window)
    return Corners(
        cut=cut,
        hinge=hinge,
        strike=strike,
        details=(
            Detail(letter="A", title="Hinge corner", view=views[0], cut=cut, pose=pose),
            Detail(letter="B", title=title, view=views[1], cut=near_cut, pose=near),
        ),
    )


def plan_hand(assembly: Assembly) -> float:
    """Return how the pen mirrors; a page turned over to put the pull side down mirrors once."""
    return 1.0 if is_mirrored(assembly.scene) else -1.0


def draw_detail(
    figure: Any,
    panel: Box,
    window: Box,
    subject: Subject,
    corners: Corners,
    detail: Detail,
    lines: Sequence[str] = (),
) -> None:
    """Draw a close-up, its title, its sizes, and what touches in it.

    Parameters
    ----------
    figure : matplotlib Figure
        The sheet.
    panel, window : Box
        The whole panel with its column and its title, and the drawing's window
        in it; sheet inches.
    subject : Subject
        What the corners are of.
    corners : Corners
        Both corners' measurements.
    detail : Detail
        Which close-up.
    lines : sequence of str
        The contact's sentence, where it belongs to this close-up.
    """
    assembly, pose = subject.assembly, detail.pose
    pen = opened_pen(figure, panel, window, detail.view, plan_hand(assembly))
    draw_cut(pen, detail.cut, ghost=not pose.closed)
    pen.pin(page(corners.hinge.pin), assembly.scene.hinge.barrel * 0.8)
    pen.frame(detail.view.low, detail.view.high, width=1.2)
    row = (panel.y + panel.height - window.y - window.height - TITLE_ROW / 2) * 72
    title = f"{detail.letter}   {detail.title}"
    write_title(pen, detail.view, title, assembly.scene.unit, above=row)
    column = (panel.width - window.width) * 72 - 8.0
    corner = Corner(assembly=assembly, view=detail.view, column=column)
    if detail.letter == "A":
        write_hinge_corner(pen, corner, corners.hinge)
    else:
        write_strike_corner(pen, corner, strike_corner(assembly, pose, detail.cut.height))
    mark_contact(pen, detail.view, pose, lines)


def mark_contact(pen: Pen, view: View, pose: Pose, lines: Sequence[str]) -> None:
    """Ring the contact where the view shows it, and write ``lines`` over the window."""
    at: Floats | None = page(pose.touch.point[:2]) if pose.touch is not None else None
    if at is not None and view.shows(at):
        pen.contact(at, seated=pose.seated)
    if lines:
        write_contact(pen, view, at, lines, contact_colour(seated=pose.seated))


def column_on_left(assembly: Assembly, detail: Detail) -> bool:
    """Return whether a close-up's column of labels is to the left of its window."""
    return (detail.letter == "A") == (plan_hand(assembly) > 0)
