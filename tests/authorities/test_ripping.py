"""Slab sizes and running marks against the trade's own.

Sources, and how each was reached:

- Running marks, 1/8 in off a width W evenly: common practice, no source.
- The Building Trades Pocketbook (International Textbook Co., c. 1899, public
  domain), "Doors": about 3/32 in each side, a door about 3/16 in less than the
  width between the jambs; bevel of 1/8 in in 2 1/4 in. Read.
- ANSI/SDI A250.8, bevel of 1/8 in in 2 in: read in secondary text only; drops
  across the thickness are derived.
- NFPA 80: 3/4 in off the bottom of a rated wood slab as job-site work. Read in
  commentary only.
"""

from __future__ import annotations

from math import degrees

import pytest

from swingcheck.bench.concerns import Concern
from swingcheck.bench.ripping import ripping
from swingcheck.model import Delivered, Edge, EdgeShape, Wanted
from swingcheck.units import parsed_angle
from tests.factory import SQUARE, bevel, plain_scene, square_scene


@pytest.mark.parametrize("width", [24.0, 30.0, 31.875, 36.0])
@pytest.mark.parametrize("edges", [SQUARE, bevel(2), bevel(3.576)])
def test_an_eighth_off_evenly(width: float, edges: Edge) -> None:
    """Common practice, no source: W - 1/16 after the first edge, W - 1/8 after the second."""
    scene = plain_scene(
        slab__width=(width - 1 / 8,),
        slab__hinge_edge=edges,
        slab__strike_edge=edges,
        slab__delivered=Delivered(width=width, height=80.0),
    )
    first, second = ripping(scene).edges
    assert {mark.left for mark in first.marks} == {width - 1 / 16}
    assert {mark.left for mark in second.marks} == {width - 1 / 8}


def test_width_of_the_pocketbook() -> None:
    """Read: 3/32 in each side. Between jambs of 36 in that is 35 13/16 in."""
    # Leaves let in 1/32 in less than flush, 1/64 in each, leave 3/32 in at the hinges.
    scene = plain_scene(
        opening__width=(36.0,),
        slab__hinge_edge=SQUARE,
        hinge__jamb__depths=(0.097 - 1 / 64,) * 3,
        hinge__slab__depths=(0.097 - 1 / 64,) * 3,
        wanted=Wanted(strike=3 / 32),
    )
    cuts = ripping(scene)
    assert cuts.margins.hinge == pytest.approx((3 / 32,) * 3)
    assert cuts.finished.width == pytest.approx((35 + 13 / 16,))


@pytest.mark.parametrize(
    ("words", "tilt"),
    [
        ("1/8 in 2", 3.576),  # ANSI/SDI A250.8
        ("1/8 in 2 1/4", 3.180),  # The Building Trades Pocketbook
        ("1/4 in 2", 7.125),  # the same, "or more" on narrow doors
    ],
)
def test_saw_tilt_of_the_published_bevels(words: str, tilt: float) -> None:
    edge = Edge(shape=EdgeShape.BEVEL, bevel=parsed_angle(words))
    cut = ripping(plain_scene(slab__strike_edge=edge)).edges[1]
    assert degrees(cut.tilt) == pytest.approx(tilt, abs=5e-4)


@pytest.mark.parametrize(
    ("thickness", "drop"), [(1.375, 0.0859), (1.75, 0.1094), (2.0, 0.1250), (2.25, 0.1406)]
)
def test_drop_across_the_thickness_at_one_in_sixteen(thickness: float, drop: float) -> None:
    """Derived: the thickness over 16, four decimals."""
    edge = Edge(shape=EdgeShape.BEVEL, bevel=parsed_angle("1/8 in 2"))
    scene = plain_scene(slab__thickness=thickness, slab__strike_edge=edge)
    cut = ripping(scene).edges[1]
    assert cut.drop == pytest.approx(drop, abs=5e-5)
    hinge_drop = ripping(scene).edges[0].drop
    assert cut.marks[0].left - cut.marks[0].narrow == pytest.approx(cut.drop + hinge_drop)


@pytest.mark.parametrize(("off", "is_past"), [(0.75, False), (0.78125, True)])
def test_bottom_of_a_rated_slab(off: float, is_past: bool) -> None:
    """NFPA 80, in commentary: 3/4 in off the bottom."""
    scene = square_scene(
        site__fire_rated=True,
        slab__width=(30.0,),
        slab__delivered=Delivered(width=30.0, height=79.75 + off),
    )
    listed = [warned for warned in ripping(scene).warned if warned.concern is Concern.LISTED]
    assert bool(listed) is is_past
