"""Two scenes on one page, side by side and at one scale: corners, margins, clearance charts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.palette import FRAME_LINE
from swingcheck.render.chart.draw import BELOW, LABEL_ROW, draw_chart, label_rows
from swingcheck.render.chart.lines import chart_data
from swingcheck.render.compare.sides import Side, common_views, differing
from swingcheck.render.margins.bands import map_data, scale_items
from swingcheck.render.margins.draw import draw_map, map_scale
from swingcheck.render.pen.key import KeyItem, key_items
from swingcheck.render.pen.page import GUTTER, INNER, Page, heading
from swingcheck.render.pen.panel import Box, contact_lines, contact_room, paper_pen
from swingcheck.render.pen.words import contact_words
from swingcheck.render.plan.corners import TITLE_ROW, corners_of, draw_detail, window_box

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
