"""Cards as plain text, for a phone or a line printer: a form feed between doors."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from swingcheck.report.cards.content import DoorCard, Figure, Step
from swingcheck.report.cards.fractions import together

WIDTH = 76
VALUE = 22
"""Columns that a step's figures take."""

_KEPT = "\u00a0"


def cards_text(cards: Sequence[DoorCard]) -> str:
    """Return the cards as lines of at most 76 columns, each on a page of its own."""
    return "\f".join("\n".join(_card_lines(card)) + "\n" for card in cards)


def _card_lines(card: DoorCard) -> list[str]:
    lines = [card.name.upper(), "=" * min(len(card.name), WIDTH)]
    lines += _wrapped(f"{card.where}; bare figures are {unit_words(card.unit)}")
    lines += _wrapped(card.finding)
    if card.remedy:
        lines += _wrapped(f"First cure: {card.remedy}")
    lines += _wrapped(not_yet(card)) if not card.swings else []
    lines += [line for text in card.warnings for line in _wrapped(f"! {text}", "  ")]
    lines.append("")
    lines += [line for figure in card.facts for line in _wrapped(_fact(figure), "    ")]
    for number, step in enumerate(card.steps, 1):
        lines += ["", *_step_lines(number, step)]
    lines += ["", *_wrapped(f"Season: {card.season}")]
    lines += [line for text in card.cautions for line in ("", *_wrapped(f"Caution: {text}"))]
    lines += ["", *_wrapped(f"Assumed: {'; '.join(card.assumed)}")] if card.assumed else []
    return lines


def unit_words(unit: str) -> str:
    """Return a unit's name in full."""
    return {"in": "inches", "mm": "millimetres"}[unit]


def not_yet(card: DoorCard) -> str:
    """Return the warning that stands on the card of a slab that does not swing."""
    return "Do not cut yet: cut like this it does not swing."


def _fact(figure: Figure) -> str:
    return f"{figure.label}: {figure.value}"


def _step_lines(number: int, step: Step) -> list[str]:
    lines = _wrapped(f"[ ] {number}. {step.title}", "    ")
    for figure in step.figures:
        lines += _wrapped(f"      {kept(figure.value):<{VALUE}} {figure.label}", " " * (VALUE + 7))
    return lines + [line for note in step.notes for line in _wrapped(f"      {note}", "      ")]


def kept(text: str) -> str:
    """Return text that no line breaks within."""
    return text.replace(" ", _KEPT)


def _wrapped(text: str, rest: str = "") -> list[str]:
    """Return words in lines that part no number from its fraction or its unit."""
    lines = textwrap.wrap(together(text), WIDTH, subsequent_indent=rest, break_on_hyphens=False)
    return [line.replace(_KEPT, " ") for line in lines]
