"""The fixed parts of the frame: legs, head and stops, opening frame."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from swingcheck.assembly.arches import arched_band, arched_head
from swingcheck.assembly.ground import ground_parts, standing
from swingcheck.assembly.leaves import mortise_tool
from swingcheck.assembly.legs import hinge_leg_plan, leg_plan, rectangle
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.assembly.pins import jamb_leaf_frame
from swingcheck.assembly.room import room_parts
from swingcheck.geometry.booleans import cut
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import loft
from swingcheck.model import Opening, Scene, Stop, head_arc, station_value


def frame_parts(scene: Scene) -> tuple[Part, ...]:
    """Return every fixed part but the jamb's leaves."""
    return (
        *jamb_parts(scene),
        *stop_parts(scene),
        *ground_parts(scene),
        *room_parts(scene),
    )


def jamb_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the hinge leg with its mortises, the strike leg and the head."""
    opening = scene.opening
    section = _jamb_section(opening)
    rise = float(-section[:, 1].min())
    legs = [
        standing(kind.value, scene, side, section, opening.height[side] + rise)
        for side, kind in enumerate((PartKind.HINGE_LEG, PartKind.STRIKE_LEG))
    ]
    arc = head_arc(opening)
    solids = {
        PartKind.HINGE_LEG: cut("hinge leg", legs[0], list(leaf_mortises(scene))),
        PartKind.STRIKE_LEG: legs[1],
        PartKind.HEAD: arched_head(scene, arc) if arc else _straight_head(scene, section),
    }
    return _parts(solids)


def _jamb_section(opening: Opening) -> Floats:
    """Return a leg's section (k, 2): along its face from the pull side, and out of it.

    Pressed steel folds back over the wall on both sides: a flat at either
    face, and its backbend.
    """
    steel, depth, stock = opening.steel, opening.depth, opening.thickness
    if steel is None or steel.backbend == 0:
        return rectangle((0.0, depth), (-stock, 0.0))
    flat, back = steel.face, steel.backbend
    near = [(0.0, 0.0), (0.0, -flat), (back, -flat), (back, -stock)]
    return np.array(near + [(depth - along, out) for along, out in near[::-1]])


def stop_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the hinge stop, the strike stop and the head stop; none without a stop."""
    stop = scene.stop
    if stop is None:
        return ()
    section = rectangle((0.0, stop.width), (0.0, stop.projection))
    solids = {
        kind: standing(kind.value, scene, side, section, scene.opening.height[side], from_stop=True)
        for side, kind in enumerate((PartKind.HINGE_STOP, PartKind.STRIKE_STOP))
    }
    return _parts({**solids, PartKind.HEAD_STOP: _head_stop(scene, stop)})


def _parts(solids: dict[PartKind, Solid]) -> tuple[Part, ...]:
    return tuple(Part(name=kind.value, kind=kind, solid=solid) for kind, solid in solids.items())


def _straight_head(scene: Scene, section: Floats) -> Solid:
    """Return the head from leg to leg: a section (k, 2), along the legs' faces and out of it."""
    ends = []
    for side, z in enumerate(scene.opening.height):
        plan = leg_plan(scene.opening, side, z).at(section[:, 0], 0.0)
        ends.append(np.column_stack([plan, z - section[:, 1]]))
    return loft("head", np.array(ends))


def _head_stop(scene: Scene, stop: Stop) -> Solid:
    rabbets, opening = scene.opening.rabbet.head, scene.opening

    def section(share: float) -> Floats:
        rabbet = station_value(rabbets, share)
        return rectangle((rabbet, rabbet + stop.width), (0.0, -stop.projection))

    arc = head_arc(opening)
    if arc is not None:
        return arched_band("head stop", scene, arc, section)
    near, far = (leg_plan(opening, side, opening.height[side]) for side in (0, 1))
    steps = max(len(rabbets) - 1, 1)
    rings = []
    for share in (k / steps for k in range(steps + 1)):
        outline = section(share)
        start, end = near.at(outline[:, 0], 0.0), far.at(outline[:, 0], 0.0)
        z = opening.height[0] + (opening.height[1] - opening.height[0]) * share
        plan = end if share == 1.0 else start + share * (end - start)
        rings.append(np.column_stack([plan, z + outline[:, 1]]))
    return loft("head stop", np.array(rings))


def leaf_mortises(scene: Scene) -> Iterator[Solid]:
    """Yield what the jamb's leaves are let into, opening frame."""
    hinge, opening = scene.hinge, scene.opening
    for k, depth in enumerate(hinge.jamb.depths):
        if depth > 0:
            middle = opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
            run = hinge_leg_plan(opening, middle).rabbet - hinge.jamb.setbacks[k]
            yield mortise_tool(scene, "jamb mortise", jamb_leaf_frame(scene, k), depth, run)
