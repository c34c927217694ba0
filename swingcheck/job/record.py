"""A check as plain data that JSON can keep, and back to the very same check.

The scene is not in it: a record is kept under the scene's digest, and read
back beside the scene itself.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any

from swingcheck.advice.answer import Answer
from swingcheck.model import Scene
from swingcheck.swing.found import Found
from swingcheck.units.plain import hints, plain, typed
from swingcheck.version import __version__

_ROOMS = ("units", "model", "geometry", "assembly", "swing", "chance", "advice")
"""The rooms whose code decides what a check finds."""


def check_record(answer: Answer) -> dict[str, Any]:
    """Return a check without its scene as dicts, lists, texts and numbers.

    Every float keeps all of its digits, so that `check_of` gives an equal one.
    """
    found = {name: plain(getattr(answer.found, name)) for name in _kept()}
    return {"found": found, "cures": plain(answer.cures), "hinges": plain(answer.hinges)}


def check_of(record: Mapping[str, Any], scene: Scene) -> Answer:
    """Return the check that a record of the scene holds.

    Raises
    ------
    KeyError, TypeError, ValueError
        Where it is no record that `check_record` has made.
    """
    own, kinds = hints(Answer), hints(Found)
    found = {name: typed(record["found"][name], kinds[name]) for name in _kept()}
    cures, hinges = (typed(record[name], own[name]) for name in ("cures", "hinges"))
    return Answer(found=Found(scene=scene, **found), cures=cures, hinges=hinges)


def _kept() -> tuple[str, ...]:
    """Return what is kept of a check: everything but its scene."""
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
        for path in sorted((root / room).rglob("*.py")):
            code.update(path.read_bytes())
    return f"{__version__} {code.hexdigest()}"
