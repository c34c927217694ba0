"""Two bodies that both turn: least distance and first overlap against closed forms and a grid.

The grid asks the collision library python-fcl, which shares no code with swingcheck, for the
distance of the posed meshes, and moves no body by a way of its own.
"""

from __future__ import annotations

from math import acos, atan2, hypot, pi

import fcl
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from swingcheck.geometry.solid import Solid
from swingcheck.geometry.two_turns import Body, first_overlap, least_apart, overlap
from tests.peers import mesh_model, winding_numbers
from tests.shapes import box, random_box, random_hull

UP = np.array([0.0, 0.0, 1.0])
QUARTER = (0.0, pi / 2)


def slab_pair(width: float, thickness: float, proud: float, gap: float) -> tuple[Body, Body]:
    """Return two slabs alike, pins ``proud`` of their wide faces at their outer ends."""
    between = 2 * width + gap
    left = Body(
        pieces=(box((0.0, -thickness, 0.0), (width, 0.0, 80.0)),),
        point=np.array([0.0, proud, 0.0]),
        direction=UP,
    )
    right = Body(
        pieces=(box((between - width, -thickness, 0.0), (between, 0.0, 80.0)),),
        point=np.array([between, proud, 0.0]),
        direction=-UP,
    )
    return left, right


def placed(body: Body, piece: Solid, angle: float) -> np.ndarray:
    turn = Rotation.from_rotvec(angle * body.direction)
    lifted = body.point + body.rise * angle * body.direction
    return turn.apply(piece.vertices - body.point) + lifted


def distance(first: Body, second: Body, angles: tuple[float, float]) -> float:
    """Return the least distance of the posed meshes, 0 where they overlap."""
    found = []
    for one in first.pieces:
        for other in second.pieces:
            here = Solid(placed(first, one, angles[0]), one.faces)
            there = Solid(placed(second, other, angles[1]), other.faces)
            inside = max(
                winding_numbers(here.vertices[:1], there)[0],
                winding_numbers(there.vertices[:1], here)[0],
            )
            found.append(0.0 if inside > 0.5 else max(_gap(here, there), 0.0))
    return min(found)


def _gap(first: Solid, second: Solid) -> float:
    objects = [fcl.CollisionObject(mesh_model(s), fcl.Transform()) for s in (first, second)]
    return float(fcl.distance(*objects, fcl.DistanceRequest(), fcl.DistanceResult()))


@pytest.mark.parametrize("gap", [0.15, 0.2, 0.5])
def test_a_pair_swung_together_comes_nearest_where_both_arrises_reach_farthest(gap: float) -> None:
    """Each narrow-face arris sweeps ``hypot(L, T + a)`` about its pin, and the pins stand still.

    So the least distance is what is between the pins less twice that, at the angle at which the
    arris points straight across: ``atan((T + a) / L)`` of both.
    """
    width, thickness, proud = 30.0, 1.375, 0.625
    first, second = slab_pair(width, thickness, proud, gap)
    deep = thickness + proud
    found = least_apart(first, second, QUARTER, QUARTER, accuracy=1e-6)
    assert found.distance == pytest.approx(2 * width + gap - 2 * hypot(width, deep), abs=2e-6)
    assert found.certain <= found.distance <= found.certain + 1e-6
    assert found.angles == pytest.approx((atan2(deep, width),) * 2, abs=2e-3)


def test_a_pair_too_close_meets_from_where_the_arris_first_crosses_the_other() -> None:
    """At any depth behind the pins an arris reaches farthest, so the first to meet are the two.

    Behind the line between the pins, ``D`` long, they meet level with each other, each ``R`` from
    its pin: ``2 R cos(phi) = D``, with ``phi`` what is left to turn to the line.
    """
    width, deep, gap = 30.0, 2.0, 0.1
    first, second = slab_pair(width, 1.375, 0.625, gap)
    assert least_apart(first, second, QUARTER, QUARTER).distance == 0.0
    found = first_overlap(first, second, QUARTER, QUARTER, width=1e-4)
    assert found is not None
    left = acos((2 * width + gap) / (2 * hypot(width, deep)))
    assert found[0] == pytest.approx(atan2(deep, width) - left, abs=1.5e-4)
    last = first_overlap(first, second, QUARTER[::-1], QUARTER, width=1e-4)
    assert last is not None
    assert last[0] > atan2(deep, width)


def test_stacked_slabs_keep_their_gap_and_random_bodies_are_of_both_sorts() -> None:
    upper = Body(pieces=(box((0, -1.4, 40.125), (30, 0, 80)),), point=np.zeros(3), direction=UP)
    lower = Body(
        pieces=(box((0, -1.4, 0), (30, 0, 39)), box((1, -2, 39), (29, 1, 40))),
        point=np.zeros(3),
        direction=UP,
    )
    found = least_apart(upper, lower, (0.0, pi), (0.0, pi))
    assert found.distance == pytest.approx(0.125, abs=1e-12)
    assert found.certain == pytest.approx(0.125, abs=1e-9)
    assert found.angles == (0.0, 0.0)
    found = [least_apart(*random_bodies(seed), SPAN, SPAN) for seed in range(16)]
    assert 3 <= sum(each.distance == 0.0 for each in found) <= 13


def test_a_body_that_climbs_under_another_comes_nearest_where_it_leaves_it() -> None:
    """It climbs all the way under the shelf, and is under it for the last time at 2 rad.

    A plumb post at a radius of 20 in; the shelf ends on the line from the axis at that angle.
    """
    rise, last = 0.2, 2.0
    post = box((19.999, -0.001, 0.0), (20.001, 0.001, 1.0))
    climbing = Body(pieces=(post,), point=np.zeros(3), direction=UP, rise=rise)
    shelf = box((0.0, -40.0, 2.0), (40.0, 0.0, 3.0))
    shelf = Solid(Rotation.from_rotvec(last * UP).apply(shelf.vertices.copy()), shelf.faces)
    still = Body(pieces=(shelf,), point=np.array([90.0, 0.0, 0.0]), direction=UP)
    found = least_apart(climbing, still, (0.0, pi), (0.0, 0.0), accuracy=1e-4)
    assert found.distance == pytest.approx(1.0 - rise * last, abs=5e-4)
    assert found.certain <= 1.0 - rise * last
    assert found.angles[0] == pytest.approx(last, abs=2e-3)


def random_bodies(seed: int) -> tuple[Body, Body]:
    rng = np.random.default_rng([77, seed])
    bodies = []
    for side in (-1.0, 1.0):
        lean = Rotation.from_rotvec(rng.normal(size=3) * 0.2)
        make = random_box if rng.random() < 0.5 else random_hull
        pieces = []
        for _ in range(int(rng.integers(1, 3))):
            solid = make(rng)
            away = rng.uniform([1.0, -0.5, -1.0], [4.0, 0.5, 1.0])
            pieces.append(Solid(solid.vertices + away * [-side, 1, 1], solid.faces))
        point = np.array([side * rng.uniform(3.0, 6.0), rng.uniform(-1, 1), 0.0])
        bodies.append(
            Body(
                pieces=tuple(Solid(p.vertices + point, p.faces) for p in pieces),
                point=point,
                direction=side * lean.apply(UP),
                rise=float(rng.uniform(-0.5, 0.5)),
            )
        )
    return bodies[0], bodies[1]


SPAN = (0.0, 1.2)
GRID = np.linspace(*SPAN, 7)


@pytest.mark.parametrize("seed", range(12))
def test_random_bodies_against_a_grid_of_both_angles(seed: int) -> None:
    first, second = random_bodies(seed)
    grid = {(s, t): distance(first, second, (s, t)) for s in GRID for t in GRID}
    found = least_apart(first, second, SPAN, SPAN)
    there = distance(first, second, found.angles)
    assert there == pytest.approx(found.distance, abs=1e-9)
    assert found.distance <= min(grid.values()) + 1e-9
    assert found.certain <= min(grid.values()) + 1e-9
    assert found.distance - found.certain <= 1e-3 + 1e-12
    for angles, gap in grid.items():
        assert overlap(first, second, angles) == (gap == 0.0)
    fouls = [angles for angles, gap in grid.items() if gap == 0.0]
    for turns, sense in ((SPAN, 1.0), (SPAN[::-1], -1.0)):
        found = first_overlap(first, second, turns, SPAN, width=1e-3)
        if found is None:
            assert not fouls
            continue
        assert overlap(first, second, found)
        assert distance(first, second, found) == 0.0
        for s, _ in fouls:
            assert sense * (found[0] - s) <= 1e-3 + 1e-12
        before = (turns[0], found[0] - sense * 2e-3)
        if sense * (before[1] - before[0]) > 0:
            clear = least_apart(first, second, before, SPAN, accuracy=1e-5)
            assert clear.distance > 0.0
