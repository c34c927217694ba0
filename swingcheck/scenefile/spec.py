"""What a key of a scene file takes: its kind, its limits, how many values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from swingcheck.units import length_text

LONGEST = 480.0  # inches: 40 ft, past which a length is a slip of the pen


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
    words : tuple of str
        The only words it takes; any when empty.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of keys.

    ``words`` are what may stand instead of the table, or ``plain`` a value;
    ``many`` is a table that is written as often as there are things
    (``[[obstacle]]``); ``one`` says that only one of its keys is given.
    """

    keys: Mapping[str, Key | Table] = field(default_factory=dict)
    words: tuple[str, ...] = ()
    plain: Key | None = None
    many: bool = False
    one: bool = False

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
