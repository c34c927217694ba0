"""The fixed parts of the frame: legs, head and stops, opening frame."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from swingcheck.assembly.arches import arched_band, arched_head
from swingcheck.assembly.ground import floor_height, ground_parts
from swingcheck.assembly.leaves import mortise_tool
from swingcheck.assembly.legs import (
    hinge_leg_plan,
    leg_heights,
    leg_plan,
    loft_heights,
    rectangle,
    rings_up,
)
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
    section = jamb_section(opening)
    rise = float(-section[:, 1].min())
    legs = [
        _upright(name, scene, side, section, rise=rise)
        for side, name in enumerate(("hinge leg", "strike leg"))
    ]
    arc = head_arc(opening)
    head = arched_head(scene, arc) if arc else _across("head", scene, section * [1.0, -1.0])
    return (
        Part(
            name="hinge leg",
            kind=PartKind.HINGE_LEG,
            solid=cut("hinge leg", legs[0], list(leaf_mortises(scene))),
        ),
        Part(name="strike leg", kind=PartKind.STRIKE_LEG, solid=legs[1]),
        Part(name="head", kind=PartKind.HEAD, solid=head),
    )


def jamb_section(opening: Opening) -> Floats:
    """Return a leg's section (k, 2): along its face from the pull side, and out of it.

    Pressed steel folds back over the wall on both sides: a flat at either
    face, and its backbend.
    """
    steel, depth, stock = opening.steel, opening.depth, opening.thickness
    if steel is None or steel.backbend == 0:
        return rectangle((0.0, depth), (-stock, 0.0))
    flat, back = steel.face, steel.backbend
    return np.array(
        [
            (0.0, -flat),
            (back, -flat),
            (back, -stock),
            (depth - back, -stock),
            (depth - back, -flat),
            (depth, -flat),
            (depth, 0.0),
            (0.0, 0.0),
        ]
    )


def stop_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the hinge stop, the strike stop and the head stop; none without a stop."""
    stop = scene.stop
    if stop is None:
        return ()
    sides = (("hinge stop", PartKind.HINGE_STOP), ("strike stop", PartKind.STRIKE_STOP))
    uprights = [
        Part(name=name, kind=kind, solid=_stop_upright(name, scene, side, stop))
        for side, (name, kind) in enumerate(sides)
    ]
    head = Part(name="head stop", kind=PartKind.HEAD_STOP, solid=_head_stop(scene, stop))
    return (*uprights, head)


def _upright(name: str, scene: Scene, side: int, outline: Floats, *, rise: float) -> Solid:
    """Return a leg's stock: an outline (k, 2), along and out of the face, up the leg."""
    top = scene.opening.height[side] + rise
    foot = leg_plan(scene.opening, side, 0.0)
    bottom = min(floor_height(scene, *foot.at(*corner)) for corner in outline)
    plan_at = partial(leg_plan, scene.opening, side)
    measured = leg_heights(scene.opening, side)
    heights = loft_heights(plan_at, measured, bottom, top, scene.opening.depth)
    return loft(name, rings_up(plan_at, heights, outline))


def _stop_upright(name: str, scene: Scene, side: int, stop: Stop) -> Solid:
    """Return a leg's stop, its face at the rabbet as it was read at each height."""
    outline = rectangle((0.0, stop.width), (0.0, stop.projection))
    plan_at = partial(leg_plan, scene.opening, side)
    foot = plan_at(0.0)
    corners = [foot.at(foot.rabbet + along, out) for along, out in outline]
    bottom = min(floor_height(scene, x, y) for x, y in corners)
    top = scene.opening.height[side]
    measured = leg_heights(scene.opening, side)
    heights = loft_heights(plan_at, measured, bottom, top, scene.opening.depth)
    return loft(name, rings_up(plan_at, heights, outline, from_stop=True))


def _across(name: str, scene: Scene, outline: Floats) -> Solid:
    """Return a piece from leg to leg: an outline (k, 2), along the legs' faces and up."""
    ends = []
    for side in (0, 1):
        z = scene.opening.height[side]
        leg = leg_plan(scene.opening, side, z)
        ends.append([(*leg.at(y, 0.0), z + up) for y, up in outline])
    return loft(name, np.array(ends))


def _head_stop(scene: Scene, stop: Stop) -> Solid:
    rabbets = scene.opening.rabbet.head
    arc = head_arc(scene.opening)
    if arc is not None:

        def section(fraction: float) -> Floats:
            rabbet = station_value(rabbets, fraction)
            return rectangle((rabbet, rabbet + stop.width), (0.0, -stop.projection))

        return arched_band("head stop", scene, arc, section)
    fractions = [k / max(len(rabbets) - 1, 1) for k in range(max(len(rabbets), 2))]
    heights = scene.opening.height
    legs = [leg_plan(scene.opening, side, heights[side]) for side in (0, 1)]
    sections = []
    for fraction in fractions:
        rabbet = station_value(rabbets, fraction)
        z = heights[0] + (heights[1] - heights[0]) * fraction
        outline = rectangle((rabbet, rabbet + stop.width), (0.0, -stop.projection))
        near, far = (np.array([leg.at(y, 0.0) for y, _ in outline]) for leg in legs)
        plan = far if fraction == 1.0 else near + fraction * (far - near)
        sections.append(np.column_stack([plan, z + outline[:, 1]]))
    return loft("head stop", np.array(sections))


def leaf_mortises(scene: Scene) -> Iterator[Solid]:
    """Yield what the jamb's leaves are let into, opening frame."""
    hinge, opening = scene.hinge, scene.opening
    for k in range(hinge.count):
        depth = hinge.jamb.depths[k]
        if depth > 0:
            middle = opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
            run = hinge_leg_plan(opening, middle).rabbet - hinge.jamb.setbacks[k]
            yield mortise_tool(scene, "jamb mortise", jamb_leaf_frame(scene, k), depth, run)
