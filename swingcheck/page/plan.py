"""The plan close-ups of a page: what a level plane cuts, and where to look."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from swingcheck.assembly import GROUND, Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.legs import hinge_leg_plan, strike_leg_plan
from swingcheck.geometry.section import horizontal_section
from swingcheck.render.pen.section import LEVEL, cut_height, nearest_hinge
from swingcheck.render.pen.subject import Pose
from swingcheck.swing.found import Found, Touch

PLACES = 5

BEHIND, BESIDE, ACROSS, ROOM = 1.1, 1.0, 2.5, 0.2
"""What a close-up shows: behind a leg's face, past the stop's face, across, and to spare."""

MAGNIFIED = 0.9
"""How wide the magnified look at the contact is, inches."""


def shown_touch(result: Found) -> Touch | None:
    """Return the contact that the slab is turned to: what decides, else its seat.

    ``None`` for neither, and for a contact that its own turn does not come to:
    a second slab's, or one on the push side.
    """
    decided = result.decided
    if decided.touch is not None and not decided.slab and not decided.push:
        return decided.touch
    return result.closing if result.seated else None


def plan_drawn(assembly: Assembly, result: Found) -> dict[str, Any]:
    """Return the cut's height, its shapes, and the windows to look through.

    All in the opening frame, inches, the slab closed. A shape whose ``beyond``
    is true is cut at the hinge nearest to a plane that misses every leaf.
    """
    touch = shown_touch(result)
    level = touch is not None and touch.against_kind in LEVEL
    height = cut_height(assembly, Pose(angle=0.0, touch=None if level else touch))
    parts = (*assembly.fixed, *barrel_parts(assembly), *assembly.moving)
    shapes = cut_shapes(assembly, parts, height)
    if not any(shape["kind"] == PartKind.SLAB_LEAF.value for shape in shapes):
        hinge = nearest_hinge(assembly, height)
        nearest = [part for part in parts if part.hinge == hinge]
        middle = float(assembly.jamb_pins[hinge, 2])
        shapes += cut_shapes(assembly, nearest, middle, beyond=True)
    return {"height": height, "shapes": shapes, "views": _views(assembly, height, touch)}


def cut_shapes(
    assembly: Assembly, parts: Iterable[Part], height: float, *, beyond: bool = False
) -> list[dict[str, Any]]:
    """Return what a level plane cuts of parts, as the page's scripts draw it."""
    moving = {id(part) for part in assembly.moving}
    cut = [
        (part, horizontal_section(part.solid, height)) for part in parts if part.kind not in GROUND
    ]
    return [
        {
            "name": part.name,
            "kind": part.kind.value,
            "moving": id(part) in moving,
            "beyond": beyond,
            "height": height,
            "outlines": [np.round(outline, PLACES).tolist() for outline in outlines],
        }
        for part, outlines in cut
        if outlines
    ]


def _views(assembly: Assembly, height: float, touch: Touch | None) -> list[dict[str, Any]]:
    """Return the windows: name, heading, lowest corner, size, and the parts that are read there."""
    scene = assembly.scene
    hinge, strike = (plan(scene.opening, height) for plan in (hinge_leg_plan, strike_leg_plan))
    pin = assembly.axis.point[1] + scene.hinge.barrel / 2
    low = min(hinge.edge[1] - hinge.rabbet, strike.edge[1] - strike.rabbet) - BESIDE
    casing = scene.casing.thickness if scene.casing else 0.0
    high = max(pin, hinge.edge[1] + casing, strike.edge[1] + casing) + ROOM
    size = [BEHIND + ACROSS, high - low]
    views = [
        {
            "name": "hinge",
            "heading": "Hinge corner",
            "corner": [float(hinge.edge[0]) - BEHIND, low],
            "size": size,
            "parts": _parts(assembly, PartKind.HINGE_STOP, PartKind.HINGE_LEG, PartKind.JAMB_LEAF),
        },
        {
            "name": "strike",
            "heading": "Strike corner",
            "corner": [float(strike.edge[0]) - ACROSS, low],
            "size": size,
            "parts": _parts(assembly, PartKind.STRIKE_LEG, PartKind.STRIKE_STOP),
        },
    ]
    if touch is not None and touch.against_kind not in LEVEL:
        wide = [MAGNIFIED, MAGNIFIED * size[1] / size[0]]
        views.append(
            {
                "name": "contact",
                "heading": "Where it touches, magnified",
                "corner": [touch.point[0] - wide[0] / 2, touch.point[1] - wide[1] / 2],
                "size": wide,
                "parts": [touch.against],
            }
        )
    return views


def _parts(assembly: Assembly, *kinds: PartKind) -> list[str]:
    return [part.name for part in assembly.fixed if part.kind in kinds]
