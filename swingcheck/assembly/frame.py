"""The fixed parts of the frame: legs, head and stops, opening frame."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from swingcheck.assembly.arches import arched_band, arched_head
from swingcheck.assembly.drafts import Draft, Pattern, drafted, made
from swingcheck.assembly.ground import ground_drafts
from swingcheck.assembly.leaves import mortise_tool
from swingcheck.assembly.legs import hinge_leg_plan, leg_plan, rectangle
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.assembly.pins import jamb_leaf_frames
from swingcheck.assembly.pockets import pocketed
from swingcheck.assembly.room import room_drafts
from swingcheck.assembly.uprights import carried
from swingcheck.geometry.sizes import point, points, variants
from swingcheck.geometry.solid import Floats
from swingcheck.geometry.solids import Skin, fan
from swingcheck.model import Opening, Scene, Stop, head_arc, station_value


def frame_drafts(scene: Scene, pattern: Pattern) -> tuple[Draft, ...]:
    """Return every fixed part but the jamb's leaves."""
    return (
        *jamb_drafts(scene, pattern),
        *stop_drafts(scene, pattern),
        *ground_drafts(scene),
        *room_drafts(scene, pattern),
    )


def jamb_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the hinge leg with its mortises, the strike leg and the head."""
    return made(jamb_drafts(scene, Pattern()))


def stop_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the hinge stop, the strike stop and the head stop; none without a stop."""
    return made(stop_drafts(scene, Pattern()))


def jamb_drafts(scene: Scene, pattern: Pattern) -> tuple[Draft, ...]:
    """Return the hinge leg with its mortises, the strike leg and the head."""
    section = _jamb_section(scene.opening)
    rise = -section[:, 1].min(axis=0)
    own, beyond = _leg_section(scene, 1, section)
    strike = carried("strike leg", scene, 1, own, rise, pattern, beyond=beyond).skin
    arc = head_arc(scene.opening)
    head = arched_head(scene, arc) if arc else _straight_head(scene, section)
    hinge = _hinge_leg(scene, section, rise, pattern)
    return hinge, *drafted({PartKind.STRIKE_LEG: strike, PartKind.HEAD: head})


def _hinge_leg(scene: Scene, section: Floats, rise: Floats, pattern: Pattern) -> Draft:
    """Return the hinge leg: with its mortises built in its face, or cut where they do not fit."""
    kind = PartKind.HINGE_LEG
    own, beyond = _leg_section(scene, 0, section)
    if scene.opening.steel is None:
        leg = pocketed(kind.value, scene, own, rise, beyond, pattern)
        if leg is not None:
            return Draft(name=kind.value, kind=kind, skin=leg)
    skin = carried(kind.value, scene, 0, own, rise, pattern, beyond=beyond).skin
    return Draft(name=kind.value, kind=kind, skin=skin, cut=tuple(leaf_mortises(scene, pattern)))


def _leg_section(scene: Scene, side: int, section: Floats) -> tuple[Floats, tuple[int, ...]]:
    """Return the section of a leg, from its back, and which of its sides are out of reach.

    Its face is parted at the stop where it twists: what is behind is out of the slab's reach.
    """
    opening = scene.opening
    twist = (opening.hinge_leg, opening.strike_leg)[side].twist
    if len(section) > 4:
        return section, ()
    back, stock = opening.depth, -opening.thickness
    corners = [(back, stock), (back, 0.0), (0.0, 0.0), (0.0, stock)]
    if len(twist) > 1:
        rabbet = (opening.rabbet.hinge, opening.rabbet.strike)[side]
        corners.insert(2, (sum(rabbet) / len(rabbet), 0.0))
        return points(corners), () if scene.stop is None else (1,)
    return points(corners), ()


def _jamb_section(opening: Opening) -> Floats:
    """Return a leg's section (k, 2, ...): along its face from the pull side, and out of it.

    Pressed steel folds back over the wall on both sides: a flat at either
    face, and its backbend.
    """
    steel, depth, stock = opening.steel, opening.depth, opening.thickness
    if steel is None or steel.backbend == 0:
        return rectangle((0.0, depth), (-stock, 0.0))
    flat, back = steel.face, steel.backbend
    near = [(0.0, 0.0), (0.0, -flat), (back, -flat), (back, -stock)]
    return points(near + [(depth - along, out) for along, out in near[::-1]])


def stop_drafts(scene: Scene, pattern: Pattern) -> tuple[Draft, ...]:
    """Return the hinge stop, the strike stop and the head stop; none without a stop."""
    stop = scene.stop
    if stop is None:
        return ()
    # Its sides on the wall and on the leg come last and first.
    section = np.roll(rectangle((0.0, stop.width), (0.0, stop.projection)), -1, axis=0)
    skins = {
        kind: carried(kind.value, scene, side, section, 0.0, pattern, from_stop=True).skin
        for side, kind in enumerate((PartKind.HINGE_STOP, PartKind.STRIKE_STOP))
    }
    return drafted({**skins, PartKind.HEAD_STOP: _head_stop(scene, stop)})


def _straight_head(scene: Scene, section: Floats) -> Skin:
    """Return the head from leg to leg: a section (k, 2, ...), along the legs' faces and out."""
    flat = variants(section, 2)
    ends = []
    for side, z in enumerate(scene.opening.height):
        x, y = leg_plan(scene.opening, side, z).at(flat[:, 0], 0.0)
        ends.append(point(x, y, z - flat[:, 1]))
    return _between("head", ends)


def _between(name: str, rings: list[Floats]) -> Skin:
    """Return what runs through rings (3, k, n)."""
    skin = np.stack(np.broadcast_arrays(*rings))
    return Skin(name, skin.swapaxes(1, 2), cap=fan(4) if skin.shape[2] == 4 else None)


def _head_stop(scene: Scene, stop: Stop) -> Skin:
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
        along, out = variants(section(share), 2).swapaxes(0, 1)
        start, end = near.at(along, 0.0), far.at(along, 0.0)
        z = opening.height[0] + (opening.height[1] - opening.height[0]) * share
        x, y = end if share == 1.0 else start + share * (end - start)
        rings.append(point(x, y, z + out))
    return _between("head stop", rings)


def leaf_mortises(scene: Scene, pattern: Pattern) -> Iterator[Skin]:
    """Yield what the jamb's leaves are let into, opening frame."""
    hinge, opening = scene.hinge, scene.opening
    if not hinge.count:
        return
    frames = jamb_leaf_frames(scene)
    for k, depth in enumerate(hinge.jamb.depths):
        if pattern.is_some(f"jamb mortise {k}", depth):
            middle = opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
            run = hinge_leg_plan(opening, middle).rabbet - hinge.jamb.setbacks[k]
            yield mortise_tool(scene, "jamb mortise", frames[..., k, :], depth, run, pattern)
