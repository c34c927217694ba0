"""The clearance chart as one page, under the verdict's words."""

from __future__ import annotations

from typing import Any

from swingcheck.render.chart.draw import BELOW, LABEL_ROW, draw_chart
from swingcheck.render.chart.lines import ChartData
from swingcheck.render.pen.figure import (
    INNER,
    MARGIN,
    PIXELS,
    WIDTH,
    blank_figure,
    figure_bytes,
    heading,
)
from swingcheck.render.pen.panel import Box

PLOT = 4.6
"""Height of the plot itself, inches."""

SUBTITLE = (
    "Gap from the slab to each part, by how far it is open; closed is at the left. "
    "Diamond: the certified least of the closing."
)


def chart_sheet(data: ChartData, caption: str, kind: str = "png", pixels: int = PIXELS) -> bytes:
    """Return the clearance chart as a file's bytes: ``png``, ``svg`` or ``pdf``."""
    return figure_bytes(chart_figure(data, caption), kind, pixels)


def chart_figure(data: ChartData, caption: str) -> Any:
    """Return the clearance chart as a matplotlib figure."""
    head = heading(caption, SUBTITLE, INNER)
    tall = PLOT + BELOW + 2 * LABEL_ROW
    height = 2 * MARGIN + head.height + tall
    figure = blank_figure(WIDTH, height)
    head.write(figure, MARGIN, height - MARGIN)
    draw_chart(figure, Box(x=MARGIN, y=MARGIN, width=INNER, height=tall), data)
    return figure
