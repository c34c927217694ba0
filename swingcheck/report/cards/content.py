"""What a card for the bench says: one door, step by step, in cutting order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.layout import HingeMarks
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import SetUp
from swingcheck.bench.ripping import EdgeCut, EndCut
from swingcheck.job.house import Door
from swingcheck.report.bench import pounds, warnings
from swingcheck.report.bench_words import season_words
from swingcheck.report.fit_words import cure_text
from swingcheck.report.headline import finding
from swingcheck.report.words import ALIKE_IN, SIDES, STATIONS, Lengths, assumed_text
from swingcheck.swing.found import FitWord
from swingcheck.units import angle_text, grouped
from swingcheck.units.words import listed, sentence

ALIKE_ON_CARD_IN = 1 / 256
"""Figures to cut by that differ by less than this are one figure on a card."""

_CUT_BY = ("unit", "opening", "stop", "slab", "hinge", "lock", "floor", "margin", "shop")
"""What a card lists where it was assumed: what marks and cuts come from."""


Figures = dict[str, str]
"""Numbers to set or to mark, written large, each by what it is."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, with a box to tick: its figures, and what to know beside them."""

    title: str
    figures: Figures
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
    fit: FitWord
    finding: str
    remedy: str
    facts: Figures
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
        """What stands first on the card of a door that should not be hung so."""
        return (
            ""
            if self.fit is FitWord.GOOD
            else f"Do not cut yet: cut like this it is {self.fit.value}."
        )


def door_card(door: Door, unit: str | None = None) -> DoorCard:
    """Return what a door's card says, lengths in ``unit``, the scene's own for ``None``."""
    bench, check = door.bench, door.check
    lengths = Lengths(unit=unit or bench.scene.unit)
    return DoorCard(
        name=door.name,
        where=door.where,
        unit=lengths.unit,
        fit=check.fit.word,
        finding=finding(check, lengths),
        remedy=cure_text(door.answer.cures[0], lengths) if door.answer.cures else "",
        facts=_facts(bench, lengths),
        steps=tuple(_steps(bench, lengths)),
        warnings=warnings(bench, lengths),
        season=" ".join(season_words(bench.season, lengths)),
        cautions=bench.cautions,
        assumed=assumed_text(
            item
            for item in bench.assumed
            if item.key.partition(".")[0] in _CUT_BY and item.key != "shop.tolerance"
        ),
    )


def _sized(values: Mapping[str, float], lengths: Lengths) -> Figures:
    return {label: lengths.size(value) for label, value in values.items()}


def _facts(bench: BenchNumbers, lengths: Lengths) -> Figures:
    scene, slab, delivered = bench.scene, bench.finished.slab, bench.cuts.delivered
    hinge, weight = scene.hinge, bench.hanging.weight
    return {
        "opening": lengths.by(min(scene.opening.width), min(scene.opening.height)),
        "slab as delivered": lengths.by(delivered.width, delivered.height),
        "slab as it hangs": lengths.by(max(slab.width), max(slab.height), slab.thickness),
        "hinges, from the pull side": f"on the {scene.hinges_on}",
        "hinges": f"{hinge.count} of {lengths.by(hinge.leaf_length, hinge.open_width)}",
        f"weight: {slab.material}, {slab.construction}": pounds(weight, lengths),
    }


def _steps(bench: BenchNumbers, lengths: Lengths) -> Iterator[Step]:
    cuts = bench.cuts
    for number, cut in enumerate(cuts.edges):
        yield _edge_step(cut, cuts.delivered.width if not number else None, bench, lengths)
    yield from (_end_step(end, lengths) for end in cuts.ends if end.is_needed)
    yield _leaf_step("Mark the leaves on the slab, from its top", bench, lengths, on_slab=True)
    yield _leaf_step("Mark the leaves on the jamb, from the head", bench, lengths, on_slab=False)
    yield from (_router_step(set_up, bench, lengths) for set_up in bench.mortises.set_ups)
    yield _screw_step(bench, lengths)
    yield from (_bolt_step(bolt, lengths) for bolt in bench.bolts)
    yield _hanging_step(bench, lengths)


def _edge_step(cut: EdgeCut, before: float | None, bench: BenchNumbers, lengths: Lengths) -> Step:
    slab, marks = bench.finished.slab, cut.marks
    edge = slab.hinge_edge if cut.edge == "hinge edge" else slab.strike_edge
    if not cut.is_needed:
        left = _sized({"wide face": marks[0].left}, lengths)
        return Step(f"Leave the {cut.edge} square and uncut", left)
    places = ["top end", "bottom end"]
    if len(marks) != 2:
        places = [f"{lengths.size(mark.down)} down" for mark in marks]
    figures = _sized({} if before is None else {"from": before}, lengths)
    for label, values in (
        ("off, wide face", [mark.off for mark in marks]),
        ("then wide face", [mark.left for mark in marks]),
        ("then narrow face", [mark.narrow for mark in marks]),
    ):
        figures |= _at_places(f"{label}, ", values, places, lengths)
    notes = []
    if edge.is_round:
        radius = lengths.full(edge.radius)
        notes.append(f"Round it to a radius of {radius}; read widths at the crown.")
    else:
        figures["saw tilt"] = angle_text(abs(cut.tilt))
        notes += ["The bevel narrows the pull side."] if cut.tilt < 0 else []
    if cut.is_tapered:
        notes.append("A taper: mark both ends and snap a line.")
    return Step(f"Rip the {cut.edge}", figures, tuple(notes))


def _end_step(end: EndCut, lengths: Lengths) -> Step:
    places = ("at the hinge edge", "at the strike edge")
    off, left = (
        _at_places(label, values, places, lengths)
        for label, values in (("off ", end.off), ("then high ", end.left))
    )
    return Step("Scribe and cut the top" if end.end == "top" else "Trim the bottom", off | left)


def _at_places(
    label: str,
    values: Sequence[float],
    places: Sequence[str],
    lengths: Lengths,
    alike: float = ALIKE_ON_CARD_IN,
) -> Figures:
    """Return one figure for values that are alike, else one a place."""
    if max(values) - min(values) < alike:
        return _sized({label.rstrip(", "): values[0]}, lengths)
    pairs = zip(places, values, strict=True)
    return _sized({f"{label}{place}": value for place, value in pairs}, lengths)


def _leaf_step(title: str, bench: BenchNumbers, lengths: Lengths, *, on_slab: bool) -> Step:
    hinges = bench.leaves.hinges
    leaves = {_short(mark): mark.slab if on_slab else mark.jamb for mark in hinges}
    tops = _sized({name: leaf.top for name, leaf in leaves.items()}, lengths)
    face = "stop-side face" if on_slab else "stop"
    setbacks = {name: leaf.setback for name, leaf in leaves.items()}
    depths = {name: leaf.depth for name, leaf in leaves.items()}
    figures = tops | _per_hinge(f"setback from the {face}", setbacks, lengths)
    return Step(title, figures | _per_hinge("deep", depths, lengths))


def _short(mark: HingeMarks) -> str:
    return mark.name.removeprefix("the ")


def _per_hinge(label: str, values: Mapping[str, float], lengths: Lengths) -> Figures:
    """Return a figure for what most hinges have, and one for each other value, hinges named."""
    alike = grouped((lengths.bare(value), name) for name, value in values.items())
    most = max(alike, key=lambda value: len(alike[value]))
    return {
        label if value == most else f"{label}, {listed(names)}": value
        for value, names in alike.items()
    }


def _router_step(set_up: SetUp, bench: BenchNumbers, lengths: Lengths) -> Step:
    tools, opening, leaf = set_up.tools, set_up.opening, set_up.leaf
    figures = {
        "bit": lengths.bare(tools.bit),
        "bushing": lengths.bare(tools.bushing),
        "template opening": lengths.by(opening.length, opening.run),
        "past each line": lengths.bare(tools.offset),
        "deep": lengths.bare(set_up.depth),
        "spacer block between the lines": lengths.by(leaf.length, leaf.run),
    }
    notes, hinges = [], bench.leaves.hinges
    if len(set_up.hinges) < len(hinges):
        notes.append(sentence(listed([_short(hinges[k]) for k in set_up.hinges])))
    if set_up.side == "slab" and set_up.lean:
        notes.append("Square to the bevelled edge.")
    if set_up.is_squared_by_chisel:
        notes.append("Square the corners by chisel.")
    return Step(f"Rout the {set_up.side}'s leaves", figures, tuple(notes))


def _screw_step(bench: BenchNumbers, lengths: Lengths) -> Step:
    leaves, first = bench.leaves, bench.leaves.hinges[0].slab
    holes = ", ".join(
        f"{lengths.size(hole.down - first.top)} down and {lengths.size(hole.from_arris)} in"
        for hole in first.holes
    )
    screw = f"#{leaves.screw.number} x {lengths.size(leaves.screw.length)}"
    note = f"From the leaf's top and the wide face's arris: {holes}."
    figures = {"pilot": lengths.bare(leaves.pilot), "screw": screw}
    return Step("Pre-drill for the screws", figures, (note,))


def _bolt_step(bolt: BoltMarks, lengths: Lengths) -> Step:
    bores = {
        "up from the slab's bottom": bolt.from_bottom,
        "backset on the wide face": bolt.backset.wide,
        "on the narrow face": bolt.backset.narrow,
        "bore": bolt.lock.bore,
        "edge bore": bolt.lock.edge_bore,
        "its centre from the wide face": bolt.edge_centre,
    }
    lock = bolt.lock
    sizes = (lock.face_length, lock.face_width, lock.face_depth)
    face = {"face, and how deep": lengths.by(*sizes)} if lock.face_depth > 0 else {}
    strike = {
        "strike, down from the head": bolt.strike.down,
        "strike, from the stop": bolt.strike.from_stop,
    }
    figures = _sized(bores, lengths) | face | _sized(strike, lengths)
    return Step(f"Bore for the {bolt.name}", figures)


def _hanging_step(bench: BenchNumbers, lengths: Lengths) -> Step:
    margins = bench.cuts.margins
    figures: Figures = {}
    for label, places in (
        ("hinge", STATIONS),
        ("strike", STATIONS),
        ("head", SIDES),
        ("bottom", SIDES),
    ):
        values = getattr(margins, label)
        figures |= _at_places(f"{label}, ", values, places, lengths, ALIKE_IN)
    return Step("Hang it: the margins to see", figures)
