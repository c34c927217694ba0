"""What the slab sweeps over: floor, carpet and threshold, opening frame."""

from __future__ import annotations

from math import cos, pi, sin, tan

import numpy as np

from swingcheck.assembly.legs import hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.geometry.solid import Floats, Solid, closed_solid
from swingcheck.geometry.solids import loft
from swingcheck.model import Scene, Threshold, station_value

#: How far the floor runs on past the opening's width, and how thick it is, inches.
FLOOR_RUN, FLOOR_THICKNESS = 24.0, 1.0

#: The widest sector of a floor with a profile, radians.
_SECTOR = pi / 24


def ground_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the floor, and the carpet and the threshold where there are any."""
    parts = [floor_part(scene)]
    if scene.carpet is not None:
        carpet = _carpet_solid(scene, scene.carpet.edge, scene.carpet.reach)
        parts.append(Part(name="carpet", kind=PartKind.CARPET, solid=carpet))
    if scene.threshold is not None:
        saddle = _threshold_solid(scene, scene.threshold)
        parts.append(Part(name="threshold", kind=PartKind.THRESHOLD, solid=saddle))
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


def ground_height(scene: Scene, x: float, y: float) -> float:
    """Return how high what the slab sweeps over stands under a plan point, opening frame."""
    return floor_height(scene, x, y) + laid_height(scene, y)


def laid_height(scene: Scene, y: float) -> float:
    """Return how far the carpet or the threshold stands over the floor at ``y``."""
    laid = 0.0
    carpet, saddle = scene.carpet, scene.threshold
    if carpet is not None and carpet.edge <= y <= carpet.edge + carpet.reach:
        laid = carpet.thickness
    if saddle is not None:
        inside = min(saddle.edge - y, y - saddle.edge + saddle.width)
        laid = max(laid, min(saddle.height, inside * tan(saddle.slope)))
    return laid


def gap_under(scene: Scene, x: float, y: float, z: float) -> float:
    """Return the gap under a bottom corner of the closed slab's wide face, opening frame.

    The least through the slab's thickness, where something is laid there.
    """
    if scene.threshold is None and scene.carpet is None:
        return z - floor_height(scene, x, y)
    back = y - scene.slab.thickness
    over = [y, back, *(each for each in laid_breaks(scene) if back < each < y)]
    return min(z - ground_height(scene, x, each) for each in over)


def laid_breaks(scene: Scene) -> tuple[float, ...]:
    """Return the ``y`` at which what is laid on the floor begins, ends or levels out."""
    breaks: list[float] = []
    if scene.carpet is not None:
        breaks += [scene.carpet.edge, scene.carpet.edge + scene.carpet.reach]
    if scene.threshold is not None:
        breaks += [y for y, _ in _threshold_section(scene.threshold)]
    return tuple(breaks)


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


def _carpet_solid(scene: Scene, edge: float, reach: float) -> Solid:
    run = max(scene.opening.width) + FLOOR_RUN
    far = min(edge + reach, run)
    plan = [(-run, edge), (run, edge), (run, far), (-run, far)]
    top = np.array([(x, y, floor_height(scene, x, y) + laid_height(scene, edge)) for x, y in plan])
    return loft("carpet", np.array([top - [0.0, 0.0, FLOOR_THICKNESS], top]))


def _threshold_section(saddle: Threshold) -> list[tuple[float, float]]:
    """Return the saddle's corners (y, height): up its pull side, over, and down."""
    run = saddle.height / tan(saddle.slope)
    far = saddle.edge - saddle.width
    return [
        (saddle.edge, 0.0),
        (saddle.edge - run, saddle.height),
        (far + run, saddle.height),
        (far, 0.0),
    ]


def _threshold_solid(scene: Scene, saddle: Threshold) -> Solid:
    """Return the saddle from leg to leg, let into the floor by the floor's thickness."""
    section = _threshold_section(saddle)
    (first, _), *_, (last, _) = section
    ends = []
    for plan_at in (hinge_leg_plan, strike_leg_plan):
        leg = plan_at(scene.opening, 0.0)
        corners = [(*leg.at(-y, 0.0), up) for y, up in section]
        ring = [(x, y, floor_height(scene, x, y) + up) for x, y, up in corners]
        low = min(z for _, _, z in ring) - FLOOR_THICKNESS
        ring += [(*leg.at(-y, 0.0), low) for y in (last, first)]
        ends.append(ring)
    return loft("threshold", np.array(ends))


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
