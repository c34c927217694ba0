"""The columns of a schedule: what the trade calls a measurement, its key, and a sheet to fill in.

Every key of a scene is a column under its own name, and under the words of its
last two parts, or of its last one where that is two words or more and no other
key's: `hinge.jamb.setback` is "jamb setback", `hinge.leaf_length` "leaf
length". Only names that the trade says otherwise are listed, in
``assets/trade_names.csv``. The columns of a blank sheet, how to fill each in
and an example stand in ``assets/sheet.csv``.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from io import StringIO

from swingcheck.scenefile import Key, Table, known_keys, nearest_key
from swingcheck.units import UNITS

DOOR = "title"

REQUIRED = {
    "door": DOOR,
    "opening width": "opening.width",
    "opening height": "opening.height",
}
"""The columns that every schedule has, and their keys."""

_HOW = (
    "note: rows that begin with note are not read. Set the format of every cell to Text first,"
    " or a spreadsheet makes dates of fractions. Leave out columns and cells as you like:"
    " the usual value is taken, and the report says so.",
    "note: readings at top, middle and bottom go in one cell: 30 1/8, 30, 30 1/8. same takes the"
    " cell above. Any key of a scene is a column too, such as hinge.slab.depth.",
)

_OTHER_SLABS = ("inactive", "lower", "neighbour")
_HEAD = re.compile(r"(?P<name>.*?)\s*(?:[\[(](?P<unit>[a-z]+)[\])])?")
_PLACE = re.compile(r"\[[0-9]{1,4}\]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its place from 0, its name as typed, its key, and the unit of bare numbers.

    ``unit`` is empty where the name says nothing of it.
    """

    place: int
    name: str
    key: str
    spec: Key | Table
    unit: str = ""


@cache
def column_names() -> Mapping[str, str]:
    """Return every column name in words, and the key of a scene that it gives."""
    shallow = sorted(_cell_keys(), key=lambda key: key.count("."))
    names: dict[str, str] = {}
    last: dict[str, list[str]] = {}
    for key in shallow:
        parts = key.replace("_", " ").split(".")
        names.setdefault(" ".join(parts[-2:]), key)
        if " " in parts[-1] and parts[0] not in _OTHER_SLABS:
            last.setdefault(parts[-1], []).append(key)
    alone = {name: keys[0] for name, keys in last.items() if len(keys) == 1}
    return names | alone | dict(_table("trade_names"))


def column(place: int, typed: str) -> Column | None:
    """Return the column of a name in a header, or ``None`` for a name that is none.

    Examples
    --------
    >>> found = column(0, "Opening width (mm)")
    >>> found.key, found.unit
    ('opening.width', 'mm')
    >>> column(0, "hinge.slab.setback[1]").key
    'hinge.slab.setback[1]'
    """
    plain = _in_words(typed)
    told = _HEAD.fullmatch(plain)
    name, unit = (plain, "") if told is None else (told["name"], told["unit"] or "")
    key = column_names().get(name) if unit in ("", *UNITS) else None
    if key is None:
        key, unit = "".join(typed.split()), ""
    spec = _cell_keys().get(_PLACE.sub("", key))
    return None if spec is None else Column(place=place, name=typed, key=key, spec=spec, unit=unit)


def likely_name(typed: str) -> str:
    """Return the column name that a misspelled one most likely means, or nothing.

    Examples
    --------
    >>> likely_name("openning width"), likely_name("slab.widht"), likely_name("zzz")
    ('opening width', 'slab width', '')
    """
    found = get_close_matches(_in_words(typed), column_names(), n=1, cutoff=0.75)
    if found:
        return found[0]
    key = nearest_key("".join(typed.split()))
    return key if key in _cell_keys() else ""


def blank_sheet() -> str:
    r"""Return a schedule without openings, to fill in on a phone or in a spreadsheet.

    Examples
    --------
    >>> blank_sheet().split("\r\n")[2].startswith("door,hinges on,opening width")
    True
    """
    out = StringIO()
    write = csv.writer(out).writerow
    names, notes, examples = zip(*_table("sheet"), strict=True)
    for line in _HOW:
        write([line])
    write(names)
    write([f"note: {notes[0]}", *notes[1:]])
    write([f"note: for example {examples[0]}", *examples[1:]])
    return out.getvalue()


def _table(name: str) -> list[list[str]]:
    """Return the rows of a table that the package brings, without its header."""
    text = files("swingcheck.job").joinpath(f"assets/{name}.csv").read_text("utf-8")
    return list(csv.reader(text.splitlines()))[1:]


@cache
def _cell_keys() -> Mapping[str, Key | Table]:
    """Return the keys of a scene that a cell can give, in the order of a scene file."""
    return {
        key: spec
        for key, spec in known_keys().items()
        if isinstance(spec, Key) or spec.words or spec.plain is not None
    }


def _in_words(typed: str) -> str:
    return " ".join(typed.replace("_", " ").casefold().split())
