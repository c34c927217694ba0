"""What the bench is told, in words and as data."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.bench.concerns import Concern, Warned
from swingcheck.bench.door import BenchNumbers, bench_numbers
from swingcheck.bench.lock import LockConcern, lock_marks
from swingcheck.bench.mortise import Refusal, mortising
from swingcheck.model import Delivered, Finish, Season, Wanted
from swingcheck.report.bench import bench_card
from swingcheck.report.bench_words import lock_warning, refusal, season_words, warning
from swingcheck.report.card import Entry, Table
from swingcheck.report.shapes import data_of
from swingcheck.report.text import text
from swingcheck.report.words import Lengths
from tests.factory import LOCK, SQUARE, bevel, changed, plain_scene, rounded
from tests.openings import random_opening
from tests.unit.test_bench_lock import DEADBOLT

INCHES, MILLIMETRES = Lengths(unit="in"), Lengths(unit="mm")


def entry(numbers: BenchNumbers, label: str, unit: str | None = None) -> str:
    """Return all that is said under a label."""
    items = [item for item in bench_card(numbers, unit).items if item.label == label]
    return "\n".join(words for item in items if isinstance(item, Entry) for words in item.texts)


def rows(numbers: BenchNumbers, label: str) -> dict[str, tuple[str, ...]]:
    """Return a table's rows by name."""
    tables = [item for item in bench_card(numbers).items if item.label.startswith(label)]
    return {name: cells for item in tables if isinstance(item, Table) for name, cells in item.rows}


def test_cuts_are_told_in_cutting_order_on_the_wide_face() -> None:
    scene = plain_scene(slab__delivered=Delivered(width=30.0, height=80.0))
    numbers = bench_numbers(scene)
    assert rows(numbers, "Rip") == {
        "1 hinge": ("1/16", "29 15/16", "29 57/64 (29.889)"),
        "2 strike": ("1/16", "29 7/8", "29 25/32 (29.779)"),
    }
    assert rows(numbers, "Trim") == {
        "3 bottom off": ("1/4", "1/4"),
        "  then high": ("79 3/4", "79 3/4"),
    }
    assert entry(numbers, "Saw").startswith("hinge edge: tilt 2 deg, in under the wide face")
    labels = [item.label for item in bench_card(numbers).items]
    wanted = ["From", "Rip, in", "Saw", "Trim, in", "Leaves, in", "Let in, in", "Holes, in"]
    places = [labels.index(label) for label in [*wanted, "Router", "Weight", "Season"]]
    assert places == sorted(places)


def test_cuts_are_told_by_what_is_cut() -> None:
    told = Delivered(width=29.875, height=79.75)
    scene = plain_scene(slab__delivered=told, slab__hinge_edge=SQUARE)
    numbers = bench_numbers(scene)
    assert list(rows(numbers, "Rip")) == ["1 strike"]
    assert not rows(numbers, "Trim")
    scene = plain_scene(opening__width=(30.125, 30.0), wanted=Wanted(strike=1 / 8))
    numbers = bench_numbers(scene)
    assert list(rows(numbers, "Rip")) == ["1 hinge", "2 strike, top", "2 strike, bottom"]
    assert " at the top and " in bench_card(numbers).finding
    assert numbers.settings[0][0] == "slab.width"
    assert "--set slab.width=" in entry(numbers, "Check")
    assert bench_numbers(plain_scene()).settings == ()
    assert entry(bench_numbers(plain_scene()), "Check") == ""
    numbers = bench_numbers(plain_scene(slab__hinge_edge=rounded(3.0), slab__strike_edge=bevel(-2)))
    saw = entry(numbers, "Saw")
    assert "hinge edge: rip square to the width at the crown" in saw
    assert "strike edge: tilt 2 deg, out from under the wide face" in saw


def test_locks_and_impossible_tools_are_told() -> None:
    scene = plain_scene(lock=replace(LOCK, deadbolt=DEADBOLT))
    numbers = bench_numbers(scene)
    assert "2 1/8 in bore, centre 44 3/8 in down the strike edge" in entry(numbers, "Latch")
    assert "throw 1 in" in entry(numbers, "Strike")
    assert "38 7/8 in" in entry(numbers, "Deadbolt")
    numbers = bench_numbers(plain_scene(shop__bit=1.5, shop__bushing=1.625))
    assert "use a 1 1/4 in bit or a smaller one, or pare the corners" in entry(numbers, "Warning")
    assert not rows(numbers, "Template")
    assert not numbers.can_be_done


def test_too_few_hinges_are_warned_of() -> None:
    too_few = plain_scene(
        slab__height=(95.0, 95.0),
        opening__height=(96.0, 96.0),
        slab__delivered=Delivered(width=30.0, height=96.0),
    )
    assert "3 hinges, and NFPA 80's rule asks for 4." in entry(bench_numbers(too_few), "Warning")


@pytest.mark.parametrize("concern", [*Concern, *Refusal, *LockConcern])
def test_every_concern_and_refusal_is_a_sentence(concern: Concern | Refusal | LockConcern) -> None:
    if isinstance(concern, Concern):
        warned = Warned(concern=concern, place="hinge edge", amount=0.5, limit=0.25, why="it is")
        words, held = warning(warned, INCHES), "1/2 in"
    elif isinstance(concern, Refusal):
        set_up = mortising(plain_scene(shop__bit=1.5, shop__bushing=1.625)).set_ups[0]
        words, held = refusal(concern, set_up, INCHES), ""
    else:
        words, held = lock_warning(concern, lock_marks(plain_scene(lock=LOCK))[0], INCHES), "latch"
    assert not words[0].islower() and words.endswith(".") and held in words


def test_year_in_words_and_small_lengths_in_thousandths() -> None:
    def words(**changes: Any) -> str:
        return " ".join(season_words(bench_numbers(plain_scene(**changes)).season, INCHES))

    closes = words(slab__width=(29.96875,))
    assert "The strike margin closes in" in closes
    assert "red oak across the grain" in closes
    assert "hardly moves" in words(slab__construction="hollow metal")
    assert "Nothing is known of how its wood moves" in words(slab__material="unobtainium")
    wet = Season(temperatures=(60.0,) * 12, humidities=(85.0,) * 12, moisture=8.0)
    assert "less sure" in words(season=wet)
    assert "thickens" in words(season=wet)
    assert "0.000 in of finish" in words(finish=Finish(slab=0, jamb=0, film=0.001))
    assert INCHES.fine(0.006) == "0.006 in"
    assert MILLIMETRES.fine(0.006) == "0.15 mm"


@given(st.integers(0, 10_000), st.sampled_from(["in", "mm"]), st.integers(32, 78))
def test_text_fits_and_data_are_json(seed: int, unit: str, width: int) -> None:
    scene = changed(random_opening(seed), lock=replace(LOCK, deadbolt=DEADBOLT))
    if seed % 2:
        scene = changed(scene, wanted=Wanted(strike=1 / 8, bottom=0.5))
    numbers = bench_numbers(scene)
    page = text(bench_card(numbers, unit), width)
    assert max(map(len, page.split("\n"))) <= width
    assert "nan" not in page
    data = json.loads(json.dumps(data_of(numbers), allow_nan=False))
    assert data["schema"] == "swingcheck.bench/1"
    assert data["cuts"]["finished_in"]["width"] == pytest.approx(numbers.finished.slab.width)
    assert len(data["leaves"]["hinges"]) == scene.hinge.count
    assert len(data["season"]["months"]) == 12
    assert data["can_be_done"] is numbers.can_be_done


def test_data_of_a_lock_are_the_marks_of_its_strike_and_assumptions_told_once() -> None:
    numbers = bench_numbers(plain_scene(lock=LOCK))
    (bolt,) = numbers.bolts
    (told,) = data_of(numbers)["lock"]
    assert told["strike"]["up_in"] == pytest.approx(bolt.strike.up)
    assert told["strike"]["down_in"] == pytest.approx(bolt.strike.down)
    assert told["strike"]["throw_in"] == pytest.approx(bolt.lock.throw)
    assert told["face_down_in"] == pytest.approx([bolt.face_top, bolt.face_bottom])
    assert told["face_from_wide_in"] == pytest.approx([bolt.face_near, bolt.face_far])
    assert told["backset_in"]["narrow_face"] == pytest.approx(bolt.backset.narrow)
    edge = data_of(numbers)["cuts"]["edges"][0]
    assert edge["tilt_deg"] == pytest.approx(2.0)
    assert edge["marks"][0]["narrow_face_in"] == pytest.approx(
        numbers.cuts.edges[0].marks[0].narrow
    )
    numbers = bench_numbers(plain_scene())
    keys = [item.key for item in numbers.assumed]
    assert len(keys) == len(set(keys))
    assert {"slab.delivered", "shop.bit", "season.moisture", "finish"} <= set(keys)
    assert numbers.bench_assumed == numbers.assumed
