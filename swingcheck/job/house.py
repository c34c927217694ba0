"""Every door of a job: its bench work and its check, what to order, and each set-up made once.

A door is checked with the slab that its cuts leave, which is what will hang.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import degrees
from typing import TypeVar

from swingcheck.advice.answer import Answer
from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import ALIKE, SetUp, Tools
from swingcheck.bench.ripping import EdgeCut
from swingcheck.bench.screws import Screw, screw_holes
from swingcheck.model import Scene
from swingcheck.swing.found import Found, Verdict

_T = TypeVar("_T")

TILT_ALIKE = 0.05
"""Saw tilts within this of each other are one set-up, degrees."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """One door of a job: its name, where it is written down, its bench numbers, its check."""

    name: str
    where: str
    bench: BenchNumbers
    answer: Answer

    @property
    def check(self) -> Found:
        """What the check of its slab found."""
        return self.answer.found


@dataclass(frozen=True, slots=True, kw_only=True)
class Bare:
    """An opening checked as it was told, which has no bench numbers, and why not."""

    name: str
    where: str
    answer: Answer
    reason: str

    @property
    def check(self) -> Found:
        """What its check found."""
        return self.answer.found


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """An opening whose sizes leave nothing of a part, and why."""

    name: str
    where: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What a job is called, and its openings: worked out, checked alone, or neither; in order."""

    title: str
    doors: tuple[Door, ...]
    bare: tuple[Bare, ...] = ()
    refused: tuple[Refused, ...] = ()

    @property
    def checked(self) -> tuple[Door | Bare, ...]:
        """Every opening that was checked."""
        return (*self.doors, *self.bare)


def swings(door: Door | Bare) -> bool:
    """Return whether a door's slab swings."""
    return door.check.verdict is Verdict.SWINGS


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
class Order:
    """How many of each size a job takes, the most wanted first.

    ``slabs`` are those whose size as delivered was not told: those that were
    told are there.
    """

    slabs: tuple[tuple[SlabSize, int], ...]
    hinges: tuple[tuple[HingeSize, int], ...]
    screws: tuple[tuple[Screw, int], ...]
    bolts: tuple[tuple[BoltSize, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """A door that a set-up serves: ``parts`` are its hinges, edges or bolts; ``whole``: all."""

    door: str
    parts: tuple[str, ...]
    whole: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JigSetUp:
    """One setting of the router's jig, and the doors to do with it.

    ``side`` is the slab or the jamb. ``runs`` are the mortises' own, arris to
    buried edge, least and most: the spacer block's.
    """

    side: str
    setback: float
    depth: float
    leaf_length: float
    corner_radius: float
    tools: Tools
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


def order(doors: Sequence[Door]) -> Order:
    """Return what the doors of a job take."""
    slabs: Counter[SlabSize] = Counter()
    hinges: Counter[HingeSize] = Counter()
    screws: Counter[Screw] = Counter()
    bolts: Counter[BoltSize] = Counter()
    for bench in (door.bench for door in doors):
        hinge = bench.finished.hinge
        hinges[_hinge_size(bench.finished)] += hinge.count
        screws[bench.leaves.screw] += 2 * hinge.count * len(screw_holes(hinge))
        bolts.update(_bolt_size(bolt) for bolt in bench.bolts)
        if bench.scene.slab.delivered is None:
            slabs[_slab_size(bench)] += 1
    return Order(
        slabs=_most_first(slabs),
        hinges=_most_first(hinges),
        screws=_most_first(screws),
        bolts=_most_first(bolts),
    )


def jig_set_ups(doors: Sequence[Door]) -> tuple[JigSetUp, ...]:
    """Return the router's set-ups of a job, slab before jamb, the most doors first.

    Doors share a set-up that have the same setback, depth, leaf, corner
    radius and tools on a side.
    """
    groups: dict[tuple[object, ...], list[tuple[Door, SetUp]]] = {}
    for door in doors:
        for set_up in door.bench.mortises.set_ups:
            groups.setdefault(_jig_key(set_up), []).append((door, set_up))
    found = [_jig_set_up(group) for group in groups.values()]
    return tuple(sorted(found, key=lambda jig: (jig.side != "slab", -len(jig.doors))))


def saw_set_ups(doors: Sequence[Door]) -> tuple[SawSetUp, ...]:
    """Return the saw's tilts of a job, with the edges that are ripped at each, squarest first."""
    groups: dict[int, list[tuple[Door, EdgeCut]]] = {}
    for door in doors:
        for cut in door.bench.cuts.edges:
            if cut.is_needed and not cut.at_crown:
                groups.setdefault(round(degrees(cut.tilt) / TILT_ALIKE), []).append((door, cut))
    return tuple(
        SawSetUp(
            tilt=group[0][1].tilt,
            doors=_served(((door, cut.edge) for door, cut in group), whole=2),
        )
        for _, group in sorted(groups.items(), key=lambda item: abs(item[0]))
    )


def bore_set_ups(doors: Sequence[Door]) -> tuple[BoreSetUp, ...]:
    """Return the boring jig's set-ups of a job, the most doors first."""
    groups: dict[BoltSize, list[Door]] = {}
    for door in doors:
        for bolt in door.bench.bolts:
            groups.setdefault(_bolt_size(bolt), []).append(door)
    found = [
        BoreSetUp(size=size, doors=_served(((door, size.name) for door in group), whole=1))
        for size, group in groups.items()
    ]
    return tuple(sorted(found, key=lambda bore: -len(bore.doors)))


def _jig_key(set_up: SetUp) -> tuple[object, ...]:
    tools = set_up.tools
    sizes = (
        set_up.setback,
        set_up.depth,
        set_up.leaf.length,
        set_up.corner_radius,
        tools.bit,
        tools.bushing,
        tools.template_corner,
    )
    return set_up.side, *_alike(sizes)


def _jig_set_up(group: Sequence[tuple[Door, SetUp]]) -> JigSetUp:
    first = group[0][1]
    runs = [set_up.leaf.run for _, set_up in group]
    served: dict[str, list[int]] = {}
    counts = {door.name: door.bench.finished.hinge.count for door, _ in group}
    for door, set_up in group:
        served.setdefault(door.name, []).extend(set_up.hinges)
    names = {
        door.name: [mark.name.removeprefix("the ") for mark in door.bench.leaves.hinges]
        for door, _ in group
    }
    return JigSetUp(
        side=first.side,
        setback=first.setback,
        depth=first.depth,
        leaf_length=first.leaf.length,
        corner_radius=first.corner_radius,
        tools=first.tools,
        runs=(min(runs), max(runs)),
        doors=tuple(
            Served(
                door=name,
                parts=tuple(names[name][k] for k in sorted(hinges)),
                whole=len(hinges) == counts[name],
            )
            for name, hinges in served.items()
        ),
    )


def _served(parts: Iterable[tuple[Door, str]], *, whole: int) -> tuple[Served, ...]:
    """Return doors with the parts of each that are served; ``whole`` is how many are all."""
    found: dict[str, list[str]] = {}
    for door, part in parts:
        found.setdefault(door.name, []).append(part)
    return tuple(
        Served(door=name, parts=tuple(each), whole=len(each) == whole)
        for name, each in found.items()
    )


def _hinge_size(scene: Scene) -> HingeSize:
    hinge = scene.hinge
    return HingeSize(
        leaf_length=_rounded(hinge.leaf_length),
        open_width=_rounded(hinge.open_width),
        leaf_thickness=_rounded(hinge.leaf_thickness),
        corner_radius=_rounded(hinge.corner_radius),
    )


def _bolt_size(bolt: BoltMarks) -> BoltSize:
    return BoltSize(
        name=bolt.name,
        backset=_rounded(bolt.backset.middle),
        bore=_rounded(bolt.bore),
        edge_bore=_rounded(bolt.edge_bore),
        face_length=_rounded(bolt.face[0]),
        face_width=_rounded(bolt.face[1]),
    )


def _slab_size(bench: BenchNumbers) -> SlabSize:
    slab, delivered = bench.finished.slab, bench.cuts.delivered
    return SlabSize(
        width=_rounded(delivered.width),
        height=_rounded(delivered.height),
        thickness=_rounded(slab.thickness),
        material=slab.material.casefold(),
        construction=slab.construction.casefold(),
    )


def _rounded(value: float) -> float:
    """Return a size so that what is alike within a tenth of a thousandth counts as one."""
    return round(value, 4)


def _alike(values: Iterable[float]) -> tuple[int, ...]:
    return tuple(round(value / ALIKE) for value in values)


def _most_first(counts: Mapping[_T, int]) -> tuple[tuple[_T, int], ...]:
    return tuple(sorted(counts.items(), key=lambda item: (-item[1], repr(item[0]))))
