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

import swingcheck
from swingcheck.analysis.others_result import OtherFound
from swingcheck.analysis.result import CheckResult
from swingcheck.model import Scene

_ROOMS = ("units", "model", "geometry", "assembly", "bench", "analysis")
"""The rooms whose code decides what a check finds."""


def check_record(result: CheckResult) -> dict[str, Any]:
    """Return a check without its scene as dicts, lists, texts and numbers.

    Every float keeps all of its digits, so that `check_of` gives an equal one.
    """
    named = (field.name for field in fields(result) if field.name != "scene")
    return {name: _plain(getattr(result, name)) for name in named}


def check_of(record: Mapping[str, Any], scene: Scene) -> CheckResult:
    """Return the check that a record of the scene holds.

    Raises
    ------
    KeyError, TypeError, ValueError
        Where it is no record that `check_record` has made.
    """
    hints = _hints(CheckResult)
    values = {
        field.name: _typed(record[field.name], hints[field.name])
        for field in fields(CheckResult)
        if field.name != "scene"
    }
    return CheckResult(scene=scene, **values)


def scene_digest(scene: Scene) -> str:
    """Return what a check of a scene is kept under: 64 hexadecimal digits.

    It changes with any measurement, and with the version or the code that
    solves it.
    """
    return hashlib.sha256(f"{solver()}\n{scene!r}".encode()).hexdigest()


@cache
def solver() -> str:
    """Return the version and the digest of the code that decides what a check finds."""
    root = Path(swingcheck.__file__).parent
    code = hashlib.sha256()
    for room in _ROOMS:
        for path in sorted((root / room).rglob("*.py")):
            code.update(path.read_bytes())
    return f"{swingcheck.__version__} {code.hexdigest()}"


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
    """Return what a class's fields are declared to hold; some name a class across a circle."""
    return get_type_hints(kind, localns={"OtherFound": OtherFound})


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
