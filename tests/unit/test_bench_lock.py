"""Lock marks, held to the solids that the lock is cut from."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.assembly import assemble
from swingcheck.assembly.legs import strike_leg_plan
from swingcheck.assembly.slab import bore_centre, slab_solid
from swingcheck.bench.lock import LockConcern, lock_marks
from swingcheck.model import Deadbolt, Edge, Scene
from tests.factory import LOCK, SQUARE, bevel, changed, plain_scene, rounded
from tests.openings import random_opening

DEADBOLT = Deadbolt(
    above=5.5,
    backset=2.375,
    bore=2.125,
    edge_bore=1.0,
    face_length=2.25,
    face_width=1.0,
    face_depth=0.125,
)


def locked(**changes: object) -> Scene:
    return plain_scene(lock=LOCK, **changes)


@pytest.mark.parametrize("edge", [SQUARE, bevel(2), bevel(3.576), bevel(-2), rounded(3.0)])
def test_backsets_are_where_the_bore_is_in_the_solid(edge: Edge) -> None:
    scene = locked(slab__strike_edge=edge)
    latch = lock_marks(scene)[0]
    vertices = slab_solid(scene).vertices
    centre = bore_centre(scene, LOCK)
    # The edge at each face is the farthest corner on it, away from the bores.
    wide = vertices[np.abs(vertices[:, 1]) < 1e-9][:, 0].max()
    narrow = vertices[np.abs(vertices[:, 1] + scene.slab.thickness) < 1e-9][:, 0].max()
    assert latch.backset.wide == pytest.approx(wide - centre[0], abs=1e-9)
    assert latch.backset.narrow == pytest.approx(narrow - centre[0], abs=1e-9)
    assert latch.backset.middle == LOCK.backset
    assert latch.from_bottom == pytest.approx(centre[2])
    assert latch.from_top == pytest.approx(scene.slab.height[1] - centre[2])


def test_face_lies_in_the_middle_of_the_leaning_edge() -> None:
    latch = lock_marks(locked(slab__strike_edge=bevel(5)))[0]
    along = 1.375 / np.cos(radians(5))
    assert latch.face_near + latch.face_far == pytest.approx(along)
    assert latch.edge_centre == pytest.approx(along / 2)
    assert latch.face_far - latch.face_near == pytest.approx(LOCK.face_width)
    assert latch.face_bottom - latch.face_top == pytest.approx(LOCK.face_length)


@given(st.integers(0, 10_000))
def test_strike_is_where_the_bolt_meets_the_leg(seed: int) -> None:
    scene = changed(random_opening(seed), lock=LOCK)
    place = lock_marks(scene)[0].strike
    assembly = assemble(scene)
    # Back from the strike: a point on the leg's face, seen from the slab.
    leg = strike_leg_plan(scene.opening, place.up)
    met = np.array([*leg.at(place.from_edge, 0.0), place.up])
    rotation, shift = assembly.place[:, :3], assembly.place[:, 3]
    in_slab = rotation.T @ (met - shift)
    centre = bore_centre(scene, LOCK)
    assert in_slab[1:] == pytest.approx(centre[1:], abs=1e-6)
    assert in_slab[0] - centre[0] - LOCK.backset == pytest.approx(place.gap, abs=1e-6)
    assert place.from_stop == pytest.approx(leg.rabbet - place.from_edge)
    assert place.hold == pytest.approx(LOCK.throw - place.gap)
    assert place.up + place.down == pytest.approx(scene.opening.height[1])


def test_a_bolts_gap_and_how_far_it_reaches() -> None:
    # The edge at mid-thickness stands T / 2 tan(bevel) back from the strike margin.
    scene = locked(slab__strike_edge=bevel(3), slab__hinge_edge=SQUARE)
    strike_margin = 30.125 - 1 / 16 - 29.875
    place = lock_marks(scene)[0].strike
    assert place.gap == pytest.approx(strike_margin + 1.375 / 2 * tan(radians(3)))
    # Out to the jamb's edge, with which the wide face is flush, and 1/8 in: from memory.
    assert place.lip == pytest.approx(1.375 / 2 + 1 / 8)

    def concerns(**changes: object) -> tuple[LockConcern, ...]:
        return lock_marks(changed(locked(slab__width=(29.96875,)), **changes))[0].concerns

    assert not concerns()
    assert LockConcern.MISSES in concerns(slab__width=(29.25,))
    assert LockConcern.SHALLOW in concerns(slab__width=(29.6875,))
    assert LockConcern.REVEAL in concerns(slab__width=(29.875,))
    assert LockConcern.BREAKS_OUT in concerns(lock__backset=1.0)
    assert LockConcern.FACE_TOO_WIDE in concerns(lock__face_width=1.4)
    assert LockConcern.BORE_TOO_WIDE in concerns(lock__edge_bore=1.5)


def test_a_bore_past_the_stile_a_deadbolt_and_no_lock() -> None:
    scene = locked()
    # Backset and half the bore reach 3 7/16 in, and as much as the bevel adds.
    assert LockConcern.PAST_STRIP not in lock_marks(scene, strip=4.5)[0].concerns
    assert LockConcern.PAST_STRIP in lock_marks(scene, strip=3.4375)[0].concerns
    scene = plain_scene(lock=replace(LOCK, deadbolt=DEADBOLT))
    latch, bolt = lock_marks(scene)
    assert (latch.name, bolt.name) == ("latch", "deadbolt")
    assert latch.from_top - bolt.from_top == pytest.approx(5.5)
    assert bolt.strike.up - latch.strike.up == pytest.approx(5.5)
    assert bolt.strike.hold - latch.strike.hold == pytest.approx(0.5)
    assert lock_marks(plain_scene()) == ()
