"""Films: what they show, how small they are, and that nothing half written is left."""

from __future__ import annotations

import re
import signal
import sys
import time
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import Result

from swingcheck.palette import CONTACT, JAMB, SLAB
from tests.browser import looks_like
from tests.commands import refused, run, started
from tests.scene_files import SCENES

PINCHES = str(SCENES / "guest_room.toml")
MIRRORED = str(SCENES / "kitchen_passage.toml")
QUICK = ("--seconds", "1", "--rate", "8")


def filmed(*args: object) -> Result:
    return run("film", *args)


def frames(file: Path) -> tuple[list[Any], list[int]]:
    """Return a film's pictures, (height, width, 3) uint8 each, and how long each stands, ms."""
    from PIL import Image, ImageSequence

    with Image.open(file) as film:
        pictures, durations = [], []
        for picture in ImageSequence.Iterator(film):
            pictures.append(np.asarray(picture.convert("RGB")))
            durations.append(int(picture.info["duration"]))
    return pictures, durations


def held(durations: list[int]) -> int:
    return durations.index(max(durations))


@pytest.fixture(scope="module")
def gif(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("film") / "swing.gif"
    result = filmed(PINCHES, "-o", file, *QUICK)
    assert result.exit_code == 0, result.output
    assert re.search(r"swing\.gif: 10 pictures, \d\.\d s, \d+ kB", result.stdout)
    return file


def test_film_shows_the_contact_where_it_holds_and_moves_the_slab_alone(gif: Path) -> None:
    pictures, durations = frames(gif)
    assert {picture.shape for picture in pictures} == {(480, 640, 3)}
    at = held(durations)
    assert durations[at] == 1600
    for k, picture in enumerate(pictures):
        assert 0.02 < (picture < 200).any(axis=2).mean() < 0.6
        red = looks_like(picture, CONTACT, 12)
        assert (red.sum() > 200) == (k == at), k
    assert looks_like(pictures[at], CONTACT, 12)[64:388].sum() > 100
    panels = [picture[64:388] for picture in pictures]
    changes = [(a != b).any(axis=2).sum() for a, b in pairwise(panels)]
    assert min(changes) > 50
    jamb = looks_like(panels[0], JAMB.fill, 2) & looks_like(panels[at], JAMB.fill, 2)
    assert jamb.sum() > 0.9 * looks_like(panels[0], JAMB.fill, 2).sum()
    wood = [looks_like(panel[:, :330], SLAB.fill, 2) for panel in (panels[0], panels[at])]
    low, high = (np.argwhere(mask)[:, 0].mean() for mask in (wood[1], wood[0]))
    assert high > low + 50  # open, it stands well toward the pull side: lower on the page


def test_film_is_mirrored_as_wide_as_asked_and_small_by_default(tmp_path: Path) -> None:
    file = tmp_path / "swing.webp"
    small = ("--size", "320", "--seconds", "1", "--rate", "4")
    assert filmed(MIRRORED, "-o", file, *small).exit_code == 0
    pictures, durations = frames(file)
    assert len(pictures) == len(durations) == 6
    assert pictures[0].shape == (240, 320, 3)
    wood = np.argwhere(looks_like(pictures[0][32:194, :165], SLAB.fill, 6))
    assert wood[:, 1].mean() > 165 / 2
    assert looks_like(pictures[held(durations)], CONTACT, 12).sum() > 50
    file = tmp_path / "swing.gif"
    result = filmed(PINCHES, "-o", file)
    assert result.exit_code == 0, result.output
    assert file.stat().st_size < 800_000
    assert len(frames(file)[0]) > 60


def test_mp4_plays_for_as_long_as_the_gif(tmp_path: Path) -> None:
    encoder = pytest.importorskip("imageio_ffmpeg", reason="the extra 'film' is not installed")
    file = tmp_path / "swing.mp4"
    result = filmed(PINCHES, "-o", file, "--size", "400", *QUICK)
    assert result.exit_code == 0, result.output
    reader = encoder.read_frames(str(file))
    told = next(reader)
    assert told["size"] == (400, 300)
    assert told["fps"] == 8.0
    pictures = [np.frombuffer(data, dtype=np.uint8).reshape(300, 400, 3) for data in reader]
    assert len(pictures) / 8 == pytest.approx(1.0 + 1.6, abs=0.3)
    red = [int(looks_like(picture, CONTACT, 60).sum()) for picture in pictures]
    assert red[0] == 0
    assert max(red) > 60


def test_missing_encoder_is_told_before_anything_is_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "imageio_ffmpeg", None)
    shown = filmed(PINCHES, "-o", tmp_path / "swing.mp4")
    refused(shown, "pip install 'swingcheck[film]'")
    assert not list(tmp_path.iterdir())


def test_blocked_slab_is_refused_and_the_old_film_kept(tmp_path: Path) -> None:
    file = tmp_path / "swing.gif"
    file.write_bytes(b"yesterday's")
    chest = tmp_path / "chest.toml"
    box = '\n[[obstacle]]\nname = "chest"\ncorner = [-4, 14, 0.5]\nsize = [14, 10, 30]\n'
    chest.write_text(Path(PINCHES).read_text() + box)
    refused(filmed(chest, "-o", file, *QUICK), "chest")
    assert file.read_bytes() == b"yesterday's"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["chest.toml", "swing.gif"]


@pytest.mark.parametrize("suffix", [".gif", ".mp4"])
def test_ctrl_c_leaves_nothing_half_written(tmp_path: Path, suffix: str) -> None:
    if suffix == ".mp4":
        pytest.importorskip("imageio_ffmpeg", reason="the extra 'film' is not installed")
    file = tmp_path / f"swing{suffix}"
    slow = ("--seconds", "30", "--rate", "30", "--size", "1200")
    process = started("film", PINCHES, "-o", file, *slow, text=True)
    try:
        until = time.monotonic() + 30
        while not list(tmp_path.iterdir()) and time.monotonic() < until:
            time.sleep(0.05)
        assert list(tmp_path.iterdir()), "it never began"
        time.sleep(0.6)
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=30)
    finally:
        process.kill()
        process.wait()
    assert process.returncode == 130
    assert "stopped" in err
    assert "Traceback" not in err + out
    assert not list(tmp_path.iterdir())


@pytest.mark.gl
def test_film_of_the_solid_turns_it(tmp_path: Path) -> None:
    file = tmp_path / "swing.gif"
    result = filmed(PINCHES, "-o", file, "--view", "solid", *QUICK)
    assert result.exit_code == 0, result.output
    pictures, durations = frames(file)
    left = [picture[64:388, 10:330] for picture in pictures]
    assert all(0.1 < (panel < 245).any(axis=2).mean() < 0.9 for panel in left)
    assert min((a != b).any(axis=2).sum() for a, b in pairwise(left)) > 200
    red = looks_like(left[held(durations)], CONTACT, 12)
    assert red.sum() > 80
    open_, closed = ((left[k] < 245).any(axis=2).any(axis=0).sum() for k in (0, held(durations)))
    assert open_ > closed  # the open slab stands out to the side


def test_progress_is_told_on_the_error_stream_and_to_a_terminal_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("swingcheck.cli.output.PATIENCE_S", 0.0)
    small = ("-o", str(tmp_path / "swing.gif"), "--size", "320", "--seconds", "1", "--rate", "2")
    assert filmed(PINCHES, *small).stderr == ""
    monkeypatch.setattr(
        "click.testing._NamedTextIOWrapper.isatty", lambda stream: True, raising=False
    )
    result = filmed(PINCHES, *small)
    assert "Filming" in result.stderr
    assert "Filming" not in result.stdout
