"""Random solids and turning scenes, each from a seed: the same seed gives the same scene.

Lengths are inches. Every scene is apart at its start. The families differ in what they try:

========== ==================================================================================
boxes      boxes and prisms that lean every way, about a leaning axis
lofts      tapered, twisted and bowed lofts, so that no face is square to another
door       a slab with bevels and taper between legs out of plumb, cross-legged and twisted
plumb      the same with everything upright: arrises parallel to each other and to the axis
convex     hulls of random points, which have corners, edges and faces at every angle
concave    notched, pierced and star-shaped solids
glancing   an arris that passes a face's plane by little: contacts thinner than a coarse step
resting    a slab that starts flat against one part, moves off it and meets another
specks     parts smaller than a coarse step, that can be jumped over or swallowed whole
========== ==================================================================================
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial
from math import cos, pi, radians, sin, tan

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from swingcheck.geometry.solid import Solid
from tests.peers import Peer, TurningScene
from tests.shapes import (
    box,
    hull,
    loft,
    placed,
    prism,
    random_box,
    random_concave,
    random_hull,
    random_loft,
    random_prism,
    rectangle,
)

Floats = NDArray[np.float64]
Rng = np.random.Generator


def _ring_scene(
    label: str,
    rng: Rng,
    moving: Callable[[Rng], Solid],
    fixed: Callable[[Rng], Solid],
    lean: float = 0.5,
) -> TurningScene:
    """Return parts strewn about an axis; what overlaps at the start is left out."""
    direction = Rotation.from_rotvec(rng.normal(size=3) * lean / 2).apply([0, 0, 1.0])
    point = rng.uniform(-3, 3, 3)
    frame = Rotation.align_vectors([direction], [[0, 0, 1.0]])[0]

    def somewhere(make: Callable[[Rng], Solid], around: float) -> Solid:
        angle, reach = around, rng.uniform(0.0, 7.0)
        place = [reach * cos(angle), reach * sin(angle), rng.uniform(-2, 2)]
        return placed(make(rng), frame, point + frame.apply(place))

    movers = tuple(
        somewhere(moving, rng.uniform(-0.4, 0.4)) for _ in range(int(rng.integers(1, 4)))
    )
    rest = tuple(
        somewhere(fixed, rng.uniform(0.3, 2 * pi - 0.3)) for _ in range(int(rng.integers(2, 6)))
    )
    start = rng.uniform(-0.2, 0.2)
    stop = start + rng.choice([-1.0, 1.0]) * rng.uniform(0.8, 3.0)
    scene = TurningScene(
        label=label,
        moving=movers,
        fixed=rest,
        point=point,
        direction=direction * rng.uniform(0.5, 2.0),
        start=start,
        stop=stop,
    )
    return apart_at_start(scene)


def apart_at_start(scene: TurningScene) -> TurningScene:
    """Leave out the fixed parts that overlap a moving one at the start."""
    overlapped = Peer(scene).touching_fixed(scene.start)
    apart = [part for j, part in enumerate(scene.fixed) if j not in overlapped]
    return replace(scene, fixed=tuple(apart))


def _either(rng: Rng) -> Solid:
    return random_box(rng) if rng.random() < 0.6 else random_prism(rng)


RINGS = {"boxes": _either, "lofts": random_loft, "convex": random_hull, "concave": random_concave}
"""What is strewn about the axis of each family, turning and fixed alike."""


def ring_scene(family: str, seed: int) -> TurningScene:
    """Return parts of one sort about an axis."""
    make = RINGS[family]
    rng = np.random.default_rng([1 + list(RINGS).index(family), seed])
    return _ring_scene(f"{family} {seed}", rng, make, make)


def specks_scene(seed: int) -> TurningScene:
    """Return parts so small that a coarse step jumps over them, or swallows them whole."""
    rng = np.random.default_rng([5, seed])

    def speck(r: Rng) -> Solid:
        solid = random_hull(r)
        return Solid(solid.vertices * 0.01, solid.faces)

    makers = (random_box, speck) if rng.random() < 0.5 else (speck, random_box)
    return _ring_scene(f"specks {seed}", rng, *makers, lean=0.2)


def door_scene(seed: int) -> TurningScene:
    """Return a slab closing or opening between crooked legs, about a leaning axis."""
    rng = np.random.default_rng([6, seed])
    return _door(f"door {seed}", rng, crooked=1.0, lean=float(rng.uniform(0, 0.01)))


def plumb_scene(seed: int) -> TurningScene:
    """Return a slab between plumb legs about a plumb axis: every upright edge is parallel."""
    rng = np.random.default_rng([7, seed])
    return _door(f"plumb {seed}", rng, crooked=0.0, lean=0.0)


def nearly_plumb_scene(seed: int) -> TurningScene:
    """Return a door whose axis leans by next to nothing: edges parallel but for rounding."""
    rng = np.random.default_rng([8, seed])
    lean = 10.0 ** rng.uniform(-16, -5)
    return _door(f"nearly plumb {seed}", rng, crooked=0.0, lean=lean)


def _door(label: str, rng: Rng, crooked: float, lean: float) -> TurningScene:
    """Return slab, legs, stops, head and floor in the opening's frame.

    The axis stands at the origin of the plan, the slab's wide face ``proud`` behind it. The
    hinge leg's face is at ``x = -margin``; y grows toward the pull side.
    """
    tall, thick = rng.uniform(30, 80), rng.uniform(1.25, 1.875)
    proud, width = rng.uniform(0.2, 0.5), rng.uniform(12, 36)
    margin = rng.uniform(0.03, 0.1)
    slab = _slab(rng, tall, thick, width, proud)
    rabbet = thick + rng.uniform(-0.03, 0.08)
    rest = [
        *_leg(rng, tall, -margin, 1.0, proud, rabbet, crooked),
        *_leg(rng, tall, width + rng.uniform(-0.02, 0.15), -1.0, proud, rabbet, crooked),
        _floor(rng, width, crooked),
        box((-2, -proud - 4.5, tall + rng.uniform(0.01, 0.2)), (width + 2, -proud, tall + 2)),
    ]
    direction = Rotation.from_rotvec([*(rng.normal(size=2) * lean), 0.0]).apply([0, 0, 1.0])
    closing = rng.random() < 0.75
    start = rng.uniform(1.0, 1.6) if closing else rng.uniform(0.4, 0.8)
    scene = TurningScene(
        label=label,
        moving=(slab,),
        fixed=tuple(rest),
        point=np.array([0.0, 0.0, tall / 2]),
        direction=direction,
        start=start,
        stop=0.0 if closing else 3.1,
    )
    return apart_at_start(scene)


def _slab(rng: Rng, tall: float, thick: float, width: float, proud: float) -> Solid:
    """Return a slab with bevelled edges, its strike edge tapered, its bottom just off the floor."""
    hinge_lean, strike_lean = (tan(radians(b)) * thick for b in rng.choice([0, 0, 2, 3.5, 5], 2))
    taper = rng.choice([0.0, 1.0]) * rng.uniform(-0.2, 0.2)
    gap = rng.uniform(-0.02, 0.02)
    outlines = [
        np.array(
            [
                [gap + hinge_lean, -proud - thick],
                [gap + wide - strike_lean, -proud - thick],
                [gap + wide, -proud],
                [gap, -proud],
            ]
        )
        for wide in (width + taper, width)
    ]
    return loft(outlines, [rng.uniform(0.05, 0.5), tall])


def _leg(
    rng: Rng, tall: float, face: float, into: float, proud: float, rabbet: float, crooked: float
) -> list[Solid]:
    """Return one jamb leg and its stop; ``into`` is +1 for the hinge leg, -1 for the strike leg."""
    stations = int(rng.integers(2, 4))
    heights = np.linspace(0.0, tall + 1, stations)
    jamb, stop = [], []
    for _ in heights:
        plumb, cross = rng.uniform(-0.05, 0.05, 2) * crooked
        twist = rng.uniform(-0.03, 0.03) * crooked * into
        turn = np.array([[cos(twist), -sin(twist)], [sin(twist), cos(twist)]])
        edge = np.array([face + plumb * into, -proud + cross])
        order = 1 if into < 0 else -1
        jamb.append((rectangle(-1, -4.5, 0, 0) * [into, 1])[::-order] @ turn.T + edge)
        nose = rectangle(-0.5, -rabbet - 1.25, 0.4375, -rabbet) * [into, 1]
        stop.append(nose[::-order] @ turn.T + edge)
    return [loft(_wound(jamb), list(heights)), loft(_wound(stop), list(heights))]


def _wound(outlines: list[Floats]) -> list[Floats]:
    """Return outlines counter-clockwise, each still starting at the same corner."""

    def area(o: Floats) -> float:
        x, y = o[:, 0], o[:, 1]
        return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())

    return [o if area(o) > 0 else np.roll(o[::-1], 1, axis=0) for o in outlines]


def _floor(rng: Rng, width: float, crooked: float) -> Solid:
    """Return a floor that slopes a little, as a thick hull."""
    reach = width + 4
    across, out = rng.uniform(-0.006, 0.006, 2) * crooked
    top = [[x, y, across * x + out * y - 0.05] for x in (-reach, reach) for y in (-reach, reach)]
    bottom = [[x, y, -2.0] for x in (-reach, reach) for y in (-reach, reach)]
    return hull(np.array(top + bottom))


def glancing_scene(seed: int) -> TurningScene:
    """Return a slab whose strike arris passes the plane of a far face by a few thousandths at most.

    The arris at radius ``r`` is past a plane at ``r - depth`` for the turn
    ``2 acos(1 - depth / r)``: at 30 in and 1e-5 in, 0.09 degrees.
    """
    rng = np.random.default_rng([9, seed])
    width, thick = rng.uniform(10, 36), rng.uniform(1, 2)
    depth = 10.0 ** rng.uniform(-5.3, -3)
    away = rng.uniform(0.5, 2.5)
    lean = rng.choice([0.0, 1.0]) * rng.uniform(0, 0.05)
    slab = prism(rectangle(0.1, -thick, width, 0), 0, 20)
    far = float(np.hypot(width, thick))
    wall = box((far - depth, -3, -1), (far + 1, 3, 21))
    corner = atan2_of(width, -thick)
    turn = Rotation.from_rotvec([0, 0, corner + away])
    scene = TurningScene(
        label=f"glancing {seed}",
        moving=(slab,),
        fixed=(placed(wall, turn, np.zeros(3)),),
        point=np.zeros(3),
        direction=np.array([0, 0, 1.0]),
        start=0.0,
        stop=away + 0.4,
    )
    tip = Rotation.from_rotvec(rng.normal(size=3) * lean)
    return moved(scene, tip, rng.uniform(-5, 5, 3))


def atan2_of(x: float, y: float) -> float:
    """Return the polar angle of a plan point."""
    return float(np.arctan2(y, x))


def resting_scene(seed: int) -> TurningScene:
    """Return a slab that starts flat against a stop, leaves it, and meets an upright later."""
    rng = np.random.default_rng([10, seed])
    width, thick = rng.uniform(10, 30), rng.uniform(1, 2)
    slab = prism(rectangle(0.25, -thick, width, 0), 0, 20)
    stop = box((width - 1, -thick - 1, -1), (width + 1, -thick, 21))
    upright = placed(
        random_prism(rng), Rotation.identity(), np.array([0.0, rng.uniform(6, 9), 10.0])
    )
    scene = TurningScene(
        label=f"resting {seed}",
        moving=(slab,),
        fixed=(stop, upright),
        point=np.zeros(3),
        direction=np.array([0, 0, 1.0]),
        start=0.0,
        stop=2.9,
    )
    return scene


def moved(scene: TurningScene, turn: Rotation, shift: Floats) -> TurningScene:
    """Return the whole scene, axis and all, turned and shifted."""
    return replace(
        scene,
        moving=tuple(placed(s, turn, shift) for s in scene.moving),
        fixed=tuple(placed(s, turn, shift) for s in scene.fixed),
        point=turn.apply(scene.point) + shift,
        direction=turn.apply(scene.direction),
    )


FAMILIES: dict[str, Callable[[int], TurningScene]] = {
    **{family: partial(ring_scene, family) for family in RINGS},
    "specks": specks_scene,
    "door": door_scene,
    "plumb": plumb_scene,
    "nearly plumb": nearly_plumb_scene,
    "glancing": glancing_scene,
    "resting": resting_scene,
}


@cache
def scene(family: str, seed: int) -> TurningScene:
    """Return a seeded scene; built once a test run."""
    return FAMILIES[family](seed)
