"""The solids of a scene as the page's 3D view draws them, on the hand they hang."""

from __future__ import annotations

from math import radians
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.parts import as_hung, is_mirrored
from swingcheck.geometry.features import creased
from swingcheck.geometry.solid import Solid

SHARP_RAD = radians(20.0)
"""Faces that meet at less than this angle show no edge: the facets of something round."""

PLACES = 4
"""Decimals of an inch that a drawn corner keeps."""

WALL_SHOWN, WALL_ABOVE = 3.0, 1.0
"""How much of the wall is drawn beside the jamb, and above it, inches."""


def drawn_parts(assembly: Assembly) -> list[dict[str, Any]]:
    """Return every part with its corners, triangles and drawn edges, flat lists of numbers.

    Corners are inches, mirrored where the opening is; moving parts stand closed.
    """
    named = [
        *((part, True) for part in assembly.moving),
        *((part, False) for part in (*assembly.fixed, *barrel_parts(assembly))),
    ]
    return [_drawn(assembly, part, moving=moving) for part, moving in named]


def drawn_axis(assembly: Assembly) -> dict[str, Any]:
    """Return the pin line as drawn; ``sense`` is -1 where opening turns the other way about it.

    ``rise`` is inches a radian of the turn in that sense.
    """
    hand = -1.0 if is_mirrored(assembly.scene) else 1.0
    mirror = np.array([hand, 1.0, 1.0])
    return {
        "point": (assembly.axis.point * mirror).tolist(),
        "direction": (assembly.axis.direction * mirror).tolist(),
        "rise": hand * assembly.axis.rise,
        "sense": hand,
    }


def _drawn(assembly: Assembly, part: Part, *, moving: bool) -> dict[str, Any]:
    points, faces, edges = creased(as_hung(assembly.scene, _shown(assembly, part)), SHARP_RAD)
    return {
        "name": part.name,
        "kind": part.kind.value,
        "moving": moving,
        "corners": np.round(points, PLACES).ravel().tolist(),
        "triangles": faces.ravel().tolist(),
        "edges": edges.ravel().tolist(),
    }


def _shown(assembly: Assembly, part: Part) -> Solid:
    """Return a part as drawn: of a wall only what stands next to the jamb."""
    if part.kind is not PartKind.WALL:
        return part.solid
    low, high = part.solid.bounds[:, 0]
    if low < 0:
        low = max(low, high - WALL_SHOWN)
    else:
        high = min(high, low + WALL_SHOWN)
    corners = part.solid.vertices.copy()
    corners[:, 0] = np.clip(corners[:, 0], low, high)
    top = max(assembly.scene.opening.height) + assembly.scene.opening.thickness + WALL_ABOVE
    corners[:, 2] = np.minimum(corners[:, 2], top)
    return Solid(corners, part.solid.faces)
