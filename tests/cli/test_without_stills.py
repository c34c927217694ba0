"""Everything but the 3D still works where its packages are not installed, by the short list."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from functools import partial
from importlib.metadata import distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
STILLS = ("pyvista", "vtk")
"""Distributions that only the 3D still needs."""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder of all installed packages but those of the stills."""
    folder = tmp_path_factory.mktemp("site")
    for each in distributions():
        if each.metadata["Name"].startswith((*STILLS, "swingcheck")):
            continue
        for top in {file.parts[0] for file in each.files or () if file.parts[0] != ".."}:
            link = folder / top
            if not link.exists():
                link.symlink_to(Path(str(each.locate_file(top))))
    return folder


def test_the_readmes_short_list_is_what_is_declared_but_the_stills() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    names = {re.split("[<>=]", each)[0] for each in declared["dependencies"]}
    (told,) = re.findall(r"pip install --no-deps \. && \S*pip install (.+)", README)
    assert set(told.split()) == names - set(STILLS)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("check scenes/pantry.toml", "Pantry: "),
        ("picture scenes/pantry.toml -o {}/fit.png --size 800", "Note: no 3D still"),
        ("film scenes/pantry.toml -o {}/fit.gif --size 320", "pictures"),
        ("page scenes/pantry.toml -o {}/fit.html", "1 scene"),
        ("card scenes/pantry.toml -o {}/fit.pdf", "1 door"),
        ("mesh scenes/pantry.toml -o {}/fit.glb", "parts"),
        ("live --help", "Usage"),
    ],
)
def test_a_command_runs_without_them(words: str, said: str, site: Path, tmp_path: Path) -> None:
    run = partial(subprocess.run, cwd=ROOT, capture_output=True, text=True, check=False)
    python = [sys.executable, "-S", "-B"]
    apart = {"PYTHONPATH": f"{ROOT}:{site}", "PATH": "", "HOME": str(tmp_path)}
    missing = run([*python, "-c", "import pyvista"], env=apart)
    assert "ModuleNotFoundError: No module named 'pyvista'" in missing.stderr
    done = run([*python, "-m", "swingcheck", *words.format(tmp_path).split()], env=apart)
    assert done.returncode in (0, 1), done.stderr
    assert said in done.stdout + done.stderr
