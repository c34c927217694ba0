"""Every unusual slab and frame against stepping with a collision library, over random openings."""

from __future__ import annotations

from math import pi

import pytest

from swingcheck.assembly import PartKind
from swingcheck.swing.swung import overlapped, swung, touch
from tests.meshes import assert_closed
from tests.openings import turning_of
from tests.turning import check_against_stepping
from tests.unusual import KINDS, assembled

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


@pytest.mark.parametrize("kind", KINDS)
def test_closing(kind: str) -> None:
    seen = [
        check_against_stepping(turning_of(assembled(kind, seed), pi / 2, 0.0))
        for seed in range(CLOSINGS)
    ]
    assert "touch" in seen


@pytest.mark.parametrize("kind", KINDS)
def test_opening_from_ajar(kind: str) -> None:
    for seed in range(OPENINGS):
        check_against_stepping(turning_of(assembled(kind, seed), pi / 6, pi))


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_unusual_is_met(kind: str) -> None:
    """The scenes of a kind try that kind: some of them meet what only it has."""
    touches = [
        touch(swing.assembly, swing.contact(start, stop))
        for swing in (swung(assembled(kind, seed)) for seed in range(CLOSINGS))
        for start, stop in ((pi / 2, 0.0), (pi / 6, pi))
        if not overlapped(swing.assembly, start)
    ]
    assert any(found is not None and OWN[kind](found) for found in touches)


@pytest.mark.parametrize("kind", KINDS)
def test_every_part_is_closed(kind: str) -> None:
    for seed in range(CLOSINGS):
        assembly = assembled(kind, seed)
        for part in (*assembly.moving, *assembly.fixed):
            if part.hinge is None:
                assert_closed(part.solid)
