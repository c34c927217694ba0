"""The margin map as one page: the map, its colours, and the figures as the check tells them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from swingcheck.palette import FRAME_LINE, QUIET
from swingcheck.render.margins.bands import EVEN_IN, Band, MapData, scale_items
from swingcheck.render.margins.draw import MapScale, draw_map, map_scale
from swingcheck.render.pen.lettering import SIZE, wrapped
from swingcheck.render.pen.page import GUTTER, SWATCH, draw_swatch, plain_page
from swingcheck.render.pen.panel import Box, paper_pen
from swingcheck.render.pen.words import gap_words
from swingcheck.units import length_text, rough_length

MAP_WIDTH, MAP_HEIGHT = 7.0, 9.6
FLUSH_IN = 1 / 128
"""A face that stands out or back by less is flush."""

ROW = 0.3
STEP = SIZE * 1.36 / 72
"""Heights of a row of the colour scale, and of a line of words, inches."""


def margin_figure(data: MapData, caption: str) -> Any:
    """Return the margin map as a matplotlib figure."""
    map_box = Box(x=0.0, y=0.0, width=MAP_WIDTH, height=MAP_HEIGHT)
    scale = map_scale([data], map_box)
    figure, box = plain_page(caption, map_words(data, scale)).opened(MAP_HEIGHT)
    draw_map(figure, Box(x=box.x, y=box.y, width=MAP_WIDTH, height=MAP_HEIGHT), data, scale)
    beside = MAP_WIDTH + GUTTER
    column = Box(x=box.x + beside, y=box.y, width=box.width - beside, height=MAP_HEIGHT)
    _draw_side(figure, column, data)
    return figure


def map_words(data: MapData, scale: MapScale) -> str:
    """Return the line under the headline: how the map is seen and drawn."""
    side = data.assembly.scene.hinges_on
    return (
        f"The closed slab from the pull side, hinges on your {side}."
        f" Gaps are drawn {scale.times:.0f} times as wide as the slab's scale, and read on the"
        " wide face."
    )


def told_lines(data: MapData) -> tuple[tuple[str, str], ...]:
    """Return what is told beside the map: a name and its figures, as the check has them."""
    sides = (data.hinge, data.strike, data.head)
    tight = min(sides, key=lambda band: float(band.line.gaps[band.least]))
    wide = max(sides, key=lambda band: float(band.line.gaps[band.most]))
    margins, unit = data.margins, data.unit
    told = [
        ("least beside and over the slab", _place(data, tight, tight.least)),
        ("most beside and over the slab", _place(data, wide, wide.most)),
        ("least under the slab", _place(data, data.bottom, data.bottom.least)),
    ]
    for name, gaps in (("hinge stop", margins.hinge_stop), ("strike stop", margins.strike_stop)):
        if gaps is not None:
            told.append((f"slab's face to the {name}", _down(gaps, unit, gap_words)))
    for leg, out in (("hinge", margins.flush), ("strike", margins.flush_strike)):
        told.append((f"wide face, at the {leg} leg's edge", _down(out, unit, _proud_words)))
    return tuple(told)


def _place(data: MapData, band: Band, place: int) -> str:
    """Return a gap and where it is."""
    words = f"{gap_words(float(band.line.gaps[place]), data.unit)}, {band.name}"
    if band.is_even:
        return f"{words}, all along"
    if place in band.told:
        return f"{words}, {band.places[band.told.index(place)]}"
    if len(band.places) == 3:
        height = rough_length(float(band.line.points[place, 2]), data.unit)
        return f"{words}, {height} above the floor"
    first, last = band.line.points[0, 0], band.line.points[place, 0]
    return f"{words}, {rough_length(abs(float(last - first)), data.unit)} from the hinge edge"


def _down(values: Sequence[float], unit: str, words: Callable[[float, str], str]) -> str:
    """Return a figure at the top, the middle and the bottom; one where they are the same."""
    if np.ptp(values) < EVEN_IN:
        return words(values[0], unit)
    told = zip(("top", "middle", "bottom"), values, strict=True)
    return ", ".join(f"{place} {words(value, unit)}" for place, value in told)


def _proud_words(out: float, unit: str) -> str:
    """Return how far a face stands out from an edge, or back of it."""
    if abs(out) < FLUSH_IN:
        return "flush"
    return f"{length_text(abs(out), unit)} {'proud' if out > 0 else 'shy'}"


def _draw_side(figure: Any, box: Box, data: MapData) -> None:
    """Write the colour scale and the figures beside the map."""
    pen = paper_pen(figure, box)
    y = box.height - 0.75
    pen.text([0.0, y], "The gap's colour", side=1.0, size=13.0, bold=True)
    y -= 0.32
    for item in reversed(scale_items(data.unit)):
        draw_swatch(pen, item, np.array([0.0, y]), high=ROW / 2, edge=FRAME_LINE)
        pen.text([SWATCH + 0.12, y], item.words, side=1.0)
        y -= ROW
    y -= 0.35
    for name, figures in told_lines(data):
        pen.text([0.0, y], name, side=1.0, color=QUIET)
        for line in wrapped(figures, box.width * 72, bold=True):
            y -= STEP
            pen.text([0.0, y], line, side=1.0, bold=True)
        y -= STEP * 1.6
