"""What a card for the bench says: one door, step by step, in cutting order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.layout import HingeMarks
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import Block, SetUp
from swingcheck.bench.ripping import EdgeCut, EndCut, Mark
from swingcheck.job.house import Door
from swingcheck.report.bench import bench_card, pounds
from swingcheck.report.bench_words import season_words
from swingcheck.report.card import Entry
from swingcheck.report.headline import finding
from swingcheck.report.words import (
    ALIKE_IN,
    SIDES,
    STATIONS,
    Lengths,
    assumed_text,
    listed,
    sentence,
)
from swingcheck.swing.found import Verdict
from swingcheck.units import angle_text, fraction_text

ALIKE_ON_CARD_IN = 1 / 256
"""Figures to cut by that differ by less than this are one figure on a card."""

_CUT_BY = ("unit", "opening", "stop", "slab", "hinge", "lock", "floor", "margin", "shop")
"""What a card lists where it was assumed: what marks and cuts come from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One number to set or to mark, written large, and what it is."""

    label: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to do, with a box to tick: its figures, and what to know beside them."""

    title: str
    figures: tuple[Figure, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorCard:
    """Everything that is said on one door's card.

    ``unit`` is what the bare figures are in; ``remedy`` is empty where none is
    needed or known, ``warnings`` are what to look at before cutting.
    """

    name: str
    where: str
    unit: str
    swings: bool
    finding: str
    remedy: str
    facts: tuple[Figure, ...]
    steps: tuple[Step, ...]
    warnings: tuple[str, ...]
    season: str
    cautions: tuple[str, ...]
    assumed: str

    @property
    def unit_name(self) -> str:
        """The unit of bare figures in full."""
        return {"in": "inches", "mm": "millimetres"}[self.unit]

    @property
    def hold(self) -> str:
        """What stands on the card of a slab that does not swing."""
        return "" if self.swings else "Do not cut yet: cut like this it does not swing."


def door_card(door: Door, unit: str | None = None) -> DoorCard:
    """Return what a door's card says.

    Parameters
    ----------
    door : Door
        Its bench numbers and its check.
    unit : {"in", "mm"} or None
        What lengths are written in; ``None`` for the scene's own.
    """
    bench, check = door.bench, door.check
    lengths = Lengths(unit=unit or bench.scene.unit)
    return DoorCard(
        name=door.name,
        where=door.where,
        unit=lengths.unit,
        swings=check.verdict is Verdict.SWINGS,
        finding=finding(check, lengths),
        remedy=door.answer.cures[0].words if door.answer.cures else "",
        facts=tuple(_facts(bench, lengths)),
        steps=tuple(_steps(bench, lengths)),
        warnings=_warnings(bench, lengths.unit),
        season=" ".join(season_words(bench.season, lengths)),
        cautions=bench.cautions,
        assumed=assumed_text(
            item
            for item in bench.assumed
            if item.key.partition(".")[0] in _CUT_BY and item.key != "shop.tolerance"
        ),
    )


def _warnings(bench: BenchNumbers, unit: str) -> tuple[str, ...]:
    """Return what the bench is warned of, as its own card says it."""
    items = bench_card(bench, unit).items
    entries = (item for item in items if isinstance(item, Entry) and item.label == "Warning")
    return tuple(text for entry in entries for text in entry.texts)


def size_text(value: float, lengths: Lengths) -> str:
    """Return a size to be read off a tape: the nearest 64th, or tenth of a millimetre.

    Examples
    --------
    >>> size_text(29.889, Lengths(unit="in")), size_text(29.889, Lengths(unit="mm"))
    ('29 57/64', '759.2')
    >>> size_text(850 / 25.4, Lengths(unit="mm"))
    '850'
    """
    return fraction_text(value) if lengths.unit == "in" else lengths.bare(value).removesuffix(".0")


def _facts(bench: BenchNumbers, lengths: Lengths) -> Iterator[Figure]:
    scene, slab, delivered = bench.scene, bench.finished.slab, bench.cuts.delivered
    opening = scene.opening
    wide, high = min(opening.width), min(opening.height)
    yield Figure(label="opening", value=by_text((wide, high), lengths))
    yield Figure(
        label="slab as delivered", value=by_text((delivered.width, delivered.height), lengths)
    )
    sizes = (max(slab.width), max(slab.height), slab.thickness)
    yield Figure(label="slab as it hangs", value=by_text(sizes, lengths))
    yield Figure(label="hinges, from the pull side", value=f"on the {scene.hinges_on}")
    hinge = scene.hinge
    leaf = by_text((hinge.leaf_length, hinge.open_width), lengths)
    yield Figure(label="hinges", value=f"{hinge.count} of {leaf}")
    weight = bench.hanging.weight
    value = "not known" if weight is None else pounds(weight, lengths)
    yield Figure(label=f"weight: {slab.material}, {slab.construction}", value=value)


def by_text(sizes: Iterable[float], lengths: Lengths) -> str:
    """Return sizes as one by the other."""
    return " x ".join(size_text(size, lengths) for size in sizes)


def _steps(bench: BenchNumbers, lengths: Lengths) -> Iterator[Step]:
    cuts = bench.cuts
    for number, cut in enumerate(cuts.edges):
        yield _edge_step(cut, cuts.delivered.width if not number else None, bench, lengths)
    for end in cuts.ends:
        if end.is_needed:
            yield _end_step(end, lengths)
    yield _leaf_step("Mark the leaves on the slab, from its top", bench, lengths, on_slab=True)
    yield _leaf_step("Mark the leaves on the jamb, from the head", bench, lengths, on_slab=False)
    yield from _router_steps(bench.mortises.set_ups, bench, lengths)
    yield _screw_step(bench, lengths)
    for bolt in bench.bolts:
        yield _bolt_step(bolt, lengths)
    yield _hanging_step(bench, lengths)


def _edge_step(cut: EdgeCut, before: float | None, bench: BenchNumbers, lengths: Lengths) -> Step:
    edges = bench.finished.slab
    edge = edges.hinge_edge if cut.edge == "hinge edge" else edges.strike_edge
    if not cut.is_needed:
        left = Figure(label="wide face", value=size_text(cut.marks[0].left, lengths))
        return Step(title=f"Leave the {cut.edge} square and uncut", figures=(left,))
    figures = []
    if before is not None:
        figures.append(Figure(label="from", value=size_text(before, lengths)))
    for label, values in (
        ("off, wide face", [mark.off for mark in cut.marks]),
        ("then wide face", [mark.left for mark in cut.marks]),
        ("then narrow face", [mark.narrow for mark in cut.marks]),
    ):
        figures += _down_the_edge(label, cut.marks, values, lengths)
    figures.append(Figure(label="saw tilt", value=angle_text(abs(cut.tilt))))
    notes = []
    if edge.is_round:
        figures.pop()
        round_to = lengths.full(edge.radius)
        notes.append(f"Round it to a radius of {round_to}; read widths at the crown.")
    elif cut.tilt < 0:
        notes.append("The bevel narrows the pull side.")
    if cut.is_tapered:
        notes.append("A taper: mark both ends and snap a line.")
    return Step(title=f"Rip the {cut.edge}", figures=tuple(figures), notes=tuple(notes))


def _down_the_edge(
    label: str, marks: Sequence[Mark], values: Sequence[float], lengths: Lengths
) -> list[Figure]:
    """Return one figure where an edge is marked alike all along, else one a mark."""
    places = ["top end", "bottom end"]
    if len(marks) != 2:
        places = [f"{size_text(mark.down, lengths)} down" for mark in marks]
    return _at_places(f"{label}, ", values, places, lengths)


def _end_step(end: EndCut, lengths: Lengths) -> Step:
    places = ("at the hinge edge", "at the strike edge")
    figures = [
        *_at_places("off ", end.off, places, lengths),
        *_at_places("then high ", end.left, places, lengths),
    ]
    title = "Scribe and cut the top" if end.end == "top" else "Trim the bottom"
    return Step(title=title, figures=tuple(figures))


def _at_places(
    label: str,
    values: Sequence[float],
    places: Sequence[str],
    lengths: Lengths,
    alike: float = ALIKE_ON_CARD_IN,
) -> list[Figure]:
    """Return one figure for values that are alike, else one a place."""
    if max(values) - min(values) < alike:
        return [Figure(label=label.rstrip(", "), value=size_text(values[0], lengths))]
    return [
        Figure(label=f"{label}{place}", value=size_text(value, lengths))
        for place, value in zip(places, values, strict=True)
    ]


def _leaf_step(title: str, bench: BenchNumbers, lengths: Lengths, *, on_slab: bool) -> Step:
    hinges = bench.leaves.hinges
    leaves = [mark.slab if on_slab else mark.jamb for mark in hinges]
    figures = [
        Figure(label=_short(mark), value=size_text(leaf.top, lengths))
        for mark, leaf in zip(hinges, leaves, strict=True)
    ]
    face = "stop-side face" if on_slab else "stop"
    figures += _per_hinge(f"setback from the {face}", hinges, [x.setback for x in leaves], lengths)
    figures += _per_hinge("deep", hinges, [x.depth for x in leaves], lengths)
    return Step(title=title, figures=tuple(figures))


def _short(mark: HingeMarks) -> str:
    return mark.name.removeprefix("the ")


def _per_hinge(
    label: str, hinges: Sequence[HingeMarks], values: Sequence[float], lengths: Lengths
) -> list[Figure]:
    """Return a figure for what most hinges have, and one for each other value, hinges named."""
    alike: dict[str, list[str]] = {}
    for mark, value in zip(hinges, values, strict=True):
        alike.setdefault(lengths.bare(value), []).append(_short(mark))
    most = max(alike, key=lambda value: len(alike[value]))
    return [
        Figure(label=label if value == most else f"{label}, {listed(names)}", value=value)
        for value, names in alike.items()
    ]


def _router_steps(
    set_ups: Sequence[SetUp], bench: BenchNumbers, lengths: Lengths
) -> Iterator[Step]:
    for set_up in set_ups:
        tools = set_up.tools
        figures = (
            Figure(label="bit", value=lengths.bare(tools.bit)),
            Figure(label="bushing", value=lengths.bare(tools.bushing)),
            Figure(label="template opening", value=_block(set_up.opening, lengths)),
            Figure(label="past each line", value=lengths.bare(tools.offset)),
            Figure(label="deep", value=lengths.bare(set_up.depth)),
            Figure(label="spacer block between the lines", value=_block(set_up.leaf, lengths)),
        )
        notes = _which(set_up, bench)
        if set_up.side == "slab" and set_up.lean:
            notes.append("Square to the bevelled edge.")
        if set_up.is_squared_by_chisel:
            notes.append("Square the corners by chisel.")
        yield Step(title=f"Rout the {set_up.side}'s leaves", figures=figures, notes=tuple(notes))


def _which(set_up: SetUp, bench: BenchNumbers) -> list[str]:
    """Return the hinges that a set-up serves, where those are not all."""
    hinges = bench.leaves.hinges
    if len(set_up.hinges) == len(hinges):
        return []
    return [sentence(listed([_short(hinges[k]) for k in set_up.hinges]))]


def _block(block: Block, lengths: Lengths) -> str:
    return by_text((block.length, block.run), lengths)


def _screw_step(bench: BenchNumbers, lengths: Lengths) -> Step:
    leaves = bench.leaves
    first = leaves.hinges[0]
    holes = ", ".join(
        f"{size_text(hole.down - first.slab.top, lengths)} down"
        f" and {size_text(hole.from_arris, lengths)} in"
        for hole in first.slab.holes
    )
    return Step(
        title="Pre-drill for the screws",
        figures=(
            Figure(label="pilot", value=lengths.bare(leaves.pilot)),
            Figure(
                label="screw",
                value=f"#{leaves.screw.number} x {size_text(leaves.screw.length, lengths)}",
            ),
        ),
        notes=(f"From the leaf's top and the wide face's arris: {holes}.",),
    )


def _bolt_step(bolt: BoltMarks, lengths: Lengths) -> Step:
    strike, (long, wide, deep) = bolt.strike, bolt.face
    figures = [
        Figure(label="up from the slab's bottom", value=size_text(bolt.from_bottom, lengths)),
        Figure(label="backset on the wide face", value=size_text(bolt.backset.wide, lengths)),
        Figure(label="on the narrow face", value=size_text(bolt.backset.narrow, lengths)),
        Figure(label="bore", value=size_text(bolt.bore, lengths)),
        Figure(label="edge bore", value=size_text(bolt.edge_bore, lengths)),
        Figure(label="its centre from the wide face", value=size_text(bolt.edge_centre, lengths)),
    ]
    if deep > 0:
        figures.append(
            Figure(label="face, and how deep", value=by_text((long, wide, deep), lengths))
        )
    figures += [
        Figure(label="strike, down from the head", value=size_text(strike.down, lengths)),
        Figure(label="strike, from the stop", value=size_text(strike.from_stop, lengths)),
    ]
    return Step(title=f"Bore for the {bolt.name}", figures=tuple(figures))


def _hanging_step(bench: BenchNumbers, lengths: Lengths) -> Step:
    margins = bench.cuts.margins
    figures = [
        figure
        for label, values, places in (
            ("hinge", margins.hinge, STATIONS),
            ("strike", margins.strike, STATIONS),
            ("head", margins.head, SIDES),
            ("bottom", margins.bottom, SIDES),
        )
        for figure in _at_places(f"{label}, ", values, places, lengths, ALIKE_IN)
    ]
    return Step(title="Hang it: the margins to see", figures=tuple(figures))
