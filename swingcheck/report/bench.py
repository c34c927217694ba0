"""What the bench is told of one door, in cutting order, before anything decides how it looks."""

from __future__ import annotations

from collections.abc import Iterator
from math import tan
from typing import Any

from swingcheck.advice.answer import Answer
from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.hinges import Hanging
from swingcheck.bench.layout import HingeMarks, Layout, LeafMark
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import Block, SetUp
from swingcheck.bench.ripping import EdgeCut, Ripping
from swingcheck.bench.weight import KILOGRAMS
from swingcheck.job.house import Door
from swingcheck.model import Slab, Stations
from swingcheck.report.bench_words import hinge_rules, lock_warning, refusal, season_words, warning
from swingcheck.report.card import Card, Entry, Table, card_of, level_margins, sizes
from swingcheck.report.fit_words import cures_text, fit_texts
from swingcheck.report.headline import finding
from swingcheck.report.shapes import SHAPES, data_of
from swingcheck.report.words import SIDES, STATIONS, Lengths, assumed_text
from swingcheck.swing.found import FitWord
from swingcheck.units import angle_text, fraction_text, grouped, lengths_text
from swingcheck.units.plain import shaped
from swingcheck.units.words import listed

Items = list[Entry | Table]
Rows = list[tuple[str, tuple[float, ...]]]


def bench_card(
    numbers: BenchNumbers, unit: str | None = None, answer: Answer | None = None
) -> Card:
    """Return what the bench is told, lengths in ``unit``, the scene's own for ``None``.

    ``answer`` is of the slab as it is cut: where it should not be hung so, that
    comes before every number.
    """
    lengths = Lengths(unit=unit or numbers.scene.unit)
    cuts = numbers.cuts
    size = _finding(cuts, lengths)
    held = answer is not None and answer.found.fit.word is not FitWord.GOOD
    return card_of(
        numbers.scene.title,
        f"DO NOT CUT YET - {finding(answer.found, lengths)}" if answer and held else size,
        *_fit_items(answer, lengths),
        Entry("Size", (size,) if held else ()),
        Entry("Warning", warnings(numbers, lengths)),
        Entry("Check", (_to_check(numbers),)),
        *_cut_items(cuts, lengths),
        *_leaf_items(numbers, lengths),
        *_router_items(numbers.mortises.set_ups, lengths),
        *(item for bolt in numbers.bolts for item in _lock_items(bolt, lengths)),
        Entry("Weight", _weight(numbers.hanging, lengths)),
        Entry("Hinges", hinge_rules(numbers, lengths)),
        Entry("Season", season_words(numbers.season, lengths)),
        Entry("Assumed", (assumed_text(numbers.bench_assumed),)),
        Entry("Caution", numbers.cautions),
    )


def _fit_items(answer: Answer | None, lengths: Lengths) -> Items:
    if answer is None:
        return []
    fit, cures = fit_texts(answer.found, lengths), cures_text(answer, lengths)
    return [Entry("Fit", fit), Entry("Cure", cures)]


def door_numbers(door: Door, unit: str | None = None) -> Card:
    """Return what the bench is told of one door, and first whether it should be hung so."""
    return bench_card(door.bench, unit, door.answer)


def bench_data(door: Door) -> dict[str, Any]:
    """Return one door's bench numbers, and whether it should be hung so."""
    return {**data_of(door.bench), **shaped(door.check, ("verdict fit",), SHAPES)}


def _finding(cuts: Ripping, lengths: Lengths) -> str:
    wide = _size(cuts.finished.width, ("top", "bottom"), lengths)
    size = f"{wide} x {_size(cuts.finished.height, ('hinge edge', 'strike edge'), lengths)}"
    if cuts.is_short:
        return f"what was delivered is too small; the most it gives is {size}"
    return f"cut to {size}, measured on the wide face"


def _size(values: Stations, ends: tuple[str, str], lengths: Lengths) -> str:
    if len(values) == 2 and values[0] != values[1]:
        return " and ".join(
            f"{lengths.full(value)} at the {end}" for value, end in zip(values, ends, strict=True)
        )
    return lengths_text(values, lengths.unit)


def _to_check(numbers: BenchNumbers) -> str:
    if not numbers.settings:
        return ""
    options = " ".join(f"--set {key}='{value}'" for key, value in numbers.settings)
    return f"the scene tells another slab; swing this one with {options}"


def warnings(numbers: BenchNumbers, lengths: Lengths) -> tuple[str, ...]:
    """Return what the bench is warned of."""
    found = [warning(warned, lengths) for warned in numbers.cuts.warned]
    refused = dict.fromkeys(
        refusal(reason, set_up, lengths)
        for set_up in numbers.mortises.set_ups
        for reason in set_up.refused
    )
    found += refused
    count, asked = numbers.scene.hinge.count, numbers.hanging.rules.count
    if count < asked:
        found.append(f"{count} hinges, and NFPA 80's rule asks for {asked}.")
    found += [
        lock_warning(concern, bolt, lengths) for bolt in numbers.bolts for concern in bolt.concerns
    ]
    return tuple(found)


def _cut_items(cuts: Ripping, lengths: Lengths) -> Items:
    edges = [cut for cut in cuts.edges if cut.is_needed]
    ends = [cut for cut in cuts.ends if cut.is_needed]
    rips = [row for k, cut in enumerate(edges, 1) for row in _edge_rows(k, cut, lengths)]
    trims = [
        row
        for k, cut in enumerate(ends, len(edges) + 1)
        for row in ((f"{k} {cut.end} off", cut.off), ("  then high", cut.left))
    ]
    delivered = f"{lengths.full(cuts.delivered.width)} x {lengths.full(cuts.delivered.height)}"
    sawn = (*(_saw(cut, lengths) for cut in edges), *_head_saw(cuts.finished, lengths))
    upright = {"hinge": cuts.margins.hinge, "strike": cuts.margins.strike}
    return [
        Entry("From", (f"{delivered} as delivered, wide face up",)),
        sizes("Rip", ("off", "wide face", "narrow face"), rips, lengths),
        Entry("Saw", sawn),
        sizes("Trim", SIDES, trims, lengths),
        sizes("Margin", STATIONS, upright.items(), lengths),
        level_margins(cuts.margins, lengths),
    ]


def _edge_rows(number: int, cut: EdgeCut, lengths: Lengths) -> Rows:
    name = f"{number} {cut.edge.removesuffix(' edge')}"
    marks = cut.marks if cut.is_tapered else cut.marks[:1]
    places = [""] if len(marks) == 1 else [f", {_place(mark.down, cut, lengths)}" for mark in marks]
    return [
        (f"{name}{place}", (mark.off, mark.left, mark.narrow))
        for place, mark in zip(places, marks, strict=True)
    ]


def _place(down: float, cut: EdgeCut, lengths: Lengths) -> str:
    if len(cut.marks) > 2:
        return f"{lengths.bare(down)} down"
    return "top" if down == cut.marks[0].down else "bottom"


def _saw(cut: EdgeCut, lengths: Lengths) -> str:
    if cut.at_crown:
        return f"{cut.edge}: rip square to the width at the crown, then round it"
    return f"{cut.edge}: {_tilt_and_drop(cut.tilt, cut.drop, lengths)}"


def _head_saw(slab: Slab, lengths: Lengths) -> tuple[str, ...]:
    lean = slab.head_edge.bevel
    return (f"top: {_tilt_and_drop(lean, slab.thickness * tan(lean), lengths)}",) if lean else ()


def _tilt_and_drop(tilt: float, drop: float, lengths: Lengths) -> str:
    across = f"; {lengths.full(abs(drop))} across the thickness" if tilt else ""
    return f"{tilt_text(tilt)}{across}"


def tilt_text(tilt: float) -> str:
    """Return how the saw is set for an edge that leans so, radians."""
    if not tilt:
        return "square"
    way = "in under" if tilt > 0 else "out from under"
    return f"tilt {angle_text(abs(tilt))}, {way} the wide face"


def _leaf_items(numbers: BenchNumbers, lengths: Lengths) -> Items:
    hinges = numbers.leaves.hinges
    ends = [
        (_short(each), (each.jamb.top, each.jamb.bottom, each.slab.top, each.slab.bottom))
        for each in hinges
    ]
    holes = ("from arris", *map(_short, hinges))
    return [
        sizes("Leaves", ("head to top", "to bottom", "slab to top", "to bottom"), ends, lengths),
        Table(
            f"Let in, {lengths.unit}",
            ("setback", "depth", "arris to line"),
            tuple(_let_in_rows(hinges, lengths)),
        ),
        sizes("Holes", holes, _hole_rows(hinges), lengths),
        Entry("Screws", (_screws(numbers.leaves, lengths),)),
    ]


def _short(hinge: HingeMarks) -> str:
    return hinge.name.removeprefix("the ").removesuffix(" hinge")


def _let_in_rows(
    hinges: tuple[HingeMarks, ...], lengths: Lengths
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield setback, depth and run of the leaves on each side, those alike as one."""
    for side in ("slab", "jamb"):
        leaves: list[tuple[HingeMarks, LeafMark]] = [(each, getattr(each, side)) for each in hinges]
        alike = grouped(
            (lengths.cells((leaf.setback, leaf.depth, leaf.run)), _short(hinge))
            for hinge, leaf in leaves
        )
        for cells, names in alike.items():
            yield side if len(alike) == 1 else f"{side}, {listed(names)}", cells


def _hole_rows(hinges: tuple[HingeMarks, ...]) -> Rows:
    """Return the screw centres down the slab and down the jamb, hole by hole."""
    return [
        (f"{side} {k + 1}", (holes[0].from_arris, *(hole.down for hole in holes)))
        for side in ("slab", "jamb")
        for k, holes in enumerate(zip(*(getattr(each, side).holes for each in hinges), strict=True))
    ]


def _screws(leaves: Layout, lengths: Lengths) -> str:
    screw = leaves.screw
    return (
        f"No. {screw.number} x {lengths.full(screw.length)}; pilot {drill(leaves.pilot, lengths)}"
        f" for {leaves.wood}, a little toward the back of the hole. Holes as leaves usually"
        " have them: check one over the marks."
    )


def drill(diameter: float, lengths: Lengths) -> str:
    """Return a drill's size: a fraction of an inch, or millimetres."""
    return lengths.full(diameter) if lengths.unit == "mm" else f"{fraction_text(diameter)} in"


def _router_items(set_ups: tuple[SetUp, ...], lengths: Lengths) -> Items:
    if any(set_up.refused for set_up in set_ups):
        return []
    first, full, tools = set_ups[0], lengths.full, set_ups[0].tools
    words = f"{full(tools.bit)} bit in a {full(tools.bushing)} bushing cuts {full(tools.offset)}"
    corner = f"{full(tools.template_corner)} inside" if tools.template_corner else "square"
    words += f" inside the template; template with {corner} corners."
    if first.is_squared_by_chisel:
        words += " Square the mortise's corners by chisel."
    if first.corner_gap > 0.001:
        words += f" The leaf's corners stand {full(first.corner_gap)} off."
    rows = [_template_row(set_up, by_hinge=len(set_ups) > 2) for set_up in set_ups]
    return [
        Entry("Router", (words, *_jig(set_ups, lengths))),
        sizes("Template", ("long", "arris to back", "past line", "deep"), rows, lengths),
        Entry("Spacer", tuple(_spacers(set_ups, lengths))),
    ]


def _template_row(set_up: SetUp, *, by_hinge: bool) -> tuple[str, tuple[float, ...]]:
    hinges = f" {listed([str(k + 1) for k in set_up.hinges])}" if by_hinge else ""
    opening = set_up.opening
    cells = (opening.length, opening.run, set_up.tools.offset, set_up.depth)
    return f"{set_up.side}{hinges}", cells


def _spacers(set_ups: tuple[SetUp, ...], lengths: Lengths) -> list[str]:
    def size(block: Block) -> str:
        return f"{lengths.full(block.length)} x {lengths.full(block.run)}"

    alike = grouped(
        (f"lines {size(each.leaf)}, template {size(each.opening)}", each.side) for each in set_ups
    )
    return [f"{listed(list(dict.fromkeys(sides)))}: {words}" for words, sides in alike.items()]


def _jig(set_ups: tuple[SetUp, ...], lengths: Lengths) -> list[str]:
    found = []
    for set_up in set_ups:
        off = set_up.jig_off
        if off is not None and abs(off) > 0.0005:
            way = "farther from" if off > 0 else "nearer to"
            found.append(
                f"The jig is set for {lengths.full(set_up.setback - off)}: move it"
                f" {lengths.full(abs(off))} {way} the stop side for the {set_up.side}."
            )
    return list(dict.fromkeys(found))


def _lock_items(bolt: BoltMarks, lengths: Lengths) -> Items:
    lock, backset, place, full = bolt.lock, bolt.backset, bolt.strike, lengths.full
    bores = (
        f"{full(lock.bore)} bore, centre {full(bolt.from_top)} down the strike edge"
        f" ({full(bolt.from_bottom)} up from the bottom); backset {full(backset.middle)} at"
        f" mid-thickness: {full(backset.wide)} from the wide face's arris,"
        f" {full(backset.narrow)} from the narrow face's"
    )
    edge = f"{full(lock.edge_bore)} edge bore, centre {full(bolt.edge_centre)} from the wide face"
    face = ""
    if lock.face_depth > 0:
        face = (
            f"face {full(lock.face_length)} x {full(lock.face_width)} x {full(lock.face_depth)}"
            f" deep, from {full(bolt.face_top)} to {full(bolt.face_bottom)} down,"
            f" {full(bolt.face_near)} to {full(bolt.face_far)} from the wide face"
        )
    strike = (
        f"centre {full(place.down)} below the head ({full(place.up)} over the floor),"
        f" {full(place.from_stop)} from the stop's face, {full(place.from_edge)} from the leg's"
        f" edge; gap {full(place.gap)}, throw {full(lock.throw)}, so it holds"
        f" {full(max(place.hold, 0.0))}; lip at least {full(place.lip)}"
    )
    return [
        Entry(bolt.name.capitalize(), (bores, edge, face)),
        Entry("Strike", (strike,)),
    ]


def _weight(held: Hanging, lengths: Lengths) -> tuple[str, ...]:
    across, _, up = held.balance
    balance = (
        f"balances {lengths.rough(across)} from the hinge edge, {lengths.rough(up)} up"
        " from the bottom"
    )
    weighs, loads = f"{pounds(held.weight, lengths)}; {balance}", held.loads
    if loads is None:
        return (weighs,)
    return (
        weighs,
        f"top hinge pulls {pounds(loads.pull[0], lengths)} from the leg, bottom hinge pushes"
        f" {pounds(-loads.pull[-1], lengths)} into it; each carries"
        f" {pounds(loads.upright, lengths)}, or all of it where one is let in high",
    )


def pounds(value: float | None, lengths: Lengths) -> str:
    """Return a weight in pounds, in kilograms where lengths are millimetres."""
    if value is None:
        return "not known"
    return f"{value * KILOGRAMS:.0f} kg" if lengths.unit == "mm" else f"{value:.0f} lb"
