"""The colours, lines and hatchings of every picture, one table for all.

The materials are quiet and told apart without colour too: each has its own
hatching, and they differ in lightness. One colour is loud, and it is kept for
the contact.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from typing import Any

from swingcheck.assembly import PartKind

PAPER = "#ffffff"
INK = "#1b242c"
QUIET = "#52606c"
FRAME_LINE = "#b9c2ca"
CONTACT = "#d2300a"
SEAT = "#1f6f8b"
GHOST = "#3c4a56"

FONT = "DejaVu Sans"

Dash = tuple[float, tuple[float, ...]]
"""Where a broken line begins, and how long it is drawn and left out in turn, line widths."""

DASHED: Dash = (0.0, (5.0, 2.6))
CHAIN: Dash = (0.0, (11.0, 2.5, 2.0, 2.5))
DOTTED: Dash = (0.0, (1.4, 1.6))


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """How a part is drawn.

    ``fill`` and ``line`` are colours; ``hatch`` the angles of its hatching in
    degrees (none: no hatching) and ``pitch`` the lines' distance in points;
    ``label`` what the key calls it.
    """

    fill: str
    line: str
    hatch: tuple[float, ...]
    pitch: float
    label: str


SLAB = Material(fill="#f3e3bf", line="#8a6a2c", hatch=(45.0,), pitch=7.0, label="slab")
JAMB = Material(fill="#d5e0ea", line="#55718a", hatch=(-45.0,), pitch=7.0, label="jamb")
STOP = Material(fill="#bcd3c6", line="#3f6b58", hatch=(90.0,), pitch=4.5, label="stop")
METAL = Material(fill="#59646e", line="#2b343b", hatch=(), pitch=0.0, label="hinge")
WALL = Material(fill="#eeeeec", line="#a7aaa8", hatch=(15.0,), pitch=12.0, label="wall")
CASING = Material(fill="#e6dde8", line="#7d6a86", hatch=(-20.0,), pitch=6.0, label="casing")
FLOOR = Material(fill="#efece6", line="#a59c8b", hatch=(), pitch=0.0, label="floor")
OBSTACLE = Material(
    fill="#dedede", line="#6a6a6a", hatch=(45.0, -45.0), pitch=8.0, label="obstacle"
)

THRESHOLD = replace(STOP, label="threshold")
CARPET = replace(FLOOR, label="carpet")
BASEBOARD = replace(CASING, label="baseboard")
ASTRAGAL = replace(SLAB, label="astragal")
APPLIED = replace(SLAB, label="applied")
HANDLE = replace(METAL, label="handle")
OTHER_SLAB = Material(fill="#e9e2d0", line="#7d7048", hatch=(-45.0,), pitch=7.0, label="other slab")
SHELF = replace(OTHER_SLAB, label="shelf")

MATERIALS = {
    PartKind.SLAB: SLAB,
    PartKind.SLAB_LEAF: METAL,
    PartKind.JAMB_LEAF: METAL,
    PartKind.BARREL: METAL,
    PartKind.HINGE_LEG: JAMB,
    PartKind.STRIKE_LEG: JAMB,
    PartKind.HEAD: JAMB,
    PartKind.HINGE_STOP: STOP,
    PartKind.STRIKE_STOP: STOP,
    PartKind.HEAD_STOP: STOP,
    PartKind.FLOOR: FLOOR,
    PartKind.CASING: CASING,
    PartKind.WALL: WALL,
    PartKind.OBSTACLE: OBSTACLE,
    PartKind.THRESHOLD: THRESHOLD,
    PartKind.CARPET: CARPET,
    PartKind.BASEBOARD: BASEBOARD,
    PartKind.WALL_RETURN: WALL,
    PartKind.ASTRAGAL: ASTRAGAL,
    PartKind.APPLIED: APPLIED,
    PartKind.HANDLE: HANDLE,
    PartKind.INACTIVE: OTHER_SLAB,
    PartKind.ACTIVE: OTHER_SLAB,
    PartKind.LOWER: OTHER_SLAB,
    PartKind.UPPER: OTHER_SLAB,
    PartKind.SHELF: SHELF,
    PartKind.NEIGHBOUR: OTHER_SLAB,
    PartKind.OTHER_LEAF: METAL,
}

LINES: dict[PartKind, tuple[str, Dash | None]] = {
    PartKind.HINGE_LEG: (JAMB.line, None),
    PartKind.STRIKE_LEG: (JAMB.line, DASHED),
    PartKind.HEAD: (JAMB.line, DOTTED),
    PartKind.HINGE_STOP: (STOP.line, None),
    PartKind.STRIKE_STOP: (STOP.line, DASHED),
    PartKind.HEAD_STOP: (STOP.line, DOTTED),
    PartKind.JAMB_LEAF: (METAL.line, CHAIN),
    PartKind.FLOOR: ("#7a6a4a", None),
    PartKind.CASING: (CASING.line, DASHED),
}
"""A part's line on a chart: its material's colour, and by its dashes which of them it is."""

OTHER_LINE: tuple[str, Dash | None] = (OBSTACLE.line, None)
"""The line of whatever else the slab may meet."""


def mixed(color: str, other: int, share: float) -> str:
    """Return a colour with so much of a grey, 0 to 255, in it.

    Examples
    --------
    >>> mixed("#f3e3bf", 0, 0.215), mixed("#804020", 255, 0.5)
    ('#bfb296', '#c0a090')
    """
    parts = [int(color[k : k + 2], 16) for k in (1, 3, 5)]
    return "#" + "".join(f"{round(part + share * (other - part)):02x}" for part in parts)


def drawing_colours() -> dict[str, Any]:
    """Return the drawing's own colours by name and the materials by kind of part, as plain data."""
    return {
        "paper": PAPER,
        "ink": INK,
        "quiet": QUIET,
        "line": FRAME_LINE,
        "contact": CONTACT,
        "seat": SEAT,
        "ghost": GHOST,
        "materials": {kind.value: asdict(each) for kind, each in MATERIALS.items()},
    }
