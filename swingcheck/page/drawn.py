"""What a page draws of a scene: its solids on the hand they hang, and its plan close-ups."""

from __future__ import annotations

from typing import Any

import numpy as np

from swingcheck.assembly import BESIDE, Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.legs import hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.parts import as_hung
from swingcheck.geometry.features import creased
from swingcheck.geometry.solid import Solid
from swingcheck.render.pen.eye import SHARP_RAD
from swingcheck.render.pen.section import LEVEL, Cut, PlanCut, cut_height, plan_cut, plan_hand
from swingcheck.render.pen.subject import Pose, Subject, subject_of, turned_parts
from swingcheck.swing.found import Found, Touch

SOLID_PLACES, PLACES = 4, 5
"""Decimals of an inch that a corner keeps, drawn in 3D and in plan."""

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
    hand = -plan_hand(assembly)
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
        "corners": np.round(points, SOLID_PLACES).ravel().tolist(),
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


BEHIND, PAST, ACROSS, ROOM = 1.1, 1.0, 2.5, 0.2
"""What a close-up shows: behind a leg's face, past the stop's face, across, and to spare."""

AROUND_IN = 4.0
"""What is shown around the slabs where the verdict is decided."""

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
    pose = Pose(angle=0.0)
    cut = plan_cut(Subject(assembly=assembly, pose=pose), pose, height)
    shapes = [*_shapes(cut, height), *(_shape(part, height, beyond=True) for part in cut.beyond)]
    return {"height": height, "shapes": shapes, "views": _views(assembly, height, touch)}


def decided_view(result: Found) -> dict[str, Any] | None:
    """Return the window on what decides, ``None`` where the slab's own turn shows it.

    Its shapes stand as they do where the verdict is decided, a further slab's in
    its own opening's frame, on its own ``hand``; nothing turns.
    """
    decided = result.decided
    if decided.way is None or not (decided.slab or decided.push):
        return None
    shown = subject_of(result, "")
    assembly, pose = shown.assembly, shown.pose
    slabs = turned_parts(assembly.axis, assembly.moving, pose.angle)
    slabs += [part for part in assembly.fixed if part.kind in BESIDE]
    bounds = np.array([part.solid.bounds[:, :2] for part in slabs])
    low, high = bounds[:, 0].min(axis=0) - AROUND_IN, bounds[:, 1].max(axis=0) + AROUND_IN
    height = cut_height(assembly, pose)
    return {
        "name": "decided",
        "heading": "Where it decides",
        "hand": plan_hand(assembly),
        "corner": low.tolist(),
        "size": (high - low).tolist(),
        "parts": [],
        "shapes": _shapes(plan_cut(shown, pose, height), height),
        "lit": list(pose.against),
        "mark": None if pose.at is None else list(pose.at[:2]),
    }


def _shapes(cut: PlanCut, height: float) -> list[dict[str, Any]]:
    """Return what a level plane cuts, as the page's scripts draw it."""
    still = [_shape(part, height) for part in cut.fixed]
    return still + [_shape(part, height, moving=True) for part in cut.moving]


def _shape(
    part: Cut, height: float, *, moving: bool = False, beyond: bool = False
) -> dict[str, Any]:
    return {
        "name": part.name,
        "kind": part.kind.value,
        "moving": moving or part.kind is PartKind.SLAB_LEAF,
        "beyond": beyond,
        "height": height,
        "outlines": [np.round(outline, PLACES).tolist() for outline in part.outlines],
    }


def _views(assembly: Assembly, height: float, touch: Touch | None) -> list[dict[str, Any]]:
    """Return the windows: name, heading, lowest corner, size, and the parts that are read there."""
    scene = assembly.scene
    hinge, strike = (plan(scene.opening, height) for plan in (hinge_leg_plan, strike_leg_plan))
    pin = assembly.axis.point[1] + scene.hinge.barrel / 2
    low = min(hinge.edge[1] - hinge.rabbet, strike.edge[1] - strike.rabbet) - PAST
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
