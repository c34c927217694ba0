"""What the slab sweeps over: floor, carpet and threshold, opening frame."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from math import cos, pi, sin, tan

import numpy as np

from swingcheck.assembly.legs import leg_heights, leg_plan, loft_heights, rings_up
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
    solids = {PartKind.FLOOR: _floor_solid(scene)}
    if scene.carpet is not None:
        run, edge = max(scene.opening.width) + FLOOR_RUN, scene.carpet.edge
        far = min(edge + scene.carpet.reach, run)
        plan = [(-run, edge), (run, edge), (run, far), (-run, far)]
        solids[PartKind.CARPET] = _sheet("carpet", scene, plan, laid_height(scene, edge))
    if scene.threshold is not None:
        solids[PartKind.THRESHOLD] = _threshold_solid(scene, scene.threshold)
    return tuple(Part(name=kind.value, kind=kind, solid=solid) for kind, solid in solids.items())


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
    breaks: list[float] = []
    if scene.carpet is not None:
        breaks += [scene.carpet.edge, scene.carpet.edge + scene.carpet.reach]
    if scene.threshold is not None:
        breaks += [across for across, _ in _threshold_section(scene.threshold)]
    if not breaks:
        return z - floor_height(scene, x, y)
    back = y - scene.slab.thickness
    over = [y, back, *(each for each in breaks if back < each < y)]
    return min(z - ground_height(scene, x, each) for each in over)


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


def lowest_floor(scene: Scene, plan: Iterable[Sequence[float] | Floats]) -> float:
    """Return the floor's height where it is lowest under some plan points."""
    return min(floor_height(scene, x, y) for x, y in plan)


def standing(
    name: str,
    scene: Scene,
    side: int,
    outline: Floats,
    top: float,
    *,
    from_stop: bool = False,
    twists: bool = True,
) -> Solid:
    """Return an outline carried up a leg from the floor.

    Parameters
    ----------
    name : str
        What to call it when it cannot be built.
    scene : Scene
        The opening.
    side : int
        The hinge leg (0) or the strike leg (1).
    outline : (k, 2) float64
        Along the leg's face from its pull-side edge (``from_stop``: from the
        stop's face) and out of it.
    top : float
        How high it goes, inches.
    twists : bool
        It turns with the leg's face; casing, flat on the wall, does not.
    """
    opening = scene.opening
    plan_at = partial(leg_plan, opening, side, twists=twists)
    foot = plan_at(0.0)
    start = foot.rabbet if from_stop else 0.0
    bottom = lowest_floor(scene, foot.at(start + outline[:, 0], outline[:, 1]))
    heights = loft_heights(plan_at, leg_heights(opening, side), bottom, top, opening.depth)
    return loft(name, rings_up(plan_at, heights, outline, from_stop=from_stop))


def _floor_solid(scene: Scene) -> Solid:
    """Return the floor that the slab sweeps over, on both sides of the opening."""
    reach = max(scene.opening.width) + FLOOR_RUN
    if scene.floor.profile:
        return _floor_fan(scene, 1.5 * reach)
    near = -scene.opening.depth - FLOOR_RUN
    return _sheet("floor", scene, [(-reach, near), (reach, near), (reach, reach), (-reach, reach)])


def _sheet(
    name: str, scene: Scene, plan: Sequence[tuple[float, float]], over: float = 0.0
) -> Solid:
    """Return what lies on the floor's plane over an outline, its top so far over it."""
    top = np.array([(x, y, floor_height(scene, x, y) + over) for x, y in plan])
    return loft(name, np.array([top - [0.0, 0.0, FLOOR_THICKNESS], top]))


def _threshold_section(saddle: Threshold) -> list[tuple[float, float]]:
    """Return the saddle's corners (y, height): up its pull side, over, and down."""
    run = saddle.height / tan(saddle.slope)
    near, far = saddle.edge, saddle.edge - saddle.width
    return [(near, 0.0), (near - run, saddle.height), (far + run, saddle.height), (far, 0.0)]


def _threshold_solid(scene: Scene, saddle: Threshold) -> Solid:
    """Return the saddle from leg to leg, let into the floor by the floor's thickness."""
    section = _threshold_section(saddle)
    (first, _), *_, (last, _) = section
    ends = []
    for side in (0, 1):
        leg = leg_plan(scene.opening, side, 0.0)
        corners = [(*leg.at(-y, 0.0), up) for y, up in section]
        ring = [(x, y, floor_height(scene, x, y) + up) for x, y, up in corners]
        low = min(z for _, _, z in ring) - FLOOR_THICKNESS
        ring += [(*leg.at(-y, 0.0), low) for y in (last, first)]
        ends.append(ring)
    return loft("threshold", np.array(ends))


def _floor_fan(scene: Scene, reach: float) -> Solid:
    """Return the floor as flat sectors about the hinge leg's foot."""
    count, floor = round(2 * pi / _SECTOR), scene.floor
    rim = np.array([_fan_point(scene, k, reach) for k in range(count)])
    rim[:, 2] += floor.covering + rim[:, :2] @ [floor.across, floor.out]
    top = np.concatenate([[[0.0, 0.0, floor.covering]], rim])
    here = np.arange(count) + 1
    beside = np.roll(here, -1)
    upper = np.stack([np.zeros_like(here), here, beside], axis=1)
    low = count + 1
    skirt = np.stack([here, here + low, beside + low, here, beside + low, beside], axis=1)
    faces = np.concatenate([upper, upper[:, ::-1] + low, skirt.reshape(-1, 3)])
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
    share = radius / scene.slab.width[-1]
    return np.array([radius * cos(angle), radius * sin(angle), rise * share])
