"""The plan sheet: verdict, overall plan, two close-ups and the key, on one page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from swingcheck.assembly.hand import is_mirrored
from swingcheck.render.closeups import (
    OPENING_SHOWN,
    Corner,
    hinge_view,
    strike_view,
    write_hinge_corner,
    write_strike_corner,
)
from swingcheck.render.figure import (
    GUTTER,
    INNER,
    MARGIN,
    PIXELS,
    WIDTH,
    Heading,
    Subject,
    blank_figure,
    figure_bytes,
    heading,
)
from swingcheck.render.ink import Pen, contact_colour, page
from swingcheck.render.key import ROW, KeyItem, draw_key, key_items, key_rows
from swingcheck.render.measures import HingeCorner, StrikeCorner, hinge_corner, strike_corner
from swingcheck.render.overview import (
    Swing,
    overview_height,
    overview_view,
    swing_arc,
    write_overview,
)
from swingcheck.render.panel import (
    Box,
    View,
    contact_lines,
    contact_room,
    draw_cut,
    opened_pen,
    write_contact,
    write_title,
)
from swingcheck.render.pose import PlanCut, Pose, cut_height, plan_cut
from swingcheck.render.words import contact_words, section_words

PANEL = (INNER - GUTTER) / 2
COLUMN = 1.45
WINDOW = 5.2
TALLEST = 6.5
TITLE_ROW = 0.4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Detail:
    """A close-up: the slab at ``pose``, which is closed where it has swung out of the view."""

    letter: str
    title: str
    view: View
    cut: PlanCut
    pose: Pose


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sheet:
    """Everything that is worked out before a line is drawn.

    ``home`` is the view that shows the contact: ``A``, ``B``, or empty for
    the overall plan; ``contact`` its words as lines. ``heights`` are those of
    the heading, the overall plan, the band over the close-ups and the key.
    """

    subject: Subject
    cut: PlanCut
    corners: tuple[HingeCorner, StrikeCorner]
    swing: Swing
    overview: View
    details: tuple[_Detail, _Detail]
    home: str
    contact: tuple[str, ...]
    heading: Heading
    key: list[list[KeyItem]]

    @property
    def band(self) -> float:
        """Height of the contact's band, inches."""
        return contact_room(self.contact) / 72 if self.contact else 0.0

    @property
    def height(self) -> float:
        """Height of the sheet, inches."""
        return (
            2 * MARGIN
            + self.heading.height
            + self.band
            + overview_height(self.overview)
            + GUTTER
            + TITLE_ROW
            + WINDOW
            + GUTTER
            + len(self.key) * ROW
        )

    @property
    def closeups_top(self) -> float:
        """Where the close-ups' panels end, sheet inches from the bottom."""
        top = MARGIN + len(self.key) * ROW + GUTTER + WINDOW + TITLE_ROW
        return top + (self.band if self.home else 0.0)


def plan_sheet(subject: Subject, kind: str = "png", pixels: int = PIXELS) -> bytes:
    """Return the plan sheet as a file's bytes.

    Parameters
    ----------
    subject : Subject
        What to draw.
    kind : str
        ``png``, ``svg`` or ``pdf``. Equal subjects give equal bytes.
    pixels : int
        Width of a PNG; the height follows from what there is to show.
    """
    return figure_bytes(plan_figure(subject), kind, pixels)


def plan_figure(subject: Subject) -> Any:
    """Return the plan sheet as a matplotlib figure on a canvas that needs no display."""
    sheet = _laid_out(subject)
    figure = blank_figure(WIDTH, sheet.height)
    sheet.heading.write(figure, MARGIN, sheet.height - MARGIN)
    _draw_overview(figure, sheet)
    for detail in sheet.details:
        _draw_closeup(figure, sheet, detail)
    foot = Box(x=MARGIN, y=MARGIN, width=INNER, height=len(sheet.key) * ROW)
    draw_key(figure, foot, sheet.key)
    return figure


def _laid_out(subject: Subject) -> _Sheet:
    assembly, pose = subject.assembly, subject.pose
    height = cut_height(assembly, pose)
    cut = plan_cut(assembly, pose, height)
    hinge = hinge_corner(assembly, pose, height, cut.hinge)
    strike = strike_corner(assembly, pose, height)
    details = _details(subject, cut, hinge, strike)
    swing = swing_arc(hinge, strike, assembly, pose)
    area = Box(x=0.0, y=0.0, width=INNER, height=TALLEST)
    home = _home(pose, details)
    words = contact_words(pose, height, assembly.scene.unit)
    return _Sheet(
        subject=subject,
        cut=cut,
        corners=(hinge, strike),
        swing=swing,
        overview=overview_view(hinge, strike, swing, assembly, area),
        details=details,
        home=home,
        contact=contact_lines(words, (PANEL if home else INNER) * 72),
        heading=heading(subject.caption, section_words(assembly, cut, pose), INNER),
        key=key_rows(key_items(cut, pose), INNER),
    )


def _details(
    subject: Subject, cut: PlanCut, hinge: HingeCorner, strike: StrikeCorner
) -> tuple[_Detail, _Detail]:
    assembly, pose = subject.assembly, subject.pose
    window = Box(x=0.0, y=0.0, width=PANEL - COLUMN, height=WINDOW)
    title, near, near_cut = "Strike corner", pose, cut
    if strike.opening.length > OPENING_SHOWN:
        title, near = "Strike corner, slab closed", Pose(angle=0.0)
        near_cut = plan_cut(assembly, near, cut.height)
        strike = strike_corner(assembly, near, cut.height)
    views = hinge_view(assembly, hinge, window), strike_view(assembly, strike, window)
    return (
        _Detail(letter="A", title="Hinge corner", view=views[0], cut=cut, pose=pose),
        _Detail(letter="B", title=title, view=views[1], cut=near_cut, pose=near),
    )


def _home(pose: Pose, details: tuple[_Detail, _Detail]) -> str:
    """Return the letter of the close-up that shows the contact; empty where neither does."""
    if pose.touch is None:
        return ""
    at = page(pose.touch.point[:2])
    shown = (detail.letter for detail in details if detail.pose is pose and detail.view.shows(at))
    return next(shown, "")


def _hand(sheet: _Sheet) -> float:
    """Return how the pen mirrors; a page turned over to put the pull side down mirrors once."""
    return 1.0 if is_mirrored(sheet.subject.assembly.scene) else -1.0


def _draw_overview(figure: Any, sheet: _Sheet) -> None:
    view, subject = sheet.overview, sheet.subject
    top = sheet.height - MARGIN - sheet.heading.height
    tall = overview_height(view)
    here = sheet.band if not sheet.home else 0.0
    window = Box(x=MARGIN, y=top - here - tall, width=INNER, height=tall)
    panel = Box(x=MARGIN, y=window.y, width=INNER, height=tall + here)
    pen = opened_pen(figure, panel, window, view, _hand(sheet))
    draw_cut(pen, sheet.cut, ghost=not subject.pose.closed)
    pen.pin(page(sheet.corners[0].pin), pen.points(13.0))
    details = [(detail.letter, detail.view) for detail in sheet.details]
    write_overview(pen, view, subject.assembly, sheet.corners, sheet.swing, details)
    _mark_contact(pen, sheet, view, subject.pose, here=not sheet.home)


def _draw_closeup(figure: Any, sheet: _Sheet, detail: _Detail) -> None:
    at_hinge = detail.letter == "A"
    assembly, hand = sheet.subject.assembly, _hand(sheet)
    column_left = at_hinge == (hand > 0)
    x = MARGIN if column_left else MARGIN + PANEL + GUTTER
    low = MARGIN + len(sheet.key) * ROW + GUTTER
    panel = Box(x=x, y=low, width=PANEL, height=sheet.closeups_top - low)
    inside = x + COLUMN if column_left else x
    window = Box(x=inside, y=low, width=PANEL - COLUMN, height=WINDOW)
    pen = opened_pen(figure, panel, window, detail.view, hand)
    draw_cut(pen, detail.cut, ghost=not detail.pose.closed)
    pen.pin(page(sheet.corners[0].pin), assembly.scene.hinge.barrel * 0.8)
    pen.frame(detail.view.low, detail.view.high, width=1.2)
    row = (TITLE_ROW / 2 + (sheet.band if sheet.home else 0.0)) * 72
    title = f"{detail.letter}   {detail.title}"
    write_title(pen, detail.view, title, assembly.scene.unit, above=row)
    corner = Corner(assembly=assembly, view=detail.view, column=COLUMN * 72 - 8.0)
    if at_hinge:
        write_hinge_corner(pen, corner, sheet.corners[0])
    else:
        found = strike_corner(assembly, detail.pose, detail.cut.height)
        write_strike_corner(pen, corner, found)
    here = sheet.home == detail.letter
    _mark_contact(pen, sheet, detail.view, detail.pose, here=here)


def _mark_contact(pen: Pen, sheet: _Sheet, view: View, pose: Pose, *, here: bool) -> None:
    """Ring the contact where the view shows it; ``here``: say what touches, in its band."""
    at = page(pose.touch.point[:2]) if pose.touch is not None else None
    if at is not None and view.shows(at):
        pen.contact(at, seated=pose.seated)
    if here and sheet.contact:
        color = contact_colour(seated=pose.seated)
        write_contact(pen, view, at, sheet.contact, color)
