"""Keys of how a slab hangs beside plain hinges, and of further slabs beside it."""

from __future__ import annotations

from swingcheck.scenefile.spec import LONGEST, Key, Kind, Table

MOST_NEIGHBOURS = 4

_TOP_BOTTOM = "top, bottom"


def _upto(high: float) -> Key:
    return Key(high=high)


def _above(high: float) -> Key:
    return Key(above=True, high=high)


def _either_way(high: float) -> Key:
    return Key(low=-high, high=high)


def _ends(low: float, high: float) -> Key:
    return Key(low=low, high=high, most=2, each=_TOP_BOTTOM, spread=2)


LEAF_WIDTH = Table(keys={"jamb": _above(24.0), "slab": _above(24.0)}, plain=_above(24.0))
OFFSET = Table(keys={"across": _either_way(12.0), "out": _either_way(12.0)})
RISE = _either_way(6.0)

PIVOT = Table(
    keys={
        "kind": Key(kind=Kind.TEXT, words=("centre", "offset")),
        "slab": Table(keys={"edge": _ends(-12.0, LONGEST), "face": _ends(-12.0, 12.0)}),
        "jamb": Table(keys={"leg": _ends(-12.0, LONGEST), "out": _ends(-48.0, 12.0)}),
        "pin": _above(3.0),
    }
)

NEIGHBOUR = Table(
    keys={
        "name": Key(kind=Kind.TEXT),
        "scene": Key(kind=Kind.TEXT),
        "across": _either_way(LONGEST),
        "out": _either_way(LONGEST),
        "turn": Key(kind=Kind.ANGLE, low=-360.0, high=360.0),
    },
    many=True,
)

_ALIKE = ("thickness", "hinge_edge", "strike_edge", "material", "construction")


def inactive_table(slab: Table, hinge: Table) -> Table:
    """Return the table of a pair's inactive slab, whose own tables have these keys."""
    own = ("width", "height", "head_margin", *_ALIKE)
    return Table(
        keys={
            "slab": Table(keys={name: slab.keys[name] for name in own}),
            "hinge": hinge,
            "pivot": PIVOT,
            "rebate": Table(keys={"width": _above(6.0), "depth": _above(12.0)}, words=("none",)),
        },
        words=("none",),
    )


def lower_table(slab: Table, hinge: Table) -> Table:
    """Return the table of a Dutch door's lower slab, whose own tables have these keys."""
    return Table(
        keys={
            "slab": Table(keys={name: slab.keys[name] for name in ("width", "height", *_ALIKE)}),
            "hinge": hinge,
            "pivot": PIVOT,
            "gap": _upto(12.0),
            "shelf": Table(
                keys={
                    "thickness": _above(6.0),
                    "pull": _upto(24.0),
                    "push": _upto(24.0),
                    "ends": _upto(24.0),
                },
                words=("none",),
            ),
        },
        words=("none",),
    )
