"""The 3D still: what it shows, and which render window draws it."""

from __future__ import annotations

import os
import sys
from functools import cache
from pathlib import Path

import pytest

from swingcheck import palette
from swingcheck.assembly import assemble
from swingcheck.errors import RenderError
from swingcheck.model import Obstacle
from swingcheck.render.still import gl as gl_module
from swingcheck.render.still.gl import WINDOW, gl_window
from swingcheck.render.still.sheet import below_plane, still_figure
from tests.factory import plain_scene
from tests.pictures import SCENES, Drawn, painted, shown

ARMCHAIR = Obstacle(name="armchair", corner=(10.0, 20.0, 0.0), size=(40.0, 30.0, 30.0))
STILLS = {
    **SCENES,
    "long": plain_scene(unit="mm", title="The $5 door in August; " * 8, obstacles=(ARMCHAIR,)),
}


@cache
def still(name: str) -> Drawn:
    return Drawn(figure=still_figure(shown(STILLS[name]), 1000))


@pytest.mark.gl
@pytest.mark.parametrize("name", ["pinches", "pinches, right", "plain", "long"])
def test_a_still_shows_the_slab_the_frame_and_the_contact_on_its_own_hand(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(WINDOW, raising=False)
    sheet = still(name)
    assert WINDOW not in os.environ  # it leaves the environment as it was
    assert len(sheet.words) >= 4
    assert sheet.misplaced == []
    picture = sheet.picture
    assert picture.shape[1] == 1000
    assert tuple(picture[0, 0]) == (255, 255, 255)
    assert 0.15 < (picture.sum(axis=2) < 720).mean() < 0.9
    loud = painted(picture, palette.CONTACT)
    assert (len(loud) > 0) == (name != "plain")
    if "pinches" not in name:
        return
    assert (loud[:, 1] < 350).sum() > 150
    assert (loud[:, 1] > 400).sum() > 150
    # the ring is at the hinges; the whole view is the left third of the page
    whole = loud[(loud[:, 1] < 350) & (loud[:, 0] > 300)]
    assert (whole[:, 1].mean() < 190) == (name == "pinches")


@pytest.mark.skipif(sys.platform != "linux", reason="X windows are asked for on Linux only")
def test_a_render_window_that_does_not_work_is_found_out_in_another_process(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    # an X window without a display takes its process down
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setenv(WINDOW, "vtkXOpenGLRenderWindow")
    gl_window.cache_clear()
    with pytest.raises(RenderError, match="libegl1 libgl1-mesa-dri"):
        gl_window()
    assert not list(tmp_path.rglob("gl.txt"))
    gl_window.cache_clear()


def test_what_draws_is_remembered_while_nothing_changes(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    asked: list[str] = []
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr(gl_module, "draws", lambda window: asked.append(window) is None)
    for window, times in (("first", 1), ("first", 1), ("second", 2), ("first", 3)):
        monkeypatch.setenv(WINDOW, window)
        gl_window.cache_clear()
        assert gl_window() == window
        assert len(asked) == times
    next(tmp_path.rglob("gl.txt")).write_text("{broken", encoding="utf-8")
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
