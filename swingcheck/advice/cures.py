"""What to change where the slab does not swing often enough: the least change that cures it.

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

from swingcheck.advice.cure import Change, Cure, Said, cure_of, with_share
from swingcheck.advice.judge import Judge
from swingcheck.advice.search import first_good
from swingcheck.advice.sure import WORTH_NAMING, is_sure, met_most, share_of
from swingcheck.advice.what_frees import ABOUT, Way, touched, ways
from swingcheck.assembly import PartKind
from swingcheck.chance.measurements import measurements
from swingcheck.chance.risk import Share
from swingcheck.model import Scene, inactive_scene, lower_scene
from swingcheck.swing.fit import FEWEST_TOLD
from swingcheck.swing.found import Found
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import SLACK, Limit, Spares, Trial, trial, wanted_of

#: How many single changes are named at the most.
MOST_CURES = 5

#: How many first changes a pair is looked for behind, and how many second ones behind each.
MOST_FIRSTS, MOST_SECONDS = 5, 4

#: Behind how many changes that are not sure a second one is looked for.
MOST_UNSURE = 2

#: How much farther off flush than is wanted a cure may leave the wide face, inches.
OFF_FLUSH_IN = 1 / 16

#: How keys of one slab and its own hinges begin.
_ON_A_SLAB = ("slab.", "hinge.", "pivot.")

Accepts = Callable[[Spares], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried(Change):
    """A change that was tried, what it comes to, and how many doors swing with it.

    ``kept`` is which standard it keeps, 0 the best.
    """

    trial: Trial
    kept: int = 0
    share: Share | None = None

    @property
    def rank(self) -> tuple[bool, int, float, float]:
        """What goes first: what is sure, what keeps most; then the surest, or the smallest."""
        sure = is_sure(self.share)
        short = 0.0 if sure or self.share is None else 1 - round(self.share.swinging, 2)
        return not sure, self.kept, short, self.size


@dataclass(frozen=True, slots=True, kw_only=True)
class _Single:
    """A measurement whose marks rise away from now, and the nearest mark that cures on paper."""

    judge: Judge
    way: Way
    marks: Sequence[float]
    nearest: int
    kept: int
    accepts: Accepts

    def tried(self, k: int | None = None, share: Share | None = None) -> _Tried:
        """Return the change to a mark, the nearest where none is told."""
        value = self.marks[self.nearest if k is None else k]
        return replace(_tried(self.judge, value), kept=self.kept, share=share)

    def frees(self, kinds: Sequence[PartKind]) -> bool:
        """Tell whether more of the same may free the slab of parts of some kinds."""
        return self.way.key in {way.key for way in ways(self.tried().trial, kinds)}

    def surest(self, *, slowly: bool = True) -> _Tried:
        """Return the change to the nearest mark at which doors swing often enough.

        Where there is none, that to the one at which most of them do. It is not looked for
        where most of those that do not swing meet another part: no more of the same would
        free them; nor, if not ``slowly``, where doors are swung one at a time.
        """
        shares: dict[int, Share | None] = {}

        def sure(k: int) -> bool:
            value = self.marks[k]
            good = self.accepts(self.judge.spares(value)) and self.judge.swings(value)
            shares[k] = share_of(self.judge.at(value)) if good else None
            return is_sure(shares[k])

        def enough(k: int) -> bool:
            share = None if sure(k) else shares[k]
            lost = share is not None and _is_slow(share) and not self.frees(met_most(share))
            return is_sure(shares[k]) or lost

        share = None if sure(self.nearest) else shares[self.nearest]
        slow = share is not None and _is_slow(share) and not slowly
        if share is None or slow or not self.frees(met_most(share)):
            return self.tried(self.nearest, shares[self.nearest])
        found = first_good(enough, len(self.marks), start=self.nearest + 1)
        if found is None or not is_sure(shares[found]):
            told = {k: share.swinging for k, share in shares.items() if share is not None}
            found = max(told, key=lambda k: (round(told[k], 2), -k))
        return self.tried(found, shares[found])


def _is_slow(share: Share) -> bool:
    """Tell whether so few were drawn because doors are swung one at a time."""
    return share.drawn < FEWEST_TOLD


def single_cures(scene: Scene) -> tuple[Cure, ...]:
    """Return the single changes that make the slab swing, often enough if any does; or a pair.

    Often enough is as it will be: cut to its tolerances, painted, in its wettest month.
    Those that are sure come first, of these what keeps every limit, of these the smallest.
    Nothing where it swings often enough now; at the most :data:`MOST_CURES`.
    """
    variants = Variants()
    before = trial(scene, variants)
    kinds = touched(before)
    if before.swings:
        share = share_of(scene)
        kinds = met_most(share) if share is not None and not is_sure(share) else ()
    tries = _tries(scene, before, kinds, variants)
    on_paper = _singles(tries, _standards(scene, before, kinds))
    singles = sorted(on_paper, key=lambda each: (each.kept, each.tried().size))
    if singles:
        found = (each.surest(slowly=not k) for k, each in enumerate(singles[:MOST_CURES]))
        surest = sorted(found, key=lambda each: each.rank)
        sure = is_sure(surest[0].share)
        pair = [] if sure else _surer_pair(surest, variants)
        changes = [*filter(None, [pair]), *([each] for each in surest)]
        return _worth_naming([_cure(before, each) for each in changes[:MOST_CURES]])
    pair = _best_pair(tries, before, variants)
    return (_cure(before, pair),) if pair else ()


def _worth_naming(cures: Sequence[Cure]) -> tuple[Cure, ...]:
    """Return cures without those that seldom cure, where another mostly does."""
    best = max(cure.chance or 0.0 for cure in cures)
    least = WORTH_NAMING if best >= WORTH_NAMING else 0.0
    return tuple(cure for cure in cures if (cure.chance or 0.0) >= least)


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
        after = scene.with_(dict(settings)) if on_it else scene
        if trial(after).swings:
            words, frame = (f"On the {name}: {said}" for said in (cure.words, cure.frame))
            whole = replace(cure, words=words, frame=frame, settings=settings)
            cures.append(with_share(whole, share_of(after)))
    return tuple(cures)


def _cure(before: Trial, changes: Sequence[_Tried]) -> Cure:
    last = changes[-1]
    tail, share = _price(before, last.trial), last.share or share_of(last.after)
    cure = cure_of(changes, [each.said() for each in changes], tail=tail, joint="; and ")
    return with_share(cure, share)


def _standards(scene: Scene, before: Trial, kinds: Sequence[PartKind]) -> list[Accepts]:
    """Return what a cure must leave of the limits, the most wanted first.

    First every limit that was kept, and the one that the fault is about; then
    that one, no margin below nothing or what it was, and the wide face not much
    farther off flush than is wanted; then all of that but the first.
    The pins keep to their line in any case.
    """
    wanted, spared = wanted_of(scene), before.spares
    about = {ABOUT[kind] for kind in kinds if kind in ABOUT}
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


def _tries(
    scene: Scene, before: Trial, kinds: Sequence[PartKind], variants: Variants, most: int = 99
) -> list[tuple[Judge, Way]]:
    """Return the scene with each measurement free that may cure it, and which way that goes."""
    known = {each.key: each for each in measurements(scene)}
    likely = [way for way in ways(before, kinds) if way.key in known][:most]
    return [(Judge(scene, known[way.key], variants), way) for way in likely]


def _singles(
    tries: Sequence[tuple[Judge, Way]], standards: Sequence[Accepts], room: float = inf
) -> Iterator[_Single]:
    """Yield every least change that cures, within ``room`` inches, by the first standard met."""
    for judge, way in tries:
        marks = _marks(judge, way, room)
        for kept, accepts in enumerate(standards):
            nearest = _first_good(judge, marks, accepts)
            if nearest is not None:
                yield _Single(
                    judge=judge,
                    way=way,
                    marks=marks,
                    nearest=nearest,
                    kept=kept,
                    accepts=accepts,
                )
                break


def _tried(judge: Judge, value: float) -> _Tried:
    found = judge.fit(value)
    assert found is not None
    return _Tried(measurement=judge.measurement, before=judge.scene, value=value, trial=found)


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


def _first_good(judge: Judge, values: Sequence[float], accepts: Accepts) -> int | None:
    """Return which value that cures is the nearest: by doubling steps, then halving back."""
    in_plan = judge.swings_in_plan(values) if values else None

    def likely(k: int) -> bool:
        return (in_plan is None or bool(in_plan[k])) and accepts(judge.spares(values[k]))

    start = next((k for k in range(len(values)) if likely(k)), len(values))
    return first_good(lambda k: likely(k) and judge.swings(values[k]), len(values), start=start)


def _best_pair(
    tries: Sequence[tuple[Judge, Way]], before: Trial, variants: Variants
) -> list[_Tried]:
    """Return the pair of least sum: the first frees what is touched now, the second then."""
    best: list[_Tried] = []
    room = inf
    for judge, way in tries[:MOST_FIRSTS]:
        value = _first_free(judge, _marks(judge, way, room), before)
        if value is None:
            continue
        first = _tried(judge, value)
        kinds = touched(first.trial)
        standards = _standards(before.scene, before, touched(before))[1:]
        for single in _behind(first, kinds, standards, variants, room - first.size):
            second = single.tried()
            if first.size + second.size < room:
                best, room = [first, second], first.size + second.size
    return best


def _surer_pair(firsts: Sequence[_Tried], variants: Variants) -> list[_Tried]:
    """Return the pair of least sum with which doors swing often enough, behind some changes.

    The first that is found where doors are swung one at a time.
    """
    best: list[_Tried] = []
    room = inf
    for first in firsts[:MOST_UNSURE]:
        if first.share is None:
            continue
        kinds = met_most(first.share)
        standards = _standards(first.after, first.trial, kinds)[: first.kept + 1]
        for single in _behind(first, kinds, standards, variants, room - first.size):
            second = single.surest()
            if is_sure(second.share) and first.size + second.size < room:
                best, room = [first, second], first.size + second.size
                if _is_slow(first.share):
                    return best
    return best


def _behind(
    first: _Tried,
    kinds: Sequence[PartKind],
    standards: Sequence[Accepts],
    variants: Variants,
    room: float,
) -> Iterator[_Single]:
    """Yield the least second changes of other measurements, within ``room`` inches."""
    behind = _tries(first.after, first.trial, kinds, variants, MOST_SECONDS)
    others = [pair for pair in behind if pair[1].key != first.measurement.key]
    return _singles(others, standards, room)


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
