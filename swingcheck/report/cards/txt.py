"""Cards as plain text, for a phone or a line printer: a form feed between doors."""

from __future__ import annotations

from collections.abc import Sequence

from swingcheck.report.cards.content import DoorCard, Step
from swingcheck.report.text import wrapped
from swingcheck.units.words import NO_BREAK

WIDTH = 76
VALUE = 22
"""Columns that a step's figures take."""


def cards_text(cards: Sequence[DoorCard]) -> str:
    """Return the cards as lines of at most 76 columns, each on a page of its own."""
    return "\f".join("\n".join(_card_lines(card)) + "\n" for card in cards)


def _card_lines(card: DoorCard) -> list[str]:
    lines = [card.name.upper(), "=" * min(len(card.name), WIDTH)]
    lines += _wrapped(f"{card.where}; bare figures are {card.unit_name}")
    lines += _wrapped(card.hold) + _wrapped(card.finding)
    if card.remedy:
        lines += _wrapped(f"First cure: {card.remedy}")
    lines += [line for text in card.warnings for line in _wrapped(f"! {text}", "  ")]
    lines.append("")
    for label, value in card.facts.items():
        lines += _wrapped(f"{label}: {value}", "    ")
    for number, step in enumerate(card.steps, 1):
        lines += ["", *_step_lines(number, step)]
    lines += ["", *_wrapped(f"Season: {card.season}")]
    lines += [line for text in card.cautions for line in ("", *_wrapped(f"Caution: {text}"))]
    lines += ["", *_wrapped(f"Assumed: {card.assumed}")] if card.assumed else []
    return lines


def _step_lines(number: int, step: Step) -> list[str]:
    lines = _wrapped(f"[ ] {number}. {step.title}", "    ")
    for label, value in step.figures.items():
        told = f"      {value.replace(' ', NO_BREAK):<{VALUE}} {label}"
        lines += _wrapped(told, " " * (VALUE + 7))
    return lines + [line for note in step.notes for line in _wrapped(f"      {note}", "      ")]


def _wrapped(text: str, rest: str = "") -> list[str]:
    return wrapped(text, WIDTH, rest=rest)
