"""Touching at the start: a contact only where the turn presses or drags, never where it parts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.peers import Peer, TurningScene
from tests.shapes import box, prism, random_turn, rectangle
from tests.strategies import moved
from tests.turning import contact_of as contact

Z = np.array([0.0, 0.0, 1.0])


def scene(moving, fixed, stop, *, point=(0.0, 0.0, 0.0), direction=Z, start=0.0):
    return TurningScene(
        label="start",
        moving=(moving,),
        fixed=(fixed,),
        point=np.array(point),
        direction=np.array(direction),
        start=start,
        stop=stop,
    )


SLAB = box((0.03, -1.8, 0), (30, -0.4, 80))


@pytest.mark.parametrize(("low", "high"), [(0, 80), (-1, 81), (1, 79), (0, 81), (-1, 80)])
@pytest.mark.parametrize("span", [(0.0, 0.4375), (29.7, 30.4375), (10.0, 12.0)])
def test_a_slab_leaves_the_stop_it_rests_on(low, high, span):
    """Ends of slab and stop in one plane, too: a corner there lies on a border of both."""
    stop = box((span[0], -3, low), (span[1], -1.8, high))
    assert contact(scene(SLAB, stop, 1.5)) is None


@pytest.mark.parametrize(("low", "high"), [(0, 80), (-1, 81), (1, 79)])
@pytest.mark.parametrize("span", [(0.1, 0.4375), (29.7, 30.4375)])
def test_a_slab_pressed_on_its_stop_touches_at_once(low, high, span):
    stop = box((span[0], -3, low), (span[1], -1.8, high))
    found = contact(scene(SLAB, stop, -0.5))
    assert found is not None
    assert found.angle == pytest.approx(0.0, abs=1e-9)


def test_a_slab_comes_to_rest_where_it_is_closed_on_all_its_stops_at_once():
    stop = box((29.7, -3, 0), (30.4375, -1.8, 80))
    found = contact(scene(SLAB, stop, -0.5, start=1.0))
    assert found is not None
    assert found.angle == pytest.approx(0.0, abs=1e-12)
    # One is named, the lowest numbered, and the others beside it; a leg that is clear is not.
    hinge = box((0, -3, 0), (0.4375, -1.8, 81))
    strike = box((29.7, -3, 0), (30.4375, -1.8, 81))
    clear = box((30.2, -3, 0), (31, -0.4, 81))
    turning = replace(scene(SLAB, clear, -0.5, start=1.0), fixed=(clear, strike, hinge))
    found = contact(turning)
    assert found is not None
    assert found.angle == pytest.approx(0.0, abs=1e-12)
    assert (found.moving, found.fixed, found.others) == (0, 1, (2,))
    assert found.points[:, 0].min() >= 29.7 - 1e-9


def test_boxes_that_touch_in_one_corner_or_along_an_edge_part():
    """The corner falls below one of the faces that meet there, but rises off another."""
    moving, fixed = box((-3, 0, 0), (-2, 2, 3)), box((-2, 2, -2), (-1, 4, 0))
    turning = scene(moving, fixed, -0.5, point=(0, 1, 1), direction=np.array([1, 1, 0]) / 2**0.5)
    assert Peer(turning).distance(-0.01) > 0.005
    assert contact(turning) is None
    moving, fixed = box((-2, -3, -2), (0, 0, -1)), box((-2, 0, -2), (1, 1, 0))
    turning = scene(moving, fixed, -0.9, point=(-2, 1, 0), direction=np.array([1, 1, 0]) / 2**0.5)
    assert Peer(turning).distance(-0.01) > 0.005
    assert contact(turning) is None


def test_a_slab_drags_on_the_floor_and_an_arris_presses_at_dead_centre():
    """No deeper and no looser all the way: it rubs, and that is a contact at once."""
    floor = box((-40, -40, -1), (40, 40, 0))
    found = contact(scene(SLAB, floor, 0.0, start=1.5))
    assert found is not None
    assert found.angle == pytest.approx(1.5, abs=1e-12)
    # The arris stands straight under the axis, on the stop: at first it moves along the face.
    slab = prism(rectangle(0.0, -1.5, 30, -0.1), 0, 80)
    stop = box((-1, -3, -1), (0.5, -1.5, 81))
    assert contact(scene(slab, stop, 1.5)) is None
    pressed = contact(scene(slab, stop, -0.5))
    assert pressed is not None
    assert pressed.angle == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_parting_does_not_depend_on_the_frame(seed):
    rng = np.random.default_rng(seed)
    stop = box((29.7, -3, 0), (30.4375, -1.8, 80))
    turning = moved(scene(SLAB, stop, 1.5), random_turn(rng), rng.uniform(-50, 50, 3))
    found = contact(turning)
    assert found is None or found.angle > 1e-3
    again = contact(turning.over(0.0, -0.5))
    assert again is not None
    assert again.angle == pytest.approx(0.0, abs=1e-9)
