"""Values as plain data that JSON can keep, units named in the keys; and whole values read back."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache, partial
from math import degrees, isfinite
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

PLACES = 10
"""Decimals that lengths are rounded to; angles keep every digit."""

Shape = Sequence[str | tuple[str, Any]]
"""The keys of a class's data in order: words ``key`` or ``key=attribute.path`` (null past what is
``None``), or a key with a function of the value, or with what always stands there. The attribute of
a plain ``key`` is the key without its unit; ``a+b`` is both in a list; ``of.key`` stands in a dict
of its own; a key that ends in ``?`` is left out where there is nothing; ``**`` takes a whole dict
in."""


def rounded(value: float) -> float:
    """Return a length rounded past any meaning, so that the same scene prints the same.

    Examples
    --------
    >>> rounded(0.1 + 0.2), rounded(-1e-14)
    (0.3, 0.0)
    """
    return round(float(value), PLACES) + 0.0


_CONVERTED: dict[str, Callable[[float], float]] = {
    "in": rounded,
    "deg": degrees,
    "percent": lambda value: round(value, 6),
    "lb": float,
    "kg": float,
    "f": float,
}
"""How a number goes out under a key with a unit behind its last underscore."""


def plain(value: Any, shapes: Mapping[str, Shape] | None = None, unit: str = "") -> Any:
    """Return a value as dicts, lists, texts and numbers.

    ``value`` is a dataclass, an enumeration, a sequence, a text, a number or ``None``; what
    is a dict already stays as it is. ``shapes`` say what is told of a class, by its name;
    with ``None`` a dataclass gives every field with all of its digits, for `typed` to read
    back. ``unit`` is what floats are told in, down to the next key with a unit of its own:
    ``"in"``, ``"deg"`` ...; empty for as they are.
    """
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        if shapes is not None:
            return shaped(value, shapes[type(value).__name__], shapes, unit)
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, float):
        if not isfinite(value):  # JSON has no number for it
            return str(value) if shapes is None else None
        return _CONVERTED[unit](value) if unit else value
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [plain(each, shapes, unit) for each in value]
    return value


def shaped(value: Any, shape: Shape, shapes: Mapping[str, Shape], unit: str = "") -> dict[str, Any]:
    """Return what a shape tells of a value, a key at a time; the rest is as for `plain`."""
    data: dict[str, Any] = {}
    for key, told in _rows(tuple(shape)):
        found = told(value) if callable(told) else told
        if key == "**":
            data |= found
            continue
        if key.endswith("?") and (found is None or found == ()):
            continue
        within, _, name = key.removesuffix("?").rpartition(".")
        own = name.rpartition("_")[2]
        into = data.setdefault(within, {}) if within else data
        into[name] = plain(found, shapes, own if own in _CONVERTED else unit)
    return data


@cache
def _rows(shape: tuple[str | tuple[str, Any], ...]) -> tuple[tuple[str, Any], ...]:
    """Return each key of a shape with the function that finds what it tells."""
    rows: list[tuple[str, Any]] = []
    for words in shape:
        if not isinstance(words, str):
            rows.append(words)
            continue
        for word in words.split():
            key, _, path = word.partition("=")
            name, _, unit = key.removesuffix("?").rpartition("_")
            own = name if unit in _CONVERTED else key.removesuffix("?")
            paths = [tuple(each.split(".")) for each in (path or own).split("+")]
            rows.append((key, partial(_walked, paths)))
    return tuple(rows)


def _walked(paths: Sequence[tuple[str, ...]], value: Any) -> Any:
    found = []
    for path in paths:
        here = value
        for name in path:
            here = None if here is None else getattr(here, name)
        found.append(here)
    return found if len(found) > 1 else found[0]


def measured(name: str, value: float | None, *, is_angle: bool) -> dict[str, float | None]:
    """Return one value that is a length or an angle (radians), under a name with its unit.

    Examples
    --------
    >>> measured("now", 0.25, is_angle=False), measured("now", None, is_angle=True)
    ({'now_in': 0.25}, {'now_deg': None})
    """
    shown = None if value is None else rounded(degrees(value) if is_angle else value)
    return {f"{name}_{'deg' if is_angle else 'in'}": shown}


@cache
def hints(kind: Any) -> dict[str, Any]:
    """Return what a class's fields are declared to hold."""
    return get_type_hints(kind)


def typed(value: Any, kind: Any) -> Any:
    """Return plain data as the type that a field is declared to hold.

    Raises KeyError, TypeError or ValueError where it is not what `plain` makes of
    that type.
    """
    if get_origin(kind) is UnionType:
        (inside,) = (each for each in get_args(kind) if each is not type(None))
        return None if value is None else typed(value, inside)
    if get_origin(kind) is tuple:
        inside, *rest = get_args(kind)
        kinds = [inside] * len(value) if rest == [Ellipsis] else [inside, *rest]
        return tuple(typed(each, one) for each, one in zip(value, kinds, strict=True))
    if is_dataclass(kind) and isinstance(kind, type):
        own = hints(kind)
        return kind(**{name: typed(each, own[name]) for name, each in value.items()})
    if issubclass(kind, Enum):
        return kind(value)
    if kind is float and value in ("inf", "-inf"):
        return float(value)
    if not isinstance(value, kind):
        raise TypeError(f"{value!r} is no {kind.__name__}")
    return value
