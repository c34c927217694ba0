"""What to change where the slab does not swing: the least change that cures it.

Every change is a whole number of marks of the tape (1/64 in, 0.5 mm, half a
degree), rounded away from the fault, and swung in full before it is named. A
change is no cure if it brings another contact, takes a margin below nothing,
or breaks a wanted limit that was kept before.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf, tan

from swingcheck.advice.cure import Cure
from swingcheck.advice.directions import ABOUT, Way, touched, ways
from swingcheck.advice.judge import Judge
from swingcheck.chance.measurements import Measurement, measurements
from swingcheck.chance.values import measured
from swingcheck.model import Scene
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import SLACK, Limit, Spares, Trial, trial, wanted_of
from swingcheck.units import angle_text, length_text

#: How many single changes are named at the most.
MOST = 5

#: How many first changes a pair is looked for behind, and how many second ones behind each.
FIRSTS, SECONDS = 5, 4

#: How much farther off flush than is wanted a cure may leave the wide face, inches.
OFF_FLUSH = 1 / 16

Accepts = Callable[[Spares], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    """A change that was tried: what it comes to, and how big it is, inches."""

    measurement: Measurement
    scene: Scene
    value: float
    size: float
    fit: Trial


def single_cures(
    scene: Scene, *, variants: Variants | None = None, most: int = MOST
) -> tuple[Cure, ...]:
    """Return the single changes that make the slab swing, the smallest first, or the best pair.

    Parameters
    ----------
    scene : Scene
        As it is; nothing is returned where it swings.
    variants : Variants, optional
        Where parts of earlier scenes are kept.
    most : int
        How many single changes are returned at the most.
    """
    variants = variants or Variants()
    before = trial(scene, variants)
    if before.swings:
        return ()
    tries = _tries(scene, before, variants)
    singles = sorted(_singles(tries, _standards(scene, before)), key=lambda cure: cure.size)
    if singles:
        return tuple(_cured(scene, before, [cure]) for cure in singles[:most])
    pair = _best_pair(tries, before, variants)
    return (_cured(scene, before, pair),) if pair else ()


def _standards(scene: Scene, before: Trial) -> list[Accepts]:
    """Return what a cure must leave of the limits, the most wanted first.

    First every limit that was kept, and the one that the fault is about; then
    that one, no margin below nothing or what it was, and the wide face not much
    farther off flush than is wanted; then all of that but the first.
    The pins keep to their line in any case.
    """
    wanted = wanted_of(scene)
    about = {ABOUT[kind] for kind in touched(before) if kind in ABOUT}
    spared = before.spares
    clear = {
        limit: min(spared[limit], -margin)
        for limit, margin in (
            (Limit.HINGE_STOP, wanted.hinge_stop),
            (Limit.HINGE_MARGIN, wanted.least_margin),
            (Limit.STRIKE_MARGIN, wanted.least_margin),
            (Limit.HEAD_MARGIN, wanted.least_margin),
            (Limit.PROUD, OFF_FLUSH),
            (Limit.SHY, OFF_FLUSH),
        )
        if limit in spared
    }
    met = dict.fromkeys(about & spared.keys(), 0.0)
    kept = {limit: min(spare, 0.0) for limit, spare in spared.items()}
    in_line = {Limit.PINS: 0.0}
    return [_at_least(each | in_line) for each in (kept | met, clear | met, clear)]


def _at_least(floors: Spares) -> Accepts:
    """Return what accepts spares that are at least so much."""

    def accepts(spares: Spares) -> bool:
        return all(spares[limit] >= floor - SLACK for limit, floor in floors.items())

    return accepts


def _tries(
    scene: Scene, before: Trial, variants: Variants, most: int = 99
) -> list[tuple[Judge, Way]]:
    """Return the scene with each measurement free that may cure it, and which way that goes."""
    known = {each.key: each for each in measurements(scene)}
    likely = [way for way in ways(before) if way.key in known][:most]
    return [(Judge(scene, known[way.key], variants), way) for way in likely]


def _singles(
    tries: Sequence[tuple[Judge, Way]], standards: Sequence[Accepts], room: float = inf
) -> Iterator[_Tried]:
    """Yield every measurement's least change that cures, by the first standard that any meets.

    None is bigger than ``room``, inches.
    """
    for judge, way in tries:
        marks = _marks(judge, way, room)
        found = (_first_good(judge, marks, accepts) for accepts in standards)
        value = next((value for value in found if value is not None), None)
        if value is not None:
            yield _cure(judge, value)


def _cure(judge: Judge, value: float) -> _Tried:
    found = judge.fit(value)
    assert found is not None
    by = abs(value - judge.measurement.value(judge.scene))
    size = judge.scene.slab.thickness * tan(by) if judge.measurement.is_angle else by
    return _Tried(
        measurement=judge.measurement, scene=judge.scene, value=value, size=size, fit=found
    )


def _marks(judge: Judge, way: Way, room: float = inf) -> list[float]:
    """Return the values to try, nearest first, a mark of the tape apart.

    Lengths are changed by whole marks; a bevel is set to a whole mark. No
    change is bigger than ``room``, inches.
    """
    most = min(way.most, room)
    step, now = judge.measurement.step(judge.scene), judge.measurement.value(judge.scene)
    low, high = judge.measurement.span(judge.scene)
    count = floor(most / step + 1e-9)
    first = now + way.sense * step
    if judge.measurement.is_angle:
        first = step * (floor(now / step + 1e-6) + 1 if way.sense > 0 else ceil(now / step) - 1)
        count = floor(most / judge.scene.slab.thickness / step)
    values = [first + way.sense * step * k for k in range(count)]
    return [value for value in values if low - SLACK <= value <= high + SLACK]


def _first_good(judge: Judge, values: Sequence[float], accepts: Accepts) -> float | None:
    """Return the nearest value that cures: by doubling steps until one does, then halving back.

    Given up where three steps in a row come no nearer to swinging, which cannot
    be told while the slab does not clear its start.
    """
    in_plan = judge.swings_in_plan(values) if values else None

    def promising(k: int) -> bool:
        return (in_plan is None or bool(in_plan[k])) and accepts(judge.spares(values[k]))

    def good(k: int) -> bool:
        return promising(k) and judge.swings(values[k])

    here = next((k for k in range(len(values)) if promising(k)), None)
    if here is None:
        return None
    bad, step, nearest, idle = here - 1, 1, judge.open_by(judge.measurement.value(judge.scene)), 0
    while not good(here):
        open_by = judge.open_by(values[here]) if promising(here) else nearest
        idle = 0 if open_by < nearest - SLACK or judge.is_blocked(values[here]) else idle + 1
        nearest = min(nearest, open_by)
        if here == len(values) - 1 or idle == 3:
            return None
        bad, here, step = here, min(here + step, len(values) - 1), step * 2
    while here - bad > 1:
        middle = (bad + here) // 2
        if good(middle):
            here = middle
        else:
            bad = middle
    return values[here]


def _best_pair(
    tries: Sequence[tuple[Judge, Way]], before: Trial, variants: Variants
) -> list[_Tried]:
    """Return the two changes that cure together, the smallest sum; empty where none do.

    The first takes away what is touched now, the second what is touched then.
    """
    best: list[_Tried] = []
    room = inf
    standards = _standards(before.scene, before)[1:]
    for judge, way in tries[:FIRSTS]:
        value = _first_free(judge, _marks(judge, way, room), before)
        if value is None:
            continue
        first = _cure(judge, value)
        behind = _tries(first.fit.scene, first.fit, variants, SECONDS)
        others = [pair for pair in behind if pair[1].key != way.key]
        for second in _singles(others, standards, room - first.size):
            if first.size + second.size < room:
                best, room = [first, second], first.size + second.size
    return best


def _first_free(judge: Judge, values: Sequence[float], before: Trial) -> float | None:
    """Return the nearest value at which the parts touched now are clear of each other.

    With as much between them as is wanted; another part may be touched.
    """
    about = [ABOUT[kind] for kind in touched(before) if kind in ABOUT]

    def free(k: int) -> bool:
        spares = judge.spares(values[k])
        wide = all(spares.get(limit, 0.0) >= -SLACK for limit in about)
        return wide and judge.clears(values[k], before)

    bad, here, step = -1, 0, 1
    while values and not free(here):
        if here == len(values) - 1:
            return None
        bad, here, step = here, min(here + step, len(values) - 1), step * 2
    while here - bad > 1:
        middle = (bad + here) // 2
        bad, here = (bad, middle) if free(middle) else (middle, here)
    return values[here] if values and judge.fit(values[here]) is not None else None


def _cured(scene: Scene, before: Trial, cures: Sequence[_Tried]) -> Cure:
    said = [_words(cure) for cure in cures]
    frames = [frame for frame, _ in said]
    frame = frames[0] + "".join(f"; and {more[0].lower()}{more[1:]}" for more in frames[1:])
    price, left = _price(before, cures[-1].fit)
    lengths = (*(length for _, own in said for length in own), *left)
    settings: dict[str, str] = {}
    for cure in cures:
        settings |= dict(cure.measurement.settings(cure.scene, cure.value))
    return Cure(
        words=(frame + price).format(*(length_text(each, scene.unit) for each in lengths)),
        settings=tuple(settings.items()),
        frame=frame + price,
        lengths=lengths,
    )


def _words(cure: _Tried) -> tuple[str, tuple[float, ...]]:
    """Return what to do at the bench, ``{}`` for every length, and the lengths."""
    measurement = cure.measurement
    now = measurement.value(cure.scene)
    by = abs(cure.value - now)
    act = measurement.more if cure.value > now else measurement.less
    if measurement.is_angle:
        return act.format(by=angle_text(by), to=f", to {angle_text(cure.value)}"), ()
    after = measured(measurement.changed(cure.scene, cure.value), measurement.along[0].path)
    if len(set(after)) > 1:
        return act.format(by="{}", to=""), (by,)
    return act.format(by="{}", to=", to {}"), (by, cure.value)


def _price(before: Trial, after: Trial) -> tuple[str, tuple[float, ...]]:
    """Return which wanted limits a cure breaks that were kept, mostly none, and their lengths."""
    margins = after.margins
    left = {
        Limit.HINGE_STOP: ("leaves {} to the hinge stop", min(margins.hinge_stop or (0.0,))),
        Limit.HINGE_MARGIN: ("leaves a hinge margin of {}", min(margins.hinge)),
        Limit.STRIKE_MARGIN: ("leaves a strike margin of {}", min(margins.strike)),
        Limit.HEAD_MARGIN: ("leaves a head margin of {}", min(margins.head)),
        Limit.PROUD: ("the wide face then stands {} proud", max(margins.flush)),
        Limit.SHY: ("the wide face then stands {} shy", -min(margins.flush)),
    }
    broken = [
        said
        for limit, said in left.items()
        if after.spares.get(limit, 0.0) < -SLACK <= before.spares.get(limit, 0.0)
    ]
    words = "; ".join(frame for frame, _ in broken)
    return f" ({words})" if broken else "", tuple(length for _, length in broken)
