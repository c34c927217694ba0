"""The plan sheet: verdict, overall plan, two close-ups and the key, on one page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from swingcheck.render.pen.figure import (
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
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.key import ROW, KeyItem, draw_key, key_items, key_rows
from swingcheck.render.pen.panel import Box, View, contact_lines, contact_room, draw_cut, opened_pen
from swingcheck.render.pen.words import contact_words, section_words
from swingcheck.render.plan.corners import (
    COLUMN,
    TITLE_ROW,
    Corners,
    Detail,
    column_on_left,
    corners_of,
    draw_detail,
    mark_contact,
    plan_hand,
)
from swingcheck.render.plan.overview import (
    Swing,
    overview_height,
    overview_view,
    swing_arc,
    write_overview,
)

PANEL = (INNER - GUTTER) / 2
WINDOW = 5.2
TALLEST = 6.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sheet:
    """Everything that is worked out before a line is drawn.

    ``home`` is the view that shows the contact: ``A``, ``B``, or empty for
    the overall plan; ``contact`` its words as lines. ``heights`` are those of
    the heading, the overall plan, the band over the close-ups and the key.
    """

    subject: Subject
    corners: Corners
    swing: Swing
    overview: View
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
    for detail in sheet.corners.details:
        _draw_closeup(figure, sheet, detail)
    foot = Box(x=MARGIN, y=MARGIN, width=INNER, height=len(sheet.key) * ROW)
    draw_key(figure, foot, sheet.key)
    return figure


def _laid_out(subject: Subject) -> _Sheet:
    assembly, pose = subject.assembly, subject.pose
    window = Box(x=0.0, y=0.0, width=PANEL - COLUMN, height=WINDOW)
    corners = corners_of(subject, window)
    swing = swing_arc(corners.hinge, corners.strike, assembly, pose)
    area = Box(x=0.0, y=0.0, width=INNER, height=TALLEST)
    home = corners.home(pose)
    words = contact_words(pose, corners.cut.height, assembly.scene.unit)
    return _Sheet(
        subject=subject,
        corners=corners,
        swing=swing,
        overview=overview_view(corners.hinge, corners.strike, swing, assembly, area),
        home=home,
        contact=contact_lines(words, (PANEL if home else INNER) * 72),
        heading=heading(subject.caption, section_words(assembly, corners.cut, pose), INNER),
        key=key_rows(key_items(corners.cut, pose), INNER),
    )


def _draw_overview(figure: Any, sheet: _Sheet) -> None:
    view, subject, corners = sheet.overview, sheet.subject, sheet.corners
    top = sheet.height - MARGIN - sheet.heading.height
    tall = overview_height(view)
    here = sheet.band if not sheet.home else 0.0
    window = Box(x=MARGIN, y=top - here - tall, width=INNER, height=tall)
    panel = Box(x=MARGIN, y=window.y, width=INNER, height=tall + here)
    pen = opened_pen(figure, panel, window, view, plan_hand(subject.assembly))
    draw_cut(pen, corners.cut, ghost=not subject.pose.closed)
    pen.pin(page(corners.hinge.pin), pen.points(13.0))
    details = [(detail.letter, detail.view) for detail in corners.details]
    write_overview(
        pen, view, subject.assembly, (corners.hinge, corners.strike), sheet.swing, details
    )
    mark_contact(pen, view, subject.pose, () if sheet.home else sheet.contact)


def _draw_closeup(figure: Any, sheet: _Sheet, detail: Detail) -> None:
    column_left = column_on_left(sheet.subject.assembly, detail)
    x = MARGIN if column_left else MARGIN + PANEL + GUTTER
    low = MARGIN + len(sheet.key) * ROW + GUTTER
    panel = Box(x=x, y=low, width=PANEL, height=sheet.closeups_top - low)
    inside = x + COLUMN if column_left else x
    window = Box(x=inside, y=low, width=PANEL - COLUMN, height=WINDOW)
    lines = sheet.contact if sheet.home == detail.letter else ()
    draw_detail(figure, panel, window, sheet.subject, sheet.corners, detail, lines)
