"""Lock preparations against the published ones.

Sources, and how each was reached:

- ALOA dictionary, "160 prep": 2 1/8 in cross bore, 2 3/8 in backset, 1 in edge
  bore, edge mortise 1 x 2 1/4 in. Read.
- Strike centre from the stop, half the thickness and the gap to the stop:
  derived; 15/16 in for 1 3/4 in and 1/16.
- Latch throw 1/2 in, latch face to strike at most 1/8 in: read in secondary
  text only.
- Deadbolt 5 1/2 in over the latch: read informally.
"""

from __future__ import annotations

import pytest

from swingcheck.bench.lock import LockConcern, lock_marks
from swingcheck.model import Edge, EdgeShape, Lock
from swingcheck.scenefile import read_scene
from swingcheck.units import parsed_angle
from tests.factory import SQUARE, plain_scene, square_scene

ONE_IN_SIXTEEN = Edge(shape=EdgeShape.BEVEL, bevel=parsed_angle("1/8 in 2"))

PREP_160 = Lock(
    backset=2.375,
    bore=2.125,
    edge_bore=1.0,
    height=36.0,
    face_length=2.25,
    face_width=1.0,
    face_depth=1 / 8,
)


def test_160_prep_is_what_a_scene_takes_for_a_lock() -> None:
    assert read_scene("[opening]\nwidth = 30\nheight = 80\n[lock]\n").lock == PREP_160


@pytest.mark.parametrize("edge", [SQUARE, ONE_IN_SIXTEEN])
def test_160_prep_leaves_wood_about_its_bores(edge: Edge) -> None:
    latch = lock_marks(plain_scene(lock=PREP_160, slab__strike_edge=edge))[0]
    assert pytest.approx(latch.backset.middle - latch.lock.bore / 2) == 2.375 - 2.125 / 2
    assert latch.face_near > 0
    assert latch.face_far < 1.375 / 0.998
    assert LockConcern.BREAKS_OUT not in latch.concerns


@pytest.mark.parametrize(("thickness", "expected"), [(1.75, 15 / 16), (1.375, 3 / 4)])
def test_strike_centre_from_the_stop(thickness: float, expected: float) -> None:
    scene = square_scene(
        lock=PREP_160,
        slab__thickness=thickness,
        opening__rabbet__hinge=(thickness + 1 / 16,),
        opening__rabbet__strike=(thickness + 1 / 16,),
    )
    assert lock_marks(scene)[0].strike.from_stop == pytest.approx(expected)


@pytest.mark.parametrize(("margin", "concern"), [(1 / 8, None), (9 / 64, LockConcern.REVEAL)])
def test_most_between_latch_face_and_strike(margin: float, concern: LockConcern | None) -> None:
    width = 30.125 - 1 / 16 - margin
    scene = square_scene(lock=PREP_160, slab__width=(width,))
    latch = lock_marks(scene)[0]
    assert latch.lock.throw == 1 / 2
    assert latch.strike.gap == pytest.approx(margin)
    assert latch.strike.hold == pytest.approx(1 / 2 - margin)
    assert latch.concerns == ((concern,) if concern else ())
