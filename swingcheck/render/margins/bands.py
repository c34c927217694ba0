"""What a margin map shows: each gap all along its side, its colour, its least and its most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.geometry.solid import Floats
from swingcheck.palette import CONTACT, Material
from swingcheck.render.pen.page import KeyItem, swatch
from swingcheck.render.pen.words import bare_length
from swingcheck.swing.found import Margins
from swingcheck.swing.margins import MarginLine, closed_margins, margins_along
from swingcheck.units import MM_PER_INCH

STEPS = 192
"""Parts that each side is cut into; even, so that the middle is read."""

EVEN_IN = 0.0005
"""Gaps that differ by less read as one, inches."""

NEAR_BEST_IN = 1 / 256
"""A gap that is told stands for the least, or the most, where it is within this of it, inches."""

TINTS = ("#0b2743", "#1d4a76", "#3a6d9f", "#6291bd", "#92b6d6", "#c0d7ea", "#e8f1f8")
"""From no gap to a wide one: one blue, so that only dark and light has to be told apart."""

CLASSES = {
    "in": tuple(k / 32 for k in (0, 1, 2, 3, 4, 6, 8)),
    "mm": tuple(k / MM_PER_INCH for k in (0, 1, 2, 3, 4, 5, 6)),
}
"""Where each tint begins, inches."""

OVERLAP = Material(fill=CONTACT, line="#ffffff", hatch=(45.0, -45.0), pitch=4.0, label="overlaps")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Band:
    """One side's gap: ``name`` in trade words, and the line it was read along.

    ``told`` are the places among the line's at which the check tells it, and
    ``places`` what each is called.
    """

    name: str
    line: MarginLine
    told: tuple[int, ...]
    places: tuple[str, ...]

    @property
    def least(self) -> int:
        """The place of the least gap; one that is told, where it is the least too."""
        return self._chosen(-self.line.gaps)

    @property
    def most(self) -> int:
        """The place of the widest gap; one that is told, where it is the widest too."""
        return self._chosen(self.line.gaps)

    @property
    def is_even(self) -> bool:
        """Whether the gap is the same all along."""
        return bool(np.ptp(self.line.gaps) < EVEN_IN)

    def _chosen(self, height: Floats) -> int:
        best = int(height.argmax())
        told = max(self.told, key=lambda k: float(height[k]))
        return told if height[told] >= height[best] - NEAR_BEST_IN else best


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MapData:
    """Everything a margin map draws; ``margins`` as the check tells them."""

    assembly: Assembly
    hinge: Band
    strike: Band
    head: Band
    bottom: Band
    margins: Margins

    @property
    def unit(self) -> str:
        """The scene's unit."""
        return self.assembly.scene.unit

    @property
    def bands(self) -> tuple[Band, ...]:
        """The four sides."""
        return (self.hinge, self.strike, self.head, self.bottom)


def map_data(assembly: Assembly) -> MapData:
    """Return the margins of the closed slab, all along its four sides."""
    shares = np.linspace(0.0, 1.0, STEPS + 1)
    lines = margins_along(assembly, shares.tolist())
    down, across = ("top", "middle", "bottom"), ("hinge side", "strike side")

    def band(name: str, line: MarginLine, places: tuple[str, ...]) -> Band:
        told = (0, STEPS // 2, STEPS) if len(places) == 3 else (0, STEPS)
        return Band(name=name, line=line, told=told, places=places)

    return MapData(
        assembly=assembly,
        hinge=band("hinge margin", lines.hinge, down),
        strike=band("strike margin", lines.strike, down),
        head=band("head margin", lines.head, across),
        bottom=band("bottom margin", lines.bottom, across),
        margins=closed_margins(assembly),
    )


def gap_class(gap: float, unit: str) -> int:
    """Return which tint a gap has, -1 where the slab overlaps.

    Examples
    --------
    >>> [gap_class(gap, "in") for gap in (-0.01, 0.0, 0.13, 2.0)]
    [-1, 0, 4, 6]
    """
    return sum(gap >= start - 1e-9 for start in CLASSES[unit]) - 1


def gap_material(gap_kind: int) -> Material:
    """Return how a class of gap is drawn."""
    if gap_kind < 0:
        return OVERLAP
    return Material(fill=TINTS[gap_kind], line=TINTS[gap_kind], hatch=(), pitch=0.0, label="")


def class_words(unit: str) -> tuple[tuple[int, str], ...]:
    """Return the scale's entries: each class, and the gaps it stands for.

    Examples
    --------
    >>> class_words("in")[:3], class_words("mm")[-1]
    (((-1, 'overlaps'), (0, '0 to 1/32 in'), (1, '1/32 to 1/16 in')), (6, '6 mm and more'))
    """
    starts = [bare_length(start, unit) for start in CLASSES[unit]]
    between = [f"{low} to {high} {unit}" for low, high in pairwise(starts)]
    words = ["overlaps", *between, f"{starts[-1]} {unit} and more"]
    return tuple((k - 1, each) for k, each in enumerate(words))


def scale_items(unit: str) -> tuple[KeyItem, ...]:
    """Return the scale's entries as those of a key."""
    return tuple(swatch(gap_material(kind), words) for kind, words in class_words(unit))


def runs(gaps: Floats, unit: str) -> list[tuple[int, int, int]]:
    """Return runs of places whose steps share a class: class, first place, last place."""
    kinds = [gap_class(float(gap), unit) for gap in (gaps[:-1] + gaps[1:]) / 2]
    starts = [0, *[k for k in range(1, len(kinds)) if kinds[k] != kinds[k - 1]]]
    ends = [*starts[1:], len(kinds)]
    return [(kinds[start], start, end) for start, end in zip(starts, ends, strict=True)]


def widest(data: Sequence[MapData]) -> float:
    """Return the widest gap of several maps, inches."""
    return max(float(np.abs(band.line.gaps).max()) for each in data for band in each.bands)
