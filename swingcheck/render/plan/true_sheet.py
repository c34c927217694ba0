"""The two corners at true scale, on paper to be printed, with a ruler to prove it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import INK, QUIET
from swingcheck.render.pen.figure import (
    GUTTER,
    PIXELS,
    Heading,
    Subject,
    blank_figure,
    figure_bytes,
    heading,
)
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.key import ROW, KeyItem, draw_key, key_items, key_rows
from swingcheck.render.pen.panel import Box, View, contact_lines, contact_room, opened_pen
from swingcheck.render.pen.words import contact_words, section_words
from swingcheck.render.plan.corners import (
    COLUMN,
    TITLE_ROW,
    Corners,
    Detail,
    column_on_left,
    corners_of,
    draw_detail,
)
from swingcheck.units import MM_PER_INCH

EDGE = 0.5
"""Nothing is drawn nearer to the paper's edge, where printers do not reach, inches."""

LOWER = 0.08
"""A window is moved so far to the pull side, where labels stand, inches."""

CAPTION = 14.0
RULER, ZERO = 0.72, 0.08
RULER_INCHES, RULER_MM = 6, 150


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet laid down: its name, width and height in inches."""

    name: str
    width: float
    height: float


PAPERS = {
    "letter": (
        Paper(name="letter", width=11.0, height=8.5),
        Paper(name="ledger", width=17.0, height=11.0),
    ),
    "a4": (
        Paper(name="A4", width=297 / MM_PER_INCH, height=210 / MM_PER_INCH),
        Paper(name="A3", width=420 / MM_PER_INCH, height=297 / MM_PER_INCH),
    ),
}
"""Papers by what they are asked for as, and the next larger one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sheet:
    """What is worked out before a line is drawn; heights on paper in inches."""

    paper: Paper
    subject: Subject
    corners: Corners
    heading: Heading
    key: list[list[KeyItem]]
    home: str
    contact: tuple[str, ...]
    window: Box

    @property
    def panel(self) -> float:
        return _panel(self.paper)

    @property
    def foot(self) -> float:
        """Where the windows begin, from the bottom."""
        return EDGE + RULER + len(self.key) * ROW + 0.1

    @property
    def top(self) -> float:
        """Where the panels end, from the bottom."""
        return self.paper.height - EDGE - self.heading.height

    @property
    def fits(self) -> bool:
        """Whether both corners are shown whole."""
        return all(detail.view.scale >= 1.0 for detail in self.corners.details)


def true_sheet(
    subject: Subject, paper: str = "letter", kind: str = "pdf", pixels: int = PIXELS
) -> bytes:
    """Return both corners at true scale as a file's bytes.

    Parameters
    ----------
    subject : Subject
        What to draw.
    paper : str
        ``letter`` or ``a4``; corners that do not fit are drawn on ledger or A3.
    kind : str
        ``pdf`` or ``svg``, which have a size on paper; a ``png`` says its own
        and is for looking at.
    pixels : int
        Width of a PNG.
    """
    return figure_bytes(true_figure(subject, paper), kind, pixels, sized=True)


def true_figure(subject: Subject, paper: str = "letter") -> Any:
    """Return both corners at true scale as a matplotlib figure as large as its paper."""
    sheets = (_laid_out(subject, each) for each in PAPERS[paper])
    sheet = next((found for found in sheets if found.fits), None)
    if sheet is None:
        sheet = _laid_out(subject, PAPERS[paper][-1])
    figure = blank_figure(sheet.paper.width, sheet.paper.height)
    sheet.heading.write(figure, EDGE, sheet.paper.height - EDGE)
    for detail in sheet.corners.details:
        _draw_corner(figure, sheet, detail)
    inner = sheet.paper.width - 2 * EDGE
    key_box = Box(x=EDGE, y=EDGE + RULER, width=inner, height=len(sheet.key) * ROW)
    draw_key(figure, key_box, sheet.key)
    _draw_ruler(figure, Box(x=EDGE, y=EDGE, width=inner, height=RULER), subject)
    return figure


def _panel(paper: Paper) -> float:
    return (paper.width - 2 * EDGE - GUTTER) / 2


def _laid_out(subject: Subject, paper: Paper) -> _Sheet:
    inner, unit = paper.width - 2 * EDGE, subject.assembly.scene.unit
    rough = corners_of(subject, Box(x=0.0, y=0.0, width=1.0, height=1.0))
    words = f"True scale. {section_words(subject.assembly, rough.cut, subject.pose)}"
    head = heading(subject.caption, words, inner, CAPTION)
    key = key_rows(key_items(rough.cut, subject.pose), inner)
    said = contact_words(subject.pose, rough.cut.height, unit)
    lines = contact_lines(said, _panel(paper) * 72)
    window = _window(paper, head, key, contact_room(lines) / 72 if lines else 0.0)
    corners = corners_of(subject, window)
    if corners.details[1].view.scale < 1.0:
        corners = corners_of(subject, window, shown=0.0)
    return _Sheet(
        paper=paper,
        subject=subject,
        corners=corners,
        heading=head,
        key=key,
        home=corners.home(subject.pose),
        contact=lines,
        window=window,
    )


def _window(paper: Paper, head: Heading, key: Sequence[Sequence[KeyItem]], band: float) -> Box:
    """Return the paper that is left for each corner."""
    above = head.height + band + TITLE_ROW
    below = RULER + len(key) * ROW + 0.1
    return Box(
        x=0.0,
        y=0.0,
        width=_panel(paper) - COLUMN,
        height=paper.height - 2 * EDGE - above - below,
    )


def _draw_corner(figure: Any, sheet: _Sheet, detail: Detail) -> None:
    left = column_on_left(sheet.subject.assembly, detail)
    x = EDGE if left else EDGE + sheet.panel + GUTTER
    panel = Box(x=x, y=sheet.foot, width=sheet.panel, height=sheet.top - sheet.foot)
    window = replace(sheet.window, x=x + COLUMN if left else x, y=sheet.foot)
    lines = sheet.contact if sheet.home == detail.letter else ()
    true = replace(detail, view=_true_view(detail.view, window))
    draw_detail(figure, panel, window, sheet.subject, sheet.corners, true, lines)


def _true_view(view: View, window: Box) -> View:
    """Return the view about the same place whose inches are inches of paper."""
    middle: Floats = (view.low + view.high) / 2 - np.array([0.0, LOWER])
    half = np.array([window.width, window.height]) / 2
    return View(low=middle - half, high=middle + half, scale=1.0)


def _draw_ruler(figure: Any, box: Box, subject: Subject) -> None:
    """Draw a ruler in inches with one in millimetres under it."""
    view = View(low=np.zeros(2), high=np.array([box.width, box.height]), scale=1.0)
    pen = opened_pen(figure, box, box, view, 1.0)
    middle = 0.3
    length = max(RULER_INCHES, RULER_MM / MM_PER_INCH)
    ends = [np.array([ZERO + x, middle]) for x in (0.0, length)]
    pen.line(ends, color=INK, width=1.0, halo=False)
    for k in range(RULER_INCHES * 16 + 1):
        size = next(s for step, s in ((16, 0.16), (8, 0.11), (4, 0.08), (1, 0.05)) if k % step == 0)
        _tick(pen, k / 16, middle, size, f"{k // 16}" if k % 16 == 0 else "")
    for k in range(RULER_MM + 1):
        size = next(s for step, s in ((10, 0.12), (5, 0.09), (1, 0.05)) if k % step == 0)
        _tick(pen, k / MM_PER_INCH, middle, -size, f"{k}" if k % 20 == 0 and k else "")
    lines = ("Print at 100 %, not fitted to the page.", "Measure this ruler before anything else.")
    for line, y in zip(lines, (middle + 0.1, middle - 0.1), strict=True):
        pen.text([ZERO + length + 0.3, y], line, side=1.0, color=INK)


def _tick(pen: Pen, x: float, y: float, size: float, words: str) -> None:
    x += ZERO
    pen.line([np.array([x, y]), np.array([x, y + size])], color=INK, width=0.6, halo=False)
    if words:
        over = 0.24 if size > 0 else -0.22
        pen.text([x, y + over], words, size=9.0, color=QUIET)
