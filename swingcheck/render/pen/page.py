"""A sheet of paper: its heading, its key, what is between them, and its bytes as a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import (
    APPLIED,
    ASTRAGAL,
    BASEBOARD,
    CASING,
    DASHED,
    HANDLE,
    INK,
    JAMB,
    MATERIALS,
    METAL,
    OBSTACLE,
    OTHER_SLAB,
    PAPER,
    QUIET,
    SHELF,
    SLAB,
    STOP,
    WALL,
    Material,
)
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.lettering import LEADING, SIZE, text_width, wrapped
from swingcheck.render.pen.panel import Box, paper_pen
from swingcheck.render.pen.section import PlanCut
from swingcheck.render.pen.subject import Pose

ROW = 0.32
SWATCH = 0.38
SPACE = 0.2
ORDER = (
    SLAB, OTHER_SLAB, JAMB, STOP, METAL, ASTRAGAL, APPLIED, HANDLE, SHELF, CASING, BASEBOARD,
    WALL, OBSTACLE,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyItem:
    """One entry: a material's swatch, or a mark called ``ghost``, ``pin``, ``way`` ..."""

    words: str
    material: Material | None = None
    mark: str = ""

    @property
    def width(self) -> float:
        """Width on paper, inches, with the space after it."""
        return SWATCH + 0.1 + text_width(self.words) / 72 + SPACE


def swatch(material: Material, words: str = "") -> KeyItem:
    """Return a material's entry, in other words than its own where they are given."""
    return KeyItem(words=words or material.label, material=material)


def key_items(cut: PlanCut, pose: Pose) -> tuple[KeyItem, ...]:
    """Return an entry for everything that the section shows."""
    used = {id(MATERIALS[part.kind]) for part in (*cut.fixed, *cut.moving)}
    items = [swatch(material) for material in ORDER if id(material) in used]
    if cut.beyond:
        items.append(KeyItem(words="hinge above or below", mark="beyond"))
    if not pose.closed:
        items.append(KeyItem(words="slab closed", mark="ghost"))
    items.append(KeyItem(words="pin", mark="pin"))
    if pose.at is not None:
        words = "rests on its stop" if pose.seated else "first contact"
        words = words if pose.touch is not None else "overlap"
        items.append(KeyItem(words=words, mark="seat" if pose.seated else "contact"))
    return tuple(items)


def key_rows(items: Sequence[KeyItem], width: float) -> list[list[KeyItem]]:
    """Break the entries into rows that fit a width of paper, inches."""
    rows: list[list[KeyItem]] = [[]]
    run = 0.0
    for item in items:
        if rows[-1] and run + item.width - SPACE > width:
            rows.append([])
            run = 0.0
        rows[-1].append(item)
        run += item.width
    return rows


def draw_key(figure: Any, box: Box, rows: Sequence[Sequence[KeyItem]]) -> None:
    """Draw the key's rows into a box of the sheet, from its top."""
    pen = paper_pen(figure, box)
    for k, row in enumerate(rows):
        x, y = 0.0, box.height - (k + 0.5) * ROW
        for item in row:
            draw_swatch(pen, item, np.array([x, y]))
            pen.text([x + SWATCH + 0.1, y], item.words, side=1.0)
            x += item.width


def draw_swatch(pen: Pen, item: KeyItem, at: Floats, *, high: float = 0.1, edge: str = INK) -> None:
    """Draw an entry's swatch or mark from a page point to the right, ``high`` up and down."""
    corners = np.array([[0.0, -high], [SWATCH, -high], [SWATCH, high], [0.0, high]]) + at
    middle, ends = corners.mean(axis=0), [at, at + np.array([SWATCH, 0.0])]
    if item.material is not None:
        pen.fill([corners], item.material, 3.0, edge=0.0)
        width = 1.3 if edge == INK else 0.8
        pen.line([*corners, corners[0]], color=edge, width=width, halo=False)
    elif item.mark in ("ghost", "beyond"):
        pen.outline([corners], 3.0, dashed=item.mark == "ghost")
    elif item.mark == "way":
        pen.line(ends, color=QUIET, width=1.3, dash=DASHED)
    elif item.mark == "pin":
        pen.pin(middle, 0.16)
    else:
        pen.line(ends, color=QUIET, halo=False)
        pen.contact(middle, seated=item.mark == "seat", size=6.5)


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
