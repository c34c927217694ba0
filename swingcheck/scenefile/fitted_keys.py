"""Keys of what is worked on a slab or fitted to it, and of what stands about the opening."""

from __future__ import annotations

from swingcheck.scenefile.spec import LONGEST, Key, Kind, Table

_FACES = ("pull", "push", "both")


def _above(high: float) -> Key:
    return Key(above=True, high=high)


def _upto(high: float) -> Key:
    return Key(high=high)


def _face(*words: str) -> Key:
    return Key(kind=Kind.TEXT, words=words or _FACES)


LIP = Table(
    keys={
        "width": _above(6.0),
        "depth": _above(12.0),
        "hinge": _upto(6.0),
        "strike": _upto(6.0),
        "head": _upto(6.0),
    },
    words=("none",),
)
WARP = Table(keys={name: Key(low=-3.0, high=3.0) for name in ("bow", "cup", "twist")})
ASTRAGAL = Table(
    keys={
        "face": _face("pull", "push"),
        "width": _above(12.0),
        "thickness": _above(3.0),
        "overlap": _upto(12.0),
        "stem": _upto(3.0),
    },
    words=("none",),
)
APPLIED = Table(
    keys={
        "name": Key(kind=Kind.TEXT),
        "face": _face(),
        "corner": Key(few=2, most=2, each="across, up"),
        "size": Key(above=True, few=3, most=3, each="across, up, out"),
    },
    many=True,
)
BEAD = Table(keys={"width": _above(12.0), "proud": _above(3.0), "face": _face()}, words=("none",))
HANDLE = Table(
    keys={
        "kind": Key(kind=Kind.TEXT, words=("knob", "lever")),
        "face": _face(),
        "projection": _above(12.0),
        "diameter": _above(12.0),
        "length": _above(24.0),
        "rose": _above(12.0),
    },
    words=("none",),
)
STEEL = Table(keys={"face": _above(12.0), "backbend": _upto(6.0)}, words=("none",))
THRESHOLD = Table(
    keys={
        "width": _above(48.0),
        "height": _above(6.0),
        "slope": Key(kind=Kind.ANGLE, low=1.0, high=90.0),
        "edge": Key(low=-48.0, high=48.0),
    },
    words=("none",),
)
CARPET = Table(
    keys={
        "thickness": _above(3.0),
        "edge": Key(low=-LONGEST, high=LONGEST),
        "reach": _above(LONGEST),
    },
    words=("none",),
)
BASEBOARD = Table(keys={"thickness": _above(3.0), "height": _above(24.0)}, words=("none",))
WALL_RETURN = Table(
    keys={"hinge": _upto(LONGEST), "strike": _upto(LONGEST), "reach": _above(LONGEST)},
    words=("none",),
)
