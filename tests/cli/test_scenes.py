"""Every shipped scene through the commands: each answers, or refuses with its reason."""

from __future__ import annotations

import json
from functools import cache
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swingcheck.cli import main
from tests.scene_files import SCENES

EVERY = sorted(path.stem for path in SCENES.glob("*.toml"))

RELATION = {
    "dining_room": "inactive",
    "front_parlor": "inactive",
    "back_kitchen": "lower",
    "upper_hall": "neighbour",
}
"""How the other slab of a scene stands to this one."""

# A scene, and a part that only it has.
PARTS = {
    "servery": "top pivot",
    "garden_door": "top pivot",
    "broom_closet": "astragal",
    "sun_porch": "push-side glass bead",
    "garden_room": "head casing",
    "boiler_room": "push-side handle",
    "back_porch": "threshold",
    "attic_stair": "carpet",
    "coat_closet": "wall return",
    "dining_room": "inactive slab",
    "front_parlor": "inactive slab",
    "back_kitchen": "lower slab",
    "upper_hall": "study",
}


def run(command: str, name: str, *args: str) -> Result:
    result = CliRunner().invoke(main, [command, str(SCENES / f"{name}.toml"), *args])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


@cache
def checked(name: str, *args: str) -> tuple[int, dict[str, Any]]:
    """Return a check's exit code, and its data."""
    result = run("check", name, "--json", *args)
    return result.exit_code, json.loads(result.stdout)


def data(name: str, *args: str) -> dict[str, Any]:
    return checked(name, *args)[1]


def said(name: str, *settings: str) -> str:
    """Return a check's words on one line, with settings laid over the scene."""
    options = [part for setting in settings for part in ("--set", setting)]
    return " ".join(run("check", name, *options).stdout.split())


@pytest.mark.parametrize("name", EVERY)
def test_check_gives_the_verdict_that_the_scene_shows(name: str) -> None:
    first, second, *_ = (SCENES / f"{name}.toml").read_text(encoding="utf-8").splitlines()
    assert second == "# An invented opening of an invented house."
    code, found = checked(name)
    assert hypot(*found["axis"]["direction"][:2]) < 0.1
    assert first.lower().startswith(f"# {found['verdict']}")
    assert code == (found["verdict"] != "swings")
    relations = [each["relation"] for each in found.get("others", ())]
    assert relations == ([RELATION[name]] if name in RELATION else [])


@pytest.mark.parametrize("name", RELATION)
def test_what_is_said_of_the_other_slab_is_in_the_data(name: str) -> None:
    (other,) = data(name)["others"]
    assert other["verdict"] == "swings"
    assert other["opens_first"] == ("this" if name == "front_parlor" else "either")
    together = other["together"]
    assert together["certain_in"] <= together["least_in"]
    assert bool(together["fouls"]) is (together["least_in"] == 0)
    assert f"\n{RELATION[name].capitalize()} " in run("check", name).stdout


@pytest.mark.parametrize(("name", "part"), PARTS.items())
def test_its_parts_are_in_the_mesh(name: str, part: str, tmp_path: Path) -> None:
    file = tmp_path / "scene.obj"
    result = run("mesh", name, "-o", str(file))
    assert result.exit_code == 0, result.stderr
    assert part.replace(" ", "_") in file.read_text(encoding="utf-8").replace(" ", "_")


@pytest.mark.parametrize(
    ("command", "name", "answers"),
    [
        ("setback", "garden_door", False),
        ("setback", "servery", False),
        ("setback", "sun_room", True),
        ("setback", "downstairs_bath", True),
        ("setback", "practice_room", True),
        ("leeway", "flat_bedroom", True),
        ("leeway", "garden_room", True),
        ("leeway", "wash_house", True),
    ],
)
def test_the_free_setback_is_answered_on_leaves_only(
    command: str, name: str, answers: bool
) -> None:
    result = run(command, name)
    assert (result.exit_code in (0, 1)) is answers
    assert ("pivots" in result.stderr) is not answers


@pytest.mark.parametrize("name", ["garden_door", "front_parlor", "back_kitchen", "cloakroom"])
def test_pages_are_written(name: str, tmp_path: Path) -> None:
    file = tmp_path / "fit.html"
    result = run("page", name, "-o", str(file))
    assert result.exit_code == 0, result.stderr
    assert ("No numbers: it" in file.read_text(encoding="utf-8")) is (name != "cloakroom")


@pytest.mark.parametrize("name", ["dining_room", "butlers_pantry", "practice_room", "back_kitchen"])
def test_a_dimension_varies(name: str) -> None:
    result = run("vary", name, "--over", "slab.head_margin=1/8:1/4:1/8")
    kept = name == "back_kitchen"
    assert result.exit_code == (2 if kept else 0), result.stderr
    assert ("lower" in result.stderr) is kept


@pytest.mark.parametrize(
    ("name", "settings", "wanted"),
    [
        ("upper_hall", (), ("FOULS the study's slab - this", "open one, and it holds the other")),
        (
            "dining_room",
            ("inactive.hinge.jamb.setback=7/32",),
            (
                "PINCHES: the inactive slab meets the strike stop",
                "The active slab swings, but the inactive slab meets the strike stop",
            ),
        ),
        (
            "dining_room",
            ("slab.width=30 5/32", "slab.strike_edge=square"),
            ("STRIKES the inactive slab", "the margin between the slabs is", "Cure"),
        ),
        ("garden_door", (), ("the hinge edge swings", "deeper than the closed slab stands")),
        (
            "practice_room",
            ("slab.head_margin=1/8",),
            ("DRAGS on the head", "its rising hinges have lifted it"),
        ),
        ("coat_closet", (), ("where the handle meets the wall return (the slab itself to",)),
        (
            "old_parlor",
            (),
            ("All together", "leave the jamb's mortises", "use hinges", "bevel the strike"),
        ),
        ("den", (), ("180 deg past this trim takes hinges 4 3/4 in (4.753) wide, 5 in as they",)),
    ],
)
def test_the_reason_is_told(name: str, settings: tuple[str, ...], wanted: tuple[str, ...]) -> None:
    words = said(name, *settings)
    for each in wanted:
        assert each in words


def test_what_decides_and_stops_a_scene_is_in_its_data() -> None:
    found = data("upper_hall")
    assert found["decided_by"] == "study"
    assert found["closing"] is None
    assert not found["others"][0]["together"]["clear_as_wanted"]
    found = data("servery")
    assert found["push_side"] == {"blocked_by": [], "closing": None, "opening": None}
    assert [edge["edge"] for edge in found["edges"]] == ["hinge edge", "strike edge"]
    assert found["edges"][0]["greatest_radius_in"] == pytest.approx(33.623, abs=1e-3)
    assert found["edges"][1]["greatest_radius_in"] is None  # a square edge clears too
    found = data("coat_closet")
    assert found["opening"]["slab_feature"] == "handle"
    assert found["opened"]["slab"]["against"] == "wall return"
    assert found["opened"]["slab"]["angle_deg"] > found["opening"]["angle_deg"]


def test_a_cure_of_a_pair_holds_when_it_is_set() -> None:
    tight = ("--set", "slab.width=30 7/32")
    cures = data("dining_room", *tight)["remedies"]
    assert cures
    for cure in cures:
        args = [part for key, value in cure["set"].items() for part in ("--set", f"{key}={value}")]
        assert data("dining_room", *tight, *args)["verdict"] == "swings", cure["words"]
