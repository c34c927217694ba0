"""The whole opening in plan: slab, ghost, swing, and where the close-ups are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.geometry.solid import Floats
from swingcheck.palette import QUIET
from swingcheck.render.pen.ink import Pen, page
from swingcheck.render.pen.lettering import SIZE
from swingcheck.render.pen.panel import Box, View, fitted_view
from swingcheck.render.plan.closeups import OPENING_SHOWN
from swingcheck.render.plan.measures import HingeCorner, StrikeCorner
from swingcheck.render.plan.pose import Pose
from swingcheck.units import length_text

BESIDE = 2.2
"""Wall shown beyond the jamb, inches."""

SHOWN_SWING = radians(13.0)
"""The swing is drawn at least this far open."""

ROW = 24.0
"""Room for a row of words, points."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Swing:
    """The strike edge's way, page inches: ``arc`` (n, 2) from closed outward."""

    arc: Floats
    centre: Floats
    reach: float


def swing_arc(corner: HingeCorner, strike: StrikeCorner, assembly: Assembly, pose: Pose) -> Swing:
    """Return the arc that the strike edge's wide-face arris runs on."""
    arm = strike.opening.start - corner.pin
    wanted = assembly.scene.swing.wanted
    end = max(pose.angle, min(wanted, max(SHOWN_SWING, 1.3 * pose.angle)))
    turns = np.linspace(0.0, end, 90)
    cos, sin = np.cos(turns), np.sin(turns)
    arc = corner.pin + np.stack([cos * arm[0] - sin * arm[1], sin * arm[0] + cos * arm[1]], axis=1)
    return Swing(arc=page(arc), centre=page(corner.pin), reach=float(np.linalg.norm(arm)))


def overview_view(
    corner: HingeCorner, strike: StrikeCorner, swing: Swing, assembly: Assembly, box: Box
) -> View:
    """Return the view that shows the whole opening and the swing, as large as fits.

    The view is no taller than it has to be: its height may be less than the box's.
    """
    opening = assembly.scene.opening
    beside = opening.thickness + BESIDE
    hinge, leg = page(corner.margin.start), page(strike.margin.start)
    left = min(hinge[0] - beside, float(swing.arc[:, 0].min()) - 1.0)
    right = max(leg[0] + beside, float(swing.arc[:, 0].max()) + 1.0)
    push = max(hinge[1], leg[1]) + opening.depth
    pull = min(float(swing.arc[:, 1].min()), float(swing.centre[1]) - assembly.scene.hinge.barrel)
    points = (right - left) / (box.width * 72)
    low, high = [left, pull - 1.3 * ROW * points], [right, push + 0.4 * ROW * points]
    view = fitted_view(low, high, box)
    return View(
        low=np.array([view.low[0], low[1]]),
        high=np.array([view.high[0], high[1]]),
        scale=view.scale,
    )


def overview_height(view: View) -> float:
    """Return how tall a view is on paper, inches."""
    return float((view.high - view.low)[1] * view.scale)


def write_overview(
    pen: Pen,
    view: View,
    assembly: Assembly,
    corners: tuple[HingeCorner, StrikeCorner],
    swing: Swing,
    details: Sequence[tuple[str, View]],
) -> None:
    """Write the sides, the opening's width, the swing and the close-ups' frames."""
    hinge, strike = page(corners[0].margin.start), page(corners[1].margin.start)
    middle = (hinge[0] + strike[0]) / 2
    depth, rabbet = assembly.scene.opening.depth, max(assembly.scene.opening.rabbet.hinge)
    _write_width(pen, assembly, (hinge, strike), rabbet + (depth - rabbet) * 0.72)
    pen.text([middle, rabbet + (depth - rabbet) * 0.3], "push side", color=QUIET, backed=True)
    pen.text([middle, view.low[1] + pen.points(0.6 * ROW)], "pull side", color=QUIET, backed=True)
    _draw_swing(pen, swing)
    for letter, detail in details:
        pen.frame(detail.low, detail.high, width=1.1)
        x = detail.low[0] + pen.points(7.0) if letter == "A" else detail.high[0] - pen.points(7.0)
        tag = [x, detail.low[1] - pen.points(11.0)]
        pen.text(tag, letter, bold=True, size=13.0, color=QUIET, backed=True)
    opening = corners[1].opening
    if opening.length > OPENING_SHOWN:
        _write_opening(pen, assembly, opening.length, page(opening.start), page(opening.end))


def _write_width(pen: Pen, assembly: Assembly, legs: tuple[Floats, Floats], height: float) -> None:
    """Dimension the opening's width on the push side."""
    ends = [np.array([leg[0], height]) for leg in legs]
    width = float(ends[1][0] - ends[0][0])
    pen.span(ends[0], ends[1])
    words = f"opening {length_text(width, assembly.scene.unit)}"
    pen.text((ends[0] + ends[1]) / 2, words, bold=True, backed=True)


def _draw_swing(pen: Pen, swing: Swing) -> None:
    """Draw the strike edge's way, an arrow at its open end."""
    arc = swing.arc
    pen.line(list(arc), width=1.1, color=QUIET, clipped=True, halo=False)
    pen.arrow(arc[-1], arc[-1] - arc[-2], color=QUIET)


def _write_opening(pen: Pen, assembly: Assembly, length: float, start: Floats, end: Floats) -> None:
    """Dimension a wide opening at the strike edge, its words inside the swing."""
    pen.span(start, end)
    chord = end - start
    inward = np.array([chord[1], -chord[0]]) / np.linalg.norm(chord)
    inward *= -1.0 if inward[0] > 0 else 1.0
    at, side = (start + end) / 2 + inward * pen.points(10.0), -1.0
    if end[0] < 0.25 * start[0]:
        at, side = start + 0.3 * chord - np.array([0.0, pen.points(26.0)]), 0.0
    step = pen.points(SIZE * 1.32)
    lines = ("opening at the strike edge", length_text(length, assembly.scene.unit))
    for k, line in enumerate(lines):
        where = at + np.array([0.0, step * (0.5 - k)])
        pen.text(where, line, side=side, bold=k == 1, backed=True)
