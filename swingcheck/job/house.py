"""Every door of a job: its bench work and its check, what to order, and each set-up made once.

A door is checked with the slab that its cuts leave, which is what will hang.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, fields
from math import degrees
from typing import Any, TypeVar, cast

from swingcheck.advice.answer import Answer
from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.layout import screw_holes
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import SetUp
from swingcheck.swing.found import FitWord, Found, Verdict
from swingcheck.units import grouped

_T = TypeVar("_T")

SAME_TILT_DEG = 0.05
"""Saw tilts within this of each other are one set-up, degrees."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """An opening whose sizes leave nothing of a part: its name, where it is written down, why."""

    name: str
    where: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """An opening that was checked."""

    name: str
    where: str
    answer: Answer

    @property
    def check(self) -> Found:
        """What its check found."""
        return self.answer.found


@dataclass(frozen=True, slots=True, kw_only=True)
class Door(Checked):
    """One door of a job, checked as its cuts leave its slab, and its bench numbers."""

    bench: BenchNumbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Bare(Checked):
    """An opening checked as it was told, which has no bench numbers, and why not."""

    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What a job is called, and its openings: worked out, checked alone, or neither; in order."""

    title: str
    doors: tuple[Door, ...]
    bare: tuple[Bare, ...] = ()
    refused: tuple[Refused, ...] = ()

    @property
    def checked(self) -> tuple[Checked, ...]:
        """Every opening that was checked."""
        return (*self.doors, *self.bare)


def is_good(door: Checked) -> bool:
    """Return whether a door is fit to be hung so."""
    return door.check.fit.word is FitWord.GOOD


def names_by(job: Job) -> dict[str, list[str]]:
    """Return the doors' names by whether they swing, and by their fit."""
    found = {key: list[str]() for key in ("swing", "do_not", *(word.value for word in FitWord))}
    for door in job.checked:
        found["swing" if door.check.verdict is Verdict.SWINGS else "do_not"].append(door.name)
        found[door.check.fit.word.value].append(door.name)
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeSize:
    """What tells a hinge from another on an order, inches."""

    leaf_length: float
    open_width: float
    leaf_thickness: float
    corner_radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltSize:
    """What tells a lock or a deadbolt from another on an order, inches."""

    name: str
    backset: float
    bore: float
    edge_bore: float
    face_length: float
    face_width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SlabSize:
    """What tells a slab from another on an order, inches."""

    width: float
    height: float
    thickness: float
    material: str
    construction: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """A door that a set-up serves: ``parts`` are its hinges, edges or bolts; ``whole``: all."""

    door: str
    parts: tuple[str, ...]
    whole: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JigSetUp:
    """One setting of the router's jig, and the doors to do with it.

    ``set_up`` is the first door's, and as good for the others. ``runs`` are
    the mortises' own, arris to buried edge, least and most: the spacer block's.
    """

    set_up: SetUp
    runs: tuple[float, float]
    doors: tuple[Served, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SawSetUp:
    """One tilt of the saw, radians, and the edges to rip with it."""

    tilt: float
    doors: tuple[Served, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoreSetUp:
    """One setting of the boring jig, and the doors to bore with it."""

    size: BoltSize
    doors: tuple[Served, ...]


def order(doors: Sequence[Door]) -> dict[str, tuple[tuple[Any, int], ...]]:
    """Return how many of each size the doors of a job take, by kind, the most wanted first.

    ``slabs`` are those whose size as delivered was not told, those that were told are
    there; then ``hinges``, ``screws`` and ``bolts``.
    """
    kinds = {kind: Counter[Any]() for kind in ("slabs", "hinges", "screws", "bolts")}
    for bench in (door.bench for door in doors):
        hinge = bench.finished.hinge
        kinds["hinges"][_size(HingeSize, hinge)] += hinge.count
        kinds["screws"][bench.leaves.screw] += 2 * hinge.count * len(screw_holes(hinge))
        kinds["bolts"].update(_bolt_size(bolt) for bolt in bench.bolts)
        if bench.scene.slab.delivered is None:
            own = {name: getattr(bench.cuts.delivered, name) for name in ("width", "height")}
            kinds["slabs"][_size(SlabSize, bench.finished.slab, **own)] += 1
    return {
        kind: tuple(sorted(sizes.items(), key=lambda item: (-item[1], repr(item[0]))))
        for kind, sizes in kinds.items()
    }


def jig_set_ups(doors: Sequence[Door]) -> tuple[JigSetUp, ...]:
    """Return the router's set-ups of a job, slab before jamb, the most doors first.

    Doors share a set-up that have the same setback, depth, leaf, corner
    radius and tools on a side.
    """
    groups = grouped(
        (set_up.key, (door, set_up)) for door in doors for set_up in door.bench.mortises.set_ups
    )
    found = [_jig_set_up(group) for group in groups.values()]
    return tuple(sorted(found, key=lambda jig: (jig.set_up.side != "slab", -len(jig.doors))))


def saw_set_ups(doors: Sequence[Door]) -> tuple[SawSetUp, ...]:
    """Return the saw's tilts of a job, with the edges that are ripped at each, squarest first."""
    groups = grouped(
        (round(degrees(cut.tilt) / SAME_TILT_DEG), (door, cut))
        for door in doors
        for cut in door.bench.cuts.edges
        if cut.is_needed and not cut.at_crown
    )
    return tuple(
        SawSetUp(
            tilt=group[0][1].tilt,
            doors=_served(
                ((door, cut.edge) for door, cut in group),
                lambda door: [cut.edge for cut in door.bench.cuts.edges],
            ),
        )
        for _, group in sorted(groups.items(), key=lambda item: abs(item[0]))
    )


def bore_set_ups(doors: Sequence[Door]) -> tuple[BoreSetUp, ...]:
    """Return the boring jig's set-ups of a job, the most doors first."""
    groups = grouped((_bolt_size(bolt), door) for door in doors for bolt in door.bench.bolts)
    found = [
        BoreSetUp(
            size=size,
            doors=tuple(Served(door=door.name, parts=(size.name,), whole=True) for door in group),
        )
        for size, group in groups.items()
    ]
    return tuple(sorted(found, key=lambda bore: -len(bore.doors)))


def _jig_set_up(group: Sequence[tuple[Door, SetUp]]) -> JigSetUp:
    runs = [set_up.leaf.run for _, set_up in group]
    return JigSetUp(
        set_up=group[0][1],
        runs=(min(runs), max(runs)),
        doors=_served(
            ((door, _hinge_names(door)[k]) for door, set_up in group for k in set_up.hinges),
            _hinge_names,
        ),
    )


def _hinge_names(door: Door) -> list[str]:
    return [mark.name.removeprefix("the ") for mark in door.bench.leaves.hinges]


def _served(
    parts: Iterable[tuple[Door, str]], every: Callable[[Door], Sequence[str]]
) -> tuple[Served, ...]:
    """Return doors with the parts of each that are served, in the order of its every part."""
    found = []
    for name, served in grouped((door.name, (door, part)) for door, part in parts).items():
        own = every(served[0][0])
        there = tuple(part for part in own if part in {part for _, part in served})
        found.append(Served(door=name, parts=there, whole=len(there) == len(own)))
    return tuple(found)


def _bolt_size(bolt: BoltMarks) -> BoltSize:
    return _size(BoltSize, bolt.lock, name=bolt.name)


def _size(kind: type[_T], source: object, **told: float | str) -> _T:
    """Return a size, one to a tenth of a thousandth; ``told`` is what the source says otherwise."""
    names = [each.name for each in fields(cast(Any, kind))]
    read = {name: getattr(source, name) for name in names if name not in told} | told
    return kind(
        **{
            name: each.casefold() if isinstance(each, str) else round(each, 4)
            for name, each in read.items()
        }
    )
