"""A map of what the slab does over two dimensions, or a curve over one, for the wall.

Fills, hatching, lines, and the scene's own place.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from swingcheck.chance.outcomes import VERDICTS
from swingcheck.chance.vary import Over, Varied
from swingcheck.geometry.solid import Bools, Floats
from swingcheck.palette import CONTACT, DASHED, FRAME_LINE, INK, PAPER, QUIET, SEAT
from swingcheck.render.map.sheet import INKS, WORDS, MapSheet, tick, ticks
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.lettering import font, text_width
from swingcheck.render.pen.page import plain_page, swatch
from swingcheck.render.pen.panel import Box, paper_pen
from swingcheck.swing.found import Verdict

AXES = (8.9, 5.6)
"""Inches of paper that a ground takes, across and up."""

LETTERS = 13.0
"""Of the words on the ground, points."""

LOUD_RAMP = ("#fdeee6", "#f2a583", CONTACT, "#5c1606")
CALM_RAMP = ("#f4f8f9", "#a9cbd6", SEAT, "#0d3441")
"""From nothing to the most: light to dark, which no eye and no printer mistakes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """One direction: values from ``low`` to ``high``, on paper from ``start`` on so long, inches.

    ``count`` cells of one size lie along it.
    """

    low: float
    high: float
    start: float
    length: float
    count: int = 1

    @property
    def ends(self) -> tuple[float, float]:
        """The middle of the first cell and of the last; the scale's own ends, of a single one."""
        half = (self.high - self.low) / (2 * self.count) if self.count > 1 else 0.0
        return self.low + half, self.high - half

    @property
    def edges(self) -> Floats:
        """The edges of the cells on paper, (count + 1,)."""
        return np.linspace(self.start, self.start + self.length, self.count + 1)

    def at(self, values: Any) -> Any:
        """Return where values stand on paper."""
        return self.start + (values - self.low) / (self.high - self.low) * self.length

    def holds(self, value: float) -> bool:
        """Return whether a value stands on the ground."""
        low, high = self.ends
        return low <= value <= high


def scale_of(over: Over, start: float, length: float) -> Scale:
    """Return the scale of a dimension: a cell a value."""
    count, first, last = len(over.values), float(over.values[0]), float(over.values[-1])
    half = (last - first) / (2 * (count - 1)) if count > 1 else 0.5
    return Scale(low=first - half, high=last + half, start=start, length=length, count=count)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ground:
    """What the ground is drawn with: a pen in inches of paper, and where values stand."""

    pen: Pen
    sheet: MapSheet
    across: Scale
    up: Scale

    def fill(self, ground: Any, cells: Bools, level: float) -> None:
        """Fill cells (across, up) as a ground, run by run, so that the hatching runs through."""
        x, y = self.across.edges, self.up.edges
        outlines = [
            np.array([[x[a], y[k]], [x[b], y[k]], [x[b], y[k + 1]], [x[a], y[k + 1]]])
            for k, row in enumerate(cells.T)
            for a, b in runs(row)
        ]
        self.pen.fill(outlines, ground, level, edge=0.0)

    def mark_now(self) -> None:
        """Draw lines at the scene as it is, where it is on the ground; ring where both are."""
        scales = (self.across, self.up)[: len(self.sheet.varied.overs)]
        now = [self.sheet.now(over) for over in self.sheet.varied.overs]
        here = [float(scale.at(value)) for scale, value in zip(scales, now, strict=True)]
        held = [scale.holds(value) for scale, value in zip(scales, now, strict=True)]
        for k, place in enumerate(here):
            if held[k]:
                other = (self.up, self.across)[k].edges[[0, -1]]
                line = [np.array([place, end] if k == 0 else [end, place]) for end in other]
                how: Any = {"clipped": True, "halo": False}
                self.pen.line(line, color=PAPER, width=3.2, level=3.5, **how)
                self.pen.line(line, color=INK, width=1.3, dash=DASHED, level=3.6, **how)
        if not all(held):
            return
        at = np.array(here if len(here) == 2 else [here[0], self.up.edges[-1] - 0.8])
        if len(here) == 2:
            for size, color in ((7.5, PAPER), (5.5, INK), (3.0, PAPER)):
                self.pen.disc(at, size, edge=color, fill=color, width=0.0)
        right, top = (
            at[k] > scale.start + 0.85 * scale.length
            for k, scale in enumerate((self.across, self.up))
        )
        away = np.array([-0.4 if right else 0.4, -0.24 if top else 0.24])
        self.pen.text(at + away, "now", size=LETTERS, bold=True, backed=True)


def runs(cells: Any) -> list[tuple[int, int]]:
    """Return where each run of cells that hold begins, and where it has ended.

    Examples
    --------
    >>> runs(np.array([True, True, False, True]))
    [(0, 2), (3, 4)]
    """
    change = np.flatnonzero(np.diff(np.concatenate([[False], cells, [False]]).astype(np.int8)))
    return [(int(a), int(b)) for a, b in change.reshape(-1, 2)]


def draw_map(ground: Ground) -> Any:
    """Draw variants over two dimensions; return what has a scale of colours, if anything."""
    sheet, filled = ground.sheet, None
    for word, cells in sheet.grounds:
        ground.fill(sheet.ground(word) if sheet.show == "verdict" else INKS[word.value], cells, 1.0)
    if sheet.show != "verdict":
        filled = _fill_values(ground)
        for word, cells in sheet.grounds:
            ground.fill(replace(sheet.ground(word), fill="none"), cells, 2.0)
        _contours(ground)
    _draw_borders(ground)
    ground.mark_now()
    for word, cells in sheet.grounds:
        need = np.array([text_width(word.value, LETTERS, bold=True) / 72 + 0.15, 0.3])
        place = _place_for(ground, cells, need)
        if place is not None:
            ground.pen.text(place, word.value, size=LETTERS, bold=True, backed=True)
    return filled


def _fill_values(ground: Ground) -> Any:
    from matplotlib.colors import LinearSegmentedColormap

    ramp = CALM_RAMP if ground.sheet.show == "margin" else LOUD_RAMP
    low, high = ground.sheet.span
    return ground.pen.window.pcolormesh(
        ground.across.edges,
        ground.up.edges,
        np.ma.masked_invalid(ground.sheet.shown.T),
        cmap=LinearSegmentedColormap.from_list("ramp", ramp, N=1024),
        vmin=low,
        vmax=high,
        zorder=1.5,
    )


def _draw_borders(ground: Ground) -> None:
    """Draw the border of what swings, and thinner those between other verdicts, along the cells."""
    words, swings = ground.sheet.words.T, VERDICTS.index(Verdict.SWINGS)
    grid = np.stack(np.meshgrid(ground.across.edges, ground.up.edges), axis=-1)
    for one, other, start, end in (
        (words[:, :-1], words[:, 1:], grid[:-1, 1:-1], grid[1:, 1:-1]),
        (words[:-1], words[1:], grid[1:-1, :-1], grid[1:-1, 1:]),
    ):
        lines, heavy = np.stack([start, end], axis=2), (one == swings) | (other == swings)
        for kind, width in ((~heavy, 0.9), (heavy, 2.4)):
            ground.pen.strokes(lines[(one != other) & kind], width=width, level=3.0)


def _contours(ground: Ground) -> None:
    """Draw lines of equal value, their values written on them."""
    sheet, scales = ground.sheet, (ground.across, ground.up)
    values, levels = sheet.shown.T, ticks(*sheet.span, sheet.shown_unit, 9)
    if np.isnan(values).all() or min(values.shape) < 2 or not levels:
        return
    middles = [(scale.edges[1:] + scale.edges[:-1]) / 2 for scale in scales]
    lines = ground.pen.window.contour(
        *middles,
        np.ma.masked_invalid(values),
        levels=levels,
        colors=INK,
        linewidths=0.9,
        zorder=2.5,
    )
    for level, segments in zip(lines.levels, lines.allsegs, strict=True):
        longest = max(segments, key=len, default=np.empty((0, 2)))
        if len(longest) > 2:
            words = tick(float(level), sheet.shown_unit)
            ground.pen.text(_clearest(ground, longest), words, bold=True, backed=True)


def _clearest(ground: Ground, line: Floats) -> Floats:
    """Return the point of a line (k, 2) that is farthest from the map's ends and from now."""
    away = [
        np.abs(line[:, k] - at)
        for k, (scale, over) in enumerate(
            zip((ground.across, ground.up), ground.sheet.varied.overs, strict=True)
        )
        for at in (*scale.edges[[0, -1]], scale.at(ground.sheet.now(over)))
    ]
    point: Floats = line[np.min(away, axis=0).argmax()]
    return point


def _place_for(ground: Ground, held: Bools, need: Floats) -> Floats | None:
    """Return where words of a size (2,), inches, stand amid cells that hold, if they fit at all.

    Where the most room is around them, off the lines of the scene as it is if that can be.
    """
    scales = ground.across, ground.up
    cell = np.array([scale.length / scale.count for scale in scales])
    free = held.copy()
    for k, scale in enumerate(scales):
        now = scale.at(ground.sheet.now(ground.sheet.varied.overs[k]))
        middles = (scale.edges[1:] + scale.edges[:-1]) / 2
        free[(slice(None),) * k + (np.abs(middles - now) < cell[k] / 2 + 0.05,)] = False
    for cells in (free, held):
        for times in (3.0, 2.0, 1.0):
            size = np.ceil(times * need / cell).astype(int)
            if (size > cells.shape).any():
                continue
            fits = np.argwhere(sliding_window_view(cells, tuple(size)).all(axis=(2, 3)))
            if len(fits):
                chosen = fits[np.abs(fits - fits.mean(axis=0)).sum(axis=1).argmin()]
                start = np.array([scale.start for scale in scales])
                place: Floats = start + (chosen + size / 2) * cell
                return place
    return None


def draw_curve(pen: Pen, sheet: MapSheet, across: Scale, foot: float) -> Scale:
    """Draw variants over one dimension, on the grounds of the verdicts; return the scale upward."""
    outcomes = sheet.varied.outcomes
    lines = {
        "verdict": {},
        "angle": {"": np.where(outcomes.swings, 0.0, outcomes.angle)},
        "short": {"": outcomes.short},
        "margin": {"hinge margin": outcomes.hinge_margin, "strike margin": outcomes.strike_margin},
    }[sheet.show]
    known = np.concatenate([[0.0], *(values[np.isfinite(values)] for values in lines.values())])
    high = max(known.max() * 1.25, known.min() + 1e-3) if len(known) > 1 else 1.0
    up = Scale(low=float(known.min()) * 1.08, high=float(high), start=foot, length=AXES[1])
    ground = Ground(pen=pen, sheet=sheet, across=across, up=up)
    top = up.edges[-1]
    for word, cells in sheet.grounds:
        ground.fill(sheet.ground(word), cells[:, None], 0.5)
        for a, b in runs(cells):
            left, right = across.edges[[a, b]]
            if right - left >= text_width(word.value, LETTERS, bold=True) / 72 + 0.1:
                at = [(left + right) / 2, top - 0.3]
                pen.text(at, word.value, size=LETTERS, bold=True, backed=True)
    change = np.flatnonzero(np.diff(sheet.words)) + 1
    breaks = [0, *([] if sheet.show == "margin" else change.tolist()), across.count]
    for k, (name, values) in enumerate(lines.items()):
        points = np.stack([across.edges[:-1] + across.length / across.count / 2, up.at(values)], 1)
        for a, b in pairwise(breaks):
            _draw_line(pen, points[a:b], dashed=k > 0)
        if name:
            _name_line(pen, name, points, above=k == 0)
    ground.mark_now()
    return up


def _draw_line(pen: Pen, points: Floats, *, dashed: bool) -> None:
    """Draw one stretch of a curve on paper, a single point of it as a dot."""
    if len(points) == 1 and np.isfinite(points).all():
        pen.disc(points[0], 3.0, edge=PAPER, fill=INK)
    how: Any = {"clipped": True, "halo": False, "level": 5.0 + dashed}
    pen.line(list(points), color=PAPER, width=6.5, **how)
    pen.line(list(points), color=INK, width=3.0, dash=DASHED if dashed else None, **how)


def _name_line(pen: Pen, name: str, points: Floats, *, above: bool) -> None:
    """Write a line's name beside it, on the side that it leans away from."""
    k = len(points) // 12
    lean = points[min(k + 1, len(points) - 1), 1] - points[k, 1]
    above = above if abs(lean) < 1e-9 else lean < 0
    at = points[k] + [0.1, 0.2 if above else -0.2]
    pen.text(at, name, side=1.0, size=LETTERS, bold=True, backed=True)


LEFT, FOOT, OVER = 0.95, 0.6, 0.35
"""Room for the ticks and their words beside and under the ground, and over it, inches."""

BESIDE = 0.24
"""Between the ground and the bar of its colours, and the bar's width, inches."""

HEIGHTS = {
    "angle": "Angle of first contact",
    "short": "Short of closed at the strike edge",
    "margin": "Margin",
}


def variation_figure(varied: Varied, show: str = "verdict", *, unit: str | None = None) -> Any:
    """Return a picture of variants as a matplotlib figure: a map of two dimensions, a curve of one.

    ``show`` is ``verdict``, ``angle``, ``short`` or ``margin``; lengths are written in
    ``unit``, ``None`` for the scene's own.
    """
    sheet = MapSheet(varied=varied, show=show, unit=unit or varied.scene.unit)
    key = [swatch(sheet.ground(word), word.value) for word, _ in sheet.grounds]
    page = plain_page(sheet.title, sheet.now_words, key)
    figure, box = page.opened(FOOT + AXES[1] + OVER)
    inside = Box(x=LEFT, y=FOOT, width=AXES[0], height=AXES[1])
    pen = paper_pen(figure, box, inside)
    overs, units = varied.overs, [sheet.unit_of(over) for over in varied.overs]
    across = scale_of(overs[0], LEFT, AXES[0])
    if sheet.is_curve:
        up = draw_curve(pen, sheet, across, FOOT)
        units.append(sheet.shown_unit)
        words = f"{HEIGHTS[show]}, {WORDS[sheet.shown_unit]}" if show in HEIGHTS else ""
    else:
        words, up = sheet.label(overs[1]), scale_of(overs[1], FOOT, AXES[1])
        filled = draw_map(Ground(pen=pen, sheet=sheet, across=across, up=up))
        if filled is not None:
            bar = Box(x=LEFT + AXES[0] + BESIDE, y=FOOT, width=BESIDE, height=AXES[1])
            _draw_bar(paper_pen(figure, box, bar).window, sheet, filled)
    _rule(pen.window.xaxis, across, units[0], sheet.label(overs[0]))
    pen.window.set_yticks([])
    if words:
        _rule(pen.window.yaxis, up, units[1], words)
    if sheet.is_curve:
        pen.window.grid(axis="y", color=FRAME_LINE, linewidth=0.7)
    return figure


def _rule(axis: Any, scale: Scale, unit: str, words: str) -> None:
    """Write a direction's ticks, as a tape has them, as many as have room, and its words."""
    axis.axes.set_axis_on()
    axis.axes.set_axisbelow(False)
    low, high = scale.ends
    for most in range(12, 1, -1):
        found = ticks(low, high, unit, most)
        texts = [tick(value, unit) for value in found]
        apart = scale.length / max(len(found), 1)
        wide = max((text_width(text) for text in texts), default=0.0) / 72
        if apart > (wide if axis.axis_name == "x" else 0.25) + 0.15:
            break
    axis.set_ticks(scale.at(np.array(found)), labels=texts)
    axis.set_label_text(words, fontproperties=font(bold=True), color=INK)
    _letter(axis)


def _letter(axis: Any) -> None:
    """Write an axis's ticks in the pictures' own letters."""
    for text in axis.get_ticklabels():
        text.set_fontproperties(font())
        text.set_color(INK)
    axis.set_tick_params(color=QUIET, length=5, width=0.9)


def _draw_bar(axes: Any, sheet: MapSheet, filled: Any) -> None:
    """Draw what the colours stand for."""
    axes.set_axis_on()
    bar = axes.figure.colorbar(filled, cax=axes)
    found = ticks(*sheet.span, sheet.shown_unit, 9)
    bar.set_ticks(found, labels=[tick(value, sheet.shown_unit) for value in found])
    _letter(bar.ax.yaxis)
    bar.ax.set_title(WORDS[sheet.shown_unit], fontproperties=font(), pad=8)
    bar.outline.set_edgecolor(FRAME_LINE)
