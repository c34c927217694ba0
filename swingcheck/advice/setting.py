"""The one setting to take from a window: a mark of the tape with room on both sides of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from swingcheck.advice.judge import Judge
from swingcheck.advice.window import Interval, Window
from swingcheck.swing.trial import Trial
from swingcheck.units import MM_PER_INCH

#: How far in from each end a coarse mark has to be, as a share of the interval.
COMFORT = 1 / 4

#: A mark no farther than this from the value now is the value now, inches or radians.
SAME = 1e-9

#: What a setting is rounded to where no mark of the tape falls within a window, inches.
GAUGE, GAUGE_MM = 1 / 1000, 0.02 / MM_PER_INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One value of a free measurement, swung in full as it is rounded.

    ``step`` is the division that it was rounded to, and ``room`` how far it is
    from the nearer end of its interval that is an end of what works.
    """

    value: float
    step: float
    interval: Interval
    fit: Trial

    @property
    def room(self) -> float | None:
        """How far the nearer real end of its interval is; ``None`` where it has none."""
        ends = [end.value for end in (self.interval.low, self.interval.high) if end.beyond]
        return min((abs(self.value - end) for end in ends), default=None)


def recommended(
    judge: Judge, window: Window, tolerance: float = 0.0, *, stay: bool = False
) -> Setting | None:
    """Return the setting to take, or ``None`` where nothing works.

    Between two ends it is the mark nearest the middle, of the coarsest division
    that has one in the middle half; with ``stay`` it is what it is now where
    that is a mark clear of both. Inside a single end it stays where that is
    clear of the end by ``tolerance``, or else is the first mark that is; where
    no end was found it stays.

    Every mark is swung in full before it is returned.
    """
    for interval in _likely_first(window):
        for value, step in _candidates(judge, window, interval, tolerance, stay):
            value = window.now if abs(value - window.now) < SAME else value
            found = judge.fit(value)
            if found is not None and judge.fits(value) and interval.holds(value):
                return Setting(value=value, step=step, interval=interval, fit=found)
    return None


def _likely_first(window: Window) -> list[Interval]:
    """Return the intervals that work, what holds the value now first, then the widest."""
    return sorted(window.works, key=lambda each: (not each.holds(window.now), -each.width))


def _candidates(
    judge: Judge, window: Window, interval: Interval, tolerance: float, stay: bool
) -> Iterator[tuple[float, float]]:
    steps = divisions(judge)
    low, high = interval.low.value, interval.high.value
    if interval.low.beyond and interval.high.beyond:
        mark = judge.measurement.step(judge.scene)
        if stay and low + mark <= window.now <= high - mark:
            yield window.now, 0.0
        yield from _about_the_middle(window, interval, steps)
    else:
        clear_low = low + tolerance if interval.low.beyond else low
        clear_high = high - tolerance if interval.high.beyond else high
        if clear_low <= window.now <= clear_high:
            yield window.now, steps[-1]
        for step in steps:
            if interval.high.beyond:
                yield floor(clear_high / step + 1e-9) * step, step
            else:
                yield ceil(clear_low / step - 1e-9) * step, step
    yield (low + high) / 2, 0.0


def divisions(judge: Judge) -> tuple[float, ...]:
    """Return the steps that a setting is rounded to, the coarsest first."""
    step = judge.measurement.step(judge.scene)
    if judge.measurement.is_angle or judge.measurement.mark:
        return (step,)
    gauge = GAUGE_MM if judge.scene.unit == "mm" else GAUGE
    return 2 * step, step, gauge


def _about_the_middle(
    window: Window, interval: Interval, steps: tuple[float, ...]
) -> Iterator[tuple[float, float]]:
    """Yield marks within the interval, the comfortable ones first, nearest the middle first."""
    low, high = interval.low.value, interval.high.value
    middle, comfort = (low + high) / 2, COMFORT * (high - low)
    for inset in (comfort, 0.0):
        for step in steps:
            first, last = ceil((low + inset) / step - 1e-9), floor((high - inset) / step + 1e-9)
            marks = [k * step for k in range(first, last + 1)][:4096]
            marks.sort(key=lambda mark: _rank(mark, middle, step, window.now))
            for mark in marks[:8]:
                yield mark, step


def _rank(mark: float, middle: float, step: float, now: float) -> tuple[int, float]:
    """Order marks: nearest the middle; of two that are equally near the one nearer to now."""
    return round(abs(mark - middle) / step * 2), abs(mark - now)
