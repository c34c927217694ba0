"""The check in plan, for many variants of a scene at once.

A scene is *prismatic* when everything that the slab can meet stands plumb and
looks the same at every height: then its swing is a question of outlines in
plan, and thousands of variants are answered together. Three pictures hold it
all: the slab between its hinges, the slab at a hinge (mortises and leaves),
and the slab's top against the head stop.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.assembly import PartKind
from swingcheck.chance.plan_outline import PlanPicture, plan_picture
from swingcheck.chance.plan_sizes import PLAN_KEYS, PlanSizes, plan_sizes, why_not_prismatic
from swingcheck.geometry.pairs import SAME_TURN_RAD
from swingcheck.geometry.plan import CHUNK, first_plan_contact, overlapping_in_plan
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.found import Verdict
from swingcheck.swing.verdict import STOPS, VERDICTS, verdict_of

__all__ = ["PLAN_KEYS", "PlanResult", "checked_sizes", "plan_check", "why_not_prismatic"]

KINDS = tuple(PartKind)


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
    kinds: tuple[PartKind, ...] = KINDS
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
    return checked_sizes(scene, sizes.with_values(varied, count))


def checked_sizes(scene: Scene, sizes: PlanSizes) -> PlanResult:
    """Return what n variants of a prismatic scene come to, given as their sizes in plan.

    Where the swing starts and where the slab is seated are the scene's, and so
    is the slab's head margin.
    """
    parts = [_result(scene, plan_picture(part)) for part in sizes.split(CHUNK)]

    def whole(name: str) -> Any:
        return np.concatenate([getattr(part, name) for part in parts])

    return PlanResult(
        angle=whole("angle"),
        against=whole("against"),
        opening_at_strike=whole("opening_at_strike"),
        verdict=whole("verdict"),
        hinge_margin=whole("hinge_margin"),
        strike_margin=whole("strike_margin"),
        hinge_stop=whole("hinge_stop"),
    )


def _result(scene: Scene, picture: PlanPicture) -> PlanResult:
    met = _met(scene, picture)
    angle = np.where(met.blocked, np.nan, met.angle)
    opening = 2 * picture.reach * np.sin(np.nan_to_num(angle) / 2)
    return PlanResult(
        angle=angle,
        against=np.where(met.blocked, -1, met.against),
        opening_at_strike=opening,
        verdict=_verdicts(scene, picture.hinge_stop, met, opening),
        hinge_margin=picture.hinge_margin,
        strike_margin=picture.strike_margin,
        hinge_stop=picture.hinge_stop,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Met:
    """First contacts (n,): angle, nan for none; kind, -1 for none; and what starts blocked."""

    angle: Floats
    against: Ints
    blocked: Bools


def _met(scene: Scene, picture: PlanPicture) -> _Met:
    """Return what is met at any height: between the hinges, at a hinge, or along the head."""
    fixed = dict(picture.fixed)
    head_stop = fixed.pop(PartKind.HEAD_STOP, None)
    outlines = [*fixed.values(), picture.leg_cut, picture.jamb_leaf]
    kinds = [*fixed, PartKind.HINGE_LEG, PartKind.JAMB_LEAF]
    slab, cut, leaf = range(3)
    pairs = [(slab, j) for j in range(len(fixed))]
    pairs += [(mover, len(fixed) + j) for j in range(2) for mover in (cut, leaf)]
    if PartKind.HINGE_STOP in fixed:
        pairs.append((leaf, kinds.index(PartKind.HINGE_STOP)))
    met = _turned_in([picture.slab, picture.slab_cut, picture.leaf], outlines, kinds, pairs, scene)
    if head_stop is None:
        return met
    low = np.flatnonzero(scene.slab.head_margin < picture.projection)
    if len(low):
        under = _turned_in(
            [picture.slab[low]], [head_stop[low]], [PartKind.HEAD_STOP], [(0, 0)], scene
        )
        before = np.nan_to_num(met.angle[low], nan=-1.0)
        sooner = np.nan_to_num(under.angle, nan=-1.0) > before + SAME_TURN_RAD
        met.angle[low[sooner]] = under.angle[sooner]
        met.against[low[sooner]] = under.against[sooner]
        met.blocked[low] |= under.blocked
    return met


def _turned_in(
    moving: Sequence[Floats],
    fixed: Sequence[Floats],
    kinds: Sequence[PartKind],
    pairs: Sequence[tuple[int, int]],
    scene: Scene,
) -> _Met:
    start = scene.swing.start
    found = first_plan_contact(moving, fixed, start=start, stop=0.0, pairs=pairs)
    index = np.array([*(KINDS.index(kind) for kind in kinds), -1])
    return _Met(
        angle=found.angle,
        against=index[found.fixed],
        blocked=overlapping_in_plan(moving, fixed, start, pairs=pairs),
    )


def _verdicts(scene: Scene, hinge_stop: Floats, met: _Met, opening: Floats) -> Ints:
    words = tuple(Verdict)
    verdict = np.full(len(opening), words.index(Verdict.SWINGS), dtype=np.int64)
    for k, kind in enumerate(PartKind):
        if kind not in VERDICTS:
            continue
        hit = met.against == k
        if kind in STOPS:
            hit &= opening > scene.swing.seat
        for into_stop, gap in ((False, 0.0), (True, -1.0)):
            verdict[hit & ((hinge_stop < 0) == into_stop)] = words.index(verdict_of(kind, gap))
    verdict[met.blocked] = words.index(Verdict.BLOCKED)
    return verdict
