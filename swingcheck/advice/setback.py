"""Which value to take of those that work, where to set the jig, and how far the jig is from it.

A setting is a mark of the tape with room on both sides of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import copysign

from swingcheck.advice.judge import Judge
from swingcheck.advice.sure import is_sure, share_of
from swingcheck.advice.window import Interval, Window, window_of
from swingcheck.chance.measurements import measurement
from swingcheck.chance.risk import Share
from swingcheck.chance.spans import marks
from swingcheck.model import Scene
from swingcheck.swing.check import check
from swingcheck.swing.fit import FEWEST_TOLD, SURE
from swingcheck.swing.found import Found
from swingcheck.swing.trial import Trial, trial
from swingcheck.units import rounded_down, rounded_up

#: How far in from each end a coarse mark has to be, as a share of the interval.
COMFORT_SHARE = 1 / 4

#: A mark no farther than this from the value now is the value now, inches or radians.
SAME_SETTING = 1e-9

#: Shares of doors that swing which differ by no more than this are as good as each other.
AS_SURE = 0.02

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


def divisions(judge: Judge) -> tuple[float, ...]:
    """Return the steps that a setting is rounded to, the coarsest first."""
    step = judge.measurement.step(judge.scene)
    if judge.measurement.is_angle or judge.measurement.mark:
        return (step,)
    return 2 * step, step


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
    wherever one works, ``None`` where none does. ``share`` is how many doors swing with
    the setting as they will be, ``share_now`` with what it is now where that works;
    ``None`` where it is not known.
    """

    scene: Scene
    side: str
    window: Window
    setting: Setting | None
    result: Found | None
    now: float
    at_now: Trial
    least: float | None
    share: Share | None = None
    share_now: Share | None = None

    @property
    def is_sure(self) -> bool:
        """Whether a setting works, and often enough as far as that is known."""
        return self.setting is not None and (self.share is None or is_sure(self.share))

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
    shares: dict[float, Share | None] = {}
    if setting is not None:
        setting, shares = surest(judge, replace(found, now=now), setting)
    return Setback(
        scene=scene,
        side=side,
        window=found,
        setting=setting,
        result=check(setting.fit.scene) if setting else None,
        now=now,
        at_now=trial(free.changed(scene, now), judge.variants),
        least=_nearest(judge, found, now),
        share=shares.get(setting.value) if setting else None,
        share_now=shares.get(now),
    )


def surest(
    judge: Judge, window: Window, setting: Setting
) -> tuple[Setting, dict[float, Share | None]]:
    """Return the setting with which most doors swing as they will be, and the shares known.

    Of those as good what it is set to now, else what stands nearest to ``setting``; which
    it stays where no mark is sure: something else is at fault.
    """
    shares = {setting.value: share_of(judge.at(setting.value))}
    first = shares[setting.value]
    if first is None or first.drawn < FEWEST_TOLD:
        return setting, shares
    step = judge.measurement.step(judge.scene)
    tried = {setting.value: setting}
    for each in window.works:
        values = marks(each.low.value, each.high.value, step)
        values += [window.now] if each.holds(window.now) else []
        for value in values:
            fit = judge.fit(value)
            if value not in tried and fit is not None and judge.fits(value):
                tried[value] = Setting(value=value, step=step, interval=each, fit=fit)
                shares[value] = share_of(judge.at(value))
    told = {value: share.swinging for value, share in shares.items() if share is not None}
    if max(told.values()) < SURE:
        return setting, shares
    good = [value for value in told if told[value] >= max(told.values()) - AS_SURE]
    best = min(good, key=lambda each: (each != window.now, abs(each - setting.value)))
    return tried[best], shares


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
