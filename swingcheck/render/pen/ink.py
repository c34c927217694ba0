"""A pen for drawing-office lines: hatching, dimensions, chain lines, labels.

It works in *page* coordinates: inches of the thing drawn, seen from above, the
hinge leg to the left and the pull side toward the bottom of the page, where
the carpenter stands. That is right for hinges on the left; for hinges on the
right the pen mirrors everything it draws, labels and all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, radians, sin
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import (
    CHAIN,
    CONTACT,
    DASHED,
    FRAME_LINE,
    GHOST,
    INK,
    PAPER,
    QUIET,
    SEAT,
    Dash,
    Material,
)
from swingcheck.render.pen.lettering import LEADING, SIZE, Label, font

ARROW = 7.5
"""Length of an arrowhead, points."""


def page(points: Floats | Sequence[float]) -> Floats:
    """Return plan points of the opening frame as page points: the pull side downward."""
    return np.asarray(points, dtype=np.float64) * [1.0, -1.0]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pen:
    """Draws on one panel.

    ``window`` clips what is drawn to the view; ``notes`` lies over the whole
    panel, at the same scale. ``scale`` is inches of paper to an inch drawn;
    ``hand`` is 1 for hinges on the left and -1 on the right.
    """

    window: Any
    notes: Any
    scale: float
    hand: float

    def points(self, size: float) -> float:
        """Return a length in points of paper as inches drawn."""
        return size / 72 / self.scale

    def place(self, at: Floats | Sequence[float]) -> Floats:
        """Return page points as the panel's own, mirrored for hinges on the right."""
        return np.asarray(at, dtype=np.float64) * [self.hand, 1.0]

    def fill(
        self, outlines: Sequence[Floats], material: Material, level: float, *, edge: float = 1.3
    ) -> None:
        """Fill outlines (n, 2) of page points, hatched and edged; holes stay open.

        ``edge`` is the width of the line around it, points; 0 for none.
        """
        from matplotlib.collections import LineCollection
        from matplotlib.patches import PathPatch

        path = _closed_path([self.place(outline) for outline in outlines])
        body = PathPatch(path, facecolor=material.fill, edgecolor="none", zorder=level)
        self.window.add_patch(body)
        bounds = _within(path.get_extents(), self.window)
        for angle in material.hatch:
            strokes = _strokes(bounds, angle * self.hand, self.points(material.pitch))
            hatching = LineCollection(
                list(strokes), colors=material.line, linewidths=0.6, zorder=level + 0.1
            )
            self.window.add_collection(hatching, autolim=False)
            hatching.set_clip_path(body)
        if edge:
            line = PathPatch(path, fc="none", ec=INK, linewidth=edge, zorder=level + 0.2)
            self.window.add_patch(line)

    def outline(self, outlines: Sequence[Floats], level: float, *, dashed: bool) -> None:
        """Draw outlines of page points: dashed for a ghost, thin for what lies beyond."""
        from matplotlib.patches import PathPatch

        if not outlines:
            return
        path = _closed_path([self.place(outline) for outline in outlines])
        style: dict[str, Any] = {"linestyle": DASHED, "linewidth": 1.7, "edgecolor": GHOST}
        if not dashed:
            style = {"linewidth": 0.8, "edgecolor": QUIET}
        self.window.add_patch(PathPatch(path, facecolor="none", zorder=level, **style))

    def line(
        self,
        points: Sequence[Floats] | Floats,
        *,
        width: float = 0.9,
        color: str = QUIET,
        dash: Dash | None = None,
        level: float = 6.0,
        clipped: bool = False,
        halo: bool = True,
    ) -> None:
        """Draw a line through page points, on white where it crosses something."""
        from matplotlib.lines import Line2D
        from matplotlib.patheffects import Normal, Stroke

        at = self.place(np.array(points))
        stroke = Line2D(at[:, 0], at[:, 1], color=color, linewidth=width, zorder=level)
        stroke.set_solid_capstyle("butt")
        if dash is not None:
            stroke.set_linestyle(dash)
        elif halo:
            stroke.set_path_effects([Stroke(linewidth=width + 1.8, foreground=PAPER), Normal()])
        (self.window if clipped else self.notes).add_line(stroke)

    def strokes(self, lines: Floats, *, width: float, level: float = 6.0) -> None:
        """Draw many plain lines (n, 2, 2) between page points, clipped to the view."""
        from matplotlib.collections import LineCollection

        drawn = LineCollection(list(self.place(lines)), colors=INK, linewidths=width, zorder=level)
        drawn.set_capstyle("round")
        self.window.add_collection(drawn, autolim=False)

    def polygon(
        self,
        corners: Sequence[Floats] | Floats,
        *,
        color: str,
        edge: str = PAPER,
        width: float = 0.5,
        level: float = 6.5,
    ) -> None:
        """Fill a polygon of page points, over everything in the window."""
        from matplotlib.patches import Polygon

        at = self.place(np.array(corners))
        self.notes.add_patch(Polygon(at, fc=color, ec=edge, lw=width, zorder=level))

    def disc(
        self,
        at: Floats | Sequence[float],
        size: float,
        *,
        edge: str,
        fill: str = "none",
        width: float = 1.4,
        level: float = 7.0,
    ) -> None:
        """Draw a circle about a page point, ``size`` points of paper in radius."""
        from matplotlib.patches import Circle

        x, y = (float(v) for v in self.place(at))
        round_ = Circle((x, y), self.points(size), fc=fill, ec=edge, lw=width, zorder=level)
        self.notes.add_patch(round_)

    def arrow(self, tip: Floats, direction: Floats, color: str = INK) -> None:
        """Draw an arrowhead whose tip is at a page point, pointing along ``direction``."""
        along = np.asarray(direction) / np.linalg.norm(direction)
        half = np.array([-along[1], along[0]]) * self.points(ARROW * 0.3)
        back = np.asarray(tip) - along * self.points(ARROW)
        self.polygon([np.asarray(tip), back + half, back - half], color=color)

    def gap(
        self, start: Floats, end: Floats, *, along: Floats, tail: float = 16.0
    ) -> tuple[Floats, Floats]:
        """Dimension a small gap between page points by arrows from outside.

        ``along`` is the unit direction from the start to the end where they do
        not overlap. Returns the outer ends of the arrows at the start and end.
        """
        reach = along * self.points(tail)
        self.line([start - reach, start], color=INK, width=1.0)
        self.line([end + reach, end], color=INK, width=1.0)
        self.arrow(start, along)
        self.arrow(end, -along)
        return start - reach, end + reach

    def dimension(
        self, start: Floats, end: Floats, away: Floats, past: float, *, along: Floats
    ) -> tuple[Floats, Floats]:
        """Dimension a gap so far off its page points, by thin lines that run ``past`` it.

        Returns the outer ends of its arrows, as :meth:`gap` does.
        """
        way = away / np.linalg.norm(away)
        for point in (start, end):
            self.line([point, point + away + past * way], width=0.8)
        return self.gap(start + away, end + away, along=along)

    def span(self, start: Floats, end: Floats) -> None:
        """Dimension a length between page points by a line with arrows at its ends."""
        away = np.asarray(end) - np.asarray(start)
        self.line([start, end], color=INK, width=1.0)
        self.arrow(end, away)
        self.arrow(start, -away)

    def pin(self, at: Floats, reach: float) -> None:
        """Draw the pin's centre: two short chain lines crossing at a page point."""
        for arm in ([reach, 0.0], [0.0, reach]):
            ends = [np.asarray(at) - arm, np.asarray(at) + arm]
            self.line(ends, color=PAPER, width=2.8, level=5.4, clipped=True, halo=False)
            self.line(ends, color=INK, width=1.1, dash=CHAIN, level=5.5, clipped=True)

    def contact(self, at: Floats, *, seated: bool = False, size: float = 10.0) -> None:
        """Ring a page point in the one loud colour; a seat in a calmer one."""
        color = contact_colour(seated=seated)
        for width, stroke in ((5.0, PAPER), (2.6, color)):
            self.disc(at, size, edge=stroke, width=width, level=8.0)
        self.disc(at, 3.0, edge=PAPER, fill=color, width=0.8, level=8.1)

    def text(
        self,
        at: Floats | Sequence[float],
        words: str,
        *,
        side: float = 0.0,
        size: float = SIZE,
        bold: bool = False,
        color: str = INK,
        backed: bool = False,
        va: str = "center_baseline",
    ) -> Any:
        """Write one line, centred in height on a page point; return the text.

        ``side`` 1 runs on from the point toward the strike leg, -1 toward the
        hinge leg, 0 is centred. ``backed`` puts paper under it.
        """
        from matplotlib.text import Text

        x, y = self.place(at)
        run = side * self.hand
        written = Text(
            float(x),
            float(y),
            words,
            color=color,
            fontproperties=font(size, bold=bold),
            ha="left" if run > 0 else "right" if run < 0 else "center",
            va=va,
            zorder=9,
            parse_math=False,
        )
        if backed:
            written.set_bbox({"facecolor": PAPER, "edgecolor": "none", "pad": 1.5, "alpha": 0.92})
        return self.notes.add_artist(written)

    def label(self, at: Sequence[float], words: Label, *, side: float, backed: bool) -> None:
        """Write a label whose middle height is at a page point."""
        step = self.points(SIZE * LEADING)
        count = len(words.names) + len(words.values)
        y = at[1] + step * (count - 1) / 2
        for k, line in enumerate((*words.names, *words.values)):
            bold = k >= len(words.names)
            self.text(
                [at[0], y - k * step],
                line,
                side=side,
                bold=bold,
                color=INK if bold else QUIET,
                backed=backed,
            )

    def frame(self, low: Floats, high: Floats, *, width: float = 0.9) -> None:
        """Draw a thin rectangle between two page corners."""
        from matplotlib.patches import Rectangle

        a, b = self.place(low), self.place(high)
        x, y = (float(v) for v in np.minimum(a, b))
        self.notes.add_patch(
            Rectangle(
                (x, y),
                *np.abs(b - a),
                fill=False,
                ec=FRAME_LINE,
                lw=width,
                zorder=5.8,
                clip_on=False,
            )
        )


def contact_colour(*, seated: bool) -> str:
    """Return the loud colour, or the calm one for a slab that only rests on its stop."""
    return SEAT if seated else CONTACT


def _closed_path(outlines: Sequence[Floats]) -> Any:
    from matplotlib.path import Path

    corners, codes = [], []
    for outline in outlines:
        corners.append(np.vstack([outline, outline[:1]]))
        codes += [Path.MOVETO, *[Path.LINETO] * (len(outline) - 1), Path.CLOSEPOLY]
    return Path(np.vstack(corners), codes)


def _within(extents: Any, axes: Any) -> tuple[float, float, float, float]:
    """Return the part of a bounding box that the axes show."""
    (xa, xb), (ya, yb) = sorted(axes.get_xlim()), sorted(axes.get_ylim())
    return max(extents.x0, xa), max(extents.y0, ya), min(extents.x1, xb), min(extents.y1, yb)


def _strokes(bounds: tuple[float, float, float, float], angle: float, pitch: float) -> Floats:
    """Return parallel lines (n, 2, 2) over a box, on one lattice for the whole panel."""
    x0, y0, x1, y1 = bounds
    along = np.array([cos(radians(angle)), sin(radians(angle))])
    across = np.array([-along[1], along[0]])
    corners = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
    offsets, runs = corners @ across, corners @ along
    first = ceil(offsets.min() / pitch)
    last = max(int(offsets.max() / pitch) + 1, first)
    steps = np.arange(first, last + 1)[:, None] * pitch * across
    return np.stack([steps + runs.min() * along, steps + runs.max() * along], axis=1)
