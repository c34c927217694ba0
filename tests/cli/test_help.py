"""The list of commands, their help, and what happens when a command goes wrong."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from importlib import import_module
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from swingcheck import __version__
from swingcheck.cli import COMMANDS, main
from swingcheck.errors import GeometryError

SCENE = """
title = "Café closet"
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
width = "29 7/8"
height = "79 3/4"
"""


def swingcheck(*args: str, **options: object) -> subprocess.CompletedProcess[bytes]:
    """Run swingcheck in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "swingcheck", *args],
        capture_output=True,
        timeout=60,
        **options,  # type: ignore[call-overload]
    )


@pytest.fixture
def scene(tmp_path: Path) -> Path:
    path = tmp_path / "closet.toml"
    path.write_text(SCENE, encoding="utf-8")
    return path


def test_help_lists_every_command_with_its_line() -> None:
    words = " ".join(CliRunner().invoke(main, ["--help"]).output.split())
    for name, line in COMMANDS.items():
        assert f"{name} {line}" in words


@pytest.mark.parametrize("name", COMMANDS)
def test_a_commands_own_help_begins_with_its_line_and_tells_of_every_option(name: str) -> None:
    shown = CliRunner().invoke(main, [name, "--help"])
    usage, *rest = shown.output.splitlines()
    assert shown.exit_code == 0 and f" {name} " in usage
    assert COMMANDS[name] in " ".join(" ".join(rest).split())
    command = import_module(f"swingcheck.cli.{name}").command
    assert command.name == name
    assert all(option.help for option in command.params if isinstance(option, click.Option))


def test_every_command_module_is_in_the_table() -> None:
    folder = Path(import_module("swingcheck.cli").__file__ or "").parent
    assert {path.stem for path in folder.glob("*.py")} - set(COMMANDS) == {
        "__init__",
        "options",
        "output",
    }


def test_version() -> None:
    shown = CliRunner().invoke(main, ["--version"])
    assert shown.output == f"swingcheck {__version__}\n"


def test_a_misspelled_command_gets_the_nearest_name() -> None:
    shown = CliRunner().invoke(main, ["chek"])
    assert shown.exit_code == 2
    assert "No command 'chek': did you mean 'check'?" in shown.output


def test_a_command_like_no_other_gets_the_list() -> None:
    shown = CliRunner().invoke(main, ["zzzzzz"])
    assert shown.exit_code == 2
    assert all(name in shown.output for name in COMMANDS)


def test_an_error_of_ours_is_a_message_and_exit_2_and_no_other_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for error in (GeometryError("strike stop", "nothing is left of it"), ZeroDivisionError()):

        def fail(*args: object, error: Exception = error, **kwargs: object) -> None:
            raise error

        monkeypatch.setattr("swingcheck.cli.check.worst", fail)
        shown = CliRunner().invoke(main, ["check", "no such file"])
        if isinstance(error, ZeroDivisionError):
            assert shown.exception is error
        else:
            assert shown.exit_code == 2
            assert "Error: strike stop: nothing is left of it\n" in shown.stderr


@pytest.mark.parametrize("flags", [[], ["--json"]])
def test_a_terminal_without_the_letters_gets_an_answer(scene: Path, flags: list[str]) -> None:
    env = {**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C", "PYTHONUTF8": "0"}
    shown = swingcheck("check", str(scene), *flags, env=env)
    assert shown.returncode == 0, shown.stderr
    assert b"swings" in shown.stdout.lower()
    assert b"Traceback" not in shown.stderr


def test_a_bad_file_name_does_not_crash_an_ascii_terminal(tmp_path: Path) -> None:
    env = {**os.environ, "PYTHONIOENCODING": "ascii"}
    shown = swingcheck("check", str(tmp_path / "é.toml"), env=env)
    assert shown.returncode == 2
    assert b"no such file" in shown.stderr and b"Traceback" not in shown.stderr


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
def test_ctrl_c_ends_clean() -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "swingcheck", "check", "-"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    time.sleep(1.5)  # it waits for a scene on standard input by now
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=20)
    assert process.returncode == 130
    assert b"Traceback" not in err and out == b""


@pytest.mark.skipif(os.name == "nt", reason="pipes close otherwise there")
@pytest.mark.parametrize("flags", [[], ["--json"]])
def test_a_reader_that_has_gone_is_no_error(scene: Path, flags: list[str]) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "swingcheck", "check", str(scene), *flags],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None and process.stderr is not None
    process.stdout.close()
    err = process.stderr.read()
    process.wait(timeout=20)
    process.stderr.close()
    assert process.returncode == 141
    assert err == b""
