"""A card as HTML: headings, paragraphs and tables, every word of it escaped."""

from __future__ import annotations

import re
from html import escape

from swingcheck.report.card import Card, Entry, Table

FOLDED = ("Assumed",)
"""Entries that are long and seldom read; folded up until they are asked for."""

_NUMBER = re.compile(r"(?<=\d) (?=\d+/\d|in\b|mm\b|deg\b|lb\b|kg\b)")


def card_markup(card: Card) -> str:
    """Return the card's entries and tables, under headings of the third level."""
    return "\n".join(
        _entry(item) if isinstance(item, Entry) else _table(item) for item in card.items
    )


def _entry(entry: Entry) -> str:
    texts = "\n".join(f"<p>{_kept(words)}</p>" for words in entry.texts if words)
    heading = f"<h3>{escape(entry.label)}</h3>"
    if entry.label in FOLDED:
        return f"<details><summary>{heading}</summary>\n{texts}</details>"
    return f"{heading}\n{texts}"


def _table(table: Table) -> str:
    heading = f"<h3>{escape(table.label)}</h3>" if table.label else ""
    head = ""
    if any(table.columns):
        cells = "".join(f'<th scope="col">{escape(column)}</th>' for column in table.columns)
        head = f"<thead><tr><td></td>{cells}</tr></thead>"
    rows = "".join(_row(name, cells) for name, cells in table.rows)
    return f'{heading}<div class="wide"><table>{head}<tbody>{rows}</tbody></table></div>'


def _row(name: str, cells: tuple[str, ...]) -> str:
    values = "".join(f"<td>{_kept(cell)}</td>" for cell in cells)
    return f'<tr><th scope="row">{escape(name)}</th>{values}</tr>'


def _kept(words: str) -> str:
    """Return text escaped, no number parted from its fraction or its unit at a line's end."""
    return _NUMBER.sub("\u00a0", escape(words))
