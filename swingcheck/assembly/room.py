"""What stands about the opening: casing, walls, baseboard and obstacles, opening frame."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from swingcheck.assembly.arches import arched_band
from swingcheck.assembly.ground import floor_height
from swingcheck.assembly.legs import leg_heights, leg_plan, needed, rectangle
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import box, loft
from swingcheck.model import Casing, Opening, Scene, head_arc

#: How far a wall runs on beside the jamb and above the head, inches.
WALL_RUN, WALL_RISE = 48.0, 12.0

#: How thick a wall is that comes out beside the opening, inches.
RETURN_THICKNESS = 4.5


Point = tuple[float, float, float]


def room_parts(scene: Scene) -> tuple[Part, ...]:
    """Return everything about the opening but the frame and the floor."""
    return (
        *casing_parts(scene),
        *wall_parts(scene),
        *baseboard_parts(scene),
        *return_parts(scene),
        *obstacle_parts(scene),
    )


def casing_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the casing's three sides, flat on the wall's plane as each leg stands in it."""
    casing = scene.casing
    if casing is None:
        return ()
    solids = {
        "hinge casing": _casing_upright("hinge casing", scene, 0, casing),
        "strike casing": _casing_upright("strike casing", scene, 1, casing),
        "head casing": _head_casing(scene, casing),
    }
    return tuple(
        Part(name=name, kind=PartKind.CASING, solid=solid) for name, solid in solids.items()
    )


def wall_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the wall beside the hinge leg and the one beside the strike leg."""
    opening = scene.opening
    back, strike_back = _jamb_backs(opening)
    # A steel frame holds the wall between its flats.
    inset = opening.steel.backbend if opening.steel else 0.0
    spans = {
        "wall": (back - WALL_RUN, back),
        "strike wall": (strike_back, strike_back + WALL_RUN),
    }
    parts = []
    for name, (low, high) in spans.items():
        corners = [(x, y) for x in (low, high) for y in (-opening.depth, 0.0)]
        bottom = min(floor_height(scene, x, y) for x, y in corners)
        solid = box(name, (low, inset - opening.depth, bottom), (high, -inset, _wall_top(opening)))
        parts.append(Part(name=name, kind=PartKind.WALL, solid=solid))
    return tuple(parts)


def baseboard_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the baseboard on either side, from the casing, or the jamb without one."""
    base, opening = scene.baseboard, scene.opening
    if base is None:
        return ()
    back, strike_back = _jamb_backs(opening)
    # A steel frame's flats stand over the wall as casing does.
    inset = opening.steel.backbend if opening.steel else 0.0
    lap = opening.steel.face - opening.thickness if opening.steel else 0.0
    if scene.casing is not None:
        lap = scene.casing.reveal + scene.casing.width - opening.thickness
    near, strike_near = back - lap, strike_back + lap
    spans = {
        "baseboard": (back - WALL_RUN, near),
        "strike baseboard": (strike_near, strike_back + WALL_RUN),
    }
    parts = []
    for name, (low, high) in spans.items():
        ends = [floor_height(scene, x, 0.0) for x in (low, high)]
        solid = box(
            name, (low, -inset, min(ends)), (high, base.thickness - inset, max(ends) + base.height)
        )
        parts.append(Part(name=name, kind=PartKind.BASEBOARD, solid=solid))
    return tuple(parts)


def return_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the walls that come out on the pull side beside the opening."""
    return tuple(
        Part(name=name, kind=PartKind.WALL_RETURN, solid=box(name, low, high))
        for name, low, high in _returns(scene)
    )


def _returns(scene: Scene) -> Iterator[tuple[str, Point, Point]]:
    found = scene.wall_return
    if found is None:
        return
    hinge, strike = (leg_plan(scene.opening, side, 0.0).edge[0] for side in (0, 1))
    spans = []
    if found.hinge is not None:
        spans.append(("wall return", hinge - found.hinge - RETURN_THICKNESS))
    if found.strike is not None:
        spans.append(("strike wall return", strike + found.strike))
    for name, x in spans:
        corners = [(x + dx, y) for dx in (0.0, RETURN_THICKNESS) for y in (0.0, found.reach)]
        bottom = min(floor_height(scene, *corner) for corner in corners)
        top = _wall_top(scene.opening)
        yield name, (x, 0.0, bottom), (x + RETURN_THICKNESS, found.reach, top)


def _jamb_backs(opening: Opening) -> tuple[float, float]:
    """Return how near to the opening the walls come, behind the hinge leg and the strike leg."""
    hinge, strike = (
        [float(leg_plan(opening, side, z).edge[0]) for z in leg_heights(opening, side)]
        for side in (0, 1)
    )
    return max(hinge) - opening.thickness, min(strike) + opening.thickness


def _wall_top(opening: Opening) -> float:
    arc = head_arc(opening)
    return (arc.crown if arc else max(opening.height)) + opening.thickness + WALL_RISE


def obstacle_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the boxes that the slab may meet, by their own names."""
    return tuple(
        Part(
            name=obstacle.name,
            kind=PartKind.OBSTACLE,
            solid=box(obstacle.name, obstacle.corner, np.add(obstacle.corner, obstacle.size)),
        )
        for obstacle in scene.obstacles
    )


def _casing_upright(name: str, scene: Scene, side: int, casing: Casing) -> Solid:
    """Return a leg's casing from the floor to the top of the head's."""
    back = (-1.0, 1.0)[side]
    reveal, outer = back * casing.reveal, back * (casing.reveal + casing.width)
    outline = np.array(
        [(reveal, 0), (outer, 0), (outer, casing.thickness), (reveal, casing.thickness)]
    )
    opening = scene.opening
    top = opening.height[side] + casing.reveal + casing.width
    foot = leg_plan(opening, side, 0.0).edge
    bottom = min(floor_height(scene, *(foot + corner)) for corner in outline)
    heights = [bottom, *(z for z in leg_heights(opening, side) if bottom < z < top), top]
    rings = [
        np.column_stack([leg_plan(opening, side, z).edge + outline, np.full(4, z)]) for z in heights
    ]
    return loft(name, needed(np.array(rings)))


def _head_casing(scene: Scene, casing: Casing) -> Solid:
    overhang = casing.reveal + casing.width
    arc = head_arc(scene.opening)
    if arc is not None:
        flat = rectangle((0.0, -casing.thickness), (casing.reveal, overhang))
        return arched_band("head casing", scene, arc, lambda _: flat)
    rings = []
    for side, out in enumerate((-overhang, overhang)):
        z = scene.opening.height[side]
        edge = leg_plan(scene.opening, side, z).edge
        section = rectangle((0.0, casing.thickness), (casing.reveal, overhang))
        rings.append([(edge[0] + out, edge[1] + y, z + up) for y, up in section])
    return loft("head casing", np.array(rings))
