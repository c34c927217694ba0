"""The papers that cards are printed on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet, upright: its name as CSS has it, its width and height in points (72 an inch)."""

    name: str
    width: float
    height: float


LETTER = Paper(name="letter", width=612.0, height=792.0)
A4 = Paper(name="A4", width=210 / 25.4 * 72, height=297 / 25.4 * 72)

PAPERS = {"letter": LETTER, "a4": A4}
