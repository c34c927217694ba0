"""Contact of a turn that rises as it goes, against closed forms and an independent walk.

The walk asks a general boolean library for the gap and turns on by no more
than that gap allows at the fastest point's speed, so it can pass nothing; it
ends where the gap is gone.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi

import numpy as np
import pytest

from swingcheck.geometry.booleans import gap_between
from swingcheck.geometry.clearance import least_distances
from swingcheck.geometry.contact import Contact, first_contact
from swingcheck.geometry.frames import turning
from swingcheck.geometry.risingroots import Wave, rising_roots
from swingcheck.geometry.solid import Solid
from tests.peers import TurningScene
from tests.shapes import box
from tests.strategies import scene

UP = np.array([0.0, 0.0, 1.0])
FAMILY = ("boxes", "lofts", "convex", "concave", "door")


def rising_scene(family: str, seed: int) -> tuple[TurningScene, float]:
    """Return a random scene whose solids stand where they should at its start, and a rise."""
    where = scene(family, seed)
    direction = where.direction / np.linalg.norm(where.direction)
    rise = float(np.random.default_rng(seed).uniform(-2.0, 2.0))
    lifted = -rise * where.start * direction
    moving = tuple(Solid(m.vertices + lifted, m.faces) for m in where.moving)
    return replace(where, direction=direction, moving=moving), rise


def contact(turning: TurningScene, rise: float) -> Contact | None:
    return first_contact(
        turning.moving,
        turning.fixed,
        point=turning.point,
        direction=turning.direction,
        start=turning.start,
        stop=turning.stop,
        rise=rise,
    )


def posed(solid: Solid, where: TurningScene, angle: float, rise: float) -> Solid:
    turn = turning(where.direction, angle)
    lift = rise * angle * where.direction
    return solid.moved(turn, where.point - turn @ where.point + lift)


def walked(where: TurningScene, rise: float) -> float | None:
    """Return where the gap closes to 1e-7 in, or None."""
    sense = 1.0 if where.stop >= where.start else -1.0
    radius = max(
        float(np.linalg.norm(np.cross(part.vertices - where.point, where.direction), axis=1).max())
        for part in where.moving
    )
    speed = hypot(radius, rise)
    gone, span = 0.0, abs(where.stop - where.start)
    while gone <= span:
        angle = where.start + sense * gone
        gap = min(
            gap_between(posed(mover, where, angle, rise), part, within=4 * speed)
            for mover in where.moving
            for part in where.fixed
        )
        if gap < 1e-7:
            return angle
        gone += gap / speed
    return None


@pytest.mark.parametrize("family", FAMILY)
@pytest.mark.parametrize("seed", range(6))
def test_rising_turn_against_a_walk_that_passes_nothing(family: str, seed: int) -> None:
    where, rise = rising_scene(family, seed)
    exact, walk = contact(where, rise), walked(where, rise)
    if walk is None:
        assert exact is None
        return
    assert exact is not None
    sense = 1.0 if where.stop >= where.start else -1.0
    assert -1e-9 <= sense * (exact.angle - walk) <= 2e-3
    here = min(
        gap_between(posed(mover, where, exact.angle, rise), part, within=1.0)
        for mover in where.moving
        for part in where.fixed
    )
    assert here <= 1e-9


def test_a_slab_that_rises_meets_the_head_where_its_margin_is_used_up() -> None:
    """A level top under a level head: margin / rise, exactly."""
    slab = box((0.0, -1.4, 0.5), (30.0, 0.0, 80.0))
    head = box((-40.0, -40.0, 80.125), (40.0, 40.0, 82.0))
    found = first_contact(
        [slab], [head], point=np.zeros(3), direction=UP, start=0.0, stop=pi, rise=0.25
    )
    assert found is not None
    assert found.angle == pytest.approx(0.125 / 0.25, abs=1e-12)


def test_a_corner_that_rises_clears_a_slope_that_it_would_meet_level() -> None:
    """A corner at radius R over a floor that rises s in x: level, R cos t s = z."""
    slab = box((0.0, 0.0, 0.0), (30.0, 1.0, 80.0))
    slope = Solid(
        np.array(
            [
                [-40, -40, -9], [40, -40, -9], [40, 40, -9], [-40, 40, -9],
                [-40, -40, -0.1 - 0.8], [40, -40, -0.1 + 0.8],
                [40, 40, -0.1 + 0.8], [-40, 40, -0.1 - 0.8],
            ],
            dtype=float,
        ),
        np.array([[0, 2, 1], [0, 3, 2], [4, 5, 6], [4, 6, 7], [0, 1, 5], [0, 5, 4],
                  [1, 2, 6], [1, 6, 5], [2, 3, 7], [2, 7, 6], [3, 0, 4], [3, 4, 7]]),
    )  # fmt: skip
    way = {"point": np.zeros(3), "direction": UP, "start": pi / 2, "stop": 0.0}
    level = first_contact([slab], [slope], **way)
    raised = first_contact([slab], [slope], rise=0.5, **way)
    assert level is not None
    assert level.angle == pytest.approx(np.arccos(5.0 / hypot(30.0, 0.0)), abs=1e-9)
    assert raised is not None
    t = raised.angle
    assert 30.0 * np.cos(t) * 0.02 - 0.1 == pytest.approx(0.5 * t, abs=1e-9)


def test_no_root_is_missed_or_made_up() -> None:
    """Every sign change of a fine sampling has its root, and every root its sign change."""
    random = np.random.default_rng(3)
    count, span = 400, 3.0
    wave = Wave(*random.normal(size=(6, count)))
    number, turn = rising_roots(wave, span)
    assert np.abs(wave.picked(number).value(turn)).max() < 1e-12
    grid = np.linspace(0.0, span, 4001)
    for k in range(count):
        one = wave.picked(np.full(len(grid), k))
        signs = np.sign(one.value(grid))
        changes = np.flatnonzero(np.diff(signs) != 0)
        roots = np.sort(turn[number == k])
        assert len(changes) <= len(roots)
        for change in changes:
            assert ((roots >= grid[change] - 1e-9) & (roots <= grid[change + 1] + 1e-9)).any()


@pytest.mark.parametrize("family", FAMILY)
@pytest.mark.parametrize("seed", range(4))
def test_least_distance_of_a_rising_turn_against_small_steps(family: str, seed: int) -> None:
    where, rise = rising_scene(family, 100 + seed)
    met = contact(where, rise)
    stop = where.stop if met is None else where.start + 0.7 * (met.angle - where.start)
    found = least_distances(
        where.moving,
        where.fixed,
        point=where.point,
        direction=where.direction,
        start=where.start,
        stop=stop,
        rise=rise,
    )
    angles = np.linspace(where.start, stop, 60)
    step = abs(angles[1] - angles[0])
    radius = max(
        float(np.linalg.norm(np.cross(m.vertices - where.point, where.direction), axis=1).max())
        for m in where.moving
    )
    for part, near in zip(where.fixed, found, strict=True):
        stepped = min(
            gap_between(posed(mover, where, angle, rise), part, within=100.0)
            for mover in where.moving
            for angle in angles
        )
        assert near.distance <= stepped + 1.1e-4
        assert near.distance >= stepped - hypot(radius, rise) * step / 2 - 1e-9
        there = min(
            gap_between(posed(mover, where, near.angle, rise), part, within=100.0)
            for mover in where.moving
        )
        assert there == pytest.approx(near.distance, abs=1e-9)


def test_plumb_edges_at_one_radius():
    """Their equation is nothing at every turn: it must not be searched for roots without end."""
    none = np.zeros(1)
    number, turn = rising_roots(Wave(none, none, none, none, none, none), 1.5)
    assert len(number) == len(turn) == 0
    slab, leg = box((0.5, -1, 0), (30, 0, 80)), box((-1, -1, -1), (0.5, 5, 81))
    pressed = first_contact(
        [slab], [leg], point=np.zeros(3), direction=UP, start=0.0, stop=1.0, rise=0.1
    )
    assert pressed is not None
    assert pressed.angle == pytest.approx(0.0, abs=1e-9)
