"""Every command has help and is in the README."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from swingcheck.cli import COMMANDS, main

README = Path(__file__).parents[2] / "README.md"


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_shows_its_help(name: str) -> None:
    shown = CliRunner().invoke(main, [name, "--help"])
    assert shown.exit_code == 0, shown.output
    usage, *rest = shown.output.splitlines()
    assert f" {name} " in usage
    assert COMMANDS[name] in " ".join(" ".join(rest).split())


@pytest.mark.parametrize("name", COMMANDS)
def test_the_readme_shows_a_command(name: str) -> None:
    if not README.exists():
        pytest.skip("there is no README.md yet")
    lines = README.read_text(encoding="utf-8").splitlines()
    assert any(re.search(rf"\bswingcheck {re.escape(name)}\b", line) for line in lines)


def test_the_readme_names_no_command_that_is_not_there() -> None:
    if not README.exists():
        pytest.skip("there is no README.md yet")
    fenced = re.findall(r"^```.*?^```", README.read_text(encoding="utf-8"), re.M | re.S)
    named = {
        name for block in fenced for name in re.findall(r"^\$? ?swingcheck (\w+)", block, re.M)
    }
    assert named <= set(COMMANDS)
