"""Which value to take of those that work, where to set the jig, and how far the jig is from it.

A setting is a mark of the tape with room on both sides of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import copysign

from swingcheck.advice.judge import Judge
from swingcheck.advice.window import Interval, Window, window_of
from swingcheck.chance.measurements import measurement
from swingcheck.chance.spans import marks
from swingcheck.model import Scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Found
from swingcheck.swing.trial import Trial, trial
from swingcheck.units import MM_PER_INCH, rounded_down, rounded_up

#: How far in from each end a coarse mark has to be, as a share of the interval.
COMFORT_SHARE = 1 / 4

#: A mark no farther than this from the value now is the value now, inches or radians.
SAME_SETTING = 1e-9

#: What a setting is rounded to where no mark of the tape falls within a window.
GAUGE_IN = {"in": 1 / 1000, "mm": 0.02 / MM_PER_INCH}

#: How many marks of a division are ranked, and how many of them are swung.
MOST_MARKS, NEAREST_MARKS = 4096, 8


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
    for interval in sorted(
        window.works, key=lambda each: (not each.holds(window.now), -each.width)
    ):
        for value, step in _candidates(judge, window, interval, tolerance, stay):
            value = window.now if abs(value - window.now) < SAME_SETTING else value
            found = judge.fit(value)
            if found is not None and judge.fits(value) and interval.holds(value):
                return Setting(value=value, step=step, interval=interval, fit=found)
    return None


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
                yield rounded_down(clear_high, step), step
            else:
                yield rounded_up(clear_low, step), step
    yield (low + high) / 2, 0.0


def divisions(judge: Judge) -> tuple[float, ...]:
    """Return the steps that a setting is rounded to, the coarsest first."""
    step = judge.measurement.step(judge.scene)
    if judge.measurement.is_angle or judge.measurement.mark:
        return (step,)
    return 2 * step, step, GAUGE_IN[judge.scene.unit]


def _about_the_middle(
    window: Window, interval: Interval, steps: tuple[float, ...]
) -> Iterator[tuple[float, float]]:
    """Yield marks within the interval, the comfortable ones first, nearest the middle first."""
    low, high = interval.low.value, interval.high.value
    middle, comfort = (low + high) / 2, COMFORT_SHARE * (high - low)
    for inset in (comfort, 0.0):
        for step in steps:
            inside = marks(low + inset, high - inset, step)[:MOST_MARKS]
            inside.sort(
                key=lambda mark: (round(abs(mark - middle) / step * 2), abs(mark - window.now))
            )
            for mark in inside[:NEAREST_MARKS]:
                yield mark, step


@dataclass(frozen=True, slots=True, kw_only=True)
class Setback:
    """Where to set the jig for one side's leaves.

    ``side`` is ``"slab"`` or ``"jamb"``. ``setting`` is ``None`` where no
    setback works; ``result`` is the whole check at the setting. ``now`` is
    what the jig is set to, or where nothing was said of a jig what the scene
    has, and ``at_now`` what that comes to. ``least`` is the working setback
    nearest to it: itself where it works, else a whole number of marks from it
    wherever one works, ``None`` where none does.
    """

    scene: Scene
    side: str
    window: Window
    setting: Setting | None
    result: Found | None
    now: float
    at_now: Trial
    least: float | None

    @property
    def has_jig(self) -> bool:
        """Whether the scene says what the jig is set to."""
        return self.side == "slab" and self.scene.shop.jig_setback is not None


def setback(scene: Scene, side: str = "slab") -> Setback:
    """Return where to set the jig for the leaves of the slab, or of the jamb.

    Raises GeometryError where the jig's own setting cannot be built.
    """
    free = measurement(scene, f"hinge.{side}.setback")
    judge = Judge(scene, free)
    found = window_of(judge)
    jig = scene.shop.jig_setback if side == "slab" else None
    now = free.value(scene) if jig is None else jig
    setting = recommended(judge, replace(found, now=now), scene.shop.setback_tolerance)
    return Setback(
        scene=scene,
        side=side,
        window=found,
        setting=setting,
        result=check(setting.fit.scene) if setting else None,
        now=now,
        at_now=trial(free.changed(scene, now), judge.variants),
        least=_nearest(judge, found, now),
    )


def _nearest(judge: Judge, window: Window, value: float) -> float | None:
    """Return the working value nearest to a value, on a mark from there if one works."""
    held = [min(max(value, each.low.value), each.high.value) for each in window.works]
    nearest = min(held, key=lambda each: abs(each - value), default=None)
    if nearest is None or nearest == value:
        return nearest
    return on_mark(judge, window, value, nearest)


def on_mark(judge: Judge, window: Window, start: float, end: float) -> float:
    """Return an end of what works, or the first whole mark from ``start`` past it that works."""
    step = judge.measurement.step(judge.scene)
    mark = start + copysign(rounded_up(abs(end - start), step), end - start)
    works = any(each.holds(mark) for each in window.works)
    return mark if works and judge.fits(mark) else end
