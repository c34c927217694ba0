"""Exact contact of upright prisms against a plan search in 40-digit arithmetic."""

from __future__ import annotations

import numpy as np
import pytest

from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.solid import Solid
from tests.plan_peers import plan_first_contact
from tests.shapes import overlapping_outlines, prism, random_outline, rectangle

PLUMB = np.array([0.0, 0.0, 1.0])


def compare(moving: list, fixed: list, start: float, stop: float) -> bool:
    """Check that both ways agree; return whether anything was touched."""
    slabs: list[Solid] = [prism(o, 0, 1) for o in moving]
    parts: list[Solid] = [prism(o, -1, 2) for o in fixed]
    exact = first_contact(slabs, parts, point=np.zeros(3), direction=PLUMB, start=start, stop=stop)
    peer = plan_first_contact(moving, fixed, start, stop)
    if peer is None:
        assert exact is None
        return False
    assert exact is not None
    assert abs(float(peer - exact.angle)) < 1e-12
    return True


def somewhere(rng: np.random.Generator, around: float) -> np.ndarray:
    outline = random_outline(rng, int(rng.integers(3, 8))) * rng.uniform(0.5, 2)
    return outline + rng.uniform(0, 6) * np.array([np.cos(around), np.sin(around)])


@pytest.mark.parametrize("block", range(8))
def test_loose_outlines(block):
    """Convex and concave outlines all round the axis, some over it."""
    rng = np.random.default_rng([12, block])
    touched = 0
    for _ in range(25):
        moving = [somewhere(rng, rng.uniform(-0.3, 0.3)) for _ in range(2)]
        fixed = [somewhere(rng, rng.uniform(0.5, 5.8)) for _ in range(4)]
        fixed = [o for o in fixed if not any(overlapping_outlines(m, o) for m in moving)]
        touched += compare(moving, fixed, 0.0, rng.choice([-1, 1]) * rng.uniform(1, 3))
    assert 5 < touched < 25


@pytest.mark.parametrize("block", range(8))
def test_slab_in_its_frame(block):
    """A bevelled slab, legs and stops: long edges, small gaps, contacts near closed."""
    rng = np.random.default_rng([13, block])
    touched = 0
    for _ in range(12):
        across, deep, proud = rng.uniform(18, 40), rng.uniform(1.5, 2.2), rng.uniform(0.1, 0.5)
        lean = rng.choice([0.0, 0.048, 0.1], 2)
        slab = np.array(
            [[0.03 + lean[0], -deep], [across - lean[1], -deep], [across, -proud], [0.03, -proud]]
        )
        leg = across + rng.uniform(-0.01, 0.1)
        fixed = [
            rectangle(-1.0, -5.0, -0.03, -proud),
            rectangle(leg, -5.0, leg + 1.0, -proud),
            rectangle(-0.03, -5.0, 0.4, -deep + rng.uniform(-0.02, 0.02)),
            rectangle(leg - 0.4375, -5.0, leg, -deep + rng.uniform(-0.02, 0.02)),
        ]
        touched += compare([slab], fixed, np.pi / 2, 0.0)
    assert touched > 3


def test_slab_resting_on_its_stop_opens():
    """Face to face at the start: the touch that is there parts and is no contact."""
    slab = rectangle(0.03, -1.8, 30, -0.4)
    stops = [rectangle(0, -3, 0.4375, -1.8), rectangle(29.7, -3, 30.2, -1.8)]
    assert not compare([slab], stops, 0.0, 1.5)
    assert compare([slab], stops, 0.0, -0.5)
