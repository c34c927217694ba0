"""From the bytes of a spreadsheet's CSV to its header and rows of cells, however it was saved."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from swingcheck.errors import Problem
from swingcheck.scenefile import refused, source_bytes

LARGEST = 20_000_000  # bytes; two thousand openings take one
MOST_COLUMNS = 500
_LONGEST_CELL = 400  # characters
_DELIMITERS = ",;\t"
_TEXTS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_NOTE = re.compile(r"note\b", re.IGNORECASE)
_SEPARATOR_LINE = re.compile(r"\s*sep=(?P<mark>.)\s*", re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
_NOT_CLOSED = "a quote that opens here is not closed in its cell"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One opening's row: its number in the spreadsheet, from 1, and its cells as typed."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A schedule's header, where it stands, and the rows under it that say something.

    Rows that begin with "note" and blank rows are left out. ``problems`` are
    the faults of its form, by the numbers of their rows.
    """

    header: Row
    rows: tuple[Row, ...]
    problems: Mapping[int, Problem]


def schedule_bytes(path: Path, name: str) -> bytes:
    """Return the bytes of a schedule, ``-`` standard input; raises SceneError without any."""
    data = source_bytes(path, name, LARGEST)
    if len(data) > LARGEST:
        raise refused(name, "over 20 MB: no schedule")
    return data


def grid(data: bytes, name: str) -> Grid:
    """Return the cells of a schedule.

    Takes UTF-8 with or without its mark, UTF-16 and the western code page of
    old spreadsheets; commas, semicolons or tabs between cells. Where they are
    semicolons, a comma between digits is a decimal's. Raises SceneError when it is
    no table of cells, or has no row of column names.
    """
    text = _text(data, name)
    lines = text.splitlines(keepends=True)
    skipped = 0
    mark = ""
    if lines and (told := _SEPARATOR_LINE.fullmatch(lines[0])):
        mark, skipped = told["mark"], 1
    mark = mark or _delimiter(lines)
    rows = list(_rows(lines[skipped:], mark, skipped, name))
    header = next((row for row in rows if not _is_note(row)), None)
    if header is None:
        hint = "swingcheck house --template FILE writes a sheet to fill in"
        raise refused(name, "no row of column names", hint)
    under = [row for row in rows if row.number > header.number and not _is_note(row)]
    if len(header.cells) > MOST_COLUMNS:
        raise refused(name, f"over {MOST_COLUMNS} columns: no schedule")
    width = len(header.cells)
    return Grid(
        header=header,
        rows=tuple(
            Row(number=row.number, cells=(*row.cells, *[""] * width)[:width]) for row in under
        ),
        problems={
            row.number: _too_wide(row, header, mark) for row in under if any(row.cells[width:])
        },
    )


def _text(data: bytes, name: str) -> str:
    for mark, encoding in _TEXTS:
        if data.startswith(mark):
            try:
                return data.decode(encoding)
            except UnicodeDecodeError:
                raise refused(name, f"not whole: it begins as {encoding[:6].upper()}") from None
    if data.startswith(b"PK\x03\x04") or data.startswith(b"\xd0\xcf\x11\xe0"):
        raise refused(name, "a spreadsheet's own file", "save it as CSV")
    if b"\0" in data:
        raise refused(name, "not a text", "save it as CSV, in UTF-8")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _delimiter(lines: list[str]) -> str:
    """Return the mark between cells: the commonest of them in the first line that is no note."""
    said = (
        line for line in lines if line.strip(' ,;\t\r\n"') and not _NOTE.match(line.lstrip('"'))
    )
    first = next(said, "")
    return max(_DELIMITERS, key=first.count)


def _rows(lines: list[str], mark: str, skipped: int, name: str) -> Iterator[Row]:
    reader = csv.reader(lines, delimiter=mark, skipinitialspace=True)
    number = skipped
    try:
        for number, cells in enumerate(reader, skipped + 1):
            plain = tuple(" ".join(cell.split(" ")).strip() for cell in cells)
            for cell in plain:
                if cell.count("\n") > 12 or len(cell) > _LONGEST_CELL:
                    raise refused(name, f"row {number}: {_NOT_CLOSED}: {cell[:40]!r}")
            if mark == ";":
                plain = tuple(_DECIMAL_COMMA.sub(".", cell) for cell in plain)
            if any(plain):
                yield Row(number=number, cells=plain)
    except csv.Error:
        raise refused(name, f"row {number + 1}: {_NOT_CLOSED}") from None


def _is_note(row: Row) -> bool:
    return bool(_NOTE.match(next(filter(None, row.cells))))


def _too_wide(row: Row, header: Row, mark: str) -> Problem:
    comma = "a list of measurements in one cell stands in quotes" if mark == "," else ""
    return Problem(
        key=f"row {row.number}",
        value="",
        expected=f"{len(row.cells)} cells, and {len(header.cells)} column names in row"
        f" {header.number}",
        hint=comma,
    )
