"""Distances at many angles, against the certified search and against overlap."""

from __future__ import annotations

from functools import cache
from math import radians

import numpy as np
import pytest

from swingcheck.assembly import Assembly, assemble
from swingcheck.geometry.gaps import TurningGaps
from swingcheck.model import Leg
from swingcheck.swing.by_angle import WITHIN_IN, clearance_by_angle
from swingcheck.swing.check import check
from swingcheck.swing.found import Found
from swingcheck.swing.swung import overlapped, swung
from tests.factory import CASING, LOCK, linen_closet, plain_scene, square_scene

SCENES = {
    "plain": plain_scene(),
    "square": square_scene(),
    "measured": linen_closet(casing=CASING, lock=LOCK),
    "leaning": plain_scene(opening__hinge_leg=Leg(plumb=(0.0, 0.125), cross=(0.0, 0.25))),
    "pinching": plain_scene(hinge__jamb__setbacks=(0.2,) * 3),
}


@cache
def checked(name: str) -> tuple[Assembly, Found]:
    return assemble(SCENES[name]), check(SCENES[name])


def gaps(assembly: Assembly, within: float) -> TurningGaps:
    return TurningGaps(
        [part.solid for part in assembly.moving],
        [part.solid for part in assembly.fixed],
        point=assembly.axis.point,
        direction=assembly.axis.direction,
        within=within,
    )


@pytest.mark.parametrize("name", SCENES)
def test_gaps_are_the_certified_least_distances_and_a_table_keeps_them(name: str) -> None:
    assembly, result = checked(name)
    end = result.closing.angle if result.closing else 0.0
    swing = swung(assembly)
    rng = np.random.default_rng(4)
    angles = np.sort(end + np.concatenate([rng.uniform(1e-4, 0.05, 4), rng.uniform(0.05, 1.5, 4)]))
    for angle, row in zip(angles, gaps(assembly, 1.0).at(angles), strict=True):
        found = {c.against: c.least for c in swing.clearances(angle, angle, frozenset())}
        for part, distance in zip(assembly.fixed, row, strict=True):
            assert distance == pytest.approx(min(found[part.name], 1.0), abs=1e-9), part.name
    touches = [touch for touch in (result.closing, result.opening) if touch is not None]
    high = result.opening.angle if result.opening else assembly.scene.swing.limit
    table = clearance_by_angle(assembly, high=high, touches=touches)
    assert (np.diff(table.angles) > 0).all()
    assert table.angles[0] == 0.0
    assert table.angles[-1] == high
    assert np.array_equal(table.distances, gaps(assembly, WITHIN_IN).at(table.angles)) or touches
    for touch in touches:
        (row,) = table.distances[table.angles == touch.angle]
        for part in (touch.against, *touch.also):
            assert row[table.parts.index(part)] == 0.0
    rng = np.random.default_rng(5)
    asked = np.concatenate([rng.uniform(0.0, high, 30), rng.uniform(0.0, radians(8.0), 30)])
    asked.sort()
    truth = gaps(assembly, WITHIN_IN).at(asked)
    read = np.array([np.interp(asked, table.angles, line) for line in table.distances.T]).T
    assert np.abs(truth - read).max() <= table.between + 1e-4
    assert table.between < 0.004


def test_order_and_reach_change_no_gap_and_overlap_is_none() -> None:
    assembly = assemble(SCENES["measured"])
    angles = np.radians([0.5, 75.0, 2.0, 30.0, 0.1, 5.0])
    near, far = gaps(assembly, 1.0).at(angles), gaps(assembly, 3.0).at(angles)
    assert np.allclose(near, np.minimum(far, 1.0), atol=1e-12)
    again = gaps(assembly, 1.0).at(angles[::-1])[::-1]
    assert np.allclose(near, again, atol=1e-12)
    assembly = assemble(SCENES["pinching"])
    (row,) = gaps(assembly, 1.0).at([0.0])
    names = {part.name for part, d in zip(assembly.fixed, row, strict=True) if d == 0.0}
    assert "hinge stop" in names
    assert names == set(overlapped(assembly, 0.0))
