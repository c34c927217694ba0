"""A card written out: as plain text, and as HTML with every word of it escaped."""

from __future__ import annotations

import textwrap
from html import escape

from swingcheck.report.card import Card, Entry, Table
from swingcheck.units.words import NO_BREAK, together

WIDEST = 78
NARROWEST = 32
LABEL = 10
FIRST = 13
"""Columns that labels take, where the page is wide enough to set them beside the text."""


def text(card: Card, width: int = WIDEST) -> str:
    """Return the card as lines of at most ``width`` columns, held between 32 and 78.

    ASCII unless its words are not.
    """
    width = min(max(width, NARROWEST), WIDEST)
    lines = wrapped(f"{card.title}: {card.finding}", width, "", "  ")
    for item in card.items:
        lines += _entry(item, width) if isinstance(item, Entry) else _table(item, width)
    return "\n".join(lines)


def _entry(entry: Entry, width: int) -> list[str]:
    lines: list[str] = []
    for words in filter(None, entry.texts):
        label = "" if lines else entry.label
        lines += wrapped(words, width, label.ljust(LABEL), " " * LABEL)
    return lines


def wrapped(words: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Return words in lines that part no number from its fraction or its unit."""
    lines = textwrap.wrap(
        together(words),
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_on_hyphens=False,
    )
    return [line.replace(NO_BREAK, " ") for line in lines]


def _table(table: Table, width: int) -> list[str]:
    columns = list(zip(table.columns, *(cells for _, cells in table.rows), strict=True))
    sizes = [max(map(len, column)) for column in columns]
    first = max(FIRST, len(table.label), *(len(name) + 2 for name, _ in table.rows))
    if first + sum(size + 2 for size in sizes) > width:
        return _stacked(table, width)
    head = [table.label.ljust(first), *_padded(table.columns, sizes)]
    rows = [[f"  {name}".ljust(first), *_padded(cells, sizes)] for name, cells in table.rows]
    return ["  ".join(row).rstrip() for row in [head, *rows]]


def _stacked(table: Table, width: int) -> list[str]:
    lines = [table.label] if table.label else []
    for name, cells in table.rows:
        pairs = zip(table.columns, cells, strict=True)
        words = ", ".join(f"{column} {cell}" for column, cell in pairs)
        lines += wrapped(f"{name}: {words}", width, "  ", "    ")
    return lines


def _padded(cells: tuple[str, ...], sizes: list[int]) -> list[str]:
    return [cell.ljust(size) for cell, size in zip(cells, sizes, strict=True)]


FOLDED = ("Assumed",)
"""Entries that are long and seldom read; folded up until they are asked for."""


def card_markup(card: Card) -> str:
    """Return the card's entries and tables, under headings of the third level."""
    return "\n".join(
        _entry_html(item) if isinstance(item, Entry) else _table_html(item) for item in card.items
    )


def _entry_html(entry: Entry) -> str:
    texts = "\n".join(f"<p>{words_html(words)}</p>" for words in entry.texts if words)
    heading = f"<h3>{escape(entry.label)}</h3>"
    if entry.label in FOLDED:
        return f"<details><summary>{heading}</summary>\n{texts}</details>"
    return f"{heading}\n{texts}"


def _table_html(table: Table) -> str:
    heading = f"<h3>{escape(table.label)}</h3>" if table.label else ""
    head = ""
    if any(table.columns):
        cells = "".join(f'<th scope="col">{escape(column)}</th>' for column in table.columns)
        head = f"<thead><tr><td></td>{cells}</tr></thead>"
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th>'
        + "".join(f"<td>{words_html(cell)}</td>" for cell in cells)
        + "</tr>"
        for name, cells in table.rows
    )
    return f'{heading}<div class="wide"><table>{head}<tbody>{rows}</tbody></table></div>'


def words_html(words: str) -> str:
    """Return text escaped, no number parted from its fraction or its unit at a line's end."""
    return escape(together(words))
