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

from swingcheck.analysis.result import Verdict
from swingcheck.analysis.verdict import STOPS, VERDICTS
from swingcheck.assembly import PartKind
from swingcheck.assembly.slab import slab_bottom
from swingcheck.geometry.plan import first_plan_contact, overlapping_in_plan
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import EdgeShape, Scene

#: The scene's keys that a plan can vary, and the sizes that each one sets.
PLAN_KEYS: dict[str, tuple[str, ...]] = {
    "opening.width": ("opening_width",),
    "opening.rabbet": ("hinge_rabbet", "strike_rabbet", "head_rabbet", "head_rabbet_strike"),
    "opening.rabbet.hinge": ("hinge_rabbet",),
    "opening.rabbet.strike": ("strike_rabbet",),
    "opening.hinge_leg.twist": ("hinge_twist",),
    "opening.strike_leg.twist": ("strike_twist",),
    "stop.projection": ("projection",),
    "slab.width": ("width",),
    "slab.thickness": ("thickness",),
    "slab.hinge_edge.bevel": ("hinge_bevel",),
    "slab.strike_edge.bevel": ("strike_bevel",),
    "hinge.open_width": ("open_width",),
    "hinge.closed_gap": ("closed_gap",),
    "hinge.leaf_thickness": ("leaf_thickness",),
    "hinge.jamb.setback": ("jamb_setback",),
    "hinge.jamb.depth": ("jamb_depth",),
    "hinge.slab.setback": ("slab_setback",),
    "hinge.slab.depth": ("slab_depth",),
}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanSizes:
    """What a prismatic scene comes to in plan: (n,) float64 each, inches and radians."""

    opening_width: Floats
    hinge_plumb: Floats
    strike_plumb: Floats
    hinge_cross: Floats
    strike_cross: Floats
    hinge_twist: Floats
    strike_twist: Floats
    hinge_rabbet: Floats
    strike_rabbet: Floats
    head_rabbet: Floats
    head_rabbet_strike: Floats
    depth: Floats
    stock: Floats
    projection: Floats
    stop_width: Floats
    width: Floats
    thickness: Floats
    hinge_bevel: Floats
    strike_bevel: Floats
    open_width: Floats
    leaf_thickness: Floats
    closed_gap: Floats
    barrel: Floats
    jamb_setback: Floats
    jamb_depth: Floats
    slab_setback: Floats
    slab_depth: Floats


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


def why_not_prismatic(scene: Scene) -> str:
    """Return what keeps a scene from being answered in plan, in trade words; empty when it can."""
    opening, slab, hinge, floor = scene.opening, scene.slab, scene.hinge, scene.floor
    legs = (opening.hinge_leg, opening.strike_leg)
    stations = [opening.width, slab.width, opening.rabbet.hinge, opening.rabbet.strike]
    stations += [part for leg in legs for part in (leg.plumb, leg.cross, leg.twist)]
    layouts = [(side.setbacks, side.depths) for side in (hinge.jamb, hinge.slab)]
    tops = zip(hinge.jamb.tops, hinge.slab.tops, strict=True)
    shapes = (slab.hinge_edge.shape, slab.strike_edge.shape)
    reasons = {
        "a measurement differs from top to bottom": any(len(set(s)) > 1 for s in stations),
        "the hinges are not let in alike": any(len(set(v)) > 1 for pair in layouts for v in pair),
        "the leaves of a hinge do not stand at one height": any(
            abs(jamb - own - slab.head_margin) > 1e-9 for jamb, own in tops
        ),
        "the head or the slab's top is not level": len({*opening.height}) > 1
        or len({*slab.height}) > 1
        or len(opening.rabbet.head) > 2,
        "the slab touches the head": slab.head_margin <= 0,
        "the floor is not level or touches the slab": bool(floor.across or floor.out)
        or bool(floor.profile)
        or slab_bottom(scene) <= floor.covering,
        "an edge is round": EdgeShape.RADIUS in shapes,
        "screw heads stand proud": hinge.screw_proud > 0,
        "something stands in the room": bool(scene.obstacles),
        "it has to open farther than closing starts": scene.swing.wanted > scene.swing.start + 1e-9,
    }
    return next((reason for reason, found in reasons.items() if found), "")


def plan_sizes(scene: Scene) -> PlanSizes:
    """Return a prismatic scene's sizes in plan, one variant.

    Raises
    ------
    ValueError
        Where the scene is not prismatic.
    """
    reason = why_not_prismatic(scene)
    if reason:
        raise ValueError(f"not to be answered in plan: {reason}")
    opening, slab, hinge, stop = scene.opening, scene.slab, scene.hinge, scene.stop
    sizes = {
        "opening_width": opening.width[0],
        "hinge_plumb": opening.hinge_leg.plumb[0],
        "strike_plumb": opening.strike_leg.plumb[0]
        if len(opening.width) == 1
        else -opening.hinge_leg.plumb[0],
        "hinge_cross": opening.hinge_leg.cross[0],
        "strike_cross": opening.strike_leg.cross[0],
        "hinge_twist": opening.hinge_leg.twist[0],
        "strike_twist": opening.strike_leg.twist[0],
        "hinge_rabbet": opening.rabbet.hinge[0],
        "strike_rabbet": opening.rabbet.strike[0],
        "head_rabbet": opening.rabbet.head[0],
        "head_rabbet_strike": opening.rabbet.head[-1],
        "depth": opening.depth,
        "stock": opening.thickness,
        "projection": stop.projection if stop else 0.0,
        "stop_width": stop.width if stop else 0.0,
        "width": slab.width[0],
        "thickness": slab.thickness,
        "hinge_bevel": slab.hinge_edge.bevel,
        "strike_bevel": slab.strike_edge.bevel,
        "open_width": hinge.open_width,
        "leaf_thickness": hinge.leaf_thickness,
        "closed_gap": hinge.closed_gap,
        "barrel": hinge.barrel,
        "jamb_setback": hinge.jamb.setbacks[0],
        "jamb_depth": hinge.jamb.depths[0],
        "slab_setback": hinge.slab.setbacks[0],
        "slab_depth": hinge.slab.depths[0],
    }
    return PlanSizes(**{name: np.array([float(value)]) for name, value in sizes.items()})


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
    return _result(scene, _picture(PlanSizes(**full)))


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Picture:
    """Outlines about the pin (n, k, 2) and what margins need."""

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


class _Leg:
    """A leg in plan for n variants: points along its face and out of it."""

    def __init__(self, edge: Floats, twist: Floats, side: float) -> None:
        self.edge = edge
        self.along = np.stack([side * np.sin(twist), -np.cos(twist)], axis=1)
        self.normal = np.stack([side * np.cos(twist), np.sin(twist)], axis=1)

    def at(self, along: Floats | float, out: Floats | float) -> Floats:
        """Return the points (n, 2)."""
        return self.edge + _times(along, self.along) + _times(out, self.normal)

    def box(self, near: Floats, far: Floats, low: Floats | float, high: Floats | float) -> Floats:
        """Return the corners (n, 4, 2), counter-clockwise on the hinge side."""
        places = ((near, high), (near, low), (far, low), (far, high))
        return np.stack([self.at(along, out) for along, out in places], axis=1)


def _times(size: Floats | float, direction: Floats) -> Floats:
    return np.asarray(size, dtype=np.float64)[..., None] * direction


def _picture(s: PlanSizes) -> _Picture:
    hinge = _Leg(np.stack([s.hinge_plumb, s.hinge_cross], axis=1), s.hinge_twist, 1.0)
    far = s.opening_width - s.strike_plumb
    strike = _Leg(np.stack([far, s.strike_cross], axis=1), s.strike_twist, -1.0)
    lift = s.leaf_thickness + s.closed_gap / 2
    pin = hinge.at(s.hinge_rabbet - s.jamb_setback - s.open_width / 2, lift - s.jamb_depth)
    line = strike.at(s.strike_rabbet, s.projection / 2) - hinge.at(
        s.hinge_rabbet, s.projection / 2
    )
    closed = _Slab(s, line / np.hypot(line[:, 0], line[:, 1])[:, None], pin)
    zero = np.zeros_like(s.width)
    fixed = {
        PartKind.HINGE_LEG: hinge.box(zero, s.depth, -s.stock, 0.0),
        PartKind.STRIKE_LEG: strike.box(zero, s.depth, -s.stock, 0.0)[:, ::-1],
    }
    if s.projection.max() > 0:
        ends = (s.hinge_rabbet + s.stop_width, s.strike_rabbet + s.stop_width)
        fixed[PartKind.HINGE_STOP] = hinge.box(s.hinge_rabbet, ends[0], 0.0, s.projection)
        fixed[PartKind.STRIKE_STOP] = strike.box(s.strike_rabbet, ends[1], 0.0, s.projection)[
            :, ::-1
        ]
        fixed[PartKind.HEAD_STOP] = _head_stop(s, hinge, strike)
    buried = s.hinge_rabbet - s.jamb_setback
    about = pin[:, None, :]
    arris = closed.placed(zero, zero), closed.placed(s.width, zero)
    face = closed.placed(zero, -s.thickness)
    return _Picture(
        slab=closed.outline() - about,
        slab_cut=closed.outline_at_hinge() - about,
        leaf=closed.leaf() - about,
        fixed={kind: outline - about for kind, outline in fixed.items()},
        leg_cut=_leg_at_hinge(s, hinge, buried) - about,
        jamb_leaf=_jamb_leaf(s, hinge, buried) - about,
        reach=np.hypot(*(arris[1] - pin).T),
        hinge_margin=np.einsum("ij,ij->i", arris[0] - hinge.edge, hinge.normal),
        strike_margin=np.einsum("ij,ij->i", arris[1] - strike.edge, strike.normal),
        hinge_stop=np.einsum(
            "ij,ij->i", face - hinge.at(s.hinge_rabbet, s.projection / 2), closed.out
        ),
    )


class _Slab:
    """The closed slab in plan, opening frame: ``across`` its width, ``out`` of its wide face."""

    def __init__(self, s: PlanSizes, across: Floats, pin: Floats) -> None:
        self.s, self.across = s, across
        self.out = np.stack([-across[:, 1], across[:, 0]], axis=1)
        self.sin, self.cos = np.sin(s.hinge_bevel), np.cos(s.hinge_bevel)
        # The leaf's origin: on the mortise's floor at the buried edge, slab frame.
        self.surface_x = s.thickness * np.tan(s.hinge_bevel) - s.slab_setback * self.sin
        self.surface_y = -s.thickness + s.slab_setback * self.cos
        self.floor_x = self.surface_x + s.slab_depth * self.cos
        self.floor_y = self.surface_y + s.slab_depth * self.sin
        lift = s.leaf_thickness + s.closed_gap / 2
        pin_x = self.floor_x - lift * self.cos - s.open_width / 2 * self.sin
        pin_y = self.floor_y - lift * self.sin + s.open_width / 2 * self.cos
        self.origin = pin - _times(pin_x, self.across) - _times(pin_y, self.out)

    def placed(self, x: Floats, y: Floats) -> Floats:
        """Return points (n, 2) of the slab frame in the opening frame."""
        return self.origin + _times(x, self.across) + _times(y, self.out)

    def _ring(self, *points: tuple[Floats, Floats]) -> Floats:
        return np.stack([self.placed(x, y) for x, y in points], axis=1)

    def outline(self) -> Floats:
        """Return the slab between its hinges, (n, 4, 2)."""
        zero = np.zeros_like(self.s.width)
        return self._ring((zero, zero), *self._far_corners())

    def outline_at_hinge(self) -> Floats:
        """Return the slab with its mortise, (n, 6, 2)."""
        opens_x = self.floor_x + self.floor_y * self.sin / self.cos
        return self._ring(
            (opens_x, np.zeros_like(opens_x)),
            (self.floor_x, self.floor_y),
            (self.surface_x, self.surface_y),
            *self._far_corners(),
        )

    def _far_corners(self) -> tuple[tuple[Floats, Floats], ...]:
        s = self.s
        narrow = -s.thickness
        return (
            (s.thickness * np.tan(s.hinge_bevel), narrow),
            (s.width - s.thickness * np.tan(s.strike_bevel), narrow),
            (s.width, np.zeros_like(s.width)),
        )

    def leaf(self) -> Floats:
        """Return the slab's leaf, (n, 4, 2)."""
        s = self.s
        run = s.open_width / 2 - s.barrel / 2
        x, y = self.floor_x, self.floor_y
        end_x, end_y = x - run * self.sin, y + run * self.cos
        up_x, up_y = -s.leaf_thickness * self.cos, -s.leaf_thickness * self.sin
        far = (end_x + up_x, end_y + up_y)
        return self._ring((x, y), (end_x, end_y), far, (x + up_x, y + up_y))


def _head_stop(s: PlanSizes, hinge: _Leg, strike: _Leg) -> Floats:
    ends = (
        hinge.at(s.head_rabbet, 0.0),
        hinge.at(s.head_rabbet + s.stop_width, 0.0),
        strike.at(s.head_rabbet_strike + s.stop_width, 0.0),
        strike.at(s.head_rabbet_strike, 0.0),
    )
    return np.stack(ends, axis=1)


def _leg_at_hinge(s: PlanSizes, leg: _Leg, buried: Floats) -> Floats:
    places = (
        (0.0, -s.jamb_depth),
        (0.0, -s.stock),
        (s.depth, -s.stock),
        (s.depth, 0.0),
        (buried, 0.0),
        (buried, -s.jamb_depth),
    )
    return np.stack([leg.at(along, out) for along, out in places], axis=1)


def _jamb_leaf(s: PlanSizes, leg: _Leg, buried: Floats) -> Floats:
    pin_end = buried - s.open_width / 2 + s.barrel / 2
    return leg.box(pin_end, buried, -s.jamb_depth, s.leaf_thickness - s.jamb_depth)


def _layers(
    scene: Scene, picture: _Picture
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


def _result(scene: Scene, picture: _Picture) -> PlanResult:
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
        verdict=_verdicts(scene, against, opening, blocked),
        hinge_margin=picture.hinge_margin,
        strike_margin=picture.strike_margin,
        hinge_stop=picture.hinge_stop,
        kinds=kinds,
    )


def _verdicts(scene: Scene, against: Ints, opening: Floats, blocked: Bools) -> Ints:
    words = tuple(Verdict)
    verdict = np.full(len(against), words.index(Verdict.SWINGS), dtype=np.int64)
    for k, kind in enumerate(PartKind):
        if kind not in VERDICTS:
            continue
        hit = against == k
        if kind in STOPS:
            hit &= opening > scene.swing.seat
        verdict[hit] = words.index(VERDICTS[kind])
    verdict[blocked] = words.index(Verdict.BLOCKED)
    return verdict
