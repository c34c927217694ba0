"""The page's drawing colours and hatchings: those of every other picture.

A report knows nothing of pictures, so they are written out here; a test holds
them to the pictures' own.
"""

from __future__ import annotations

from typing import Any

from swingcheck.assembly import PartKind

DRAWING = {
    "paper": "#ffffff",
    "ink": "#1b242c",
    "quiet": "#52606c",
    "line": "#b9c2ca",
    "contact": "#d2300a",
    "seat": "#1f6f8b",
    "ghost": "#3c4a56",
}

SLAB = {"fill": "#f3e3bf", "line": "#8a6a2c", "hatch": [45.0], "pitch": 7.0, "label": "slab"}
JAMB = {"fill": "#d5e0ea", "line": "#55718a", "hatch": [-45.0], "pitch": 7.0, "label": "jamb"}
STOP = {"fill": "#bcd3c6", "line": "#3f6b58", "hatch": [90.0], "pitch": 4.5, "label": "stop"}
METAL = {"fill": "#59646e", "line": "#2b343b", "hatch": [], "pitch": 0.0, "label": "hinge"}
WALL = {"fill": "#eeeeec", "line": "#a7aaa8", "hatch": [15.0], "pitch": 12.0, "label": "wall"}
CASING = {"fill": "#e6dde8", "line": "#7d6a86", "hatch": [-20.0], "pitch": 6.0, "label": "casing"}
FLOOR = {"fill": "#efece6", "line": "#a59c8b", "hatch": [], "pitch": 0.0, "label": "floor"}
OBSTACLE = {
    "fill": "#dedede",
    "line": "#6a6a6a",
    "hatch": [45.0, -45.0],
    "pitch": 8.0,
    "label": "obstacle",
}

THRESHOLD = STOP | {"label": "threshold"}
CARPET = FLOOR | {"label": "carpet"}
BASEBOARD = CASING | {"label": "baseboard"}
ASTRAGAL = SLAB | {"label": "astragal"}
APPLIED = SLAB | {"label": "applied"}
HANDLE = METAL | {"label": "handle"}
OTHER_SLAB = {
    "fill": "#e9e2d0",
    "line": "#7d7048",
    "hatch": [-45.0],
    "pitch": 7.0,
    "label": "other slab",
}
SHELF = OTHER_SLAB | {"label": "shelf"}

MATERIALS: dict[PartKind, dict[str, Any]] = {
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


def drawing_colours() -> dict[str, Any]:
    """Return the colours as the page's scripts take them, materials by kind of part."""
    materials = {kind.value: material for kind, material in MATERIALS.items()}
    return {**DRAWING, "materials": materials}
