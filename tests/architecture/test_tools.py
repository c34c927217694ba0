"""The lint, the types and the rooms' imports, run as the developer runs them."""

from __future__ import annotations

import subprocess
import sys
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
