"""``swingcheck bench`` and the year of ``swingcheck check`` from the outside."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from swingcheck.bench.door import bench_numbers, why_no_numbers
from swingcheck.cli import main
from swingcheck.scenefile import read_scene

SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.toml"))

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
width = "29 7/8"
height = "79 3/4"
thickness = "1 3/8"
material = "red oak"
construction = "solid"
[slab.delivered]
width = "30"
height = "80"
[season]
month = 1
"""


@pytest.fixture
def closet(tmp_path: Path) -> str:
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET, encoding="utf-8")
    return str(path)


def run(*args: str) -> Result:
    return CliRunner().invoke(main, list(args))


def test_marks_of_a_plain_closet(closet: str) -> None:
    result = run("bench", closet)
    assert result.exit_code == 0
    assert "1 hinge" in result.stdout
    assert "29 15/16" in result.stdout
    assert "29 7/8" in result.stdout


def test_data(closet: str) -> None:
    result = run("bench", closet, "--json")
    assert result.exit_code == 0
    data = json.loads(result.stdout)
    first, second = data["cuts"]["edges"]
    assert [mark["wide_face_in"] for mark in first["marks"]] == [29.9375, 29.9375]
    assert [mark["wide_face_in"] for mark in second["marks"]] == [29.875, 29.875]


def test_a_bit_that_cannot_cut_the_corner_exits_with_1(closet: str) -> None:
    result = run("bench", closet, "--set", "shop.bit=1 1/2", "--set", "shop.bushing=1 5/8")
    assert result.exit_code == 1
    assert "1 1/2 in bit leaves a 3/4 in corner" in " ".join(result.stdout.split())


def test_too_small_a_slab_exits_with_1(closet: str) -> None:
    result = run("bench", closet, "--set", "slab.delivered.width=29 1/2")
    assert result.exit_code == 1
    assert "too small" in result.stdout


def test_no_such_scene_exits_with_2(tmp_path: Path) -> None:
    result = run("bench", str(tmp_path / "none.toml"))
    assert result.exit_code == 2
    assert "no such file" in result.stderr


def test_what_it_says_to_check_is_the_slab_that_it_cuts(closet: str) -> None:
    wanted = ("--set", "wanted.strike=1/8", "--set", "wanted.bottom=1/2")
    tapered = ("--set", 'opening.width=["30 1/8", "30"]', "--set", 'opening.height=["80 1/2","80"]')
    told = json.loads(run("bench", closet, *wanted, *tapered, "--json").stdout)
    options = [
        word for key, value in told["check_with"].items() for word in ("--set", f"{key}={value}")
    ]
    found = json.loads(run("check", closet, *tapered, *options, "--json").stdout)
    assert found["margins_in"]["strike"] == pytest.approx(
        told["cuts"]["margins_in"]["strike"], abs=2e-4
    )
    assert found["margins_in"]["head"] == pytest.approx(
        told["cuts"]["margins_in"]["head"], abs=2e-4
    )


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("scene", SCENES, ids=lambda path: path.stem)
def test_every_scene_has_its_bench_numbers_or_the_reason_why_not(scene: Path, unit: str) -> None:
    result = run("bench", str(scene), "--unit", unit)
    if reason := why_no_numbers(read_scene(scene)):
        assert result.exit_code == 2
        assert reason in " ".join(result.stderr.split())
        return
    assert result.exit_code in (0, 1)
    cut = bench_numbers(read_scene(scene)).cuts.edges
    assert ("Rip, " + unit in result.stdout) == any(each.is_needed for each in cut)
    assert all(len(line) <= 78 for line in result.stdout.splitlines())


def test_year_of_a_check(closet: str) -> None:
    result = run("check", closet, "--season")
    words = " ".join(result.stdout.split())
    assert "The strike margin closes in" in words
    assert "at the strike today" in words
    assert "December" in words
    data = json.loads(run("check", closet, "--season", "--json").stdout)
    assert data["season"]["closes"] in words
    assert data["season"]["months"][0]["gained_in"] == 0.0
    assert "season" not in json.loads(run("check", closet, "--json").stdout)


def test_today_the_year_has_the_margins_of_the_check() -> None:
    """Pairs, Dutch doors, lipped slabs and double-acting ones among them."""
    result = run("check", *map(str, SCENES), "--season", "--json")
    found = json.loads(result.stdout)
    assert len(found) == len(SCENES)
    for each in found:
        margins, year = each["margins_in"], each["season"]
        assert year["unpainted_strike_in"] == margins["strike"], each["scene"]
        for month in year["months"]:
            for side, grown in (("hinge", 0.0), ("strike", month["gained_in"])):
                today = [margin + year["film_in"] + grown for margin in month[f"{side}_in"]]
                assert today == pytest.approx(margins[side], abs=1e-9), each["scene"]


def test_year_leaves_the_verdict_alone(closet: str) -> None:
    assert run("check", closet, "--season").exit_code == run("check", closet).exit_code
