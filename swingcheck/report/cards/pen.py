"""A pen for printed pages: text in an embedded font with fractions, measured before it is set.

Places are points (72 an inch) from the page's lower left corner.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path
from typing import Any

from swingcheck.units import words
from swingcheck.version import __version__


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet, upright: its name as CSS has it, its width and height in points (72 an inch)."""

    name: str
    width: float
    height: float


LETTER = Paper(name="letter", width=612.0, height=792.0)
A4 = Paper(name="A4", width=210 / 25.4 * 72, height=297 / 25.4 * 72)

PAPERS = {"letter": LETTER, "a4": A4}


_SET = re.compile(r" ?(?P<aside>\([^)]*\))|(?:(?P<whole>\d+) )?(?P<over>\d+)/(?P<under>\d+)")

Run = tuple[str, str]
"""A piece of a figure and the HTML tag that sets it: ``sup``, ``sub``, ``small`` or none."""


def runs(value: str) -> list[Run]:
    """Return a figure's runs: fractions raised and lowered, what is in brackets small.

    Examples
    --------
    >>> runs("3/32 (0.097)")
    [('3', 'sup'), ('\u2044', ''), ('32', 'sub'), (' (0.097)', 'small')]
    >>> [text for text, _ in runs("29 7/8 x 80")]
    ['29', '\u2009', '7', '\u2044', '8', ' x 80']
    """
    value = value.replace(" deg", "\u00b0")
    found, end = [], 0
    for match in _SET.finditer(value):
        found.append((value[end : match.start()], ""))
        if match["aside"]:
            found.append((f" {match['aside']}", "small"))
        else:
            if match["whole"]:
                found += [(match["whole"], ""), ("\u2009", "small")]
            found += [(match["over"], "sup"), ("\u2044", ""), (match["under"], "sub")]
        end = match.end()
    return [run for run in (*found, (value[end:], "")) if run[0]]


PLAIN, BOLD = "DejaVuSans", "DejaVuSans-Bold"
"""Free fonts that matplotlib brings, with every fraction's digits."""

SET_AT = {"": 1.0, "sup": 0.62, "sub": 0.62, "small": 0.5}
"""Size of a run, of the figure's own."""

RISES = {"sup": 0.30, "sub": -0.05}
"""How far a run is raised, of the figure's size."""

LEADING = 1.28

BLACK, QUIET, RULE = (0.0, 0.0, 0.0), (0.36, 0.36, 0.36), (0.72, 0.72, 0.72)

Colour = tuple[float, float, float]


class Pen:
    """Draws the pages of one PDF, whose bytes depend on nothing but what is drawn."""

    def __init__(self, paper: Paper, title: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        _register_fonts()
        self.paper = paper
        self._file = BytesIO()
        self.canvas: Any = Canvas(
            self._file, pagesize=(paper.width, paper.height), invariant=1, pageCompression=1
        )
        self.canvas.setTitle(title)
        self.canvas.setCreator(f"swingcheck {__version__}")

    def next_page(self) -> None:
        """End the page that is drawn on."""
        self.canvas.showPage()

    def finished(self) -> bytes:
        """Return the file's bytes; nothing can be drawn after."""
        self.canvas.save()
        return self._file.getvalue()

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        colour: Colour = BLACK,
    ) -> None:
        """Write one line with its baseline at ``y``."""
        self.canvas.setFillColorRGB(*colour)
        self.canvas.setFont(BOLD if bold else PLAIN, size)
        self.canvas.drawString(x, y, text)

    def figure(self, x: float, y: float, value: str, size: float) -> None:
        """Write a figure in bold with its fractions raised and lowered."""
        for text, tag in runs(value):
            rise, small = RISES.get(tag, 0.0) * size, tag == "small"
            colour = QUIET if small else BLACK
            self.text(x, y + rise, text, SET_AT[tag] * size, bold=not small, colour=colour)
            x += _run_width((text, tag), size)

    def line(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        *,
        width: float = 0.5,
        colour: Colour = RULE,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw a straight line."""
        self._stroke(width, colour, dash)
        self.canvas.line(*start, *end)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        stroke: float = 0.9,
        colour: Colour = BLACK,
    ) -> None:
        """Draw a rectangle from its lower left corner."""
        self._stroke(stroke, colour)
        self.canvas.rect(x, y, width, height, stroke=1, fill=0)

    def path(
        self,
        points: Sequence[Sequence[float]],
        *,
        width: float,
        colour: Colour,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw through points; six numbers are a curve's two guides and its end."""
        self._stroke(width, colour, dash)
        path = self.canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            (path.lineTo if len(point) == 2 else path.curveTo)(*point)
        self.canvas.drawPath(path, stroke=1, fill=0)

    def picture(self, png: bytes, x: float, y: float, width: float, height: float) -> None:
        """Draw a picture as large as it fits within a box, in the box's middle."""
        from reportlab.lib.utils import ImageReader

        image = ImageReader(BytesIO(png))
        self.canvas.drawImage(image, x, y, width, height, preserveAspectRatio=True, anchor="c")

    def _stroke(self, width: float, colour: Colour, dash: Sequence[float] = ()) -> None:
        self.canvas.setLineWidth(width)
        self.canvas.setStrokeColorRGB(*colour)
        self.canvas.setDash(list(dash))


@lru_cache(maxsize=1 << 15)
def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a line is, points."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    _register_fonts()
    return float(stringWidth(text, BOLD if bold else PLAIN, size))


def figure_width(value: str, size: float) -> float:
    """Return how wide a figure is, points."""
    return sum(_run_width(run, size) for run in runs(value))


def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """Return lines no wider than ``width`` points; a word that is wider is cut."""
    return words.wrapped(text, width, lambda line: width_of(line, size, bold=bold))


def _run_width(run: Run, size: float) -> float:
    text, tag = run
    return width_of(text, SET_AT[tag] * size, bold=tag != "small")


@cache
def _register_fonts() -> None:
    from matplotlib import get_data_path
    from reportlab import rl_config
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    rl_config.useA85 = 0  # bytes as they are: smaller files, sooner
    folder = Path(get_data_path()) / "fonts" / "ttf"
    for name in (PLAIN, BOLD):
        registerFont(TTFont(name, str(folder / f"{name}.ttf")))
