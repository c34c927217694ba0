"""``swingcheck picture``: the files it writes, the still, and machines that draw none."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from swingcheck import palette
from swingcheck.assembly import assemble
from swingcheck.cli import main
from swingcheck.errors import RenderError
from swingcheck.model import Obstacle
from swingcheck.render.still import gl as gl_module
from swingcheck.render.still.gl import WINDOW, draws, gl_window
from swingcheck.render.still.sheet import still_figure
from swingcheck.render.still.shots import below_plane
from tests.factory import plain_scene
from tests.pictures import TIGHT, misplaced, painted, pixels, shown, words_on

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
width = "29 7/8"
"""

RENDERS = Path(__file__).parents[2] / "renders"

PINCH = ("--set", "hinge.slab.setback=5/16", "--set", "hinge.jamb.setback=9/32")


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


def picture(*args: str | Path) -> Result:
    return CliRunner().invoke(main, ["picture", *map(str, args)])


def test_a_plan_is_a_png_of_the_width_asked_for(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "fit.png"
    run = picture(scene, "-o", out, "--view", "plan", "--size", "900")
    assert run.exit_code == 0, run.output
    assert run.output == f"{out}: plan section\n"
    assert Image.open(out).size[0] == 900
    assert out.stat().st_size < 400_000
    assert not (tmp_path / "fit-3d.png").exists()


def test_the_contact_shows_when_there_is_one(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "fit.png"
    picture(scene, "-o", out, "--view", "plan")
    assert len(painted(pixels(out.read_bytes()), palette.CONTACT)) == 0
    picture(scene, "-o", out, "--view", "plan", *PINCH)
    assert len(painted(pixels(out.read_bytes()), palette.CONTACT)) > 300


def test_the_headline_is_the_checks_first_line(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "fit.svg"
    run = picture(scene, "-o", out, "--view", "plan", *PINCH)
    assert run.exit_code == 0, run.output
    first = CliRunner().invoke(main, ["check", str(scene), *PINCH]).output
    # matplotlib leaves the words of every outlined text in the SVG as a comment
    written = out.read_text(encoding="utf-8")
    assert "PINCHES on the hinge stop" in first
    assert "PINCHES on the hinge stop" in written


def test_a_plan_can_be_a_pdf(scene: Path, tmp_path: Path) -> None:
    out = tmp_path / "fit.PDF"
    assert picture(scene, "-o", out, "--view", "plan").exit_code == 0
    assert out.read_bytes().startswith(b"%PDF")


def test_the_angle_can_be_asked_for(scene: Path, tmp_path: Path) -> None:
    closed, open_wide = tmp_path / "closed.png", tmp_path / "open.png"
    assert picture(scene, "-o", closed, "--view", "plan").exit_code == 0
    assert picture(scene, "-o", open_wide, "--view", "plan", "--angle", "90").exit_code == 0
    assert Image.open(open_wide).size[1] > Image.open(closed).size[1]


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("-o", "fit.jpg"), "must end in .png, .svg or .pdf"),
        (("-o", "fit"), "must end in .png, .svg or .pdf"),
        (("-o", "nowhere/fit.png"), "there is no folder 'nowhere'"),
        (("-o", "fit.svg", "--view", "solid"), "a 3D still is a .png"),
        (("-o", "fit.png", "--angle", "181"), "181"),
        (("-o", "fit.png", "--angle", "nan"), "nan"),
        (("-o", "fit.png", "--size", "10"), "10"),
        (("-o", "fit.png", "--view", "side"), "side"),
        ((), "Missing option '-o'"),
        (("-o", "fit.png", "--set", "slab.wdith=30"), "slab.wdith"),
    ],
)
def test_what_cannot_be_drawn_is_said_and_nothing_is_written(
    scene: Path, monkeypatch: pytest.MonkeyPatch, args: tuple[str, ...], said: str
) -> None:
    monkeypatch.chdir(scene.parent)
    run = picture(scene, *args)
    assert run.exit_code == 2, run.output
    assert said in run.output
    assert "Traceback" not in run.output
    assert list(scene.parent.iterdir()) == [scene]


def test_a_file_that_cannot_be_written_is_said(scene: Path, tmp_path: Path) -> None:
    (tmp_path / "fit.png").mkdir()
    run = picture(scene, "-o", tmp_path / "fit.png", "--view", "plan")
    assert run.exit_code == 2
    assert "fit.png" in run.output


def test_without_gl_the_plan_is_drawn_and_a_note_says_what_to_install(
    scene: Path, tmp_path: Path, no_gl: None
) -> None:
    out = tmp_path / "fit.png"
    run = picture(scene, "-o", out)
    assert run.exit_code == 0, run.output
    assert out.exists()
    assert not (tmp_path / "fit-3d.png").exists()
    assert run.stdout == f"{out}: plan section\n"
    assert run.stderr.startswith("Note: no 3D still")
    assert run.stderr.count("\n") == 1
    assert "libegl1 libgl1-mesa-dri" in run.stderr


def test_without_gl_a_still_alone_is_an_error(scene: Path, tmp_path: Path, no_gl: None) -> None:
    run = picture(scene, "-o", tmp_path / "fit.png", "--view", "solid")
    assert run.exit_code == 2
    assert "libegl1 libgl1-mesa-dri" in run.stderr
    assert not (tmp_path / "fit.png").exists()


def test_every_committed_picture_has_its_command_and_is_small() -> None:
    listed = (RENDERS / "README.md").read_text(encoding="utf-8")
    command = r"`swingcheck picture (scenes/\S+)([^`]*?) -o renders/(\S+)\.png`"
    commands = re.findall(command, listed)
    assert commands
    drawn = set()
    for scene, options, stem in commands:
        assert (RENDERS.parent / scene).is_file()
        assert not options or "--view" in options or "--compare" in options
        drawn |= {f"{stem}.png"} if options else {f"{stem}.png", f"{stem}-3d.png"}
    assert {file.name for file in RENDERS.glob("*.png")} - {"linen_closet-card.png"} == drawn
    for name in drawn:
        assert f"({name})" in listed
        assert (RENDERS / name).stat().st_size < 400_000


def test_a_picture_of_every_view_is_committed() -> None:
    listed = (RENDERS / "README.md").read_text(encoding="utf-8")
    for view in ("hinge", "margins", "clearance", "corners"):
        assert f"--view {view} " in listed, view
    assert "--compare" in listed


def test_a_plan_loads_no_gl_and_no_screen(scene: Path, tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from swingcheck.cli import main\n"
        f"main(['picture', {str(scene)!r}, '-o', {str(tmp_path / 'fit.png')!r},"
        " '--view', 'plan'], standalone_mode=False)\n"
        "print([n for n in ('pyvista', 'vtkmodules', 'matplotlib.pyplot') if n in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert run.stdout.endswith("[]\n"), run.stdout + run.stderr


@pytest.mark.skipif(sys.platform != "linux", reason="X windows are asked for on Linux only")
def test_a_render_window_that_does_not_work_is_found_out_in_another_process(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    # an X window without a display takes its process down
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setenv(WINDOW, "vtkXOpenGLRenderWindow")
    gl_window.cache_clear()
    assert not draws("vtkXOpenGLRenderWindow")
    with pytest.raises(RenderError, match="libegl1 libgl1-mesa-dri"):
        gl_window()
    assert not list(tmp_path.rglob("gl.json"))
    gl_window.cache_clear()


def test_what_draws_is_remembered_while_nothing_changes(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    asked: list[str] = []
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr(gl_module, "draws", lambda window: asked.append(window) is None)
    monkeypatch.setenv(WINDOW, "first")
    for window, times in (("first", 1), ("first", 1), ("second", 2), ("first", 3)):
        monkeypatch.setenv(WINDOW, window)
        gl_window.cache_clear()
        assert gl_window() == window
        assert len(asked) == times
    next(tmp_path.rglob("gl.json")).write_text("{broken", encoding="utf-8")
    gl_window.cache_clear()
    assert gl_window() == "first"
    gl_window.cache_clear()


def test_a_cut_part_keeps_what_is_below_and_is_closed() -> None:
    (slab, *_) = assemble(plain_scene()).moving
    kept = below_plane(slab, 40.0)
    assert kept is not None
    # the slab's bottom stands 5/8 in above the floor: 80 1/2 - 1/8 - 79 3/4
    assert kept.solid.bounds[:, 2] == pytest.approx([0.625, 40.0])
    above = slab.solid.volume - kept.solid.volume
    assert kept.solid.volume / above == pytest.approx((40 - 0.625) / (80.375 - 40), rel=0.01)
    assert below_plane(slab, 0.5) is None
    assert below_plane(slab, 100.0) is slab


@pytest.mark.gl
def test_both_pictures_are_written_side_by_side(scene: Path, tmp_path: Path) -> None:
    run = picture(scene, "-o", tmp_path / "fit.svg", "--size", "1000", *PINCH)
    assert run.exit_code == 0, run.output
    still = tmp_path / "fit-3d.png"
    assert run.output == f"{tmp_path / 'fit.svg'}: plan section\n{still}: 3D still\n"
    assert Image.open(still).size[0] == 1000
    assert still.stat().st_size < 400_000


@pytest.mark.gl
def test_a_still_alone_is_the_file_itself(scene: Path, tmp_path: Path) -> None:
    run = picture(scene, "-o", tmp_path / "fit.png", "--view", "solid", "--size", "800")
    assert run.output == f"{tmp_path / 'fit.png'}: 3D still\n"
    assert sorted(file.name for file in tmp_path.iterdir()) == ["closet.toml", "fit.png"]


@pytest.mark.gl
def test_a_still_shows_the_slab_the_frame_and_the_contact() -> None:
    pinching = pixels(still_figure(shown(plain_scene(**TIGHT)), 1000))
    assert pinching.shape[1] == 1000
    assert tuple(pinching[0, 0]) == (255, 255, 255)
    assert 0.15 < (pinching.sum(axis=2) < 720).mean() < 0.9
    loud = painted(pinching, palette.CONTACT)
    assert (loud[:, 1] < 350).sum() > 150
    assert (loud[:, 1] > 400).sum() > 150
    free = pixels(still_figure(shown(plain_scene()), 1000))
    assert len(painted(free, palette.CONTACT)) == 0


@pytest.mark.gl
def test_a_still_is_seen_from_the_pull_side_with_the_hinges_on_their_own_hand() -> None:
    for hand in ("left", "right"):
        scene = plain_scene(hinges_on=hand, **TIGHT)
        loud = painted(pixels(still_figure(shown(scene), 1000)), palette.CONTACT)
        whole = loud[(loud[:, 1] < 350) & (loud[:, 0] > 300)]
        # the ring is at the hinges; the whole view is the left third of the page
        assert (whole[:, 1].mean() < 190) == (hand == "left")


@pytest.mark.gl
def test_a_stills_words_are_on_the_page_and_apart() -> None:
    sofa = Obstacle(name="sofa", corner=(10.0, 20.0, 0.0), size=(40.0, 30.0, 30.0))
    for scene in (
        plain_scene(**TIGHT),
        plain_scene(unit="mm", title="The $5 door in August; " * 8, obstacles=(sofa,)),
    ):
        figure = still_figure(shown(scene), 1000)
        assert len(words_on(figure)) >= 5
        assert misplaced(figure) == []


@pytest.mark.gl
def test_a_still_leaves_the_environment_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    import os

    monkeypatch.delenv(WINDOW, raising=False)
    assert pixels(still_figure(shown(plain_scene()), 600), 600).shape[1] == 600
    assert WINDOW not in os.environ
    assert np.isfinite(still_figure(shown(plain_scene()), 600).dpi)
