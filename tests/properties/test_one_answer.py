"""Every command says the same of one door, whatever decides it: this slab, a second, the push side.

Scenes are random, of every way of hanging; what is compared is what the commands print.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from swingcheck import check, read
from swingcheck.cli import main
from swingcheck.render.pen.subject import subject_of
from swingcheck.render.plan.measures import strike_corner
from tests.scene_texts import KINDS, beside_text, scene_text

SEEDS = {"pair": (1, 6), "dutch": (1, 4), "neighbour": (1, 4), "servery": (0, 1)}
ON_HINGES = [kind for kind in KINDS if kind not in ("pivot", "servery")]
CASES = [(kind, seed) for kind in KINDS for seed in SEEDS.get(kind, (0, 2))]
HINGED = [case for case in CASES if case[0] in ON_HINGES]
EXACT = [
    word
    for name in ("setback", "depth", "bevel", "rip", "measuring")
    for word in ("--set", f"shop.tolerance.{name}=0")
]


def told(*arguments: str | Path) -> Any:
    """Return what a command prints with --json."""
    run = CliRunner().invoke(main, [*map(str, arguments), "--json"])
    assert run.exit_code in (0, 1), run.output
    return json.loads(run.stdout)


Door = Callable[[str, int], tuple[Path, str]]


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> Door:
    """Return a case's scene file, and what a check says of it; written and asked once."""
    folder = tmp_path_factory.mktemp("doors")
    (folder / "beside.toml").write_text(beside_text(), encoding="utf-8")

    @cache
    def written(kind: str, seed: int) -> tuple[Path, str]:
        path = folder / f"{kind}_{seed}.toml"
        path.write_text(scene_text(kind, seed), encoding="utf-8")
        return path, told("check", path)["verdict"]

    return written


def test_the_cases_are_mixed_and_the_margin_drawn_beside_an_inactive_slab_the_checks(
    door: Door,
) -> None:
    words = {case: door(*case)[1] for case in CASES}
    assert sum(word == "swings" for word in words.values()) >= len(CASES) // 4
    assert len(Counter(words.values())) >= 4
    for kind in ("pair", "dutch", "neighbour", "servery"):
        found = {word == "swings" for (own, _), word in words.items() if own == kind}
        assert found == {True, False}, kind
    found = check(read(door("pair", 6)[0]))
    assert found.decided.slab == "inactive slab"
    shown = subject_of(found, "")
    drawn = strike_corner(shown.assembly, shown.pose, 40.0)
    assert drawn.stop_gap is None
    assert drawn.margin.length == pytest.approx(found.margins.strike[1], abs=1e-9)


@pytest.mark.parametrize(("kind", "seed"), HINGED)
def test_setback_says_what_check_says(kind: str, seed: int, door: Door) -> None:
    scene, word = door(kind, seed)
    found = told("setback", scene)
    assert found["at_now"]["verdict"] == word
    if found["setting_in"] is not None:
        setting = found["set"].items()
        settings = [part for key, value in setting for part in ("--set", f"{key}={value}")]
        assert told("check", scene, *settings)["verdict"] == "swings"


@pytest.mark.parametrize(("kind", "seed"), CASES)
def test_leeway_says_what_check_says(kind: str, seed: int, door: Door) -> None:
    scene, word = door(kind, seed)
    found = told("leeway", "slab.width", scene)
    now = found["now_in"]
    assert any(each["low_in"] <= now <= each["high_in"] for each in found["swings"]) == (
        word == "swings"
    )
    assert word == "swings" or not found["works_now"]


@pytest.mark.parametrize(
    ("kind", "seed"), [("plain", 0), ("pair", 6), ("dutch", 4), ("neighbour", 4)]
)
def test_risk_says_what_check_says(kind: str, seed: int, door: Door) -> None:
    scene, word = door(kind, seed)
    found = told("risk", scene, "--draws", "100", "--as-cut", *EXACT)
    assert found["nominal"] == word
    assert found["works"] == (word == "swings")


@pytest.mark.parametrize(("kind", "seed"), CASES[1::3])
def test_page_and_house_say_what_check_says(
    kind: str, seed: int, door: Door, tmp_path: Path
) -> None:
    scene, word = door(kind, seed)
    page = tmp_path / "door.html"
    run = CliRunner().invoke(main, ["page", str(scene), "-o", str(page)])
    assert run.exit_code == 0, run.output
    said = re.search(r'"verdict":"([a-z -]+)"', page.read_text("utf-8"))
    assert said is not None and said[1] == word
    house = told("house", scene)
    (door,) = [*house["doors"], *house.get("uncut", [])]
    assert door["check"]["verdict"] == word
