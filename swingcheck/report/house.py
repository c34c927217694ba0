"""What a crew works from: which slabs swing, the cut list, what to order, each set-up once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.layout import Screw
from swingcheck.bench.ripping import EdgeCut
from swingcheck.job.house import (
    Bare,
    BoltSize,
    Checked,
    Door,
    HingeSize,
    JigSetUp,
    Job,
    Refused,
    Served,
    SlabSize,
    bore_set_ups,
    is_good,
    jig_set_ups,
    order,
    saw_set_ups,
)
from swingcheck.report.bench import drill, tilt_text
from swingcheck.report.card import Card, Entry, Table, card_of
from swingcheck.report.fit_words import cure_text
from swingcheck.report.headline import finding
from swingcheck.report.words import ALIKE_IN, Lengths
from swingcheck.swing.found import FitWord
from swingcheck.units import counted, tallied
from swingcheck.units.words import listed

Items = list[Entry | Table]

LONGEST_NAME = 24
"""Letters of a door's name that the cut list shows."""


def house_card(job: Job, unit: str | None = None) -> Card:
    """Return a job's summary, lengths in ``unit``, its first opening's own for ``None``."""
    lengths = Lengths(unit=unit or next((d.check.scene.unit for d in job.checked), "in"))
    good, tight, bad = (
        [door for door in job.checked if door.check.fit.word is word] for word in FitWord
    )
    cut, to_cut = ([door for door in job.doors if is_good(door) is does] for does in (True, False))
    return card_of(
        job.title,
        count_words(len(good), len(tight), len(bad), len(job.refused)),
        Entry("Refused", tuple(_reason(each) for each in job.refused)),
        Entry("Bad", tuple(_fault(door, lengths) for door in bad)),
        Entry("Tight", tuple(_fault(door, lengths) for door in tight)),
        Entry("Good", (", ".join(door.name for door in good),)),
        Entry("Uncut", tuple(_reason(each) for each in job.bare)),
        Entry("Look at", tuple(_cannot_be_done(job.doors))),
        _cut_list("Cut list", cut, lengths),
        _cut_list("Not yet", to_cut, lengths),
        _order(job.doors, lengths),
        *_set_ups(job.doors, lengths),
        Entry("*", ("not fit to be hung so: see to it first",) if tight or bad else ()),
    )


def count_words(good: int, tight: int, bad: int, refused: int = 0) -> str:
    """Return how many doors there are of each fit."""
    counts = {"good": good, "tight": tight, "bad": bad, "cannot be worked out": refused}
    return tallied("door", counts)


def _reason(each: Refused | Bare) -> str:
    return f"{each.name} ({each.where}): {each.reason}"


def _fault(door: Checked, lengths: Lengths) -> str:
    said = f"{door.name} ({door.where}): {finding(door.check, lengths)}"
    cures = door.answer.cures
    return f"{said}. First cure: {cure_text(cures[0], lengths)}" if cures else said


def _cannot_be_done(doors: Sequence[Door]) -> list[str]:
    found = {
        says: [door.name for door in doors if is_so(door.bench)] for says, is_so in _LOOK_AT.items()
    }
    return [f"{listed(names)}: {says}" for says, names in found.items() if names]


_LOOK_AT: dict[str, Callable[[BenchNumbers], object]] = {
    "the slab as delivered is too small": lambda bench: bench.cuts.is_short,
    "a cut or a margin, see the card": lambda bench: bench.cuts.warned and not bench.cuts.is_short,
    "the bit and bushing told cannot cut the leaves": lambda bench: bench.mortises.refused,
    "the lock, see the card": lambda bench: any(bolt.concerns for bolt in bench.bolts),
}


def _cut_list(label: str, doors: Sequence[Door], lengths: Lengths) -> Table:
    rows = [row for door in doors for row in _cut_rows(door, lengths)]
    columns = ("from", "off hinge", "off strike", "wide", "high")
    return Table(f"{label}, {lengths.unit}", columns, tuple(rows))


def _cut_rows(door: Door, lengths: Lengths) -> list[tuple[str, tuple[str, ...]]]:
    """Return a door's row, widths on the wide face; a second where it is cut otherwise below."""
    cuts = door.bench.cuts
    whole = lengths.by(cuts.delivered.width, cuts.delivered.height)
    first, last = (
        (
            _off(cuts.edges[0], end, lengths),
            _off(cuts.edges[1], end, lengths),
            lengths.size(cuts.finished.width[end]),
            lengths.size(cuts.finished.height[end]),
        )
        for end in (0, -1)
    )
    rows: list[tuple[str, tuple[str, ...]]] = [(_short(door.name), (whole, *first))]
    if first != last:
        other = (one if one != both else "" for one, both in zip(last, first, strict=True))
        rows.append(("  bottom, strike edge", ("", *other)))
    return rows


def _off(cut: EdgeCut, end: int, lengths: Lengths) -> str:
    return lengths.size(cut.marks[end].off) if cut.is_needed else "-"


def _short(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 3]}..."


def _order(doors: Sequence[Door], lengths: Lengths) -> Table:
    words: dict[str, Callable[[Any, Lengths], str]] = {
        "slabs": _slab_words,
        "hinges": _hinge_words,
        "screws": _screw_words,
        "bolts": _bolt_words,
    }
    rows = (
        (words[kind](size, lengths), (str(count),))
        for kind, sizes in order(doors).items()
        for size, count in sizes
    )
    return Table("To order", ("",), tuple(rows))


def _slab_words(size: SlabSize, lengths: Lengths) -> str:
    sizes = lengths.by(size.width, size.height, size.thickness)
    return f"slab {sizes}, {size.material}, {size.construction}"


def _hinge_words(size: HingeSize, lengths: Lengths) -> str:
    leaf, corner = lengths.by(size.leaf_length, size.open_width), size.corner_radius
    corners = f"{lengths.size(corner)} corners" if corner else "square"
    return f"hinges {leaf}, {corners}, leaf {lengths.bare(size.leaf_thickness)}"


def _screw_words(screw: Screw, lengths: Lengths) -> str:
    return f"screws, No. {screw.number} x {drill(screw.length, lengths)}"


def _bolt_words(size: BoltSize, lengths: Lengths) -> str:
    name = {"latch": "locks"}.get(size.name, f"{size.name}s")
    backset, bore = map(lengths.size, (size.backset, size.bore))
    face = lengths.by(size.face_length, size.face_width)
    return f"{name}, backset {backset}, bore {bore}, face {face}"


def _set_ups(doors: Sequence[Door], lengths: Lengths) -> Items:
    not_yet = frozenset(door.name for door in doors if not is_good(door))
    said = [("Jig", _jig_words(jig, lengths), jig.doors) for jig in jig_set_ups(doors)]
    said += [("Saw", tilt_text(saw.tilt), saw.doors) for saw in saw_set_ups(doors)]
    said += [("Bore", _bolt_words(bore.size, lengths), bore.doors) for bore in bore_set_ups(doors)]
    numbers = Counter[str]()
    items: Items = []
    for kind, words, served in said:
        numbers[kind] += 1
        texts = (words, _served(served, not_yet))
        items.append(Entry(f"{kind} {numbers[kind]}", texts))
    return items


def _jig_words(jig: JigSetUp, lengths: Lengths) -> str:
    own, full = jig.set_up, lengths.full
    corners = f"corners {full(own.corner_radius)}" if own.corner_radius else "square corners"
    low, high = map(full, jig.runs)
    spacer = low if jig.runs[1] - jig.runs[0] < ALIKE_IN else f"{low} to {high}"
    return (
        f"{own.side}: setback {full(own.setback)}, {full(own.depth)} deep, leaf"
        f" {full(own.leaf.length)}, {corners}; bit {full(own.tools.bit)}, bushing"
        f" {full(own.tools.bushing)}; spacer block {spacer}"
    )


def _served(doors: Sequence[Served], not_yet: frozenset[str]) -> str:
    named = []
    for each in doors:
        name = f"{each.door}*" if each.door in not_yet else each.door
        named.append(name if each.whole else f"{name} ({listed(each.parts)})")
    return f"{counted(len(doors), 'door')}: {', '.join(named)}"
