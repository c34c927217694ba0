"""``swingcheck setback``, ``leeway`` and ``bevel`` as a person uses them."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swingcheck.chance.measurements import measurements
from swingcheck.cli import main
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.units import parsed_length

PINCHED = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
rabbet = "1 7/16"
[slab]
width = "29 15/16"
hinge_edge = { bevel = 2 }
strike_edge = { bevel = 2 }
[hinge]
jamb = { tops = ["7", "36 1/4", "65 1/2"], setback = "9/32" }
slab = { setback = "5/16" }
[shop]
jig_setback = "5/16"
"""

TIGHT = """
title = "Pantry"
[opening]
width = "24"
height = "80"
[slab]
width = "23 7/8"
strike_edge = "square"
"""

METRIC = """
title = "Study"
unit = "mm"
[opening]
width = 841
height = 2005
rabbet = 41
[slab]
width = 834
thickness = 39
height = 1985
"""


def run(*args: str, text: str | None = None) -> Result:
    return CliRunner().invoke(main, list(args), input=text)


def data(*args: str, text: str | None = None) -> Any:
    return json.loads(run(*args, "--json", text=text).stdout)


def flat(result: Result) -> str:
    return " ".join(result.stdout.split())


# ---------------------------------------------------------------- setback


def test_the_first_line_is_the_number_for_the_jig() -> None:
    shown = run("setback", "-", text=PINCHED)
    assert shown.exit_code == 0
    first = shown.stdout.splitlines()[0]
    found = re.fullmatch(r"Linen closet: SET THE JIG TO (.+)", first)
    assert found is not None
    setting = parsed_length(found[1])
    assert setting * 64 == round(setting * 64)
    hung = read_scene(PINCHED, settings=[("hinge.slab.setback", found[1])])
    assert check(hung).verdict is Verdict.SWINGS


def test_it_says_how_far_the_jig_is_from_there_and_what_it_does_now() -> None:
    words = flat(run("setback", "-", text=PINCHED))
    assert "set to 5/16 in now: there it pinches on the hinge stop" in words
    assert "short of closed" in words
    assert "1/16 in less, to 1/4 in" in words


def test_what_set_is_given_is_what_was_recommended() -> None:
    found = data("setback", "-", text=PINCHED)
    settings = [(key, value) for key, value in found["set"].items()]
    hung = read_scene(PINCHED, settings=settings)
    assert set(hung.hinge.slab.setbacks) == {found["setting_in"]}
    assert found["at_setting"]["fits"] is True
    assert found["check"]["verdict"] == "swings"
    assert found["away_in"] == pytest.approx(found["setting_in"] - 0.3125)
    assert found["at_now"]["verdict"] == "pinches"
    (works,) = found["works"]
    assert works["low_in"] < found["setting_in"] < works["high_in"]
    assert works["above"]["limit"] == "hinge stop clearance"
    (swings,) = found["swings"]
    assert swings["above"]["verdict"] == "pinches"
    assert swings["above"]["against"][0] == "hinge stop"
    assert swings["above"]["opening_at_strike_in"] == pytest.approx(1 / 32, abs=1e-3)


def test_a_jig_that_is_right_is_left() -> None:
    shown = run("setback", "-", "--set", "hinge.jamb.setback=5/16", "--set", "shop.jig_setback=1/4",
                "--set", "hinge.slab.setback=1/4", text=PINCHED)  # fmt: skip
    assert shown.stdout.startswith("Linen closet: LEAVE THE JIG AT 1/4 in")


def test_no_setting_exits_1_and_says_what_is_touched() -> None:
    shown = run("setback", "-", text=TIGHT)
    assert shown.exit_code == 1
    assert shown.stdout.startswith("Pantry: NO SETTING OF THE JIG WORKS")
    assert "strikes the strike leg" in flat(shown)
    assert data("setback", "-", text=TIGHT)["setting_in"] is None


def test_the_jamb_can_be_asked_for() -> None:
    shown = run("setback", "-", "--on", "jamb", text=PINCHED)
    assert shown.exit_code == 0
    found = re.match(r"Linen closet: SET THE JAMB'S JIG TO (.+) in", shown.stdout)
    assert found is not None
    assert 11 / 32 <= parsed_length(found[1]) <= 13 / 32


def test_a_metric_scene_is_set_in_half_millimetres() -> None:
    found = data("setback", "-", text=METRIC)
    halves = found["setting_in"] * 25.4 * 2
    assert halves == pytest.approx(round(halves), abs=1e-6)
    assert " mm" in run("setback", "-", text=METRIC).stdout.splitlines()[0]


def test_what_is_wanted_can_be_set() -> None:
    loose = data("setback", "-", "--set", "wanted.hinge_stop=0", text=PINCHED)
    tight = data("setback", "-", "--set", "wanted.hinge_stop=1/16", text=PINCHED)
    assert loose["works"][0]["high_in"] - tight["works"][0]["high_in"] == pytest.approx(
        1 / 16, abs=1e-3
    )
    assert tight["wanted"]["hinge_stop_in"] == 1 / 16


# ---------------------------------------------------------------- leeway


def test_leeway_says_how_far_a_dimension_goes() -> None:
    shown = run("leeway", "hinge.slab.depth", "-", text=METRIC)
    assert shown.exit_code == 0
    assert "hinge.slab.depth CAN BE" in shown.stdout.splitlines()[0]
    assert "hinge margin is less than" in flat(shown)


def test_leeway_takes_the_scene_anywhere_and_several_keys(tmp_path: Path) -> None:
    scene = tmp_path / "closet.toml"
    scene.write_text(PINCHED)
    before = run("leeway", str(scene), "slab.width", "stop.projection")
    after = run("leeway", "slab.width", "stop.projection", str(scene))
    assert before.stdout == after.stdout
    assert before.exit_code == 1
    assert before.stdout.count("NO VALUE OF") == 2


def test_leeway_lists_what_can_be_left_free() -> None:
    words = flat(run("leeway", "-", text=PINCHED))
    listed = data("leeway", "-", text=PINCHED)
    keys = [row["key"] for row in listed]
    assert keys == [each.key for each in measurements(read_scene(PINCHED))]
    assert all(key in words for key in keys)


def test_an_unknown_key_exits_2_with_the_nearest_one() -> None:
    shown = run("leeway", "slab.widht", "-", text=PINCHED)
    assert shown.exit_code == 2
    assert "did you mean slab.width?" in shown.stderr


def test_a_value_on_leeways_end_still_works_and_one_past_it_does_not() -> None:
    found = data("leeway", "hinge.jamb.setback", "-", text=PINCHED)
    (works,) = found["works"]
    for value, good in ((works["low_in"] + 1e-6, True), (works["low_in"] - 1e-4, False)):
        again = data("leeway", "hinge.jamb.setback", "-", "--set", f"hinge.jamb.setback={value!r}",
                     text=PINCHED)  # fmt: skip
        assert again["works_now"] is good


# ---------------------------------------------------------------- bevel


def test_bevel_says_the_least_of_either_edge() -> None:
    shown = run("bevel", "-", text=TIGHT)
    assert shown.exit_code == 0 or "NO BEVEL WORKS" in shown.stdout.splitlines()[0]
    found = data("bevel", "-", text=TIGHT)
    least = found["edges"]["strike_edge"]["least_deg"]
    assert 0 < least < 3
    settings = list(found["edges"]["strike_edge"]["set"].items())
    hung = check(read_scene(TIGHT, settings=settings))
    assert hung.verdict is Verdict.SWINGS


def test_the_table_falls_with_bevel_and_with_width() -> None:
    found = data("bevel", "-", "--widths", "12, 24, 36", "--thicknesses", "1 3/8, 1 3/4",
                 "--bevels", "0, 1, 1/8 in 2", text=PINCHED)  # fmt: skip
    assert [table["thickness_in"] for table in found["strike_margin"]] == [1.375, 1.75]
    for table in found["strike_margin"]:
        rows = [row["least_margin_in"] for row in table["rows"]]
        assert all(row == sorted(row, reverse=True) for row in rows)
        columns = list(zip(*rows, strict=True))
        assert all(list(column) == sorted(column, reverse=True) for column in columns)
    thin, thick = (table["rows"][0]["least_margin_in"][0] for table in found["strike_margin"])
    assert thick > thin > 0


def test_the_table_is_rounded_up_to_a_mark() -> None:
    args = ("--widths", "24", "--bevels", "0")
    exact = data("bevel", "-", *args, text=PINCHED)["strike_margin"][0]["rows"][0]
    shown = run("bevel", "-", *args, text=PINCHED).stdout.splitlines()[-1].split()
    assert shown[0] == "24"
    mark = parsed_length(shown[1])
    assert 0 <= mark - exact["least_margin_in"][0] < 1 / 64


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
def test_a_list_that_is_wrong_exits_2(option: str, value: str, words: str) -> None:
    shown = run("bevel", "-", option, value, text=PINCHED)
    assert shown.exit_code == 2
    assert words in shown.stderr
    assert "Traceback" not in shown.stderr


@pytest.mark.parametrize("command", [("setback",), ("leeway", "slab.width"), ("bevel",)])
def test_a_scene_with_faults_exits_2(command: tuple[str, ...]) -> None:
    shown = run(*command, "-", text="[opening]\nwidth = 0\n")
    assert shown.exit_code == 2
    assert "opening.width" in shown.stderr
    assert shown.stdout == ""


# ---------------------------------------------------------------- remedies


FAULTY = {
    "pinches": PINCHED,
    "strikes": TIGHT,
    "hinge-bound": TIGHT
    + "[opening.hinge_leg]\ntwist = 3\n"
    + '[opening.strike_leg]\nplumb = "-1/4"\n',
    "drags": METRIC + "[floor]\nout = 2\n",
}


@pytest.mark.parametrize("word", FAULTY)
def test_every_remedy_that_check_prints_makes_it_exit_0(word: str) -> None:
    before = data("check", "-", text=FAULTY[word])
    assert before["verdict"] in (word, {"drags": "blocked"}.get(word, word))
    assert before["remedies"]
    words = flat(run("check", "-", text=FAULTY[word]))
    for remedy in before["remedies"]:
        assert remedy["words"] in words
        settings = [
            part for key, value in remedy["set"].items() for part in ("--set", f"{key}={value}")
        ]
        after = run("check", "-", *settings, text=FAULTY[word])
        assert after.exit_code == 0, (remedy, after.stdout)


def test_remedies_are_said_in_the_unit_that_is_asked_for() -> None:
    inches, metric = (flat(run("check", "-", "--unit", u, text=PINCHED)) for u in ("in", "mm"))
    assert "leaves 1/16 in nearer" in inches
    assert "leaves 1.6 mm nearer" in metric
    assert " in nearer" not in metric
