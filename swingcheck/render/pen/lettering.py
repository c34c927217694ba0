"""How wide text is, how it breaks, and where labels go so that none covers another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from swingcheck.palette import FONT
from swingcheck.units import words

SIZE = 11.0
"""Points, of every label on the sheet."""

LEADING = 1.32
"""Baseline to baseline, in sizes."""

SLACK = 1.04
"""Renderers hint glyphs to whole pixels: text may come out this much wider."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A few short lines: what it is in plain letters, then its value in bold."""

    names: tuple[str, ...]
    values: tuple[str, ...] = ()

    @property
    def height(self) -> float:
        """Height in points."""
        return (len(self.names) + len(self.values)) * SIZE * LEADING

    @property
    def width(self) -> float:
        """Width in points."""
        names = [text_width(name) for name in self.names]
        return max([*names, *(text_width(value, bold=True) for value in self.values)])


def label(name: str, value: str, width: float) -> Label:
    """Return a label whose lines fit a width in points."""
    return Label(
        names=wrapped(name, width), values=wrapped(value, width, bold=True) if value else ()
    )


def font(size: float = SIZE, *, bold: bool = False) -> Any:
    """Return matplotlib's description of our letters."""
    from matplotlib.font_manager import FontProperties

    return FontProperties(family=FONT, size=size, weight="bold" if bold else "normal")


@lru_cache(maxsize=1024)
def text_width(text: str, size: float = SIZE, *, bold: bool = False) -> float:
    """Return how wide a line of text is, in points."""
    from matplotlib.textpath import text_to_path

    width, _, _ = text_to_path.get_text_width_height_descent(text, font(size, bold=bold), False)
    return float(width) * SLACK


def wrapped(text: str, width: float, size: float = SIZE, *, bold: bool = False) -> tuple[str, ...]:
    """Break text into lines no wider than ``width`` points; a longer word is cut."""
    return words.wrapped(text, width, lambda line: text_width(line, size, bold=bold))


def stacked(
    wanted: Sequence[float], heights: Sequence[float], low: float, high: float, gap: float
) -> list[float]:
    """Return centres for boxes in a column, near where they are wanted and never overlapping.

    ``wanted`` are from the highest to the lowest, with the boxes' ``heights``. A stack that is
    too tall for the column runs out at its ``low`` end; ``gap`` is the least room between
    two boxes.

    Examples
    --------
    >>> stacked([5.0, 5.0], [2.0, 2.0], 0.0, 10.0, 1.0)
    [5.0, 2.0]
    """
    centres = []
    ceiling = high
    for want, height in zip(wanted, heights, strict=True):
        centre = min(want, ceiling - height / 2)
        centres.append(centre)
        ceiling = centre - height / 2 - gap
    floor = low
    for k in range(len(centres) - 1, -1, -1):
        centres[k] = max(centres[k], floor + heights[k] / 2)
        floor = centres[k] + heights[k] / 2 + gap
    over = max(0.0, floor - gap - high)
    return [centre - over for centre in centres]
