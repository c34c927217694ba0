"""Contact of a turn that rises as it goes, against closed forms and the collision library's walk.

The walk turns on by no more than the gap allows at the fastest point's speed, so it can pass
nothing; it ends where the gap is gone.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi

import numpy as np
import pytest

from swingcheck.geometry.clearance import ACCURACY_IN
from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.pairs import Wave, rising_roots
from swingcheck.geometry.solid import Solid
from tests.peers import Peer, TurningScene
from tests.shapes import box, hull
from tests.strategies import scene
from tests.turning import assert_least, check_nothing_before, contact_of, least_of

UP = np.array([0.0, 0.0, 1.0])
FAMILY = ("boxes", "lofts", "convex", "concave", "door")


def rising_scene(family: str, seed: int) -> TurningScene:
    """Return a random scene that rises, its solids where they should stand at its start."""
    where = scene(family, seed)
    direction = where.direction / np.linalg.norm(where.direction)
    rise = float(np.random.default_rng(seed).uniform(-2.0, 2.0))
    lifted = -rise * where.start * direction
    moving = tuple(Solid(m.vertices + lifted, m.faces) for m in where.moving)
    return replace(where, direction=direction, moving=moving, rise=rise)


@pytest.mark.parametrize("family", FAMILY)
def test_rising_turns_against_a_walk_that_passes_nothing_and_small_steps(family: str) -> None:
    for seed in range(6):
        where = rising_scene(family, seed)
        exact = contact_of(where)
        check_nothing_before(where, None if exact is None else exact.angle)
    for seed in range(100, 104):
        where = rising_scene(family, seed)
        met = contact_of(where)
        stop = where.stop if met is None else where.start + 0.7 * (met.angle - where.start)
        for part, near in zip(where.fixed, least_of(where, stop), strict=True):
            peer = Peer(replace(where, fixed=(part,)))
            assert_least(near, peer, np.linspace(where.start, stop, 60), ACCURACY_IN)


def test_a_slab_that_rises_meets_a_head_and_clears_a_slope() -> None:
    """A level top under a level head: margin / rise, exactly."""
    slab = box((0.0, -1.4, 0.5), (30.0, 0.0, 80.0))
    head = box((-40.0, -40.0, 80.125), (40.0, 40.0, 82.0))
    found = first_contact(
        [slab], [head], point=np.zeros(3), direction=UP, start=0.0, stop=pi, rise=0.25
    )
    assert found is not None
    assert found.angle == pytest.approx(0.125 / 0.25, abs=1e-12)
    # A corner at radius R over a floor that rises s in x: level, R cos t s = z.
    slab = box((0.0, 0.0, 0.0), (30.0, 1.0, 80.0))
    top = [(x, y, 0.02 * x - 0.1) for x in (-40, 40) for y in (-40, 40)]
    slope = hull(np.array([*top, *((x, y, -9.0) for x, y, _ in top)]))
    way = {"point": np.zeros(3), "direction": UP, "start": pi / 2, "stop": 0.0}
    level = first_contact([slab], [slope], **way)
    raised = first_contact([slab], [slope], rise=0.5, **way)
    assert level is not None
    assert level.angle == pytest.approx(np.arccos(5.0 / hypot(30.0, 0.0)), abs=1e-9)
    assert raised is not None
    t = raised.angle
    assert 30.0 * np.cos(t) * 0.02 - 0.1 == pytest.approx(0.5 * t, abs=1e-9)


def test_a_face_about_the_axis_meets_what_stands_over_it_at_any_angle() -> None:
    """A slab that turns about a point within it climbs 1 in to the tip of a spike."""
    slab = box((-3.0, -2.5, 0.0), (4.0, 3.0, 1.0))
    for angle in np.linspace(0.0, 2 * pi, 25):
        tip = 0.4 * np.array([np.cos(angle), np.sin(angle), 0.0]) + [0.0, 0.0, 2.0]
        spike = hull(np.array([(0, 0, 0), (0.1, 0, 2), (-0.1, 0.1, 2), (-0.1, -0.1, 2)]) + tip)
        found = first_contact(
            [slab], [spike], point=np.zeros(3), direction=UP, start=0.0, stop=0.3, rise=4.0
        )
        assert found is not None
        assert found.angle == pytest.approx(0.25, abs=1e-9)
        assert np.allclose(found.points, tip, atol=1e-9)


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
