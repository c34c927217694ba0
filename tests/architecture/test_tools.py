"""The lint, the types and the rooms' imports, run as the developer runs them."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

IMPORT_LINTER = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports())"


@pytest.mark.parametrize(
    "arguments",
    [
        pytest.param(["-m", "ruff", "check", "swingcheck", "tests"], id="ruff"),
        pytest.param(["-m", "mypy"], id="mypy"),
        pytest.param(["-c", IMPORT_LINTER], id="import-linter"),
    ],
)
def test_the_tool_finds_nothing(arguments: list[str]) -> None:
    found = subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, capture_output=True, text=True, timeout=300
    )
    assert found.returncode == 0, f"{found.stdout}\n{found.stderr}"


def test_constraints_hold_every_declared_package_at_a_version_that_is_allowed() -> None:
    packaging = pytest.importorskip("packaging.requirements")
    lines = (ROOT / ".ci" / "constraints.txt").read_text().split()
    held = dict(line.split("==") for line in lines)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    extras = [each for extra in project["optional-dependencies"].values() for each in extra]
    for each in map(packaging.Requirement, [*project["dependencies"], *extras]):
        assert each.specifier.contains(held[each.name.lower()]), each
