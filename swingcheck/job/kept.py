"""Checks kept in a file, each under its scene's digest, so that a run can be cut off anywhere.

A line is one JSON object on one line of its own. Lines are only ever added.
A last line that was cut off is taken away again, one that cannot be read is
passed over, and what it said is to be found out again. The scene is not in a
record, which is read back beside the scene itself.
"""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path
from typing import Any, BinaryIO

from swingcheck.advice.answer import Answer
from swingcheck.advice.cure import Cure
from swingcheck.advice.open_width import OpenWidth
from swingcheck.errors import FileError
from swingcheck.model import Scene
from swingcheck.swing.found import Found
from swingcheck.units.plain import hints, plain, typed
from swingcheck.version import __version__

SYNC_EVERY = 2.0
"""Seconds after which what was written is asked to be on the disk, not only on its way."""


@dataclass(slots=True)
class Kept:
    """An open file of lines: what it held when it was opened, by key.

    ``damaged`` is how many lines could not be read.
    """

    path: Path
    file: BinaryIO
    lines: dict[str, dict[str, Any]] = field(default_factory=dict)
    damaged: int = 0
    synced: float = field(default_factory=time.monotonic)

    def add(self, key: str, record: dict[str, Any]) -> None:
        """Add a line in one piece; raises FileError when it cannot be written."""
        line = json.dumps({"key": key, **record}, separators=(",", ":"), allow_nan=False)
        with _refusals(self.path):
            self.file.write(line.encode() + b"\n")
            self.file.flush()
            if time.monotonic() - self.synced > SYNC_EVERY:
                os.fsync(self.file.fileno())
                self.synced = time.monotonic()


@contextmanager
def kept_lines(path: Path) -> Iterator[Kept]:
    """Yield a file of lines, opened without a last one that was cut off, and see it to the disk.

    Raises FileError when it cannot be opened or written, or another run has it open.
    """
    with _refusals(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        file = path.open("a+b")
    try:
        with _refusals(path):
            _hold(file, path)
            file.seek(0)
            data = file.read()
            whole = data.rfind(b"\n") + 1
            if whole < len(data):
                file.truncate(whole)
        kept = Kept(path, file)
        for line in data[:whole].splitlines():
            try:
                record = json.loads(line)
                kept.lines[str(record.pop("key"))] = record
            except (ValueError, RecursionError, LookupError, AttributeError, TypeError):
                kept.damaged += 1
        try:
            yield kept
        except BaseException:
            with suppress(OSError):  # what went wrong before is what is told
                os.fsync(file.fileno())
            raise
        with _refusals(path):
            os.fsync(file.fileno())
    finally:
        with suppress(OSError):  # what could not be written was told where it was written
            file.close()


@contextmanager
def _refusals(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise FileError.of(path, error) from error


def _hold(file: BinaryIO, path: Path) -> None:
    """Keep other runs out of the file for as long as it is open, where the system can."""
    try:
        from fcntl import LOCK_EX, LOCK_NB, flock
    except ImportError:
        return
    try:
        flock(file, LOCK_EX | LOCK_NB)
    except BlockingIOError:
        raise FileError(str(path), "another run is writing to it") from None


_ROOMS = ("units", "model", "geometry", "assembly", "swing", "chance", "bench", "advice")
"""The rooms whose code and tables decide what a check finds."""


def check_record(answer: Answer) -> dict[str, Any]:
    """Return a check without its scene as dicts, lists, texts and numbers.

    Every float keeps all of its digits, so that `check_of` gives an equal one.
    """
    found = {name: plain(getattr(answer.found, name)) for name in _kept()}
    return {"found": found, "cures": plain(answer.cures), "hinges": plain(answer.hinges)}


def check_of(record: Mapping[str, Any], scene: Scene) -> Answer:
    """Return the check that a record of the scene holds.

    Raises KeyError, TypeError or ValueError where it is none that `check_record` has made.
    """
    kinds = hints(Found)
    found = {name: typed(record["found"][name], kinds[name]) for name in _kept()}
    return Answer(
        found=Found(scene=scene, **found),
        cures=typed(record["cures"], tuple[Cure, ...]),
        hinges=typed(record["hinges"], OpenWidth | None),
    )


def _kept() -> tuple[str, ...]:
    return tuple(each.name for each in fields(Found) if each.name != "scene")


def scene_digest(scene: Scene) -> str:
    """Return what a check of a scene is kept under: 64 hexadecimal digits.

    It changes with any measurement, and with the version or the code that
    solves it.
    """
    return hashlib.sha256(f"{solver()}\n{scene!r}".encode()).hexdigest()


@cache
def solver() -> str:
    """Return the version and the digest of the code that decides what a check finds."""
    root = Path(__file__).parents[1]
    code = hashlib.sha256()
    for room in _ROOMS:
        for path in sorted([*(root / room).rglob("*.py"), *(root / room).rglob("*.csv")]):
            code.update(path.read_bytes())
    return f"{__version__} {code.hexdigest()}"
