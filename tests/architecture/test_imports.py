"""How the modules hang together: no circle, no heavy import before it is needed, no vague name."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import swingcheck
from swingcheck.cli import COMMANDS

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "swingcheck"

SCENE = """
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
strike_edge = { bevel = 3 }
"""

PICTURES_AND_MESHES = {"trimesh", "pyvista", "vtkmodules", "matplotlib", "scipy", "PIL", "tomlkit"}
NUMBERS = {"numpy", "manifold3d"}

VAGUE = {
    *("both", "common", "feature", "helpers", "kinds", "many", "misc", "others", "pieces"),
    *("thick", "throw", "utils", "ways", "whole"),
}
"""Names that tell a stranger nothing of what a module holds."""


def module_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {module_of(path): path for path in PACKAGE.rglob("*.py")}


def imports(path: Path) -> Iterator[str]:
    """Yield the modules of the package that a module imports, wherever in it that stands."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: an import without its room"
            own = [f"{node.module}.{alias.name}" for alias in node.names]
            names = [name if name in MODULES else str(node.module) for name in own]
        else:
            continue
        yield from (name for name in names if name in MODULES)


def circles(graph: dict[str, set[str]]) -> set[str]:
    """Return the modules on a way from a circle to a circle: none where there is no circle."""
    left = {name: set(others) for name, others in graph.items()}
    while True:
        imported = set().union(*left.values()) if left else set()
        loose = {name for name, others in left.items() if not others or name not in imported}
        if not loose:
            return set(left)
        left = {name: others - loose for name, others in left.items() if name not in loose}


def test_no_modules_import_one_another_in_a_circle_and_one_would_be_found() -> None:
    chain = {"a": {"b"}, "b": {"c"}, "c": set()}
    assert circles(chain) == set()
    assert circles({**chain, "c": {"b"}, "d": {"b"}}) == {"b", "c"}
    graph = {name: set(imports(path)) - {name} for name, path in MODULES.items()}
    assert "swingcheck.errors" in graph["swingcheck.cli"]
    assert circles(graph) == set()


def test_no_module_has_a_name_that_says_nothing() -> None:
    stems = {
        path: path.stem
        for folder in ("swingcheck", "tests")
        for path in (ROOT / folder).rglob("*.py")
    }
    assert {
        str(path) for path, stem in stems.items() if stem.removeprefix("test_") in VAGUE
    } == set()


def test_every_name_that_type_checkers_are_told_of_is_in_the_library() -> None:
    assert set(swingcheck.__all__) <= set(dir(swingcheck))
    assert all(getattr(swingcheck, name).__doc__ for name in swingcheck._HOMES)
    rooms = {path.stem for path in PACKAGE.iterdir()}
    assert not rooms & set(swingcheck.__all__)  # a room, once imported, would take its place
    with pytest.raises(AttributeError, match="no attribute 'swings'"):
        swingcheck.swings  # noqa: B018


def imported(*arguments: str) -> set[str]:
    """Return every module that a Python imports, by its own account."""
    run = subprocess.run(
        [sys.executable, "-X", "importtime", *arguments], capture_output=True, text=True, timeout=60
    )
    assert run.returncode == 0, run.stderr[-2000:]
    lines = [line for line in run.stderr.splitlines() if line.startswith("import time:")]
    return {line.rsplit("|", 1)[-1].strip() for line in lines}


def packages(modules: set[str]) -> set[str]:
    """Return the top-level packages of modules."""
    return {name.partition(".")[0] for name in modules}


def test_the_library_imports_nothing_before_it_is_asked_and_a_check_no_picture(
    tmp_path: Path,
) -> None:
    modules = imported("-c", "import swingcheck; dir(swingcheck)")
    assert {name for name in modules if name.startswith("swingcheck")} == {
        "swingcheck",
        "swingcheck.version",
    }
    assert not packages(modules) & (PICTURES_AND_MESHES | NUMBERS | {"click"})
    scene = tmp_path / "closet.toml"
    scene.write_text(SCENE, encoding="utf-8")
    modules = imported("-m", "swingcheck", "check", str(scene))
    assert "numpy" in modules and "swingcheck.swing.check" in modules
    assert not packages(modules) & PICTURES_AND_MESHES


@pytest.mark.parametrize(
    "words", [["--help"], ["--version"], *([name, "--help"] for name in COMMANDS)], ids=" ".join
)
def test_help_imports_no_geometry_and_no_other_command(words: list[str]) -> None:
    modules = imported("-m", "swingcheck", *words)
    assert "swingcheck.cli" in modules
    assert not packages(modules) & (PICTURES_AND_MESHES | NUMBERS)
    assert {f"swingcheck.cli.{name}" for name in COMMANDS} & modules <= {
        f"swingcheck.cli.{words[0]}"
    }
