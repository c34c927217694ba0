"""What a check says, in order, before anything decides how it looks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import compress
from math import degrees, inf, pi
from typing import TYPE_CHECKING

from swingcheck.advice.answer import Answer
from swingcheck.assembly import FITTED, PartKind
from swingcheck.bench.cautions import cautions
from swingcheck.bench.weight import KILOGRAMS, slab_weight, weight_basis
from swingcheck.model import Scene
from swingcheck.report.fit_words import cures_text, fit_texts
from swingcheck.report.headline import finding, other_label, other_text
from swingcheck.report.words import SIDES, STATIONS, Lengths, assumed_text, place_in_swing, turned
from swingcheck.swing.found import Code, CurvePoint, Found, Margins, RoundEdge, Touch
from swingcheck.units import angle_text, grouped
from swingcheck.units.words import listed, the

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
    if opening is None:
        return f"to {angle_text(limit)}, nothing in the way"
    angle = angle_text(abs(opening.angle))
    if opening.by_kind in FITTED:
        return f"to {angle}, where {the(opening.by)} meets {the(opening.against)}"
    return f"to {angle}, stopped by {the(opening.against)}"


def _clear(result: Found, lengths: Lengths) -> str:
    opened, square = result.opened, result.clear_width
    between = result.scene.site.access.definition
    if square is None:
        if opened is None:
            return "no clear width at 90 deg"
        return f"clear width there, {between}, {lengths.full(opened.clear_width)}"
    words = f"clear width at 90 deg, {between}, {lengths.full(square)}"
    beyond = result.opening is not None and result.opening.angle > pi / 2 + 1e-9
    if opened is None or not beyond or abs(opened.clear_width - square) < SAME:
        return words
    return f"{words}, as far as it opens {lengths.full(opened.clear_width)}"


def _hinges(found: OpenWidth | None, lengths: Lengths) -> str:
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


NEAR_IN = 1 / 4
"""Parts nearer than this along the swing are named; the data name them all."""

MOST_PARTS = 8

CURVE_LINES = 24
"""A curve with more points than this is thinned for reading; the data keep them all."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing said: a label, and paragraphs of text."""

    label: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Measurements side by side: ``rows`` hold a name and one cell for each column."""

    label: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Card:
    """Everything that is said about one scene, most wanted first."""

    title: str
    finding: str
    items: tuple[Entry | Table, ...]


def card_of(title: str, finding: str, *items: Entry | Table) -> Card:
    """Return a card of those of its entries and tables that say something."""
    said = (any(item.texts) if isinstance(item, Entry) else item.rows for item in items)
    return Card(title, finding, tuple(compress(items, said)))


def card(answer: Answer, unit: str | None = None) -> Card:
    """Return what a check says, lengths in ``unit``, in the scene's own where it is ``None``."""
    result = answer.found
    lengths, weight = Lengths(unit=unit or result.scene.unit), slab_weight(result.scene)
    return card_of(
        result.scene.title,
        finding(result, lengths),
        Entry("Fit", fit_texts(result, lengths)),
        Entry("Why", (_why(result, lengths),)),
        Entry("Cure", cures_text(answer, lengths)),
        _upright_margins(result, lengths),
        level_margins(result.margins, lengths),
        Entry("Opens", opens(answer, lengths)),
        *(Entry(other_label(other), (other_text(other, lengths),)) for other in result.others),
        Entry("Nearest", (_clearances(result, lengths),)),
        Entry("Pins", (_pins(result, lengths),)),
        Entry("Edges", tuple(edge_text(edge, lengths) for edge in result.edges)),
        Entry("Weight", (_weight(result.scene, weight, lengths.unit),)),
        Entry("Assumed", (assumed_text(result.scene.assumed),)),
        Entry("Caution", cautions(result.scene, weight)),
        _curve(result, lengths),
    )


def _why(result: Found, lengths: Lengths) -> str:
    if result.decided.way is None:
        return ""
    from swingcheck.report.causes import why

    return why(result, lengths)


def _upright_margins(result: Found, lengths: Lengths) -> Table:
    margins, of = result.margins, "lip" if result.scene.slab.lip else "flush"
    rows = {
        "hinge": margins.hinge,
        "strike": margins.strike,
        "hinge stop": margins.hinge_stop,
        "strike stop": margins.strike_stop,
    }
    told = ((name, values) for name, values in rows.items() if values is not None)
    table = sizes("Margin", STATIONS, told, lengths)
    edges = {"hinge": margins.flush, "strike": margins.flush_strike}
    says = lengths.flush if of == "flush" else lengths.bare
    faces = ((f"{of}, {edge}", tuple(map(says, values))) for edge, values in edges.items())
    return replace(table, rows=(*table.rows, *faces))


def level_margins(margins: Margins, lengths: Lengths) -> Table:
    """Return the margins over and under the closed slab, in a table without a label."""
    rows = {"head": margins.head, "bottom": margins.bottom}
    return sizes("", SIDES, rows.items(), lengths)


def sizes(
    label: str,
    columns: tuple[str, ...],
    rows: Iterable[tuple[str, Iterable[float]]],
    lengths: Lengths,
) -> Table:
    """Return lengths side by side, their unit told once behind the label, where there is one."""
    cells = tuple((name, lengths.cells(values)) for name, values in rows)
    return Table(f"{label}, {lengths.unit}" if label else "", columns, cells)


def _clearances(result: Found, lengths: Lengths) -> str:
    """Return the nearest parts with their least distance, those alike together."""
    touched = () if result.closing is None else (result.closing.against, *result.closing.also)
    found = [part for part in result.clearances if part.against not in touched]
    found.sort(key=lambda part: part.least)
    leaves = [part for part in found if part.against_kind is PartKind.JAMB_LEAF]
    found = [part for part in found if part not in leaves[1:]]
    near = [part for part in found if part.least <= NEAR_IN][:MOST_PARTS] or found[:1]
    alike = grouped(
        (f"{lengths.full(part.least)} {place_in_swing(part.angle)}", part.against) for part in near
    )
    return "; ".join(f"{listed(names)} {where}" for where, names in alike.items())


def _pins(result: Found, lengths: Lengths) -> str:
    axis, limit = result.axis, lengths.full(result.scene.shop.pin_tolerance)
    side = "proud of" if axis.proud >= 0 else "inside"
    told = any(each.code is Code.PINS for each in result.fit.reasons)
    line = "not on one line, see the fit" if told else f"all within {limit} of one line"
    return f"{lengths.full(abs(axis.proud))} {side} the wide face; {line}"


def _weight(scene: Scene, weight: float | None, unit: str) -> str:
    metric = f" ({weight * KILOGRAMS:.0f} kg)" if weight is not None and unit == "mm" else ""
    about = "" if weight is None else f"about {weight:.0f} lb{metric}: "
    return f"{about}{weight_basis(scene)}"


def _curve(result: Found, lengths: Lengths) -> Table:
    points = thinned(result.curve)
    rows = tuple(
        (f"{degrees(point.angle):.2f}", (lengths.bare(point.distance), point.against))
        for point in points
    )
    kept = f", {len(points)} of {len(result.curve)}" if len(points) < len(result.curve) else ""
    return Table(f"At deg{kept}", ("clearance", "nearest"), rows)


def thinned(curve: tuple[CurvePoint, ...], most: int = CURVE_LINES) -> tuple[CurvePoint, ...]:
    """Return the points that are shown: every so many, the last, and where it is nearest."""
    if len(curve) <= most:
        return curve
    every = -(-len(curve) // (most - 2))
    least = min(range(len(curve)), key=lambda k: curve[k].distance)
    shown = {*range(0, len(curve), every), len(curve) - 1, least}
    return tuple(curve[k] for k in sorted(shown))
