"""Exact contact against stepping with a collision library, over seeded random scenes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests import openings
from tests.peers import Peer, TurningScene, posed, surface_distance
from tests.shapes import box
from tests.strategies import FAMILIES, scene
from tests.turning import CLOSE, STEP, check_against_stepping, check_nothing_before, contact_of

SEEDS = 28
OPENINGS = 48
BLOCKS = 8


@pytest.mark.parametrize("family", FAMILIES)
def test_loose_scenes_and_what_touches_where(family: str) -> None:
    """What the exact answer is for: some of the glances the step never sees."""
    glances = [seed for seed in range(SEEDS) if family == "glancing"]
    seen = [check_against_stepping(scene(family, seed), STEP / 2) for seed in range(SEEDS)]
    assert seen.count("touch") >= SEEDS // 4
    assert seen.count("glance") <= (SEEDS // 2 if glances else 1)
    assert seen.count("glance") >= (4 if glances else 0)
    # Every point lies on both named surfaces, and every part named as touched is touched.
    for seed in range(SEEDS):
        turning = scene(family, seed)
        exact = contact_of(turning)
        if exact is None:
            continue
        mover = posed(turning.moving[exact.moving], turning, exact.angle)
        for point in exact.points:
            assert surface_distance(point, [mover]) <= 1e-8, turning.label
            assert surface_distance(point, [turning.fixed[exact.fixed]]) <= 1e-8, turning.label
        for index in (exact.fixed, *exact.others):
            alone = replace(turning, fixed=(turning.fixed[index],))
            assert Peer(alone).distance(exact.angle) <= 1e-7, turning.label


@pytest.mark.parametrize("block", range(BLOCKS))
def test_openings_closing_and_opening(block: int) -> None:
    """Whole assemblies: leaning axes, twisted and bowed legs, tapered slabs, leaves in mortises.

    And without their leaves, wood on wood.
    """
    seen = []
    for seed in range(block, OPENINGS, BLOCKS):
        assembly = openings.assembled(seed)
        seen.append(check_against_stepping(openings.closing(assembly)))
        check_against_stepping(openings.closing(openings.without_leaves(assembly)))
    assert "touch" in seen
    for seed in range(block, OPENINGS, BLOCKS):
        check_against_stepping(openings.turning_of(openings.assembled(seed), np.pi / 4, np.pi))


@pytest.mark.parametrize("family", [f for f in FAMILIES if f not in ("resting", "glancing")])
def test_nothing_touches_before(family: str) -> None:
    """The certified walk and the exact answer agree on whether, and on when."""
    for seed in range(100, 108):
        turning = scene(family, seed)
        exact = contact_of(turning)
        check_nothing_before(turning, None if exact is None else exact.angle)


def test_a_part_swallowed_whole_is_seen_by_the_peer() -> None:
    """The peer's own pitfall: a speck deep inside a block touches none of its triangles."""
    turning = TurningScene(
        label="speck",
        moving=(box((5.0, -0.01, -0.01), (5.02, 0.01, 0.01)),),
        fixed=(box((-2, 4, -2), (2, 7, 2)),),
        point=np.zeros(3),
        direction=np.array([0, 0, 1.0]),
        start=0.0,
        stop=2.0,
    )
    coarse, exact = Peer(turning).stepped(np.pi / 2), contact_of(turning)
    assert coarse is not None and exact is not None
    assert Peer(turning).bisected(coarse).touching == pytest.approx(exact.angle, abs=CLOSE)
