"""What a report says, on results made by hand and on results of real checks."""

from __future__ import annotations

import json
import re
from dataclasses import fields, replace
from itertools import pairwise
from math import cos, hypot, radians, sin
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck.advice.answer import Answer
from swingcheck.advice.bevel import strike_run_out
from swingcheck.advice.cure import Cure
from swingcheck.assembly import PartKind
from swingcheck.bench.cautions import cautions
from swingcheck.bench.weight import slab_weight
from swingcheck.model import Assumed, Floor, PivotKind, PivotSet, Scene
from swingcheck.report.card import Card, Entry, Table, card, thinned
from swingcheck.report.causes import why
from swingcheck.report.headline import headline, widest_foul
from swingcheck.report.shapes import data_of
from swingcheck.report.text import text
from swingcheck.report.words import Lengths, heights
from swingcheck.swing.check import check
from swingcheck.swing.decide import SWINGS, counted, decide
from swingcheck.swing.found import (
    AxisFound,
    Clearance,
    Code,
    CurvePoint,
    Fit,
    Foul,
    Found,
    Margins,
    Reason,
    Side,
    Together,
    Touch,
    Verdict,
)
from tests.factory import CASING, SQUARE, bevel, changed, plain_scene, rounded, square_scene

INCHES = Lengths(unit="in")
MILLIMETRES = Lengths(unit="mm")
SCENE = plain_scene()
MARGINS = Margins(
    hinge=(0.0625,) * 3,
    strike=(0.1875, 0.1875, 0.125),
    head=(0.125, 0.125),
    bottom=(0.625, 0.5),
    hinge_stop=(0.0625,) * 3,
    strike_stop=(0.0625,) * 3,
    flush=(0.0, 0.03125, -0.0625),
    flush_strike=(0.0, 0.0, 0.125),
)
AXIS = AxisFound(
    point=(0.03125, 0.625, 40.0),
    direction=(0.0, 0.0, 1.0),
    proud=0.625,
    off_line=(0.001, 0.002, 0.001),
    apart=(0.001, 0.001, 0.001),
    up_down=(0.0, 0.0, 0.0),
)


def near(kind: PartKind, least: float, degrees: float = 0.0) -> Clearance:
    """Return the least clearance of a part."""
    return Clearance(against=kind.value, against_kind=kind, least=least, angle=radians(degrees))


def touching(kind: PartKind = PartKind.HINGE_STOP, degrees: float = 6.72, **changes: Any) -> Touch:
    """Return a contact of the hinge edge's narrow-face arris, with changes."""
    base = Touch(
        angle=radians(degrees),
        opening_at_strike=3.497,
        against=kind.value,
        against_kind=kind,
        by="slab",
        by_kind=PartKind.SLAB,
        feature="narrow-face arris of the hinge edge",
        point=(0.4375, -1.4375, 40.0),
        span=(0.625, 80.375),
    )
    return replace(base, **changes)


LEAVES = touching(
    PartKind.JAMB_LEAF,
    against="jamb leaf of the top hinge",
    by="slab leaf of the top hinge",
    by_kind=PartKind.SLAB_LEAF,
    feature="slab leaf of the top hinge",
)


def found(scene: Scene = SCENE, verdict: Verdict | None = None, **changes: Any) -> Found:
    """Return what a check of a slab that swings would find, with changes, and what decides."""
    base = Found(
        scene=scene,
        decided=SWINGS,
        blocked_by=(),
        closing=None,
        seated=False,
        opening=None,
        margins=MARGINS,
        clearances=(near(PartKind.HINGE_LEG, 0.0625), near(PartKind.STRIKE_LEG, 0.047, 2.1)),
        axis=AXIS,
        clear_width=27.625,
    )
    result = replace(base, **changes)
    beside = map(counted, result.others)
    decided = decide(result.scene, result, result.push, beside)
    return replace(result, decided=replace(decided, verdict=verdict or decided.verdict))


def met(verdict: Verdict, against: PartKind | Touch = PartKind.HINGE_STOP, **changes: Any) -> Found:
    """Return a check that stops short at a contact: changes to its touch, margins, axis, scene."""
    touch = against if isinstance(against, Touch) else touching(against)

    def with_own(part: Any) -> Any:
        names = changes.keys() & {field.name for field in fields(part)}
        return replace(part, **{name: changes.pop(name) for name in names})

    touch, margins, axis = map(with_own, (touch, MARGINS, AXIS))
    way = "opening" if verdict is Verdict.FOULS else "closing"
    scene = plain_scene(**changes)
    return found(scene, verdict, margins=margins, axis=axis, **{way: touch})


def of_verdict(verdict: Verdict, **changes: Any) -> Found:
    """Return what a check comes to with a verdict: blocked, opening short, or closing short."""
    if verdict is Verdict.BLOCKED:
        return found(blocked_by=("sofa",), **changes)
    if verdict is Verdict.FOULS:
        return found(opening=touching(PartKind.WALL), **changes)
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


def rows(result: Found, unit: str | None = None) -> dict[str, tuple[str, ...]]:
    """Return the cells of a card's tables by their rows' names, in order."""
    tables = [item for item in said(result, unit).items if isinstance(item, Table)]
    return {label: cells for table in tables for label, cells in table.rows}


# The headline

PUSHED = Side(blocked_by=(), closing=None, opening=None)
SHORT = "strike edge 3 1/2 in (3.497) short of closed"
HEADLINES = [
    (met(Verdict.PINCHES), f"PINCHES on the hinge stop, {SHORT}"),
    (met(Verdict.HINGE_BOUND, LEAVES), f"HINGE-BOUND - the leaves meet, {SHORT}"),
    (found(), "SWINGS - nothing touches; nearest is the strike leg, by 3/64 in at 2.1 deg"),
    (
        found(closing=touching(degrees=0.04, opening_at_strike=0.02), seated=True),
        "SWINGS - closes on the hinge stop, within 1/64 in (0.020) at the strike edge",
    ),
    (
        found(blocked_by=("sofa", "wall")),
        "BLOCKED - at the start, 90 deg open, the slab overlaps the sofa and the wall",
    ),
    (found(opening=touching(PartKind.WALL, 84)), "FOULS the wall, 84 deg open"),
    (
        found(push=replace(PUSHED, opening=touching(PartKind.WALL, -40))),
        "FOULS the wall, 40 deg to the push side open",
    ),
    (
        found(push=replace(PUSHED, closing=touching(degrees=-3))),
        f"PINCHES on the hinge stop, {SHORT} on the push side",
    ),
    (
        found(push=replace(PUSHED, blocked_by=("stove",))),
        "BLOCKED - at the start, 90 deg to the push side open, the slab overlaps the stove",
    ),
]


@pytest.mark.parametrize(("result", "words"), HEADLINES, ids=[words for _, words in HEADLINES])
def test_the_headline_is_the_verdict_with_the_one_number_that_matters(
    result: Found, words: str
) -> None:
    assert headline(result, INCHES) == f"Linen closet: {words}"


def test_verdicts_shout_cures_and_cautions_are_told() -> None:
    for verdict in Verdict:
        assert of_verdict(verdict).verdict is verdict
        assert verdict.value.upper() in headline(of_verdict(verdict), INCHES)
    assert "88.8 mm short of closed" in headline(met(Verdict.PINCHES), MILLIMETRES)
    (item,) = (item for item in said(found(), cures=(CURE,)).items if item.label == "Cure")
    assert isinstance(item, Entry) and item.texts == (CURE.words,)
    warned = cautions(SCENE, slab_weight(SCENE))
    assert warned and entry(found(), "Caution") == " ".join(warned)


# Why it does not swing

LEG, STRIKE = PartKind.HINGE_LEG, PartKind.STRIKE_LEG
SQUARE_HUNG = {"slab__hinge_edge": SQUARE}
WHY = [
    (
        met(
            Verdict.PINCHES,
            hinge__jamb__setbacks=(0.25,) * 3,
            hinge__slab__setbacks=(0.3125,) * 3,
            hinge_stop=(-0.0625,) * 3,
        ),
        "The narrow-face arris of the hinge edge meets the hinge stop at 6.72 deg, 5/8 in to"
        " 80 3/8 in above the floor. ... 1/16 in into the hinge stop: ... set back 1/4 in on the"
        " jamb and 5/16 in on the slab.",
    ),
    (
        met(
            Verdict.PINCHES,
            hinge__jamb__setbacks=(0.3125, 0.3125, 0.25),
            hinge_stop=(0.06, 0.03, -0.01),
        ),
        "into the hinge stop at the bottom ... 1/4 in on the jamb and 1/4 in on the slab at the"
        " third hinge",
    ),
    (
        met(Verdict.STRIKES, STRIKE, strike=(0.01, -0.0625, 0.02)),
        "-1/16 in at the middle ... too wide",
    ),
    (  # 1.375 tan 5 deg
        met(Verdict.STRIKES, STRIKE, opening__strike_leg__twist=(radians(5.0),)),
        "strike leg is twisted 5 deg ... 1/8 in (0.120) nearer",
    ),
    (  # (1/16) / (1 3/4) radians
        met(
            Verdict.HINGE_BOUND,
            LEAVES,
            opening__hinge_leg__twist=(radians(4.0),),
            slab__hinge_edge=bevel(1.0),
        ),
        "The slab leaf of the top hinge meets the jamb leaf of the top ... twisted 4 deg ..."
        " 1 deg of bevel ... turn 3 deg past parallel ... turn 2.05 deg",
    ),
    (  # 1.375 tan 3 deg
        met(Verdict.HINGE_BOUND, LEG, opening__hinge_leg__twist=(radians(3.0),), **SQUARE_HUNG),
        "hinge edge is square ... (0.072) nearer the leg",
    ),
    (  # 2 x 0.097 + 0.0625 - 0.097 - 0.1875
        met(Verdict.HINGE_BOUND, LEG, hinge__slab__depths=(0.1875,) * 3, **SQUARE_HUNG),
        "3/16 in on the slab ... (-0.028) where both are square",
    ),
    (
        met(Verdict.DRAGS, PartKind.FLOOR, floor=Floor(covering=0.375, out=0.016)),
        "5/8 in at the hinge side and 1/2 in at the strike side ... covering is 3/8 in",
    ),
    # Leaning 1 % into the opening or to the push side lifts the strike edge by 90 alike.
    *(
        (
            met(Verdict.DRAGS, PartKind.HEAD, direction=(*lean, 0.99995)),
            "pins lean ... rises 19/64 in (0.299)",
        )
        for lean in ((0.01, 0.0), (0.0, -0.01))
    ),
    (
        met(Verdict.STANDS_OFF, PartKind.STRIKE_STOP, strike_stop=(0.06, 0.0, -0.09375)),
        "1/16 in off the hinge stop and 3/32 in into the strike stop at the bottom",
    ),
    (met(Verdict.STANDS_OFF, PartKind.HEAD_STOP, hinge_stop=(-0.06,) * 3), "set back"),
    (
        met(
            Verdict.FOULS,
            touching(PartKind.CASING, 150),
            casing=CASING,
            swing__wanted=radians(175),
            proud=0.25,
        ),
        "opens 150 deg of the 175 deg wanted ... 1/4 in proud ... 1/2 in off ... 3/4 in thick",
    ),
    (found(blocked_by=("floor",)), "gap to the floor is 5/8 in"),
    (
        met(Verdict.PINCHES, also=("head stop", "strike stop")),
        "meets the hinge stop, the head stop and the strike stop at",
    ),
]


@pytest.mark.parametrize(("result", "parts"), WHY, ids=[parts for _, parts in WHY])
def test_why_gives_the_cause_and_its_numbers(result: Found, parts: str) -> None:
    words = why(result, INCHES)
    assert re.search(".*".join(map(re.escape, parts.split(" ... "))), words), words


@pytest.mark.parametrize("out", [0.0161, 0.0165, 0.03])
def test_a_sloped_floor_is_told_by_the_corner_that_meets_it(out: float) -> None:
    """By hand: the wide-face corner turns from (29 13/16, 0) about the pin (1/32, 5/8)."""
    square = {"slab__hinge_edge": SQUARE, "slab__strike_edge": SQUARE, "slab__width": (29.75,)}
    slab, pin = (29.8125, 0.0), (1 / 32, 0.625)
    gap = 80.5 - 0.125 - 79.75
    for start in (90.0, 80.0):
        turned = pin[1] + (slab[0] - pin[0]) * sin(radians(start))
        turned += (slab[1] - pin[1]) * cos(radians(start))
        over, rise = gap - out * slab[1], out * (turned - slab[1])
        result = check(plain_scene(**square, floor=Floor(out=out), swing__start=radians(start)))
        words = why(result, MILLIMETRES)
        if rise <= over:
            assert "overlaps" not in words and not result.blocked_by
            continue
        hangs, rises = re.findall(r"hangs ([\d.]+) mm .* rises ([\d.]+) mm", words)[0]
        assert float(hangs) == pytest.approx(over * 25.4, abs=0.06)
        assert float(rises) == pytest.approx(rise * 25.4, abs=0.06)


def test_strike_sets_the_run_out_against_the_margin_and_a_swing_needs_no_reason() -> None:
    assert why(found(), INCHES) == ""
    scene = square_scene(slab__width=(30.04,))
    result = check(scene)
    assert result.verdict is Verdict.STRIKES
    # Closed form, pin 1/32 outside the hinge edge and 5/8 proud of a flush wide face.
    along = 30.04 + 0.03125
    run_out = (along**2 + 1.375**2 + 2 * 1.375 * 0.625) ** 0.5 - along
    words = why(result, INCHES)
    assert "the strike edge is square" in words.lower()
    assert f"({run_out:.3f})" in words
    assert f"({30.125 - 0.0625 - 30.04:.3f})" in words


@pytest.mark.parametrize(
    ("span", "height", "words"),
    [
        ((80.0, 80.0), 80.0, "80 in above the floor"),  # level: a head, a stop's lower end
        ((40.0, 40.24), 40.125, "40 1/8 in above the floor"),
        ((40.0, 40.25), 40.125, "40 in to 40 1/4 in above the floor"),
    ],
)
def test_a_level_contact_is_told_at_one_height_an_upright_one_by_its_span(
    span: tuple[float, float], height: float, words: str
) -> None:
    assert heights(touching(span=span, point=(3.0, 0.0, height)), INCHES) == words


@pytest.mark.parametrize(
    ("x", "against", "reach"),
    [
        # reach hypot(2, 7/8) about the pivots; hypot(2, 7/8) - 7/8 deeper than it stands
        (2.0, LEG, 2.183),
        (2.0, PartKind.HINGE_STOP, 1.308),
        (-0.5, PartKind.HINGE_STOP, 0.0),  # all of it goes toward the opening
    ],
)
def test_on_pivots_the_hinge_edge_swings_about_them(
    x: float, against: PartKind, reach: float
) -> None:
    pivot = PivotSet(
        kind=PivotKind.CENTRE, edge=(x, x), face=(0.875,) * 2, leg=(2.125,) * 2, out=(0.0, 0.0)
    )
    sizes = {"slab__thickness": 1.75, "slab__hinge_edge": SQUARE}
    words = why(met(Verdict.PINCHES, against, pivot=pivot, **sizes), INCHES)
    assert f" {INCHES.full(reach)} " in words


def test_the_foul_that_is_told_is_where_the_other_is_held_longest() -> None:
    fouls = tuple(Foul(angle=a, low=0.5, high=h) for a, h in ((0.1, 0.6), (0.2, 0.9), (0.3, 0.7)))
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


def test_a_round_edge_sweeps_its_arris_in_from_the_crown() -> None:
    scene = plain_scene(slab__strike_edge=rounded(3.0), slab__hinge_edge=SQUARE)
    along = 29.875 + 0.03125
    inset = 3.0 - (9.0 - 0.6875**2) ** 0.5
    expected = hypot(along - inset, 1.375 + 0.625) - along
    assert strike_run_out(scene, 0.5, 0.625, 0.0) == pytest.approx(expected)


# The card


def test_margins_stand_top_middle_bottom_in_the_unit_that_the_scene_chooses() -> None:
    table = rows(found())
    assert table["strike"] == ("3/16", "3/16", "1/8")
    assert table["flush, hinge"] == ("flush", "1/32 proud", "1/16 shy")
    assert table["flush, strike"] == ("flush", "flush", "1/8 proud")
    assert table["bottom"] == ("5/8", "1/2")
    without = replace(MARGINS, hinge_stop=None, strike_stop=None)
    names = ["hinge", "strike", "flush, hinge", "flush, strike", "head", "bottom"]
    assert list(rows(found(margins=without))) == names
    assert rows(found(), "mm")["strike"] == ("4.8", "4.8", "3.2")
    metric = found(plain_scene(unit="mm"))
    assert rows(metric)["hinge"] == ("1.6",) * 3
    assert rows(metric, "in")["hinge"] == ("1/16",) * 3
    assert "about 83 lb (38 kg)" in entry(found(), "Weight", "mm")


ENTRIES = [
    (
        found(opening=touching(PartKind.WALL, 100)),
        "Opens",
        "to 100 deg, stopped by the wall; clear width at 90 deg, stop to face, 27 5/8 in",
    ),
    (found(), "Opens", "180 deg, nothing in the way"),
    (found(clear_width=None, opening=touching(PartKind.WALL, 80)), "Opens", "no clear width"),
    (
        found(
            clearances=(
                near(PartKind.FLOOR, 0.625),
                near(PartKind.HEAD_STOP, 0.0625),
                near(PartKind.HINGE_STOP, 0.0625),
                near(PartKind.STRIKE_LEG, 0.03125, 2.1),
            )
        ),
        "Nearest",
        "strike leg 1/32 in at 2.1 deg; head stop and hinge stop 1/16 in when closed",
    ),
    (found(), "Pins", "5/8 in proud of the wide face; all within 1/32 in of one line"),
    (found(), "Weight", "about 83 lb: red oak, solid"),
    (found(plain_scene(slab__material="walnit")), "Weight", "density known for 'walnit'; nearest"),
]


@pytest.mark.parametrize(("result", "label", "part"), ENTRIES)
def test_an_entry_of_the_card(result: Found, label: str, part: str) -> None:
    assert part in entry(result, label)


def test_pins_over_tolerance_are_called_out_by_hinge_in_thousandths() -> None:
    low = check(plain_scene(hinge__slab__tops=(6.875, 37.625, 68.5)))
    said = "the bottom hinge: slab leaf too low by 0.125 in, over 1/32 in: it will not go together"
    assert said in entry(low, "Fit").replace("BAD: ", "")
    assert "see the fit" in entry(low, "Pins")


NEAR = Reason(Code.CLEARANCE, 0.004, 0.0216, "finish", "hinge stop", radians(3.1))


def test_the_headline_says_tight_or_bad_and_why() -> None:
    seated = found(clearances=(near(PartKind.HINGE_STOP, 0.004, 3.1),), fit=Fit(reasons=(NEAR,)))
    words = "SWINGS, BUT TIGHT - 0.004 in to the hinge stop at 3.1 deg; two coats take 0.006 in"
    assert headline(seated, INCHES) == f"Linen closet: {words}"
    bare = Reason(Code.NOT_COVERED, -0.25, 0.0, "practice", "strike stop")
    words = "SWINGS, BUT BAD - the slab does not cover the strike stop: it is 1/4 in short of it"
    assert headline(found(fit=Fit(reasons=(bare,))), INCHES) == f"Linen closet: {words}"
    good = found(fit=Fit(chance=0.979, drawn=400))
    assert entry(good, "Fit").startswith("GOOD: works 97 of 100 as cut")


def test_every_default_is_listed() -> None:
    assumed = tuple(Assumed(key=f"stop.key_{k}", value=f"{k} in", why="usual") for k in range(20))
    words = entry(found(changed(SCENE, assumed=assumed)), "Assumed")
    assert all(f"stop.key_{k} {k} in" in words for k in range(20))


CURE = Cure(
    words="Set the jamb leaves 1/16 in further.", settings=(("hinge.jamb.setback", "5/16"),)
)


def test_a_long_curve_is_thinned_and_keeps_ends_and_least() -> None:
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


# The text


@settings(max_examples=40)
@given(st.integers(20, 120), st.sampled_from(list(Verdict)), st.sampled_from(["in", "mm"]))
def test_no_line_is_wider_than_asked(width: int, verdict: Verdict, unit: str) -> None:
    curve = (CurvePoint(angle=1.0, distance=0.5, against="jamb leaf of the top hinge"),)
    result = of_verdict(verdict, curve=curve)
    page = text(said(result, unit), width)
    assert max(map(len, page.splitlines())) <= min(max(width, 32), 78)
    assert page.isascii()


def test_nothing_is_lost_on_a_narrow_page_and_the_headline_comes_first() -> None:
    result = found(verdict=Verdict.PINCHES, closing=touching(), opening=touching())
    for width in range(32, 79):
        page = text(said(result), width)
        words = " ".join(page.split())
        for cell in ("1/32 proud", "1/16 shy", "3/16", "27 5/8", "about 83 lb"):
            assert cell in words
        for line, following in pairwise(page.splitlines()):
            parted = line[-1].isdigit() and re.match(r" *(\d+/\d+|in|deg|lb)\b", following)
            assert not parted, (line, following)
    lines = text(said(found())).splitlines()
    assert lines[0].startswith("Linen closet: SWINGS")
    assert len(lines) <= 30


# The data


def test_a_contact_as_data_under_its_key() -> None:
    keys = (
        "schema scene verdict fit closing opening margins_in clearance axis clear_width_in"
        " clear_width_by remedies assumed cautions"
    )
    assert list(told(found())) == keys.split()
    assert told(found())["schema"] == "swingcheck.check/1"
    angle = 0.1234567890123456
    data = told(met(Verdict.PINCHES, touching(angle=angle)))
    assert (data["verdict"], data["opening"]) == ("pinches", None)
    # An angle keeps every digit.
    assert radians(data["closing"].pop("angle_deg")) == pytest.approx(angle, abs=1e-16)
    assert data["closing"] == {
        "opening_at_strike_in": 3.497,
        "against": "hinge stop",
        "slab_feature": "narrow-face arris of the hinge edge",
        "point_in": [0.4375, -1.4375, 40.0],
    }


def test_margins_axis_and_clearance_as_data() -> None:
    data = told(found())
    names = ("hinge", "strike", "head", "bottom", "hinge_stop", "strike_stop")
    told_of = {name: list(getattr(MARGINS, name)) for name in names}
    flush = {"flush_hinge": [0.0, 0.03125, -0.0625], "flush_strike": [0.0, 0.0, 0.125]}
    assert data["margins_in"] == told_of | flush
    assert data["axis"] == {
        "point_in": [0.03125, 0.625, 40.0],
        "direction": [0.0, 0.0, 1.0],
        "proud_in": 0.625,
        "off_line_in": [0.001, 0.002, 0.001],
    }
    clearance = data["clearance"]
    assert (clearance["least_in"], clearance["against"]) == (0.047, "strike leg")
    assert clearance["angle_deg"] == pytest.approx(2.1)
    assert [part["against"] for part in clearance["by_part"]] == ["hinge leg", "strike leg"]


def test_nothing_measured_is_null_and_lengths_are_rounded_past_meaning() -> None:
    margins = replace(MARGINS, hinge_stop=None, strike_stop=None)
    data = told(found(clearances=(), clear_width=None, margins=margins))
    assert data["clearance"]["least_in"] is None
    assert data["clear_width_in"] is None
    assert data["margins_in"]["hinge_stop"] is None
    data = told(found(clear_width=0.1 + 0.2, margins=replace(MARGINS, hinge=(-1e-15, 1 / 3, 0.0))))
    assert data["clear_width_in"] == 0.3
    assert json.dumps(data["margins_in"]["hinge"]) == "[0.0, 0.3333333333, 0.0]"


def test_what_is_only_there_at_times_as_data() -> None:
    assumed = (Assumed(key="stop.width", value="1 1/4 in", why="usual"),)
    point = CurvePoint(angle=radians(45), distance=0.25, against="head")
    scene = changed(SCENE, assumed=assumed)
    data = told(found(scene, blocked_by=("sofa",), curve=(point,)), (CURE,))
    own = {"words": CURE.words, "set": {"hinge.jamb.setback": "5/16"}, "chance": None, "drawn": 0}
    assert data["remedies"] == [own]
    assert data["assumed"] == [{"key": "stop.width", "value": "1 1/4 in", "why": "usual"}]
    assert data["cautions"] == list(cautions(scene, slab_weight(scene)))

    assert data["blocked_by"] == ["sofa"]
    assert data["curve"] == [
        {"angle_deg": pytest.approx(45.0), "clearance_in": 0.25, "against": "head"}
    ]
