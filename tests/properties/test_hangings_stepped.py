"""Every way of hanging a slab against stepping with a collision library, over random openings."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from swingcheck.geometry.clearance import least_distances
from swingcheck.geometry.contact import first_contact
from tests.hangings import KINDS, assembled, turning_of
from tests.peers import Peer, TurningScene

STEP = np.radians(0.5)
CLOSE = 1e-9  # radians


def check_against_stepping(turning: TurningScene) -> str:
    """Check a first contact; return ``none``, ``touch`` or ``glance`` (over within a step)."""
    exact = first_contact(
        turning.moving,
        turning.fixed,
        point=turning.point,
        direction=turning.direction / np.linalg.norm(turning.direction),
        start=turning.start,
        stop=turning.stop,
        rise=turning.rise,
    )
    peer = Peer(turning)
    bracket = peer.stepped(STEP)
    if exact is None:
        assert bracket is None, f"{turning.label}: stepping touches at {bracket}"
        return "none"
    if bracket is not None:
        assert turning.sense * (exact.angle - bracket.touching) <= 0, turning.label
        if turning.sense * (exact.angle - bracket.free) >= 0:
            bisected = peer.bisected(bracket).touching
            if abs(bisected - exact.angle) <= CLOSE:
                return "touch"
    assert peer.distance(exact.angle) <= 1e-8, f"{turning.label}: nothing at {exact.angle}"
    fine = peer.refined(
        exact.angle - turning.sense * STEP / 20, exact.angle + turning.sense * STEP / 20
    )
    assert fine is not None, f"{turning.label}: no overlap about {exact.angle}"
    assert abs(fine.touching - exact.angle) <= 1e-5, turning.label
    return "glance"


@pytest.mark.parametrize("kind", KINDS)
def test_closing(kind: str) -> None:
    seen = [
        check_against_stepping(turning_of(assembled(kind, seed), pi / 2, 0.0)) for seed in range(6)
    ]
    assert "touch" in seen


@pytest.mark.parametrize("kind", KINDS)
def test_opening_from_ajar(kind: str) -> None:
    for seed in range(4):
        check_against_stepping(turning_of(assembled(kind, seed), pi / 6, pi))


@pytest.mark.parametrize("seed", range(4))
def test_a_centre_pivot_to_the_push_side(seed: int) -> None:
    check_against_stepping(turning_of(assembled("centre", seed), pi / 2, -pi / 2))


@pytest.mark.parametrize("kind", ["rising", "offset", "pair", "dutch"])
def test_least_distances_hold_at_every_step(kind: str) -> None:
    """No step is nearer than what is certified, and the place that is told is as near as told."""
    for seed in range(2):
        turning = turning_of(assembled(kind, seed), pi / 2, pi / 3)
        found = least_distances(
            turning.moving,
            turning.fixed,
            point=turning.point,
            direction=turning.direction,
            start=turning.start,
            stop=turning.stop,
            rise=turning.rise,
        )
        least = min(found, key=lambda near: near.distance)
        peer = Peer(turning)
        stepped = [peer.distance(angle) for angle in np.linspace(pi / 2, pi / 3, 25)]
        if min(stepped) == 0.0:
            continue
        assert least.distance <= min(stepped) + 2e-4
        assert peer.distance(least.angle) == pytest.approx(least.distance, abs=2e-4)
