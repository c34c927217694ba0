"""A map of what the slab does over two dimensions, or a curve over one, for the wall."""

from __future__ import annotations

from typing import Any

import numpy as np

from swingcheck.chance.vary import Varied
from swingcheck.palette import FRAME_LINE, INK, QUIET
from swingcheck.render.map.ground import AXES, Ground, Scale, draw_curve, draw_map, scale_of
from swingcheck.render.map.sheet import WORDS, MapSheet, tick, ticks
from swingcheck.render.pen.lettering import font, text_width
from swingcheck.render.pen.page import plain_page, swatch
from swingcheck.render.pen.panel import Box, paper_pen

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
