"""The two corners of a closed slab side by side, without the rest of the sheet: for a card."""

from __future__ import annotations

from typing import Any

from swingcheck.assembly import Assembly
from swingcheck.assembly.parts import is_mirrored
from swingcheck.palette import PAPER
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.panel import Box, View, draw_cut, fitted_view, opened_pen, write_title
from swingcheck.render.pen.png import palette_png
from swingcheck.render.plan.closeups import (
    Corner,
    hinge_view,
    strike_view,
    write_hinge_corner,
    write_strike_corner,
)
from swingcheck.render.plan.measures import hinge_corner, strike_corner
from swingcheck.render.plan.pose import Pose, cut_height, plan_cut

WIDTH, HEIGHT = 11.3, 4.1
"""Inches; printed two thirds as large, labels are still read at arm's length."""

GUTTER, TITLE_ROW, COLUMN, EDGE = 0.25, 0.36, 1.45, 0.05
PANEL = (WIDTH - 2 * EDGE - GUTTER) / 2
WINDOW = HEIGHT - TITLE_ROW - 2 * EDGE
PIXELS = 1600

BELOW = 112.0
"""Room under the wide face for the notes that stand there, points."""


def closeup_pair(assembly: Assembly, pixels: int = PIXELS) -> bytes:
    """Return both corners of the closed slab in plan as a PNG, the hinges on their own side.

    Parameters
    ----------
    assembly : Assembly
        What to draw, at mid-height of where its leaves are.
    pixels : int
        Width of the picture. Equal assemblies give equal bytes.
    """
    figure = pair_figure(assembly)
    figure.set_dpi(pixels / WIDTH)
    figure.canvas.draw()
    return palette_png(figure.canvas.buffer_rgba())


def pair_figure(assembly: Assembly) -> Any:
    """Return both corners as a matplotlib figure on a canvas that needs no display."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH, HEIGHT), facecolor=PAPER)
    FigureCanvasAgg(figure)
    _draw_corners(figure, assembly)
    return figure


def _draw_corners(figure: Any, assembly: Assembly) -> None:
    pose = Pose(angle=0.0)
    height = cut_height(assembly, pose)
    cut = plan_cut(assembly, pose, height)
    hinge = hinge_corner(assembly, pose, height, cut.hinge)
    strike = strike_corner(assembly, pose, height)
    hand = 1.0 if is_mirrored(assembly.scene) else -1.0
    for at_hinge in (True, False):
        column_left = at_hinge == (hand > 0)
        x = EDGE if column_left else EDGE + PANEL + GUTTER
        panel = Box(x=x, y=EDGE, width=PANEL, height=HEIGHT - EDGE)
        inside = x + COLUMN if column_left else x
        window = Box(x=inside, y=EDGE, width=PANEL - COLUMN, height=WINDOW)
        if at_hinge:
            view, title = hinge_view(assembly, hinge, window), "Hinge corner"
            view = _with_room_below(view, float(page(hinge.margin.end)[1]), window)
        else:
            view, title = strike_view(assembly, strike, window), "Strike corner"
        pen = opened_pen(figure, panel, window, view, hand)
        draw_cut(pen, cut, ghost=False)
        pen.pin(page(hinge.pin), assembly.scene.hinge.barrel * 0.8)
        pen.frame(view.low, view.high, width=1.2)
        write_title(pen, view, title, assembly.scene.unit, above=TITLE_ROW / 2 * 72)
        corner = Corner(assembly=assembly, view=view, column=COLUMN * 72 - 8.0)
        if at_hinge:
            write_hinge_corner(pen, corner, hinge)
        else:
            write_strike_corner(pen, corner, strike)


def _with_room_below(view: View, edge: float, window: Box) -> View:
    """Return the view drawn back until there is room for the notes under page height ``edge``."""
    for _ in range(4):
        lack = BELOW / 72 / view.scale - (edge - float(view.low[1]))
        if lack <= 1e-6:
            break
        low = (float(view.low[0]), float(view.low[1]) - lack)
        view = fitted_view(low, (float(view.high[0]), float(view.high[1])), window)
    return view
