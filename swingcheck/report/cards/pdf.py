"""Cards as a PDF: one page a door, as large as its page allows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from swingcheck.report.cards.content import DoorCard, Figures, Step
from swingcheck.report.cards.html import Pictures
from swingcheck.report.cards.pen import (
    BLACK,
    LEADING,
    QUIET,
    Colour,
    Paper,
    Pen,
    figure_width,
    width_of,
    wrapped,
)

MARGIN = 36.0
FOOT = 16.0
GO, STOP = (0.10, 0.40, 0.20), (0.62, 0.12, 0.10)
SIZES = (1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64)
"""How large everything on a page is, tried in this order until the page holds it."""

GOES_ON = 0.82
"""How large everything is where it takes more than a page."""

LEAST_PICTURE, MOST_PICTURE = 150.0, 230.0
"""Height of the close-ups, points; on a page without so much room they are left out."""

TITLE, FIGURE, LABEL, NOTE = 9.5, 19.0, 6.8, 7.6
STEP_TITLE_WIDTH = 132.0
TICK = 12.0


@dataclass(frozen=True, slots=True)
class Block:
    """A piece of a page: its height, and how it is drawn with its top left corner at a place."""

    height: float
    draw: Callable[[Pen, float, float], None]


def cards_pdf(cards: Sequence[DoorCard], pictures: Pictures, paper: Paper) -> bytes:
    """Return the cards as a PDF, in the order of its pages; equal cards give equal bytes.

    ``pictures`` has each door's close-ups by its name, as one PNG; a door may have none.
    """
    title = cards[0].name if len(cards) == 1 else f"{len(cards)} doors"
    pen = Pen(paper, title)
    for number, card in enumerate(cards, 1):
        foot = f"{card.where}; figures in {card.unit_name}; door {number} of {len(cards)}"
        _draw_card(pen, card, pictures.get(card.name), foot)
    return pen.finished()


def laid_out(card: DoorCard, paper: Paper, picture: bytes | None) -> tuple[Block, ...]:
    """Return a door's blocks at the largest size that a page holds them at, with its close-ups.

    Rather without close-ups on one page than on two. What no page holds is
    laid out to be read, and goes on.
    """
    width, room = paper.width - 2 * MARGIN, paper.height - 2 * MARGIN - FOOT
    for least in (LEAST_PICTURE, 0.0) if picture is not None else (0.0,):
        for scale in SIZES:
            blocks = card_blocks(card, width, scale)
            if sum(block.height for block in blocks) <= room - least:
                return blocks
    return card_blocks(card, width, GOES_ON)


def card_blocks(card: DoorCard, width: float, scale: float) -> tuple[Block, ...]:
    """Return the blocks of a door's card, top to bottom."""
    colour = STOP if card.hold else GO
    said = [(card.hold, 10.0, True, STOP)] if card.hold else []
    said.append((card.finding, 10.0, True, colour))
    if card.remedy:
        said.append((f"First cure: {card.remedy}", 9.0, False, BLACK))
    said += [(f"! {text}", 8.5, False, STOP) for text in card.warnings]
    blocks = [_paragraph(card.name, width, 24.0 * scale, bold=True)]
    blocks += [
        _paragraph(text, width, size * scale, bold=bold, colour=ink)
        for text, size, bold, ink in said
    ]
    blocks += [_gap(4 * scale), _figures(card.facts, width, scale, size=11.0), _gap(3 * scale)]
    blocks += [_step(number, step, width, scale) for number, step in enumerate(card.steps, 1)]
    blocks.append(_gap(3 * scale))
    small = [f"Season: {card.season}", *card.cautions]
    if card.assumed:
        small.append(f"Assumed: {card.assumed}")
    blocks += [_paragraph(text, width, 6.6 * scale, colour=QUIET) for text in small]
    return tuple(blocks)


def _draw_card(pen: Pen, card: DoorCard, picture: bytes | None, foot: str) -> None:
    paper = pen.paper
    low, top = MARGIN + FOOT, paper.height - MARGIN
    y = top
    for block in laid_out(card, paper, picture):
        if y - block.height < low - 0.01 and y < top:
            _draw_foot(pen, f"{foot}; goes on")
            pen.next_page()
            y = top
        block.draw(pen, MARGIN, y)
        y -= block.height
    if picture is not None and y - low >= LEAST_PICTURE:
        height = min(y - low, MOST_PICTURE) - 6
        pen.picture(picture, MARGIN, low + 3, paper.width - 2 * MARGIN, height)
    _draw_foot(pen, foot)
    pen.next_page()


def _draw_foot(pen: Pen, foot: str) -> None:
    pen.line((MARGIN, MARGIN + 9), (pen.paper.width - MARGIN, MARGIN + 9))
    pen.text(MARGIN, MARGIN, _shortened(foot, pen.paper.width - 2 * MARGIN, 7), 7, colour=QUIET)


def _shortened(text: str, width: float, size: float) -> str:
    while len(text) > 4 and width_of(text, size) > width:
        text = f"{text[:-4]}..."
    return text


def _gap(height: float) -> Block:
    return Block(height, lambda pen, x, y: None)


def _paragraph(
    text: str, width: float, size: float, *, bold: bool = False, colour: Colour = BLACK
) -> Block:
    lines = wrapped(text, width, size, bold=bold)

    def draw(pen: Pen, x: float, y: float) -> None:
        for k, line in enumerate(lines):
            pen.text(x, y - size - k * size * LEADING, line, size, bold=bold, colour=colour)

    return Block(len(lines) * size * LEADING, draw)


def _figures(figures: Figures, width: float, scale: float, *, size: float) -> Block:
    """Return figures side by side, each over its label, in as many rows as they take."""
    size, label = size * scale, LABEL * scale
    space = 13 * scale
    rows: list[list[tuple[float, str, str]]] = [[]]
    x = 0.0
    for told, value in figures.items():
        wide = max(figure_width(value, size), width_of(told, label))
        if rows[-1] and x + wide > width:
            rows.append([])
            x = 0.0
        rows[-1].append((x, told, value))
        x += wide + space
    row_height = size * 1.12 + label * 1.45

    def draw(pen: Pen, left: float, y: float) -> None:
        for row, placed in enumerate(rows):
            base = y - row * row_height - size
            for x, told, value in placed:
                pen.figure(left + x, base, value, size)
                pen.text(left + x, base - label * 1.3, told, label, colour=QUIET)

    return Block(len(rows) * row_height, draw)


def _step(number: int, step: Step, width: float, scale: float) -> Block:
    """Return a step: a box to tick and its title on the left, its figures on the right."""
    column, tick = STEP_TITLE_WIDTH * scale, TICK * scale
    title = _paragraph(
        f"{number}. {step.title}", column - tick - 16 * scale, TITLE * scale, bold=True
    )
    inside = width - column
    figures = _figures(step.figures, inside, scale, size=FIGURE)
    notes = [_paragraph(note, inside, NOTE * scale, colour=QUIET) for note in step.notes]
    over = 3.5 * scale
    right = figures.height + sum(note.height for note in notes)
    height = max(title.height, right, tick) + 2 * over

    def draw(pen: Pen, x: float, y: float) -> None:
        pen.line((x, y), (x + width, y))
        pen.box(x, y - over - tick, tick, tick)
        title.draw(pen, x + tick + 6 * scale, y - over)
        top = y - over
        for block in (figures, *notes):
            block.draw(pen, x + column, top)
            top -= block.height

    return Block(height, draw)
