"""The two corners' measurements as points in plan, opening frame, inches.

Every dimension is a pair of points and the length between them; the points
are on the parts that the section shows, so that what is written is what is
drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.legs import LegPlan, hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.pins import (
    jamb_leaf_frame,
    slab_leaf_frame,
)
from swingcheck.assembly.slab import width_at
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import Relation
from swingcheck.render.plan.pose import Pose, turned_points

LEAF_SHOWN = radians(25.0)
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

    ``margin`` and ``stop_gap`` of the slab closed; ``opening`` from the wide
    face's strike arris closed to where it is drawn; ``edge`` the strike edge's
    wide and narrow arris (2,) as drawn, and ``square`` where the narrow one
    would be on a square edge.
    """

    margin: Gap
    stop_gap: Gap | None
    opening: Gap
    wide_arris: Floats
    narrow_arris: Floats
    square: Floats


def hinge_corner(assembly: Assembly, pose: Pose, height: float, hinge: int) -> HingeCorner:
    """Return the hinge corner's measurements at a height, leaves those of one hinge."""
    scene = assembly.scene
    slab = scene.slab
    leg = hinge_leg_plan(scene.opening, height)
    swung = pose.angle if pose.angle < LEAF_SHOWN else 0.0
    rounded = slab.hinge_edge.is_round
    arris = _placed(assembly, [0.0, -slab.thickness / 2 if rounded else 0.0], height)
    pin = _pin(assembly, height)
    wide = _placed(assembly, [0.0, 0.0], height)
    out = _plan_direction(assembly, [0.0, 1.0])
    return HingeCorner(
        margin=_across_to_leg(leg, arris),
        clearance=_to_stop(assembly, leg, height),
        jamb=_jamb_leaf(assembly, hinge) if scene.hinge.count else None,
        slab=_slab_leaf(assembly, hinge, swung) if scene.hinge.count else None,
        pin=pin,
        proud=float((pin - wide) @ out),
    )


def strike_corner(assembly: Assembly, pose: Pose, height: float) -> StrikeCorner:
    """Return the strike corner's measurements at a height."""
    scene = assembly.scene
    slab = scene.slab
    leg = strike_leg_plan(scene.opening, height)
    width = width_at(slab, height - assembly.place[2, 3])
    edge = slab.strike_edge
    lean = tan(edge.lean)
    crown = -slab.thickness / 2 if edge.is_round else 0.0
    corners = np.array(
        [
            [width, crown],
            [width - slab.thickness * lean, -slab.thickness],
            [width, -slab.thickness],
        ]
    )
    closed = np.array([_placed3(assembly, corner, height) for corner in corners])
    drawn = turned_points(assembly.axis, closed, pose.angle)[:, :2]
    away = float(np.linalg.norm(drawn[0] - closed[0, :2]))
    return StrikeCorner(
        margin=_at_meeting(assembly, closed[0], height) or _across_to_leg(leg, closed[0, :2]),
        stop_gap=None if scene.inactive else _to_stop(assembly, leg, height),
        opening=Gap(start=closed[0, :2], end=drawn[0], length=away),
        wide_arris=drawn[0],
        narrow_arris=drawn[1],
        square=drawn[2],
    )


def _at_meeting(assembly: Assembly, arris: Floats, height: float) -> Gap | None:
    """Return a pair's margin: from the inactive slab's arris to the active one's; else None."""
    for other in assembly.others:
        if other.relation is Relation.INACTIVE:
            slab = other.assembly.scene.slab
            z = height - other.assembly.place[2, 3]
            met = _placed(other.assembly, [width_at(slab, z), 0.0], height)
            length = float((met - arris[:2]) @ _plan_direction(assembly, [1.0, 0.0]))
            return Gap(start=met, end=arris[:2], length=length)
    return None


def _across_to_leg(leg: LegPlan, arris: Floats) -> Gap:
    """Return the margin: square from the leg's face to the slab's arris."""
    length = float((arris - leg.edge) @ leg.normal)
    return Gap(start=arris - length * leg.normal, end=arris, length=length)


def _to_stop(assembly: Assembly, leg: LegPlan, height: float) -> Gap | None:
    """Return the gap between the middle of a stop's face and the closed slab's narrow face."""
    stop = assembly.scene.stop
    if stop is None:
        return None
    middle = leg.at(leg.rabbet, stop.projection / 2)
    face = _placed(assembly, [0.0, -assembly.scene.slab.thickness], height)
    out = _plan_direction(assembly, [0.0, 1.0])
    length = float((face - middle) @ out) + _off_flat(assembly, middle, height)
    return Gap(start=middle, end=middle + length * out, length=length)


def _off_flat(assembly: Assembly, point: Floats, height: float) -> float:
    """Return how far the slab is warped to the pull side at a plan point (2,) and a height."""
    slab = assembly.scene.slab
    if not slab.warp:
        return 0.0
    place = assembly.place
    x, _, z = (np.append(point, height) - place[:, 3]) @ place[:, :3]
    return warp_at(slab, float(x), float(z))


def _jamb_leaf(assembly: Assembly, k: int) -> LeafIn:
    scene = assembly.scene
    layout = scene.hinge.jamb
    toward, _, out, origin = jamb_leaf_frame(scene, k).T[:, :2]
    return _leaf(toward, out, origin, layout.setbacks[k], layout.depths[k])


def _slab_leaf(assembly: Assembly, k: int, angle: float) -> LeafIn:
    scene = assembly.scene
    layout = scene.hinge.slab
    frame = slab_leaf_frame(scene, k).T
    origin = frame[3]
    ends = np.array([origin, origin + frame[0], origin + frame[2]])
    closed = ends @ assembly.place[:, :3].T + assembly.place[:, 3]
    origin, along, across = turned_points(assembly.axis, closed, angle)[:, :2]
    return _leaf(along - origin, across - origin, origin, layout.setbacks[k], layout.depths[k])


def _leaf(toward: Floats, out: Floats, floor: Floats, setback: float, depth: float) -> LeafIn:
    toward, out = toward / np.linalg.norm(toward), out / np.linalg.norm(out)
    buried = floor + depth * out
    return LeafIn(
        setback=Gap(start=buried - setback * toward, end=buried, length=setback),
        depth=depth,
        floor=floor,
        toward=toward,
        out=out,
    )


def _pin(assembly: Assembly, height: float) -> Floats:
    """Return where the pin line passes a height, (2,)."""
    axis = assembly.axis
    rise = (height - axis.point[2]) / axis.direction[2]
    return (axis.point + rise * axis.direction)[:2]


def _placed(assembly: Assembly, plan: list[float], height: float) -> Floats:
    """Return a slab-frame plan point of the closed slab at a height, (2,)."""
    return _placed3(assembly, np.array(plan), height)[:2]


def _placed3(assembly: Assembly, plan: Floats, height: float) -> Floats:
    rotation, shift = assembly.place[:, :3], assembly.place[:, 3]
    foot = rotation[:, :2] @ plan + shift
    return foot + rotation[:, 2] * ((height - foot[2]) / rotation[2, 2])


def _plan_direction(assembly: Assembly, plan: list[float]) -> Floats:
    direction = (assembly.place[:, :2] @ plan)[:2]
    return direction / np.linalg.norm(direction)
