"""The columns of a schedule: what the trade calls a measurement, its key, and what a cell gives.

Every key of a scene is a column under its own name, and under the words of its
last two parts, or of its last one where that is two words or more and no other
key's: `hinge.jamb.setback` is "jamb setback", `hinge.leaf_length` "leaf
length". Only names that the trade says otherwise are listed, in
``assets/trade_names.csv``. The columns of a blank sheet, how to fill each in
and an example stand in ``assets/sheet.csv``. A cell is read as a carpenter
writes it, and what a spreadsheet made of it is refused.
"""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from io import StringIO

from swingcheck.errors import UnfitError
from swingcheck.scenefile import NAMES, Key, Kind, Table
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
    key = NAMES.nearest("".join(typed.split()))
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
    text = files("swingcheck.job").joinpath(f"assets/{name}.csv").read_text("utf-8")
    return list(csv.reader(text.splitlines()))[1:]


@cache
def _cell_keys() -> Mapping[str, Key | Table]:
    return {
        key: spec
        for key, spec in NAMES.keys.items()
        if isinstance(spec, Key) or spec.words or spec.plain is not None
    }


def _in_words(typed: str) -> str:
    return " ".join(typed.replace("_", " ").casefold().split())


EMPTY = frozenset({"", "-", "\u2013", "\u2014", "n/a", "na"})
REPEATS = frozenset({"same", "ditto", "do.", '"', "\u3003"})
_YES = frozenset({"yes", "y", "true", "x", "1", "\u2713", "\u2714"})
_NO = frozenset({"no", "n", "false", "0", "none"})
_HANDS = {"l": "left", "r": "right"}

_FORMULA_TEXT = re.compile(r'="(?P<text>.*)"')
_APART = re.compile(r"\s*(?:[;|\n]|,(?=\s)|,$)\s*")
_TIGHT_COMMA = re.compile(r"[0-9],[0-9]")
_ROUND = re.compile(r"(?:r|radius)\.? ?(?P<length>[0-9].*)", re.IGNORECASE)
_LEAN = re.compile(r"(?:bevel )?(?P<angle>[-+0-9.].*)", re.IGNORECASE)
_BARE = re.compile(r"[-+0-9./ ]+")

_MONTHS = (
    ("jan", "ene", "gen", "janv"),
    ("feb", "fév", "févr"),
    ("mar", "mrz", "mär", "mars"),
    ("apr", "avr", "abr"),
    ("may", "mai", "mag"),
    ("jun", "juin", "giu"),
    ("jul", "juil", "lug"),
    ("aug", "aoû", "août", "ago"),
    ("sep", "sept", "set"),
    ("oct", "okt", "ott"),
    ("nov",),
    ("dec", "dez", "déc", "dic"),
)
_WORD = r"(?P<month>[^\W\d]{3,9})\.?"
_DATES = (
    re.compile(rf"(?P<day>\d{{1,2}})\.?[- ]+{_WORD}(?:[- ]+\d{{2,4}})?"),
    re.compile(rf"{_WORD}[- ]+(?P<day>\d{{1,2}}),?(?:[- ]+\d{{2,4}})?"),
    re.compile(r"(?P<day>\d{1,2})[/.-](?P<month>\d{1,2})[/.-](?:\d{4}|\d{2})(?: [\d:]+)?"),
    re.compile(r"\d{4}[/.-](?P<month>\d{1,2})[/.-](?P<day>\d{1,2})(?:[ T][\d:]+)?"),
)
_SERIAL = range(36526, 73051)  # days of the years 2000 to 2099, as spreadsheets count them
_FIRST_DAY = date(1899, 12, 30)
_OVERFLOW = re.compile(r"#+|#[A-Z/0!?]+")
_FRACTION = re.compile(r"/\s*(\d+)")
_ON_A_TAPE = (2, 4, 8, 16, 32, 64, 128)
_AS_TEXT = "set the column's format to Text, then type it again"


def plain_cell(typed: str) -> str:
    """Return a cell without a spreadsheet's own marks: ``="1/8"`` and a leading apostrophe.

    Examples
    --------
    >>> plain_cell('="1/8"'), plain_cell("'1/8"), plain_cell(" 30  1/8 ")
    ('1/8', '1/8', '30 1/8')
    """
    if found := _FORMULA_TEXT.fullmatch(typed.strip()):
        typed = found["text"]
    lines = (" ".join(line.split()) for line in typed.removeprefix("'").splitlines())
    return "\n".join(line for line in lines if line)


def setting(column: Column, cell: str) -> tuple[str, str]:
    """Return the key and the value, as ``--set`` takes them, that a cell gives.

    Raises UnfitError when a spreadsheet has changed it, or it could be read in two ways.
    """
    key, spec = column.key, column.spec
    if isinstance(spec, Table):
        if spec.one:
            return _edge(key, cell)
        if spec.plain is None:
            return key, _there_or_not(cell, spec.words[0])
        spec = spec.plain
    if spec.kind is Kind.TEXT:
        return key, _quoted(_HANDS.get(cell.casefold(), cell) if spec.words else cell)
    if spec.kind is Kind.FLAG:
        return key, _flag(cell)
    return key, _measurement(spec, cell, column.unit)


def is_none(value: str) -> bool:
    """Return whether a setting says that a thing is not there."""
    return value == '"none"'


def _edge(key: str, cell: str) -> tuple[str, str]:
    refuse_slip(cell, is_length=False)
    if found := _ROUND.fullmatch(cell):
        return f"{key}.radius", _quoted(found["length"])
    if found := _LEAN.fullmatch(cell):
        return f"{key}.bevel", _quoted(found["angle"])
    return key, _quoted(cell)


def _there_or_not(cell: str, absent: str) -> str:
    if cell.casefold() in _NO:
        return _quoted(absent)
    if cell.casefold() in _YES:
        return "{}"
    raise UnfitError("must be yes or no", "its measurements have columns of their own")


def _flag(cell: str) -> str:
    if cell.casefold() in _YES | _NO:
        return "true" if cell.casefold() in _YES else "false"
    raise UnfitError("must be yes or no")


def _measurement(spec: Key, cell: str, unit: str) -> str:
    refuse_slip(cell, is_length=False)
    if _TIGHT_COMMA.search(cell):
        hint = "a list takes a space behind each comma" if spec.most > 1 else ""
        raise UnfitError("must not hold a comma between digits: the decimal takes a point", hint)
    if spec.kind is Kind.COUNT:
        whole = cell.removesuffix(".0")
        return whole if whole.isdecimal() and len(whole) < 9 else _quoted(cell)
    parts = [part for part in _APART.split(cell) if part] if spec.most > 1 else [cell]
    for part in parts:
        refuse_slip(part, is_length=spec.kind is Kind.LENGTH)
    if spec.kind is Kind.LENGTH and unit:
        parts = [f"{part} {unit}" if _BARE.fullmatch(part) else part for part in parts]
    texts = [_quoted(part) for part in parts]
    return texts[0] if len(texts) == 1 else f"[{', '.join(texts)}]"


def _quoted(text: str) -> str:
    """Return text as TOML writes it; its strings take JSON's escapes."""
    return json.dumps(text, ensure_ascii=False)


def refuse_slip(cell: str, *, is_length: bool) -> None:
    """Raise UnfitError for what a spreadsheet made of a measurement: what it was, what to do.

    ``is_length``: the cell's fractions are a tape's, and it is no day's number.
    """
    if _OVERFLOW.fullmatch(cell):
        hint = "widen the column or mend the formula, save it again"
        raise UnfitError("not shown by the spreadsheet", hint)
    if found := _as_date(cell, is_length=is_length):
        over, under = sorted(found)
        is_likely = under in _ON_A_TAPE and 0 < over < under
        said = f", likely {over}/{under}" if is_likely else ""
        raise UnfitError(f"a date, which the spreadsheet made of a fraction{said}", _AS_TEXT)
    for parts in _FRACTION.findall(cell) if is_length else ():
        if int(parts) not in _ON_A_TAPE:
            said = f"no tape reads in parts of {parts}: a spreadsheet may have rounded it"
            raise UnfitError(said, _AS_TEXT)


def _as_date(cell: str, *, is_length: bool) -> tuple[int, int] | None:
    """Return the day (or the year's last two digits) and the month, 0 for an unknown one."""
    if is_length and cell.isdecimal() and int(cell[:9]) in _SERIAL:
        day = _FIRST_DAY + timedelta(days=int(cell))
        return day.day, day.month
    for pattern in _DATES:
        if found := pattern.fullmatch(cell):
            month = _month(found["month"])
            if month is not None:
                return int(found["day"]), month
    return None


def _month(text: str) -> int | None:
    if text.isdecimal():
        return int(text)
    short = text.casefold()
    months = enumerate(_MONTHS, 1)
    return next((k for k, names in months if short in names or short[:3] in names), None)
