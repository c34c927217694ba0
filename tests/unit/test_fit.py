"""The fit: each reason against hanging a door that swings, on openings of its own."""

from __future__ import annotations

from math import radians, tan
from typing import Any

import pytest

from swingcheck.model import Access, Casing, Finish, Obstacle, Rabbet, Site, Wanted
from swingcheck.swing.check import check
from swingcheck.swing.fit import with_chance
from swingcheck.swing.found import Code, Fit, FitWord, Verdict
from tests.factory import LOCK, bevel, changed, plain_scene

GOOD: dict[str, Any] = {"slab__width": (29.9375,), "slab__hinge_edge": bevel(2.0)}


MARGIN = check(plain_scene(**GOOD)).margins.hinge[0]
"""The hinge margin of its bevelled edge, inches."""


def fit(**changes: Any) -> Fit:
    """Return the fit of the plain scene with changes; it must swing."""
    found = check(plain_scene(**{**GOOD, **changes}))
    assert found.verdict is Verdict.SWINGS
    return found.fit


def codes(**changes: Any) -> list[Code]:
    """Return the codes of a scene's reasons."""
    return [each.code for each in fit(**changes).reasons]


def test_even_margins_are_good_and_one_that_does_not_swing_bad_by_how_far() -> None:
    assert fit() == Fit()
    assert fit().word is FitWord.GOOD
    found = check(plain_scene(hinge__slab__setbacks=(0.34375,) * 3))
    reason = found.fit.reasons[0]
    assert found.closing is not None
    assert (reason.code, reason.code.word) == (Code.DOES_NOT_SWING, FitWord.BAD)
    assert reason.measured == found.closing.opening_at_strike > found.scene.swing.seat


@pytest.mark.parametrize("width", [1.0, 19.875, 28.75])
def test_a_slab_too_narrow_swings_and_leaves_its_stop_bare(width: float) -> None:
    found = fit(slab__width=(width,), slab__strike_edge=bevel(3.0))
    told = {each.code: each for each in found.reasons}
    bare = told[Code.NOT_COVERED]
    # The strike stop is 7/16 out of the leg; the narrow face stands back by the bevel.
    gap = 30.125 - MARGIN - width + 1.375 * tan(radians(3.0))
    assert bare.place == "strike stop"
    assert bare.measured == pytest.approx(0.4375 - gap, abs=1e-3)
    assert told[Code.TOO_WIDE].measured == pytest.approx(30.125 - MARGIN - width, abs=1e-3)
    assert found.word is FitWord.BAD


def test_a_lap_is_looked_at_all_along_and_the_head_stop_covered() -> None:
    """A leg that is out of plumb by 3/8 at the middle leaves the stop bare there alone."""
    legs = {"opening__strike_leg__plumb": (0.0, -0.375, 0.0), "slab__strike_edge": bevel(2.0)}
    assert Code.NOT_COVERED in codes(**legs)
    assert Code.NOT_COVERED not in codes(**legs, stop__projection=0.625)
    tops = {"hinge__jamb__tops": (7.3125, 38.0625, 68.8125), "slab__height": (79.375,) * 2}
    assert {each.place for each in fit(**tops, slab__head_margin=0.4375).reasons} == {"head stop"}
    assert {each.place for each in fit(slab__height=(69.75, 69.75)).reasons} == {"bottom"}
    shallow = Rabbet(hinge=(0.05,), strike=(0.05,), head=(0.05, 0.05))
    assert Code.OUTSIDE in codes(opening__rabbet=shallow)
    shallow = Rabbet(hinge=(0.1,), strike=(0.1,), head=(0.1, 0.1))
    assert Code.OUTSIDE not in codes(opening__rabbet=shallow)


def test_pins_that_do_not_go_together_are_bad_from_the_tolerance_on() -> None:
    def off(by: float) -> dict[str, Any]:
        return {"hinge__slab__depths": (0.097, 0.097 - by, 0.097)}

    assert Code.PINS not in codes(**off(0.03))
    reason = fit(**off(0.06)).reasons[0]
    assert (reason.code, reason.place) == (Code.PINS, "the middle hinge: off the pin line")
    # One of three pins that stands off takes the line a third of its way along.
    assert reason.measured == pytest.approx(0.06 * 2 / 3, abs=1e-3)
    high = fit(hinge__slab__tops=(6.875, 37.75, 68.375)).reasons[0]
    assert (high.code, high.place) == (Code.PINS, "the middle hinge: slab leaf too low")
    assert high.measured == pytest.approx(1 / 8)


def test_buried_barrels_and_short_latches_are_bad() -> None:
    near = Casing(thickness=0.75, width=2.25, reveal=0.0625)
    reason = fit(casing=near).reasons[0]
    # The barrel's 0.22 in about a pin 1/32 in out of the leg reaches past the reveal.
    assert reason.code is Code.BURIED
    assert reason.measured == pytest.approx(0.22 - 1 / 32 - 1 / 16, abs=2e-3)
    assert codes(casing=Casing(thickness=0.75, width=2.25, reveal=0.25)) == []
    post = Obstacle(name="post", corner=(-6.0, 0.1, 0.0), size=(5.9, 2.0, 80.0))
    assert Code.BURIED in codes(obstacles=(post,))
    narrow = {"slab__width": (29.625,), "lock": LOCK}
    assert Code.LATCH not in codes(**narrow)
    short = fit(**narrow, lock__throw=0.375)
    assert [each.place for each in short.reasons if each.code is Code.LATCH] == ["latch"]


@pytest.mark.parametrize(("coats", "tight"), [(2, False), (4, True)])
def test_the_whole_swing_is_held_against_the_paint(coats: int, tight: bool) -> None:
    """Closed it is 0.041 off the strike leg, on the way 0.024: under 1/64 and four coats a face."""
    finish = Finish(slab=coats, jamb=coats, film=0.0015)
    found = fit(slab__width=(30.0,), slab__strike_edge=bevel(1.8), finish=finish)
    assert [each.code for each in found.reasons] == ([Code.CLEARANCE] if tight else [])
    if tight:
        reason = found.reasons[0]
        assert reason.measured is not None
        assert reason.measured < MARGIN - 1 / 32
        assert reason.angle > 0.0
        assert (reason.place, reason.limit) == ("strike leg", pytest.approx(1 / 64 + 8 * 0.0015))
        assert found.word is FitWord.TIGHT


def test_what_is_wanted_is_kept_and_flush_measured_at_both_edges() -> None:
    loose = Wanted(least_margin=0.1, flush=0.01, strike=0.25, bottom=0.75)
    told = {each.place for each in fit(wanted=loose).reasons}
    assert told == {"hinge margin", "strike margin", "bottom margin"}
    # A strike rabbet 3/16 shallower stands the strike edge proud by it, less what turns.
    scene = plain_scene(**GOOD, opening__rabbet__strike=(1.25,))
    found = check(scene)
    assert max(found.margins.flush) < 1 / 64
    assert min(found.margins.flush_strike) == pytest.approx(0.1875, abs=0.01)
    assert Code.FLUSH in [each.code for each in found.fit.reasons]


def test_rules_are_held_to_where_the_site_asks() -> None:
    assert codes(site=Site()) == []
    narrow = fit(site=Site(exit=True)).reasons
    assert [(each.code, each.place) for each in narrow] == [(Code.RULE, "clear width")]
    wide: dict[str, Any] = {"opening__width": (36.125,), "slab__width": (35.9375,)}
    assert codes(**wide, site=Site(exit=True, access=Access.US)) == []
    handle = changed(plain_scene(lock=LOCK), lock__height=50.0).lock
    told = fit(**wide, lock=handle, site=Site(access=Access.US)).reasons
    assert [(each.place, each.limit) for each in told] == [("handle over the floor", 48.0)]
    fire = {"site": Site(fire_rated=True)}
    assert {each.place for each in fit(**fire, slab__width=(29.9,)).reasons} == {"widest margin"}
    steel = {**fire, "slab__construction": "hollow metal", "slab__width": (29.9,)}
    assert codes(**steel) == []


def test_a_chance_under_95_is_tight_and_tells_of_how_many() -> None:
    for chance, word in ((0.949, FitWord.TIGHT), (0.95, FitWord.GOOD)):
        found = with_chance(Fit(), chance, 400)
        assert (found.word, found.chance, found.drawn) == (word, chance, 400)
