"""What a map or a curve of variants shows: its inks, its values, and how they are written."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, degrees, floor, radians

import numpy as np

from swingcheck.chance.vary import Over, Varied
from swingcheck.geometry.solid import Floats, Ints
from swingcheck.palette import INK, SEAT
from swingcheck.swing.found import Verdict
from swingcheck.units import MM_PER_INCH, angle_text, fraction_text, length_text

SMALL, PLAIN, LARGE = 11.0, 13.0, 19.0
"""Points, of the lettering."""

AXES = (8.47, 5.48)
"""Inches of paper that a map takes, across and up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """How a verdict's ground is drawn: told apart by lightness and hatching, not by hue."""

    fill: str
    hatch: str
    line: str


CALM = "#dbe9ed"

INKS = {
    Verdict.SWINGS: Ink(fill=CALM, hatch="", line=SEAT),
    Verdict.STANDS_OFF: Ink(fill="#fbe3d6", hatch="..", line="#a63a1c"),
    Verdict.DRAGS: Ink(fill="#f8cdb6", hatch="--", line="#a63a1c"),
    Verdict.STRIKES: Ink(fill="#f2a583", hatch="\\\\", line="#8f2c0f"),
    Verdict.PINCHES: Ink(fill="#e0633d", hatch="", line="#7d2108"),
    Verdict.HINGE_BOUND: Ink(fill="#a82708", hatch="//", line="#ffd9c9"),
    Verdict.FOULS: Ink(fill="#7d2108", hatch="xx", line="#ffd9c9"),
    Verdict.BLOCKED: Ink(fill="#3f120a", hatch="", line="#ffd9c9"),
}
"""Not swinging is all in the loud colour's family, the darker the earlier it goes wrong."""

MIDDLE = "#ea8a62"
"""What stands in the key for a colour of the loud ramp."""

STOPPED = "#ffb59c"
"""Hatches margins where the slab does not swing, whatever they are."""

EVEN = {"in": 1 / 16, "mm": 1 / MM_PER_INCH}
"""Even values that a range of colours begins and ends at."""

STEPS = {
    "in": [k / 64 for k in (1, 2, 4, 8, 16, 32, 64, 128, 256, 512)],
    "mm": [k / MM_PER_INCH for k in (0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200)],
    "deg": [radians(k) for k in (0.05, 0.1, 0.25, 0.5, 1, 2, 5, 10, 20, 45)],
}
"""Even steps for ticks and lines, as a tape or a protractor has them."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MapSheet:
    """What is drawn, and how its values are written."""

    varied: Varied
    show: str
    unit: str

    @property
    def words(self) -> Ints:
        """Each variant's verdict, in the variants' shape."""
        return self.varied.outcomes.verdict.reshape(self.varied.shape)

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
    def is_angle(self) -> bool:
        """Whether what is shown is an angle."""
        return self.show == "angle"

    def text(self, value: float, *, is_angle: bool) -> str:
        """Return a value for reading, its unit with it."""
        return angle_text(value) if is_angle else length_text(value, self.unit)

    def tick(self, value: float, *, is_angle: bool) -> str:
        """Return a tick's value without its unit."""
        if is_angle:
            return f"{degrees(value):.4g}"
        if self.unit == "mm":
            return f"{value * MM_PER_INCH:.4g}"
        return fraction_text(value, 64)

    def ticks(self, low: float, high: float, *, is_angle: bool, most: int) -> list[float]:
        """Return even values between two ends, at most so many."""
        steps = STEPS["deg" if is_angle else self.unit]
        step = next((each for each in steps if (high - low) / each <= most - 1), steps[-1])
        first, last = ceil(low / step - 1e-6), floor(high / step + 1e-6)
        return [k * step for k in range(first, last + 1)]

    def now(self, over: Over) -> float:
        """Return a dimension's value in the scene."""
        return over.measurement.value(self.varied.scene)

    def label(self, over: Over) -> str:
        """Return the words on an axis."""
        unit = self.unit_word(is_angle=over.measurement.is_angle)
        return f"{over.measurement.words[0].upper()}{over.measurement.words[1:]}, {unit}"

    def unit_word(self, *, is_angle: bool) -> str:
        """Return what values are counted in, in full."""
        if is_angle:
            return "degrees"
        return "inches" if self.unit == "in" else "millimetres"

    @property
    def span(self) -> tuple[float, float]:
        """The least and the most that colours stand for, at even values of the tape."""
        values = self.shown
        if np.isnan(values).all():
            return 0.0, 1.0
        most, step = float(np.nanmax(values)), radians(1) if self.is_angle else EVEN[self.unit]
        least = float(np.nanmin(values)) if self.show == "margin" else 0.0
        low = floor(least / step + 1e-6) * step
        return low, max(ceil(most / step - 1e-6) * step, low + step)

    def inches(self, k: int, length: float) -> float:
        """Return how long a length along dimension ``k`` is on paper."""
        values = self.varied.overs[k].values
        step = (values[-1] - values[0]) / (len(values) - 1) if len(values) > 1 else 1.0
        return float(length / (values[-1] - values[0] + step)) * AXES[k]

    def key_ink(self, word: Verdict) -> Ink:
        """Return the ground that stands for a verdict."""
        ink = INKS[word]
        if self.show == "verdict":
            return ink
        if len(self.varied.overs) == 1:
            return Ink(fill=_tinted(ink.fill), hatch="", line=INK)
        if self.show == "margin":
            hatch = "" if word is Verdict.SWINGS else "\\\\"
            return Ink(fill="#6fa3b4", hatch=hatch, line=STOPPED)
        if word in (Verdict.SWINGS, Verdict.BLOCKED, Verdict.FOULS):
            return ink
        return Ink(fill=MIDDLE, hatch=ink.hatch, line=INK)


def _tinted(fill: str) -> str:
    """Return a ground's colour under a curve: nearer to paper, the darkest still light enough."""
    parts = [int(fill[k : k + 2], 16) for k in (1, 3, 5)]
    if min(parts) > 0xD0:
        return fill
    return "#" + "".join(f"{round(0xFF - 0.5 * (0xFF - part)):02x}" for part in parts)
