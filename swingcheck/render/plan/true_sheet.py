"""The two corners at true scale, on paper to be printed, with a ruler to prove it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import INK, QUIET
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.page import Page, heading, key_items
from swingcheck.render.pen.panel import Box, View, contact_lines, contact_room, paper_pen
from swingcheck.render.pen.subject import Subject
from swingcheck.render.pen.words import contact_words, section_words
from swingcheck.render.plan.corners import (
    TITLE_ROW,
    Corners,
    corners_of,
    draw_both,
    half_panels,
    window_box,
)
from swingcheck.units import MM_PER_INCH

EDGE = 0.5
"""Nothing is drawn nearer to the paper's edge, where printers do not reach, inches."""

LOWER = 0.08
"""A window is moved so far to the pull side, where labels stand, inches."""

CAPTION = 14.0
OVER_KEY = 0.1
"""The headline's size, points, and the room over the key, inches: paper is scarce."""

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


def true_figure(subject: Subject, paper: str = "letter") -> Any:
    """Return both corners at true scale as a matplotlib figure as large as its paper.

    ``paper`` is ``letter`` or ``a4``; corners that do not fit are drawn on ledger or A3.
    """
    laid = [_laid_out(subject, each) for each in PAPERS[paper]]
    page, corners, lines, tall = next((each for each in laid if _fits(each[1])), laid[-1])
    band = contact_room(lines)
    figure, box = page.opened(TITLE_ROW + tall + band)
    window = window_box(half_panels(box)[0], tall)
    details = [replace(each, view=_true_view(each.view, window)) for each in corners.details]
    draw_both(figure, box, tall, corners, details, lines)
    _draw_ruler(figure, Box(x=EDGE, y=EDGE, width=page.inner, height=RULER))
    return figure


def _laid_out(subject: Subject, paper: Paper) -> tuple[Page, Corners, tuple[str, ...], float]:
    """Return what stands on a paper, and the height that it leaves for a corner, inches."""
    rough = corners_of(subject, Box(x=0.0, y=0.0, width=1.0, height=1.0))
    height, inner = rough.cut.height, paper.width - 2 * EDGE
    words = f"True scale. {section_words(subject, height)}"
    page = Page(
        headings=(heading(subject.caption, words, inner, CAPTION),),
        key=key_items(rough.cut, subject.pose),
        width=paper.width,
        margin=EDGE,
        over_key=OVER_KEY,
        foot=RULER,
    )
    half = half_panels(Box(x=EDGE, y=page.low, width=inner, height=0.0))[0]
    lines = contact_lines(contact_words(subject, height), half.width * 72)
    band = contact_room(lines)
    tall = paper.height - page.around - TITLE_ROW - band
    window = window_box(half, tall)
    corners = corners_of(subject, window)
    if corners.details[1].view.scale < 1.0:
        corners = corners_of(subject, window, shown=0.0)
    return page, corners, lines, tall


def _fits(corners: Corners) -> bool:
    """Return whether both corners are shown whole at true scale."""
    return all(detail.view.scale >= 1.0 for detail in corners.details)


def _true_view(view: View, window: Box) -> View:
    """Return the view about the same place whose inches are inches of paper."""
    middle: Floats = (view.low + view.high) / 2 - np.array([0.0, LOWER])
    half = np.array([window.width, window.height]) / 2
    return View(low=middle - half, high=middle + half, scale=1.0)


def _draw_ruler(figure: Any, box: Box) -> None:
    """Draw a ruler in inches with one in millimetres under it."""
    pen = paper_pen(figure, box)
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
