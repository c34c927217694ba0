"""The list of commands, their help, and what happens when a command goes wrong."""

from __future__ import annotations

import os
from importlib import import_module
from pathlib import Path

import click
import pytest

from swingcheck import __version__
from swingcheck.cli import COMMANDS
from swingcheck.errors import GeometryError
from tests.commands import CLOSET, refused, run, started


@pytest.fixture
def scene(tmp_path: Path) -> Path:
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET.replace("Linen", "Café"), encoding="utf-8")
    return path


def test_help_lists_every_command_with_its_line_and_a_misspelled_one_the_nearest() -> None:
    words = " ".join(run("--help").output.split())
    for name, line in COMMANDS.items():
        assert f"{name} {line}" in words
    refused(run("chek"), "No command 'chek': did you mean 'check'?")
    refused(run("zzzzzz"), *COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_commands_own_help_begins_with_its_line_and_tells_of_every_option(name: str) -> None:
    shown = run(name, "--help")
    usage, *rest = shown.output.splitlines()
    assert shown.exit_code == 0 and f" {name} " in usage
    assert COMMANDS[name] in " ".join(" ".join(rest).split())
    command = import_module(f"swingcheck.cli.{name}").command
    assert command.name == name
    assert all(option.help for option in command.params if isinstance(option, click.Option))


def test_every_command_module_is_in_the_table_and_the_version_is_told() -> None:
    folder = Path(import_module("swingcheck.cli").__file__ or "").parent
    shared = {"__init__", "interrupt", "options", "output"}
    assert {path.stem for path in folder.glob("*.py")} - set(COMMANDS) == shared
    assert run("--version").output == f"swingcheck {__version__}\n"


@pytest.mark.parametrize("error", [GeometryError("strike stop", "is gone"), ZeroDivisionError()])
def test_an_error_of_ours_is_a_message_and_exit_2_and_no_other_is(
    monkeypatch: pytest.MonkeyPatch, error: Exception
) -> None:
    def fail(*args: object, **kwargs: object) -> None:
        raise error

    monkeypatch.setattr("swingcheck.cli.check.count_line", fail)
    shown = run("check", "no such file", "nor this one")
    if isinstance(error, ZeroDivisionError):
        assert shown.exception is error
    else:
        refused(shown, "strike stop: is gone")


# In processes of their own


def test_a_terminal_without_the_letters_gets_an_answer(scene: Path, tmp_path: Path) -> None:
    env = {**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C", "PYTHONUTF8": "0"}
    out, err = (told := started("check", scene, env=env)).communicate(timeout=60)
    assert told.returncode == 0 and b"SWINGS" in out and err == b""
    _, err = (told := started("check", tmp_path / "é.toml", env=env)).communicate(timeout=60)
    assert told.returncode == 2
    assert b"no such file" in err and b"Traceback" not in err


@pytest.mark.skipif(os.name == "nt", reason="pipes close otherwise there")
@pytest.mark.parametrize("flags", [[], ["--json"]])
def test_a_reader_that_has_gone_is_no_error(scene: Path, flags: list[str]) -> None:
    process = started("check", scene, *flags)
    assert process.stdout is not None and process.stderr is not None
    process.stdout.close()
    err = process.stderr.read()
    process.wait(timeout=20)
    process.stderr.close()
    assert process.returncode == 141
    assert err == b""
