"""``swingcheck bench`` and the year of ``swingcheck check`` from the outside."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import CLOSET, data, flat, refused, run
from tests.scene_files import SCENES


@pytest.fixture
def delivered(tmp_path: Path) -> str:
    path = tmp_path / "delivered.toml"
    cut = '[slab.delivered]\nwidth = "30"\nheight = "80"\n[season]\nmonth = 1\n'
    path.write_text(CLOSET + cut, encoding="utf-8")
    return str(path)


def test_one_slab_is_cut_and_swung_where_no_width_is_told() -> None:
    text = "[opening]\nwidth = ['30 1/8', 30, '29 7/8']\nheight = ['80 1/2', '80 3/8']\n"
    cut, swung = data("bench", "-", text=text), data("check", "-", text=text)
    assert cut["check_with"] == {}
    assert swung["margins_in"]["strike"] == pytest.approx(cut["cuts"]["margins_in"]["strike"])
    assert swung["margins_in"]["strike"] == pytest.approx([0.125] * 3, abs=1e-6)


def test_marks_of_a_plain_closet_are_those_of_the_slab_that_it_says_to_check(
    delivered: str,
) -> None:
    shown = run("bench", delivered, "--set", "season.month=8")
    assert shown.exit_code == 0
    assert all(words in shown.stdout for words in ("1 hinge", "29 15/16", "29 7/8"))
    first, second = data("bench", delivered)["cuts"]["edges"]
    assert [mark["wide_face_in"] for mark in first["marks"]] == [29.9375, 29.9375]
    assert [mark["wide_face_in"] for mark in second["marks"]] == [29.875, 29.875]
    wanted = ("--set", "wanted.strike=1/8", "--set", "wanted.bottom=1/2")
    tapered = ("--set", 'opening.width=["30 1/8", "30"]', "--set", 'opening.height=["80 1/2","80"]')
    told = data("bench", delivered, *wanted, *tapered)
    options = [
        word for key, value in told["check_with"].items() for word in ("--set", f"{key}={value}")
    ]
    found = data("check", delivered, *tapered, *options)["margins_in"]
    for side in ("strike", "head"):
        assert found[side] == pytest.approx(told["cuts"]["margins_in"][side], abs=2e-4)


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (("shop.bit=1 1/2", "shop.bushing=1 5/8"), "1 1/2 in bit leaves a 3/4 in corner"),
        (("slab.delivered.width=29 1/2",), "too small"),
    ],
)
def test_what_cannot_be_cut_exits_with_1(
    delivered: str, settings: tuple[str, ...], said: str
) -> None:
    shown = run("bench", delivered, *(word for each in settings for word in ("--set", each)))
    assert shown.exit_code == 1
    assert said in flat(shown)


REFUSED = {
    "flat_bedroom": "slab.lip: its lip is machined",
    "garden_room": "slab.arch: its top is an arch",
    **dict.fromkeys(("servery", "garden_door", "butlers_pantry"), "pivot: it hangs on pivots"),
    "front_parlor": "slab.lip: its lip is machined",
    "dining_room": "inactive: it meets another slab",
    "back_kitchen": "lower: it hangs over another slab",
}


@pytest.mark.parametrize("scene", sorted(SCENES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_scene_has_its_bench_numbers_or_the_reason_why_not(scene: Path) -> None:
    shown = run("bench", scene, "--unit", "mm")
    if reason := REFUSED.get(scene.stem):
        refused(shown, f"Error: {scene}: {reason}")
        return
    assert shown.exit_code in (0, 1)
    assert all(len(line) <= 78 for line in shown.stdout.splitlines())


def test_year_of_a_check(delivered: str) -> None:
    shown, plain = run("check", delivered, "--season"), run("check", delivered)
    assert shown.exit_code == plain.exit_code
    words = flat(shown)
    assert "The strike margin closes in" in words
    assert "at the strike today" in words and "December" in words
    told = data("check", delivered, "--season")
    season = told["season"]
    assert season["unpainted_strike_in"] == told["margins_in"]["strike"]
    assert season["closes"] in words
    assert season["months"][0]["gained_in"] == 0.0
    assert "season" not in data("check", delivered)
