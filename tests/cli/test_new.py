"""``swingcheck new``: asked or told, it writes a scene that reads back; else it says why not."""

from __future__ import annotations

import os
import pty
from pathlib import Path

import pytest
from click.testing import Result

from swingcheck.scenefile import read_scene
from tests import commands
from tests.commands import refused, started

SIZE = ["--width", "30 1/8", "--height", "80 1/2"]


def run(*args: str, answers: str | None = None) -> Result:
    """Run ``swingcheck new``."""
    return commands.run("new", *args, text=answers)


@pytest.fixture
def at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the command take its input for a terminal."""
    monkeypatch.setattr("swingcheck.cli.new.stdin_is_terminal", lambda: True)


def test_it_writes_a_scene_that_reads_back_to_a_file_or_to_standard_output(tmp_path: Path) -> None:
    path = tmp_path / "linen_closet.toml"
    result = run(
        *(str(path), "--width", '30 1/8"', "--height", "6' 8 1/2\""),
        *("--rabbet", "1 7/16", "--slab-width", "29 7/8", "--slab-height", "79 3/4"),
        *("--thickness", "1-3/8", "--setback", "1/4", "--jamb-setback", "5/16"),
        *("--hinges-on", "right"),
    )
    assert result.exit_code == 0, result.output
    assert f"swingcheck check {path}" in result.stderr
    assert result.stdout == ""
    scene = read_scene(path)
    assert scene.title == "Linen closet"
    assert (scene.opening.width, scene.opening.height) == ((30.125,), (80.5, 80.5))
    assert (scene.slab.width, scene.slab.height) == ((29.875,), (79.75, 79.75))
    assert (scene.slab.thickness, scene.hinges_on) == (1.375, "right")
    assert scene.hinge.slab.setbacks == (0.25,) * 3
    assert scene.hinge.jamb.setbacks == (0.3125,) * 3
    assert "slab.width" not in {each.key for each in scene.assumed}
    result = run("-", "--width", "765", "--height", "2040", "--unit", "mm", "--title", "Hall")
    assert result.exit_code == 0
    scene = read_scene(result.stdout)
    assert (scene.title, scene.unit, scene.opening.width) == ("Hall", "mm", (765 / 25.4,))


def test_it_writes_over_no_file_unless_told_to_and_where_it_cannot_it_says_so(
    tmp_path: Path,
) -> None:
    path = tmp_path / "closet.toml"
    path.write_text("measured by hand")
    refused(run(str(path), *SIZE), "--force")
    refused(run(str(path), *SIZE, "--force", "--slab-width", "31"), "--slab-width")
    assert path.read_text() == "measured by hand"
    assert run(str(path), *SIZE, "--force").exit_code == 0
    assert commands.run("check", path).exit_code in (0, 1)
    for path in (tmp_path / "no" / "such" / "closet.toml", Path("x" * 300)):
        refused(run(str(path), *SIZE), "cannot be written")
    refused(run(str(tmp_path), *SIZE))


@pytest.mark.parametrize(
    ("args", "named"),
    [
        ([], ["--width", "--height"]),
        (["--width", "30"], ["--height"]),
        (["--height", "80"], ["--width"]),
    ],
)
def test_a_script_is_never_kept_waiting(tmp_path: Path, args: list[str], named: list[str]) -> None:
    result = run(str(tmp_path / "closet.toml"), *args, answers="30\n80\n")
    refused(result)
    message = result.stderr.splitlines()[-1]
    assert [name for name in ("--width", "--height") if name in message] == named
    assert not list(tmp_path.iterdir())


BAD = [
    (["--width", "30,5", "--height", "80"], ["--width", "point"]),
    (["--width", "wide", "--height", "0"], ["--width", "--height", "2 faults"]),
    ([*SIZE, "--slab-width", "31"], ["--slab-width", "30 1/8 in"]),
    ([*SIZE, "--setback", "1 3/8"], ["--setback", "thickness"]),
    ([*SIZE, "--jamb-setback", "-1"], ["--jamb-setback"]),
    ([*SIZE, "--thickness", "thin"], ["--thickness"]),
    ([*SIZE, "--rabbet", "9"], ["--rabbet", "opening.depth"]),
    ([*SIZE, "--hinges-on", "top"], ["--hinges-on"]),
    ([*SIZE, "--unit", "cm"], ["--unit"]),
    ([*SIZE, "--title", "a\nb"], ["--title"]),
    ([*SIZE, "--colour", "red"], ["--colour"]),
]


@pytest.mark.parametrize(("args", "named"), BAD)
def test_bad_input_is_told_under_the_option(
    tmp_path: Path, args: list[str], named: list[str]
) -> None:
    refused(run(str(tmp_path / "closet.toml"), *args), *named)
    assert not list(tmp_path.iterdir())


@pytest.mark.usefixtures("at_a_terminal")
def test_it_asks_for_what_matters_and_asks_again(tmp_path: Path) -> None:
    path = tmp_path / "closet.toml"
    answers = '30,5\n30 1/2"\neighty\n80\n\n1 3/4\n30\n\nright\n'
    result = run(str(path), answers=answers)
    assert result.exit_code == 0, result.output
    assert "point" in result.stderr
    assert "Width of the opening" in result.stderr
    scene = read_scene(path)
    assert (scene.opening.width, scene.opening.height) == ((30.5,), (80.0, 80.0))
    assert (scene.slab.thickness, scene.slab.width) == (1.75, (30.0,))
    assert scene.hinges_on == "right"
    assumed = {each.key for each in scene.assumed}
    assert {"opening.rabbet", "slab.height"} <= assumed
    assert not {"slab.thickness", "hinges_on"} & assumed


@pytest.mark.usefixtures("at_a_terminal")
def test_it_does_not_ask_for_what_was_given_and_leaving_writes_nothing(tmp_path: Path) -> None:
    given = ["--rabbet", "1 1/2", "--thickness", "1 3/8", "--slab-width", "29"]
    given += ["--hinges-on", "left"]
    result = run("-", *SIZE, *given, answers="\n")
    assert result.exit_code == 0, result.output
    assert result.stderr.count("[usual]") == 1
    assert read_scene(result.stdout).slab.width == (29.0,)
    result = run(str(tmp_path / "closet.toml"), answers="30\n")
    assert result.exit_code != 0
    assert not list(tmp_path.iterdir())


def test_it_asks_at_a_real_terminal(tmp_path: Path) -> None:
    path = tmp_path / "closet.toml"
    controller, terminal = pty.openpty()
    try:
        process = started("new", path, stdin=terminal)
        os.write(controller, b"30 1/8\n80 1/2\n\n\n\n\n\n")
        _, errors = process.communicate(timeout=30)
    finally:
        os.close(controller)
        os.close(terminal)
    assert process.returncode == 0, errors
    assert b"Width of the opening" in errors
    assert read_scene(path).opening.height == (80.5, 80.5)
