"""The plan sheet: verdict, overall plan, two close-ups and the key, on one page."""

from __future__ import annotations

from typing import Any

from swingcheck.render.pen.ink import page
from swingcheck.render.pen.key import key_items
from swingcheck.render.pen.page import GUTTER, plain_page
from swingcheck.render.pen.panel import Box, contact_lines, contact_room, draw_cut, opened_pen
from swingcheck.render.pen.subject import Subject
from swingcheck.render.pen.words import contact_words, section_words
from swingcheck.render.plan.corners import (
    TITLE_ROW,
    corners_of,
    draw_both,
    half_panels,
    mark_contact,
    plan_hand,
    window_box,
)
from swingcheck.render.plan.overview import (
    overview_height,
    overview_view,
    swing_arc,
    write_overview,
)

WINDOW = 5.2
"""Height of a close-up's window, inches."""

TALLEST = 6.5
"""The overall plan is no taller than this, inches."""


def plan_figure(subject: Subject) -> Any:
    """Return the plan sheet as a matplotlib figure on a canvas that needs no display."""
    sheet = plain_page(subject.caption, "")
    panel = half_panels(Box(x=0.0, y=0.0, width=sheet.inner, height=WINDOW))[0]
    corners = corners_of(subject, window_box(panel, WINDOW))
    said = contact_words(subject, corners.cut.height)
    lines = contact_lines(said, (panel.width if corners.home else sheet.inner) * 72)
    band = contact_room(lines)
    swing = swing_arc(corners)
    area = Box(x=0.0, y=0.0, width=sheet.inner, height=TALLEST)
    view = overview_view(corners, swing, area, subject.pose.at)
    words = section_words(subject, corners.cut.height)
    sheet = plain_page(subject.caption, words, key_items(corners.cut, subject.pose))
    low = TITLE_ROW + WINDOW + (band if corners.home else 0.0)
    tall = overview_height(view)
    figure, box = sheet.opened(low + GUTTER + tall + (0.0 if corners.home else band))
    closeups = Box(x=box.x, y=box.y, width=box.width, height=low)
    y = box.y + low + GUTTER
    window = Box(x=box.x, y=y, width=box.width, height=tall)
    around = Box(x=box.x, y=y, width=box.width, height=box.y + box.height - y)
    pen = opened_pen(figure, around, window, view, plan_hand(subject.assembly))
    draw_cut(pen, corners.cut, ghost=not subject.pose.closed)
    pen.pin(page(corners.hinge.pin), pen.points(13.0))
    write_overview(pen, view, corners, swing)
    mark_contact(pen, view, subject.pose, () if corners.home else lines)
    draw_both(figure, closeups, WINDOW, corners, corners.details, lines)
    return figure
