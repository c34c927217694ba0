"""How far a slab opens, what stops it, how much is clear then, and what its edges sweep."""

from __future__ import annotations

from math import inf, pi
from typing import TYPE_CHECKING

from swingcheck.advice.answer import Answer
from swingcheck.assembly import FITTED
from swingcheck.report.words import Lengths, the, turned
from swingcheck.swing.found import Found, RoundEdge, Touch
from swingcheck.units import angle_text

if TYPE_CHECKING:
    from swingcheck.advice.open_width import OpenWidth

SAME = 1 / 128
"""Clear widths that differ by less read alike on a tape, inches."""

NOTHING = 1e-6
"""A reach past closed under this is none, inches."""


def opens(answer: Answer, lengths: Lengths) -> tuple[str, ...]:
    """Return how far the slab opens and the clear width; then the hinges that more would need."""
    if answer.found.blocked_by:
        return ()
    return tuple(filter(None, (_how_far(answer.found, lengths), _hinges(answer.hinges, lengths))))


def _how_far(result: Found, lengths: Lengths) -> str:
    limit = result.scene.swing.limit
    words = _stopped(result.opening, limit)
    opened = result.opened
    if opened is not None and not opened.by_slab:
        alone = f"to {turned(opened.slab.angle)}" if opened.slab else f"to {angle_text(limit)}"
        words = f"{words} (the slab itself {alone})"
    if result.push is not None and not result.push.blocked_by:
        other = _stopped(result.push.opening, limit)
        same = result.opening is None and result.push.opening is None
        words = words.replace(",", " both ways,", 1) if same else f"{words}; pushed, {other}"
    return f"{words}; {_clear(result, lengths)}"


def _stopped(opening: Touch | None, limit: float) -> str:
    """Return how far it opens, and what stops it."""
    if opening is None:
        return f"to {angle_text(limit)}, nothing in the way"
    angle = angle_text(abs(opening.angle))
    if opening.by_kind in FITTED:
        return f"to {angle}, where {the(opening.by)} meets {the(opening.against)}"
    return f"to {angle}, stopped by {the(opening.against)}"


def _clear(result: Found, lengths: Lengths) -> str:
    """Return the clear width at 90 degrees, and as far as it opens where that is another."""
    opened, square = result.opened, result.clear_width
    if square is None:
        if opened is None:
            return "no clear width at 90 deg"
        return f"clear width there {lengths.full(opened.clear_width)}"
    words = f"clear width at 90 deg {lengths.full(square)}"
    beyond = result.opening is not None and result.opening.angle > pi / 2 + 1e-9
    if opened is None or not beyond or abs(opened.clear_width - square) < SAME:
        return words
    return f"{words}, as far as it opens {lengths.full(opened.clear_width)}"


def _hinges(found: OpenWidth | None, lengths: Lengths) -> str:
    """Return the hinges that the wanted swing needs past this trim."""
    if found is None:
        return ""
    least, stock = lengths.full(found.least), lengths.full(found.stock)
    words = f"{angle_text(found.wanted)} past this trim takes hinges {least} wide"
    closes = "" if found.swings else "; with those alone it would still not swing"
    return f"{words}, {stock} as they are sold{closes}"


def edge_text(edge: RoundEdge, lengths: Lengths) -> str:
    """Return what an edge of a slab that swings both ways sweeps, and which radii would clear."""
    shape = "square" if edge.radius == inf else f"round to {lengths.full(edge.radius)}"
    words = f"{edge.edge} {shape}, {lengths.full(edge.along)} from the pin:"
    if edge.run_out > NOTHING:
        words += f" reaches {lengths.full(edge.run_out)} past where it closes,"
    else:
        words += " reaches no farther than it closes, either way,"
    left = lengths.full(abs(edge.left))
    words += f" and leaves {left}" if edge.left >= 0 else f" {left} too far"
    if edge.least is None or edge.greatest is None:
        return f"{words}; no radius clears"
    least = lengths.full(edge.least)
    if edge.greatest == inf:
        return f"{words}; any radius from {least} up clears, and so would a square edge"
    return f"{words}; {least} to {lengths.full(edge.greatest)} of radius clears"
