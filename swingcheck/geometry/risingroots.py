"""Every root of the contact equation of a turn that also rises, none missed.

``F(t) = A cos t + B sin t + C + t (G + D cos t + E sin t)`` has no closed form,
so its roots are isolated by halving. On an interval of half-width ``h`` about
``m``, with ``M`` a bound of ``|F''|`` over the whole span, Taylor's theorem
gives two certain answers: where ``|F(m)| > |F'(m)| h + M h^2 / 2`` there is no
root, and where ``|F'(m)| > M h`` the function is monotonic, so that the signs
at the ends tell whether there is just one, which is then closed in on to the
last bit. What is left after 40 halvings is a touch whose depth is under
``M h^2 / 2``, far below anything that counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Floats, Ints

HALVINGS = 40
CLOSINGS = 70


@dataclass(frozen=True, slots=True, eq=False)
class Wave(Rows):
    """The coefficients (n,) of n contact equations."""

    a: Floats
    b: Floats
    c: Floats
    g: Floats
    d: Floats
    e: Floats

    def value(self, t: Floats) -> Floats:
        """Return F, (n,)."""
        cos, sin = np.cos(t), np.sin(t)
        value: Floats = (
            self.a * cos + self.b * sin + self.c + t * (self.g + self.d * cos + self.e * sin)
        )
        return value

    def slope(self, t: Floats) -> Floats:
        """Return F', (n,)."""
        cos, sin = np.cos(t), np.sin(t)
        slope: Floats = (
            -self.a * sin
            + self.b * cos
            + self.g
            + self.d * cos
            + self.e * sin
            + t * (self.e * cos - self.d * sin)
        )
        return slope

    def bend(self, span: float) -> Floats:
        """Return a bound (n,) of ``|F''|`` on [0, span]."""
        turned = np.hypot(self.d, self.e)
        return np.hypot(self.a, self.b) + (2 + span) * turned


def rising_roots(wave: Wave, span: float) -> tuple[Ints, Floats]:
    """Return the equations' numbers (k,) and the turns (k,) of all roots in [0, span].

    A root within 1e-9 before the start is given as 0. An equation that is
    nothing at every turn (two plumb edges at one radius) has none to give.
    """
    low = -1e-9
    bend = wave.bend(span + 1e-9)
    rows = np.flatnonzero((bend > 0) | (wave.c != 0) | (wave.g != 0))
    half = np.full(len(rows), (span - low) / 2)
    middle = np.full(len(rows), low) + half
    numbers: list[Ints] = []
    brackets: list[Floats] = []
    for _ in range(HALVINGS):
        part = wave.picked(rows)
        value, slope, most = part.value(middle), np.abs(part.slope(middle)), bend[rows]
        may = np.abs(value) <= slope * half + most * half * half / 2
        single = may & (slope > most * half)
        ends = np.stack([middle - half, middle + half], axis=1)[single]
        numbers.append(rows[single])
        brackets.append(ends)
        split = may & ~single
        rows, half = np.tile(rows[split], 2), np.tile(half[split] / 2, 2)
        step = half[: len(half) // 2]
        middle = np.concatenate([middle[split] - step, middle[split] + step])
        if len(rows) == 0:
            break
    found = np.concatenate(numbers)
    return _closed_in(wave.picked(found), found, np.concatenate(brackets))


def _closed_in(wave: Wave, numbers: Ints, ends: Floats) -> tuple[Ints, Floats]:
    """Return the roots of equations that are monotonic between their ends (k, 2), by halving."""
    low, high = ends[:, 0], ends[:, 1]
    at_low, at_high = wave.value(low), wave.value(high)
    rows = np.flatnonzero((at_low <= 0) != (at_high <= 0))
    wave, low, high, sign = wave.picked(rows), low[rows], high[rows], at_low[rows] <= 0
    for _ in range(CLOSINGS):
        middle = (low + high) / 2
        before = (wave.value(middle) <= 0) == sign
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    return numbers[rows], np.maximum((low + high) / 2, 0.0)
