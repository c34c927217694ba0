"""Gaps of the closed slab, and how true its pins are."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from swingcheck.analysis.result import AxisFound, Margins, Point
from swingcheck.assembly import Assembly
from swingcheck.assembly.ground import floor_height
from swingcheck.assembly.legs import LegPlan, hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.slab import width_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import Edge, EdgeShape, Opening, Scene

LegAt = Callable[[Opening, float], LegPlan]


def closed_margins(assembly: Assembly) -> Margins:
    """Return the gaps of the closed slab, inches, negative where it overlaps.

    The hinge and strike margins are square to the leg's face, from the slab's
    wide-face arris (from the crown of a round edge) at the slab's top, middle
    and bottom; the stops' from the middle of the stop's face, square to the
    slab's stop-side face.
    """
    scene = assembly.scene
    hinge = _edge_points(assembly, at_strike=False)
    strike = _edge_points(assembly, at_strike=True)
    return Margins(
        hinge=_leg_gaps(scene.opening, hinge, hinge_leg_plan),
        strike=_leg_gaps(scene.opening, strike, strike_leg_plan),
        head=(_head_gap(scene, hinge[0]), _head_gap(scene, strike[0])),
        bottom=(_floor_gap(scene, hinge[2]), _floor_gap(scene, strike[2])),
        hinge_stop=_stop_gaps(assembly, hinge, hinge_leg_plan),
        strike_stop=_stop_gaps(assembly, strike, strike_leg_plan),
        flush=_flush(assembly),
    )


def pins_found(assembly: Assembly) -> AxisFound:
    """Return the pin line and what each pin is off it."""
    axis = assembly.axis
    jamb, slab = assembly.jamb_pins, assembly.slab_pins
    off = np.maximum(*(_across(pins - axis.point, axis.direction) for pins in (jamb, slab)))
    between = slab - jamb
    local = (axis.point - assembly.place[:, 3]) @ assembly.place[:, :3]
    return AxisFound(
        point=_point(axis.point),
        direction=_point(axis.direction),
        proud=float(local[1]),
        off_line=tuple(off.tolist()),
        apart=tuple(_across(between, axis.direction).tolist()),
        up_down=tuple((between @ axis.direction).tolist()),
    )


def _across(away: Floats, direction: Floats) -> Floats:
    return np.linalg.norm(away - np.outer(away @ direction, direction), axis=1)


def _point(values: Floats) -> Point:
    x, y, z = (float(v) for v in values)
    return (x, y, z)


def _placed(assembly: Assembly, points: Floats) -> Floats:
    return points @ assembly.place[:, :3].T + assembly.place[:, 3]


def _edge_points(assembly: Assembly, *, at_strike: bool) -> Floats:
    """Return an edge's margin points at the slab's top, middle and bottom, opening frame (3, 3)."""
    slab = assembly.scene.slab
    height = slab.height[1 if at_strike else 0]
    edge = slab.strike_edge if at_strike else slab.hinge_edge
    points = []
    for z in (height, height / 2, 0.0):
        x = width_at(slab, z) if at_strike else 0.0
        points.append([x, _crown(edge, slab.thickness), z])
    return _placed(assembly, np.array(points))


def _crown(edge: Edge, thickness: float) -> float:
    return -thickness / 2 if edge.shape is EdgeShape.RADIUS else 0.0


def _leg_gaps(opening: Opening, points: Floats, plan_at: LegAt) -> Point:
    gaps = []
    for p in points:
        plan = plan_at(opening, float(p[2]))
        gaps.append(float((p[:2] - plan.edge) @ plan.normal))
    return (gaps[0], gaps[1], gaps[2])


def _head_gap(scene: Scene, p: Floats) -> float:
    low, high = scene.opening.height
    hinge = float(hinge_leg_plan(scene.opening, low).edge[0])
    strike = float(strike_leg_plan(scene.opening, high).edge[0])
    return float(low + (high - low) * (p[0] - hinge) / (strike - hinge) - p[2])


def _floor_gap(scene: Scene, p: Floats) -> float:
    return float(p[2] - floor_height(scene, float(p[0]), float(p[1])))


def _stop_gaps(assembly: Assembly, points: Floats, plan_at: LegAt) -> Point | None:
    scene = assembly.scene
    if scene.stop is None:
        return None
    face = _placed(assembly, np.array([[0.0, -scene.slab.thickness, 0.0]]))[0]
    normal = assembly.place[:, :3] @ [0.0, -1.0, 0.0]
    gaps = []
    for p in points:
        plan = plan_at(scene.opening, float(p[2]))
        on_stop = np.append(plan.at(plan.rabbet, scene.stop.projection / 2), p[2])
        gaps.append(float((on_stop - face) @ normal))
    return (gaps[0], gaps[1], gaps[2])


def _flush(assembly: Assembly) -> Point:
    """Return how far the wide face stands beyond the hinge leg's pull-side edge."""
    slab, opening = assembly.scene.slab, assembly.scene.opening
    height = slab.height[0]
    arris = _placed(assembly, np.array([[0.0, 0.0, z] for z in (height, height / 2, 0.0)]))
    proud = [float(p[1] - hinge_leg_plan(opening, float(p[2])).edge[1]) for p in arris]
    return (proud[0], proud[1], proud[2])
