"""What the README shows is what happens: its Python is run, and its commands with answers."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from swingcheck.cli import COMMANDS

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """Return the fenced blocks of a language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", TEXT, re.M | re.S)


SHOWN = [block for block in blocks("text") if block.startswith("$ swingcheck ")]
PROGRAMS = blocks("python")


def run(*words: str) -> str:
    """Return what a Python prints that stands where the README does; it may exit with 1."""
    done = subprocess.run(
        [sys.executable, *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert done.returncode in (0, 1) and not done.stderr, done.stderr
    return done.stdout


def matches(shown: str, printed: str) -> bool:
    """Tell whether lines are as shown, where a line of dots stands for any that are left out."""
    pattern = "".join(
        "(?:.*\n)*?" if line == "..." else re.escape(line) + "\n" for line in shown.splitlines()
    )
    return re.fullmatch(pattern, printed) is not None


def test_dots_stand_for_lines_and_for_nothing_else() -> None:
    assert matches("a\n...\nd", "a\nb\nc\nd\n")
    assert matches("a\n...", "a\n")
    assert not matches("a\n...\nd", "a\nb\nc\n")
    assert not matches("a", "a\nb\n")


@pytest.mark.parametrize("block", SHOWN, ids=lambda block: block.splitlines()[0][2:])
def test_a_command_prints_what_the_readme_shows(block: str) -> None:
    command, _, shown = block.partition("\n")
    printed = run("-m", *command.removeprefix("$ ").split())
    assert matches(shown, printed), printed


@pytest.mark.parametrize("program", PROGRAMS, ids=lambda program: program.splitlines()[0])
def test_a_program_prints_what_its_comments_say(program: str) -> None:
    said = [line.partition("  # ")[2] for line in program.splitlines() if "  # " in line]
    assert said
    assert run("-c", program).splitlines() == said


def test_the_readme_names_every_command_and_no_other() -> None:
    assert SHOWN and PROGRAMS
    named = set(re.findall(r"`swingcheck ([a-z]+)\b", TEXT))
    fenced = set(re.findall(r"^(?:\$ )?swingcheck (\w+)", TEXT, re.M))
    assert named == set(COMMANDS) and fenced <= named
