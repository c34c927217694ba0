"""Every key of a scene file: what it measures, how many values, within what limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache, lru_cache

from swingcheck.scenefile.fitted_keys import (
    APPLIED,
    ASTRAGAL,
    BASEBOARD,
    BEAD,
    CARPET,
    HANDLE,
    LIP,
    STEEL,
    THRESHOLD,
    WALL_RETURN,
    WARP,
)
from swingcheck.scenefile.hung_keys import (
    LEAF_WIDTH,
    NEIGHBOUR,
    OFFSET,
    PIVOT,
    RISE,
    inactive_table,
    lower_table,
)
from swingcheck.scenefile.spec import LONGEST, Key, Kind, Table
from swingcheck.units import UNITS

MOST_STATIONS = 25
MOST_HINGES = 12
MOST_OF_A_KIND = 100  # obstacles


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
_DELIVERED = Table(
    keys={
        "width": _size(),
        "height": _size(),
        "edge_strip": _from_nothing(48.0),
        "end_strip": _from_nothing(48.0),
        "share": Key(kind=Kind.TEXT, words=("even", "hinge", "strike")),
        "hinge_off": _from_nothing(48.0),
    },
    words=("none",),
)
_GLASS = Table(
    keys={
        "width": _size(),
        "height": _size(),
        "thickness": _size(2.0),
        "across": _from_nothing(LONGEST),
        "up": _from_nothing(LONGEST),
        "bead": BEAD,
    },
    words=("none",),
)
_OPENING = Table(
    keys={
        "width": _sizes(_UPRIGHT, most=MOST_STATIONS, spread=3),
        "height": _sizes(_LEVEL, most=2, spread=2),
        "arch": _from_nothing(240.0),
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
        "steel": STEEL,
    }
)
_SLAB = Table(
    keys={
        "width": _sizes(_UPRIGHT, most=MOST_STATIONS, spread=3),
        "height": _sizes("hinge edge, strike edge", most=2, spread=2),
        "arch": _from_nothing(240.0),
        "thickness": _size(12.0),
        "hinge_edge": _EDGE,
        "strike_edge": _EDGE,
        "head_edge": Table(keys={"bevel": _angle(-20.0, 20.0)}, words=("square",), one=True),
        "lip": LIP,
        "warp": WARP,
        "head_margin": _from_nothing(12.0),
        "material": _TEXT,
        "construction": _TEXT,
        "grain": Key(kind=Kind.TEXT, words=("flat", "quarter")),
        "glass": _GLASS,
        "astragal": ASTRAGAL,
        "applied": APPLIED,
        "delivered": _DELIVERED,
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
        "leaf_width": LEAF_WIDTH,
        "offset": OFFSET,
        "rise": RISE,
        "jamb": _LEAVES,
        "slab": _LEAVES,
    }
)
_BORED = {
    "backset": _size(48.0),
    "bore": _size(12.0),
    "edge_bore": _size(12.0),
    "face_length": _size(48.0),
    "face_width": _size(12.0),
    "face_depth": _from_nothing(3.0),
    "throw": _from_nothing(6.0),
}
_LOCK = Table(
    keys={
        "height": _size(),
        **_BORED,
        "deadbolt": Table(keys={"above": _size(48.0), **_BORED}, words=("none",)),
        "handle": HANDLE,
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
        "both_ways": Key(kind=Kind.FLAG),
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
        "template_corner": _from_nothing(6.0),
        "tolerance": _TOLERANCE,
    }
)

_SITE = Table(
    keys={
        **dict.fromkeys(("fire_rated", "exit", "old_paint", "glass"), Key(kind=Kind.FLAG)),
        "closer": Key(kind=Kind.TEXT, words=("none", "closer", "back-check")),
    }
)
_MONTHS = "January to December"
_SEASON = Table(
    keys={
        "temperatures": Key(
            kind=Kind.TEMPERATURE, low=-40.0, high=120.0, few=12, most=12, each=_MONTHS
        ),
        "humidities": Key(kind=Kind.PERCENT, low=1.0, high=99.0, few=12, most=12, each=_MONTHS),
        "moisture": Key(kind=Kind.PERCENT, low=1.0, high=30.0),
        "month": Key(kind=Kind.COUNT, low=1, high=12),
        "least": _from_nothing(1.0),
    }
)
_COATS = Key(kind=Kind.COUNT, low=0, high=20)

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
        "pivot": PIVOT,
        "inactive": inactive_table(_SLAB, _HINGE),
        "lower": lower_table(_SLAB, _HINGE),
        "lock": _LOCK,
        "floor": _FLOOR,
        "carpet": CARPET,
        "threshold": THRESHOLD,
        "casing": _CASING,
        "baseboard": BASEBOARD,
        "wall_return": WALL_RETURN,
        "obstacle": Table(keys={"name": _TEXT, "corner": _CORNER, "size": _BOX}, many=True),
        "neighbour": NEIGHBOUR,
        "swing": _SWING,
        "shop": _SHOP,
        "site": _SITE,
        "wanted": Table(
            keys={
                "strike": _from_nothing(6.0),
                "bottom": _from_nothing(12.0),
                "least_margin": _from_nothing(1.0),
                "hinge_stop": _from_nothing(1.0),
                "flush": _from_nothing(12.0),
            }
        ),
        "season": _SEASON,
        "finish": Table(keys={"slab": _COATS, "jamb": _COATS, "film": _size(0.1)}),
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


def key_hint(typed: str) -> str:
    """Return a hint at the key that a misspelled one most likely means, or nothing."""
    nearest = nearest_key(typed)
    if not nearest:
        return ""
    if nearest == typed.rpartition(".")[2]:
        return f"{nearest} stands above the first [table], or under a heading of its own"
    return f"did you mean {nearest}?"


@lru_cache(maxsize=256)
def nearest_key(typed: str) -> str:
    """Return the known key that a misspelled one most likely means, or nothing.

    Looked for in its own table first, then under its own name in any other
    table, then everywhere.

    Examples
    --------
    >>> nearest_key("slab.widht"), nearest_key("slab.setback"), nearest_key("zzz")
    ('slab.width', 'hinge.slab.setback', '')
    """
    from difflib import get_close_matches

    path, _, name = typed.casefold().rpartition(".")
    beside = {
        known.rpartition(".")[2]: known
        for known in known_keys()
        if known.rpartition(".")[0] == path
    }
    if found := get_close_matches(name.replace("-", "_"), beside, n=1, cutoff=0.7):
        return beside[found[0]]
    likely = {}
    for known in known_keys():
        whole = _likeness(typed.casefold(), known, 0.8)
        own = _likeness(name, known.rpartition(".")[2], 0.75)
        if own or whole:
            likely[known] = (own, whole or _likeness(typed.casefold(), known, 0.0))
    return max(likely, key=likely.__getitem__, default="")


def _likeness(typed: str, known: str, least: float) -> float:
    """Return how alike two names are, 0 to 1; 0 where that is under the least that counts."""
    from difflib import SequenceMatcher

    matcher = SequenceMatcher(None, typed, known)
    if matcher.real_quick_ratio() < least or matcher.quick_ratio() < least:
        return 0.0
    ratio = matcher.ratio()
    return ratio if ratio >= least else 0.0
