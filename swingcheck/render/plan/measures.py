"""The two corners' measurements as points in plan, opening frame, inches.

Every dimension is a pair of points and the length between them; the points
are on the parts that the section shows, so that what is written is what is
drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, tan

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.legs import LegPlan, hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.pins import jamb_leaf_frame, slab_leaf_frame
from swingcheck.assembly.slab import width_at
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import Edge, LeafLayout, Relation, Slab
from swingcheck.render.pen.section import turned_points
from swingcheck.render.pen.subject import Pose

LEAF_SHOWN_RAD = radians(25.0)
"""Opened farther than this the slab's leaf is measured on the closed ghost."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gap:
    """A length between two plan points (2,); negative where the parts overlap."""

    start: Floats
    end: Floats
    length: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LeafIn:
    """A leaf as let in: ``setback`` along the surface, ``floor`` (2,) a point on the mortise's.

    ``toward`` (2,) is the unit direction along the leaf to its barrel and
    ``out`` (2,) the unit direction out of the surface.
    """

    setback: Gap
    depth: float
    floor: Floats
    toward: Floats
    out: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HingeCorner:
    """What is measured at the hinge corner; the margins of the slab closed.

    Without hinges (a slab on pivots) there are no leaves.
    """

    margin: Gap
    clearance: Gap | None
    jamb: LeafIn | None
    slab: LeafIn | None
    pin: Floats
    proud: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StrikeCorner:
    """What is measured at the strike corner.

    ``margin`` and ``stop_gap`` of the slab closed, ``leg`` (2,) the strike
    leg's face there (a pair's margin is to its inactive slab); ``opening`` from the wide
    face's strike arris closed to where it is drawn; ``edge`` the strike edge's
    wide and narrow arris (2,) as drawn, and ``square`` where the narrow one
    would be on a square edge.
    """

    margin: Gap
    leg: Floats
    stop_gap: Gap | None
    opening: Gap
    wide_arris: Floats
    narrow_arris: Floats
    square: Floats


def hinge_corner(assembly: Assembly, pose: Pose, height: float, hinge: int) -> HingeCorner:
    """Return the hinge corner's measurements at a height, leaves those of one hinge."""
    scene, axis = assembly.scene, assembly.axis
    leg = hinge_leg_plan(scene.opening, height)
    swung = pose.angle if abs(pose.angle) < LEAF_SHOWN_RAD else 0.0
    crown = _crown(scene.slab, scene.slab.hinge_edge)
    arris, wide = _placed(assembly, [[0.0, crown], [0.0, 0.0]], height)[:, :2]
    pin, jamb, slab = axis.at(height)[:2], None, None
    if scene.hinge.count:
        own = slab_leaf_frame(scene, hinge).T
        closed = np.array([own[3], own[3] + own[0], own[3] + own[2]])
        closed = assembly.placed(closed)
        floor, along, out = turned_points(axis, closed, swung)[:, :2]
        slab = _leaf(scene.hinge.slab, hinge, floor, along - floor, out - floor)
        toward, _, out, floor = jamb_leaf_frame(scene, hinge).T[:, :2]
        jamb = _leaf(scene.hinge.jamb, hinge, floor, toward, out)
    return HingeCorner(
        margin=_across_to_leg(leg, arris),
        clearance=_to_stop(assembly, leg, height),
        jamb=jamb,
        slab=slab,
        pin=pin,
        proud=float((pin - wide) @ _plan_direction(assembly, 1)),
    )


def strike_corner(assembly: Assembly, pose: Pose, height: float) -> StrikeCorner:
    """Return the strike corner's measurements at a height."""
    scene, slab = assembly.scene, assembly.scene.slab
    leg = strike_leg_plan(scene.opening, height)
    width, thick = width_at(slab, height - assembly.place[2, 3]), slab.thickness
    edge = slab.strike_edge
    lean = tan(edge.lean)
    corners = [[width, _crown(slab, edge)], [width - thick * lean, -thick], [width, -thick]]
    closed = _placed(assembly, corners, height)
    drawn = turned_points(assembly.axis, closed, pose.angle)[:, :2]
    margin = _across_to_leg(leg, closed[0, :2])
    away = float(np.linalg.norm(drawn[0] - closed[0, :2]))
    meeting = _at_meeting(assembly, closed[0, :2], height)
    return StrikeCorner(
        margin=meeting or margin,
        leg=margin.start,
        stop_gap=None if meeting else _to_stop(assembly, leg, height),
        opening=Gap(start=closed[0, :2], end=drawn[0], length=away),
        wide_arris=drawn[0],
        narrow_arris=drawn[1],
        square=drawn[2],
    )


def _crown(slab: Slab, edge: Edge) -> float:
    """Return where an edge's margin is read, across the slab: at a round one's crown."""
    return -slab.thickness / 2 if edge.is_round else 0.0


def _at_meeting(assembly: Assembly, arris: Floats, height: float) -> Gap | None:
    """Return a pair's margin: from the inactive slab's arris to the active one's; else None."""
    for other in assembly.others:
        if other.relation is Relation.INACTIVE:
            own = other.assembly
            width = width_at(own.scene.slab, height - own.place[2, 3])
            met = _placed(own, [[width, 0.0]], height)[0, :2]
            length = float((met - arris) @ _plan_direction(assembly, 0))
            return Gap(start=met, end=arris, length=length)
    return None


def _across_to_leg(leg: LegPlan, arris: Floats) -> Gap:
    """Return the margin: square from the leg's face to the slab's arris."""
    length = float((arris - leg.edge) @ leg.normal)
    return Gap(start=arris - length * leg.normal, end=arris, length=length)


def _to_stop(assembly: Assembly, leg: LegPlan, height: float) -> Gap | None:
    """Return the gap between the middle of a stop's face and the closed slab's narrow face."""
    stop, slab = assembly.scene.stop, assembly.scene.slab
    if stop is None:
        return None
    middle = leg.at(leg.rabbet, stop.projection / 2)
    face = _placed(assembly, [[0.0, -slab.thickness]], height)[0, :2]
    out = _plan_direction(assembly, 1)
    length = float((face - middle) @ out)
    if slab.warp:
        x, _, z = assembly.in_slab(np.append(middle, height))
        length += warp_at(slab, float(x), float(z))
    return Gap(start=middle, end=middle + length * out, length=length)


def _leaf(sizes: LeafLayout, k: int, floor: Floats, toward: Floats, out: Floats) -> LeafIn:
    """Return leaf ``k`` as let in, from plan points and ways that need not be of unit length."""
    toward, out = toward / np.linalg.norm(toward), out / np.linalg.norm(out)
    buried, setback = floor + sizes.depths[k] * out, sizes.setbacks[k]
    return LeafIn(
        setback=Gap(start=buried - setback * toward, end=buried, length=setback),
        depth=sizes.depths[k],
        floor=floor,
        toward=toward,
        out=out,
    )


def _placed(assembly: Assembly, plan: Sequence[Sequence[float]], height: float) -> Floats:
    """Return plan points (n, 2) of the slab frame, on the closed slab at a height, (n, 3)."""
    rotation, shift = assembly.place[:, :3], assembly.place[:, 3]
    feet = np.asarray(plan) @ rotation[:, :2].T + shift
    placed: Floats = feet + np.outer((height - feet[:, 2]) / rotation[2, 2], rotation[:, 2])
    return placed


def _plan_direction(assembly: Assembly, k: int) -> Floats:
    """Return where the slab frame's axis ``k`` runs in plan, closed, a unit vector (2,)."""
    direction = assembly.place[:2, k]
    return direction / np.linalg.norm(direction)
