"""Gaps of the closed slab, and how true its pins are."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.ground import gap_under
from swingcheck.assembly.legs import LegPlan, hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.rebates import lip_back
from swingcheck.assembly.slab import width_at
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import (
    Opening,
    Relation,
    Scene,
    Slab,
    head_arc,
    slab_arc,
)
from swingcheck.swing.found import AxisFound, Margins, Point

LegAt = Callable[[Opening, float], LegPlan]

STATIONS = (0.0, 0.5, 1.0)
"""Where a margin is told: the top, the middle and the bottom, as shares of the way down."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarginLine:
    """One margin read all along a side of the closed slab.

    ``points`` (n, 3) are where it is read on the slab, opening frame; ``gaps``
    (n,) inches, negative where the slab overlaps; ``out`` (n, 2) the unit way
    from the slab across the gap, seen square to the wall: across, up.
    """

    points: Floats
    gaps: Floats
    out: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarginLines:
    """The four margins of the closed slab, each read all along its side."""

    hinge: MarginLine
    strike: MarginLine
    head: MarginLine
    bottom: MarginLine


def closed_margins(assembly: Assembly) -> Margins:
    """Return the gaps of the closed slab, inches, negative where it overlaps.

    The hinge and strike margins are square to the leg's face, from the slab's
    wide-face arris (from the crown of a round edge, from behind the lip of a
    lipped one) at the slab's top, middle and bottom; the stops' from the middle
    of the stop's face, square to the slab's stop-side face. On a pair the
    strike margin is to the inactive slab's edge, on a Dutch door the bottom one
    to the lower slab. Under an arched
    head the head margin is square to the arc, and a saddle or a carpet counts
    where the slab stands over it.
    """
    scene = assembly.scene
    hinge = _edge_points(assembly, at_strike=False)
    strike = _edge_points(assembly, at_strike=True)
    bottom = _bottom_gaps(assembly, np.array([hinge[2], strike[2]]), (0.0, 1.0))
    return Margins(
        hinge=_point(_leg_gaps(scene.opening, hinge, hinge_leg_plan)),
        strike=_point(_strike_gaps(assembly, strike, STATIONS)),
        head=(head_gap(scene, hinge[0]), head_gap(scene, strike[0])),
        bottom=(bottom[0], bottom[1]),
        hinge_stop=_stop_gaps(assembly, hinge, hinge_leg_plan),
        strike_stop=None if scene.inactive else _stop_gaps(assembly, strike, strike_leg_plan),
        flush=_proud(assembly, at_strike=False),
        lip_strike=_proud(assembly, at_strike=True)
        if scene.slab.lip and not scene.inactive
        else None,
    )


def margins_along(assembly: Assembly, shares: Sequence[float]) -> MarginLines:
    """Return the margins of `closed_margins` read at more places than those that are told.

    Parameters
    ----------
    assembly : Assembly
        The slab in its opening.
    shares : sequence of float
        Places as shares of the way down the legs, and across from the hinge
        edge at the head and the bottom.
    """
    scene = assembly.scene
    hinge = _edge_points(assembly, at_strike=False, shares=shares)
    strike = _edge_points(assembly, at_strike=True, shares=shares)
    top, low = _top_points(assembly, shares), _bottom_points(assembly, shares)
    head_out = np.tile([0.0, 1.0], (len(top), 1))
    arc = head_arc(scene.opening)
    if arc is not None:
        away = top[:, [0, 2]] - [arc.across, arc.up]
        head_out = away / np.linalg.norm(away, axis=1)[:, None]

    def line(points: Floats, gaps: Sequence[float], out: Sequence[float] | Floats) -> MarginLine:
        ways = np.broadcast_to(np.asarray(out, dtype=np.float64), (len(points), 2))
        return MarginLine(points=points, gaps=np.array(gaps), out=ways)

    return MarginLines(
        hinge=line(hinge, _leg_gaps(scene.opening, hinge, hinge_leg_plan), (-1.0, 0.0)),
        strike=line(strike, _strike_gaps(assembly, strike, shares), (1.0, 0.0)),
        head=line(top, [head_gap(scene, p) for p in top], head_out),
        bottom=line(low, _bottom_gaps(assembly, low, shares), (0.0, -1.0)),
    )


def head_gap(scene: Scene, p: Floats) -> float:
    """Return the gap from a point (3,) of the slab's top, opening frame, up to the head."""
    arc = head_arc(scene.opening)
    if arc is not None:
        return arc.gap(float(p[0]), float(p[2]))
    low, high = scene.opening.height
    hinge = float(hinge_leg_plan(scene.opening, low).edge[0])
    strike = float(strike_leg_plan(scene.opening, high).edge[0])
    return float(low + (high - low) * (p[0] - hinge) / (strike - hinge) - p[2])


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


def _point(values: Floats | Sequence[float]) -> Point:
    x, y, z = (float(v) for v in values)
    return (x, y, z)


def _placed(assembly: Assembly, points: Floats) -> Floats:
    return points @ assembly.place[:, :3].T + assembly.place[:, 3]


def _edge_points(
    assembly: Assembly, *, at_strike: bool, shares: Sequence[float] = STATIONS
) -> Floats:
    """Return an edge's margin points (n, 3) at shares of the way down, opening frame."""
    slab = assembly.scene.slab
    height = slab.height[1 if at_strike else 0]
    points = []
    for share in shares:
        z = height * (1 - share)
        x = width_at(slab, z) if at_strike else 0.0
        points.append([x, _read_at(slab, at_strike=at_strike) + warp_at(slab, x, z), z])
    return _placed(assembly, np.array(points))


def _top_points(assembly: Assembly, shares: Sequence[float]) -> Floats:
    """Return the top's margin points (n, 3) at shares of the way across, opening frame.

    Along the line, or the arc, between the two edges' own.
    """
    slab = assembly.scene.slab
    hinge, strike = slab.height
    arc = slab_arc(slab)
    ends = [_read_at(slab, at_strike=side) for side in (False, True)]
    points = []
    for share in shares:
        x = share * width_at(slab, strike)
        z = hinge + (strike - hinge) * share if arc is None else arc.height(x)
        y = ends[0] + (ends[1] - ends[0]) * share
        points.append([x, y + warp_at(slab, x, z), z])
    return _placed(assembly, np.array(points))


def _bottom_points(assembly: Assembly, shares: Sequence[float]) -> Floats:
    """Return the bottom's margin points (n, 3) at shares of the way across, opening frame."""
    slab = assembly.scene.slab
    ends = [_read_at(slab, at_strike=side) for side in (False, True)]
    points = []
    for share in shares:
        x = share * width_at(slab, 0.0)
        y = ends[0] + (ends[1] - ends[0]) * share
        points.append([x, y + warp_at(slab, x, 0.0), 0.0])
    return _placed(assembly, np.array(points))


def _read_at(slab: Slab, *, at_strike: bool) -> float:
    """Return the ``y`` at which an edge's margin is read: wide face, crown, or behind a lip."""
    edge = slab.strike_edge if at_strike else slab.hinge_edge
    return -slab.thickness / 2 if edge.is_round else _lip_back(slab, at_strike)


def _lip_back(slab: Slab, at_strike: bool) -> float:
    """Return the ``y`` of a lip's back on an edge, 0 where that one has no lip."""
    lip = slab.lip
    has_lip = lip is not None and (lip.strike if at_strike else lip.hinge) > 0
    return lip_back(slab) if has_lip else 0.0


def _leg_gaps(opening: Opening, points: Floats, plan_at: LegAt) -> tuple[float, ...]:
    plans = [plan_at(opening, float(p[2])) for p in points]
    return tuple(
        float((p[:2] - plan.edge) @ plan.normal) for p, plan in zip(points, plans, strict=True)
    )


def _strike_gaps(assembly: Assembly, points: Floats, shares: Sequence[float]) -> tuple[float, ...]:
    """Return the gaps at the strike edge: to the leg, or on a pair to the inactive slab's edge.

    Those of a pair are across this slab, from one wide-face arris to the other.
    """
    for other in assembly.others:
        if other.relation is Relation.INACTIVE:
            met = _edge_points(other.assembly, at_strike=True, shares=shares)
            return tuple(float(gap) for gap in (met - points) @ assembly.place[:, 0])
    return _leg_gaps(assembly.scene.opening, points, strike_leg_plan)


def _bottom_gaps(assembly: Assembly, points: Floats, shares: Sequence[float]) -> tuple[float, ...]:
    """Return the gaps under the slab: to the floor, or a Dutch door's lower slab or its shelf."""
    lower = assembly.scene.lower
    for other in assembly.others:
        if other.relation is Relation.LOWER and lower is not None:
            over = 0.0 if lower.shelf is None else lower.shelf.thickness
            met = _top_points(other.assembly, shares)
            return tuple(float(gap) for gap in points[:, 2] - met[:, 2] - over)
    return tuple(_floor_gap(assembly, p) for p in points)


def _floor_gap(assembly: Assembly, p: Floats) -> float:
    return gap_under(assembly.scene, *(float(v) for v in p))


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
        off = _off_flat(assembly, p) if scene.slab.warp else 0.0
        gaps.append(float((on_stop - face) @ normal) + off)
    return (gaps[0], gaps[1], gaps[2])


def _off_flat(assembly: Assembly, p: Floats) -> float:
    """Return how far the slab is warped to the pull side at a point of the opening frame."""
    x, _, z = (p - assembly.place[:, 3]) @ assembly.place[:, :3]
    return warp_at(assembly.scene.slab, float(x), float(z))


def _proud(assembly: Assembly, *, at_strike: bool) -> Point:
    """Return how far the wide face, or a lip's back, stands beyond a leg's pull-side edge."""
    slab, opening = assembly.scene.slab, assembly.scene.opening
    height, plan_at = slab.height[0], hinge_leg_plan
    if at_strike:
        height, plan_at = slab.height[1], strike_leg_plan
    points = []
    for z in (height, height / 2, 0.0):
        x = width_at(slab, z) if at_strike else 0.0
        points.append([x, _lip_back(slab, at_strike) + warp_at(slab, x, z), z])
    placed = _placed(assembly, np.array(points))
    proud = [float(p[1] - plan_at(opening, float(p[2])).edge[1]) for p in placed]
    return (proud[0], proud[1], proud[2])
