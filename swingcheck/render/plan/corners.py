"""The two corners of a slab in plan as panels: what each shows, and drawing it with its words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from swingcheck.assembly import Assembly
from swingcheck.render.pen.ink import Pen, contact_colour, page
from swingcheck.render.pen.page import GUTTER, blank_figure
from swingcheck.render.pen.panel import (
    Box,
    View,
    draw_cut,
    fitted_view,
    opened_pen,
    write_contact,
    write_title,
)
from swingcheck.render.pen.section import PlanCut, cut_height, plan_cut, plan_hand
from swingcheck.render.pen.subject import Pose, Subject
from swingcheck.render.plan.closeups import (
    OPENING_SHOWN,
    Corner,
    hinge_view,
    strike_view,
    write_hinge_corner,
    write_strike_corner,
)
from swingcheck.render.plan.measures import HingeCorner, StrikeCorner, hinge_corner, strike_corner

COLUMN, TITLE_ROW = 1.45, 0.4
"""Width of the column of labels beside a window, and height of the row over it, inches."""

PIN_REACH = 0.8
"""How far a pin's centre lines reach, in barrels."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Detail:
    """A close-up: the slab at ``pose``, which is closed where it has swung out of the view.

    ``letter`` is ``A`` at the hinge corner and ``B`` at the strike corner.
    """

    letter: str
    title: str
    view: View
    cut: PlanCut
    pose: Pose
    found: HingeCorner | StrikeCorner


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Corners:
    """A plan section of a subject, what is measured at its two corners, and their close-ups."""

    subject: Subject
    cut: PlanCut
    hinge: HingeCorner
    strike: StrikeCorner
    details: tuple[Detail, Detail]

    @property
    def home(self) -> str:
        """The letter of the close-up that shows the contact; empty where neither does."""
        pose = self.subject.pose
        if pose.at is None:
            return ""
        at = page(pose.at[:2])
        here = (detail for detail in self.details if detail.pose is pose)
        return next((detail.letter for detail in here if detail.view.shows(at)), "")


def corners_of(
    subject: Subject,
    window: Box,
    *,
    shown: float = OPENING_SHOWN,
    height: float | None = None,
) -> Corners:
    """Return a subject's two corners, each view as large as fits a window of paper.

    ``window`` is the paper that each close-up has. Opened farther than ``shown`` at the strike
    edge, inches, the slab is drawn closed at the strike corner. ``height`` is where to cut,
    inches, if not where the pose asks for.
    """
    assembly, pose = subject.assembly, subject.pose
    cut = plan_cut(subject, pose, cut_height(assembly, pose) if height is None else height)
    hinge = hinge_corner(assembly, pose, cut.height, cut.hinge)
    strike = strike_corner(assembly, pose, cut.height)
    title, near, near_cut, found = "Strike corner", pose, cut, strike
    if strike.opening.length > shown:
        title, near = "Strike corner, slab closed", Pose(angle=0.0)
        near_cut = plan_cut(subject, near, cut.height)
        found = strike_corner(assembly, near, cut.height)
    at_hinge = Detail(
        letter="A",
        title="Hinge corner",
        view=hinge_view(assembly, hinge, window),
        cut=cut,
        pose=pose,
        found=hinge,
    )
    view = strike_view(assembly, found, window)
    at_strike = Detail(letter="B", title=title, view=view, cut=near_cut, pose=near, found=found)
    return Corners(
        subject=subject, cut=cut, hinge=hinge, strike=strike, details=(at_hinge, at_strike)
    )


def window_box(panel: Box, tall: float) -> Box:
    """Return the paper that a close-up's window has in a panel, as if its column were right."""
    return Box(x=panel.x, y=panel.y, width=panel.width - COLUMN, height=tall)


def half_panels(box: Box) -> tuple[Box, Box]:
    """Return a box's left and right half, a gutter between them."""
    wide = (box.width - GUTTER) / 2
    left, right = (
        Box(x=x, y=box.y, width=wide, height=box.height) for x in (box.x, box.x + wide + GUTTER)
    )
    return left, right


def draw_both(
    figure: Any,
    box: Box,
    tall: float,
    corners: Corners,
    details: Sequence[Detail],
    lines: Sequence[str] = (),
    *,
    lettered: bool = True,
) -> None:
    """Draw both close-ups side by side in a box, windows ``tall``, hinges on their own side.

    ``lines`` are the contact's sentence, which goes to the close-up that shows it.
    """
    left, right = half_panels(box)
    for detail in details:
        panel = left if column_on_left(corners.subject.assembly, detail) else right
        said = lines if corners.home == detail.letter else ()
        draw_detail(figure, panel, tall, corners, detail, said, lettered=lettered)


def draw_detail(
    figure: Any,
    panel: Box,
    tall: float,
    corners: Corners,
    detail: Detail,
    lines: Sequence[str] = (),
    *,
    lettered: bool = True,
) -> None:
    """Draw a close-up, its title, its sizes, and what touches in it.

    ``panel`` is all of it with its column and its title, sheet inches, ``tall`` the height of
    the drawing's window in it; ``lines`` are the contact's sentence, where it belongs to
    this close-up. What is ``lettered`` has the close-up's letter before its title.
    """
    assembly = corners.subject.assembly
    x = panel.x + (COLUMN if column_on_left(assembly, detail) else 0.0)
    window = Box(x=x, y=panel.y, width=panel.width - COLUMN, height=tall)
    pen = opened_pen(figure, panel, window, detail.view, plan_hand(assembly))
    draw_cut(pen, detail.cut, ghost=not detail.pose.closed)
    pen.pin(page(corners.hinge.pin), assembly.scene.hinge.barrel * PIN_REACH)
    pen.frame(detail.view.low, detail.view.high, width=1.2)
    title = f"{detail.letter}   {detail.title}" if lettered else detail.title
    row = (panel.height - tall - TITLE_ROW / 2) * 72
    write_title(pen, detail.view, title, assembly.scene.unit, above=row)
    corner = Corner(pen=pen, assembly=assembly, view=detail.view, column=COLUMN * 72 - 8.0)
    if isinstance(detail.found, HingeCorner):
        write_hinge_corner(corner, detail.found)
    else:
        write_strike_corner(corner, detail.found)
    mark_contact(pen, detail.view, detail.pose, lines)


def mark_contact(pen: Pen, view: View, pose: Pose, lines: Sequence[str]) -> None:
    """Ring the contact where the view shows it, and write ``lines`` over the window."""
    at = page(pose.at[:2]) if pose.at is not None else None
    if at is not None and view.shows(at):
        pen.contact(at, seated=pose.seated)
    if lines:
        write_contact(pen, view, at, lines, contact_colour(seated=pose.seated))


def column_on_left(assembly: Assembly, detail: Detail) -> bool:
    """Return whether a close-up's column of labels is to the left of its window."""
    return (detail.letter == "A") == (plan_hand(assembly) > 0)


CARD_WIDTH, CARD_HEIGHT = 11.3, 4.1
"""Of the two corners on a card, inches; printed two thirds as large, labels are still read."""

CARD_EDGE = 0.05
CARD_WINDOW = CARD_HEIGHT - TITLE_ROW - 2 * CARD_EDGE
CARD_PIXELS = 1600

BELOW = 112.0
"""Room under the wide face for the notes that stand there on a card, points."""


def pair_figure(assembly: Assembly) -> Any:
    """Return both corners of the closed slab in plan, the hinges on their own side.

    A matplotlib figure of the assembly at mid-height of where its leaves are.
    """
    figure = blank_figure(CARD_WIDTH, CARD_HEIGHT)
    wide, tall = CARD_WIDTH - 2 * CARD_EDGE, CARD_HEIGHT - 2 * CARD_EDGE
    box = Box(x=CARD_EDGE, y=CARD_EDGE, width=wide, height=tall)
    window = window_box(half_panels(box)[0], CARD_WINDOW)
    corners = corners_of(Subject(assembly=assembly, pose=Pose(angle=0.0)), window)
    hinge, strike = corners.details
    view = _with_room_below(hinge.view, float(page(corners.hinge.margin.end)[1]), window)
    details = replace(hinge, view=view), strike
    draw_both(figure, box, CARD_WINDOW, corners, details, lettered=False)
    return figure


def _with_room_below(view: View, edge: float, window: Box) -> View:
    """Return the view drawn back until there is room for the notes under page height ``edge``."""
    for _ in range(4):
        lack = BELOW / 72 / view.scale - (edge - float(view.low[1]))
        if lack <= 1e-6:
            break
        low = (float(view.low[0]), float(view.low[1]) - lack)
        view = fitted_view(low, (float(view.high[0]), float(view.high[1])), window)
    return view
