"""Exact contact against answers in closed form, one for each way a slab meets its frame.

The formulas are derived in :mod:`tests.plan_peers`, in polar form. Sizes are drawn about those of
an interior slab, and the whole scene stands off the origin.
"""

from __future__ import annotations

from math import atan2, cos, hypot, pi, radians, sin, tan
from typing import Any

import numpy as np
import pytest

from swingcheck.geometry.contact import Contact, first_contact
from swingcheck.geometry.solid import Solid
from tests.plan_peers import corner_meets_line, first_corner_meets_line, line_meets_corner
from tests.shapes import box, hull, prism, rectangle

SEEDS = range(12)
PLUMB = np.array([0.0, 0.0, 1.0])
CLOSE = 1e-9  # radians


def found(
    slab: Solid,
    part: Solid,
    start: float = pi / 2,
    stop: float = 0.0,
    direction: np.ndarray = PLUMB,
) -> Contact | None:
    """Return the first contact with everything, axis and all, moved off the origin."""
    shift = np.array([3.25, -7.5, 1.125])
    return first_contact(
        [slab.moved(np.eye(3), shift)],
        [part.moved(np.eye(3), shift)],
        point=shift,
        direction=direction,
        start=start,
        stop=stop,
    )


def assert_touch(expected: float, *turn: Any) -> Contact:
    """Check the angle of a first contact, and return it."""
    contact = found(*turn)
    assert contact is not None
    assert contact.angle == pytest.approx(expected, abs=CLOSE)
    return contact


def sizes(seed: int) -> tuple[np.random.Generator, float, float, float, Solid]:
    """Return width across from the axis, depth behind it, pin stand-out, and a square slab."""
    rng = np.random.default_rng([20, seed])
    across, thick, proud = rng.uniform(18, 42), rng.uniform(1.25, 2.5), rng.uniform(0.1, 0.6)
    slab = prism(rectangle(0.03, -thick - proud, across, -proud), 0.5, 80)
    return rng, across, thick + proud, proud, slab


@pytest.mark.parametrize("seed", SEEDS)
def test_strike_arris_meets_the_strike_leg_or_clears_one_beyond_its_sweep(seed):
    """The arris sweeps ``hypot(L, T + a)``; the leg runs on past the jamb's pull-side edge."""
    rng, across, deep, _, slab = sizes(seed)
    leg = across + rng.uniform(0.1, 0.9) * (hypot(across, deep) - across)
    expected = corner_meets_line((across, -deep), 0.0, leg)[1]
    assert_touch(expected, slab, box((leg, -6, 0), (leg + 1, 12, 81)))
    _, across, deep, _, slab = sizes(seed)
    leg = hypot(across, deep)
    assert found(slab, box((leg + 1e-5, -6, 0), (leg + 1, 12, 81))) is None
    assert found(slab, box((leg - 1e-5, -6, 0), (leg + 1, 12, 81))) is not None


@pytest.mark.parametrize("seed", SEEDS)
def test_hinge_arris_against_the_hinge_stop(seed):
    """The slab's stop-side face would stand behind the stop's: the setbacks are the wrong way."""
    rng, _, deep, _, slab = sizes(seed)
    stop = deep - rng.uniform(0.001, 0.02)
    expected = corner_meets_line((0.03, -deep), -pi / 2, stop)[0]
    contact = assert_touch(expected, slab, box((-0.05, -6, 0), (0.4375, -stop, 81)))
    assert np.ptp(contact.points[:, 2]) == pytest.approx(79.5)


@pytest.mark.parametrize("degrees", [1.0, 2.0, 3.5, 5.0])
@pytest.mark.parametrize("seed", SEEDS)
def test_bevelled_hinge_arris_against_the_hinge_stop(seed, degrees):
    """A bevel carries the arris ``T tan b`` toward the strike side."""
    rng, across, deep, proud, _ = sizes(seed)
    arris = 0.03 + (deep - proud) * tan(radians(degrees))
    outline = np.array([[arris, -deep], [across, -deep], [across, -proud], [0.03, -proud]])
    stop = deep - rng.uniform(0.001, 0.02)
    expected = corner_meets_line((arris, -deep), -pi / 2, stop)[0]
    assert_touch(expected, prism(outline, 0.5, 80), box((-0.05, -6, 0), (1, -stop, 81)))


@pytest.mark.parametrize("seed", SEEDS)
def test_narrow_face_against_a_hinge_or_strike_stops_nose(seed):
    """A twisted leg's stop stands out toward the slab at its nose."""
    rng, _, deep, _, slab = sizes(seed)
    nose = (rng.uniform(0.3, 0.6), deep - rng.uniform(0.0, 0.02))
    slope = nose[1] + 0.3
    outline = np.array([[-0.05, -6], [nose[0], -6], [nose[0], -nose[1]], [-0.05, -slope]])
    expected = line_meets_corner((nose[0], -nose[1]), -pi / 2, deep)
    assert_touch(expected, slab, prism(outline, 0, 81))
    # The slab stands off: its strike stop is nearer than its hinge stop.
    rng, across, deep, _, slab = sizes(seed)
    nose = (across - rng.uniform(0.2, 0.6), deep - rng.uniform(0.0, 0.5))
    expected = line_meets_corner((nose[0], -nose[1]), -pi / 2, deep)
    assert_touch(expected, slab, box((nose[0], -6, 0), (across + 1, -nose[1], 81)))


@pytest.mark.parametrize("seed", SEEDS)
def test_narrow_face_and_its_arris_against_the_strike_legs_pull_side(seed):
    """A leg inside the arris' sweep, its pull side level with the slab's wide face."""
    rng, across, deep, proud, slab = sizes(seed)
    most = np.sqrt(across**2 + deep**2 - proud**2)
    leg = across + rng.uniform(0.05, 0.95) * (most - across)
    expected = line_meets_corner((leg, -proud), -pi / 2, deep)
    assert_touch(expected, slab, box((leg, -6, 0), (leg + 1, -proud, 81)))
    clear = box((most + 1e-5, -6, 0), (most + 1, -proud, 81))
    assert found(slab, clear) is None
    # The leg's pull side falls away from the opening's, so the arris lands on its slope.
    rng, across, deep, _, slab = sizes(seed)
    lean = rng.uniform(0.3, 0.6)
    arris_polar = -atan2(deep, across)
    # The pull side rises to the strike side, faster than the slab does where they meet.
    at = hypot(across, deep) * np.array([cos(arris_polar + 0.1), sin(arris_polar + 0.1)])
    normal = np.array([-sin(lean), cos(lean)])
    along = np.array([cos(lean), sin(lean)])
    low, high = at - 2 * along, at + 4 * along
    outline = np.array([low, [low[0], low[1] - 3], [high[0], low[1] - 3], high])
    assert_touch(0.1, slab, prism(outline, 0, 81), 1.2)
    turns = corner_meets_line((across, -deep), lean + pi / 2, float(normal @ at))
    assert min(abs(turn - 0.1) for turn in turns) < CLOSE


@pytest.mark.parametrize("seed", SEEDS)
def test_wide_face_against_a_corner(seed):
    """Opening on to furniture."""
    rng, across, _, proud, slab = sizes(seed)
    corner = (across * rng.uniform(-0.6, 0.6), rng.uniform(0.3, 0.7) * across)
    polar = atan2(corner[1], corner[0])
    behind = [[3 * cos(polar + turn), 3 * sin(polar + turn)] for turn in (0.3, 2.5)]
    outline = np.array([[0.0, 0.0], *behind]) + corner
    expected = line_meets_corner(corner, pi / 2, -proud)
    assert_touch(expected, slab, prism(outline, 0, 40), 0.0, pi)


def bottom(slab: Solid) -> list[tuple[float, float]]:
    low = slab.vertices[:, 2].min()
    return [(float(x), float(y)) for x, y, z in slab.vertices if z == low]


# Floors in plan: a square cut along a diagonal near the axis, and one triangle all round the axis.
SQUARE = [(x, y) for x in (-60.0, 60.0) for y in (-60.0, 60.0)]
TRIANGLE = [(-200.0, -120.0), (200.0, -120.0), (0.0, 220.0)]


@pytest.mark.parametrize("flat", [SQUARE, TRIANGLE], ids=["square", "triangle"])
@pytest.mark.parametrize("seed", SEEDS)
def test_bottom_corner_against_a_sloping_floor(seed, flat):
    """Plumb axis: the corner's height never changes, the floor's under it does."""
    rng, across, _, _, slab = sizes(seed)
    slope = (float(rng.uniform(-0.012, 0.0)), float(rng.uniform(0.015, 0.03)))
    rise = float(hypot(*slope) * across * rng.uniform(0.2, 0.95))
    top = [[x, y, 0.5 - rise + slope[0] * x + slope[1] * y] for x, y in flat]
    floor = hull(np.array(top + [[x, y, -9.0] for x, y in flat]))
    uphill = atan2(slope[1], slope[0])
    expected = first_corner_meets_line(bottom(slab), uphill, rise / hypot(*slope))
    assert_touch(expected, slab, floor, 0.0, pi)


@pytest.mark.parametrize("flat", [SQUARE, TRIANGLE], ids=["square", "triangle"])
@pytest.mark.parametrize("seed", SEEDS)
def test_bottom_corner_about_a_leaning_axis(seed, flat):
    """The axis leans away from the strike side, so the slab's strike edge drops as it opens."""
    rng, across, _, _, slab = sizes(seed)
    lean = -atan2(0.5, across * rng.uniform(0.2, 0.95))
    turn = np.array([[cos(lean), 0, sin(lean)], [0, 1, 0], [-sin(lean), 0, cos(lean)]])
    floor = hull(np.array([[x, y, z] for x, y in flat for z in (-2.0, 0.0)]))
    expected = first_corner_meets_line(bottom(slab), 0.0, 0.5 / tan(lean))
    contact = assert_touch(expected, slab.moved(turn, np.zeros(3)), floor, 0.0, pi, turn @ PLUMB)
    assert np.ptp(contact.points[:, 2]) < 1e-9
