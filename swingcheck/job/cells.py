"""From a cell as a carpenter writes it to a setting of a scene."""

from __future__ import annotations

import json
import re

from swingcheck.job.columns import Column
from swingcheck.job.dates import spreadsheet_slip
from swingcheck.scenefile import Key, Kind, Table

NOTHING = frozenset({"", "-", "\u2013", "\u2014", "n/a", "na"})
SAME = frozenset({"same", "ditto", "do.", '"', "\u3003"})
_YES = frozenset({"yes", "y", "true", "x", "1", "\u2713", "\u2714"})
_NO = frozenset({"no", "n", "false", "0", "none"})
_HANDS = {"l": "left", "r": "right"}

_FORMULA_TEXT = re.compile(r'="(?P<text>.*)"')
_APART = re.compile(r"\s*(?:[;|\n]|,(?=\s)|,$)\s*")
_TIGHT_COMMA = re.compile(r"[0-9],[0-9]")
_ROUND = re.compile(r"(?:r|radius)\.? ?(?P<length>[0-9].*)", re.IGNORECASE)
_LEAN = re.compile(r"(?:bevel )?(?P<angle>[-+0-9.].*)", re.IGNORECASE)
_BARE = re.compile(r"[-+0-9./ ]+")


class CellError(Exception):
    """A cell that cannot be read: what should stand there, and a hint."""

    def __init__(self, expected: str, hint: str = "") -> None:
        self.expected = expected
        self.hint = hint
        super().__init__(expected, hint)


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

    Raises
    ------
    CellError
        When a spreadsheet has changed it, or it could be read in two ways.
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
    _refuse_slip(cell, is_length=False)
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
    raise CellError("must be yes or no", "its measurements have columns of their own")


def _flag(cell: str) -> str:
    if cell.casefold() in _YES | _NO:
        return "true" if cell.casefold() in _YES else "false"
    raise CellError("must be yes or no")


def _measurement(spec: Key, cell: str, unit: str) -> str:
    _refuse_slip(cell, is_length=False)
    if _TIGHT_COMMA.search(cell):
        hint = "a list takes a space behind each comma" if spec.most > 1 else ""
        raise CellError("must not hold a comma between digits: the decimal takes a point", hint)
    if spec.kind is Kind.COUNT:
        whole = cell.removesuffix(".0")
        return whole if whole.isdecimal() and len(whole) < 9 else _quoted(cell)
    parts = [part for part in _APART.split(cell) if part] if spec.most > 1 else [cell]
    for part in parts:
        _refuse_slip(part, is_length=spec.kind is Kind.LENGTH)
    if spec.kind is Kind.LENGTH and unit:
        parts = [f"{part} {unit}" if _BARE.fullmatch(part) else part for part in parts]
    texts = [_quoted(part) for part in parts]
    return texts[0] if len(texts) == 1 else f"[{', '.join(texts)}]"


def _refuse_slip(cell: str, *, is_length: bool) -> None:
    if slip := spreadsheet_slip(cell, is_length=is_length):
        raise CellError(*slip)


def _quoted(text: str) -> str:
    """Return text as TOML writes it; its strings take JSON's escapes."""
    return json.dumps(text, ensure_ascii=False)
