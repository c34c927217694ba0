"""All the values of one free measurement at which the slab swings as wanted.

The limits on the closed slab follow from its place alone and are solved on
it. Contact is asked of the full simulation: at places spread over the span
and, where the scene is prismatic, at the places that the plan points to; every
change between two of them is halved until it is known to :data:`END_IN`. What
lies between two neighbours that answer alike is looked at where the slab comes
nearer to swinging than at either.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from math import inf
from typing import NamedTuple

import numpy as np

from swingcheck.advice.judge import Judge
from swingcheck.advice.search import crossing, flip, least
from swingcheck.chance.measurements import Measurement
from swingcheck.swing.found import Touch, Verdict
from swingcheck.swing.trial import SLACK, Limit, Spares, Trial, within

#: How closely an end is solved: inches, and radians (a millionth of a degree).
END_IN, END_RAD = 5e-7, 1.5e-8

#: How closely a limit's crossing is solved, inches or radians.
CROSSING_WIDTH = 1e-9

#: Places looked at over a span: in full, in plan, and for limits alone.
PLACES_IN_FULL, PLACES_IN_PLAN, PLACES_FOR_LIMITS = 17, 257, 33

#: How many times more roughly an end of swinging is solved where a limit is broken already.
ROUGHER_TIMES = 2000

#: How many faults one after the other are followed by their own parts to find an end.
PARTS_IN_TURN = 3

#: Of values that come as near to swinging, to this, the nearest miss is the one nearest to now.
AS_NEAR_SHARE = 1.01

#: Between bad places it is looked at closer where one is nearer to swinging than both its
#: neighbours by this share, so often.
HOLLOW_SHARE, HOLLOW_ROUNDS = 1e-3, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """What goes wrong at a value: a contact, a broken limit, or nothing that can be built.

    ``short`` is how far it is short: of a limit, inches; of swinging, inches
    at the strike edge. ``slab`` is the further slab that a contact is of, or
    that this one fouls as both swing; empty where it is this one's.
    """

    verdict: Verdict | None
    touch: Touch | None = None
    blocked_by: tuple[str, ...] = ()
    slab: str = ""
    limit: Limit | None = None
    short: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """An end of an interval; ``beyond`` is ``None`` where what was looked at ends."""

    value: float
    beyond: Fault | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """Values that work, both ends included."""

    low: End
    high: End

    @property
    def width(self) -> float:
        """How far its ends are apart."""
        return self.high.value - self.low.value

    def holds(self, value: float) -> bool:
        """Tell whether a value lies within it."""
        return self.low.value <= value <= self.high.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Miss:
    """Where it comes nearest to working, and what is still wrong there."""

    value: float
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The values of a measurement that work.

    ``works`` are the intervals in which the slab swings within every limit,
    each end within :data:`END_IN`; ``swings`` those in which it swings whatever
    its margins, within a thousandth of an inch (0.002 degrees) where a limit is
    broken there. Both rise. ``span`` is what was looked at, ``now`` the value
    in the scene. ``miss`` is there only where nothing works.
    """

    measurement: Measurement
    now: float
    span: tuple[float, float]
    works: tuple[Interval, ...]
    swings: tuple[Interval, ...]
    miss: Miss | None

    @property
    def works_now(self) -> bool:
        """Whether the scene is within it as it is."""
        return any(interval.holds(self.now) for interval in self.works)


class _Run(NamedTuple):
    """Neighbouring values that are good, and the bad ones just beyond; ``None`` at the span's."""

    low: float
    high: float
    below: float | None = None
    above: float | None = None


def window_of(judge: Judge) -> Window:
    """Return all the values of a judge's measurement at which the slab swings as wanted."""
    low, high = judge.measurement.span(judge.scene)
    width = END_RAD if judge.measurement.is_angle else END_IN
    limits = _limit_runs(judge, low, high)
    swings = _swing_runs(judge, _places(judge, low, high, limits), limits, width)
    works = [run for free in swings for kept in limits if (run := _both(free, kept))]
    return Window(
        measurement=judge.measurement,
        now=judge.measurement.value(judge.scene),
        span=(low, high),
        works=tuple(_interval(judge, run) for run in works),
        swings=tuple(_interval(judge, run) for run in swings),
        miss=None if works else _miss(judge, low, high, swings),
    )


def faults_of(fit: Trial | None) -> tuple[Fault, ...]:
    """Return what is wrong with a scene: its contact, else every limit that it breaks."""
    if fit is None:
        return (Fault(verdict=None),)
    if fit.swings:
        return limit_faults(fit.spares)
    decided = fit.decided
    return (
        Fault(
            verdict=decided.verdict,
            touch=decided.touch,
            blocked_by=decided.blocked_by,
            slab=decided.slab,
            short=fit.open_by,
        ),
    )


def limit_faults(spares: Spares) -> tuple[Fault, ...]:
    """Return the limits that are broken, the worst first."""
    broken = sorted(((k, spare) for k, spare in spares.items() if spare < -SLACK), key=_badness)
    return tuple(
        Fault(verdict=Verdict.SWINGS, limit=limit, short=-spare) for limit, spare in broken
    )


def _badness(limit_and_spare: tuple[Limit, float]) -> tuple[float, int]:
    """Order limits by what is left of them, and those alike by how much they matter."""
    limit, spare = limit_and_spare
    return round(spare, 6), list(Limit).index(limit)


def _interval(judge: Judge, run: _Run) -> Interval:
    return Interval(
        low=End(value=run.low, beyond=_fault_at(judge, run.below)),
        high=End(value=run.high, beyond=_fault_at(judge, run.above)),
    )


def _fault_at(judge: Judge, value: float | None) -> Fault | None:
    if value is None:
        return None
    found = judge.fit(value)
    if found is not None and found.swings:
        limit, spare = min(judge.spares(value).items(), key=_badness)
        return Fault(verdict=Verdict.SWINGS, limit=limit, short=max(-spare, 0.0))
    return faults_of(found)[0]


def _both(free: _Run, kept: _Run) -> _Run | None:
    """Return what two runs share; the bad places beyond are those of the run that ends there."""
    low, below = max((free.low, free.below), (kept.low, kept.below), key=lambda end: end[0])
    high, above = min((free.high, free.above), (kept.high, kept.above), key=lambda end: end[0])
    return _Run(low, high, below, above) if high >= low else None


def _runs(
    places: Sequence[float],
    good: Callable[[float], bool],
    end: Callable[[float, float], tuple[float, float]] = lambda inside, outside: (inside, outside),
) -> list[_Run]:
    runs = []
    low, below = places[0], None
    for here, there in pairwise(places):
        if good(here) and not good(there):
            inside, outside = end(here, there)
            runs.append(_Run(low, inside, below, outside))
        elif good(there) and not good(here):
            low, below = end(there, here)
    return [*runs, _Run(low, places[-1], below)] if good(places[-1]) else runs


def _limit_runs(judge: Judge, low: float, high: float) -> list[_Run]:
    places = _spread(low, high, PLACES_FOR_LIMITS) if high > low else [low]
    rows = [judge.spares(place) for place in places]
    crossings: set[float] = set()
    for limit in rows[0]:

        def spare(value: float, limit: Limit = limit) -> float:
            return judge.spares(value)[limit] + SLACK

        for here, there in pairwise(places):
            if (spare(here) >= 0) is not (spare(there) >= 0):
                ends = (here, there) if spare(here) >= 0 else (there, here)
                crossings.update(crossing(spare, *ends, CROSSING_WIDTH))
    return _runs(sorted({*places, *crossings}), lambda value: within(judge.spares(value)))


def _places(judge: Judge, low: float, high: float, limits: Sequence[_Run]) -> list[float]:
    places = {low, high, judge.measurement.value(judge.scene)}
    for run in limits:
        places |= {run.low, (run.low + run.high) / 2, run.high}
    pointed = _plan_places(judge, low, high)
    if pointed is None:
        pointed = _spread(low, high, PLACES_IN_FULL)
    return sorted(places | set(pointed))


def _spread(low: float, high: float, count: int) -> list[float]:
    return [float(x) for x in np.linspace(low, high, count)]


def _plan_places(judge: Judge, low: float, high: float) -> list[float] | None:
    """Return where the plan turns from good to bad, both sides of it, and the middles between."""
    grid = _spread(low, high, PLACES_IN_PLAN)
    good = judge.swings_in_plan(grid)
    if good is None or high <= low:
        return None
    half = (END_RAD if judge.measurement.is_angle else END_IN) / 2.5
    turns = [
        _plan_turn(judge, grid[k], grid[k + 1], bool(good[k]))
        for k in np.flatnonzero(good[:-1] != good[1:])
    ]
    middles = [(a + b) / 2 for a, b in pairwise([low, *turns, high])]
    return [*middles, *(turn - half for turn in turns), *(turn + half for turn in turns)]


def _plan_turn(judge: Judge, low: float, high: float, good: bool) -> float:
    """Return where the plan turns between two values, by cutting into ever finer parts."""
    for _ in range(4):
        parts = _spread(low, high, 33)
        found = judge.swings_in_plan(parts)
        assert found is not None
        turned = np.flatnonzero(found[1:] != good)
        first = int(turned[0]) if len(turned) else len(parts) - 2
        low, high = parts[first], parts[first + 1]
    return (low + high) / 2


def _swing_runs(
    judge: Judge, places: Sequence[float], limits: Sequence[_Run], width: float
) -> list[_Run]:
    """Return where it swings; an end is solved to ``width`` unless a limit is broken there."""
    return _runs(
        sorted({*places, *_hollows(judge, places)}),
        judge.swings,
        lambda inside, outside: _end(judge, inside, outside, limits, width),
    )


def _end(
    judge: Judge, inside: float, outside: float, limits: Sequence[_Run], width: float
) -> tuple[float, float]:
    """Return the end between a good place and a bad one, as closely as it matters."""
    inside, outside = _turn(judge, inside, outside, width * ROUGHER_TIMES)
    low, high = sorted((inside, outside))
    if any(run.low <= high and run.high >= low for run in limits):
        return _turn(judge, inside, outside, width)
    return inside, outside


def _turn(judge: Judge, inside: float, outside: float, width: float) -> tuple[float, float]:
    """Return where swinging turns into a fault, between a place that swings and one that does not.

    The fault is followed by the parts that it is between, and what is found
    there is swung in full; where other parts touch sooner, from there on they
    are followed.
    """
    for _ in range(PARTS_IN_TURN):
        fault = judge.fit(outside)
        if fault is None or abs(outside - inside) <= width:
            break
        clear, touching = flip(partial(judge.clears, fault=fault), inside, outside, width)
        if judge.swings(touching):
            inside = touching
        elif judge.swings(clear):
            return clear, touching
        else:
            outside = clear
    return flip(judge.swings, inside, outside, width)


def _hollows(judge: Judge, places: Sequence[float]) -> Iterator[float]:
    """Yield values between bad places at which it swings after all, or comes nearest to it."""
    depths = [judge.open_by(place) for place in places]
    low = [
        k
        for k in range(1, len(places) - 1)
        if 0 < depths[k] < (1 - HOLLOW_SHARE) * min(depths[k - 1], depths[k + 1])
    ]
    for k in sorted(low, key=depths.__getitem__)[:2]:
        yield least(judge.open_by, places[k - 1], places[k + 1], rounds=HOLLOW_ROUNDS, enough=0.0)


def _miss(judge: Judge, low: float, high: float, swings: Sequence[_Run]) -> Miss:
    if swings:
        value = min((_least_short(judge, run) for run in swings), key=lambda found: found[1])[0]
        return Miss(value=value, faults=limit_faults(judge.spares(value)))
    nearest = AS_NEAR_SHARE * min(map(judge.open_by, judge.values()))
    now = judge.measurement.value(judge.scene)
    near = (value for value in judge.values() if judge.open_by(value) <= nearest)
    value = min(near, key=lambda value: abs(value - now))
    return Miss(value=value, faults=faults_of(judge.fit(value)))


def _least_short(judge: Judge, run: _Run) -> tuple[float, float]:
    """Return the value of a run whose worst broken limit is least broken, and how much it is."""

    def short(value: float) -> float:
        return max(-spare for spare in judge.spares(value).values())

    if run.high <= run.low:
        return run.low, short(run.low)
    places = _spread(run.low, run.high, PLACES_FOR_LIMITS)
    best = min(range(len(places)), key=lambda k: short(places[k]))
    low, high = places[max(best - 1, 0)], places[min(best + 1, len(places) - 1)]
    value = least(short, low, high, rounds=30, enough=-inf)
    value = min((value, places[best]), key=short)
    return value, short(value)
