"""The bevels that work, and the trainer's table of margins, as a card."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, tan

from swingcheck.advice.bevel import LeastBevel, MarginTable
from swingcheck.advice.setback import Setting
from swingcheck.model import Scene
from swingcheck.report.card import Card, Entry, Table
from swingcheck.report.window_words import beyond_texts, miss_text, wanted_text
from swingcheck.report.words import Lengths
from swingcheck.units import MM_PER_INCH, angle_text, fraction_text, rounded_up


def bevel_card(
    scene: Scene,
    edges: Sequence[LeastBevel],
    tables: Sequence[MarginTable],
    unit: str | None = None,
) -> Card:
    """Return the least bevel of each edge, and the least strike margin against bevel."""
    lengths = Lengths(unit=unit or scene.unit)
    works = bool(edges) and all(edge.least is not None for edge in edges)
    return Card(
        title=scene.title,
        verdict="works" if works else "nothing works",
        finding=_finding(edges),
        items=(
            *(_edge_entry(scene, edge, lengths) for edge in edges),
            Entry(label="Wanted", texts=(wanted_text(scene, lengths),)),
            *(item for table in tables for item in _margin_items(table, lengths)),
        ),
    )


def _finding(edges: Sequence[LeastBevel]) -> str:
    if not edges:
        return "BOTH EDGES ARE ROUND"
    return "; ".join(f"{edge.edge} edge {_least_text(edge)}" for edge in edges).upper()


def _least_text(edge: LeastBevel) -> str:
    if edge.least is None or edge.setting is None:
        return "no bevel works"
    return "may be square" if edge.least == 0 else f"at least {angle_text(edge.setting.value)}"


def _edge_entry(scene: Scene, edge: LeastBevel, lengths: Lengths) -> Entry:
    window = edge.window
    now = lengths.of(window.measurement, window.now)
    texts = [f"{edge.edge} edge: now {now}, which {'works' if window.works_now else 'does not'}"]
    if edge.setting is not None and edge.least:
        texts[0] += f"; at least {_rise(edge.setting, scene, lengths)}"
    for interval in window.works:
        texts += beyond_texts(window, interval, scene, lengths)
    if window.miss is not None:
        at = lengths.of(window.measurement, window.miss.value)
        texts.append(f"nearest at {at}: {miss_text(window.miss, scene, lengths)}")
    return Entry(label="Bevel", texts=tuple(texts))


def _rise(setting: Setting, scene: Scene, lengths: Lengths) -> str:
    """Return a bevel in degrees, and what it takes off across the slab's thickness."""
    off = scene.slab.thickness * tan(setting.value)
    across = lengths.full(scene.slab.thickness)
    return f"{angle_text(setting.value)}: {lengths.full(off)} across {across}"


def _margin_items(table: MarginTable, lengths: Lengths) -> tuple[Entry | Table, ...]:
    """Return one thickness: what it is for, and the margins rounded up to a mark."""
    thick, proud = lengths.full(table.thickness), lengths.full(table.proud)
    words = (
        f"the least at the strike that a slab {thick} thick swings past with, by its width and"
        f" its bevel there; the opening true, the pin {proud} proud"
    )
    rows = tuple(
        (lengths.bare(row.width), tuple(_margin(margin, lengths) for margin in row.margins))
        for row in table.rows
    )
    columns = tuple(angle_text(each) if each else "square" for each in table.bevels)
    return (
        Entry(label="Margin", texts=(words,)),
        Table(label=f"  Width, {lengths.unit}", columns=columns, rows=rows),
    )


def _margin(margin: float, lengths: Lengths) -> str:
    if lengths.unit == "mm":
        return f"{ceil(margin * MM_PER_INCH * 10 - 1e-6) / 10:.1f}"
    return fraction_text(rounded_up(margin, 1 / 64))
