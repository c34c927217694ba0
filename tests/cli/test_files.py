"""What a command writes is whole or not written: full disks, read-only folders, links, streams."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from swingcheck.errors import FileError
from swingcheck.files import whole_file, write_beside, write_whole
from swingcheck.live.session import Session
from tests.commands import refused, run

resource = pytest.importorskip("resource", reason="this system sets no limit to a file's size")

QUICK = ("--seconds", "1", "--rate", "2", "--size", "320")
WRITERS = [
    ("new", ".toml", "--width", "30", "--height", "80", "--force"),
    ("mesh", ".stl"),
    ("mesh", ".glb"),
    ("picture", ".png"),
    ("film", ".gif", *QUICK),
    ("film", ".mp4", *QUICK),
    ("page", ".html"),
    ("card", ".pdf"),
    ("vary", ".csv", "--over", "slab.width=29:30:1/2"),
]


@contextmanager
def full_disk(room: int = 256) -> Iterator[None]:
    """Let no file grow beyond ``room`` bytes, as a disk does that has no more.

    No bytecode is written meanwhile: it would be kept as far as it went.
    """
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, hard))
    kept, sys.dont_write_bytecode = sys.dont_write_bytecode, True
    try:
        yield
    finally:
        sys.dont_write_bytecode = kept
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def written(command: tuple[str, ...], closet: str, file: Path) -> list[str]:
    name, _, *more = command
    return [name, str(file), *more] if name == "new" else [name, closet, "-o", str(file), *more]


@pytest.mark.parametrize("command", WRITERS, ids=" ".join)
def test_what_stood_there_is_untouched_where_the_disk_is_full(
    command: tuple[str, ...], closet: str, tmp_path: Path
) -> None:
    file = tmp_path / "out" / f"kept{command[1]}"
    file.parent.mkdir()
    file.write_text("as it was")
    with full_disk():
        shown = run(*written(command, closet, file))
    refused(shown, f"{file}: cannot be written: ")
    assert file.read_text() == "as it was" and list(file.parent.iterdir()) == [file]


def test_a_house_on_a_full_disk_is_told_and_keeps_what_it_can(closet: str, tmp_path: Path) -> None:
    with full_disk():
        shown = run("house", closet, "-o", tmp_path / "kept", "-j", "1")
    refused(shown, f"{tmp_path / 'kept'}", "cannot be written: ")
    assert run("house", closet, "-o", tmp_path / "kept", "-j", "1").exit_code in (0, 1)


def test_a_dialled_scene_is_saved_whole_under_a_free_name_or_not_at_all(
    closet: str, tmp_path: Path
) -> None:
    session = Session(Path(closet))
    with full_disk(64), pytest.raises(FileError, match="cannot be written"):
        session.save({})
    assert list(tmp_path.iterdir()) == [Path(closet)]
    files = [session.save({}) for _ in range(2)]
    assert [file.name for file in files] == ["closet-dialled.toml", "closet-dialled-2.toml"]


@pytest.mark.skipif(not os.path.isdir("/proc/self"), reason="no read-only folder is known here")
def test_a_read_only_and_a_vanishing_folder_are_told(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="/proc/fit"):
        write_whole(Path("/proc/fit.txt"), "x")
    with pytest.raises(FileError, match="/proc/fit"):
        write_beside(Path("/proc"), "fit", ".txt", "x")
    folder = tmp_path / "job"
    folder.mkdir()
    with pytest.raises(FileError, match="job"), whole_file(folder / "fit.txt") as scratch:
        scratch.unlink()
        folder.rmdir()


def test_a_file_is_whole_or_as_it_was(tmp_path: Path) -> None:
    file = tmp_path / "fit.txt"
    before = os.umask(0o027)
    try:
        write_whole(file, "before")
    finally:
        os.umask(before)
    assert file.stat().st_mode & 0o777 == 0o640
    with pytest.raises(KeyboardInterrupt), whole_file(file) as scratch:
        scratch.write_text("half")
        raise KeyboardInterrupt
    assert file.read_text() == "before" and list(tmp_path.iterdir()) == [file]
    write_whole(file, "after")
    assert file.read_text() == "after" and file.stat().st_mode & 0o777 == 0o640


def test_the_longest_name_a_link_and_a_pipe_are_written_to(tmp_path: Path) -> None:
    longest = tmp_path / f"{'x' * 251}.txt"
    write_whole(longest, "whole")
    assert longest.read_text() == "whole"
    real, link = tmp_path / "real.txt", tmp_path / "link.txt"
    link.symlink_to(real)
    for text in ("new", "again"):
        write_whole(link, text)
        assert link.is_symlink() and real.read_text() == text
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with subprocess.Popen(["cat", pipe], stdout=subprocess.PIPE, text=True) as reader:
        write_whole(pipe, "through")
        assert reader.communicate()[0] == "through" and pipe.is_fifo()


def shell(line: str, closet: str) -> tuple[int, str]:
    """Return how a shell's line ends and what it says of errors; ``$S`` runs swingcheck."""
    words = {"S": f"{sys.executable} -m swingcheck", "SCENE": closet}
    done = subprocess.run(
        ["sh", "-c", line], env=os.environ | words, capture_output=True, text=True, check=False
    )
    return done.returncode, done.stderr


@pytest.mark.parametrize(
    ("line", "code", "said"),
    [
        ("$S check $SCENE > /dev/full", 2, "the answer cannot be printed: No space left"),
        ("$S --help > /dev/full", 2, "the answer cannot be printed: No space left"),
        ("$S check $SCENE >&-", 2, "standard output is closed"),
        ("$S check - <&-", 2, "standard input: it is closed"),
        ("$S check none.toml 2> /dev/full", 2, ""),
        ("$S check none.toml 2>&-", 2, ""),
    ],
)
@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no /dev/full here")
def test_a_stream_that_is_full_or_closed_is_told(
    line: str, code: int, said: str, closet: str
) -> None:
    ended, errors = shell(line, closet)
    assert ended == code and said in errors and "Traceback" not in errors


def test_a_run_that_was_started_deaf_hears_an_interrupt(closet: str) -> None:
    line = "trap '' INT; exec $S risk $SCENE --draws 1000000"
    words = {"S": f"{sys.executable} -m swingcheck", "SCENE": closet}
    with subprocess.Popen(
        ["sh", "-c", line],
        env=os.environ | words,
        stderr=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        text=True,
        start_new_session=True,
    ) as process:
        ended = None
        for _ in range(100):
            try:
                ended = process.wait(0.3)
                break
            except subprocess.TimeoutExpired:
                os.killpg(process.pid, signal.SIGINT)
        errors = process.stderr.read() if process.stderr else ""
    # What dies of an interrupt is 130 to a shell.
    assert ended in (130, -signal.SIGINT) and "worker" not in errors and "Traceback" not in errors


@pytest.mark.parametrize("name", ["-", "pipe"])
def test_a_scene_named_in_a_scene_is_a_plain_file(name: str, closet: str, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    scene = tmp_path / "beside.toml"
    scene.write_text(f"{Path(closet).read_text()}\n[[neighbour]]\nscene = '{name}'\n")
    refused(run("check", scene), "no plain file")
