"""From a scene's tree to measurements, with every fault of it that stands by itself."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from math import atan, degrees
from typing import Any

from swingcheck.errors import Problem, UnfitError, UnitError
from swingcheck.scenefile.settings import Apart
from swingcheck.scenefile.spec import Key, Kind, Names, Table
from swingcheck.units import (
    MM_PER_INCH,
    UNITS,
    parsed_angle,
    parsed_length,
    parsed_percent,
    parsed_slope,
    parsed_temperature,
)

_BARE_NAME = re.compile(r"[A-Za-z0-9_-]+")
_PLACE = re.compile(r"\[[0-9]+\]")
_LAST_PLACE = re.compile(r"\[[0-9]+\]$")
_LONGEST_WORDS = 200  # characters
_MOST_TABLES = 100  # of one name, such as [[obstacle]]
_MOST_HINTS = 50  # faults, past which no likely keys are looked for


@dataclass(slots=True, kw_only=True)
class Measured:
    """What a scene says, under dotted keys.

    ``names`` are all that there are; ``values`` are words, flags, and numbers, always as
    tuples: inches, radians, rises over runs, degrees Fahrenheit, percents and counts;
    ``apart`` the places set apart from a single value; ``typed`` every value as it was
    typed, a list's one by one as well; ``tables`` what is there as a table and ``counts``
    how often one that can be repeated is. ``settings`` are the keys that came from the
    command line, ``faulty`` those whose value has a fault, ``suggested`` what misspelled
    keys likely meant.
    """

    names: Names
    unit: str = "in"
    values: dict[str, Any] = field(default_factory=dict)
    apart: dict[str, dict[int, float]] = field(default_factory=dict)
    typed: dict[str, str] = field(default_factory=dict)
    tables: set[str] = field(default_factory=set)
    counts: dict[str, int] = field(default_factory=dict)
    settings: tuple[str, ...] = ()
    faulty: set[str] = field(default_factory=set)
    suggested: set[str] = field(default_factory=set)
    problems: dict[Problem, None] = field(default_factory=dict)

    def must_be(self, key: str, value: str, expected: str, hint: str = "") -> None:
        """Note a key whose value is not what it must be."""
        self.fault(key, value, f"must be {expected}", hint)

    def fault(self, key: str, value: str, what: str, hint: str = "") -> None:
        """Note what is wrong at a key."""
        self.faulty.add(_LAST_PLACE.sub("", key))
        problem = Problem(key=self.label(key), value=value, expected=what, hint=hint)
        self.problems[problem] = None

    def label(self, key: str) -> str:
        """Return a key as messages name it: with ``--set`` where it came from there."""
        came = any(key == own or key.startswith((f"{own}.", f"{own}[")) for own in self.settings)
        return f"--set {key}" if came else key

    def is_given(self, key: str) -> bool:
        """Return whether a number was given, in whole, and without a fault."""
        return isinstance(self.values.get(key), tuple) and key not in self.faulty


def measure(measured: Measured, tree: Mapping[str, Any]) -> None:
    """Note what a scene's tree says: as read from TOML, with the settings laid over it."""
    unit = tree.get("unit")
    if isinstance(unit, str) and unit.strip().casefold() in UNITS:
        measured.unit = unit.strip().casefold()
    _read_table(measured, "", tree, measured.names.root)


def _read_table(measured: Measured, path: str, found: Mapping[str, Any], table: Table) -> None:
    for name, value in found.items():
        key, node = _joined(path, name), table.keys.get(name)
        measured.typed[key] = shown(value)
        if node is None:
            _note_unknown(measured, key, value)
        else:
            _read(measured, key, value, node)


def _joined(path: str, name: str) -> str:
    shortened = name if len(name) <= 40 else f"{name[:37]}..."
    own = name if _BARE_NAME.fullmatch(name) and len(name) <= 40 else shown(shortened)
    return f"{path}.{own}" if path else own


def _note_unknown(measured: Measured, key: str, value: Any) -> None:
    """Note an unknown key; what is in an unknown table is read as that of the likeliest one."""
    bare = _PLACE.sub("", key)
    nearest = measured.names.nearest(bare) if len(measured.problems) < _MOST_HINTS else ""
    measured.suggested.add(nearest)
    hint = measured.names.hint(bare) if nearest else ""
    measured.fault(key, measured.typed[key], "no key of a scene", hint)
    likely = measured.names.keys.get(nearest)
    if isinstance(likely, Table) and isinstance(value, dict):
        _read_table(measured, key, value, likely)


def _read(measured: Measured, key: str, value: Any, node: Key | Table) -> None:
    """Read a value into what was measured, or note what it must be."""
    try:
        if isinstance(node, Table):
            (_read_tables if node.many else _read_node)(measured, key, value, node)
        elif isinstance(value, Apart):
            _read_apart(measured, key, value, node)
        else:
            _read_key(measured, key, value, node)
    except UnfitError as unfit:
        measured.must_be(key, shown(value), unfit.expected, unfit.hint)


def _read_tables(measured: Measured, key: str, value: Any, table: Table) -> None:
    if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
        raise UnfitError(table.expected(key))
    if len(value) > _MOST_TABLES:
        measured.must_be(key, f"{len(value)} of them", f"at most {_MOST_TABLES}")
        return
    measured.counts[key] = len(value)
    for place, each in enumerate(value):
        _read_table(measured, f"{key}[{place}]", each, table)


def _read_node(measured: Measured, key: str, value: Any, table: Table) -> None:
    if isinstance(value, dict):
        measured.tables.add(key)
        if table.one and len(value.keys() & table.keys.keys()) > 1:
            measured.must_be(key, shown(value), f"one of {' or '.join(table.keys)}, not several")
        _read_table(measured, key, value, table)
    elif isinstance(value, str) and value.strip().casefold() in table.words:
        measured.values[key] = value.strip().casefold()
    elif table.plain is not None:
        _read(measured, key, value, table.plain)
    else:
        is_angle = (
            table.one and not isinstance(value, (bool, list)) and re.search(r"\d", str(value))
        )
        hint = f"a bevel is {{ bevel = {shown(value)} }}" if is_angle else ""
        raise UnfitError(table.expected(key), hint)


def _read_key(measured: Measured, key: str, value: Any, spec: Key) -> None:
    if spec.kind is Kind.FLAG:
        if not isinstance(value, bool):
            raise UnfitError(spec.expected())
        measured.values[key] = value
    elif spec.kind is Kind.TEXT:
        measured.values[key] = _words(value, spec)
    elif isinstance(value, list):
        _read_list(measured, key, value, spec)
    elif spec.few > 1:
        raise UnfitError(spec.expected())
    else:
        measured.values[key] = (_number(value, spec, measured.unit),)


def _words(value: Any, spec: Key) -> str:
    words = value.strip() if isinstance(value, str) else ""
    if spec.words:
        if words.casefold() not in spec.words:
            raise UnfitError(spec.expected())
        return words.casefold()
    if not words or not words.isprintable() or len(words) > _LONGEST_WORDS:
        raise UnfitError(f"{spec.expected()}, on one line, at most {_LONGEST_WORDS} letters")
    return words


def _read_list(measured: Measured, key: str, value: list[Any], spec: Key) -> None:
    if spec.most == 1:
        raise UnfitError(f"one value: {spec.expected()}")
    if not spec.few <= len(value) <= spec.most:
        wanted = f"{spec.few}" if spec.few == spec.most else f"{spec.few} to {spec.most}"
        raise UnfitError(f"{wanted} values [{spec.each}], not {len(value)}")
    numbers = _numbers_at(measured, key, dict(enumerate(value)), spec)
    if len(numbers) == len(value):
        measured.values[key] = tuple(numbers.values())


def _numbers_at(
    measured: Measured, key: str, values: Mapping[int, Any], spec: Key
) -> dict[int, float]:
    """Return the numbers at some places of a list; the faults of the others are noted."""
    found = {}
    for place, value in values.items():
        own = f"{key}[{place}]"
        measured.typed[own] = shown(value)
        try:
            found[place] = _number(value, spec, measured.unit)
        except UnfitError as unfit:
            measured.must_be(own, shown(value), unfit.expected, unfit.hint)
    return found


def _read_apart(measured: Measured, key: str, value: Apart, spec: Key) -> None:
    if value.base is None:
        del measured.typed[key]
    else:
        measured.typed[key] = shown(value.base)
        _read(measured, key, value.base, spec)
    if found := _numbers_at(measured, key, value.places, spec):
        measured.apart[key] = found


def _number(value: Any, spec: Key, unit: str) -> float:
    """Return one value in the library's own measure; raise what it must be."""
    kinds: tuple[type, ...] = (int,) if spec.kind is Kind.COUNT else (int, float, str)
    if isinstance(value, bool) or not isinstance(value, kinds):
        raise UnfitError(spec.kind.value)
    try:
        number = _PARSED[spec.kind](value, unit)
    except UnitError as error:
        raise UnfitError(spec.kind.value, error.hint) from None
    measure = _IN_LIMITS.get(spec.kind, float)(number)
    if spec.within(measure):
        return number
    hint = ""
    if spec.kind is Kind.LENGTH and not isinstance(value, str) and unit == "in":
        in_mm = spec.within(measure / MM_PER_INCH) and measure > spec.high
        hint = 'if these are millimetres, say unit = "mm" at the top' if in_mm else ""
    raise UnfitError(spec.limits_text(unit), hint)


_PARSED: Mapping[Kind, Callable[[Any, str], float]] = {
    Kind.LENGTH: parsed_length,
    Kind.ANGLE: lambda value, _: parsed_angle(value),
    Kind.SLOPE: lambda value, _: parsed_slope(value),
    Kind.TEMPERATURE: parsed_temperature,
    Kind.PERCENT: lambda value, _: parsed_percent(value),
    Kind.COUNT: lambda value, _: float(min(value, 10**9)),
}
_IN_LIMITS: Mapping[Kind, Callable[[float], float]] = {
    Kind.ANGLE: degrees,
    Kind.SLOPE: lambda slope: degrees(atan(slope)),
}
"""From the library's own measure to that of a key's limits, where they differ."""


def shown(value: Any) -> str:
    """Return a value as it was typed, shortened for reading."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        safe = "".join(mark if mark.isprintable() else "?" for mark in value[:60])
        quote = "'" if '"' in safe else '"'
        return f"{quote}{safe if len(value) <= 40 else safe[:37] + '...'}{quote}"
    if isinstance(value, list):
        inside = ", ".join(
            "..." if isinstance(each, (list, Mapping)) else shown(each) for each in value[:6]
        )
        return f"[{inside}{', ...' if len(value) > 6 else ''}]"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{str(key)[:20]} = ..." for key in list(value)[:4]) + " }"
    if isinstance(value, Apart):
        return ", ".join(f"[{place}] {shown(each)}" for place, each in value.places.items())
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a number of many digits"
    return str(value)[:60]
