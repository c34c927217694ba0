"""What a command imports: start-up is timed in the benchmarks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from swingcheck.cli import COMMANDS

SCENE = """
[opening]
width = "30 1/8"
height = "80 1/2"
"""

HEAVY = {"trimesh", "pyvista", "vtkmodules", "matplotlib", "scipy", "PIL", "tomlkit"}


@pytest.fixture
def scene(tmp_path: Path) -> Path:
    path = tmp_path / "closet.toml"
    path.write_text(SCENE, encoding="utf-8")
    return path


def imported(*args: str) -> set[str]:
    """Return every module that a run of swingcheck imports, by python's own account."""
    run = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "swingcheck", *args],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert run.returncode == 0, run.stderr[-2000:]
    lines = [line for line in run.stderr.splitlines() if line.startswith("import time:")]
    return {line.rsplit("|", 1)[-1].strip() for line in lines}


def packages(modules: set[str]) -> set[str]:
    """Return the top-level packages of modules."""
    return {name.partition(".")[0] for name in modules}


@pytest.mark.parametrize("flag", ["--help", "--version"])
def test_help_imports_no_geometry_and_no_command(flag: str) -> None:
    modules = imported(flag)
    assert "swingcheck.cli" in modules
    assert not packages(modules) & (HEAVY | {"numpy", "manifold3d"})
    assert not modules & {f"swingcheck.cli.{name}" for name in COMMANDS}


def test_check_imports_no_mesh_library_and_no_picture(scene: Path) -> None:
    modules = imported("check", str(scene))
    assert "numpy" in modules and "swingcheck.swing.check" in modules
    assert not packages(modules) & HEAVY


@pytest.mark.parametrize("name", COMMANDS)
def test_no_commands_help_imports_a_picture_or_mesh_library(name: str) -> None:
    assert not packages(imported(name, "--help")) & HEAVY
