"""``swingcheck check`` from the outside: what it prints and how it exits."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swingcheck.cli import main

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
rabbet = "1 7/16"
[slab]
width = "29 7/8"
height = "79 3/4"
thickness = "1 3/8"
hinge_edge = "square"
strike_edge = { bevel = 2 }
material = "red oak"
[hinge]
jamb = { setback = "5/16" }
slab = { setback = "1/4" }
"""

PINCHED = ("--set", "hinge.jamb.setback=1/4", "--set", "hinge.slab.setback=5/16")
STRUCK = ("--set", "slab.width=30 1/32", "--set", "slab.strike_edge=square")


@pytest.fixture
def closet(tmp_path: Path) -> str:
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET, encoding="utf-8")
    return str(path)


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


def run(*args: str, text: str | None = None) -> Result:
    return CliRunner().invoke(main, ["check", *args], input=text)


def data(*args: str, text: str | None = None) -> Any:
    return json.loads(run(*args, "--json", text=text).stdout)


def test_a_slab_that_swings_exits_0_and_says_so_first(closet: str) -> None:
    shown = run(closet)
    assert shown.exit_code == 0
    assert shown.stdout.startswith("Linen closet: SWINGS")
    assert shown.stderr == ""


def test_margins_are_the_closed_form_of_square_surfaces(closet: str) -> None:
    # Flush leaves: the hinge margin is the closed gap; slab to stop is 5/16 less 1/4.
    margins = data(closet)["margins_in"]
    assert margins["hinge"] == pytest.approx([1 / 16] * 3)
    assert margins["hinge_stop"] == pytest.approx([5 / 16 - 1 / 4] * 3)
    assert margins["strike"] == pytest.approx([30.125 - 1 / 16 - 29.875] * 3)
    assert margins["head"] == pytest.approx([1 / 8] * 2)
    assert margins["bottom"] == pytest.approx([80.5 - 1 / 8 - 79.75] * 2)


def test_a_square_edge_too_wide_strikes_and_exits_1(closet: str) -> None:
    shown = run(closet, *STRUCK)
    assert shown.exit_code == 1
    assert "STRIKES the strike leg, strike edge" in shown.stdout
    assert "short of closed" in " ".join(shown.stdout.split())
    assert "strike edge is square" in " ".join(shown.stdout.split())


def test_setbacks_the_wrong_way_round_bury_the_slab_in_its_stops(closet: str) -> None:
    shown = run(closet, *PINCHED)
    words = " ".join(shown.stdout.split())
    assert shown.exit_code == 1
    assert "stop, strike edge" in words
    assert "1/16 in into the hinge stop" in words
    assert "set back 1/4 in on the jamb and 5/16 in on the slab" in words


def test_bad_input_exits_2_with_every_fault_and_no_traceback(broken: str) -> None:
    shown = run(broken)
    assert shown.exit_code == 2
    assert shown.stdout == ""
    assert "broken.toml" in shown.stderr
    assert "opening.width" in shown.stderr and "height" in shown.stderr
    assert "Traceback" not in shown.stderr


def test_a_missing_file_exits_2(tmp_path: Path) -> None:
    shown = run(str(tmp_path / "none.toml"))
    assert shown.exit_code == 2
    assert "none.toml" in shown.stderr


def test_a_scene_comes_from_standard_input(closet: str) -> None:
    shown = run("-", text=CLOSET)
    assert shown.exit_code == 0
    assert shown.stdout == run(closet).stdout


def test_faults_of_standard_input_are_called_that() -> None:
    shown = run("-", text="[opening]\nwidth = 0\n")
    assert shown.exit_code == 2
    assert "standard input" in shown.stderr


def test_several_scenes_each_get_a_block_and_a_count(closet: str, struck: str) -> None:
    shown = run(closet, struck)
    assert shown.exit_code == 1
    blocks = shown.stdout.split("\n\n")
    assert [block.split(":")[0] for block in blocks] == ["Linen closet", "Pantry", "2 scenes"]
    assert blocks[-1].strip() == "2 scenes: 1 swings, 1 does not"


def test_a_bad_scene_does_not_stop_the_others_and_is_the_worst(
    broken: str, closet: str, struck: str
) -> None:
    shown = run(broken, closet, struck, closet)
    assert shown.exit_code == 2
    assert shown.stdout.startswith("Linen closet: SWINGS")
    assert "Pantry: STRIKES" in shown.stdout
    last = shown.stdout.splitlines()[-1]
    assert last == "4 scenes: 2 swing, 1 does not, 1 could not be read"


def test_json_of_one_scene_is_an_object(closet: str) -> None:
    found = data(closet)
    assert found["schema"] == "swingcheck.check/1"
    assert found["scene"] == "Linen closet"
    assert found["verdict"] == "swings"
    assert found["opening"] is None


def test_json_of_several_is_an_array_with_null_for_a_bad_one(
    closet: str, broken: str, struck: str
) -> None:
    shown = run(closet, broken, struck, "--json")
    found = json.loads(shown.stdout)
    assert [None if one is None else one["verdict"] for one in found] == ["swings", None, "strikes"]
    assert shown.exit_code == 2
    assert "opening.width" in shown.stderr


def test_json_of_one_bad_scene_prints_nothing_on_stdout(broken: str) -> None:
    shown = run(broken, "--json")
    assert shown.exit_code == 2
    assert shown.stdout == ""
    assert "opening.width" in shown.stderr


def test_json_does_not_change_with_the_unit(closet: str) -> None:
    assert data(closet) == data(closet, "--unit", "mm")


def test_json_opening_and_angle_are_one_chord(closet: str) -> None:
    """The opening at the strike edge is a chord, so two contacts give the same radius."""
    from math import radians, sin

    radii = []
    for width in ("30 1/32", "30 3/64"):
        touch = data(closet, "--set", f"slab.width={width}", *STRUCK[2:])["closing"]
        radii.append(touch["opening_at_strike_in"] / (2 * sin(radians(touch["angle_deg"]) / 2)))
    # The arris is 1/64 in farther from the pin, and almost straight across from it.
    assert radii[1] - radii[0] == pytest.approx(1 / 64, abs=1e-4)


def test_millimetres_on_request(closet: str) -> None:
    words = " ".join(run(closet, "--unit", "mm").stdout.split())
    assert "Margin, mm" in words
    assert "hinge stop 1.6 1.6 1.6" in words


def test_a_scene_in_millimetres_reports_them(tmp_path: Path) -> None:
    path = tmp_path / "metric.toml"
    path.write_text('unit = "mm"\n[opening]\nwidth = 765\nheight = 2045\n', encoding="utf-8")
    assert "Margin, mm" in run(str(path)).stdout
    assert "Margin, in" in run(str(path), "--unit", "in").stdout


def test_a_step_adds_the_clearance_curve(closet: str) -> None:
    assert "curve" not in data(closet)
    curve = data(closet, "--step", "10")["curve"]
    assert [point["angle_deg"] for point in curve] == pytest.approx(list(range(90, -1, -10)))
    assert min(point["clearance_in"] for point in curve) >= 0
    assert "At deg" in run(closet, "--step", "10").stdout


def test_from_moves_the_start(closet: str) -> None:
    curve = data(closet, "--step", "10", "--from", "30")["curve"]
    assert [point["angle_deg"] for point in curve] == pytest.approx([30, 20, 10, 0])
    keys = {item["key"] for item in data(closet, "--from", "30")["assumed"]}
    assert "swing.start" not in keys


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
    shown = run(closet, *flags)
    assert shown.exit_code == 2, shown.output
    assert shown.stdout == ""
    assert shown.stderr


def test_no_scene_is_bad_input() -> None:
    assert run().exit_code == 2


def test_an_unknown_material_is_named_in_text_and_gives_no_weight(closet: str) -> None:
    words = " ".join(run(closet, "--set", "slab.material=red oka").stdout.split())
    assert "no density known for 'red oka'; nearest known: red oak" in words


def test_the_same_scene_prints_the_same_bytes(closet: str) -> None:
    assert run(closet, "--json").stdout == run(closet, "--json").stdout


def test_a_slab_in_the_way_of_furniture_is_blocked(tmp_path: Path) -> None:
    path = tmp_path / "sofa.toml"
    sofa = '[[obstacle]]\nname = "sofa"\ncorner = ["-5", "10", "0"]\nsize = ["20", "30", "30"]\n'
    path.write_text(CLOSET + sofa, encoding="utf-8")
    shown = run(str(path))
    assert shown.exit_code == 1
    assert "BLOCKED - at the start, 90 deg open, the slab overlaps the sofa" in shown.stdout
    assert data(str(path))["blocked_by"] == ["sofa"]
    assert data(str(path))["closing"] is None
