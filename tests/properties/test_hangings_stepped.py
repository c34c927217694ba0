"""Every way of hanging a slab against stepping with a collision library, over random openings."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from tests.hangings import KINDS, assembled
from tests.openings import turning_of
from tests.peers import Peer
from tests.turning import assert_least, check_against_stepping, contact_of, least_of


@pytest.mark.parametrize("kind", KINDS)
def test_closing_and_opening_from_ajar(kind: str) -> None:
    turnings = [turning_of(assembled(kind, seed), pi / 2, 0.0) for seed in range(5)]
    assert "touch" in [check_against_stepping(turning) for turning in turnings]
    for seed in range(4):
        check_against_stepping(turning_of(assembled(kind, seed), pi / 6, pi))


def test_a_centre_pivot_to_the_push_side() -> None:
    for seed in range(4):
        check_against_stepping(turning_of(assembled("centre", seed), pi / 2, -pi / 2))


@pytest.mark.parametrize("kind", ["rising", "offset", "pair", "dutch"])
def test_least_distances_hold_at_every_step(kind: str) -> None:
    """No step is nearer than what is certified, and the place that is told is as near as told."""
    turnings = [turning_of(assembled(kind, seed), pi / 2, pi / 3) for seed in range(3)]
    free = [turning for turning in turnings if contact_of(turning) is None]
    assert free
    for turning in free:
        least = min(least_of(turning, turning.stop), key=lambda near: near.distance)
        assert_least(least, Peer(turning), np.linspace(pi / 2, pi / 3, 25), 2e-4)
