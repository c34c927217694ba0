"""From a scene's tree to measurements, with every fault of it that stands by itself."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import atan, degrees
from typing import Any

from swingcheck.errors import Problem, UnitError
from swingcheck.scenefile.names import Names
from swingcheck.scenefile.settings import Apart
from swingcheck.scenefile.spec import Key, Kind, Table
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

    ``names`` are all that there are; ``numbers`` are inches, radians, rises
    over runs, degrees Fahrenheit, percents and counts, always as tuples;
    ``apart`` the places set apart from a single value; ``typed`` every
    value as it was typed, a list's one by one as well; ``tables`` what is
    there as a table and ``counts`` how often one that can be repeated is.
    ``settings`` are the keys that came from the command line, ``faulty`` those
    whose value has a fault, ``suggested`` what misspelled keys likely meant.
    """

    names: Names
    unit: str = "in"
    numbers: dict[str, tuple[float, ...]] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    flags: dict[str, bool] = field(default_factory=dict)
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
        return key in self.numbers and key not in self.faulty


def measurements(tree: Mapping[str, Any], names: Names, settings: Iterable[str] = ()) -> Measured:
    """Return what a scene's tree says; its faults are in ``problems``.

    Parameters
    ----------
    tree : mapping
        As read from TOML, with the settings laid over it.
    names : Names
        Every key of a scene file.
    settings : iterable of str
        The keys that were laid over.
    """
    measured = Measured(names=names, settings=tuple(settings))
    unit = tree.get("unit")
    if isinstance(unit, str) and unit.strip().casefold() in UNITS:
        measured.unit = unit.strip().casefold()
    _read_table(measured, "", tree, names.root)
    return measured


def _read_table(measured: Measured, path: str, found: Mapping[str, Any], table: Table) -> None:
    if table.one and len(found.keys() & table.keys.keys()) > 1:
        names = " or ".join(table.keys)
        measured.must_be(path, shown(found), f"one of {names}, not several")
    for name, value in found.items():
        node = table.keys.get(name)
        key = _joined(path, name)
        measured.typed[key] = shown(value)
        if node is None:
            _note_unknown(measured, key, value)
        elif isinstance(node, Key):
            _read_key(measured, key, value, node)
        elif node.many:
            _read_tables(measured, key, value, node)
        else:
            _read_node(measured, key, value, node)


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


def _read_tables(measured: Measured, key: str, value: Any, table: Table) -> None:
    if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
        measured.must_be(key, shown(value), table.expected(key))
        return
    if len(value) > _MOST_TABLES:
        measured.must_be(key, f"{len(value)} of them", f"at most {_MOST_TABLES}")
        return
    measured.counts[key] = len(value)
    for place, each in enumerate(value):
        _read_table(measured, f"{key}[{place}]", each, table)


def _read_node(measured: Measured, key: str, value: Any, table: Table) -> None:
    if isinstance(value, dict):
        measured.tables.add(key)
        _read_table(measured, key, value, table)
    elif isinstance(value, str) and value.strip().casefold() in table.words:
        measured.words[key] = value.strip().casefold()
    elif table.plain is not None:
        _read_key(measured, key, value, table.plain)
    else:
        hint = ""
        if table.one and not isinstance(value, (bool, list)) and re.search("[0-9]", str(value)):
            hint = f"a bevel is {{ bevel = {shown(value)} }}"
        measured.must_be(key, shown(value), table.expected(key), hint)


def _read_key(measured: Measured, key: str, value: Any, spec: Key) -> None:
    if spec.kind is Kind.FLAG:
        if isinstance(value, bool):
            measured.flags[key] = value
        else:
            measured.must_be(key, shown(value), spec.expected())
    elif spec.kind is Kind.TEXT:
        _read_words(measured, key, value, spec)
    elif isinstance(value, Apart):
        _read_apart(measured, key, value, spec)
    elif isinstance(value, list):
        _read_list(measured, key, value, spec)
    elif spec.few > 1:
        measured.must_be(key, shown(value), spec.expected())
    else:
        number = _number(measured, key, value, spec)
        if number is not None:
            measured.numbers[key] = (number,)


def _read_words(measured: Measured, key: str, value: Any, spec: Key) -> None:
    words = value.strip() if isinstance(value, str) else ""
    if spec.words:
        words = words.casefold()
        if words not in spec.words:
            measured.must_be(key, shown(value), spec.expected())
            return
    elif not words or not words.isprintable() or len(words) > _LONGEST_WORDS:
        expected = f"{spec.expected()}, on one line, at most {_LONGEST_WORDS} letters"
        measured.must_be(key, shown(value), expected)
        return
    measured.words[key] = words


def _read_list(measured: Measured, key: str, value: list[Any], spec: Key) -> None:
    if spec.most == 1:
        measured.must_be(key, shown(value), f"one value: {spec.expected()}")
        return
    if not spec.few <= len(value) <= spec.most:
        wanted = f"{spec.few}" if spec.few == spec.most else f"{spec.few} to {spec.most}"
        expected = f"{wanted} values [{spec.each}], not {len(value)}"
        measured.must_be(key, shown(value), expected)
        return
    numbers = []
    for place, each in enumerate(value):
        measured.typed[f"{key}[{place}]"] = shown(each)
        numbers.append(_number(measured, f"{key}[{place}]", each, spec))
    if None not in numbers:
        measured.numbers[key] = tuple(number for number in numbers if number is not None)


def _read_apart(measured: Measured, key: str, value: Apart, spec: Key) -> None:
    if value.base is None:
        del measured.typed[key]
    else:
        measured.typed[key] = shown(value.base)
        _read_key(measured, key, value.base, spec)
    for place, each in value.places.items():
        measured.typed[f"{key}[{place}]"] = shown(each)
        number = _number(measured, f"{key}[{place}]", each, spec)
        if number is not None:
            measured.apart.setdefault(key, {})[place] = number


def _number(measured: Measured, key: str, value: Any, spec: Key) -> float | None:
    """Return one value in the library's own measure, or None with its fault noted."""
    kinds: tuple[type, ...] = (int,) if spec.kind is Kind.COUNT else (int, float, str)
    if isinstance(value, bool) or not isinstance(value, kinds):
        measured.must_be(key, shown(value), spec.kind.value)
        return None
    try:
        number, measure = _parsed(value, spec.kind, measured.unit)
    except UnitError as error:
        measured.must_be(key, shown(value), spec.kind.value, error.hint)
        return None
    if spec.within(measure):
        return number
    hint = ""
    if spec.kind is Kind.LENGTH and not isinstance(value, str) and measured.unit == "in":
        in_mm = spec.within(measure / MM_PER_INCH) and measure > spec.high
        hint = 'if these are millimetres, say unit = "mm" at the top' if in_mm else ""
    measured.must_be(key, shown(value), spec.limits_text(measured.unit), hint)
    return None


def _parsed(value: Any, kind: Kind, unit: str) -> tuple[float, float]:
    """Return a value in the library's own measure, and in that of its key's limits."""
    if kind is Kind.ANGLE:
        angle = parsed_angle(value)
        return angle, degrees(angle)
    if kind is Kind.SLOPE:
        slope = parsed_slope(value)
        return slope, degrees(atan(slope))
    if kind is Kind.COUNT:
        count = float(min(value, 10**9))
        return count, count
    if kind is Kind.TEMPERATURE:
        number = parsed_temperature(value, unit)
    elif kind is Kind.PERCENT:
        number = parsed_percent(value)
    else:
        number = parsed_length(value, unit)
    return number, number


def shown(value: Any) -> str:
    """Return a value as it was typed, shortened for reading."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        safe = "".join(mark if mark.isprintable() else "?" for mark in value[:60])
        quote = "'" if '"' in safe else '"'
        return f"{quote}{safe if len(value) <= 40 else safe[:37] + '...'}{quote}"
    if isinstance(value, list):
        inside = ", ".join("..." if _is_nest(each) else shown(each) for each in value[:6])
        return f"[{inside}{', ...' if len(value) > 6 else ''}]"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{str(key)[:20]} = ..." for key in list(value)[:4]) + " }"
    if isinstance(value, Apart):
        return ", ".join(f"[{place}] {shown(each)}" for place, each in value.places.items())
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a number of many digits"
    return str(value)[:60]


def _is_nest(value: Any) -> bool:
    return isinstance(value, (list, Mapping))
