"""What stands about the opening: casing, walls, baseboard and obstacles, opening frame."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from swingcheck.assembly.arches import arched_band
from swingcheck.assembly.drafts import Draft, Pattern, made
from swingcheck.assembly.ground import floor_height, lowest_floor
from swingcheck.assembly.legs import leg_edges, leg_plan, rectangle
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.assembly.uprights import carried
from swingcheck.geometry.sizes import Sizes, largest, point, points, smallest, variants
from swingcheck.geometry.solids import Skin, box_skin, fan
from swingcheck.model import Casing, Opening, Scene, head_arc

#: How far a wall runs on beside the jamb and above the head, inches.
WALL_RUN, WALL_RISE = 48.0, 12.0

#: How thick a wall is that comes out beside the opening, inches.
RETURN_THICKNESS = 4.5

Pair = tuple[Sizes, Sizes]


def room_parts(scene: Scene) -> tuple[Part, ...]:
    """Return everything about the opening but the frame and the floor."""
    return made(room_drafts(scene, Pattern()))


def casing_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the casing's three sides, flat on the wall's plane as each leg stands in it."""
    return made(_casing_drafts(scene, Pattern()))


def room_drafts(scene: Scene, pattern: Pattern) -> tuple[Draft, ...]:
    """Return everything about the opening but the frame and the floor."""
    return (
        *_casing_drafts(scene, pattern),
        *_walls(scene),
        *_baseboards(scene),
        *_returns(scene),
        *_obstacles(scene),
    )


def _casing_drafts(scene: Scene, pattern: Pattern) -> tuple[Draft, ...]:
    casing = scene.casing
    if casing is None:
        return ()
    overhang = casing.reveal + casing.width
    upright = rectangle((-casing.thickness, 0.0), (-overhang, -casing.reveal))
    skins = {
        name: carried(name, scene, side, upright, overhang, pattern, twists=False).skin
        for side, name in enumerate(("hinge casing", "strike casing"))
    }
    skins["head casing"] = _head_casing(scene, casing)
    return tuple(Draft(name=name, kind=PartKind.CASING, skin=skin) for name, skin in skins.items())


def _head_casing(scene: Scene, casing: Casing) -> Skin:
    overhang = casing.reveal + casing.width
    arc = head_arc(scene.opening)
    if arc is not None:
        flat = rectangle((0.0, -casing.thickness), (casing.reveal, overhang))
        return arched_band("head casing", scene, arc, lambda _: flat)
    ends = []
    for side, out in enumerate((-overhang, overhang)):
        z = scene.opening.height[side]
        x, y = leg_plan(scene.opening, side, z).edge
        section = rectangle((0.0, casing.thickness), (casing.reveal, overhang))
        ends.append(variants(points([(x + out, y + off, z + up) for off, up in section]), 2))
    return Skin("head casing", np.stack(np.broadcast_arrays(*ends)), cap=fan(4))


def _walls(scene: Scene) -> Iterator[Draft]:
    """Yield the wall beside the hinge leg and the one beside the strike leg."""
    opening = scene.opening
    back, strike_back = _jamb_backs(opening)
    # A steel frame holds the wall between its flats.
    inset = opening.steel.backbend if opening.steel else 0.0
    spans = {"wall": (back - WALL_RUN, back), "strike wall": (strike_back, strike_back + WALL_RUN)}
    for name, across in spans.items():
        yield _wall(name, PartKind.WALL, scene, across, (-opening.depth, 0.0), inset=inset)


def _returns(scene: Scene) -> Iterator[Draft]:
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
    name: str, kind: PartKind, scene: Scene, across: Pair, out: Pair, *, inset: Sizes = 0.0
) -> Draft:
    """Return a wall from the floor's lowest to over the head, between two places each way."""
    plan = variants(points([(x, y) for x in across for y in out]), 2)
    bottom = lowest_floor(scene, plan.swapaxes(0, 1))
    arc, opening = head_arc(scene.opening), scene.opening
    top = (arc.crown if arc else largest(opening.height)) + opening.thickness + WALL_RISE
    low, high = out[0] + inset, out[1] - inset
    skin = box_skin(name, (across[0], low, bottom), (across[1], high, top))
    return Draft(name=name, kind=kind, skin=skin)


def _baseboards(scene: Scene) -> Iterator[Draft]:
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
        top = (high, base.thickness - inset, largest(ends) + base.height)
        skin = box_skin(name, (low, -inset, smallest(ends)), top)
        yield Draft(name=name, kind=PartKind.BASEBOARD, skin=skin)


def _jamb_backs(opening: Opening) -> tuple[Sizes, Sizes]:
    """Return how near to the opening the walls come, behind the hinge leg and the strike leg."""
    hinge, strike = (leg_edges(opening, side) for side in (0, 1))
    return hinge.max(axis=0) - opening.thickness, strike.min(axis=0) + opening.thickness


def _obstacles(scene: Scene) -> Iterator[Draft]:
    """Yield the boxes that the slab may meet, by their own names."""
    for one in scene.obstacles:
        skin = box_skin(one.name, one.corner, point(*one.corner) + point(*one.size))
        yield Draft(name=one.name, kind=PartKind.OBSTACLE, skin=skin)
