"""Lengths, angles and slopes as a person reads them, what is alike together; rounding."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import ceil, degrees, floor, gcd
from typing import TypeVar

_K = TypeVar("_K")
_T = TypeVar("_T")

UNITS = ("in", "mm")
MM_PER_INCH = 25.4  # exact, by the definition of the inch


def inches(value: float, unit: str) -> float:
    """Return in inches a number that is in ``unit``."""
    return value / MM_PER_INCH if unit == "mm" else value


def in_unit(value: float, unit: str) -> float:
    """Return in ``unit`` a number that is in inches."""
    return value * MM_PER_INCH if unit == "mm" else value


def fraction_text(value: float, denominator: int = 64) -> str:
    """Return inches as the nearest reduced fraction, as read off a tape.

    ``denominator`` is the tape's finest division.

    Examples
    --------
    >>> fraction_text(3.497), fraction_text(-0.0625), fraction_text(0.001)
    ('3 1/2', '-1/16', '0')
    """
    parts = round(abs(value) * denominator)
    whole, over = divmod(parts, denominator)
    sign = "-" if value < 0 and parts else ""
    if not over:
        return f"{sign}{whole}"
    shared = gcd(over, denominator)
    fraction = f"{over // shared}/{denominator // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def length_text(value: float, unit: str = "in", denominator: int = 64) -> str:
    """Return a length for reading: a fraction of an inch, or millimetres.

    The decimal stands behind the fraction wherever the two differ by half a
    thousandth or more.

    Examples
    --------
    >>> length_text(3.497), length_text(1.4375), length_text(3.497, "mm")
    ('3 1/2 in (3.497)', '1 7/16 in', '88.8 mm')
    """
    if unit == "mm":
        return f"{_decimal(value * MM_PER_INCH, 1)} mm"
    fraction = fraction_text(value, denominator)
    off = value - round(value * denominator) / denominator
    if abs(off) < 0.0005:
        return f"{fraction} in"
    return f"{fraction} in ({_decimal(value, 3)})"


def rough_length(value: float, unit: str) -> str:
    """Return a length that says where, not how much: to 1/8 in or a whole millimetre.

    Examples
    --------
    >>> rough_length(40.94, "in"), rough_length(40.94, "mm")
    ('41 in', '1040 mm')
    """
    if unit == "mm":
        return f"{value * MM_PER_INCH:.0f} mm"
    return f"{fraction_text(value, 8)} in"


def lengths_text(values: Sequence[float], unit: str = "in") -> str:
    """Return several lengths for reading; one where they are all the same.

    Examples
    --------
    >>> lengths_text((7.0, 37.75)), lengths_text((0.25, 0.25))
    ('7 in, 37 3/4 in', '1/4 in')
    """
    texts = [length_text(value, unit) for value in values]
    return texts[0] if len(set(texts)) == 1 else ", ".join(texts)


def angle_text(angle: float) -> str:
    """Return radians for reading, in degrees to a hundredth.

    Examples
    --------
    >>> from math import radians
    >>> angle_text(radians(2)), angle_text(radians(3.5763))
    ('2 deg', '3.58 deg')
    """
    return f"{_trimmed(degrees(angle), 2)} deg"


def tallied(name: str, counts: Mapping[str, int]) -> str:
    """Return how many there are in all, and how many of each kind that there is one of.

    Examples
    --------
    >>> tallied("door", {"good": 38, "tight": 0, "bad": 2})
    '40 doors: 38 good, 2 bad'
    """
    parts = [f"{count} {kind}" for kind, count in counts.items() if count]
    return f"{counted(sum(counts.values()), name)}: {', '.join(parts)}"


def counted(count: int, what: str) -> str:
    """Return how many there are.

    Examples
    --------
    >>> counted(1, "door"), counted(3, "door")
    ('1 door', '3 doors')
    """
    return f"{count} {what}{'s' * (count != 1)}"


def grouped(pairs: Iterable[tuple[_K, _T]]) -> dict[_K, list[_T]]:
    """Return what stands behind each key, both in the order they come.

    Examples
    --------
    >>> grouped([(2, "hinge"), (0, "strike"), (2, "head")])
    {2: ['hinge', 'head'], 0: ['strike']}
    """
    groups: dict[_K, list[_T]] = {}
    for key, each in pairs:
        groups.setdefault(key, []).append(each)
    return groups


def slope_text(slope: float, unit: str = "in") -> str:
    """Return a slope for reading: its rise in a run of a foot or a metre.

    Examples
    --------
    >>> slope_text(0.125 / 12), slope_text(0.01, "mm"), slope_text(0.0)
    ('1/8 in 12', '10 mm in 1000', 'level')
    """
    if not slope:
        return "level"
    if unit == "mm":
        return f"{_trimmed(slope * 1000, 1)} mm in 1000"
    return f"{fraction_text(slope * 12)} in 12"


def rounded_down(value: float, step: float) -> float:
    """Return the largest multiple of ``step`` that is not above ``value``.

    A value within a millionth of a step of a multiple is that multiple.

    Examples
    --------
    >>> rounded_down(0.33, 1 / 64), rounded_down(0.3125 - 1e-12, 1 / 64)
    (0.328125, 0.3125)
    """
    return floor(value / step + 1e-6) * step


def rounded_up(value: float, step: float) -> float:
    """Return the smallest multiple of ``step`` that is not below ``value``.

    A value within a millionth of a step of a multiple is that multiple.

    Examples
    --------
    >>> rounded_up(0.33, 1 / 64), rounded_up(0.3125 + 1e-12, 1 / 64)
    (0.34375, 0.3125)
    """
    return ceil(value / step - 1e-6) * step


def rounded_nearest(value: float, step: float) -> float:
    """Return the multiple of ``step`` nearest to ``value``."""
    return round(value / step) * step


def _decimal(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.lstrip("-") if not text.strip("-0.") else text


def _trimmed(value: float, places: int) -> str:
    text = _decimal(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text
