"""Outlines in plan for many variants of a prismatic scene, about the pin."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import PartKind
from swingcheck.chance.plan_sizes import PlanSizes
from swingcheck.geometry.solid import Floats


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanPicture:
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
    projection: Floats


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


def plan_picture(s: PlanSizes) -> PlanPicture:
    """Return the outlines of n variants, the slab closed, and their margins."""
    hinge = _Leg(np.stack([s.hinge_plumb, s.hinge_cross], axis=1), s.hinge_twist, 1.0)
    far = s.opening_width - s.strike_plumb
    strike = _Leg(np.stack([far, s.strike_cross], axis=1), s.strike_twist, -1.0)
    lift = s.leaf_thickness + s.closed_gap / 2
    pin = hinge.at(s.hinge_rabbet - s.jamb_setback - s.open_width / 2, lift - s.jamb_depth)
    line = strike.at(s.strike_rabbet, s.projection / 2) - hinge.at(s.hinge_rabbet, s.projection / 2)
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
    return PlanPicture(
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
        projection=s.projection,
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
