"""Two scenes on one page, side by side and at one scale: corners, margins, clearance charts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from swingcheck.palette import FRAME_LINE, QUIET
from swingcheck.render.chart.draw import BELOW, LABEL_ROW, chart_end, draw_chart, label_rows
from swingcheck.render.chart.lines import chart_data
from swingcheck.render.compare.sides import Side, common_views, differing
from swingcheck.render.margins.bands import class_words, gap_material, map_data
from swingcheck.render.margins.draw import draw_map, map_scale
from swingcheck.render.pen.figure import (
    GUTTER,
    INNER,
    MARGIN,
    PIXELS,
    WIDTH,
    Heading,
    blank_figure,
    figure_bytes,
    heading,
)
from swingcheck.render.pen.key import ROW, KeyItem, draw_key, key_items, key_rows
from swingcheck.render.pen.lettering import LEADING, SIZE, font
from swingcheck.render.pen.panel import Box, contact_lines, contact_room
from swingcheck.render.pen.words import contact_words
from swingcheck.render.plan.corners import (
    COLUMN,
    TITLE_ROW,
    Corners,
    column_on_left,
    corners_of,
    draw_detail,
)

BETWEEN = 0.5
HALF = (INNER - BETWEEN) / 2
CORNER, PLOT, MAP = 4.4, 3.0, 7.4
"""Heights of a close-up's window, a chart's plot and a margin map, inches."""

CAPTION = 14.0
NAME_ROW = SIZE * LEADING / 72

CORNERS, CHART, MARGINS = "corners", "chart", "margins"

Sides = tuple[Side, Side]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Row:
    """A row of the page: its height, what draws one half into a box, and its key's entries."""

    height: float
    draw: Callable[[Any, int, Box], None]
    key: tuple[KeyItem, ...] = ()


def compare_sheet(
    sides: Sides, rows: Sequence[str], kind: str = "png", pixels: int = PIXELS
) -> bytes:
    """Return two scenes side by side as a file's bytes.

    Parameters
    ----------
    sides : (Side, Side)
        The scenes as they are shown.
    rows : sequence of str
        What is shown of them, downward: ``corners``, ``chart``, ``margins``.
    kind : str
        ``png``, ``svg`` or ``pdf``.
    pixels : int
        Width of a PNG.
    """
    return figure_bytes(compare_figure(sides, rows), kind, pixels)


def compare_figure(sides: Sides, rows: Sequence[str]) -> Any:
    """Return two scenes side by side as a matplotlib figure."""
    made = [row for name in rows for row in ROWS[name](sides)]
    heads = [heading(side.subject.caption, side.moment, HALF, CAPTION) for side in sides]
    items = {item.words: item for row in made for item in row.key}
    key = key_rows(list(items.values()), INNER) if items else []
    top = NAME_ROW + max(head.height for head in heads)
    body = sum(row.height + GUTTER for row in made)
    height = 2 * MARGIN + top + body + len(key) * ROW
    figure = blank_figure(WIDTH, height)
    for k, (side, head) in enumerate(zip(sides, heads, strict=True)):
        _write_head(figure, side, head, _left(k), height - MARGIN)
    y = height - MARGIN - top
    _divide(figure, MARGIN + len(key) * ROW, height - MARGIN)
    for row in made:
        y -= row.height
        for k in range(2):
            row.draw(figure, k, Box(x=_left(k), y=y, width=HALF, height=row.height))
        y -= GUTTER
    if key:
        draw_key(figure, Box(x=MARGIN, y=MARGIN, width=INNER, height=len(key) * ROW), key)
    return figure


def _left(k: int) -> float:
    """Return where a half begins, inches from the left."""
    return MARGIN + k * (HALF + BETWEEN)


def _write_head(figure: Any, side: Side, head: Heading, x: float, top: float) -> None:
    """Write a side's name, its verdict under it, and when it is drawn."""
    width, height = (float(each) for each in figure.get_size_inches())
    figure.text(
        x / width,
        (top - NAME_ROW + SIZE * 0.3 / 72) / height,
        side.name,
        fontproperties=font(SIZE, bold=True),
        color=QUIET,
        va="baseline",
        parse_math=False,
    )
    head.write(figure, x, top - NAME_ROW)


def _divide(figure: Any, low: float, high: float) -> None:
    from matplotlib.lines import Line2D

    width, height = (float(each) for each in figure.get_size_inches())
    x = WIDTH / 2 / width
    figure.add_artist(
        Line2D(
            [x, x],
            [low / height, high / height],
            color=FRAME_LINE,
            lw=1.0,
            transform=figure.transFigure,
        )
    )


def _corner_rows(sides: Sides) -> list[_Row]:
    window = Box(x=0.0, y=0.0, width=HALF - COLUMN, height=CORNER)
    first, second = (corners_of(side.subject, window) for side in sides)
    poses = [side.subject.pose for side in sides]
    letters = differing(first, second, poses)
    return [_corner_row(sides, (first, second), letter, window) for letter in letters]


def _corner_row(sides: Sides, both: tuple[Corners, Corners], letter: str, window: Box) -> _Row:
    """Return the row that shows one corner of both."""
    views = common_views(both[0], both[1], letter, window)
    lines = [_said(side, each, letter) for side, each in zip(sides, both, strict=True)]
    band = max(contact_room(each) / 72 if each else 0.0 for each in lines)

    def draw(figure: Any, k: int, box: Box) -> None:
        corners, subject = both[k], sides[k].subject
        detail = replace(corners.details["AB".index(letter)], view=views[k])
        inside = box.x + (COLUMN if column_on_left(subject.assembly, detail) else 0.0)
        opened = replace(window, x=inside, y=box.y)
        draw_detail(figure, box, opened, subject, corners, detail, lines[k])

    shown = zip(sides, both, strict=True)
    key = [item for side, each in shown for item in key_items(each.cut, side.subject.pose)]
    return _Row(height=CORNER + TITLE_ROW + band, draw=draw, key=tuple(key))


def _said(side: Side, corners: Corners, letter: str) -> tuple[str, ...]:
    """Return the contact's sentence as lines, where this corner shows it."""
    pose = side.subject.pose
    if corners.home(pose) != letter:
        return ()
    unit = side.subject.assembly.scene.unit
    return contact_lines(contact_words(pose, corners.cut.height, unit), HALF * 72)


def _chart_rows(sides: Sides) -> list[_Row]:
    charts = [chart_data(side.subject.assembly, side.result) for side in sides]
    high = chart_end(*charts)
    rows = max(label_rows(chart, HALF) for chart in charts)

    def draw(figure: Any, k: int, box: Box) -> None:
        draw_chart(figure, box, charts[k], high=high, rows=rows)

    return [_Row(height=PLOT + BELOW + rows * LABEL_ROW, draw=draw)]


def _margin_rows(sides: Sides) -> list[_Row]:
    maps = [map_data(side.subject.assembly) for side in sides]
    scale = map_scale(maps, Box(x=0.0, y=0.0, width=HALF, height=MAP))

    def draw(figure: Any, k: int, box: Box) -> None:
        draw_map(figure, box, maps[k], scale)

    scales = tuple(
        KeyItem(words=words, material=gap_material(kind))
        for kind, words in class_words(maps[0].unit)
    )
    return [_Row(height=MAP, draw=draw, key=scales)]


ROWS: dict[str, Callable[[Sides], list[_Row]]] = {
    CORNERS: _corner_rows,
    CHART: _chart_rows,
    MARGINS: _margin_rows,
}
"""What a page can show of two scenes, and how its rows are made."""
