"""The plan sheet: verdict, the whole opening, two close-ups and the key, on one page."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import QUIET
from swingcheck.render.pen.ink import Pen, page
from swingcheck.render.pen.lettering import LEADING, SIZE
from swingcheck.render.pen.page import GUTTER, key_items, plain_page
from swingcheck.render.pen.panel import (
    Box,
    View,
    contact_lines,
    contact_room,
    draw_cut,
    opened_pen,
    snug_view,
)
from swingcheck.render.pen.section import plan_hand
from swingcheck.render.pen.subject import Subject
from swingcheck.render.pen.words import contact_words, section_words
from swingcheck.render.plan.closeups import OPENING_SHOWN
from swingcheck.render.plan.corners import (
    TITLE_ROW,
    Corners,
    corners_of,
    draw_both,
    half_panels,
    mark_contact,
    window_box,
)
from swingcheck.swing.found import Point
from swingcheck.units import length_text

BESIDE = 2.2
"""Wall shown beyond the jamb, inches."""

SHOWN_SWING = radians(13.0)
"""The swing is drawn at least this far open."""

AROUND_CONTACT = 2.0
"""Shown about a contact that is beyond the swing, inches."""

ROW = 24.0
"""Room for a row of words, points."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Swing:
    """The strike edge's way, page inches: ``arc`` (n, 2) from closed outward."""

    arc: Floats
    centre: Floats


def swing_arc(corners: Corners, angle: float | None = None) -> Swing:
    """Return the arc that the strike edge's wide-face arris runs on, as far as an angle, radians.

    As far as the pose and a little more, where none is asked for.
    """
    assembly, shown = corners.subject.assembly, corners.subject.pose.angle
    if angle is None:
        wanted = assembly.scene.swing.wanted
        far = max(abs(shown), min(wanted, max(SHOWN_SWING, 1.3 * abs(shown))))
        angle = -far if shown < 0 or corners.subject.push else far
    arris = np.append(corners.strike.opening.start, corners.cut.height)[None]
    turns = np.linspace(0.0, angle, 90)
    arc = np.concatenate([assembly.axis.turned_points(arris, turn)[:, :2] for turn in turns])
    return Swing(arc=page(arc), centre=page(corners.hinge.pin))


def overview_view(corners: Corners, swing: Swing, box: Box, contact: Point | None = None) -> View:
    """Return the view that shows the whole opening, the swing and a contact, as large as fits.

    The view is no taller than it has to be: its height may be less than the box's.
    """
    scene = corners.subject.assembly.scene
    beside = scene.opening.thickness + BESIDE
    hinge, leg = page(corners.hinge.margin.start), page(corners.strike.leg)
    aside = np.array([1.0, 0.0])
    reach = [swing.arc.min(axis=0) - aside, swing.arc.max(axis=0) + aside]
    if contact is not None:
        reach += [page(contact[:2]) + side for side in (-AROUND_CONTACT, AROUND_CONTACT)]
    least, most = np.min(reach, axis=0), np.max(reach, axis=0)
    left, right = min(hinge[0] - beside, least[0]), max(leg[0] + beside, most[0])
    push = max(hinge[1] + scene.opening.depth, leg[1] + scene.opening.depth, most[1])
    pull = min(float(least[1]), float(swing.centre[1]) - scene.hinge.barrel)
    points = (right - left) / (box.width * 72)
    low, high = [left, pull - 1.3 * ROW * points], [right, push + 0.4 * ROW * points]
    return snug_view(low, high, box)


def write_overview(pen: Pen, view: View, corners: Corners, swing: Swing) -> None:
    """Write the sides, the opening's width, the swing and the close-ups' frames."""
    scene = corners.subject.assembly.scene
    hinge, strike = page(corners.hinge.margin.start), page(corners.strike.leg)
    middle = (hinge[0] + strike[0]) / 2
    depth, rabbet = scene.opening.depth, max(scene.opening.rabbet.hinge)
    height = rabbet + (depth - rabbet) * 0.72
    ends = [np.array([leg[0], height]) for leg in (hinge, strike)]
    pen.span(ends[0], ends[1])
    words = f"opening {length_text(float(strike[0] - hinge[0]), scene.unit)}"
    pen.text((ends[0] + ends[1]) / 2, words, bold=True, backed=True)
    pen.text([middle, rabbet + (depth - rabbet) * 0.3], "push side", color=QUIET, backed=True)
    pen.text([middle, view.low[1] + pen.points(0.6 * ROW)], "pull side", color=QUIET, backed=True)
    pen.line(list(swing.arc), width=1.1, color=QUIET, clipped=True, halo=False)
    pen.arrow(swing.arc[-1], swing.arc[-1] - swing.arc[-2], color=QUIET)
    for detail in corners.details:
        low, high = detail.view.low, detail.view.high
        pen.frame(low, high, width=1.1)
        x = low[0] + pen.points(7.0) if detail.letter == "A" else high[0] - pen.points(7.0)
        tag = [x, low[1] - pen.points(11.0)]
        pen.text(tag, detail.letter, bold=True, size=13.0, color=QUIET, backed=True)
    opening = corners.strike.opening
    if opening.length > OPENING_SHOWN:
        _write_opening(pen, scene.unit, opening.length, page(opening.start), page(opening.end))


def _write_opening(pen: Pen, unit: str, length: float, start: Floats, end: Floats) -> None:
    """Dimension a wide opening at the strike edge, its words inside the swing."""
    pen.span(start, end)
    chord = end - start
    inward = np.array([chord[1], -chord[0]]) / np.linalg.norm(chord)
    inward *= -1.0 if inward[0] > 0 else 1.0
    at, side = (start + end) / 2 + inward * pen.points(10.0), -1.0
    if end[0] < 0.25 * start[0]:
        at, side = start + 0.3 * chord - np.array([0.0, pen.points(26.0)]), 0.0
    step = pen.points(SIZE * LEADING)
    lines = ("opening at the strike edge", length_text(length, unit))
    for k, line in enumerate(lines):
        where = at + np.array([0.0, step * (0.5 - k)])
        pen.text(where, line, side=side, bold=k == 1, backed=True)


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
    tall = view.height
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
