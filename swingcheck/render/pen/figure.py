"""A sheet of paper to draw on: its usual measures, its heading, and its bytes as a file."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from swingcheck.assembly import Assembly
from swingcheck.palette import INK, PAPER, QUIET
from swingcheck.render.pen.lettering import LEADING, SIZE, font, wrapped
from swingcheck.render.pen.png import palette_png
from swingcheck.render.plan.pose import Pose

WIDTH, MARGIN, GUTTER = 12.0, 0.35, 0.3
INNER = WIDTH - 2 * MARGIN
HEADLINE = 17.0
PIXELS = 2000
"""The usual width of a sheet in pixels."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Subject:
    """What a picture shows: the assembly at a pose, and the verdict's words over it."""

    assembly: Assembly
    pose: Pose
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """Lines over a drawing: the verdict's words large, and under it how it is drawn."""

    headline: tuple[str, ...]
    subtitle: tuple[str, ...]
    size: float

    @property
    def height(self) -> float:
        """Height on paper with the room under it, inches."""
        lines = len(self.headline) * self.size + len(self.subtitle) * SIZE
        return lines * LEADING / 72 + 0.15

    def write(self, figure: Any, x: float, top: float) -> None:
        """Write the lines from a place on paper, inches from the left and from the bottom."""
        width, height = (float(side) for side in figure.get_size_inches())
        rows = [(line, self.size, True, INK) for line in self.headline]
        rows += [(line, SIZE, False, QUIET) for line in self.subtitle]
        y = top
        for line, size, bold, color in rows:
            y -= size * LEADING / 72
            figure.text(
                x / width,
                (y + size * 0.3 / 72) / height,
                line,
                fontproperties=font(size, bold=bold),
                color=color,
                va="baseline",
                parse_math=False,
            )


def heading(caption: str, subtitle: str, width: float, size: float = HEADLINE) -> Heading:
    """Return a heading whose lines fit a width of paper, inches."""
    return Heading(
        headline=wrapped(caption, width * 72, size, bold=True),
        subtitle=wrapped(subtitle, width * 72),
        size=size,
    )


def blank_figure(width: float, height: float) -> Any:
    """Return an empty sheet, inches, on a canvas that needs no display."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width, height), facecolor=PAPER)
    FigureCanvasAgg(figure)
    return figure


def figure_bytes(figure: Any, kind: str, pixels: int = PIXELS, *, sized: bool = False) -> bytes:
    """Return a sheet as a file's bytes; equal sheets give equal bytes.

    Parameters
    ----------
    figure : matplotlib Figure
        What :func:`blank_figure` began.
    kind : str
        ``png``, ``svg`` or ``pdf``.
    pixels : int
        Width of a PNG; its height follows.
    sized : bool
        Let a PNG tell how many of its pixels make an inch of the sheet.
    """
    import matplotlib

    if kind == "png":
        dots = pixels / float(figure.get_size_inches()[0])
        figure.set_dpi(dots)
        figure.canvas.draw()
        return palette_png(figure.canvas.buffer_rgba(), dots if sized else None)
    written = BytesIO()
    metadata = {"svg": {"Date": None}, "pdf": {"CreationDate": None}}[kind]
    with matplotlib.rc_context({"svg.hashsalt": "swingcheck", "pdf.fonttype": 42}):
        figure.savefig(written, format=kind, metadata=metadata)
    return written.getvalue()
