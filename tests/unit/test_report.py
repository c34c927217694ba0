"""What a report says, on results made by hand and on results of real checks."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from itertools import pairwise
from math import hypot, radians
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck.advice.answer import Answer
from swingcheck.advice.cure import Cure
from swingcheck.assembly import PartKind
from swingcheck.bench.cautions import cautions
from swingcheck.bench.weight import slab_weight
from swingcheck.model import Assumed, Floor, PivotKind, PivotSet, Scene
from swingcheck.report.card import Card, Entry, Table, card, thinned
from swingcheck.report.cause_words import strike_run_out
from swingcheck.report.causes import why
from swingcheck.report.data import data_of
from swingcheck.report.headline import headline
from swingcheck.report.second_slab import widest_foul
from swingcheck.report.text import text
from swingcheck.report.words import Lengths, heights
from swingcheck.swing.check import check
from swingcheck.swing.decide import SWINGS, counted, decide
from swingcheck.swing.found import (
    AxisFound,
    Clearance,
    CurvePoint,
    Foul,
    Found,
    Margins,
    Side,
    Together,
    Touch,
    Verdict,
)
from tests.factory import CASING, SQUARE, bevel, changed, plain_scene, rounded

INCHES = Lengths(unit="in")
MILLIMETRES = Lengths(unit="mm")


def touching(**changes: Any) -> Touch:
    """Return a pinch on the hinge stop, with changes."""
    base = Touch(
        angle=radians(6.72),
        opening_at_strike=3.497,
        against="hinge stop",
        against_kind=PartKind.HINGE_STOP,
        by="slab",
        by_kind=PartKind.SLAB,
        feature="narrow-face arris of the hinge edge",
        point=(0.4375, -1.4375, 40.0),
        span=(0.625, 80.375),
    )
    return replace(base, **changes)


def found(scene: Scene | None = None, verdict: Verdict | None = None, **changes: Any) -> Found:
    """Return what a check of a slab that swings would find, with changes, and what decides."""
    base = Found(
        scene=scene or plain_scene(),
        decided=SWINGS,
        blocked_by=(),
        closing=None,
        seated=False,
        opening=None,
        margins=Margins(
            hinge=(0.0625,) * 3,
            strike=(0.1875, 0.1875, 0.125),
            head=(0.125, 0.125),
            bottom=(0.625, 0.5),
            hinge_stop=(0.0625,) * 3,
            strike_stop=(0.0625,) * 3,
            flush=(0.0, 0.03125, -0.0625),
        ),
        clearances=(
            Clearance(
                against="hinge leg",
                against_kind=PartKind.HINGE_LEG,
                least=0.0625,
                angle=0.0,
            ),
            Clearance(
                against="strike leg",
                against_kind=PartKind.STRIKE_LEG,
                least=0.047,
                angle=radians(2.1),
            ),
        ),
        axis=AxisFound(
            point=(0.03125, 0.625, 40.0),
            direction=(0.0, 0.0, 1.0),
            proud=0.625,
            off_line=(0.001, 0.002, 0.001),
            apart=(0.001, 0.001, 0.001),
            up_down=(0.0, 0.0, 0.0),
        ),
        clear_width=27.625,
    )
    result = replace(base, **changes)
    beside = map(counted, result.others)
    decided = decide(result.scene, result.margins, result, result.push, beside)
    return replace(result, decided=replace(decided, verdict=verdict or decided.verdict))


def of_verdict(verdict: Verdict, **changes: Any) -> Found:
    """Return what a check comes to with a verdict: blocked, opening short, or closing short."""
    if verdict is Verdict.BLOCKED:
        return found(blocked_by=("sofa",), **changes)
    if verdict is Verdict.FOULS:
        return found(opening=touching(against="wall", against_kind=PartKind.WALL), **changes)
    seated = verdict is Verdict.SWINGS
    return found(verdict=verdict, closing=touching(), seated=seated, **changes)


def said(result: Found, unit: str | None = None, cures: tuple[Cure, ...] = ()) -> Card:
    """Return what is said of a check and its cures."""
    return card(Answer(found=result, cures=cures), unit)


def told(result: Found, cures: tuple[Cure, ...] = ()) -> dict[str, Any]:
    """Return a check and its cures as data."""
    return data_of(Answer(found=result, cures=cures))


def entry(result: Found, label: str, unit: str | None = None) -> str:
    """Return one entry's text, or an empty text where the card does not say it."""
    for item in said(result, unit).items:
        if isinstance(item, Entry) and item.label == label:
            return " ".join(item.texts)
    return ""


def row(result: Found, name: str, unit: str | None = None) -> tuple[str, ...]:
    """Return one row's cells of a card's tables."""
    tables = [item for item in said(result, unit).items if isinstance(item, Table)]
    return {label: cells for table in tables for label, cells in table.rows}[name]


class TestHeadline:
    def test_pinch_says_how_far_short_of_closed(self) -> None:
        result = found(verdict=Verdict.PINCHES, closing=touching())
        assert headline(result, INCHES) == (
            "Linen closet: PINCHES on the hinge stop, strike edge 3 1/2 in (3.497) short of closed"
        )

    def test_millimetres(self) -> None:
        result = found(verdict=Verdict.PINCHES, closing=touching())
        assert "88.8 mm short of closed" in headline(result, MILLIMETRES)

    def test_swing_names_what_is_nearest(self) -> None:
        line = headline(found(), INCHES)
        assert "SWINGS" in line
        assert "strike leg, by 3/64 in at 2.1 deg" in line

    def test_swing_onto_its_seat(self) -> None:
        seat = touching(opening_at_strike=0.02, angle=0.0007)
        line = headline(found(closing=seat, seated=True), INCHES)
        assert "SWINGS - closes on the hinge stop" in line
        assert "1/64 in (0.020)" in line

    def test_blocked_lists_everything_in_the_way(self) -> None:
        result = found(verdict=Verdict.BLOCKED, blocked_by=("sofa", "wall"))
        assert "BLOCKED" in headline(result, INCHES)
        assert "90 deg open, the slab overlaps the sofa and the wall" in headline(result, INCHES)

    def test_foul_is_told_by_how_far_it_opens(self) -> None:
        result = found(
            verdict=Verdict.FOULS,
            opening=touching(against="wall", against_kind=PartKind.WALL, angle=radians(84)),
        )
        assert headline(result, INCHES).endswith("FOULS the wall, 84 deg open")

    def test_hinges_that_bind_say_that_the_leaves_meet(self) -> None:
        leaves = touching(
            against="jamb leaf of the top hinge",
            against_kind=PartKind.JAMB_LEAF,
            by="slab leaf of the top hinge",
            by_kind=PartKind.SLAB_LEAF,
            feature="slab leaf of the top hinge",
        )
        line = headline(found(verdict=Verdict.HINGE_BOUND, closing=leaves), INCHES)
        assert "HINGE-BOUND - the leaves meet, strike edge" in line

    @pytest.mark.parametrize("verdict", list(Verdict))
    def test_every_verdict_shouts_its_own_word(self, verdict: Verdict) -> None:
        result = of_verdict(verdict)
        assert result.verdict is verdict
        assert verdict.value.upper() in headline(result, INCHES)


class TestWhy:
    def test_a_swing_needs_no_reason(self) -> None:
        assert why(found(), INCHES) == ""

    def test_pinch_names_what_touches_and_the_setbacks(self) -> None:
        scene = plain_scene(hinge__jamb__setbacks=(0.25,) * 3, hinge__slab__setbacks=(0.3125,) * 3)
        margins = replace(found().margins, hinge_stop=(-0.0625,) * 3)
        result = found(scene, verdict=Verdict.PINCHES, closing=touching(), margins=margins)
        words = why(result, INCHES)
        assert words.startswith(
            "The narrow-face arris of the hinge edge meets the hinge stop at 6.72 deg,"
            " 5/8 in to 80 3/8 in above the floor."
        )
        assert "1/16 in into the hinge stop:" in words
        assert "set back 1/4 in on the jamb and 5/16 in on the slab." in words

    def test_pinch_names_the_hinge_where_they_differ(self) -> None:
        scene = plain_scene(hinge__jamb__setbacks=(0.3125, 0.3125, 0.25))
        margins = replace(found().margins, hinge_stop=(0.06, 0.03, -0.01))
        result = found(scene, verdict=Verdict.PINCHES, closing=touching(), margins=margins)
        words = why(result, INCHES)
        assert "into the hinge stop at the bottom" in words
        assert "1/4 in on the jamb and 1/4 in on the slab at the third hinge" in words

    def test_strike_sets_the_run_out_against_the_margin(self) -> None:
        scene = plain_scene(slab__width=(30.04,), slab__strike_edge=SQUARE, slab__hinge_edge=SQUARE)
        result = check(scene)
        assert result.verdict is Verdict.STRIKES
        # Closed form, pin 1/32 outside the hinge edge and 5/8 proud of a flush wide face.
        along = 30.04 + 0.03125
        run_out = (along**2 + 1.375**2 + 2 * 1.375 * 0.625) ** 0.5 - along
        words = why(result, INCHES)
        assert "the strike edge is square" in words.lower()
        assert f"({run_out:.3f})" in words
        assert f"({30.125 - 0.0625 - 30.04:.3f})" in words

    def test_strike_of_a_slab_that_is_too_wide(self) -> None:
        margins = replace(found().margins, strike=(0.01, -0.0625, 0.02))
        strike = touching(against="strike leg", against_kind=PartKind.STRIKE_LEG)
        words = why(found(verdict=Verdict.STRIKES, closing=strike, margins=margins), INCHES)
        assert "-1/16 in at the middle" in words and "too wide" in words

    def test_strike_names_a_twisted_leg(self) -> None:
        scene = plain_scene(opening__strike_leg__twist=(radians(5.0),))
        strike = touching(against="strike leg", against_kind=PartKind.STRIKE_LEG)
        words = why(found(scene, verdict=Verdict.STRIKES, closing=strike), INCHES)
        assert "strike leg is twisted 5 deg" in words
        assert "1/8 in (0.120) nearer" in words  # 1.375 tan 5 deg

    def test_leaves_that_meet_are_laid_to_twist_and_bevel(self) -> None:
        leaves = touching(
            against="jamb leaf of the top hinge",
            against_kind=PartKind.JAMB_LEAF,
            by="slab leaf of the top hinge",
            by_kind=PartKind.SLAB_LEAF,
            feature="slab leaf of the top hinge",
        )
        scene = plain_scene(opening__hinge_leg__twist=(radians(4.0),), slab__hinge_edge=bevel(1.0))
        words = why(found(scene, verdict=Verdict.HINGE_BOUND, closing=leaves), INCHES)
        assert words.startswith("The slab leaf of the top hinge meets the jamb leaf of the top")
        assert "twisted 4 deg" in words and "1 deg of bevel" in words
        assert "turn 3 deg past parallel" in words
        assert "turn 2.05 deg" in words  # (1/16) / (1 3/4) radians

    def test_hinge_leg_met_by_a_square_edge_on_a_twisted_leg(self) -> None:
        leg = touching(against="hinge leg", against_kind=PartKind.HINGE_LEG)
        scene = plain_scene(opening__hinge_leg__twist=(radians(3.0),), slab__hinge_edge=SQUARE)
        words = why(found(scene, verdict=Verdict.HINGE_BOUND, closing=leg), INCHES)
        assert "hinge edge is square" in words
        assert "(0.072) nearer the leg" in words  # 1.375 tan 3 deg

    def test_hinge_leg_met_because_the_leaves_are_let_in_too_deep(self) -> None:
        leg = touching(against="hinge leg", against_kind=PartKind.HINGE_LEG)
        scene = plain_scene(hinge__slab__depths=(0.1875,) * 3, slab__hinge_edge=SQUARE)
        margins = replace(found().margins, hinge=(-0.028,) * 3)
        result = found(scene, verdict=Verdict.HINGE_BOUND, closing=leg, margins=margins)
        words = why(result, INCHES)
        assert "3/16 in on the slab" in words
        # 2 x 0.097 + 0.0625 - 0.097 - 0.1875
        assert "(-0.028) where both are square" in words

    def test_drag_says_what_takes_the_gap_up(self) -> None:
        scene = plain_scene(floor=Floor(covering=0.375, out=0.016))
        floor = touching(against="floor", against_kind=PartKind.FLOOR, feature="bottom edge")
        words = why(found(scene, verdict=Verdict.DRAGS, closing=floor), INCHES)
        assert "5/8 in at the hinge side and 1/2 in at the strike side" in words
        assert "covering is 3/8 in" in words
        assert "rises 31/64 in (0.478)" in words  # 0.016 x 29.875

    @pytest.mark.parametrize("lean", [(0.01, 0.0), (0.0, -0.01)])
    def test_drag_on_the_head_names_leaning_pins(self, lean: tuple[float, float]) -> None:
        """Leaning 1 % into the opening or to the push side lifts the strike edge by 90 alike."""
        axis = replace(found().axis, direction=(*lean, 0.99995))
        head = touching(against="head", against_kind=PartKind.HEAD)
        words = why(found(verdict=Verdict.DRAGS, closing=head, axis=axis), INCHES)
        assert "pins lean" in words and "rises 19/64 in (0.299)" in words  # 0.01 x 29 7/8

    def test_a_stop_that_stands_forward_is_set_against_the_other(self) -> None:
        margins = replace(found().margins, strike_stop=(0.06, 0.0, -0.09375))
        stop = touching(against="strike stop", against_kind=PartKind.STRIKE_STOP)
        result = found(verdict=Verdict.STANDS_OFF, closing=stop, margins=margins)
        words = why(result, INCHES)
        assert "1/16 in off the hinge stop" in words
        assert "3/32 in (0.094) into the strike stop at the bottom" in words or (
            "3/32 in into the strike stop at the bottom" in words
        )

    def test_a_slab_buried_in_the_hinge_stop_is_not_the_stops_fault(self) -> None:
        margins = replace(found().margins, hinge_stop=(-0.06,) * 3)
        stop = touching(against="head stop", against_kind=PartKind.HEAD_STOP)
        result = found(verdict=Verdict.STANDS_OFF, closing=stop, margins=margins)
        assert "set back" in why(result, INCHES)

    def test_casing_foul_gives_the_pin_and_twice_it(self) -> None:
        scene = plain_scene(casing=CASING, swing__wanted=radians(175))
        casing = touching(against="hinge casing", against_kind=PartKind.CASING, angle=radians(150))
        axis = replace(found().axis, proud=0.25)
        result = found(scene, verdict=Verdict.FOULS, opening=casing, axis=axis)
        words = why(result, INCHES)
        assert "opens 150 deg of the 175 deg wanted" in words
        assert "1/4 in proud" in words and "1/2 in off" in words and "3/4 in thick" in words

    def test_blocked_by_the_floor_gives_the_gaps(self) -> None:
        result = found(verdict=Verdict.BLOCKED, blocked_by=("floor",))
        assert "gap to the floor is 5/8 in" in why(result, INCHES)

    def test_parts_met_together_are_named_together(self) -> None:
        also = touching(also=("head stop", "strike stop"))
        words = why(found(verdict=Verdict.PINCHES, closing=also), INCHES)
        assert "meets the hinge stop, the head stop and the strike stop at" in words

    @pytest.mark.parametrize(
        ("span", "height", "told"),
        [
            ((80.0, 80.0), 80.0, "80 in above the floor"),  # level: a head, a stop's lower end
            ((40.0, 40.24), 40.125, "40 1/8 in above the floor"),
            ((40.0, 40.25), 40.125, "40 in to 40 1/4 in above the floor"),
            ((0.625, 80.375), 40.0, "5/8 in to 80 3/8 in above the floor"),
        ],
    )
    def test_a_level_contact_is_told_at_one_height_an_upright_one_by_its_span(
        self, span: tuple[float, float], height: float, told: str
    ) -> None:
        touch = touching(span=span, point=(3.0, 0.0, height))
        assert heights(touch, INCHES) == told
        words = why(found(verdict=Verdict.PINCHES, closing=touch), INCHES)
        assert f"at 6.72 deg, {told}." in words

    @pytest.mark.parametrize(
        ("x", "face", "against", "told"),
        [
            # reach hypot(2, 7/8) about the pivots; hypot(2, 7/8) - 7/8 deeper than it stands
            (2.0, 0.875, PartKind.HINGE_LEG, 2.183),
            (2.0, 0.875, PartKind.HINGE_STOP, 1.308),
            (-0.5, 0.875, PartKind.HINGE_STOP, 0.0),  # all of it goes toward the opening
        ],
    )
    def test_on_pivots_the_hinge_edge_swings_about_them(
        self, x: float, face: float, against: PartKind, told: float
    ) -> None:
        pivot = PivotSet(
            kind=PivotKind.CENTRE,
            edge=(x, x),
            face=(face, face),
            leg=(2.125, 2.125),
            out=(0.0, 0.0),
        )
        scene = plain_scene(pivot=pivot, slab__thickness=1.75, slab__hinge_edge=SQUARE)
        touch = touching(against=against.value, against_kind=against)
        words = why(found(scene, verdict=Verdict.PINCHES, closing=touch), INCHES)
        assert f" {INCHES.full(told)} " in words

    def test_the_push_side_is_named_with_its_angle(self) -> None:
        wall = touching(against="wall", against_kind=PartKind.WALL, angle=radians(-40.0))
        push = Side(blocked_by=(), closing=None, opening=wall)
        assert headline(found(push=push), INCHES).endswith("40 deg to the push side open")
        met = touching(angle=radians(-3.0))
        line = headline(found(push=replace(push, closing=met, opening=None)), INCHES)
        assert line.endswith("short of closed on the push side")
        blocked = Side(blocked_by=("stove",), closing=None, opening=None)
        line = headline(found(push=blocked), INCHES)
        assert "90 deg to the push side open, the slab overlaps the stove" in line

    def test_the_foul_that_is_told_is_where_the_other_is_held_longest(self) -> None:
        fouls = tuple(
            Foul(angle=a, low=0.5, high=h) for a, h in ((0.1, 0.6), (0.2, 0.9), (0.3, 0.7))
        )
        together = Together(
            least=0.0,
            certain=0.0,
            angles=(0.1, 0.5),
            reaches=(1.5, 1.5),
            fills=False,
            within_wanted=False,
            fouls=fouls,
        )
        assert widest_foul(together) == fouls[1]
        assert widest_foul(replace(together, fouls=())) is None


class TestRunOut:
    @pytest.mark.parametrize("lean", [0.0, 1.0, 1.5])
    def test_the_slab_strikes_when_its_margin_is_under_the_run_out(self, lean: float) -> None:
        """The exact contact turns from free to striking where the closed form says."""
        edges = {"slab__hinge_edge": SQUARE, "slab__strike_edge": bevel(lean)}
        scene = plain_scene(**edges)
        run_out = strike_run_out(scene, 0.5, 0.625, 0.625)
        assert run_out > 0
        room = 30.125 - 0.0625
        free = check(plain_scene(**edges, slab__width=(room - run_out - 1e-3,)))
        struck = check(plain_scene(**edges, slab__width=(room - run_out + 1e-3,)))
        assert free.verdict is Verdict.SWINGS
        assert struck.verdict is Verdict.STRIKES

    def test_a_round_edge_sweeps_its_arris_in_from_the_crown(self) -> None:
        scene = plain_scene(slab__strike_edge=rounded(3.0), slab__hinge_edge=SQUARE)
        along = 29.875 + 0.03125
        inset = 3.0 - (9.0 - 0.6875**2) ** 0.5
        expected = hypot(along - inset, 1.375 + 0.625) - along
        assert strike_run_out(scene, 0.5, 0.625, 0.0) == pytest.approx(expected)


class TestCard:
    def test_margins_stand_top_middle_bottom(self) -> None:
        assert row(found(), "strike") == ("3/16", "3/16", "1/8")
        assert row(found(), "wide face") == ("flush", "1/32 proud", "1/16 shy")
        assert row(found(), "bottom") == ("5/8", "1/2")

    def test_margins_in_millimetres(self) -> None:
        assert row(found(), "strike", "mm") == ("4.8", "4.8", "3.2")

    def test_the_scene_chooses_the_unit_where_nobody_does(self) -> None:
        scene = plain_scene(unit="mm")
        assert row(found(scene), "hinge") == ("1.6",) * 3
        assert row(found(scene), "hinge", "in") == ("1/16",) * 3

    def test_no_stops_no_rows(self) -> None:
        margins = replace(found().margins, hinge_stop=None, strike_stop=None)
        names = [
            name
            for item in said(found(margins=margins)).items
            if isinstance(item, Table)
            for name, _ in item.rows
        ]
        assert names == ["hinge", "strike", "wide face", "head", "bottom"]

    def test_clear_width_and_what_stops_it(self) -> None:
        wall = touching(against="wall", against_kind=PartKind.WALL, angle=radians(100))
        words = entry(found(opening=wall), "Opens")
        assert words == "to 100 deg, stopped by the wall; clear width at 90 deg 27 5/8 in"
        assert "180 deg, nothing in the way" in entry(found(), "Opens")
        assert "no clear width" in entry(found(clear_width=None, opening=wall), "Opens")

    def test_nearest_parts_come_first_and_alike_ones_together(self) -> None:
        def part(name: str, least: float, degrees: float = 0.0) -> Clearance:
            return Clearance(
                against=name,
                against_kind=PartKind.HEAD_STOP,
                least=least,
                angle=radians(degrees),
            )

        clearances = (
            part("floor", 0.625),
            part("head stop", 0.0625),
            part("hinge stop", 0.0625),
            part("strike leg", 0.03125, 2.1),
        )
        assert entry(found(clearances=clearances), "Nearest") == (
            "strike leg 1/32 in at 2.1 deg; head stop and hinge stop 1/16 in when closed"
        )

    def test_true_pins_are_said_to_be_true(self) -> None:
        assert entry(found(), "Pins") == "5/8 in proud of the wide face; all within 1/32 in" + (
            " of one line"
        )

    def test_pins_over_tolerance_are_called_out_by_hinge_in_thousandths(self) -> None:
        axis = replace(
            found().axis,
            off_line=(0.001, 0.045, 0.001),
            apart=(0.0, 0.0, 0.052),
            up_down=(0.0, -0.125, 0.03),
        )
        words = entry(found(axis=axis), "Pins")
        assert "hinge 2 is 0.045 in off the pin line" in words
        assert "hinge 3's leaves are 0.052 in apart" in words
        assert "hinge 2's slab leaf is 0.125 in too low" in words
        assert "hinge 1" not in words and "hinge 3's slab leaf" not in words

    def test_a_tighter_shop_calls_out_more(self) -> None:
        axis = replace(found().axis, off_line=(0.01, 0.0, 0.0))
        assert "hinge 1" not in entry(found(axis=axis), "Pins")
        scene = plain_scene(shop__pin_tolerance=0.005)
        assert "hinge 1 is 0.010 in" in entry(found(scene, axis=axis), "Pins")

    def test_weight_in_pounds_and_kilograms(self) -> None:
        assert entry(found(), "Weight").startswith("about 83 lb: red oak, solid")
        assert "about 83 lb (38 kg)" in entry(found(), "Weight", "mm")

    def test_an_unknown_material_is_said_with_the_nearest(self) -> None:
        scene = plain_scene(slab__material="walnit")
        words = entry(found(scene), "Weight")
        assert "no density known for 'walnit'" in words and "walnut" in words

    def test_every_default_is_listed(self) -> None:
        assumed = tuple(
            Assumed(key=f"stop.key_{k}", value=f"{k} in", why="usual") for k in range(20)
        )
        words = entry(found(changed(plain_scene(), assumed=assumed)), "Assumed")
        assert all(f"stop.key_{k} {k} in" in words for k in range(20))

    def test_cures_and_cautions(self) -> None:
        cure = Cure(
            words="Set the jamb leaves 1/16 in further.",
            settings=(("hinge.jamb.setback", "5/16"),),
        )
        (told,) = (item for item in said(found(), cures=(cure,)).items if item.label == "Cure")
        assert isinstance(told, Entry) and told.texts == (cure.words,)
        warned = cautions(found().scene, slab_weight(found().scene))
        assert warned and entry(found(), "Caution") == " ".join(warned)

    def test_a_long_curve_is_thinned_and_keeps_ends_and_least(self) -> None:
        curve = tuple(
            CurvePoint(angle=radians(90 - k / 4), distance=abs(k - 200) / 100, against="head")
            for k in range(361)
        )
        shown = thinned(curve)
        assert len(shown) <= 24
        assert curve[0] in shown and curve[-1] in shown and curve[200] in shown
        assert thinned(curve[:20]) == curve[:20]
        table = said(found(curve=curve)).items[-1]
        assert isinstance(table, Table)
        assert f"{len(shown)} of 361" in table.label


class TestText:
    def test_the_first_line_is_the_verdict(self) -> None:
        lines = text(said(found())).splitlines()
        assert lines[0].startswith("Linen closet: SWINGS")

    def test_it_is_short(self) -> None:
        assert len(text(said(found())).splitlines()) <= 30

    @settings(max_examples=40)
    @given(st.integers(20, 120), st.sampled_from(list(Verdict)), st.sampled_from(["in", "mm"]))
    def test_no_line_is_wider_than_asked(self, width: int, verdict: Verdict, unit: str) -> None:
        curve = (CurvePoint(angle=1.0, distance=0.5, against="jamb leaf of the top hinge"),)
        result = of_verdict(verdict, curve=curve)
        page = text(said(result, unit), width)
        assert max(map(len, page.splitlines())) <= min(max(width, 32), 78)

    @pytest.mark.parametrize("width", [32, 40, 60, 78])
    def test_nothing_is_lost_on_a_narrow_page(self, width: int) -> None:
        words = " ".join(text(said(found()), width).split())
        for cell in ("1/32 proud", "1/16 shy", "3/16", "27 5/8", "about 83 lb"):
            assert cell in words

    @pytest.mark.parametrize("width", range(32, 79))
    def test_a_number_stays_with_its_fraction_and_unit(self, width: int) -> None:
        result = found(verdict=Verdict.PINCHES, closing=touching(), opening=touching())
        lines = text(said(result), width).splitlines()
        for line, following in pairwise(lines):
            parted = line[-1].isdigit() and re.match(r" *(\d+/\d+|in|deg|lb)\b", following)
            assert not parted, (line, following)

    def test_plain_words_are_ascii(self) -> None:
        assert text(said(found(verdict=Verdict.PINCHES, closing=touching()))).isascii()


class TestData:
    KEYS = (
        "schema",
        "scene",
        "verdict",
        "closing",
        "opening",
        "margins_in",
        "clearance",
        "axis",
        "clear_width_in",
        "remedies",
        "assumed",
        "cautions",
    )

    def test_keys_and_their_order(self) -> None:
        assert tuple(told(found())) == self.KEYS
        assert told(found())["schema"] == "swingcheck.check/1"

    def test_a_touch(self) -> None:
        data = told(found(verdict=Verdict.PINCHES, closing=touching()))
        assert data["verdict"] == "pinches"
        assert data["opening"] is None
        assert data["closing"] == {
            "angle_deg": pytest.approx(6.72),
            "opening_at_strike_in": 3.497,
            "against": "hinge stop",
            "slab_feature": "narrow-face arris of the hinge edge",
            "point_in": [0.4375, -1.4375, 40.0],
        }

    def test_angles_keep_every_digit(self) -> None:
        angle = 0.1234567890123456
        data = told(found(closing=touching(angle=angle)))
        assert radians(data["closing"]["angle_deg"]) == pytest.approx(angle, abs=1e-16)

    def test_margins_axis_and_clearance(self) -> None:
        data = told(found())
        assert data["margins_in"] == {
            "hinge": [0.0625] * 3,
            "strike": [0.1875, 0.1875, 0.125],
            "head": [0.125, 0.125],
            "bottom": [0.625, 0.5],
            "hinge_stop": [0.0625] * 3,
            "strike_stop": [0.0625] * 3,
        }
        assert data["axis"] == {
            "point_in": [0.03125, 0.625, 40.0],
            "direction": [0.0, 0.0, 1.0],
            "proud_in": 0.625,
            "off_line_in": [0.001, 0.002, 0.001],
        }
        clearance = data["clearance"]
        assert clearance["least_in"] == 0.047
        assert clearance["against"] == "strike leg"
        assert clearance["angle_deg"] == pytest.approx(2.1)
        assert [part["against"] for part in clearance["by_part"]] == ["hinge leg", "strike leg"]

    def test_nothing_measured_is_null(self) -> None:
        margins = replace(found().margins, hinge_stop=None, strike_stop=None)
        data = told(found(clearances=(), clear_width=None, margins=margins))
        assert data["clearance"]["least_in"] is None
        assert data["clear_width_in"] is None
        assert data["margins_in"]["hinge_stop"] is None

    def test_lengths_are_rounded_past_meaning_and_never_minus_nought(self) -> None:
        data = told(
            found(
                clear_width=0.1 + 0.2, margins=changed(found().margins, hinge=(-1e-15, 1 / 3, 0.0))
            )
        )
        assert data["clear_width_in"] == 0.3
        assert json.dumps(data["margins_in"]["hinge"]) == "[0.0, 0.3333333333, 0.0]"

    def test_remedies_assumed_and_cautions(self) -> None:
        cure = Cure(words="Deepen.", settings=(("hinge.jamb.depth", "1/8"),))
        assumed = (Assumed(key="stop.width", value="1 1/4 in", why="usual"),)
        scene = changed(plain_scene(), assumed=assumed)
        data = told(found(scene), (cure,))
        assert data["remedies"] == [{"words": "Deepen.", "set": {"hinge.jamb.depth": "1/8"}}]
        assert data["assumed"] == [{"key": "stop.width", "value": "1 1/4 in", "why": "usual"}]
        assert data["cautions"] == list(cautions(scene, slab_weight(scene)))

    def test_blocked_by_and_curve_only_where_there_are_any(self) -> None:
        point = CurvePoint(angle=radians(45), distance=0.25, against="head")
        data = told(found(blocked_by=("sofa",), curve=(point,)))
        assert data["blocked_by"] == ["sofa"]
        assert data["curve"] == [
            {"angle_deg": pytest.approx(45.0), "clearance_in": 0.25, "against": "head"}
        ]

    def test_the_same_scene_gives_the_same_bytes(self) -> None:
        first, second = (json.dumps(told(check(plain_scene())), allow_nan=False) for _ in range(2))
        assert first == second
