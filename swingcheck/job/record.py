"""A check as plain data that JSON can keep, and back to the very same check.

The scene is not in it: a record is kept under the scene's digest, and read
back beside the scene itself.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from math import isfinite
from pathlib import Path
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

from swingcheck.advice.answer import Answer
from swingcheck.model import Scene
from swingcheck.swing.found import Found
from swingcheck.version import __version__

_ROOMS = ("units", "model", "geometry", "assembly", "swing", "chance", "advice")
"""The rooms whose code decides what a check finds."""


def check_record(answer: Answer) -> dict[str, Any]:
    """Return a check without its scene as dicts, lists, texts and numbers.

    Every float keeps all of its digits, so that `check_of` gives an equal one.
    """
    record: dict[str, Any] = _plain(answer)
    del record["found"]["scene"]
    return record


def check_of(record: Mapping[str, Any], scene: Scene) -> Answer:
    """Return the check that a record of the scene holds.

    Raises
    ------
    KeyError, TypeError, ValueError
        Where it is no record that `check_record` has made.
    """
    hints = _hints(Found)
    values = {
        field.name: _typed(record["found"][field.name], hints[field.name])
        for field in fields(Found)
        if field.name != "scene"
    }
    rest = {
        name: _typed(record[name], kind) for name, kind in _hints(Answer).items() if name != "found"
    }
    return Answer(found=Found(scene=scene, **values), **rest)


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


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, float) and not isfinite(value):
        return str(value)  # JSON has no number for it
    return value


@cache
def _hints(kind: Any) -> dict[str, Any]:
    """Return what a class's fields are declared to hold."""
    return get_type_hints(kind)


def _typed(value: Any, kind: Any) -> Any:
    """Return plain data as the type that a field is declared to hold."""
    if get_origin(kind) is UnionType:
        (inside,) = (each for each in get_args(kind) if each is not type(None))
        return None if value is None else _typed(value, inside)
    if get_origin(kind) is tuple:
        inside, *rest = get_args(kind)
        kinds = [inside] * len(value) if rest == [Ellipsis] else [inside, *rest]
        return tuple(_typed(each, one) for each, one in zip(value, kinds, strict=True))
    if is_dataclass(kind) and isinstance(kind, type):
        hints = _hints(kind)
        return kind(**{name: _typed(each, hints[name]) for name, each in value.items()})
    if issubclass(kind, Enum):
        return kind(value)
    if kind is float and value in ("inf", "-inf"):
        return float(value)
    if not isinstance(value, kind):
        raise TypeError(f"{value!r} is no {kind.__name__}")
    return value
