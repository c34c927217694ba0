"""The check in plan, for many variants of a scene at once.

A scene is *prismatic* when everything that the slab can meet stands plumb and
looks the same at every height: then its swing is a question of outlines in
plan, and thousands of variants are answered together. Three pictures hold it
all: the slab between its hinges, the slab at a hinge (mortises and leaves),
and the slab's top against the head stop.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

import numpy as np

from swingcheck.analysis.plan_picture import PlanPicture, plan_picture
from swingcheck.analysis.plan_sizes import PLAN_KEYS, PlanSizes, plan_sizes, why_not_prismatic
from swingcheck.analysis.result import Verdict
from swingcheck.analysis.verdict import STOPS, VERDICTS, verdict_of
from swingcheck.assembly import PartKind
from swingcheck.geometry.plan import first_plan_contact, overlapping_in_plan
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene

__all__ = ["PLAN_KEYS", "PlanResult", "plan_check", "why_not_prismatic"]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanResult:
    """What n variants come to.

    ``angle`` (n,) is the closing contact, radians, nan for none; ``against``
    (n,) indexes ``kinds``, -1 for none; ``opening_at_strike`` (n,) inches, 0
    for none; ``verdict`` (n,) indexes ``verdicts``; ``strike_margin``,
    ``hinge_margin`` and ``hinge_stop`` (n,) are the closed slab's, inches.
    """

    angle: Floats
    against: Ints
    opening_at_strike: Floats
    verdict: Ints
    hinge_margin: Floats
    strike_margin: Floats
    hinge_stop: Floats
    kinds: tuple[PartKind, ...]
    verdicts: tuple[Verdict, ...] = tuple(Verdict)

    @property
    def swings(self) -> Bools:
        """Tell (n,) which variants swing."""
        found: Bools = self.verdict == self.verdicts.index(Verdict.SWINGS)
        return found


def plan_check(scene: Scene, changes: Mapping[str, Floats]) -> PlanResult:
    """Return what variants of a prismatic scene come to.

    Parameters
    ----------
    scene : Scene
        The scene that the variants change.
    changes : mapping of str to (n,) float64
        For each key of ``PLAN_KEYS`` that varies, its value in every variant,
        inches or radians.
    """
    sizes = plan_sizes(scene)
    count = max((len(values) for values in changes.values()), default=1)
    varied = {name: values for key, values in changes.items() for name in PLAN_KEYS[key]}
    full = {
        f.name: np.broadcast_to(varied.get(f.name, getattr(sizes, f.name)), (count,))
        for f in fields(sizes)
    }
    return _result(scene, plan_picture(PlanSizes(**full)))


def _layers(
    scene: Scene, picture: PlanPicture
) -> list[tuple[list[Floats], list[Floats], list[PartKind]]]:
    """Return what can meet at one height: moving outlines, fixed ones, and their kinds."""
    fixed = dict(picture.fixed)
    head_stop = fixed.pop(PartKind.HEAD_STOP, None)
    layers = [([picture.slab], list(fixed.values()), list(fixed))]
    at_hinge = [picture.leg_cut, picture.jamb_leaf]
    kinds = [PartKind.HINGE_LEG, PartKind.JAMB_LEAF]
    layers.append(([picture.slab_cut, picture.leaf], at_hinge, kinds))
    if PartKind.HINGE_STOP in fixed:
        stop = [fixed[PartKind.HINGE_STOP]]
        layers.append(([picture.leaf], stop, [PartKind.HINGE_STOP]))
    if head_stop is not None and scene.stop and scene.slab.head_margin < scene.stop.projection:
        layers.append(([picture.slab], [head_stop], [PartKind.HEAD_STOP]))
    return layers


def _result(scene: Scene, picture: PlanPicture) -> PlanResult:
    start = scene.swing.start
    kinds = tuple(PartKind)
    angle = np.full(len(picture.reach), np.nan)
    against = np.full(len(picture.reach), -1, dtype=np.int64)
    blocked = np.zeros(len(picture.reach), dtype=np.bool_)
    for moving, fixed, owners in _layers(scene, picture):
        found = first_plan_contact(moving, fixed, start=start, stop=0.0)
        later = np.nan_to_num(found.angle, nan=-1.0) > np.nan_to_num(angle, nan=-1.0) + 1e-9
        angle[later] = found.angle[later]
        index = np.array([kinds.index(owner) for owner in owners])
        against[later] = index[found.fixed[later]]
        blocked |= overlapping_in_plan(moving, fixed, start)
    opening = 2 * picture.reach * np.sin(np.nan_to_num(angle) / 2)
    return PlanResult(
        angle=np.where(blocked, np.nan, angle),
        against=np.where(blocked, -1, against),
        opening_at_strike=opening,
        verdict=_verdicts(scene, picture.hinge_stop, against, opening, blocked),
        hinge_margin=picture.hinge_margin,
        strike_margin=picture.strike_margin,
        hinge_stop=picture.hinge_stop,
        kinds=kinds,
    )


def _verdicts(
    scene: Scene, hinge_stop: Floats, against: Ints, opening: Floats, blocked: Bools
) -> Ints:
    words = tuple(Verdict)
    verdict = np.full(len(against), words.index(Verdict.SWINGS), dtype=np.int64)
    for k, kind in enumerate(PartKind):
        if kind not in VERDICTS:
            continue
        hit = against == k
        if kind in STOPS:
            hit &= opening > scene.swing.seat
        for into_stop, gap in ((False, 0.0), (True, -1.0)):
            verdict[hit & ((hinge_stop < 0) == into_stop)] = words.index(verdict_of(kind, gap))
    verdict[blocked] = words.index(Verdict.BLOCKED)
    return verdict
