"""What stands about the opening: casing, walls, baseboard and obstacles, opening frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from swingcheck.assembly.arches import arched_band
from swingcheck.assembly.ground import floor_height, lowest_floor, standing
from swingcheck.assembly.legs import leg_heights, leg_plan, rectangle
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import box, loft
from swingcheck.model import Casing, Opening, Scene, head_arc

#: How far a wall runs on beside the jamb and above the head, inches.
WALL_RUN, WALL_RISE = 48.0, 12.0

#: How thick a wall is that comes out beside the opening, inches.
RETURN_THICKNESS = 4.5


def room_parts(scene: Scene) -> tuple[Part, ...]:
    """Return everything about the opening but the frame and the floor."""
    return (
        *casing_parts(scene),
        *_wall_parts(scene),
        *_baseboard_parts(scene),
        *_return_parts(scene),
        *_obstacle_parts(scene),
    )


def casing_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the casing's three sides, flat on the wall's plane as each leg stands in it."""
    casing = scene.casing
    if casing is None:
        return ()
    overhang = casing.reveal + casing.width
    upright = rectangle((-casing.thickness, 0.0), (-overhang, -casing.reveal))
    solids = {
        name: standing(
            name, scene, side, upright, scene.opening.height[side] + overhang, twists=False
        )
        for side, name in enumerate(("hinge casing", "strike casing"))
    }
    solids["head casing"] = _head_casing(scene, casing)
    return tuple(
        Part(name=name, kind=PartKind.CASING, solid=solid) for name, solid in solids.items()
    )


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


def _wall_parts(scene: Scene) -> Iterator[Part]:
    """Yield the wall beside the hinge leg and the one beside the strike leg."""
    opening = scene.opening
    back, strike_back = _jamb_backs(opening)
    # A steel frame holds the wall between its flats.
    inset = opening.steel.backbend if opening.steel else 0.0
    spans = {"wall": (back - WALL_RUN, back), "strike wall": (strike_back, strike_back + WALL_RUN)}
    for name, across in spans.items():
        yield _wall(
            name, PartKind.WALL, scene, across, (-opening.depth, 0.0), inset=(inset, -inset)
        )


def _return_parts(scene: Scene) -> Iterator[Part]:
    """Yield the walls that come out on the pull side beside the opening."""
    found = scene.wall_return
    if found is None:
        return
    hinge, strike = (leg_plan(scene.opening, side, 0.0).edge[0] for side in (0, 1))
    starts = {}
    if found.hinge is not None:
        starts["wall return"] = hinge - found.hinge - RETURN_THICKNESS
    if found.strike is not None:
        starts["strike wall return"] = strike + found.strike
    for name, x in starts.items():
        across = (x, x + RETURN_THICKNESS)
        yield _wall(name, PartKind.WALL_RETURN, scene, across, (0.0, found.reach))


def _wall(
    name: str,
    kind: PartKind,
    scene: Scene,
    across: Sequence[float],
    out: Sequence[float],
    *,
    inset: Sequence[float] = (0.0, 0.0),
) -> Part:
    """Return a wall from the floor's lowest to over the head, between two places each way."""
    bottom = lowest_floor(scene, [(x, y) for x in across for y in out])
    arc, opening = head_arc(scene.opening), scene.opening
    top = (arc.crown if arc else max(opening.height)) + opening.thickness + WALL_RISE
    low, high = np.add(out, inset)
    solid = box(name, (across[0], low, bottom), (across[1], high, top))
    return Part(name=name, kind=kind, solid=solid)


def _baseboard_parts(scene: Scene) -> Iterator[Part]:
    """Yield the baseboard on either side, from the casing, or the jamb without one."""
    base, opening = scene.baseboard, scene.opening
    if base is None:
        return
    back, strike_back = _jamb_backs(opening)
    # A steel frame's flats stand over the wall as casing does.
    inset = opening.steel.backbend if opening.steel else 0.0
    lap = opening.steel.face - opening.thickness if opening.steel else 0.0
    if scene.casing is not None:
        lap = scene.casing.reveal + scene.casing.width - opening.thickness
    spans = {
        "baseboard": (back - WALL_RUN, back - lap),
        "strike baseboard": (strike_back + lap, strike_back + WALL_RUN),
    }
    for name, (low, high) in spans.items():
        ends = [floor_height(scene, x, 0.0) for x in (low, high)]
        top = (high, base.thickness - inset, max(ends) + base.height)
        solid = box(name, (low, -inset, min(ends)), top)
        yield Part(name=name, kind=PartKind.BASEBOARD, solid=solid)


def _jamb_backs(opening: Opening) -> tuple[float, float]:
    """Return how near to the opening the walls come, behind the hinge leg and the strike leg."""
    hinge, strike = (
        [float(leg_plan(opening, side, z).edge[0]) for z in leg_heights(opening, side)]
        for side in (0, 1)
    )
    return max(hinge) - opening.thickness, min(strike) + opening.thickness


def _obstacle_parts(scene: Scene) -> Iterator[Part]:
    """Yield the boxes that the slab may meet, by their own names."""
    for one in scene.obstacles:
        solid = box(one.name, one.corner, np.add(one.corner, one.size))
        yield Part(name=one.name, kind=PartKind.OBSTACLE, solid=solid)
