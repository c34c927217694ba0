"""The fixed parts: jamb, stops, casing, walls, floor and obstacles, opening frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, pi, sin

import numpy as np

from swingcheck.assembly.leaves import jamb_leaf_frame, mortise_tool
from swingcheck.assembly.legs import (
    LegPlan,
    LegPlanAt,
    hinge_leg_heights,
    hinge_leg_plan,
    strike_leg_heights,
    strike_leg_plan,
)
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.geometry.booleans import cut
from swingcheck.geometry.solid import Floats, Solid, closed_solid
from swingcheck.geometry.solids import box, loft
from swingcheck.model import Casing, Scene, Stop, station_value

#: How far a twisted face's facets may stray from the twist that was measured, inches.
SKIN = 1e-3

#: How far a wall runs on beside the jamb and above the head, inches.
WALL_RUN, WALL_RISE = 48.0, 12.0

#: How far the floor runs on past the opening's width, and how thick it is, inches.
FLOOR_RUN, FLOOR_THICKNESS = 24.0, 1.0

#: The widest sector of a floor with a profile, radians.
_SECTOR = pi / 24


def frame_parts(scene: Scene) -> tuple[Part, ...]:
    """Return every fixed part but the jamb's leaves."""
    return (
        *jamb_parts(scene),
        *stop_parts(scene),
        *casing_parts(scene),
        *wall_parts(scene),
        floor_part(scene),
        *obstacle_parts(scene),
    )


def jamb_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the hinge leg with its mortises, the strike leg and the head."""
    opening = scene.opening
    stock = _rectangle((0.0, opening.depth), (-opening.thickness, 0.0))
    legs = [
        _upright(name, scene, side, stock, rise=opening.thickness)
        for side, name in enumerate(("hinge leg", "strike leg"))
    ]
    tops = opening.thickness
    head = _across("head", scene, (0.0, opening.depth), (0.0, tops))
    return (
        Part(
            name="hinge leg",
            kind=PartKind.HINGE_LEG,
            solid=cut("hinge leg", legs[0], list(_leaf_mortises(scene))),
        ),
        Part(name="strike leg", kind=PartKind.STRIKE_LEG, solid=legs[1]),
        Part(name="head", kind=PartKind.HEAD, solid=head),
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
    top = max(opening.height) + opening.thickness + WALL_RISE
    hinge, strike = (
        [_plan(scene, side, z).edge[0] for z in _leg_heights(scene, side)] for side in (0, 1)
    )
    back, strike_back = max(hinge) - opening.thickness, min(strike) + opening.thickness
    spans = {
        "wall": (back - WALL_RUN, back),
        "strike wall": (strike_back, strike_back + WALL_RUN),
    }
    parts = []
    for name, (low, high) in spans.items():
        corners = [(x, y) for x in (low, high) for y in (-opening.depth, 0.0)]
        bottom = min(floor_height(scene, x, y) for x, y in corners)
        solid = box(name, (low, -opening.depth, bottom), (high, 0.0, top))
        parts.append(Part(name=name, kind=PartKind.WALL, solid=solid))
    return tuple(parts)


def floor_part(scene: Scene) -> Part:
    """Return the floor that the slab sweeps over, on both sides of the opening."""
    reach = max(scene.opening.width) + FLOOR_RUN
    if scene.floor.profile:
        solid = _floor_fan(scene, 1.5 * reach)
    else:
        near = -scene.opening.depth - FLOOR_RUN
        plan = [(-reach, near), (reach, near), (reach, reach), (-reach, reach)]
        top = np.array([(x, y, floor_height(scene, x, y)) for x, y in plan])
        solid = loft("floor", np.array([top - [0.0, 0.0, FLOOR_THICKNESS], top]))
    return Part(name="floor", kind=PartKind.FLOOR, solid=solid)


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


def floor_height(scene: Scene, x: float, y: float) -> float:
    """Return the floor's height under a plan point, opening frame.

    The covering and the slopes make a plane through the hinge leg's foot (the
    origin, where the finished floor is 0). A profile adds its rise: in
    proportion to the distance from the foot, as much as was read where that
    distance is the slab's width; by equal steps of the swing angle between
    readings. Past the last reading the rise is held to 180 degrees, and the
    first one is held on the push side.
    """
    floor = scene.floor
    plane = floor.covering + floor.across * x + floor.out * y
    if not floor.profile:
        return plane
    sector = int(np.floor(np.arctan2(y, x) / _SECTOR))
    ends = np.array([_fan_point(scene, sector + k, 1.0) for k in (0, 1)])
    weights = np.linalg.solve(ends[:, :2].T, [x, y])
    return float(plane + weights @ ends[:, 2])


def _leg_heights(scene: Scene, side: int) -> tuple[float, ...]:
    return (hinge_leg_heights, strike_leg_heights)[side](scene.opening)


def _plan(scene: Scene, side: int, z: float) -> LegPlan:
    """Return the hinge (0) or strike (1) leg in plan."""
    return (hinge_leg_plan, strike_leg_plan)[side](scene.opening, z)


def _plan_at(scene: Scene, side: int) -> LegPlanAt:
    return lambda z: _plan(scene, side, z)


def _rectangle(along: tuple[float, float], out: tuple[float, float]) -> Floats:
    return np.array([(along[i], out[j]) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))])


def _upright(name: str, scene: Scene, side: int, outline: Floats, *, rise: float) -> Solid:
    """Return a leg's stock: an outline (k, 2), along and out of the face, up the leg."""
    top = scene.opening.height[side] + rise
    foot = _plan(scene, side, 0.0)
    bottom = min(floor_height(scene, *foot.at(*corner)) for corner in outline)
    plan_at = _plan_at(scene, side)
    levels = _levels(plan_at, _leg_heights(scene, side), bottom, top, scene.opening.depth)
    return loft(name, _needed(_rings(plan_at, levels, outline)))


def _stop_upright(name: str, scene: Scene, side: int, stop: Stop) -> Solid:
    """Return a leg's stop, its face at the rabbet as it was read at each height."""
    outline = _rectangle((0.0, stop.width), (0.0, stop.projection))
    plan_at = _plan_at(scene, side)
    foot = plan_at(0.0)
    corners = [foot.at(foot.rabbet + along, out) for along, out in outline]
    bottom = min(floor_height(scene, x, y) for x, y in corners)
    top = scene.opening.height[side]
    levels = _levels(plan_at, _leg_heights(scene, side), bottom, top, scene.opening.depth)
    return loft(name, _needed(_rings(plan_at, levels, outline, from_stop=True)))


def _levels(
    plan_at: LegPlanAt, heights: Sequence[float], low: float, high: float, depth: float
) -> list[float]:
    """Return the heights to loft through: those measured, and more where the twist changes.

    Two triangles stand off a twisted face by a quarter of what its far edge
    turns between two heights; heights are added until that is within ``SKIN``.
    """
    marks = [low, *(z for z in heights if low < z < high), high]
    levels = [low]
    for here, above in pairwise(marks):
        turn = float(np.linalg.norm(plan_at(above).along - plan_at(here).along))
        steps = max(1, ceil(depth * turn / 4 / SKIN - 1e-9))
        levels += [here + (above - here) * k / steps for k in range(1, steps)]
        levels.append(above)
    return levels


def _rings(
    plan_at: LegPlanAt, levels: Sequence[float], outline: Floats, *, from_stop: bool = False
) -> Floats:
    """Return the outline at every level, (s, k, 3); ``from_stop``: along from the stop's face."""
    rings = np.empty((len(levels), len(outline), 3))
    for ring, z in zip(rings, levels, strict=True):
        leg = plan_at(z)
        start = leg.rabbet if from_stop else 0.0
        ring[:, :2] = [leg.at(start + along, out) for along, out in outline]
        ring[:, 2] = z
    return rings


def _needed(rings: Floats) -> Floats:
    """Return the rings without those that lie on the straight skin between their neighbours."""
    kept = [0]
    for k in range(1, len(rings) - 1):
        low, high = rings[kept[-1]], rings[k + 1]
        share = (rings[k, 0, 2] - low[0, 2]) / (high[0, 2] - low[0, 2])
        if np.abs(rings[k] - (low + share * (high - low))).max() > 1e-12 * np.abs(high).max():
            kept.append(k)
    return rings[[*kept, len(rings) - 1]]


def _across(
    name: str, scene: Scene, along: tuple[float, float], rise: tuple[float, float]
) -> Solid:
    """Return a level piece from leg to leg: along the legs' faces, and above the head."""
    ends = []
    for side in (0, 1):
        z = scene.opening.height[side]
        leg = _plan(scene, side, z)
        ends.append([(*leg.at(y, 0.0), z + up) for y, up in _rectangle(along, rise)])
    return loft(name, np.array(ends))


def _head_stop(scene: Scene, stop: Stop) -> Solid:
    rabbets = scene.opening.rabbet.head
    fractions = [k / max(len(rabbets) - 1, 1) for k in range(max(len(rabbets), 2))]
    heights = scene.opening.height
    legs = [_plan(scene, side, heights[side]) for side in (0, 1)]
    rings = []
    for fraction in fractions:
        rabbet = station_value(rabbets, fraction)
        z = heights[0] + (heights[1] - heights[0]) * fraction
        outline = _rectangle((rabbet, rabbet + stop.width), (0.0, -stop.projection))
        near, far = (np.array([leg.at(y, 0.0) for y, _ in outline]) for leg in legs)
        plan = far if fraction == 1.0 else near + fraction * (far - near)
        rings.append(np.column_stack([plan, z + outline[:, 1]]))
    return loft("head stop", np.array(rings))


def _casing_upright(name: str, scene: Scene, side: int, casing: Casing) -> Solid:
    """Return a leg's casing from the floor to the top of the head's."""
    back = (-1.0, 1.0)[side]
    reveal, outer = back * casing.reveal, back * (casing.reveal + casing.width)
    outline = np.array(
        [(reveal, 0), (outer, 0), (outer, casing.thickness), (reveal, casing.thickness)]
    )
    plan_at = _plan_at(scene, side)
    top = scene.opening.height[side] + casing.reveal + casing.width
    bottom = min(floor_height(scene, *(plan_at(0.0).edge + corner)) for corner in outline)
    levels = [bottom, *(z for z in _leg_heights(scene, side) if bottom < z < top), top]
    rings = [np.column_stack([plan_at(z).edge + outline, np.full(4, z)]) for z in levels]
    return loft(name, _needed(np.array(rings)))


def _head_casing(scene: Scene, casing: Casing) -> Solid:
    overhang = casing.reveal + casing.width
    rings = []
    for side, out in enumerate((-overhang, overhang)):
        z = scene.opening.height[side]
        edge = _plan(scene, side, z).edge
        section = _rectangle((0.0, casing.thickness), (casing.reveal, overhang))
        rings.append([(edge[0] + out, edge[1] + y, z + up) for y, up in section])
    return loft("head casing", np.array(rings))


def _leaf_mortises(scene: Scene) -> Iterator[Solid]:
    hinge, opening = scene.hinge, scene.opening
    for k in range(hinge.count):
        depth = hinge.jamb.depths[k]
        if depth > 0:
            middle = opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
            run = hinge_leg_plan(opening, middle).rabbet - hinge.jamb.setbacks[k]
            yield mortise_tool(scene, "jamb mortise", jamb_leaf_frame(scene, k), depth, run)


def _floor_fan(scene: Scene, reach: float) -> Solid:
    """Return the floor as flat sectors about the hinge leg's foot."""
    count = round(2 * pi / _SECTOR)
    rim = np.array([_fan_point(scene, k, reach) for k in range(count)])
    rim[:, 2] += [
        scene.floor.covering + scene.floor.across * x + scene.floor.out * y for x, y, _ in rim
    ]
    top = np.concatenate([[[0.0, 0.0, scene.floor.covering]], rim])
    here = np.arange(count) + 1
    beside = np.roll(here, -1)
    hub = np.zeros(count, dtype=np.int64)
    upper = np.stack([hub, here, beside], axis=1)
    low = count + 1
    skirt = np.concatenate(
        [
            np.stack([here, here + low, beside + low], axis=1),
            np.stack([here, beside + low, beside], axis=1),
        ]
    )
    faces = np.concatenate([upper, upper[:, ::-1] + low, skirt])
    return closed_solid("floor", np.concatenate([top, top - [0, 0, FLOOR_THICKNESS]]), faces)


def _fan_point(scene: Scene, sector: int, radius: float) -> Floats:
    """Return the corner (x, y, rise of the profile) where a sector begins, at a radius."""
    angle = sector * _SECTOR
    profile = scene.floor.profile
    degrees = np.degrees(angle) % 360.0
    if degrees <= 180.0:
        rise = station_value(profile, degrees / 90.0)
    else:
        rise = station_value((profile[-1], profile[0]), (degrees - 180.0) / 90.0)
    return np.array(
        [radius * cos(angle), radius * sin(angle), rise * radius / scene.slab.width[-1]]
    )
