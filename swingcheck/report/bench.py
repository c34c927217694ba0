"""What the bench is told of one door, in cutting order, before anything decides how it looks."""

from __future__ import annotations

from math import tan

from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.hinges import KILOGRAMS, Hanging
from swingcheck.bench.layout import HingeMarks, Layout, LeafMark
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import SetUp
from swingcheck.bench.ripping import EdgeCut, EndCut, Ripping
from swingcheck.model import Slab, Stations
from swingcheck.report.bench_words import (
    hinge_rules,
    lock_warning,
    refusal,
    season_words,
    warning,
)
from swingcheck.report.card import Card, Entry, Table, saying
from swingcheck.report.words import SIDES, STATIONS, Lengths, assumed_text, listed
from swingcheck.units import angle_text, fraction_text, lengths_text

Items = list[Entry | Table]
Rows = list[tuple[str, tuple[str, ...]]]


def bench_card(numbers: BenchNumbers, unit: str | None = None) -> Card:
    """Return what the bench is told of a door.

    Parameters
    ----------
    numbers : BenchNumbers
        What was worked out.
    unit : {"in", "mm"} or None
        What lengths are written in; ``None`` for the scene's own.
    """
    lengths = Lengths(unit=unit or numbers.scene.unit)
    cuts = numbers.cuts
    items: Items = [
        Entry(label="Warning", texts=_warnings(numbers, lengths)),
        Entry(label="Check", texts=(_to_check(numbers),)),
        *_cut_items(cuts, lengths),
        *_leaf_items(numbers, lengths),
        *_router_items(numbers.mortises.set_ups, lengths),
        *(item for bolt in numbers.bolts for item in _lock_items(bolt, lengths)),
        Entry(label="Weight", texts=_weight(numbers.hanging, lengths)),
        Entry(label="Hinges", texts=hinge_rules(numbers, lengths)),
        Entry(label="Season", texts=season_words(numbers.season, lengths)),
        Entry(label="Assumed", texts=(assumed_text(numbers.bench_assumed),)),
        Entry(label="Caution", texts=numbers.cautions),
    ]
    return Card(
        title=numbers.scene.title,
        verdict="can be done" if numbers.can_be_done else "cannot be done",
        finding=_finding(cuts, lengths),
        items=saying(items),
    )


def _finding(cuts: Ripping, lengths: Lengths) -> str:
    slab = cuts.finished
    size = f"{_size(slab.width, ('top', 'bottom'), lengths)} x"
    size += f" {_size(slab.height, ('hinge edge', 'strike edge'), lengths)}"
    if cuts.is_short:
        return f"what was delivered is too small; the most it gives is {size}"
    return f"cut to {size}, measured on the wide face"


def _size(values: Stations, ends: tuple[str, str], lengths: Lengths) -> str:
    """Return a size that may differ at its two ends, or be told at more places."""
    if len(values) == 2 and values[0] != values[1]:
        return " and ".join(
            f"{lengths.full(value)} at the {end}" for value, end in zip(values, ends, strict=True)
        )
    return lengths_text(values, lengths.unit)


def _to_check(numbers: BenchNumbers) -> str:
    """Return how to check the finished slab, where it is not the one that the scene tells."""
    if not numbers.settings:
        return ""
    options = " ".join(f"--set {key}='{value}'" for key, value in numbers.settings)
    return f"the scene tells another slab; swing this one with {options}"


def _warnings(numbers: BenchNumbers, lengths: Lengths) -> tuple[str, ...]:
    found = [warning(warned, lengths) for warned in numbers.cuts.warned]
    refused = dict.fromkeys(
        refusal(reason, set_up, lengths)
        for set_up in numbers.mortises.set_ups
        for reason in set_up.refused
    )
    found += [*refused, *_pin_warnings(numbers, lengths)]
    count, asked = numbers.scene.hinge.count, numbers.hanging.rules.count
    if count < asked:
        found.append(f"{count} hinges, and NFPA 80's rule asks for {asked}.")
    found += [
        lock_warning(concern, bolt, lengths) for bolt in numbers.bolts for concern in bolt.concerns
    ]
    return tuple(found)


def _pin_warnings(numbers: BenchNumbers, lengths: Lengths) -> list[str]:
    tolerance = numbers.scene.shop.pin_tolerance
    found = []
    for hinge in numbers.leaves.hinges:
        way = "low" if hinge.too_low > 0 else "high"
        off = (
            (abs(hinge.too_low), f"its slab leaf as told is {{}} too {way}"),
            (hinge.apart, "its leaves' pins are {} apart"),
            (hinge.off_line, "it is {} off the pin line"),
        )
        words = [text.format(lengths.fine(by)) for by, text in off if by > tolerance]
        if words:
            found.append(f"Pins of {hinge.name} do not line up: {listed(words)}.")
    return found


def _cut_items(cuts: Ripping, lengths: Lengths) -> Items:
    unit = lengths.unit
    edges = [cut for cut in cuts.edges if cut.is_needed]
    ends = [cut for cut in cuts.ends if cut.is_needed]
    rips = [row for k, cut in enumerate(edges, 1) for row in _edge_rows(k, cut, lengths)]
    trims = [
        row for k, cut in enumerate(ends, len(edges) + 1) for row in _end_rows(k, cut, lengths)
    ]
    delivered = f"{lengths.full(cuts.delivered.width)} x {lengths.full(cuts.delivered.height)}"
    margins = (
        ("hinge", lengths.cells(cuts.margins.hinge)),
        ("strike", lengths.cells(cuts.margins.strike)),
    )
    level = (
        ("head", lengths.cells(cuts.margins.head)),
        ("bottom", lengths.cells(cuts.margins.bottom)),
    )
    return [
        Entry(label="From", texts=(f"{delivered} as delivered, wide face up",)),
        Table(label=f"Rip, {unit}", columns=("off", "wide face", "narrow face"), rows=tuple(rips)),
        Entry(
            label="Saw",
            texts=(*(_saw(cut, lengths) for cut in edges), *_head_saw(cuts.finished, lengths)),
        ),
        Table(label=f"Trim, {unit}", columns=SIDES, rows=tuple(trims)),
        Table(label=f"Margin, {unit}", columns=STATIONS, rows=margins),
        Table(label="", columns=SIDES, rows=level),
    ]


def _edge_rows(number: int, cut: EdgeCut, lengths: Lengths) -> Rows:
    name = f"{number} {cut.edge.removesuffix(' edge')}"
    marks = cut.marks if cut.is_tapered else cut.marks[:1]
    places = [""] if len(marks) == 1 else [f", {_place(mark.down, cut, lengths)}" for mark in marks]
    return [
        (f"{name}{place}", lengths.cells((mark.off, mark.left, mark.narrow)))
        for place, mark in zip(places, marks, strict=True)
    ]


def _place(down: float, cut: EdgeCut, lengths: Lengths) -> str:
    if len(cut.marks) > 2:
        return f"{lengths.bare(down)} down"
    return "top" if down == cut.marks[0].down else "bottom"


def _end_rows(number: int, cut: EndCut, lengths: Lengths) -> Rows:
    return [
        (f"{number} {cut.end} off", lengths.cells(cut.off)),
        ("  then high", lengths.cells(cut.left)),
    ]


def _saw(cut: EdgeCut, lengths: Lengths) -> str:
    if cut.at_crown:
        return f"{cut.edge}: rip square to the width at the crown, then round it"
    return f"{cut.edge}: {_tilt_and_drop(cut.tilt, cut.drop, lengths)}"


def _head_saw(slab: Slab, lengths: Lengths) -> tuple[str, ...]:
    """Return how the saw is set for a bevelled top; nothing for a square one."""
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
    leaves, unit = numbers.leaves, lengths.unit
    hinges = leaves.hinges
    marks = tuple(
        (
            _short(hinge),
            lengths.cells((hinge.jamb.top, hinge.jamb.bottom, hinge.slab.top, hinge.slab.bottom)),
        )
        for hinge in hinges
    )
    columns = ("head to top", "to bottom", "slab to top", "to bottom")
    return [
        Table(label=f"Leaves, {unit}", columns=columns, rows=marks),
        Table(
            label=f"Let in, {unit}",
            columns=("setback", "depth", "arris to line"),
            rows=tuple(_let_in_rows(hinges, lengths)),
        ),
        Table(
            label=f"Holes, {unit}",
            columns=("from arris", *(_short(hinge) for hinge in hinges)),
            rows=tuple(_hole_rows(hinges, lengths)),
        ),
        Entry(label="Screws", texts=(_screws(leaves, lengths),)),
    ]


def _short(hinge: HingeMarks) -> str:
    """Return a hinge's name without its article and without what every one is called."""
    return hinge.name.removeprefix("the ").removesuffix(" hinge")


def _let_in_rows(hinges: tuple[HingeMarks, ...], lengths: Lengths) -> Rows:
    """Return setback, depth and run of the leaves on each side, those alike as one."""
    rows = []
    for side in ("slab", "jamb"):
        alike: dict[tuple[str, ...], list[str]] = {}
        for hinge in hinges:
            leaf: LeafMark = getattr(hinge, side)
            cells = lengths.cells((leaf.setback, leaf.depth, leaf.run))
            alike.setdefault(cells, []).append(_short(hinge))
        rows += [
            (side if len(alike) == 1 else f"{side}, {listed(names)}", cells)
            for cells, names in alike.items()
        ]
    return rows


def _hole_rows(hinges: tuple[HingeMarks, ...], lengths: Lengths) -> Rows:
    """Return the screw centres down the slab and down the jamb, hole by hole."""
    rows = []
    for side in ("slab", "jamb"):
        leaves: list[LeafMark] = [getattr(hinge, side) for hinge in hinges]
        for k, hole in enumerate(leaves[0].holes):
            downs = [leaf.holes[k].down for leaf in leaves]
            cells = lengths.cells((hole.from_arris, *downs))
            rows.append((f"{side} {k + 1}", cells))
    return rows


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
    tools = set_ups[0].tools
    words = (
        f"{lengths.full(tools.bit)} bit in a {lengths.full(tools.bushing)} bushing cuts"
        f" {lengths.full(tools.offset)} inside the template"
    )
    corner = f"{lengths.full(tools.template_corner)} inside corners"
    words += f"; template with {corner if tools.template_corner else 'square corners'}."
    if set_ups[0].is_squared_by_chisel:
        words += " Square the mortise's corners by chisel."
    if set_ups[0].corner_gap > 0.001:
        words += f" The leaf's corners stand {lengths.full(set_ups[0].corner_gap)} off."
    rows = tuple(_template_row(set_up, len(set_ups) > 2, lengths) for set_up in set_ups)
    columns = ("long", "arris to back", "past line", "deep")
    return [
        Entry(label="Router", texts=(words, *_jig(set_ups, lengths))),
        Table(label=f"Template, {lengths.unit}", columns=columns, rows=rows),
        Entry(label="Spacer", texts=tuple(_spacers(set_ups, lengths))),
    ]


def _template_row(set_up: SetUp, by_hinge: bool, lengths: Lengths) -> tuple[str, tuple[str, ...]]:
    name = set_up.side
    if by_hinge:
        name += " " + listed([str(k + 1) for k in set_up.hinges])
    opening = set_up.opening
    cells = (opening.length, opening.run, set_up.tools.offset, set_up.depth)
    return name, lengths.cells(cells)


def _spacers(set_ups: tuple[SetUp, ...], lengths: Lengths) -> list[str]:
    alike: dict[str, list[str]] = {}
    for set_up in set_ups:
        leaf, opening = set_up.leaf, set_up.opening
        words = (
            f"lines {lengths.full(leaf.length)} x {lengths.full(leaf.run)},"
            f" template {lengths.full(opening.length)} x {lengths.full(opening.run)}"
        )
        alike.setdefault(words, []).append(set_up.side)
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
    backset, place = bolt.backset, bolt.strike
    full = lengths.full
    bores = (
        f"{full(bolt.bore)} bore, centre {full(bolt.from_top)} down the strike edge"
        f" ({full(bolt.from_bottom)} up from the bottom); backset {full(backset.middle)} at"
        f" mid-thickness: {full(backset.wide)} from the wide face's arris,"
        f" {full(backset.narrow)} from the narrow face's"
    )
    edge = f"{full(bolt.edge_bore)} edge bore, centre {full(bolt.edge_centre)} from the wide face"
    length, width, depth = bolt.face
    face = ""
    if depth > 0:
        face = (
            f"face {full(length)} x {full(width)} x {full(depth)} deep, from {full(bolt.face_top)}"
            f" to {full(bolt.face_bottom)} down, {full(bolt.face_near)} to {full(bolt.face_far)}"
            " from the wide face"
        )
    strike = (
        f"centre {full(place.down)} below the head ({full(place.up)} over the floor),"
        f" {full(place.from_stop)} from the stop's face, {full(place.from_edge)} from the leg's"
        f" edge; gap {full(place.gap)}, throw {full(bolt.throw)}, so it holds"
        f" {full(max(place.hold, 0.0))}; lip at least {full(place.lip)}"
    )
    return [
        Entry(label=bolt.name.capitalize(), texts=(bores, edge, face)),
        Entry(label="Strike", texts=(strike,)),
    ]


def _weight(held: Hanging, lengths: Lengths) -> tuple[str, ...]:
    across, _, up = held.balance
    balance = (
        f"balances {lengths.rough(across)} from the hinge edge, {lengths.rough(up)} up"
        " from the bottom"
    )
    if held.weight is None or held.loads is None:
        return (f"not known; {balance}",)
    loads = held.loads
    return (
        f"{pounds(held.weight, lengths)}; {balance}",
        f"top hinge pulls {pounds(loads.pull[0], lengths)} from the leg, bottom hinge pushes"
        f" {pounds(-loads.pull[-1], lengths)} into it; each carries"
        f" {pounds(loads.upright, lengths)}, or all of it where one is let in high",
    )


def pounds(value: float, lengths: Lengths) -> str:
    """Return a weight in pounds, in kilograms where lengths are millimetres."""
    return f"{value * KILOGRAMS:.0f} kg" if lengths.unit == "mm" else f"{value:.0f} lb"
