"""Every command on every way of hanging a slab: it answers, or says why it cannot."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swingcheck.cli import main

SCENES = Path(__file__).parents[2] / "scenes"

VERDICTS = {
    "sun_room": "swings",
    "downstairs_bath": "swings",
    "garden_door": "stands off",
    "butlers_pantry": "swings",
    "practice_room": "swings",
    "cloakroom": "swings",
    "dining_room": "swings",
    "front_parlor": "swings",
    "back_kitchen": "swings",
    "upper_hall": "fouls",
}
ON_PIVOTS = ("garden_door", "butlers_pantry")
SEVERAL = ("dining_room", "front_parlor", "back_kitchen")
WITH_OTHERS = (*SEVERAL, "upper_hall")


def run(command: str, name: str, *args: str) -> Result:
    return CliRunner().invoke(main, [command, str(SCENES / f"{name}.toml"), *args])


def data(name: str, *args: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run("check", name, "--json", *args).stdout)
    return found


@pytest.mark.parametrize(("name", "verdict"), VERDICTS.items())
def test_check_gives_the_verdict_that_the_scene_shows(name: str, verdict: str) -> None:
    result = run("check", name)
    assert result.exit_code == (verdict != "swings")
    first = (SCENES / f"{name}.toml").read_text(encoding="utf-8").splitlines()[0]
    assert first.lower().startswith(f"# {verdict}")
    assert data(name)["verdict"] == verdict
    assert ("others" in data(name)) is (name in WITH_OTHERS)


@pytest.mark.parametrize("name", WITH_OTHERS)
def test_what_is_said_of_the_other_slab_is_in_the_data(name: str) -> None:
    (other,) = data(name)["others"]
    assert other["verdict"] == "swings"
    assert other["opens_first"] == ("this" if name == "front_parlor" else "either")
    together = other["together"]
    assert together["certain_in"] <= together["least_in"]
    assert bool(together["fouls"]) is (together["least_in"] == 0)
    said = run("check", name).stdout
    label = {"inactive": "Inactive", "lower": "Lower", "neighbour": "Neighbour"}
    assert f"\n{label[other['relation']]} " in said


def test_a_neighbour_that_fouls_decides() -> None:
    found = data("upper_hall")
    assert found["decided_by"] == "study"
    assert found["closing"] is None
    assert not found["others"][0]["together"]["clear_as_wanted"]
    said = run("check", "upper_hall").stdout
    assert "FOULS the study's slab - this slab" in said
    assert "open one, and it holds the other" in " ".join(said.split())


def test_an_inactive_slab_that_pinches_is_named() -> None:
    said = run("check", "dining_room", "--set", "inactive.hinge.jamb.setback=7/32").stdout
    words = " ".join(said.split())
    assert "PINCHES: the inactive slab meets the strike stop" in words
    assert "The active slab swings, but the inactive slab meets the strike stop" in words


def test_a_pair_too_tight_names_the_margin_between_its_slabs() -> None:
    square = ("--set", "slab.strike_edge=square")
    result = run("check", "dining_room", "--set", "slab.width=30 1/32", *square)
    words = " ".join(result.stdout.split())
    assert "STRIKES the inactive slab" in words
    assert "the margin between the slabs is" in words
    assert "Cure" in words


def test_a_cure_of_a_pair_holds_when_it_is_set() -> None:
    tight = ("--set", "slab.width=30 3/32")
    cures = data("dining_room", *tight)["remedies"]
    assert cures
    for cure in cures:
        settings = [f"{key}={value}" for key, value in cure["set"].items()]
        args = [arg for setting in settings for arg in ("--set", setting)]
        assert data("dining_room", *tight, *args)["verdict"] == "swings", cure["words"]


def test_pivots_that_swing_too_deep_say_so() -> None:
    words = " ".join(run("check", "garden_door").stdout.split())
    assert "the hinge edge swings" in words
    assert "deeper than the closed slab stands" in words


def test_rising_hinges_say_how_far_they_have_lifted() -> None:
    words = " ".join(run("check", "practice_room", "--set", "slab.head_margin=1/8").stdout.split())
    assert "DRAGS on the head" in words
    assert "its rising hinges have lifted it" in words


@pytest.mark.parametrize("name", ON_PIVOTS)
@pytest.mark.parametrize("command", ["setback", "bench"])
def test_what_is_about_leaves_is_refused_on_pivots(command: str, name: str) -> None:
    result = run(command, name)
    assert result.exit_code == 2
    assert "pivots" in result.stderr


@pytest.mark.parametrize("name", SEVERAL)
def test_the_bench_is_refused_where_a_slab_meets_another(name: str) -> None:
    result = run("bench", name)
    assert result.exit_code == 2
    assert "bench numbers are for" in result.stderr


@pytest.mark.parametrize("name", [name for name in VERDICTS if name not in ON_PIVOTS])
def test_setback_answers_on_leaves(name: str) -> None:
    result = run("setback", name)
    assert result.exit_code in (0, 1)
    assert result.exception is None or isinstance(result.exception, SystemExit)


@pytest.mark.parametrize("name", VERDICTS)
def test_pages_are_written(name: str, tmp_path: Path) -> None:
    file = tmp_path / "fit.html"
    result = run("page", name, "-o", str(file))
    assert result.exit_code == 0, result.stderr
    text = file.read_text(encoding="utf-8")
    assert ("No numbers: it" in text) is (name in (*ON_PIVOTS, *SEVERAL))


@pytest.mark.parametrize("name", WITH_OTHERS)
def test_meshes_hold_the_other_slab_under_its_name(name: str, tmp_path: Path) -> None:
    file = tmp_path / "fit.obj"
    result = run("mesh", name, "-o", str(file))
    assert result.exit_code == 0, result.stderr
    own = data(name)["others"][0]["name"].split()[0]
    assert own in file.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["butlers_pantry", "front_parlor", "back_kitchen"])
def test_pictures_are_drawn(name: str, tmp_path: Path) -> None:
    file = tmp_path / "fit.svg"
    result = run("picture", name, "-o", str(file))
    assert result.exit_code == 0, result.stderr
    assert file.stat().st_size > 10_000


@pytest.mark.parametrize("name", VERDICTS)
def test_a_dimension_varies(name: str) -> None:
    width = float(data(name, "--set", "unit=in")["clear_width_in"] or 30)
    assert width > 20
    result = run("vary", name, "--over", "slab.head_margin=1/8:1/4:1/8")
    kept = name == "back_kitchen"
    assert result.exit_code == (2 if kept else 0), result.stderr
    if kept:
        assert "lower" in result.stderr
