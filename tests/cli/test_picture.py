"""``swingcheck picture``: the files it writes, what is asked for and refused, and without GL."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from math import degrees
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from PIL import Image

from swingcheck.cli.picture import WHAT
from swingcheck.library import pictures
from swingcheck.library.pictures import VIEWS, Pictures
from swingcheck.render.still import gl as gl_module
from swingcheck.render.still.gl import gl_window
from tests.commands import refused, run

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8 in"
height = "80 1/2 in"
[slab]
width = "30 1/32 in"
strike_edge = "square"
"""

PIVOTS = CLOSET + '[pivot]\nkind = "centre"\n'

RENDERS = Path(__file__).parents[2] / "renders"

FREE = ("--set", "slab.width=29 3/4 in")
BEVELLED = ("--compare-set", "slab.strike_edge.bevel=4")


@pytest.fixture
def scene(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a scene alone in the folder that commands run in; its slab strikes."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET, encoding="utf-8")
    return path


@pytest.fixture
def no_gl(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Any:
    """A machine where nothing draws in 3D, and nothing is remembered."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
    monkeypatch.setattr(gl_module, "draws", lambda window: False)
    gl_window.cache_clear()
    yield
    gl_window.cache_clear()


@pytest.fixture
def undrawn(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Every picture is a line that says what is asked for, so that only that is looked at."""

    def line(view: str, asked: Pictures) -> str:
        return f"{view} {degrees(asked.subject.pose.angle):.0f} deg, {asked.paper}"

    for view in set(VIEWS) - {"solid", "hinge"}:
        monkeypatch.setitem(VIEWS, view, lambda asked, view=view: line(view, asked))
    monkeypatch.setattr(
        pictures,
        "compare_figure",
        lambda sides, rows: " | ".join([*(f"{s.name}: {s.subject.caption}" for s in sides), *rows]),
    )
    monkeypatch.setattr(
        pictures, "figure_bytes", lambda told, kind, size: f"{told} {kind} {size}".encode()
    )
    yield


@pytest.fixture
def all_undrawn(undrawn: None, monkeypatch: pytest.MonkeyPatch) -> None:
    for view in ("solid", "hinge"):
        monkeypatch.setitem(VIEWS, view, lambda _, view=view: view)


def picture(*args: str | Path, given: str | None = None) -> Result:
    return run("picture", *args, text=given)


def written(*args: str | Path, given: str | None = None) -> str:
    """Return what a command wrote to ``fit.svg``."""
    shown = picture(*args, "-o", "fit.svg", given=given)
    assert shown.exit_code == 0, shown.output
    return Path("fit.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("view", "name", "starts"),
    [
        ("plan", "fit.PDF", b"%PDF"),
        pytest.param("solid", "fit.png", b"\x89PNG", marks=pytest.mark.gl),
        ("hinge", "fit.svg", b"<?xml"),
        ("margins", "fit.png", b"\x89PNG"),
        ("clearance", "fit.png", b"\x89PNG"),
        ("corners", "fit.pdf", b"%PDF"),
    ],
)
def test_a_view_is_the_file_itself(scene: Path, view: str, name: str, starts: bytes) -> None:
    shown = picture(scene, "-o", name, "--view", view, "--size", "900")
    assert shown.exit_code == 0, shown.output
    assert shown.output == f"{name}: {WHAT[view]}\n"
    out = Path(name)
    assert out.read_bytes().startswith(starts)
    assert out.stat().st_size < 700_000
    if name.endswith("png"):
        assert Image.open(out).size[0] == 900
    assert sorted(file.name for file in scene.parent.iterdir()) == ["closet.toml", name]


def test_the_headline_is_the_checks_first_line(scene: Path) -> None:
    first = run("check", scene).output
    assert "STRIKES the strike leg" in first
    # matplotlib leaves the words of every outlined text in the SVG as a comment
    assert "STRIKES the strike leg" in written(scene, "--view", "plan")


def test_what_is_asked_for_reaches_the_picture_or_is_said(scene: Path, undrawn: None) -> None:
    plan, corners = ("--view", "plan", "--angle", "90"), ("--view", "corners", *FREE)
    assert written(scene, *plan) == "plan 90 deg, letter svg 2000"
    assert written(scene, *corners, "--size", "900") == "corners 0 deg, letter svg 900"
    for a4 in (("--paper", "a4"), ("--set", "unit=mm")):
        assert written(scene, *corners, *a4) == "corners 0 deg, a4 svg 2000"
    shown = picture("-", "-o", "fit.svg", *BEVELLED, given=CLOSET)
    assert shown.exit_code == 2
    assert "standard input is read once" in shown.output
    assert written("-", "--compare", scene, given=CLOSET).count("STRIKES") == 2
    Path("fit.png").mkdir()
    shown = picture(scene, "-o", "fit.png", "--view", "plan")
    assert shown.exit_code == 2
    assert "fit.png" in shown.output


def test_all_views_come_out_beside_one_another(scene: Path, all_undrawn: None) -> None:
    shown = picture(scene, "-o", "fit.svg", "--view", "all")
    assert shown.exit_code == 0, shown.output
    files = {
        "fit.svg": "plan svg",
        "fit-3d.png": "solid png",
        "fit-hinge.svg": "hinge svg",
        "fit-margins.svg": "margins svg",
        "fit-clearance.svg": "clearance svg",
        "fit-corners.pdf": "corners pdf",
    }
    assert [line.split(": ")[0] for line in shown.stdout.splitlines()] == list(files)
    for name, wanted in files.items():
        words = Path(name).read_text().split()
        assert f"{words[0]} {words[-2]}" == wanted
    for name in files:
        Path(name).unlink()
    assert picture(scene, "-o", "fit.svg").stdout == "fit.svg: plan section\nfit-3d.png: 3D still\n"
    assert {file.name for file in scene.parent.iterdir()} == {
        "closet.toml",
        "fit.svg",
        "fit-3d.png",
    }


def test_without_gl_a_note_says_what_to_install(scene: Path, undrawn: None, no_gl: None) -> None:
    shown = picture(scene, "-o", "fit.svg")
    assert shown.exit_code == 0, shown.output
    assert shown.stdout == "fit.svg: plan section\n"
    assert shown.stderr.startswith("Note: no 3D still")
    assert shown.stderr.count("\n") == 1
    assert "libegl1 libgl1-mesa-dri" in shown.stderr
    assert not Path("fit-3d.png").exists()
    shown = picture(scene, "-o", "alone.png", "--view", "solid")
    assert shown.exit_code == 2
    assert "libegl1 libgl1-mesa-dri" in shown.stderr
    assert not Path("alone.png").exists()


def test_a_slab_on_pivots_has_no_hinge_to_draw(scene: Path, undrawn: None, no_gl: None) -> None:
    scene.write_text(PIVOTS.replace("30 1/32", "29 7/8"), encoding="utf-8")
    shown = picture(scene, "-o", "fit.png", "--view", "hinge")
    assert shown.exit_code == 2
    assert "the slab hangs on pivots" in shown.output
    shown = picture(scene, "-o", "fit.png", "--view", "all")
    assert shown.exit_code == 0, shown.output
    assert "Note: no hinge to pull apart: the slab hangs on pivots\n" in shown.stderr
    names = {"fit.png", "fit-margins.png", "fit-clearance.png", "fit-corners.pdf"}
    assert {file.name for file in scene.parent.iterdir()} == {"closet.toml", *names}


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("-o", "fit", "--view", "corners"), "must end in .png, .svg or .pdf"),
        (("-o", "fit.svg", "--view", "solid"), "a 3D still is a .png"),
        (("-o", "fit.png", "--angle", "181"), "181"),
        (("-o", "fit.png", "--angle", "nan"), "nan"),
        (("-o", "fit.png", "--size", "10"), "10"),
        (("-o", "fit.png", "--view", "side"), "side"),
        ((), "Missing option '-o'"),
        (("-o", "fit.png", "--view", "solid", *BEVELLED), "shows plan, clearance, margins, all"),
        (("-o", "fit.png", "--view", "hinge", *BEVELLED), "shows plan, clearance, margins, all"),
        (("-o", "fit.png", "--view", "corners", *BEVELLED), "shows plan, clearance, margins, all"),
        (("-o", "fit.png", "--compare", "nowhere.toml"), "nowhere.toml"),
        (("-o", "fit.png", "--compare-set", "slab.wdith=30"), "slab.wdith"),
        (("-o", "fit.png", "--compare-set", "slab.width"), "is not KEY=VALUE"),
        (("-o", "fit.png", "--paper", "foolscap"), "foolscap"),
    ],
)
def test_what_cannot_be_drawn_is_said_and_nothing_is_written(
    scene: Path, args: tuple[str, ...], said: str
) -> None:
    shown = picture(scene, *args)
    refused(shown, said)
    assert list(scene.parent.iterdir()) == [scene]


AS_IT_IS = "as it is: Linen closet: STRIKES"
CHANGED = "slab.strike_edge.bevel = 4: Linen closet: SWINGS"


@pytest.mark.parametrize(
    ("args", "named", "rows"),
    [
        (BEVELLED, (AS_IT_IS, CHANGED), "corners; chart"),
        (("--view", "plan", *BEVELLED), (AS_IT_IS, CHANGED), "corners"),
        (("--view", "clearance", *BEVELLED), (AS_IT_IS, CHANGED), "chart"),
        (
            ("--view", "margins", *FREE, *BEVELLED),
            ("as it is: Linen closet: SWINGS", CHANGED),
            "margins",
        ),
        (
            ("--view", "all", "--compare", "other.toml"),
            ("closet.toml: Linen closet: STRIKES", "other.toml: Linen closet: SWINGS"),
            "corners; margins; chart",
        ),
        (
            ("--view", "margins", "--compare", "other.toml", *BEVELLED),
            ("closet.toml: Linen closet: STRIKES", "other.toml, slab.strike_edge.bevel = 4: Linen"),
            "margins",
        ),
    ],
)
def test_what_is_compared_is_named_and_shown_as_asked_for(
    scene: Path, undrawn: None, args: tuple[str, ...], named: tuple[str, str], rows: str
) -> None:
    Path("other.toml").write_text(CLOSET.replace("30 1/32 in", "29 3/4"), encoding="utf-8")
    told = written(scene, *args)
    first, second, *shown = told.removesuffix(" svg 2000").split(" | ")
    assert first.startswith(named[0]) and second.startswith(named[1])
    assert "; ".join(shown) == rows


def test_the_same_command_writes_the_same_bytes_and_loads_no_gl(scene: Path) -> None:
    again = ["picture", str(scene), "-o", "again.png", "--size", "600"]
    compared = [*again, "--view", "plan", *BEVELLED]
    lines = (
        "import sys; from swingcheck.cli import main",
        "for view in ('hinge', 'margins', 'clearance', 'corners'):",
        f"    main([*{again!r}, '--view', view], standalone_mode=False)",
        f"main({compared!r}, standalone_mode=False)",
        "print([n for n in ('pyvista', 'vtkmodules', 'matplotlib.pyplot') if n in sys.modules])",
    )
    words = [sys.executable, "-c", "\n".join(lines)]
    done = subprocess.run(words, capture_output=True, text=True, timeout=120)
    assert done.stdout.endswith("again.png: comparison\n[]\n"), done.stderr
    shown = picture(scene, "-o", "first.png", "--view", "plan", "--size", "600", *BEVELLED)
    assert shown.output == "first.png: comparison\n"
    assert Path("again.png").read_bytes() == Path("first.png").read_bytes()
    assert Image.open("first.png").size[0] == 600


def test_every_committed_picture_has_its_command_and_is_small() -> None:
    listed = (RENDERS / "README.md").read_text(encoding="utf-8")
    command = r"`swingcheck picture (scenes/\S+)([^`]*?) -o renders/(\S+)\.png`"
    commands = re.findall(command, listed)
    drawn = set()
    for scene, options, stem in commands:
        assert (RENDERS.parent / scene).is_file()
        assert not options or "--view" in options or "--compare" in options
        drawn |= {f"{stem}.png"} if options else {f"{stem}.png", f"{stem}-3d.png"}
    assert {file.name for file in RENDERS.glob("*.png")} - {"linen_closet-card.png"} == drawn
    for name in drawn:
        assert f"({name})" in listed
        assert (RENDERS / name).stat().st_size < 400_000
    asked = " ".join(options for _, options, _ in commands)
    for view in ("--view hinge", "--view margins", "--view clearance", "--view corners"):
        assert view in asked
    assert "--compare" in asked
