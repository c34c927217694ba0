"""A card as HTML: headings, paragraphs and tables, every word of it escaped."""

from __future__ import annotations

from html import escape

from swingcheck.report.card import Card, Entry, Table
from swingcheck.report.words import together

FOLDED = ("Assumed",)
"""Entries that are long and seldom read; folded up until they are asked for."""


def card_markup(card: Card) -> str:
    """Return the card's entries and tables, under headings of the third level."""
    return "\n".join(
        _entry(item) if isinstance(item, Entry) else _table(item) for item in card.items
    )


def _entry(entry: Entry) -> str:
    texts = "\n".join(f"<p>{words_html(words)}</p>" for words in entry.texts if words)
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
    values = "".join(f"<td>{words_html(cell)}</td>" for cell in cells)
    return f'<tr><th scope="row">{escape(name)}</th>{values}</tr>'


def words_html(words: str) -> str:
    """Return text escaped, no number parted from its fraction or its unit at a line's end."""
    return escape(together(words))
