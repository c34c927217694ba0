"""Exact contact against stepping with a collision library, over seeded random scenes.

Stepping can miss a glance that is over within one step. Every disagreement must be that and
nothing else: the touch is then found by stepping finely about the exact angle, and a walk that
never turns farther than the distance left allows finds nothing before it.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swingcheck.geometry.contact import Contact, first_contact
from tests import openings
from tests.peers import Peer, TurningScene, posed, surface_distance
from tests.shapes import box
from tests.strategies import FAMILIES, scene

STEP = np.radians(0.25)
CLOSE = 1e-9  # radians; both ways agree to 1e-12 on all but nearly grazing contacts
SEEDS = 40
OPENINGS = 70


def exact_contact(turning: TurningScene) -> Contact | None:
    return first_contact(
        turning.moving,
        turning.fixed,
        point=turning.point,
        direction=turning.direction,
        start=turning.start,
        stop=turning.stop,
    )


def check_against_stepping(turning: TurningScene, step: float = STEP) -> str:
    """Check one scene; return ``none``, ``touch`` or ``glance`` (missed by the step)."""
    exact = exact_contact(turning)
    peer = Peer(turning)
    bracket = peer.stepped(step)
    if exact is None:
        assert bracket is None, f"{turning.label}: stepping touches at {bracket}"
        return "none"
    if bracket is not None:
        late = turning.sense * (exact.angle - bracket.touching)
        assert late <= 0, f"{turning.label}: exact {exact.angle} comes after {bracket}"
        if turning.sense * (exact.angle - bracket.free) >= 0:
            bisected = peer.bisected(bracket).touching
            if abs(bisected - exact.angle) <= CLOSE:
                return "touch"
    check_glance(turning, peer, exact.angle, step)
    return "glance"


def check_glance(turning: TurningScene, peer: Peer, angle: float, step: float) -> None:
    """Check that parts do touch at an exact angle that stepping jumped over, and not before."""
    assert peer.distance(angle) <= 1e-9, f"{turning.label}: nothing touches at {angle}"
    fine = None
    for window in (step, step / 20, step / 400):
        first = angle - turning.sense * window
        if turning.sense * (first - turning.start) < 0:
            first = turning.start
        fine = peer.refined(first, angle + turning.sense * window)
        if fine is not None:
            break
    assert fine is not None, f"{turning.label}: no overlap about {angle}, however finely stepped"
    assert abs(fine.touching - angle) <= 1e-6, f"{turning.label}: {fine} for {angle}"
    certain = peer.advanced()
    assert certain is not None
    assert turning.sense * (angle - certain) >= -1e-9
    assert abs(angle - certain) <= 1e-4


@pytest.mark.parametrize("family", FAMILIES)
def test_loose_scenes(family):
    seen = [check_against_stepping(scene(family, seed)) for seed in range(SEEDS)]
    assert seen.count("touch") >= SEEDS // 4
    assert seen.count("glance") <= (SEEDS // 2 if family == "glancing" else 1)


def test_stepping_does_miss_glances():
    """What the exact answer is for: some of these the step never sees."""
    glancing = [scene("glancing", seed) for seed in range(SEEDS)]
    missed = [turning for turning in glancing if Peer(turning).stepped(STEP) is None]
    assert len(missed) >= 5
    assert all(exact_contact(turning) is not None for turning in missed)


@pytest.mark.parametrize("block", range(10))
def test_openings_closing(block):
    """Whole assemblies: leaning axes, twisted and bowed legs, tapered slabs, leaves in mortises."""
    blocks = range(block, OPENINGS, 10)
    seen = [
        check_against_stepping(openings.closing(openings.assembled(seed)), 2 * STEP)
        for seed in blocks
    ]
    assert "touch" in seen


@pytest.mark.parametrize("block", range(10))
def test_openings_opening(block):
    for seed in range(block, OPENINGS, 10):
        check_against_stepping(openings.opening(openings.assembled(seed)), 2 * STEP)


@pytest.mark.parametrize("block", range(10))
def test_openings_closing_wood_on_wood(block):
    for seed in range(block, OPENINGS, 10):
        bare = openings.without_leaves(openings.assembled(seed))
        check_against_stepping(openings.closing(bare), 2 * STEP)


@pytest.mark.parametrize("family", [f for f in FAMILIES if f not in ("resting", "glancing")])
def test_nothing_touches_before(family):
    """The certified walk and the exact answer agree on whether, and on when."""
    for seed in range(100, 110):
        turning = scene(family, seed)
        exact, certain = exact_contact(turning), Peer(turning).advanced()
        if exact is None:
            assert certain is None, turning.label
            continue
        assert certain is not None, turning.label
        assert turning.sense * (exact.angle - certain) >= -1e-12, turning.label
        assert Peer(turning).distance(exact.angle) <= 1e-9, turning.label
        assert abs(exact.angle - certain) <= 1e-4, turning.label


@pytest.mark.parametrize("family", FAMILIES)
def test_the_contact_says_what_touches_where(family):
    """Every point lies on both named surfaces, and every part named as touched is touched."""
    for seed in range(SEEDS):
        turning = scene(family, seed)
        exact = exact_contact(turning)
        if exact is None:
            continue
        mover = posed(turning.moving[exact.moving], turning, exact.angle)
        for point in exact.points:
            assert surface_distance(point, [mover]) <= 1e-8, turning.label
            assert surface_distance(point, [turning.fixed[exact.fixed]]) <= 1e-8, turning.label
        for index in (exact.fixed, *exact.others):
            alone = replace(turning, fixed=(turning.fixed[index],))
            assert Peer(alone).distance(exact.angle) <= 1e-7, turning.label


def test_a_part_swallowed_whole_is_seen_by_the_peer():
    """The peer's own pitfall: a speck deep inside a block touches none of its triangles."""
    speck = box((5.0, -0.01, -0.01), (5.02, 0.01, 0.01))
    block = box((-2, 4, -2), (2, 7, 2))
    turning = TurningScene(
        label="speck",
        moving=(speck,),
        fixed=(block,),
        point=np.zeros(3),
        direction=np.array([0, 0, 1.0]),
        start=0.0,
        stop=2.0,
    )
    coarse = Peer(turning).stepped(np.pi / 2)
    assert coarse is not None
    exact = exact_contact(turning)
    assert exact is not None
    assert Peer(turning).bisected(coarse).touching == pytest.approx(exact.angle, abs=CLOSE)
