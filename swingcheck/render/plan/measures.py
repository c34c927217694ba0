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
from swingcheck.assembly.legs import leg_plan, strike_leg_plan
from swingcheck.assembly.pins import jamb_leaf_frame, slab_leaf_frame
from swingcheck.assembly.slab import width_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import LeafLayout, Relation
from swingcheck.render.pen.subject import Pose
from swingcheck.swing.margins import HINGE, STRIKE, margins_along, stop_gaps, upright_points

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
    swung = pose.angle if abs(pose.angle) < LEAF_SHOWN_RAD else 0.0
    pin, jamb, slab = axis.at(height), None, None
    if scene.hinge.count:
        own = slab_leaf_frame(scene, hinge).T
        closed = np.array([own[3], own[3] + own[0], own[3] + own[2]])
        closed = assembly.placed(closed)
        floor, along, out = axis.turned_points(closed, swung)[:, :2]
        slab = _leaf(scene.hinge.slab, hinge, floor, along - floor, out - floor)
        toward, _, out, floor = jamb_leaf_frame(scene, hinge).T[:, :2]
        jamb = _leaf(scene.hinge.jamb, hinge, floor, toward, out)
    return HingeCorner(
        margin=_margin(assembly, HINGE, height),
        clearance=_to_stop(assembly, HINGE, height),
        jamb=jamb,
        slab=slab,
        pin=pin[:2],
        proud=float(assembly.in_slab(pin)[1]),
    )


def strike_corner(assembly: Assembly, pose: Pose, height: float) -> StrikeCorner:
    """Return the strike corner's measurements at a height."""
    scene, slab = assembly.scene, assembly.scene.slab
    leg = strike_leg_plan(scene.opening, height)
    thick, margin = slab.thickness, _margin(assembly, STRIKE, height)
    _, _, up = assembly.in_slab(np.append(margin.end, height))
    width = width_at(slab, float(up))
    across = (width - thick * tan(slab.strike_edge.lean), width)
    narrow, square = assembly.placed(np.array([[x, -thick, float(up)] for x in across]))
    closed = np.stack([np.append(margin.end, height), narrow, square])
    drawn = assembly.axis.turned_points(closed, pose.angle)[:, :2]
    return StrikeCorner(
        margin=margin,
        leg=margin.end - float(leg.gap(margin.end)) * leg.normal,
        stop_gap=None if _meets(assembly) else _to_stop(assembly, STRIKE, height),
        opening=Gap(
            start=margin.end, end=drawn[0], length=float(np.linalg.norm(drawn[0] - margin.end))
        ),
        wide_arris=drawn[0],
        narrow_arris=drawn[1],
        square=drawn[2],
    )


def _margin(assembly: Assembly, side: int, height: float) -> Gap:
    """Return the margin at a height: square from the leg's face to the slab, or across a pair.

    Shown at the wide-face arris, or at a round edge's crown.
    """
    slab = assembly.scene.slab
    share = 1.0 - (height - assembly.place[2, 3]) / slab.height[side]
    lines = margins_along(assembly, [share])
    read = (lines.hinge, lines.strike)[side]
    end, length = read.points[0, :2], float(read.gaps[0])
    if not (slab.hinge_edge, slab.strike_edge)[side].is_round:
        end = assembly.placed(upright_points(slab, side, [share], 0.0))[0, :2]
    across = leg_plan(assembly.scene.opening, side, height).normal
    if side == STRIKE and _meets(assembly):
        across = -_plan_direction(assembly, 0)
    return Gap(start=end - length * across, end=end, length=length)


def _meets(assembly: Assembly) -> bool:
    """Return whether a pair's inactive slab stands where the strike leg would."""
    return any(other.relation is Relation.INACTIVE for other in assembly.others)


def _to_stop(assembly: Assembly, side: int, height: float) -> Gap | None:
    """Return the gap between the middle of a stop's face and the closed slab's narrow face."""
    scene, stop = assembly.scene, assembly.scene.stop
    if stop is None:
        return None
    leg = leg_plan(scene.opening, side, height)
    middle = leg.at(leg.rabbet, stop.projection / 2)
    places = np.append(middle, height)[None]
    length = float(stop_gaps(scene, stop, side, assembly.place, places)[0])
    return Gap(start=middle, end=middle + length * _plan_direction(assembly, 1), length=length)


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


def _plan_direction(assembly: Assembly, k: int) -> Floats:
    """Return where the slab frame's axis ``k`` runs in plan, closed, a unit vector (2,)."""
    direction = assembly.place[:2, k]
    return direction / np.linalg.norm(direction)
