"""Clearance against the swing angle, drawn: lines, contact, least, and which part is nearest.

It is drawn on paper inches. The angle's scale is a square root, so that the
last degrees before closed, where slabs pinch and strike, have room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, sqrt
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import FRAME_LINE, INK, PAPER, QUIET, Material
from swingcheck.render.chart.lines import ChartData, PartLine, angle_at_opening
from swingcheck.render.pen.ink import Pen, contact_colour
from swingcheck.render.pen.lettering import Label, stacked, text_width
from swingcheck.render.pen.page import plain_page
from swingcheck.render.pen.panel import Box, paper_pen
from swingcheck.render.pen.words import bare_length
from swingcheck.units import MM_PER_INCH, angle_text, length_text
from swingcheck.units.words import listed_parts

PLOT = 4.6
"""Height of the plot itself where a chart has a page to itself, inches."""

SUBTITLE = (
    "Gap from the slab to each part, by how far it is open{side}; closed is at the left. "
    "Diamond: the certified least of the closing."
)

LEFT, RIGHT = 0.72, 1.5
"""Room beside the plot for the clearance's scale and for labels, inches."""

LABEL_ROW, CONTACT_ROW, STRIP, SCALE_ROW = 0.5, 0.32, 0.27, 0.52
"""Heights over and under the plot: labels, the contact's words, the nearest part, a scale."""

BELOW = CONTACT_ROW + STRIP + 2 * SCALE_ROW

ANGLE_TICKS = (0, 1, 2, 3, 5, 7, 10, 15, 20, 30, 45, 60, 75, 90, 105, 120, 135, 150, 165, 180)
OPENING_TICKS = {
    "in": (0, 0.5, 1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 40, 48, 60, 72),
    "mm": (0, 10, 25, 50, 75, 100, 150, 200, 300, 400, 600, 800, 1000, 1200, 1500, 1800),
}
HEIGHT_TICKS = {
    "in": tuple(k / 16 for k in range(9)),
    "mm": tuple(k / MM_PER_INCH for k in range(0, 13, 2)),
}
UNREACHED = Material(fill="#f1f2f3", line="#c9ced3", hatch=(60.0,), pitch=8.0, label="not reached")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Plot:
    """The pen over the whole chart, and the plot's rectangle in it, paper inches."""

    pen: Pen
    data: ChartData
    high: float
    box: Box

    def x(self, angle: float) -> float:
        """Return where a swing angle stands, from the left."""
        return self.box.x + self.box.width * sqrt(max(angle, 0.0) / self.high)

    def y(self, clearance: float) -> float:
        """Return where a clearance stands, from the bottom."""
        return self.box.y + self.box.height * clearance / self.data.highest

    @property
    def right(self) -> float:
        return self.box.x + self.box.width

    @property
    def top(self) -> float:
        return self.box.y + self.box.height


def chart_figure(data: ChartData, caption: str) -> Any:
    """Return the clearance chart as a matplotlib figure, under the verdict's words."""
    side = " on the push side" if data.push else ""
    page = plain_page(caption, SUBTITLE.format(side=side))
    figure, box = page.opened(PLOT + BELOW + 2 * LABEL_ROW)
    draw_chart(figure, box, data)
    return figure


def draw_chart(
    figure: Any,
    box: Box,
    data: ChartData,
    *,
    high: float | None = None,
    rows: int | None = None,
) -> None:
    """Draw a clearance chart into a box of a sheet.

    ``box`` holds plot, labels and scales together, sheet inches. ``high`` is the scale's end,
    radians, where it is not the chart's own: two charts to be compared have one scale.
    ``rows`` are how many rows of labels to leave room for over the plot; those it takes
    when left out.
    """
    rows = label_rows(data, box.width) if rows is None else rows
    inside = Box(
        x=LEFT,
        y=BELOW,
        width=box.width - LEFT - RIGHT,
        height=box.height - BELOW - rows * LABEL_ROW,
    )
    pen = paper_pen(figure, box, inside)
    plot = _Plot(pen=pen, data=data, high=high or data.high, box=inside)
    _draw_grid(plot)
    _draw_unreached(plot)
    _draw_lines(plot)
    _label_lines(plot, rows)
    _draw_nearest(plot)
    _draw_contact(plot)


def _draw_grid(plot: _Plot) -> None:
    """Draw the three scales: clearance at the left, angle and opening below."""
    pen, unit = plot.pen, plot.data.unit
    for k, tick in enumerate(HEIGHT_TICKS[unit]):
        y = plot.y(tick)
        _grid_line(plot, _at(plot.box.x, y), _at(plot.right, y))
        words = bare_length(tick, unit) + (f" {unit}" if k == len(HEIGHT_TICKS[unit]) - 1 else "")
        pen.text([plot.box.x - 0.08, y], words, side=-1.0, color=QUIET)
    pen.line([_at(plot.box.x, plot.box.y), _at(plot.right, plot.box.y)], color=INK, width=1.3)
    widest = min(plot.high, plot.data.high)
    angles = [(radians(tick), f"{tick}") for tick in ANGLE_TICKS if radians(tick) <= widest + 1e-9]
    _draw_scale(plot, angles, SCALE_ROW * 2, "open, degrees", grid=True)
    inch = MM_PER_INCH if unit == "mm" else 1.0
    openings = [
        tick / inch for tick in OPENING_TICKS[unit] if tick / inch <= plot.data.openings[-1]
    ]
    placed = [(angle_at_opening(plot.data, wide), bare_length(wide, unit)) for wide in openings]
    _draw_scale(plot, placed, SCALE_ROW, f"opening at the strike edge, {unit}", grid=False)


def _grid_line(plot: _Plot, start: Floats, end: Floats) -> None:
    line = [start, end]
    plot.pen.line(line, color=FRAME_LINE, width=0.7, halo=False, clipped=True, level=1.0)


def _draw_scale(
    plot: _Plot, ticks: Sequence[tuple[float, str]], top: float, title: str, *, grid: bool
) -> None:
    """Draw a scale under the plot, its title under it; ticks that have no room are left out."""
    pen = plot.pen
    free = -np.inf
    line = top - 0.05
    pen.line([_at(plot.box.x, line), _at(plot.right, line)], color=QUIET, width=0.9, halo=False)
    for angle, words in ticks:
        x = plot.x(angle)
        half = text_width(words) / 144
        if x - half < free:
            continue
        free = x + half + 0.09
        pen.line([_at(x, line), _at(x, line - 0.06)], color=QUIET, width=0.9, halo=False)
        pen.text([x, line - 0.16], words, color=QUIET)
        if grid:
            _grid_line(plot, _at(x, plot.box.y), _at(x, plot.top))
    pen.text([plot.box.x, line - 0.34], title, side=1.0, color=INK)


def _draw_unreached(plot: _Plot) -> None:
    """Hatch the angles that the slab does not come to."""
    low, high = plot.data.reached
    for start, end in ((0.0, low), (high, plot.data.high)):
        left, right = plot.x(start), plot.x(end)
        if right - left < 0.02:
            continue
        corners = np.array(
            [[left, plot.box.y], [right, plot.box.y], [right, plot.top], [left, plot.top]]
        )
        plot.pen.fill([corners], UNREACHED, 0.5, edge=0.0)
        if right - left > text_width("not reached") / 72 + 0.1:
            at = [(left + right) / 2, plot.top - 0.16]
            plot.pen.text(at, "not reached", color=QUIET, backed=True)


def _draw_lines(plot: _Plot) -> None:
    """Draw each part's line where the slab comes, and a diamond at its certified least."""
    angles, kept = plot.data.angles, plot.data.inside
    for line in plot.data.lines:
        color, dash = line.ink
        points = [
            _at(plot.x(float(a)), plot.y(float(d)))
            for a, d in zip(angles[kept], line.distances[kept], strict=True)
        ]
        if len(points) > 1:
            plot.pen.line(points, color=color, width=2.0, dash=dash, clipped=True, halo=False)
        if line.least is not None and 0.0 < line.least.least < plot.data.highest:
            at = _at(plot.x(line.least.angle), plot.y(line.least.least))
            _draw_diamond(plot.pen, at, color)


def _draw_diamond(pen: Pen, at: Floats, color: str) -> None:
    """Draw the mark of a certified least at a page point."""
    around = np.array([[0.0, 1.0], [1.0, 0.0], [0.0, -1.0], [-1.0, 0.0]])
    pen.polygon(at + pen.points(5.0) * around, color=color, width=1.0, level=7.0)


def line_label(line: PartLine, unit: str) -> Label:
    """Return a line's label: the part, and how near it comes at the least."""
    if line.touches:
        return Label(names=(line.name,), values=("touches",))
    if line.least is None:
        return Label(names=(line.name,))
    return Label(names=(line.name,), values=(length_text(line.least.least, unit),))


def _leaving(data: ChartData, line: PartLine) -> float | None:
    """Return the widest angle at which a line is still on the chart; ``None`` at its end."""
    kept = data.inside
    angles, distances = data.angles[kept], line.distances[kept]
    last = int(np.flatnonzero(distances < data.highest)[-1])
    if last == len(kept) - 1:
        return None
    near, far = distances[last : last + 2]
    share = (data.highest - near) / (far - near)
    return float(angles[last] + share * (angles[last + 1] - angles[last]))


def label_rows(data: ChartData, width: float) -> int:
    """Return how many rows the labels over the plot take, in a box of a width, inches."""
    over = [line for line in data.lines if _leaving(data, line) is not None]
    run = sum(line_label(line, data.unit).width / 72 + 0.2 for line in over)
    return max(1, int(np.ceil(run / (width - LEFT)))) if over else 0


def _label_lines(plot: _Plot, rows: int) -> None:
    """Name each line where it leaves the chart: at the right end, or over the plot."""
    right = []
    above = []
    for line in plot.data.lines:
        leaving = _leaving(plot.data, line)
        if leaving is None:
            right.append((plot.y(float(line.distances[plot.data.inside[-1]])), line))
        else:
            above.append((plot.x(leaving), line))
    _label_right(plot, sorted(right, key=lambda pair: -pair[0]))
    above.sort(key=lambda pair: pair[0])
    taken = label_rows(plot.data, plot.right + RIGHT)
    passing: list[tuple[float, float, int]] = []
    for row in range(taken - 1, -1, -1):
        passing += _label_above(plot, above[row::taken], row, passing)


def _label_right(plot: _Plot, ends: Sequence[tuple[float, PartLine]]) -> None:
    labels = [line_label(line, plot.data.unit) for _, line in ends]
    heights = [words.height / 72 for words in labels]
    wanted = [y for y, _ in ends]
    centres = stacked(wanted, heights, plot.box.y, plot.top, 0.06)
    edge = plot.x(float(plot.data.angles[plot.data.inside[-1]]))
    for (y, line), words, middle in zip(ends, labels, centres, strict=True):
        elbow = plot.right + 0.2
        leader = [_at(edge, y), _at(plot.right + 0.05, y), _at(elbow, middle)]
        plot.pen.line(leader, color=line.ink[0], width=1.0, halo=False)
        plot.pen.label([elbow + 0.05, middle], words, side=1.0, backed=False)


def _label_above(
    plot: _Plot,
    ends: Sequence[tuple[float, PartLine]],
    row: int,
    passing: Sequence[tuple[float, float, int]],
) -> list[tuple[float, float, int]]:
    """Write a row of labels over the plot, clear of the leaders of the rows above it.

    Returns this row's leaders, and takes those of others, as where each ends
    at the plot, where at its label, and which row that is in.
    """
    labels = [line_label(line, plot.data.unit) for _, line in ends]
    far = plot.right + RIGHT
    # stacked() runs from the high end down: places here are counted from the far end
    crossing = [
        (far - (x + (middle - x) * (row + 0.5) / (above + 0.2)), 0.0, -1)
        for x, middle, above in passing
    ]
    own = [
        (far - x, words.width / 72 + 0.1, k)
        for k, ((x, _), words) in enumerate(zip(ends, labels, strict=True))
    ]
    boxes = sorted([*own, *crossing], key=lambda each: -each[0])
    centres = stacked([each[0] for each in boxes], [each[1] for each in boxes], 0.0, far, 0.05)
    base = plot.top + 0.1 + row * LABEL_ROW
    leaders = []
    for away, (_, _, k) in zip(centres, boxes, strict=True):
        if k < 0:
            continue
        (x, line), words, middle = ends[k], labels[k], far - away
        leader = [_at(x, plot.top), _at(middle, base)]
        plot.pen.line(leader, color=line.ink[0], width=1.0, halo=False, level=5.0)
        plot.pen.label([middle, base + words.height / 144], words, side=0.0, backed=True)
        leaders.append((x, middle, row))
    return leaders


def _draw_nearest(plot: _Plot) -> None:
    """Draw a strip under the plot: which part is nearest at each angle, named where it fits."""
    pen = plot.pen
    low = 2 * SCALE_ROW + 0.03
    pen.text([plot.box.x - 0.08, low + 0.11], "nearest", side=-1.0, color=QUIET)
    for stretch in plot.data.nearest:
        line = plot.data.lines[stretch.line]
        left, right = plot.x(stretch.low), plot.x(stretch.high)
        top = low + STRIP - 0.05
        corners = [_at(left, low), _at(right, low), _at(right, top), _at(left, top)]
        pen.polygon(corners, color=line.ink[0], width=1.0, level=3.0)
        if right - left > text_width(line.name, bold=True) / 72 + 0.12:
            at = [(left + right) / 2, low + 0.11]
            pen.text(at, line.name, bold=True, color=PAPER)


def _draw_contact(plot: _Plot) -> None:
    """Ring the contact, and say it beside the ring under the plot."""
    data, pen = plot.data, plot.pen
    sentences, angle = contact_sentences(data)
    if not sentences:
        return
    room = plot.right + RIGHT
    words = next((s for s in sentences if text_width(s, bold=True) / 72 < room), sentences[-1])
    color = contact_colour(seated=data.pose.seated)
    x = plot.x(angle)
    pen.contact(_at(x, plot.box.y), seated=data.pose.seated, size=7.0)
    run = text_width(words, bold=True) / 72
    y = plot.box.y - 0.2
    start = min(x + 0.17, plot.right + RIGHT - run)
    pen.text([start, y], words, side=1.0, bold=True, color=color)


def contact_sentences(data: ChartData) -> tuple[tuple[str, ...], float]:
    """Return what touches first, in full and shorter, and at which angle; nothing for nothing."""
    pose = data.pose
    if pose.at is None:
        return (), 0.0
    if pose.touch is None:
        over = f"Overlaps {listed_parts(pose.overlaps)}"
        return (f"{over} before it has moved", over), data.high
    what = f"{'Rests on' if pose.seated else 'Touches'} {listed_parts(pose.against)}"
    opening = length_text(pose.touch.opening_at_strike, data.unit)
    open_by = angle_text(pose.angle)
    full = f"{what}: {open_by} open, strike edge {opening} from closed"
    return (full, f"{what}, {open_by} open", what), pose.angle


def _at(x: float, y: float) -> Floats:
    return np.array([x, y])
