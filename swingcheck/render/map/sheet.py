"""What a map or a curve of variants shows: its inks, its values, and how they are written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, degrees, floor, radians

import numpy as np

from swingcheck.chance.outcomes import VERDICTS
from swingcheck.chance.vary import Over, Varied
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.palette import INK, SEAT, Material, mixed
from swingcheck.swing.found import Verdict
from swingcheck.units import MM_PER_INCH, angle_text, fraction_text, length_text
from swingcheck.units.words import upper

TITLES = {
    "verdict": "Where it swings, and what stops it elsewhere",
    "angle": "How far open the slab first touches",
    "short": "How far short of closed the strike edge stops",
    "margin": "The lesser margin of the two legs, slab closed",
}
MARGINS = "The margins along the two legs, slab closed"


def _ink(word: Verdict, fill: str, line: str, *hatch: float) -> Material:
    return Material(fill=fill, line=line, hatch=hatch, pitch=7.0, label=word.value)


CALM = "#dbe9ed"

INKS = {
    ink.label: ink
    for ink in (
        _ink(Verdict.SWINGS, CALM, SEAT),
        _ink(Verdict.STANDS_OFF, "#fbe3d6", "#a63a1c", 90.0),
        _ink(Verdict.DRAGS, "#f8cdb6", "#a63a1c", 0.0),
        _ink(Verdict.STRIKES, "#f2a583", "#8f2c0f", -45.0),
        _ink(Verdict.PINCHES, "#e0633d", "#7d2108"),
        _ink(Verdict.HINGE_BOUND, "#a82708", "#ffd9c9", 45.0),
        _ink(Verdict.FOULS, "#7d2108", "#ffd9c9", 45.0, -45.0),
        _ink(Verdict.BLOCKED, "#3f120a", "#ffd9c9"),
    )
}
"""Each verdict's ground, told apart by lightness and hatching, not by hue.

Not swinging is all in the loud colour's family, the darker the earlier it goes wrong.
"""

MIDDLE = "#ea8a62"
"""What stands in the key for a colour of the loud ramp."""

STOPPED = "#ffb59c"
"""Hatches margins where the slab does not swing, whatever they are."""

EVEN = {"in": 1 / 16, "mm": 1 / MM_PER_INCH, "deg": radians(1)}
"""Even values that a range of colours begins and ends at."""

STEPS = {
    "in": [k / 64 for k in (1, 2, 4, 8, 16, 32, 64, 128, 256, 512)],
    "mm": [k / MM_PER_INCH for k in (0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200)],
    "deg": [radians(k) for k in (0.05, 0.1, 0.25, 0.5, 1, 2, 5, 10, 20, 45)],
}
"""Even steps for ticks and lines, as a tape or a protractor has them."""

WORDS = {"in": "inches", "mm": "millimetres", "deg": "degrees"}


def tick(value: float, unit: str) -> str:
    """Return a value without its unit, which is ``in``, ``mm`` or ``deg``."""
    if unit == "in":
        return fraction_text(value, 64)
    return f"{degrees(value) if unit == 'deg' else value * MM_PER_INCH:.4g}"


def ticks(low: float, high: float, unit: str, most: int) -> list[float]:
    """Return even values between two ends, at most so many."""
    steps = STEPS[unit]
    step = next((each for each in steps if (high - low) / each <= most - 1), steps[-1])
    first, last = ceil(low / step - 1e-6), floor(high / step + 1e-6)
    return [k * step for k in range(first, last + 1)]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MapSheet:
    """What is drawn, and how its values are written.

    ``show`` is ``verdict``, ``angle``, ``short`` or ``margin``; ``unit`` what lengths are in.
    """

    varied: Varied
    show: str
    unit: str

    @property
    def is_curve(self) -> bool:
        """Whether one dimension varies, not two."""
        return len(self.varied.overs) == 1

    @property
    def title(self) -> str:
        """The headline."""
        words = MARGINS if self.is_curve and self.show == "margin" else TITLES[self.show]
        return f"{self.varied.scene.title}: {words}"

    @property
    def now_words(self) -> str:
        """The line under the headline: the scene as it is."""
        now = []
        for over in self.varied.overs:
            own, value = over.measurement, self.now(over)
            text = angle_text(value) if own.is_angle else length_text(value, self.unit)
            now.append(f"{own.words} {text}")
        return f"Now: {' and '.join(now)}. All else as it is."

    @property
    def words(self) -> Ints:
        """Each variant's verdict, in the variants' shape."""
        return self.varied.outcomes.verdict.reshape(self.varied.shape)

    @property
    def grounds(self) -> list[tuple[Verdict, Bools]]:
        """Every verdict that there is, in the order of the inks, and which variants have it."""
        held = [(Verdict(word), self.words == VERDICTS.index(Verdict(word))) for word in INKS]
        return [(word, cells) for word, cells in held if cells.any()]

    @property
    def shown(self) -> Floats:
        """What is shown of each variant, in the variants' shape."""
        outcomes = self.varied.outcomes
        found = {
            "angle": outcomes.angle,
            "short": np.where(outcomes.swings, np.nan, outcomes.short),
            "margin": outcomes.margin,
        }[self.show]
        return found.reshape(self.varied.shape)

    @property
    def shown_unit(self) -> str:
        """What the values that are shown are counted in."""
        return "deg" if self.show == "angle" else self.unit

    @property
    def span(self) -> tuple[float, float]:
        """The least and the most that colours stand for, at even values of the tape."""
        values, step = self.shown, EVEN[self.shown_unit]
        if np.isnan(values).all():
            return 0.0, 1.0
        least = float(np.nanmin(values)) if self.show == "margin" else 0.0
        low = floor(least / step + 1e-6) * step
        return low, max(ceil(float(np.nanmax(values)) / step - 1e-6) * step, low + step)

    def now(self, over: Over) -> float:
        """Return a dimension's value in the scene."""
        return over.measurement.value(self.varied.scene)

    def unit_of(self, over: Over) -> str:
        """Return what a dimension is counted in."""
        return "deg" if over.measurement.is_angle else self.unit

    def label(self, over: Over) -> str:
        """Return the words on an axis."""
        return f"{upper(over.measurement.words)}, {WORDS[self.unit_of(over)]}"

    def ground(self, word: Verdict) -> Material:
        """Return how a verdict's ground is drawn."""
        ink = INKS[word.value]
        if self.show == "verdict":
            return ink
        if self.is_curve:
            return replace(ink, fill=_tinted(ink.fill), hatch=())
        if self.show == "margin":
            hatch = () if word is Verdict.SWINGS else (-45.0,)
            return replace(ink, fill="#6fa3b4", hatch=hatch, line=STOPPED)
        if word in (Verdict.SWINGS, Verdict.BLOCKED, Verdict.FOULS):
            return ink
        return replace(ink, fill=MIDDLE, line=INK)


def _tinted(fill: str) -> str:
    """Return a ground's colour under a curve: nearer to paper, the darkest still light enough."""
    light = min(int(fill[k : k + 2], 16) for k in (1, 3, 5)) > 0xD0
    return fill if light else mixed(fill, 0xFF, 0.5)
