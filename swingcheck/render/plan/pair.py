"""The two corners of a closed slab side by side, without the rest of the sheet: for a card."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from swingcheck.assembly import Assembly
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.page import blank_figure
from swingcheck.render.pen.panel import Box, View, fitted_view
from swingcheck.render.pen.subject import Pose, Subject
from swingcheck.render.plan.corners import TITLE_ROW, corners_of, draw_both, half_panels, window_box

WIDTH, HEIGHT = 11.3, 4.1
"""Inches; printed two thirds as large, labels are still read at arm's length."""

EDGE = 0.05
WINDOW = HEIGHT - TITLE_ROW - 2 * EDGE
PIXELS = 1600

BELOW = 112.0
"""Room under the wide face for the notes that stand there, points."""


def pair_figure(assembly: Assembly) -> Any:
    """Return both corners of the closed slab in plan, the hinges on their own side.

    A matplotlib figure of the assembly at mid-height of where its leaves are.
    """
    figure = blank_figure(WIDTH, HEIGHT)
    box = Box(x=EDGE, y=EDGE, width=WIDTH - 2 * EDGE, height=HEIGHT - 2 * EDGE)
    window = window_box(half_panels(box)[0], WINDOW)
    corners = corners_of(Subject(assembly=assembly, pose=Pose(angle=0.0)), window)
    hinge, strike = corners.details
    view = _with_room_below(hinge.view, float(page(corners.hinge.margin.end)[1]), window)
    details = replace(hinge, view=view), strike
    draw_both(figure, box, WINDOW, corners, details, lettered=False)
    return figure


def _with_room_below(view: View, edge: float, window: Box) -> View:
    """Return the view drawn back until there is room for the notes under page height ``edge``."""
    for _ in range(4):
        lack = BELOW / 72 / view.scale - (edge - float(view.low[1]))
        if lack <= 1e-6:
            break
        low = (float(view.low[0]), float(view.low[1]) - lack)
        view = fitted_view(low, (float(view.high[0]), float(view.high[1])), window)
    return view
