"""What each key of a scene file takes: kind, limits, how many values, what is usual; its name."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any

from swingcheck.units import length_text

LONGEST = 480.0  # inches: 40 ft, past which a length is a slip of the pen
MOST_STATIONS = 25
MOST_HINGES = 12

UPRIGHT: dict[str, Any] = {"most": MOST_STATIONS, "each": "top, middle, bottom", "spread": 3}
LEVEL: dict[str, Any] = {"most": 2, "each": "hinge side, strike side", "spread": 2}
"""What a key takes that is read at several places, upright or level."""


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

    It must keep from ``low`` to ``high``: inches, degrees (an angle or a slope), degrees
    Fahrenheit, percent or a number; ``above`` refuses the low limit itself. A list of it
    holds ``few`` to ``most`` values, a ``most`` of 1 takes none; ``each`` is what they are,
    in order, and ``spread`` how many places one value stands for when one of the places
    is set apart. ``words`` are the only ones it takes, any when empty, and ``enum`` what
    they are the values of.

    ``usual`` is taken where it is left out (inches, radians, ...), and ``why``; None where
    that follows from other measurements, or nothing is taken. ``needed`` is what it is, of
    a measurement that has to be given: ``usual`` then only stands in for it, so that the
    rest can be looked at. ``ask`` is how it is taken at the opening: what a starter scene
    says beside it.
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


def listed(what: str, each: str, usual: tuple[float, ...], **more: Any) -> Key:
    """Return a list of lengths that has to be given: what it is, and what each is."""
    needed, count = f"{what} [{each}]", len(usual)
    return Key(few=count, most=count, each=each, usual=usual, needed=needed, **more)


def flag(**more: Any) -> Key:
    """Return a key that is true or false."""
    return Key(kind=Kind.FLAG, **more)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table of keys.

    ``keys`` stand in the order of a scene file. ``words`` or a ``plain`` value may stand
    instead of it. ``many``: it is written as often as there are things (``[[obstacle]]``);
    ``one``: only one of its keys is given. ``why`` the usual values of its keys are usual,
    where a key does not say; ``absent`` is what is told to be assumed, as one, where all
    of it is left out, and why.

    ``ask`` is what a starter scene says over it; with ``sample`` all of it is left out
    there: keys, and what stands for each (a length, the text itself, or what a scene makes
    of it), its keys' usual values where that is empty.
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


class Names:
    """Every key and table under its dotted name: in order, and the nearest to a misspelled one.

    ``root`` has the tables and keys that a file begins with.
    """

    def __init__(self, root: Table) -> None:
        self.root = root
        self.keys: Mapping[str, Key | Table] = dict(_walked("", root))
        self._nearest: dict[str, str] = {}

    def hint(self, typed: str) -> str:
        """Return a hint at the key that a misspelled one most likely means, or nothing."""
        nearest = self.nearest(typed)
        if not nearest:
            return ""
        if nearest == typed.rpartition(".")[2]:
            return f"{nearest} stands above the first [table], or under a heading of its own"
        return f"did you mean {nearest}?"

    def nearest(self, typed: str) -> str:
        """Return the known key that a misspelled one most likely means, or nothing.

        Looked for in its own table first, then under its own name in any other
        table, then everywhere: ``slab.setback`` means ``hinge.slab.setback``.
        """
        if typed not in self._nearest:
            if len(self._nearest) > 256:
                self._nearest.clear()
            self._nearest[typed] = self._looked_for(typed.casefold())
        return self._nearest[typed]

    def _looked_for(self, typed: str) -> str:
        from difflib import get_close_matches

        path, _, name = typed.rpartition(".")
        beside = {
            known.rpartition(".")[2]: known
            for known in self.keys
            if known.rpartition(".")[0] == path
        }
        if found := get_close_matches(name.replace("-", "_"), beside, n=1, cutoff=0.7):
            return beside[found[0]]
        likely = {}
        for known in self.keys:
            whole = _likeness(typed, known, 0.8)
            own = _likeness(name, known.rpartition(".")[2], 0.75)
            if own or whole:
                likely[known] = (own, whole or _likeness(typed, known, 0.0))
        return max(likely, key=likely.__getitem__, default="")


def _walked(path: str, table: Table) -> Iterator[tuple[str, Key | Table]]:
    for name, node in table.keys.items():
        here = f"{path}.{name}" if path else name
        yield here, node
        if isinstance(node, Table):
            yield from _walked(here, node)


def _likeness(typed: str, known: str, least: float) -> float:
    """Return how alike two names are, 0 to 1; 0 where that is under the least that counts."""
    from difflib import SequenceMatcher

    matcher = SequenceMatcher(None, typed, known)
    if matcher.real_quick_ratio() < least or matcher.quick_ratio() < least:
        return 0.0
    ratio = matcher.ratio()
    return ratio if ratio >= least else 0.0
