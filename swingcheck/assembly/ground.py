"""What the slab sweeps over: floor, carpet and threshold, opening frame."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, tan
from typing import Any

import numpy as np

from swingcheck.assembly.drafts import Draft, drafted, made
from swingcheck.assembly.legs import leg_plan
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.geometry.sizes import Sizes, largest, point, points, smallest
from swingcheck.geometry.solid import Floats, Solid, closed_solid
from swingcheck.geometry.solids import Skin, fan
from swingcheck.model import Scene, Threshold, station_value

#: How far the floor runs on past the opening's width, and how thick it is, inches.
FLOOR_RUN, FLOOR_THICKNESS = 24.0, 1.0

#: The widest sector of a floor with a profile, radians.
_SECTOR = pi / 24


def ground_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the floor, and the carpet and the threshold where there are any."""
    return made(ground_drafts(scene))


def ground_drafts(scene: Scene) -> tuple[Draft, ...]:
    """Return the floor, and the carpet and the threshold where there are any."""
    skins: dict[PartKind, Skin | Solid] = {PartKind.FLOOR: _floor(scene)}
    if scene.carpet is not None:
        run, edge = largest(scene.opening.width) + FLOOR_RUN, scene.carpet.edge
        far = np.minimum(edge + scene.carpet.reach, run)
        plan = [(-run, edge), (run, edge), (run, far), (-run, far)]
        skins[PartKind.CARPET] = _sheet("carpet", scene, plan, laid_height(scene, edge))
    if scene.threshold is not None:
        skins[PartKind.THRESHOLD] = _threshold(scene, scene.threshold)
    return drafted(skins)


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


def floor_height(scene: Scene, x: Sizes, y: Sizes) -> Any:
    """Return the floor's height under a plan point, (...), opening frame.

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
    sector = np.floor(np.arctan2(y, x) / _SECTOR)
    (ax, ay, rise), (bx, by, other) = (_fan_point(scene, sector + k, 1.0) for k in (0, 1))
    across = (x * by - y * bx) / (ax * by - ay * bx)
    along = (ax * y - ay * x) / (ax * by - ay * bx)
    return plane + across * rise + along * other


def lowest_floor(scene: Scene, plan: Floats) -> Floats:
    """Return the floor's height (n,) where it is lowest under some plan points (2, k, n)."""
    lowest: Floats = np.broadcast_to(floor_height(scene, *plan), plan.shape[1:]).min(axis=0)
    return lowest


def _floor(scene: Scene) -> Skin | Solid:
    """Return the floor that the slab sweeps over, on both sides of the opening."""
    reach = largest(scene.opening.width) + FLOOR_RUN
    if scene.floor.profile:
        return _floor_fan(scene, 1.5 * reach)
    near = -scene.opening.depth - FLOOR_RUN
    return _sheet("floor", scene, [(-reach, near), (reach, near), (reach, reach), (-reach, reach)])


def _sheet(name: str, scene: Scene, plan: Sequence[tuple[Sizes, Sizes]], over: Sizes = 0.0) -> Skin:
    """Return what lies on the floor's plane over an outline, its top so far over it."""
    top = points([(x, y, floor_height(scene, x, y) + over) for x, y in plan])
    under = np.array([0.0, 0.0, FLOOR_THICKNESS])
    return Skin(name, np.stack([(top.T - under[:, None]).T, top]), cap=fan(len(plan)))


def _threshold_section(saddle: Threshold) -> list[tuple[float, float]]:
    """Return the saddle's corners (y, height): up its pull side, over, and down."""
    run = saddle.height / tan(saddle.slope)
    near, far = saddle.edge, saddle.edge - saddle.width
    return [(near, 0.0), (near - run, saddle.height), (far + run, saddle.height), (far, 0.0)]


def _threshold(scene: Scene, saddle: Threshold) -> Skin:
    """Return the saddle from leg to leg, let into the floor by the floor's thickness."""
    section = _threshold_section(saddle)
    (first, _), *_, (last, _) = section
    ends = []
    for side in (0, 1):
        leg = leg_plan(scene.opening, side, 0.0)
        corners = [(*leg.at(-y, 0.0), up) for y, up in section]
        ring = [(x, y, floor_height(scene, x, y) + up) for x, y, up in corners]
        low = smallest([z for _, _, z in ring]) - FLOOR_THICKNESS
        ring += [(*leg.at(-y, 0.0), low) for y in (last, first)]
        ends.append(points(ring))
    return Skin("threshold", np.stack(ends))


def _floor_fan(scene: Scene, reach: float) -> Solid:
    """Return the floor as flat sectors about the hinge leg's foot."""
    count, floor = round(2 * pi / _SECTOR), scene.floor
    rim = _fan_point(scene, np.arange(count), reach).T
    rim[:, 2] += floor.covering + rim[:, :2] @ [floor.across, floor.out]
    top = np.concatenate([[[0.0, 0.0, floor.covering]], rim])
    here = np.arange(count) + 1
    beside = np.roll(here, -1)
    upper = np.stack([np.zeros_like(here), here, beside], axis=1)
    low = count + 1
    skirt = np.stack([here, here + low, beside + low, here, beside + low, beside], axis=1)
    faces = np.concatenate([upper, upper[:, ::-1] + low, skirt.reshape(-1, 3)])
    return closed_solid("floor", np.concatenate([top, top - [0, 0, FLOOR_THICKNESS]]), faces)


def _fan_point(scene: Scene, sector: Any, radius: float) -> Floats:
    """Return a sector's first corner (x, y, rise of the profile), (3, ...), at a radius."""
    angle = sector * _SECTOR
    profile = scene.floor.profile
    degrees = np.degrees(angle) % 360.0
    rise = np.where(
        degrees <= 180.0,
        station_value(profile, degrees / 90.0),
        station_value((profile[-1], profile[0]), (degrees - 180.0) / 90.0),
    )
    share = radius / scene.slab.width[-1]
    return point(radius * np.cos(angle), radius * np.sin(angle), rise * share)
