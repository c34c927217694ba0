"""A sheet of paper: its heading, its key, what is between them, and its bytes as a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import numpy as np

from swingcheck.palette import INK, PAPER, QUIET
from swingcheck.render.pen.key import ROW, KeyItem, draw_key, key_rows
from swingcheck.render.pen.lettering import LEADING, SIZE, wrapped
from swingcheck.render.pen.panel import Box, paper_pen

WIDTH, MARGIN, GUTTER = 12.0, 0.35, 0.3
"""The usual sheet: its width, what is left free around it and between two things, inches."""

INNER = WIDTH - 2 * MARGIN
HEADLINE = 17.0
"""The headline's usual size, points."""

PIXELS = 2000
"""The usual width of a sheet in pixels."""

COLOURS = 256
NEARLY_FULL = 253
"""The palette is averages: what comes this near to full is full, so that paper stays white."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """Lines over a drawing: a name, the verdict's words large, and under them how it is drawn."""

    name: str = ""
    headline: tuple[str, ...]
    subtitle: tuple[str, ...]
    size: float

    @property
    def rows(self) -> list[tuple[str, float, bool, str]]:
        """Each line with its size in points, whether it is bold, and its colour."""
        return [
            *([(self.name, SIZE, True, QUIET)] if self.name else []),
            *((line, self.size, True, INK) for line in self.headline),
            *((line, SIZE, False, QUIET) for line in self.subtitle),
        ]

    @property
    def height(self) -> float:
        """Height on paper with the room under it, inches."""
        return sum(size for _, size, _, _ in self.rows) * LEADING / 72 + 0.15


def heading(
    caption: str, subtitle: str, width: float, size: float = HEADLINE, name: str = ""
) -> Heading:
    """Return a heading whose lines fit a width of paper, inches."""
    headline = wrapped(caption, width * 72, size, bold=True)
    return Heading(name=name, headline=headline, subtitle=wrapped(subtitle, width * 72), size=size)


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What stands around a drawing: headings side by side above, a key below.

    ``over_key`` is the room between the drawing and the key, ``foot`` more
    room below it, and ``between`` what parts two headings; inches.
    """

    headings: tuple[Heading, ...]
    key: tuple[KeyItem, ...] = ()
    width: float = WIDTH
    margin: float = MARGIN
    between: float = 0.0
    over_key: float = GUTTER
    foot: float = 0.0

    @property
    def inner(self) -> float:
        """The paper's width between its margins, inches."""
        return self.width - 2 * self.margin

    @property
    def rows(self) -> list[list[KeyItem]]:
        """The key's entries in rows that fit the page."""
        return key_rows(self.key, self.inner) if self.key else []

    @property
    def low(self) -> float:
        """Where the drawing begins, inches from the bottom."""
        return self.margin + self.foot + len(self.rows) * ROW + (self.over_key if self.key else 0.0)

    @property
    def around(self) -> float:
        """The height of all but the drawing, inches."""
        return self.low + self.margin + max(head.height for head in self.headings)

    def column(self, k: int) -> tuple[float, float]:
        """Return where the drawing under heading ``k`` begins, and its width, inches."""
        count = len(self.headings)
        wide = (self.inner - (count - 1) * self.between) / count
        return self.margin + k * (wide + self.between), wide

    def opened(self, tall: float) -> tuple[Any, Box]:
        """Return a figure with all but its drawing, and the place for one so tall, inches."""
        height = self.around + tall
        figure = blank_figure(self.width, height)
        whole = Box(x=0.0, y=0.0, width=self.width, height=height)
        pen = paper_pen(figure, whole)
        for k, head in enumerate(self.headings):
            y = height - self.margin
            for line, size, bold, color in head.rows:
                y -= size * LEADING / 72
                at = [self.column(k)[0], y + size * 0.3 / 72]
                pen.text(at, line, side=1.0, size=size, bold=bold, color=color, va="baseline")
        foot = Box(
            x=self.margin,
            y=self.margin + self.foot,
            width=self.inner,
            height=len(self.rows) * ROW,
        )
        if self.key:
            draw_key(figure, foot, self.rows)
        return figure, Box(x=self.margin, y=self.low, width=self.inner, height=tall)


def plain_page(caption: str, subtitle: str, key: Sequence[KeyItem] = ()) -> Page:
    """Return the usual page with one heading."""
    return Page(headings=(heading(caption, subtitle, INNER),), key=tuple(key))


def blank_figure(width: float, height: float) -> Any:
    """Return an empty sheet, inches, on a canvas that needs no display."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width, height), facecolor=PAPER)
    FigureCanvasAgg(figure)
    return figure


def figure_bytes(figure: Any, kind: str, pixels: int = PIXELS) -> bytes:
    """Return a sheet as a file's bytes; equal sheets give equal bytes.

    ``kind`` is ``png``, ``svg`` or ``pdf``; ``pixels`` the width of a PNG, whose height
    follows: it tells how many make an inch.
    """
    import matplotlib

    if kind == "png":
        dots = pixels / float(figure.get_size_inches()[0])
        figure.set_dpi(dots)
        figure.canvas.draw()
        return palette_png(figure.canvas.buffer_rgba(), dots)
    written = BytesIO()
    metadata = {"svg": {"Date": None}, "pdf": {"CreationDate": None}}[kind]
    with matplotlib.rc_context({"svg.hashsalt": "swingcheck", "pdf.fonttype": 42}):
        figure.savefig(written, format=kind, metadata=metadata)
    return written.getvalue()


def palette_png(pixels: Any, dots: float) -> bytes:
    """Return a (height, width, 3 or 4) uint8 picture as a PNG with its 256 best colours.

    A line drawing has few colours: this is a third of the size, and no eye
    tells it from the full picture. ``dots`` of its pixels make an inch.
    """
    from PIL import Image

    picture = Image.fromarray(np.ascontiguousarray(np.asarray(pixels)[:, :, :3]))
    few = picture.quantize(COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    palette = [255 if value >= NEARLY_FULL else value for value in few.getpalette() or []]
    corner = few.getpixel((0, 0))
    if picture.getpixel((0, 0)) == (255, 255, 255) and isinstance(corner, int):
        palette[3 * corner : 3 * corner + 3] = [255] * 3
    few.putpalette(palette)
    written = BytesIO()
    few.save(written, "png", optimize=True, dpi=(dots, dots))
    return written.getvalue()
