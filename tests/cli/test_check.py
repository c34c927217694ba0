"""``swingcheck check`` from the outside: what it prints and how it exits."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import CLOSET, PINCHED, data, flat, refused, run

SQUARE = ("--set", "slab.hinge_edge=square")
STRUCK = (*SQUARE, "--set", "slab.width=30 1/32", "--set", "slab.strike_edge=square")


@pytest.fixture
def struck(tmp_path: Path) -> str:
    path = tmp_path / "struck.toml"
    wide = CLOSET.replace('"29 7/8"', '"30 1/32"').replace("{ bevel = 2 }", '"square"')
    path.write_text(wide.replace("Linen closet", "Pantry"), encoding="utf-8")
    return str(path)


@pytest.fixture
def broken(tmp_path: Path) -> str:
    path = tmp_path / "broken.toml"
    path.write_text('[opening]\nwidth = "wide"\nheigth = "80"\n', encoding="utf-8")
    return str(path)


def test_a_slab_that_swings_exits_0_and_bad_input_2_with_every_fault(
    closet: str, broken: str, tmp_path: Path
) -> None:
    shown = run("check", closet)
    assert shown.exit_code == 0
    assert shown.stdout.startswith("Linen closet: SWINGS")
    assert shown.stderr == ""
    assert run("check", "-", text=CLOSET).stdout == shown.stdout
    for flags in ((), ("--json",)):
        refused(run("check", broken, *flags), "broken.toml", "opening.width", "opening.heigth")
    refused(run("check", tmp_path / "none.toml"), "none.toml")
    refused(run("check", "-", text="[opening]\nwidth = 0\n"), "standard input")
    refused(run("check"))


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        (STRUCK, ("STRIKES the strike leg, strike edge", "short of closed", "edge is square")),
        (
            (*SQUARE, *PINCHED),
            (
                "stop, strike edge",
                "1/16 in into the hinge stop",
                "set back 1/4 in on the jamb and 5/16 in on the slab",
            ),
        ),
    ],
)
def test_a_slab_that_does_not_swing_exits_1_and_says_why(
    closet: str, settings: tuple[str, ...], said: tuple[str, ...]
) -> None:
    shown = run("check", closet, *settings)
    assert shown.exit_code == 1
    assert [part for part in said if part not in flat(shown)] == []


def test_several_scenes_each_get_a_block_and_a_bad_one_does_not_stop_the_others(
    closet: str, struck: str, broken: str
) -> None:
    shown = run("check", closet, struck)
    assert shown.exit_code == 1
    blocks = shown.stdout.split("\n\n")
    assert [block.split(":")[0] for block in blocks] == ["Linen closet", "Pantry", "2 scenes"]
    assert blocks[-1].strip() == "2 scenes: 1 good, 1 bad"
    shown = run("check", broken, closet, struck, closet)
    assert shown.exit_code == 2
    assert shown.stdout.startswith("Linen closet: SWINGS")
    assert "Pantry: STRIKES" in shown.stdout
    last = shown.stdout.splitlines()[-1]
    assert last == "4 scenes: 2 good, 1 bad, 1 could not be read"


def test_json_of_several_is_an_array_with_null_for_a_bad_one(
    closet: str, broken: str, struck: str
) -> None:
    shown = run("check", closet, broken, struck, "--json")
    found = json.loads(shown.stdout)
    assert [None if one is None else one["verdict"] for one in found] == ["swings", None, "strikes"]
    assert shown.exit_code == 2
    assert "opening.width" in shown.stderr
    one = data("check", closet)
    assert one == found[0]
    assert (one["schema"], one["scene"]) == ("swingcheck.check/1", "Linen closet")


def test_a_step_adds_the_clearance_curve_and_from_moves_its_start(closet: str) -> None:
    assert "curve" not in data("check", closet)
    found = data("check", closet, "--step", "10", "--from", "30")
    assert [point["angle_deg"] for point in found["curve"]] == pytest.approx([30, 20, 10, 0])
    assert min(point["clearance_in"] for point in found["curve"]) >= 0
    assert "swing.start" not in {item["key"] for item in found["assumed"]}
    assert "At deg" in run("check", closet, "--step", "10").stdout


@pytest.mark.parametrize(
    "flags",
    [
        ("--step", "0"),
        ("--step", "-1"),
        ("--step", "nan"),
        ("--from", "0"),
        ("--from", "181"),
        ("--from", "nan"),
        ("--unit", "feet"),
        ("--set", "slab.width"),
        ("--set", "=3"),
        ("--set", "slab.widht=30"),
    ],
)
def test_flags_out_of_range_are_bad_input(closet: str, flags: tuple[str, str]) -> None:
    refused(run("check", closet, *flags), flags[0])
