"""Every unusual slab, frame and hanging against stepping with a collision library, at random."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from swingcheck.assembly import PartKind
from swingcheck.swing.swung import overlapped, swung, touch
from tests.meshes import assert_closed
from tests.openings import turning_of
from tests.peers import Peer
from tests.turning import assert_least, check_against_stepping, contact_of, least_of
from tests.unusual import HANGINGS, UNUSUAL, assembled

CLOSINGS, OPENINGS = 4, 3

# For each kind: what is met, or what meets it, that only this kind has.
OWN = {
    "lip": lambda touch: touch.feature.startswith("lip"),
    "bow": lambda touch: "stop" in touch.against,
    "bevelled": lambda touch: touch.against == "head",
    "raked": lambda touch: touch.against == "head",
    "arched": lambda touch: touch.against in ("head", "head stop"),
    "steel": lambda touch: touch.by == "moulding" and touch.against in ("hinge leg", "wall"),
    "threshold": lambda touch: touch.against == "threshold",
    "carpet": lambda touch: touch.against == "carpet",
    "astragal": lambda touch: touch.by == "astragal",
    "applied": lambda touch: touch.by_kind is PartKind.APPLIED,
    "handle": lambda touch: touch.by_kind is PartKind.HANDLE,
}


@pytest.mark.parametrize("kind", [*UNUSUAL, *HANGINGS])
def test_closing_and_opening_from_ajar(kind: str) -> None:
    ways = [(pi / 2, 0.0, CLOSINGS), (pi / 6, pi, OPENINGS)]
    if kind == "centre":
        ways.append((pi / 2, -pi / 2, CLOSINGS))  # to the push side
    seen = [
        check_against_stepping(turning_of(assembled(kind, seed), start, stop))
        for start, stop, count in ways
        for seed in range(count)
    ]
    assert "touch" in seen[:CLOSINGS]


@pytest.mark.parametrize("kind", ["rising", "offset", "pair", "dutch"])
def test_least_distances_hold_at_every_step(kind: str) -> None:
    """No step is nearer than what is certified, and the place that is told is as near as told."""
    turnings = [turning_of(assembled(kind, seed), pi / 2, pi / 3) for seed in range(3)]
    free = [turning for turning in turnings if contact_of(turning) is None]
    assert free
    for turning in free:
        least = min(least_of(turning, turning.stop), key=lambda near: near.distance)
        assert_least(least, Peer(turning), np.linspace(pi / 2, pi / 3, 25), 2e-4)


@pytest.mark.parametrize("kind", UNUSUAL)
def test_what_is_unusual_is_closed_and_met(kind: str) -> None:
    """The scenes of a kind try that kind: some of them meet what only it has."""
    touches = [
        touch(swing.assembly, swing.contact(start, stop))
        for swing in (swung(assembled(kind, seed)) for seed in range(CLOSINGS))
        for start, stop in ((pi / 2, 0.0), (pi / 6, pi))
        if not overlapped(swing.assembly, start)
    ]
    assert any(found is not None and OWN[kind](found) for found in touches)
    for seed in range(CLOSINGS):
        assembly = assembled(kind, seed)
        for part in (*assembly.moving, *assembly.fixed):
            if part.hinge is None:
                assert_closed(part.solid)
