"""Cards as one HTML file: no network, boxes to tick on a tablet, one printed page a door."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping, Sequence
from html import escape
from importlib.resources import files

from swingcheck.report.cards.content import DoorCard, Figures, Step
from swingcheck.report.cards.pen import Paper, runs
from swingcheck.report.text import words_html

Pictures = Mapping[str, bytes]
"""Each door's close-ups in plan by its name, as one PNG; a door may have none."""


def cards_html(cards: Sequence[DoorCard], pictures: Pictures, paper: Paper) -> str:
    """Return a page that holds the cards, each to be printed on a page of its own."""
    style = files("swingcheck.report.cards").joinpath("assets/cards.css").read_text("utf-8")
    title = cards[0].name if len(cards) == 1 else f"{len(cards)} doors"
    body = "".join(_card(card, pictures.get(card.name)) for card in cards)
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n"
        f"<style>\n@page {{ size: {paper.name}; margin: 12mm; }}\n{style}</style>\n"
        f"</head>\n<body>\n{body}</body>\n</html>\n"
    )


def _card(card: DoorCard, picture: bytes | None) -> str:
    word = card.fit.value
    steps = "".join(_step(number, step) for number, step in enumerate(card.steps, 1))
    return (
        f'<article class="{word}">\n'
        f"<header><h1>{escape(card.name)}</h1>"
        f"<p>{escape(card.where)}; figures in {card.unit_name}</p></header>\n"
        + _paragraph("hold", card.hold)
        + _paragraph("finding", card.finding)
        + _paragraph("cure", card.remedy, "First cure: ")
        + (_bullets("warnings", card.warnings) if card.warnings else "")
        + f'<dl class="facts">{_figures(card.facts)}</dl>\n'
        f"<ol>\n{steps}</ol>\n"
        + _closeups(card, picture)
        + _paragraph("season", card.season, "Season: ")
        + _bullets("cautions", card.cautions)
        + _paragraph("assumed", card.assumed, "Assumed: ")
        + "</article>\n"
    )


def _paragraph(kind: str, text: str, lead: str = "") -> str:
    return f'<p class="{kind}">{words_html(f"{lead}{text}")}</p>\n' if text else ""


def _bullets(kind: str, texts: Sequence[str]) -> str:
    items = "".join(f"<li>{words_html(text)}</li>\n" for text in texts)
    return f'<ul class="{kind}">\n{items}</ul>\n'


def _step(number: int, step: Step) -> str:
    notes = "".join(f'<p class="note">{words_html(note)}</p>' for note in step.notes)
    return (
        f'<li><label><input type="checkbox"><b>{number}. {escape(step.title)}</b></label>'
        f"<dl>{_figures(step.figures)}</dl>{notes}</li>\n"
    )


def _figures(figures: Figures) -> str:
    return "".join(
        f"<div><dd>{figure_html(value)}</dd><dt>{escape(label)}</dt></div>"
        for label, value in figures.items()
    )


def figure_html(value: str) -> str:
    """Return a figure as HTML, its fractions raised and lowered.

    Examples
    --------
    >>> figure_html("29 7/8")
    '29<small>\u2009</small><sup>7</sup>\u2044<sub>8</sub>'
    """
    return "".join(
        f"<{tag}>{escape(text)}</{tag}>" if tag else escape(text) for text, tag in runs(value)
    )


def _closeups(card: DoorCard, picture: bytes | None) -> str:
    if picture is None:
        return ""
    shown = b64encode(picture).decode()
    alt = f"plan of {escape(card.name)}, hinge corner and strike corner"
    return f'<img class="closeups" alt="{alt}" src="data:image/png;base64,{shown}">\n'
