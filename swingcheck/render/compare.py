"""Two scenes on one page, side by side and at one scale: corners, margins, clearance charts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, assemble
from swingcheck.geometry.section import kept_half
from swingcheck.geometry.solid import Floats
from swingcheck.palette import FRAME_LINE
from swingcheck.render.chart.draw import BELOW, LABEL_ROW, draw_chart, label_rows
from swingcheck.render.chart.lines import HIGHEST, chart_data
from swingcheck.render.margins.bands import map_data, scale_items
from swingcheck.render.margins.sheet import draw_map, map_scale
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.page import GUTTER, INNER, KeyItem, Page, heading, key_items
from swingcheck.render.pen.panel import (
    Box,
    View,
    contact_lines,
    contact_room,
    fitted_view,
    paper_pen,
)
from swingcheck.render.pen.subject import SAME_ANGLE_RAD, Pose, Subject, subject_of
from swingcheck.render.pen.words import contact_words, moment_words
from swingcheck.render.plan.corners import (
    TITLE_ROW,
    Corners,
    Detail,
    corners_of,
    draw_detail,
    window_box,
)
from swingcheck.swing.by_angle import turning_gaps
from swingcheck.swing.found import Found
from swingcheck.units import length_text
from swingcheck.units.words import the

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
        return f"{the(wanted)} is more than {length_text(within, unit)} off"
    return f"it clears {the(wanted)} by {length_text(gap, unit)}"


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


BETWEEN = 0.5
HALF = (INNER - BETWEEN) / 2
"""What parts the two halves, and the width of each, inches."""

CORNER, PLOT, MAP = 4.4, 3.0, 7.4
"""Heights of a close-up's window, a chart's plot and a margin map, inches."""

CAPTION = 14.0
CORNERS, CHART, MARGINS = "corners", "chart", "margins"

Sides = tuple[Side, Side]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Row:
    """A row of the page: its height, what draws one half into a box, and its key's entries."""

    height: float
    draw: Callable[[Any, int, Box], None]
    key: tuple[KeyItem, ...] = ()


def compare_figure(sides: Sides, rows: Sequence[str]) -> Any:
    """Return two scenes side by side as a matplotlib figure.

    ``rows`` are what is shown of them, downward: ``corners``, ``chart``, ``margins``.
    """
    made = [row for name in rows for row in ROWS[name](sides)]
    page = Page(
        headings=tuple(
            heading(side.subject.caption, side.moment, HALF, CAPTION, side.name) for side in sides
        ),
        key=tuple({item.words: item for row in made for item in row.key}.values()),
        between=BETWEEN,
    )
    figure, box = page.opened(sum(row.height for row in made) + GUTTER * (len(made) - 1))
    pen = paper_pen(figure, box)
    top = box.height + max(head.height for head in page.headings)
    middle = [np.array([box.width / 2, y]) for y in (0.0, top)]
    pen.line(middle, color=FRAME_LINE, width=1.0, halo=False)
    y = box.y + box.height
    for row in made:
        y -= row.height
        for k in range(2):
            x, wide = page.column(k)
            row.draw(figure, k, Box(x=x, y=y, width=wide, height=row.height))
        y -= GUTTER
    return figure


def _corner_rows(sides: Sides) -> list[_Row]:
    """Return a row for each corner that is worth comparing."""
    window = window_box(Box(x=0.0, y=0.0, width=HALF, height=CORNER), CORNER)
    first, second = (corners_of(side.subject, window) for side in sides)
    both = first, second
    key = [item for each in both for item in key_items(each.cut, each.subject.pose)]

    def row(letter: str) -> _Row:
        views = common_views(first, second, letter, window)
        lines = [
            contact_lines(contact_words(each.subject, each.cut.height), HALF * 72)
            if each.home == letter
            else ()
            for each in both
        ]
        band = max(contact_room(said) for said in lines)

        def draw(figure: Any, k: int, box: Box) -> None:
            detail = replace(both[k].details["AB".index(letter)], view=views[k])
            draw_detail(figure, box, CORNER, both[k], detail, lines[k])

        return _Row(height=CORNER + TITLE_ROW + band, draw=draw, key=tuple(key))

    return [row(letter) for letter in differing(first, second)]


def _chart_rows(sides: Sides) -> list[_Row]:
    charts = [chart_data(side.subject) for side in sides]
    high = max(chart.high for chart in charts)
    rows = max(label_rows(chart, HALF) for chart in charts)

    def draw(figure: Any, k: int, box: Box) -> None:
        draw_chart(figure, box, charts[k], high=high, rows=rows)

    return [_Row(height=PLOT + BELOW + rows * LABEL_ROW, draw=draw)]


def _margin_rows(sides: Sides) -> list[_Row]:
    maps = [map_data(side.assembly) for side in sides]
    scale = map_scale(maps, Box(x=0.0, y=0.0, width=HALF, height=MAP))

    def draw(figure: Any, k: int, box: Box) -> None:
        draw_map(figure, box, maps[k], scale)

    return [_Row(height=MAP, draw=draw, key=scale_items(maps[0].unit))]


ROWS: dict[str, Callable[[Sides], list[_Row]]] = {
    CORNERS: _corner_rows,
    CHART: _chart_rows,
    MARGINS: _margin_rows,
}
"""What a page can show of two scenes, and how its rows are made."""
