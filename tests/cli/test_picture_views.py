"""``swingcheck picture --view`` and ``--compare``: the files that come out, and what is refused."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from swingcheck import palette
from swingcheck.cli import main
from swingcheck.library import pictures
from swingcheck.library.pictures import VIEWS
from swingcheck.render.still import gl as gl_module
from swingcheck.render.still.gl import gl_window
from tests.pictures import painted, pixels

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8 in"
height = "80 1/2 in"
[slab]
width = "30 1/32 in"
strike_edge = "square"
"""

PIVOTS = """
title = "Servery"
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
width = "29 7/8"
[pivot]
kind = "centre"
"""

BEVELLED = ("--compare-set", "slab.strike_edge.bevel=4")

WHAT = {
    "hinge": "hinge pulled apart",
    "margins": "margin map",
    "clearance": "clearance chart",
    "corners": "corners at true scale",
}


@pytest.fixture
def scene(tmp_path: Path) -> Path:
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET, encoding="utf-8")
    return path


@pytest.fixture
def no_gl(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A machine where nothing draws in 3D, and nothing is remembered."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(gl_module, "draws", lambda window: False)
    gl_window.cache_clear()
    yield
    gl_window.cache_clear()


def picture(*args: str | Path, given: str | None = None) -> Result:
    return CliRunner().invoke(main, ["picture", *map(str, args)], input=given)


@pytest.mark.parametrize("view", WHAT)
def test_a_view_is_the_file_itself(scene: Path, tmp_path: Path, view: str) -> None:
    out = tmp_path / "fit.png"
    run = picture(scene, "-o", out, "--view", view, "--size", "900")
    assert run.exit_code == 0, run.output
    assert run.output == f"{out}: {WHAT[view]}\n"
    assert Image.open(out).size[0] == 900
    assert {file.name for file in tmp_path.iterdir()} == {"closet.toml", "fit.png"}


@pytest.mark.parametrize("view", WHAT)
def test_every_view_but_the_still_is_drawn_in_lines_too(
    scene: Path, tmp_path: Path, view: str
) -> None:
    suffix, starts = (".svg", b"<?xml") if view in ("hinge", "margins") else (".pdf", b"%PDF")
    out = tmp_path / f"fit{suffix}"
    assert picture(scene, "-o", out, "--view", view).exit_code == 0
    assert out.read_bytes().startswith(starts)
    assert out.stat().st_size < 700_000


@pytest.fixture
def undrawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every picture is its view and its kind, so that only its file is looked at."""
    for view in VIEWS:
        monkeypatch.setitem(VIEWS, view, lambda _, view=view: view)
    written = "{} {}".format
    monkeypatch.setattr(
        pictures, "figure_bytes", lambda view, kind, size: written(view, kind).encode()
    )


def test_all_views_come_out_beside_one_another(scene: Path, tmp_path: Path, undrawn: None) -> None:
    run = picture(scene, "-o", tmp_path / "fit.svg", "--view", "all")
    assert run.exit_code == 0, run.output
    files = {
        "fit.svg": b"plan svg",
        "fit-3d.png": b"solid png",
        "fit-hinge.svg": b"hinge svg",
        "fit-margins.svg": b"margins svg",
        "fit-clearance.svg": b"clearance svg",
        "fit-corners.pdf": b"corners pdf",
    }
    written = [line.split(": ")[0] for line in run.stdout.splitlines()]
    assert written == [str(tmp_path / name) for name in files]
    assert {name: (tmp_path / name).read_bytes() for name in files} == files


def test_without_gl_all_but_the_still_is_drawn(
    scene: Path, tmp_path: Path, undrawn: None, no_gl: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    from swingcheck.render.still.sheet import still_figure

    monkeypatch.setitem(VIEWS, "solid", lambda pictures: still_figure(pictures.subject, 600))
    run = picture(scene, "-o", tmp_path / "fit.png", "--view", "all")
    assert run.exit_code == 0, run.output
    assert len(run.stdout.splitlines()) == 5
    assert not (tmp_path / "fit-3d.png").exists()
    assert "libegl1 libgl1-mesa-dri" in run.stderr
    assert run.stderr.count("\n") == 1


def test_a_slab_on_pivots_has_no_hinge_to_draw(
    tmp_path: Path, no_gl: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    scene = tmp_path / "servery.toml"
    scene.write_text(PIVOTS, encoding="utf-8")
    run = picture(scene, "-o", tmp_path / "fit.png", "--view", "hinge")
    assert run.exit_code == 2
    assert "the slab hangs on pivots" in run.output
    assert not (tmp_path / "fit.png").exists()
    for view in ("plan", "margins", "clearance", "corners"):
        monkeypatch.setitem(VIEWS, view, lambda _: "drawn")
    monkeypatch.setattr(pictures, "figure_bytes", lambda view, kind, size: view.encode())
    run = picture(scene, "-o", tmp_path / "fit.png", "--view", "all")
    assert run.exit_code == 0, run.output
    assert "Note: no hinge to pull apart: the slab hangs on pivots\n" in run.stderr
    assert not (tmp_path / "fit-hinge.png").exists()
    assert (tmp_path / "fit-clearance.png").exists()


def test_corners_are_drawn_on_the_paper_asked_for(scene: Path, tmp_path: Path) -> None:
    sizes = {}
    for paper, args in (("letter", ()), ("a4", ("--paper", "a4")), ("mm", ("--set", "unit=mm"))):
        out = tmp_path / f"{paper}.png"
        run = picture(scene, "-o", out, "--view", "corners", "--size", "1100", *args)
        assert run.exit_code == 0, run.output
        sizes[paper] = Image.open(out).size
    assert sizes["letter"] == (1100, 850)
    assert sizes["a4"] == sizes["mm"] == (1100, 1100 * 210 // 297)


def test_a_change_is_compared_side_by_side(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "pair.png"
    run = picture(scene, "-o", out, "--size", "1200", *BEVELLED)
    assert run.exit_code == 0, run.output
    assert run.output == f"{out}: comparison\n"
    loud = painted(pixels(out.read_bytes())[:-80], palette.CONTACT)[:, 1]
    assert len(loud) > 200 and (loud < 600).all()


def test_what_is_compared_is_named_over_it(scene: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text(CLOSET.replace("30 1/32 in", "29 3/4"), encoding="utf-8")
    out = tmp_path / "pair.svg"
    assert picture(scene, "-o", out, "--view", "plan", *BEVELLED).exit_code == 0
    written = out.read_text(encoding="utf-8")
    assert "as it is" in written and "slab.strike_edge.bevel = 4" in written
    assert "STRIKES" in written and "SWINGS" in written
    run = picture(scene, "-o", out, "--view", "plan", "--compare", other)
    assert run.exit_code == 0, run.output
    written = out.read_text(encoding="utf-8")
    assert "closet.toml" in written and "other.toml" in written
    margins = ("--view", "margins")
    assert picture(scene, "-o", out, *margins, "--compare", other, *BEVELLED).exit_code == 0
    assert "other.toml, slab.strike_edge.bevel = 4" in out.read_text(encoding="utf-8")


def test_a_setting_is_laid_under_what_is_compared(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "pair.svg"
    wide = ("--set", "slab.width=29 3/4")
    assert picture(scene, "-o", out, "--view", "margins", *wide, *BEVELLED).exit_code == 0
    written = out.read_text(encoding="utf-8")
    assert "STRIKES" not in written and written.count("SWINGS") == 2


@pytest.mark.parametrize("view", ["clearance", "all"])
def test_a_comparison_shows_the_view_asked_for(scene: Path, tmp_path: Path, view: str) -> None:
    out = tmp_path / "pair.svg"
    assert picture(scene, "-o", out, "--view", view, *BEVELLED).exit_code == 0
    written = out.read_text(encoding="utf-8")
    assert ("Strike corner" in written) == (view in ("plan", "all"))
    assert ("hinge margin," in written) == (view in ("margins", "all"))
    assert ("opening at the strike edge, in" in written) == (view in ("clearance", "all"))


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--view", "solid", *BEVELLED), "a comparison shows plan, clearance, margins, all"),
        (("--view", "hinge", *BEVELLED), "a comparison shows plan, clearance, margins, all"),
        (("--view", "corners", *BEVELLED), "a comparison shows plan, clearance, margins, all"),
        (("--compare", "nowhere.toml"), "nowhere.toml"),
        (("--compare-set", "slab.wdith=30"), "slab.wdith"),
        (("--compare-set", "slab.width"), "is not KEY=VALUE"),
        (("--paper", "foolscap"), "foolscap"),
        (("--view", "corners", "-o", "fit.jpg"), "must end in .png, .svg or .pdf"),
    ],
)
def test_what_cannot_be_drawn_is_said_and_nothing_is_written(
    scene: Path, monkeypatch: pytest.MonkeyPatch, args: tuple[str, ...], said: str
) -> None:
    monkeypatch.chdir(scene.parent)
    run = picture(scene, "-o", "fit.png", *args)
    assert run.exit_code == 2, run.output
    assert said in run.output
    assert "Traceback" not in run.output
    assert list(scene.parent.iterdir()) == [scene]


def test_standard_input_is_compared_with_a_file_only(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "pair.png"
    run = picture("-", "-o", out, *BEVELLED, given=CLOSET)
    assert run.exit_code == 2
    assert "standard input is read once" in run.output
    run = picture("-", "-o", out, "--compare", scene, "--size", "700", given=CLOSET)
    assert run.exit_code == 0, run.output


def test_the_same_command_writes_the_same_bytes(scene: Path, tmp_path: Path) -> None:
    first = tmp_path / "first.png"
    options = ("--view", "plan", "--size", "800", *BEVELLED)
    assert picture(scene, "-o", first, *options).exit_code == 0
    code = (
        "from swingcheck.cli import main\n"
        f"main(['picture', {str(scene)!r}, '-o', {str(tmp_path / 'again.png')!r},"
        f" *{options!r}])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert run.returncode == 0, run.stderr
    assert (tmp_path / "again.png").read_bytes() == first.read_bytes()
    assert Image.open(io.BytesIO(first.read_bytes())).size[0] == 800


def test_no_view_but_the_still_loads_gl(scene: Path, tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from swingcheck.cli import main\n"
        "for view in ('hinge', 'margins', 'clearance', 'corners'):\n"
        f"    main(['picture', {str(scene)!r}, '-o', {str(tmp_path / 'fit.png')!r},"
        " '--view', view, '--size', '600'], standalone_mode=False)\n"
        "print([n for n in ('pyvista', 'vtkmodules', 'matplotlib.pyplot') if n in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert run.stdout.endswith("[]\n"), run.stdout + run.stderr
