"""Every key of a scene file: what it measures, how many values, within what limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cache

from swingcheck.units import UNITS, length_text

MOST_STATIONS = 25
MOST_HINGES = 12
LONGEST = 480.0  # inches: 40 ft, past which a length is a slip of the pen


class Kind(Enum):
    """What a value is; each with the words for what should stand there."""

    LENGTH = 'a length, such as "29 13/16" or "36.5 mm"'
    ANGLE = 'an angle, such as 2 (degrees) or "1/8 in 2"'
    SLOPE = 'a slope, such as "1/8 in 12" or 0.5 (degrees)'
    COUNT = "a whole number"
    TEXT = "words in quotes"
    FLAG = "true or false"


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One measurement.

    Parameters
    ----------
    kind : Kind
        What it is.
    low, high : float
        The limits it must keep within: inches, degrees (an angle or a slope) or a number.
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
        return f"{value:g}" if self.kind is Kind.COUNT else f"{value:g} deg"

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


def _size(high: float = LONGEST) -> Key:
    return Key(above=True, high=high)


def _sizes(each: str, *, most: int, spread: int) -> Key:
    return Key(above=True, most=most, each=each, spread=spread)


def _either_way(high: float, each: str, kind: Kind = Kind.LENGTH) -> Key:
    return Key(kind=kind, low=-high, high=high, most=MOST_STATIONS, each=each, spread=3)


def _from_nothing(high: float) -> Key:
    return Key(high=high)


def _per_hinge(high: float) -> Key:
    return Key(high=high, most=MOST_HINGES, each="one a hinge, top hinge first")


def _angle(low: float, high: float, *, above: bool = False) -> Key:
    return Key(kind=Kind.ANGLE, low=low, high=high, above=above)


_UPRIGHT = "top, middle, bottom"
_LEVEL = "hinge side, strike side"
_TEXT = Key(kind=Kind.TEXT)
_FLAG = Key(kind=Kind.FLAG)
_RABBET = _sizes(_UPRIGHT, most=MOST_STATIONS, spread=3)

_LEG = Table(
    keys={
        "plumb": _either_way(12.0, _UPRIGHT),
        "cross": _either_way(6.0, _UPRIGHT),
        "twist": _either_way(10.0, _UPRIGHT, Kind.ANGLE),
    }
)
_EDGE = Table(
    keys={"bevel": _angle(-20.0, 20.0), "radius": _size()},
    words=("square", "bullnose"),
    one=True,
)
_LEAVES = Table(
    keys={
        "tops": Key(few=2, most=MOST_HINGES, each="one a hinge, top hinge first"),
        "setback": _per_hinge(12.0),
        "depth": _per_hinge(3.0),
    }
)
_OPENING = Table(
    keys={
        "width": _sizes(_UPRIGHT, most=MOST_STATIONS, spread=3),
        "height": _sizes(_LEVEL, most=2, spread=2),
        "rabbet": Table(
            keys={
                "hinge": _RABBET,
                "strike": _RABBET,
                "head": _sizes(_LEVEL, most=MOST_STATIONS, spread=2),
            },
            plain=_RABBET,
        ),
        "depth": _size(48.0),
        "thickness": _size(12.0),
        "hinge_leg": _LEG,
        "strike_leg": _LEG,
    }
)
_SLAB = Table(
    keys={
        "width": _sizes(_UPRIGHT, most=MOST_STATIONS, spread=3),
        "height": _sizes("hinge edge, strike edge", most=2, spread=2),
        "thickness": _size(12.0),
        "hinge_edge": _EDGE,
        "strike_edge": _EDGE,
        "head_margin": _from_nothing(12.0),
        "material": _TEXT,
        "construction": _TEXT,
    }
)
_HINGE = Table(
    keys={
        "count": Key(kind=Kind.COUNT, low=2, high=MOST_HINGES),
        "leaf_length": _size(48.0),
        "open_width": _size(48.0),
        "leaf_thickness": _size(1.0),
        "closed_gap": _from_nothing(1.0),
        "barrel": _size(6.0),
        "corner_radius": _from_nothing(12.0),
        "screw_proud": _from_nothing(0.5),
        "jamb": _LEAVES,
        "slab": _LEAVES,
    }
)
_LOCK = Table(
    keys={
        "backset": _size(48.0),
        "bore": _size(12.0),
        "edge_bore": _size(12.0),
        "height": _size(),
        "face_length": _size(48.0),
        "face_width": _size(12.0),
        "face_depth": _from_nothing(3.0),
    },
    words=("none",),
)
_FLOOR = Table(
    keys={
        "covering": _from_nothing(6.0),
        "across": Key(kind=Kind.SLOPE, low=-10.0, high=10.0),
        "out": Key(kind=Kind.SLOPE, low=-10.0, high=10.0),
        "profile": Key(
            low=-12.0,
            high=12.0,
            few=0,
            most=181,
            each="rise of the floor at even angles from closed to 90 degrees",
            spread=3,
        ),
    }
)
_CASING = Table(
    keys={
        "thickness": _size(12.0),
        "width": _size(48.0),
        "reveal": _from_nothing(12.0),
    },
    words=("none",),
)
_CORNER = Key(low=-LONGEST, few=3, most=3, each="x, y, z")
_BOX = Key(above=True, few=3, most=3, each="across, out, up")
_SWING = Table(
    keys={
        "start": _angle(0.0, 180.0, above=True),
        "wanted": _angle(0.0, 180.0, above=True),
        "limit": _angle(0.0, 270.0, above=True),
        "seat": _from_nothing(2.0),
    }
)
_TOLERANCE = Table(
    keys={
        "setback": _from_nothing(1.0),
        "depth": _from_nothing(1.0),
        "bevel": _angle(0.0, 10.0),
        "rip": _from_nothing(1.0),
        "measuring": _from_nothing(1.0),
        "pins": _from_nothing(1.0),
    }
)
_SHOP = Table(
    keys={
        "jig_setback": _from_nothing(12.0),
        "bit": _size(12.0),
        "bushing": _size(12.0),
        "tolerance": _TOLERANCE,
    }
)

ROOT = Table(
    keys={
        "title": _TEXT,
        "unit": Key(kind=Kind.TEXT, words=UNITS),
        "hinges_on": Key(kind=Kind.TEXT, words=("left", "right")),
        "opening": _OPENING,
        "stop": Table(
            keys={"projection": _size(12.0), "width": _size(48.0)},
            words=("none",),
        ),
        "slab": _SLAB,
        "hinge": _HINGE,
        "lock": _LOCK,
        "floor": _FLOOR,
        "casing": _CASING,
        "obstacle": Table(keys={"name": _TEXT, "corner": _CORNER, "size": _BOX}, many=True),
        "swing": _SWING,
        "shop": _SHOP,
        "site": Table(keys=dict.fromkeys(("fire_rated", "exit", "old_paint", "glass"), _FLAG)),
    }
)


@cache
def known_keys() -> Mapping[str, Key | Table]:
    """Return every key and table under its dotted name, in the order of a scene file."""
    return dict(_walked("", ROOT))


def _walked(path: str, table: Table) -> Iterator[tuple[str, Key | Table]]:
    for name, node in table.keys.items():
        here = f"{path}.{name}" if path else name
        yield here, node
        if isinstance(node, Table):
            yield from _walked(here, node)


def nearest_key(typed: str) -> str:
    """Return the known key that a misspelled one most likely means, or nothing.

    Looked for in its own table first, then under its own name in any other
    table, then everywhere.

    Examples
    --------
    >>> nearest_key("slab.widht"), nearest_key("slab.setback"), nearest_key("zzz")
    ('slab.width', 'hinge.slab.setback', '')
    """
    from difflib import SequenceMatcher, get_close_matches

    path, _, name = typed.casefold().rpartition(".")
    beside = {
        known.rpartition(".")[2]: known
        for known in known_keys()
        if known.rpartition(".")[0] == path
    }
    if found := get_close_matches(name.replace("-", "_"), beside, n=1, cutoff=0.7):
        return beside[found[0]]

    def likeness(known: str) -> tuple[float, float]:
        own = SequenceMatcher(None, name, known.rpartition(".")[2]).ratio()
        return own, SequenceMatcher(None, typed.casefold(), known).ratio()

    best = max(known_keys(), key=likeness)
    own, whole = likeness(best)
    return best if own >= 0.75 or whole >= 0.8 else ""
