"""No module, function or folder is longer than one glance takes."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "swingcheck"
MODULES = sorted(PACKAGE.rglob("*.py"))

LONGEST_MODULE = 400
LONGEST_FUNCTION = 50
LARGEST_FOLDER = 22


def functions(path: Path) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Return every function of a module, methods and inner ones too."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)]


def lines_of(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    assert node.end_lineno is not None
    return node.end_lineno - node.lineno + 1


def test_modules_functions_and_folders_are_short() -> None:
    lines = {str(path): len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    assert len(lines) > 100
    assert {path: count for path, count in lines.items() if count > LONGEST_MODULE} == {}
    lines = {(path.stem, each.name): lines_of(each) for path in MODULES for each in functions(path)}
    assert len(lines) > 1000
    assert {name: count for name, count in lines.items() if count > LONGEST_FUNCTION} == {}
    counts = Counter(path.parent for path in MODULES if path.stem != "__init__")
    assert {str(path): count for path, count in counts.items() if count > LARGEST_FOLDER} == {}
