"""What a key of a scene file takes: its kind, its limits, how many values, and what is usual."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any

from swingcheck.units import length_text

LONGEST = 480.0  # inches: 40 ft, past which a length is a slip of the pen
MOST_STATIONS = 25
MOST_HINGES = 12

UPRIGHT = "top, middle, bottom"
LEVEL = "hinge side, strike side"


class Kind(Enum):
    """What a value is; each with the words for what should stand there."""

    LENGTH = 'a length, such as "29 13/16" or "36.5 mm"'
    ANGLE = 'an angle, such as 2 (degrees) or "1/8 in 2"'
    SLOPE = 'a slope, such as "1/8 in 12" or 0.5 (degrees)'
    TEMPERATURE = 'a temperature, such as "70 F" or "21 C"'
    PERCENT = "a percentage, such as 45"
    COUNT = "a whole number"
    TEXT = "words in quotes"
    FLAG = "true or false"


_SIGNS = {
    Kind.ANGLE: " deg",
    Kind.SLOPE: " deg",
    Kind.TEMPERATURE: " F",
    Kind.PERCENT: " %",
}

Usual = float | tuple[float, ...] | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One measurement.

    Parameters
    ----------
    kind : Kind
        What it is.
    low, high : float
        The limits it must keep within: inches, degrees (an angle or a slope), degrees
        Fahrenheit, percent or a number.
    above : bool
        The low limit itself is refused.
    few, most : int
        How many values a list of it may hold; a ``most`` of 1 takes no list.
    each : str
        What the values of a list are, in order.
    spread : int
        How many places one value stands for, when one of the places is set apart.
    words, enum : tuple of str, Enum
        The only words it takes, any when empty; and what they are the values of.
    usual, why : float, tuple of float or str, str
        What is taken where it is left out (inches, radians, ...), and why. None where
        that follows from other measurements, or where nothing is taken.
    needed : str
        What it is, of a measurement that has to be given; ``usual`` then only
        stands in for it, so that the rest can be looked at.
    ask : str, optional
        How it is taken at the opening: what a starter scene says beside it.
    """

    kind: Kind = Kind.LENGTH
    low: float = 0.0
    high: float = LONGEST
    above: bool = False
    few: int = 1
    most: int = 1
    each: str = ""
    spread: int = 1
    words: tuple[str, ...] = ()
    enum: type[Enum] | None = None
    usual: Usual | None = None
    why: str = ""
    needed: str = ""
    ask: str | None = None

    def within(self, value: float) -> bool:
        """Return whether a value, in the limits' own measure, keeps within them.

        What must be above its low limit is so by half a thousandth.
        """
        low = self.low + 0.0005 if self.above else self.low - 1e-9
        return low <= value <= self.high + 1e-9

    def limits_text(self, unit: str) -> str:
        """Return the limits in words."""
        low, high = self._limit(self.low, unit), self._limit(self.high, unit)
        if self.low == -self.high:
            return f"at most {high} either way"
        start = f"above {low} and" if self.above else f"from {low}"
        return f"{start} up to {high}"

    def _limit(self, value: float, unit: str) -> str:
        if self.kind is Kind.LENGTH:
            return length_text(value, unit) if value else "0"
        return f"{value:g}{_SIGNS.get(self.kind, '')}"

    def expected(self) -> str:
        """Return what should stand here, in words."""
        if self.words:
            return "one of " + ", ".join(f'"{word}"' for word in self.words)
        if self.most == 1:
            return self.kind.value
        if self.few > 1:
            return f"a list [{self.each}], each {self.kind.value}"
        return f"{self.kind.value}, or a list [{self.each}]"


def over_0(high: float = LONGEST, **more: Any) -> Key:
    """Return a length above nothing."""
    return Key(above=True, high=high, **more)


def from_0(high: float = LONGEST, **more: Any) -> Key:
    """Return a length that may be nothing."""
    return Key(high=high, **more)


def either_way(high: float = LONGEST, **more: Any) -> Key:
    """Return a measurement that may be so much positive or negative."""
    return Key(low=-high, high=high, **more)


def angle(low: float, high: float, **more: Any) -> Key:
    """Return an angle; its limits are in degrees, what is usual in radians."""
    return Key(kind=Kind.ANGLE, low=low, high=high, **more)


def words(**more: Any) -> Key:
    """Return free words."""
    return Key(kind=Kind.TEXT, **more)


def word(*words: str, **more: Any) -> Key:
    """Return a key that takes only some words."""
    return Key(kind=Kind.TEXT, words=words, **more)


def one_of(enum: type[Enum], **more: Any) -> Key:
    """Return a key that takes the values of an enumeration."""
    return word(*(each.value for each in enum), enum=enum, **more)


def flag(**more: Any) -> Key:
    """Return a key that is true or false."""
    return Key(kind=Kind.FLAG, **more)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of keys.

    Parameters
    ----------
    keys : mapping of str to Key or Table
        In the order of a scene file.
    words : tuple of str
        What may stand instead of the table.
    plain : Key, optional
        A value that may stand instead of it.
    many : bool
        It is written as often as there are things (``[[obstacle]]``).
    one : bool
        Only one of its keys is given.
    why : str
        Why the usual values of its keys are usual, where a key does not say.
    absent : tuple of two str, optional
        What is told to be assumed, as one, where all of it is left out, and why.
    ask : str, optional
        What a starter scene says over it; with ``sample`` all of it is left
        out there: keys, and what stands for each (a length, the text itself,
        or what a scene makes of it), its keys' usual values where that is empty.
    """

    keys: Mapping[str, Key | Table] = field(default_factory=dict)
    words: tuple[str, ...] = ()
    plain: Key | None = None
    many: bool = False
    one: bool = False
    why: str = ""
    absent: tuple[str, str] | None = None
    ask: str | None = None
    sample: Mapping[str, Usual | Callable[[Any], float]] | None = None

    def expected(self, name: str) -> str:
        """Return what should stand here, in words."""
        if self.many:
            return f"tables, each headed [[{name}]]"
        inside = "{ " + ", ".join(f"{key} = ..." for key in self.keys) + " }"
        if self.plain:
            return f"{self.plain.expected()}, or {inside}"
        if self.words:
            listed = ", ".join(f'"{word}"' for word in self.words)
            if self.one:
                return f"{listed} or one of {inside}"
            return f"{listed} or a table [{name}]"
        return f"a table [{name}]"


NONE = ("none",)
"""The word that stands instead of a table for what is not there."""
