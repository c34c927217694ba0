"""What to change where the slab does not swing: the least change that cures it.

Which measurements may cure a fault, and which way each goes, follows from what
the slab touches. Every change is a whole number of marks of the tape (1/64 in,
0.5 mm, half a degree), rounded away from the fault, and swung in full before it
is named. A change is no cure if it brings another contact, takes a margin below
nothing, or breaks a wanted limit that was kept before.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import atan, ceil, floor, inf

from swingcheck.advice.cure import Change, Cure, Said, cure_of
from swingcheck.advice.judge import Judge
from swingcheck.advice.search import first_good
from swingcheck.assembly import PartKind
from swingcheck.chance.measurements import measurements
from swingcheck.model import Scene, inactive_scene, lower_scene
from swingcheck.swing.found import Found, Point, Verdict
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import SLACK, Limit, Spares, Trial, trial, wanted_of

#: A margin that differs by more than this from top to bottom is out of parallel, inches.
OUT_OF_PARALLEL_IN = 1 / 64


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A measurement that may cure a fault, which way it goes, and how far at the most, inches."""

    key: str
    sense: float
    most: float


def touched(before: Trial) -> tuple[PartKind, ...]:
    """Return the kinds of part that a cure has to do with."""
    if before.touch is None:
        return before.blocked_kinds
    if before.verdict is Verdict.PINCHES:
        return (PartKind.HINGE_STOP,)
    return (before.touch.against_kind,)


#: The limit that a contact with a part is about.
ABOUT = {
    PartKind.HINGE_STOP: Limit.HINGE_STOP,
    PartKind.STRIKE_LEG: Limit.STRIKE_MARGIN,
    PartKind.HINGE_LEG: Limit.HINGE_MARGIN,
    PartKind.HEAD: Limit.HEAD_MARGIN,
}


def ways(before: Trial) -> list[Way]:
    """Return what may cure a fault, in the order that it is tried."""
    found: dict[str, Way] = {}
    for kind in touched(before):
        for key, sense, most in _WAYS.get(kind, ()):
            for named in _named(key, before, kind):
                found.setdefault(named, Way(key=named, sense=sense, most=most))
    return list(found.values())


def _named(key: str, before: Trial, kind: PartKind) -> list[str]:
    """Return keys with the end that has the less room, or each leaf where they are not alike."""
    if "{end}" in key:
        end = _worse_end(before, kind)
        return [key.format(end=end)] if end else []
    if "{leaf}" in key:
        _, side, name = key.split("[")[0].split(".")
        cut = getattr(getattr(before.scene.hinge, side), f"{name}s")
        return [key.format(leaf=k) for k in range(len(cut)) if max(cut) - min(cut) > SLACK]
    return [key]


def _worse_end(before: Trial, kind: PartKind) -> str:
    """Return at which end a margin is the less, ``top`` or ``bottom``; empty where it is alike."""
    margins = before.margins
    own: Point | None = {
        PartKind.STRIKE_LEG: margins.strike,
        PartKind.HINGE_LEG: margins.hinge,
        PartKind.HINGE_STOP: margins.hinge_stop,
    }.get(kind, (margins.bottom[1], 0.0, margins.bottom[0]))
    if own is None or abs(own[0] - own[2]) < OUT_OF_PARALLEL_IN:
        return ""
    return "top" if own[0] < own[2] else "bottom"


_SET_BACK = (("hinge.slab.setback", -1, 3 / 8), ("hinge.jamb.setback", 1, 3 / 8))
_SET_BACK_A_LEAF = tuple(
    (f"{key}{place}", sense, most)
    for place in (".{end}", "[{leaf}]")
    for key, sense, most in _SET_BACK
)
_LET_IN = (("hinge.slab.depth", 1, 3 / 16), ("hinge.jamb.depth", 1, 3 / 16))
_LET_IN_A_LEAF = tuple(
    (f"{key}{place}", sense, most)
    for place in (".{end}", "[{leaf}]")
    for key, sense, most in _LET_IN
)

_OFF_THE_GROUND = (
    ("slab.height", -1, 3 / 2),
    ("slab.head_margin", -1, 1 / 2),
    ("hinge.slab.depth.top", 1, 3 / 16),
    ("hinge.jamb.depth.top", 1, 3 / 16),
)
_OFF_AN_EDGE = (
    ("slab.width", -1, 1 / 2),
    ("slab.width.{end}", -1, 1 / 2),
    ("slab.strike_edge.bevel", 1, inf),
)
_OUT_FARTHER = (("hinge.open_width", 1, 4.0), ("hinge.slab.setback", 1, 3 / 8))

_WAYS: dict[PartKind, tuple[tuple[str, float, float], ...]] = {
    PartKind.HINGE_STOP: (
        *_SET_BACK,
        ("opening.rabbet.hinge", 1, 3 / 8),
        *_SET_BACK_A_LEAF,
        ("opening.rabbet", 1, 3 / 8),
    ),
    PartKind.STRIKE_LEG: (*_OFF_AN_EDGE, *_LET_IN, *_LET_IN_A_LEAF),
    PartKind.INACTIVE: (*_OFF_AN_EDGE, *_LET_IN),
    PartKind.HINGE_LEG: (
        ("slab.hinge_edge.bevel", 1, inf),
        ("hinge.slab.depth", -1, 3 / 16),
        ("hinge.jamb.depth", -1, 3 / 16),
        *((key, -sense, most) for key, sense, most in _LET_IN_A_LEAF),
        ("hinge.screw_proud", -1, 1 / 4),
    ),
    PartKind.JAMB_LEAF: (
        ("hinge.screw_proud", -1, 1 / 4),
        ("slab.hinge_edge.bevel", 1, inf),
        ("hinge.closed_gap", 1, 1 / 8),
    ),
    PartKind.FLOOR: _OFF_THE_GROUND,
    PartKind.CARPET: _OFF_THE_GROUND,
    PartKind.THRESHOLD: _OFF_THE_GROUND,
    PartKind.HEAD: (
        ("slab.top", -1, 1.0),
        ("slab.head_margin", 1, 1 / 2),
        ("slab.top.strike", -1, 1.0),
    ),
    PartKind.STRIKE_STOP: (
        ("opening.rabbet.strike", 1, 1 / 2),
        *_SET_BACK,
        ("opening.rabbet", 1, 3 / 8),
    ),
    PartKind.HEAD_STOP: (
        ("opening.rabbet.head", 1, 1 / 2),
        *_SET_BACK,
        *_SET_BACK_A_LEAF,
        ("opening.rabbet", 1, 3 / 8),
    ),
    PartKind.CASING: _OUT_FARTHER,
    PartKind.WALL: _OUT_FARTHER,
    PartKind.WALL_RETURN: _OUT_FARTHER,
    PartKind.BASEBOARD: _OUT_FARTHER,
}
"""For each kind of part: the measurements that may free the slab of it, which way, how far."""


#: How many single changes are named at the most.
MOST_CURES = 5

#: How many first changes a pair is looked for behind, and how many second ones behind each.
MOST_FIRSTS, MOST_SECONDS = 5, 4

#: How much farther off flush than is wanted a cure may leave the wide face, inches.
OFF_FLUSH_IN = 1 / 16

#: How keys of one slab and its own hinges begin.
_ON_A_SLAB = ("slab.", "hinge.", "pivot.")

Accepts = Callable[[Spares], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried(Change):
    """A change that was tried, what it comes to, and which standard it keeps, 0 the best."""

    trial: Trial
    kept: int = 0


def single_cures(scene: Scene) -> tuple[Cure, ...]:
    """Return the single changes that make the slab swing, or the best pair.

    Those that keep every limit come first, of those alike the smallest.

    Nothing where it swings; at the most :data:`MOST_CURES` single changes.
    """
    variants = Variants()
    before = trial(scene, variants)
    if before.swings:
        return ()
    tries = _tries(before, variants)
    found = _singles(tries, _standards(before))
    singles = sorted(found, key=lambda each: (each.kept, each.size))
    if singles:
        return tuple(_cure(before, [change]) for change in singles[:MOST_CURES])
    pair = _best_pair(tries, before, variants)
    return (_cure(before, pair),) if pair else ()


def second_slab_cures(found: Found) -> tuple[Cure, ...]:
    """Return what cures the fault of a further slab in the same opening, on that slab alone.

    Each was swung with this slab too. Nothing for a scene that was not read.
    """
    scene, name = found.scene, found.decided.slab
    table = next((each.relation.value for each in found.others if each.name == name), "")
    alone = {"lower": lower_scene, "inactive": lambda scene: inactive_scene(scene)[0]}
    if table not in alone or scene.source is None:
        return ()
    cures = []
    for cure in single_cures(alone[table](scene)):
        settings = tuple((f"{table}.{key}", value) for key, value in cure.settings)
        on_it = all(key.startswith(_ON_A_SLAB) for key, _ in cure.settings)
        if on_it and trial(scene.with_(dict(settings))).swings:
            words, frame = (f"On the {name}: {said}" for said in (cure.words, cure.frame))
            cures.append(replace(cure, words=words, frame=frame, settings=settings))
    return tuple(cures)


def _cure(before: Trial, changes: Sequence[_Tried]) -> Cure:
    tail = _price(before, changes[-1].trial)
    return cure_of(changes, [each.said() for each in changes], tail=tail, joint="; and ")


def _standards(before: Trial) -> list[Accepts]:
    """Return what a cure must leave of the limits, the most wanted first.

    First every limit that was kept, and the one that the fault is about; then
    that one, no margin below nothing or what it was, and the wide face not much
    farther off flush than is wanted; then all of that but the first.
    The pins keep to their line in any case.
    """
    wanted, spared = wanted_of(before.scene), before.spares
    about = {ABOUT[kind] for kind in touched(before) if kind in ABOUT}
    room = {Limit.HINGE_STOP: wanted.hinge_stop}
    room |= dict.fromkeys((Limit.PROUD, Limit.SHY), OFF_FLUSH_IN)
    clear = {
        limit: min(spare, -room.get(limit, wanted.least_margin)) for limit, spare in spared.items()
    }
    met = dict.fromkeys(about & spared.keys(), 0.0)
    kept = {limit: min(spare, 0.0) for limit, spare in spared.items()}
    in_line = {Limit.PINS: 0.0}
    return [partial(_at_least, each | in_line) for each in (kept | met, clear | met, clear)]


def _at_least(floors: Spares, spares: Spares) -> bool:
    return all(spares[limit] >= floor - SLACK for limit, floor in floors.items())


def _tries(before: Trial, variants: Variants, most: int = 99) -> list[tuple[Judge, Way]]:
    """Return the scene with each measurement free that may cure it, and which way that goes."""
    known = {each.key: each for each in measurements(before.scene)}
    likely = [way for way in ways(before) if way.key in known][:most]
    return [(Judge(before.scene, known[way.key], variants), way) for way in likely]


def _singles(
    tries: Sequence[tuple[Judge, Way]], standards: Sequence[Accepts], room: float = inf
) -> Iterator[_Tried]:
    """Yield every least change that cures, within ``room`` inches, by the first standard met."""
    for judge, way in tries:
        marks = _marks(judge, way, room)
        for kept, accepts in enumerate(standards):
            value = _first_good(judge, marks, accepts)
            if value is not None:
                yield _tried(judge, value, kept)
                break


def _tried(judge: Judge, value: float, kept: int = 0) -> _Tried:
    found = judge.fit(value)
    assert found is not None
    return _Tried(
        measurement=judge.measurement, before=judge.scene, value=value, trial=found, kept=kept
    )


def _marks(judge: Judge, way: Way, room: float = inf) -> list[float]:
    """Return values nearest first: lengths by whole marks, a bevel on one, by ``room`` at most."""
    most = min(way.most, room)
    step, now = judge.measurement.step(judge.scene), judge.measurement.value(judge.scene)
    low, high = judge.measurement.span(judge.scene)
    first = now + way.sense * step
    if judge.measurement.is_angle:
        first = step * (floor(now / step + 1e-6) + 1 if way.sense > 0 else ceil(now / step) - 1)
        most = atan(most / judge.scene.slab.thickness)
    count = floor(most / step + 1e-9)
    values = [first + way.sense * step * k for k in range(count)]
    return [value for value in values if low - SLACK <= value <= high + SLACK]


def _first_good(judge: Judge, values: Sequence[float], accepts: Accepts) -> float | None:
    """Return the nearest value that cures: by doubling steps until one does, then halving back."""
    in_plan = judge.swings_in_plan(values) if values else None

    def likely(k: int) -> bool:
        return (in_plan is None or bool(in_plan[k])) and accepts(judge.spares(values[k]))

    start = next((k for k in range(len(values)) if likely(k)), len(values))
    found = first_good(lambda k: likely(k) and judge.swings(values[k]), len(values), start=start)
    return None if found is None else values[found]


def _best_pair(
    tries: Sequence[tuple[Judge, Way]], before: Trial, variants: Variants
) -> list[_Tried]:
    """Return the pair of least sum: the first frees what is touched now, the second then."""
    best: list[_Tried] = []
    room = inf
    standards = _standards(before)[1:]
    for judge, way in tries[:MOST_FIRSTS]:
        value = _first_free(judge, _marks(judge, way, room), before)
        if value is None:
            continue
        first = _tried(judge, value)
        behind = _tries(first.trial, variants, MOST_SECONDS)
        others = [pair for pair in behind if pair[1].key != way.key]
        for second in _singles(others, standards, room - first.size):
            if first.size + second.size < room:
                best, room = [first, second], first.size + second.size
    return best


def _first_free(judge: Judge, values: Sequence[float], before: Trial) -> float | None:
    """Return the nearest value that clears what touches now, by as much as is wanted."""
    about = [ABOUT[kind] for kind in touched(before) if kind in ABOUT]

    def free(k: int) -> bool:
        spares = judge.spares(values[k])
        wide = all(spares.get(limit, 0.0) >= -SLACK for limit in about)
        return wide and judge.clears(values[k], before)

    found = first_good(free, len(values))
    return values[found] if found is not None and judge.fit(values[found]) is not None else None


def _price(before: Trial, after: Trial) -> Said:
    margins = after.margins
    left = {
        Limit.HINGE_STOP: ("leaves {} to the hinge stop", min(margins.hinge_stop or (0.0,))),
        Limit.HINGE_MARGIN: ("leaves a hinge margin of {}", min(margins.hinge)),
        Limit.STRIKE_MARGIN: ("leaves a strike margin of {}", min(margins.strike)),
        Limit.HEAD_MARGIN: ("leaves a head margin of {}", min(margins.head)),
        Limit.PROUD: ("the wide face then stands {} proud", max(margins.flush_all)),
        Limit.SHY: ("the wide face then stands {} shy", -min(margins.flush_all)),
    }
    broken = [
        said
        for limit, said in left.items()
        if after.spares.get(limit, 0.0) < -SLACK <= before.spares.get(limit, 0.0)
    ]
    words = "; ".join(frame for frame, _ in broken)
    return f" ({words})" if broken else "", tuple(length for _, length in broken)
