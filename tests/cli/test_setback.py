"""``swingcheck setback``, ``leeway`` and ``bevel`` as a person uses them."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from swingcheck.chance.measurements import measurements
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.units import parsed_length
from tests.authorities.test_setback_facts import MEASURED
from tests.commands import data, flat, refused, run
from tests.scene_files import METRIC

PINCHED = MEASURED.format(rabbet="1 7/16", jamb="9/32", jig="5/16")

TIGHT = """
title = "Pantry"
[opening]
width = "24"
height = "80"
[slab]
width = "23 7/8"
strike_edge = "square"
"""


@cache
def told() -> Any:
    """Return the data of the setback of the closet that pinches."""
    return data("setback", "-", text=PINCHED)


STILL = ("--set", "slab.construction=hollow metal", "--set", "slab.material=steel")
"""What makes of the closet's slab one that no month moves."""


def keys_of(settings: dict[str, str]) -> list[str]:
    """Return settings as options."""
    return [word for key, value in settings.items() for word in ("--set", f"{key}={value}")]


# Setback


def test_the_first_line_is_the_number_for_the_jig_and_remedies_are_in_the_unit_asked_for() -> None:
    shown = run("setback", "-", text=PINCHED)
    assert shown.exit_code == (0 if told()["chance"] >= 0.95 else 1)
    assert f"works {int(100 * told()['chance'])} of 100 as cut, painted" in flat(shown)
    found = re.fullmatch(r"Linen closet: SET THE JIG TO (.+)", shown.stdout.splitlines()[0])
    assert found is not None
    setting = parsed_length(found[1])
    assert setting == told()["setting_in"] and (setting * 64).is_integer()
    words = flat(shown)
    assert "set to 5/16 in now: there it pinches on the hinge stop" in words
    assert "short of closed" in words
    assert "1/16 in less, to 1/4 in" in words
    inches, metric = (flat(run("check", "-", "--unit", u, text=PINCHED)) for u in ("in", "mm"))
    assert "leaves 1/16 in nearer" in inches
    assert "leaves 1.6 mm nearer" in metric and " in nearer" not in metric


def test_what_set_is_given_is_what_was_recommended() -> None:
    found = told()
    hung = read_scene(PINCHED, settings=list(found["set"].items()))
    assert set(hung.hinge.slab.setbacks) == {found["setting_in"]}
    assert check(hung).verdict is Verdict.SWINGS
    tight = read_scene(PINCHED, settings=[("wanted.hinge_stop", "1/16")])
    assert tight.wanted is not None and tight.wanted.hinge_stop == 1 / 16
    assert found["wanted"]["hinge_stop_in"] == pytest.approx(1 / 32)
    assert found["at_setting"]["fits"] is True
    assert found["check"]["verdict"] == "swings"
    assert found["away_in"] == pytest.approx(found["setting_in"] - 0.3125)
    assert found["at_now"]["verdict"] == "pinches"
    (works,), (swings,) = found["works"], found["swings"]
    assert works["low_in"] < found["setting_in"] < works["high_in"]
    assert works["above"]["limit"] == "hinge stop clearance"
    assert swings["above"]["verdict"] == "pinches"
    assert swings["above"]["against"][0] == "hinge stop"
    assert swings["above"]["opening_at_strike_in"] == pytest.approx(1 / 32, abs=1e-3)


def test_a_jig_that_is_right_is_left_and_one_that_cannot_be_exits_1() -> None:
    right = {"hinge.jamb.setback": "5/16", "shop.jig_setback": "1/4", "hinge.slab.setback": "1/4"}
    shown = run("setback", "-", *keys_of(right), *STILL, text=PINCHED)
    assert shown.exit_code == 0
    assert shown.stdout.startswith("Linen closet: LEAVE THE JIG AT 1/4 in")
    shown = run("setback", "-", text=TIGHT)
    assert shown.exit_code == 1
    assert shown.stdout.startswith("Pantry: NO SETTING OF THE JIG WORKS")
    assert "strikes the strike leg" in flat(shown)
    assert data("setback", "-", text=TIGHT)["setting_in"] is None


def test_the_jamb_millimetres_and_the_least_bevel_can_be_asked_for() -> None:
    shown = run("setback", "-", "--on", "jamb", *STILL, text=PINCHED)
    found = re.match(r"Linen closet: SET THE JAMB'S JIG TO (.+) in", shown.stdout)
    assert shown.exit_code == 0 and found is not None
    assert 11 / 32 <= parsed_length(found[1]) <= 13 / 32
    halves = data("setback", "-", text=METRIC)["setting_in"] * 25.4 * 2
    assert halves == pytest.approx(round(halves), abs=1e-6)
    one = ("--widths", "24", "--thicknesses", "1 3/8", "--bevels", "0")
    strike = data("bevel", "-", *one, text=TIGHT)["edges"]["strike_edge"]
    assert 0 < strike["least_deg"] < 3
    hung = check(read_scene(TIGHT, settings=list(strike["set"].items())))
    assert hung.verdict is Verdict.SWINGS


# Leeway


def test_leeway_takes_the_scene_anywhere_and_says_how_far_a_dimension_goes(tmp_path: Path) -> None:
    scene = tmp_path / "closet.toml"
    scene.write_text(PINCHED)
    before = run("leeway", scene, "slab.width", "stop.projection")
    assert before.stdout == run("leeway", "slab.width", "stop.projection", scene).stdout
    assert before.exit_code == 1
    assert before.stdout.count("NO VALUE OF") == 2
    shown = run("leeway", "hinge.slab.depth", "-", text=METRIC)
    assert shown.exit_code == 0
    assert "hinge.slab.depth CAN BE" in shown.stdout.splitlines()[0]
    assert "hinge margin is less than" in flat(shown)
    keys = [row["key"] for row in data("leeway", "-", text=PINCHED)]
    assert keys == [each.key for each in measurements(read_scene(PINCHED))]
    words = flat(run("leeway", "-", text=PINCHED))
    assert all(key in words for key in keys)


# Bevel


def test_the_table_falls_with_bevel_and_with_width_and_is_rounded_up_to_a_mark() -> None:
    asked = ("--widths", "24, 36", "--thicknesses", "1 3/8, 1 3/4", "--bevels", "0, 1, 1/8 in 2")
    found = data("bevel", "-", *asked, text=PINCHED)["strike_margin"]
    assert [table["thickness_in"] for table in found] == [1.375, 1.75]
    for table in found:
        rows = [row["least_margin_in"] for row in table["rows"]]
        assert all(row == sorted(row, reverse=True) for row in rows)
        assert all(narrow >= wide for narrow, wide in zip(*rows, strict=True))
    thin, thick = (table["rows"][0]["least_margin_in"][0] for table in found)
    assert thick > thin > 0
    *_, first, _ = run("bevel", "-", *asked, text=PINCHED).stdout.splitlines()
    width, mark, *_ = re.split(r"\s{2,}", first.strip())
    assert width == "24"
    assert 0 <= parsed_length(mark) - thick < 1 / 64


@pytest.mark.parametrize(
    ("option", "value", "words"),
    [
        ("--widths", "24, wide", "wide: a length"),
        ("--widths", "2400", "a width is from"),
        ("--thicknesses", "0", "a thickness is from"),
        ("--bevels", "45", "a bevel is from 0 to 15 degrees"),
        ("--bevels", "steep", "steep"),
    ],
)
def test_a_list_that_is_wrong_is_refused(option: str, value: str, words: str) -> None:
    refused(run("bevel", "-", option, value, text=PINCHED), words)


@pytest.mark.parametrize("command", [("setback",), ("leeway", "slab.width"), ("bevel",)])
def test_a_scene_with_faults_is_refused(command: tuple[str, ...]) -> None:
    refused(run(*command, "-", text="[opening]\nwidth = 0\n"), "opening.width")
    refused(run("leeway", "slab.widht", "-", text=PINCHED), "did you mean slab.width?")


# Remedies

LEANING = "[opening.hinge_leg]\ntwist = 3\n"
FAULTY = {
    "pinches": PINCHED,
    "strikes": TIGHT,
    "hinge-bound": TIGHT + LEANING,
    "blocked": METRIC + "[floor]\nout = 2\n",
}


@pytest.mark.parametrize("word", FAULTY)
def test_every_remedy_that_check_prints_makes_it_swing(word: str) -> None:
    before = data("check", "-", text=FAULTY[word])
    assert before["verdict"] == word and before["remedies"]
    words = flat(run("check", "-", text=FAULTY[word]))
    for remedy in before["remedies"]:
        assert remedy["words"] in words
        after = data("check", "-", *keys_of(remedy["set"]), text=FAULTY[word])
        assert after["verdict"] == "swings", remedy
