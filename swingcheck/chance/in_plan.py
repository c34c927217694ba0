"""The check in plan, for many variants of a scene at once.

A scene is *prismatic* when everything that the slab can meet stands plumb and
looks the same at every height: then its swing is a question of outlines in
plan, and thousands of variants are answered together. Three pictures hold it
all: the slab between its hinges, the slab at a hinge (mortises and leaves),
and the slab's top against the head stop.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields

import numpy as np

from swingcheck.assembly import PartKind
from swingcheck.assembly.hang import ClosedPlan, closed_plan, stop_line
from swingcheck.assembly.legs import LegPlan, leg_in_plan
from swingcheck.assembly.pins import LeafPlan, jamb_leaf_plan, slab_leaf_plan
from swingcheck.chance.outcomes import KINDS, VERDICTS, Outcomes, joined, verdicts
from swingcheck.chance.plan_sizes import PlanSizes
from swingcheck.geometry.pairs import SAME_TURN_RAD
from swingcheck.geometry.plan import CHUNK_VARIANTS, first_plan_contact, overlapping_in_plan
from swingcheck.geometry.sizes import Sizes, point
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.found import Verdict


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanOutlines:
    """Outlines about the pin (n, k, 2), the slab closed, and its margins (n,).

    ``slab`` is the slab between its hinges, ``slab_cut`` at one, ``leaf`` its
    leaf; ``fixed`` what stands between the hinges, ``leg_cut`` and
    ``jamb_leaf`` the hinge leg and its leaf at one. ``reach`` (n,) is from the
    pin to the strike edge's wide-face arris.
    """

    slab: Floats
    slab_cut: Floats
    leaf: Floats
    fixed: dict[PartKind, Floats]
    leg_cut: Floats
    jamb_leaf: Floats
    reach: Floats
    hinge_margin: Floats
    strike_margin: Floats
    hinge_stop: Floats


def plan_outlines(s: PlanSizes) -> PlanOutlines:
    """Return the outlines of n variants."""
    hinge = leg_in_plan(0, point(s.hinge_plumb, s.hinge_cross), s.hinge_twist, s.hinge_rabbet)
    far = point(s.opening_width - s.strike_plumb, s.strike_cross)
    strike = leg_in_plan(1, far, s.strike_twist, s.strike_rabbet)
    reach, lift = s.open_width / 2, s.leaf_thickness + s.closed_gap / 2
    on_jamb = jamb_leaf_plan(hinge, s.jamb_setback, s.jamb_depth)
    on_slab = slab_leaf_plan(s.thickness, s.hinge_bevel, s.slab_setback, s.slab_depth)
    pin = on_jamb.at(reach, lift)
    closed = closed_plan(stop_line(hinge, strike, s.projection), pin, on_slab.at(reach, lift))
    mark, floor, zero = on_slab.surface, on_slab.floor, np.zeros_like(s.width)
    opens = floor[0] + floor[1] * np.tan(s.hinge_bevel)
    narrow = -s.thickness
    far_corners = (
        (s.thickness * np.tan(s.hinge_bevel), narrow),
        (s.width - s.thickness * np.tan(s.strike_bevel), narrow),
        (s.width, zero),
    )
    run, thick = reach - s.barrel / 2, s.leaf_thickness
    slab_leaf = _ring(on_slab, (zero, zero), (run, zero), (run, thick), (zero, thick))
    jamb_leaf = _ring(on_jamb, (run, thick), (run, zero), (zero, zero), (zero, thick))
    face = closed.at(zero, narrow) - hinge.at(s.hinge_rabbet, s.projection / 2)
    about = pin.T[:, None, :]
    return PlanOutlines(
        slab=_ring(closed, (zero, zero), *far_corners) - about,
        slab_cut=_ring(closed, (opens, zero), tuple(floor), tuple(mark), *far_corners) - about,
        leaf=closed.at(slab_leaf[..., 0].T, slab_leaf[..., 1].T).T - about,
        fixed={kind: outline - about for kind, outline in _fixed(s, hinge, strike)},
        leg_cut=_leg_at_hinge(s, hinge) - about,
        jamb_leaf=jamb_leaf - about,
        reach=np.hypot(*(closed.at(s.width, zero) - pin)),
        hinge_margin=hinge.gap(closed.at(zero, zero)),
        strike_margin=strike.gap(closed.at(s.width, zero)),
        hinge_stop=(face * closed.out).sum(axis=0),
    )


def _ring(frame: LegPlan | LeafPlan | ClosedPlan, *corners: tuple[Sizes, ...]) -> Floats:
    """Return an outline (n, k, 2) told in a leg's, a leaf's or the slab's own directions."""
    return np.stack([frame.at(x, y).T for x, y in corners], axis=1)


def _fixed(s: PlanSizes, hinge: LegPlan, strike: LegPlan) -> Iterator[tuple[PartKind, Floats]]:
    """Yield what stands between the hinges, and the head stop, opening frame."""
    zero = np.zeros_like(s.width)

    def box(leg: LegPlan, near: Floats, far: Floats, low: Floats, high: Floats) -> Floats:
        ring = _ring(leg, (near, high), (near, low), (far, low), (far, high))
        return ring if leg is hinge else ring[:, ::-1]

    yield PartKind.HINGE_LEG, box(hinge, zero, s.depth, -s.stock, zero)
    yield PartKind.STRIKE_LEG, box(strike, zero, s.depth, -s.stock, zero)
    if s.projection.max() > 0:
        for kind, leg in ((PartKind.HINGE_STOP, hinge), (PartKind.STRIKE_STOP, strike)):
            yield kind, box(leg, leg.rabbet, leg.rabbet + s.stop_width, zero, s.projection)
        near, far = s.head_rabbet, s.head_rabbet_strike
        on_hinge = _ring(hinge, (near, zero), (near + s.stop_width, zero))
        on_strike = _ring(strike, (far + s.stop_width, zero), (far, zero))
        yield PartKind.HEAD_STOP, np.concatenate([on_hinge, on_strike], axis=1)


def _leg_at_hinge(s: PlanSizes, leg: LegPlan) -> Floats:
    """Return the hinge leg with its mortise, opening frame."""
    zero, buried, floor = np.zeros_like(s.width), s.hinge_rabbet - s.jamb_setback, -s.jamb_depth
    return _ring(
        leg,
        (zero, floor),
        (zero, -s.stock),
        (s.depth, -s.stock),
        (s.depth, zero),
        (buried, zero),
        (buried, floor),
    )


def in_plan(scene: Scene, sizes: PlanSizes) -> Outcomes:
    """Return what n variants of a prismatic scene come to, given as their sizes in plan.

    Where the swing starts and where the slab is seated are the scene's, and so
    is the slab's head margin.
    """
    split = [
        _rows(sizes, slice(low, low + CHUNK_VARIANTS))
        for low in range(0, len(sizes.width), CHUNK_VARIANTS)
    ]
    return joined([_outcomes(scene, part) for part in split])


def _rows(sizes: PlanSizes, part: slice) -> PlanSizes:
    return PlanSizes(**{own.name: getattr(sizes, own.name)[part] for own in fields(sizes)})


def _outcomes(scene: Scene, sizes: PlanSizes) -> Outcomes:
    outlines = plan_outlines(sizes)
    met = _met(scene, outlines, sizes.projection)
    opening = 2 * outlines.reach * np.sin(np.nan_to_num(met.angle) / 2)
    verdict = verdicts(scene, outlines.hinge_stop, met.against, opening)
    verdict[met.blocked] = VERDICTS.index(Verdict.BLOCKED)
    swings = verdict == VERDICTS.index(Verdict.SWINGS)
    none = np.full(len(opening), np.nan)
    return Outcomes(
        angle=np.where(swings | met.blocked, np.nan, met.angle),
        short=np.where(met.blocked, np.nan, np.where(swings, 0.0, opening)),
        verdict=verdict,
        against=np.where(swings | met.blocked, -1, met.against),
        hinge_margin=outlines.hinge_margin,
        strike_margin=outlines.strike_margin,
        hinge_stop=outlines.hinge_stop if scene.stop else none,
        alone=np.zeros(len(opening), dtype=bool),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Met:
    """First contacts (n,): angle, nan for none; kind, -1 for none; and what starts blocked."""

    angle: Floats
    against: Ints
    blocked: Bools


def _met(scene: Scene, outlines: PlanOutlines, projection: Floats) -> _Met:
    """Return what is met at any height: between the hinges, at a hinge, or along the head."""
    fixed = dict(outlines.fixed)
    head_stop = fixed.pop(PartKind.HEAD_STOP, None)
    rest = [*fixed.values(), outlines.leg_cut, outlines.jamb_leaf]
    kinds = [*fixed, PartKind.HINGE_LEG, PartKind.JAMB_LEAF]
    slab, cut, leaf = range(3)
    pairs = [(slab, j) for j in range(len(fixed))]
    pairs += [(mover, len(fixed) + j) for j in range(2) for mover in (cut, leaf)]
    if PartKind.HINGE_STOP in fixed:
        pairs.append((leaf, kinds.index(PartKind.HINGE_STOP)))
    moving = [outlines.slab, outlines.slab_cut, outlines.leaf]
    met = _turned_in(moving, rest, kinds, pairs, scene)
    if head_stop is None:
        return met
    low = np.flatnonzero(scene.slab.head_margin < projection)
    if len(low):
        under = _turned_in(
            [outlines.slab[low]], [head_stop[low]], [PartKind.HEAD_STOP], [(0, 0)], scene
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
