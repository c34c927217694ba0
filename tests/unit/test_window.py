"""Windows whose ends have a closed form, windows in several pieces, and windows with nothing in."""

from __future__ import annotations

from dataclasses import replace
from math import asin, cos, hypot, radians, sin, sqrt

import pytest

from swingcheck.advice.bevel import least_strike_margin, strike_run_out
from swingcheck.advice.judge import Judge
from swingcheck.advice.search import crossing
from swingcheck.advice.setback import recommended
from swingcheck.advice.window import END_IN, End, Fault, Interval, Window, window_of
from swingcheck.assembly import bare_assembly
from swingcheck.chance.measurements import Along, Measurement, measurement
from swingcheck.model import EdgeShape, Obstacle, Scene, Wanted
from swingcheck.swing.found import Verdict
from swingcheck.swing.margins import pins_found
from swingcheck.swing.trial import Limit, Trial, trial
from tests.factory import SQUARE, changed, plain_scene, square_scene


def ends(found: Window) -> list[tuple[float, float]]:
    return [(each.low.value, each.high.value) for each in found.works]


def test_limits_pinches_and_strikes_end_windows_in_closed_form() -> None:
    # Slab to hinge stop is sj - ss, and the wide face stands at T - D + sj - ss.
    wanted = Wanted(hinge_stop=0.04, flush=0.05)
    scene = square_scene(wanted=wanted, opening__width=(30.5,))
    found = window_of(Judge(scene, measurement(scene, "hinge.slab.setback")))
    (interval,) = found.works
    assert interval.high.value == pytest.approx(0.3125 - 0.04, abs=2e-9)
    assert interval.low.value == pytest.approx(0.3125 - 0.0625 - 0.05, abs=2e-9)
    assert interval.high.beyond is not None and interval.low.beyond is not None
    assert interval.high.beyond.limit is Limit.HINGE_STOP
    assert interval.low.beyond.limit is Limit.PROUD
    anything = Wanted(hinge_stop=-9.0, flush=9.0, least_margin=-9.0)
    scene = square_scene(wanted=anything, opening__width=(30.5,))
    found = window_of(Judge(scene, measurement(scene, "hinge.slab.setback")))
    (interval,) = found.works
    high = interval.high
    assert high.value == pytest.approx(pinch_setback(1 / 32), abs=END_IN)
    assert high.beyond is not None and high.beyond.touch is not None
    assert high.beyond.verdict is Verdict.PINCHES
    assert high.beyond.touch.against == "hinge stop"
    assert high.beyond.touch.opening_at_strike == pytest.approx(1 / 32, abs=1e-3)
    # The narrow-face arris sweeps hypot(L, T + a); it meets the leg's edge at sqrt(R^2 - p^2).
    scene = square_scene(wanted=anything)
    found = window_of(Judge(scene, measurement(scene, "slab.width")))
    (interval,) = found.works
    across, proud, pin = interval.high.value + 1 / 32, 0.625, 1 / 32
    meets = sqrt(across**2 + (1.375 + proud) ** 2 - proud**2)
    assert meets + pin == pytest.approx(30.125, abs=END_IN)
    assert interval.high.beyond is not None
    assert interval.high.beyond.verdict is Verdict.STRIKES
    assert interval.low.beyond is None
    scene = changed(scene, opening__width=(29.98,))
    found = window_of(Judge(scene, measurement(scene, "slab.strike_edge.bevel")))
    (interval,) = found.works
    across, room = 29.875 + 1 / 32, 29.98 - 1 / 32
    taken_off = across - sqrt(room**2 + 0.625**2 - (1.375 + 0.625) ** 2)
    assert sin(interval.low.value) / cos(interval.low.value) * 1.375 == pytest.approx(
        taken_off, abs=1e-6
    )


def pinch_setback(seat: float) -> float:
    """Return the setback of a square slab that meets the hinge stop as it comes to its seat.

    Turned by t from closed, either its face comes to lie on the stop's arris,
    c across from the pin and l + sj behind it: c sin t + (l + sj) cos t = l + ss;
    or its own arris, h across from the pin, comes to the stop's face:
    (l + ss) cos t - h sin t = l + sj. The one at the lesser setback is met first.
    """
    reach, across, own, far = 1.75, 0.4375 - 1 / 32, 1 / 32, hypot(29.875 + 1 / 32, 0.625)
    t = 2 * asin(seat / (2 * far))
    face_on_arris = across * sin(t) + (reach + 0.3125) * cos(t) - reach
    arris_on_face = (reach + 0.3125 + own * sin(t)) / cos(t) - reach
    return min(face_on_arris, arris_on_face)


def test_an_empty_window_says_what_breaks_or_what_is_touched() -> None:
    # A deep rabbet: flush and close to the stop rule each other out.
    scene = square_scene(opening__rabbet__hinge=(1.75,), opening__width=(30.5,))
    scene = changed(scene, opening__rabbet__strike=(1.75,), opening__rabbet__head=(1.75, 1.75))
    scene = changed(scene, hinge__jamb__setbacks=(0.75,) * 3)
    scene = replace(scene, wanted=Wanted(hinge_stop=0.4, flush=0.01))
    found = window_of(Judge(scene, measurement(scene, "hinge.slab.setback")))
    assert found.works == () and found.swings != ()
    assert found.miss is not None
    # Clearance c must be over 0.4 while c - 0.375 is within 0.01: halfway, short by 0.0075 each.
    assert 0.75 - found.miss.value == pytest.approx(0.3925, abs=1e-3)
    assert {fault.limit for fault in found.miss.faults} == {Limit.HINGE_STOP, Limit.PROUD}
    assert all(fault.short == pytest.approx(0.0075, abs=1e-3) for fault in found.miss.faults)
    chest = Obstacle(name="chest", corner=(10.0, 12.0, 0.0), size=(4.0, 4.0, 30.0))
    scene = plain_scene(obstacles=(chest,), hinge__corner_radius=0.0)
    found = window_of(Judge(scene, measurement(scene, "hinge.slab.setback")))
    assert found.works == found.swings == ()
    assert found.miss is not None
    (fault,) = found.miss.faults
    assert fault.verdict is Verdict.FOULS
    assert fault.touch is not None and fault.touch.against == "chest"


def wavy(reach: float) -> Measurement:
    """Return a dimension that takes the slab's setback up and down again, twice over its span."""

    class Wavy(Measurement):
        def value(self, scene: Scene) -> float:
            return 0.0

        def changed(self, scene: Scene, value: float) -> Scene:
            setback = 0.25 + reach * sin(value) ** 2
            return changed(scene, hinge__slab__setbacks=(setback,) * 3)

        def span(self, scene: Scene) -> tuple[float, float]:
            return 0.0, 6.0

    return Wavy(
        key="wavy",
        words="a setback that goes and comes",
        along=(Along(path="hinge.slab.setbacks"),),
        more="{by}{to}",
        less="{by}{to}",
    )


def test_a_window_in_pieces_is_told_piece_by_piece() -> None:
    wanted = Wanted(hinge_stop=-9.0, flush=9.0, least_margin=-9.0)
    scene = square_scene(
        wanted=wanted,
        opening__width=(30.5,),
        opening__hinge_leg__cross=(0.0, 1e-12),  # too little to matter: keeps the plan out of it
    )
    judge = Judge(scene, wavy(0.2))
    assert judge.swings_in_plan([0.0]) is None
    found = window_of(judge)
    turn = asin(sqrt((pinch_setback(1 / 32) - 0.25) / 0.2))
    pi = 3.141592653589793
    expected = [(0.0, turn), (pi - turn, pi + turn), (2 * pi - turn, 6.0)]
    assert len(found.works) == 3
    for got, wanted_ends in zip(ends(found), expected, strict=True):
        assert got == pytest.approx(wanted_ends, abs=1e-5)


def test_a_thin_window_is_found_and_pins_keep_their_line() -> None:
    # The pin's line leans: only a little of the span is free, between two places looked at.
    anything = Wanted(hinge_stop=0.0, flush=0.002, least_margin=-9.0)
    scene = square_scene(wanted=anything, opening__width=(30.5,))
    scene = changed(scene, opening__hinge_leg__cross=(0.0, 1e-12))
    found = window_of(Judge(scene, measurement(scene, "hinge.jamb.setback")))
    (interval,) = found.works
    assert interval.width == pytest.approx(0.004, abs=1e-6)
    assert found.works_now
    scene = plain_scene()
    found = window_of(Judge(scene, measurement(scene, "hinge.slab.setback[1]")))
    (interval,) = found.works
    assert interval.low.beyond is not None and interval.high.beyond is not None
    assert interval.low.beyond.limit is Limit.PINS is interval.high.beyond.limit
    assert interval.high.value - 0.25 == pytest.approx(0.25 - interval.low.value, abs=1e-3)


def setting_of(scene: Scene, key: str, tolerance: float = 0.0) -> tuple[float, Window] | None:
    judge = Judge(scene, measurement(scene, key))
    found = window_of(judge)
    setting = recommended(judge, found, tolerance)
    return None if setting is None else (setting.value, found)


def test_the_setting_is_a_mark_near_the_middle_and_none_where_there_is_no_mark() -> None:
    scene = square_scene(hinge__slab__setbacks=(0.29,) * 3)
    got = setting_of(scene, "hinge.slab.setback")
    assert got is not None
    value, found = got
    (interval,) = found.works
    assert value * 32 == round(value * 32)
    assert interval.low.value + interval.width / 4 <= value <= interval.high.value
    for flush, has_mark in ((0.012, True), (0.003, False)):
        wanted = Wanted(hinge_stop=0.0, flush=flush)
        scene = square_scene(wanted=wanted, hinge__jamb__setbacks=(0.317,) * 3)
        scene = changed(scene, opening__width=(30.5,))
        got = setting_of(scene, "hinge.slab.setback")
        assert (got is not None) == has_mark
        if got is not None:
            value, found = got
            assert value * 64 == pytest.approx(round(value * 64), abs=1e-9)
            assert found.works[0].holds(value)


class Anything(Judge):
    """A judge to whom every setback works."""

    def __init__(self, scene: Scene) -> None:
        self.scene, self.measurement = scene, measurement(scene, "hinge.slab.setback")
        self.found = trial(scene)

    def fit(self, value: float) -> Trial:
        return self.found

    def fits(self, value: float) -> bool:
        return True


@pytest.mark.parametrize(
    ("low", "high", "value", "step"),
    [
        (0.244, 0.284, 17 / 64, 1 / 64),  # 1/4 and 9/32 lie in it, but in its outer quarters
        (0.2399, 0.28, 1 / 4, 1 / 32),  # 1/4 just off the outer quarter
        (0.251, 0.266, 17 / 64, 1 / 64),  # no mark in the middle half
    ],
)
def test_a_setting_keeps_a_quarter_of_the_window_off_its_ends(
    low: float, high: float, value: float, step: float
) -> None:
    judge = Anything(plain_scene())
    fault = Fault(verdict=Verdict.PINCHES)
    works = Interval(low=End(value=low, beyond=fault), high=End(value=high, beyond=fault))
    found = Window(
        measurement=judge.measurement,
        now=0.3,
        span=(0.1, 0.5),
        works=(works,),
        swings=(works,),
        miss=None,
    )
    setting = recommended(judge, found)
    assert setting is not None
    assert (setting.value, setting.step) == (pytest.approx(value), step)
    assert setting.room == pytest.approx(min(value - low, high - value))


def test_with_one_end_it_stays_clear_of_that_or_where_it_is() -> None:
    wide = square_scene(slab__width=(30.04,))
    got = setting_of(wide, "slab.width", tolerance=1 / 64)
    assert got is not None
    value, found = got
    end = found.works[0].high.value
    assert end - 1 / 64 - 1 / 32 < value <= end - 1 / 64
    assert value * 32 == round(value * 32)
    fine = plain_scene(slab__width=(29.803,))
    assert setting_of(fine, "slab.width", tolerance=1 / 64) is not None
    assert setting_of(fine, "slab.width", tolerance=1 / 64)[0] == 29.803  # type: ignore[index]


def test_false_position_closes_in_and_angles_are_solved_more_closely() -> None:
    calls: list[float] = []

    def measure(x: float) -> float:
        calls.append(x)
        return 1.0 - x**3

    inside, outside = crossing(measure, 0.0, 3.0, 1e-9)
    assert 0 < outside - inside <= 1e-9
    assert inside <= 1.0 <= outside + 1e-12
    assert len(calls) < 40
    scene = plain_scene(opening__width=(30.0,), slab__strike_edge=SQUARE)
    found = window_of(Judge(scene, measurement(scene, "slab.strike_edge.bevel")))
    assert found.works[0].low.value < radians(1.0)


@pytest.mark.parametrize("bevelled", [0.0, 2.0])
def test_the_margin_of_a_bevel_is_searched_where_the_arris_swings_widest(bevelled: float) -> None:
    scene = square_scene()
    edge = replace(scene.slab.strike_edge, shape=EdgeShape.BEVEL, bevel=radians(bevelled))
    swung = bare_assembly(changed(scene, slab__width=(24.0,), slab__strike_edge=edge))
    margin = least_strike_margin(scene, 24.0, radians(bevelled))
    assert margin > 0.01
    run_out = strike_run_out(swung.scene, 0.5, pins_found(swung).proud, swung.axis.point[1])
    assert run_out == pytest.approx(margin, abs=END_IN)
