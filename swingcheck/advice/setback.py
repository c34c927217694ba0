"""Where to set the jig: the setback window, one setting, and how far the jig is from it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import copysign

from swingcheck.advice.judge import Judge
from swingcheck.advice.setting import Setting, recommended
from swingcheck.advice.window import Window, window_of
from swingcheck.chance.measurements import measurement
from swingcheck.model import Scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Found
from swingcheck.swing.trial import Trial, trial
from swingcheck.units import rounded_up


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

    Raises
    ------
    GeometryError
        Where the jig's own setting cannot be built.
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
    step = judge.measurement.step(judge.scene)
    on_mark = value + copysign(rounded_up(abs(nearest - value), step), nearest - value)
    held_there = any(each.holds(on_mark) for each in window.works)
    return on_mark if held_there and judge.fits(on_mark) else nearest
