"""Gaps of the closed slab, and how true its pins are.

All that is read here needs no solids: `bare_assembly` will do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.ground import gap_under
from swingcheck.assembly.legs import hinge_leg_plan, leg_plan, strike_leg_plan
from swingcheck.assembly.rebates import lip_back
from swingcheck.assembly.slab import width_at
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.sizes import Sizes, points
from swingcheck.geometry.solid import Floats
from swingcheck.model import Relation, Scene, Slab, Stop, head_arc, slab_arc
from swingcheck.swing.found import AxisFound, Margins, Point

HINGE, STRIKE = SIDES = (0, 1)

STATIONS = (0.0, 0.5, 1.0)
"""Where a margin is told: the top, the middle and the bottom, as shares of the way down."""

ENDS = (0.0, 1.0)
"""Where one at the head or the bottom is told, as shares of the way across from the hinge edge."""


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
    to the lower slab. Under an arched head the head margin is square to the
    arc, and a saddle or a carpet counts where the slab stands over it.
    """
    scene, read = assembly.scene, _read(assembly, STATIONS, ENDS)
    is_pair = scene.inactive is not None
    return Margins(
        hinge=_point(read.hinge.gaps),
        strike=_point(read.strike.gaps),
        head=(float(read.head.gaps[0]), float(read.head.gaps[1])),
        bottom=(float(read.bottom.gaps[0]), float(read.bottom.gaps[1])),
        hinge_stop=_stop_gaps(assembly, HINGE, read.hinge.points),
        strike_stop=None if is_pair else _stop_gaps(assembly, STRIKE, read.strike.points),
        flush=_proud(assembly, HINGE),
        flush_strike=_proud(assembly, STRIKE),
    )


def margins_along(assembly: Assembly, shares: Sequence[float]) -> MarginLines:
    """Return the margins of `closed_margins` read at more places than those that are told.

    ``shares`` are of the way down the legs, and across from the hinge edge at
    the head and the bottom.
    """
    return _read(assembly, shares, shares)


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
    return AxisFound(
        point=_point(axis.point),
        direction=_point(axis.direction),
        proud=float(assembly.in_slab(axis.point)[1]),
        off_line=tuple(off.tolist()),
        apart=tuple(_across(between, axis.direction).tolist()),
        up_down=tuple((between @ axis.direction).tolist()),
    )


def _across(away: Floats, direction: Floats) -> Floats:
    return np.linalg.norm(away - np.outer(away @ direction, direction), axis=1)


def _point(values: Floats | Sequence[float]) -> Point:
    x, y, z = (float(v) for v in values)
    return (x, y, z)


def _read(assembly: Assembly, down: Sequence[float], across: Sequence[float]) -> MarginLines:
    """Return the four margins at shares of the way down, and of the way across."""
    scene = assembly.scene
    ends = [_read_at(scene.slab, side) for side in SIDES]
    hinge, strike = (_upright(assembly, side, down, ends[side]) for side in SIDES)
    top, low = (_level(assembly, across, is_top=is_top) for is_top in (True, False))
    arc, head_out = head_arc(scene.opening), np.array([0.0, 1.0])
    if arc is not None:
        away = top[:, [0, 2]] - [arc.across, arc.up]
        head_out = away / np.linalg.norm(away, axis=1)[:, None]

    def line(points: Floats, gaps: Floats | Sequence[float], *out: float) -> MarginLine:
        ways = np.broadcast_to(out or head_out, (len(points), 2))
        return MarginLine(points=points, gaps=np.array(gaps), out=ways)

    return MarginLines(
        hinge=line(hinge, leg_gaps(scene, HINGE, hinge), -1.0, 0.0),
        strike=line(strike, _strike_gaps(assembly, strike, down), 1.0, 0.0),
        head=line(top, [head_gap(scene, p) for p in top]),
        bottom=line(low, _bottom_gaps(assembly, low, across), 0.0, -1.0),
    )


def upright_points(slab: Slab, side: int, shares: Sequence[float], y: Sizes) -> Floats:
    """Return points (k, 3, ...) of an edge at shares of the way down and a depth, slab frame."""
    heights = [slab.height[side] * (1 - share) for share in shares]
    across = [width_at(slab, z) if side == STRIKE else 0.0 for z in heights]
    return points([(x, y + warp_at(slab, x, z), z) for x, z in zip(across, heights, strict=True)])


def leg_gaps(scene: Scene, side: int, places: Floats) -> Floats:
    """Return how far places (k, 3, ...) stand out of a leg's face, square to it, (k, ...)."""
    x, y, z = places.swapaxes(0, 1)
    return leg_plan(scene.opening, side, z).gap(np.stack([x, y]))


def stop_gaps(scene: Scene, stop: Stop, side: int, place: Floats, places: Floats) -> Floats:
    """Return the slab's stop-side face to the middle of a stop's, at the height of places.

    (k, ...) for places (k, 3, ...) of the slab, opening frame, as its ``place``
    (3, 4, ...) has it.
    """
    slab, z = scene.slab, places[:, 2]
    plan = leg_plan(scene.opening, side, z)
    on_stop = np.stack([*plan.at(plan.rabbet, stop.projection / 2), z], axis=1)
    at, _, up = in_slab(place, places).swapaxes(0, 1)
    face = warp_at(slab, at, up) - slab.thickness
    gaps: Floats = face - in_slab(place, on_stop)[:, 1]
    return gaps


def placed(place: Floats, points: Floats) -> Floats:
    """Return points (k, 3, ...) of the slab frame on the closed slab, by its place (3, 4, ...)."""
    return np.einsum("ij...,kj...->ki...", place[:, :3], points) + place[:, 3]


def in_slab(place: Floats, points: Floats) -> Floats:
    """Return points (k, 3, ...) of the opening frame in the closed slab's frame."""
    return np.einsum("ji...,kj...->ki...", place[:, :3], points - place[:, 3])


def _upright(assembly: Assembly, side: int, shares: Sequence[float], y: float) -> Floats:
    """Return points (n, 3) of an edge at shares of the way down and a depth, opening frame."""
    return assembly.placed(upright_points(assembly.scene.slab, side, shares, y))


def _level(assembly: Assembly, shares: Sequence[float], *, is_top: bool) -> Floats:
    """Return the top's or the bottom's margin points (n, 3) at shares of the way across.

    Along the line, or the arc, between the two edges' own; opening frame.
    """
    slab = assembly.scene.slab
    hinge, strike = slab.height if is_top else (0.0, 0.0)
    arc = slab_arc(slab) if is_top else None
    ends = [_read_at(slab, side) for side in SIDES]
    points = []
    for share in shares:
        x = share * width_at(slab, strike)
        z = hinge + (strike - hinge) * share if arc is None else arc.height(x)
        points.append([x, ends[0] + (ends[1] - ends[0]) * share + warp_at(slab, x, z), z])
    return assembly.placed(np.array(points))


def _read_at(slab: Slab, side: int) -> float:
    """Return the ``y`` at which an edge's margin is read: wide face, crown, or behind a lip."""
    edge = slab.strike_edge if side == STRIKE else slab.hinge_edge
    return -edge.crown(slab.thickness) if edge.is_round else _lip_back(slab, side)


def _lip_back(slab: Slab, side: int) -> float:
    """Return the ``y`` of a lip's back on an edge, 0 where that one has no lip."""
    lip = slab.lip
    has_lip = lip is not None and (lip.strike if side == STRIKE else lip.hinge) > 0
    return lip_back(slab) if has_lip else 0.0


def _strike_gaps(assembly: Assembly, points: Floats, shares: Sequence[float]) -> Floats:
    """Return the gaps at the strike edge: to the leg, or on a pair to the inactive slab's edge.

    Those of a pair are across this slab, from one wide-face arris to the other.
    """
    for other in assembly.others:
        if other.relation is Relation.INACTIVE:
            own = _read_at(other.assembly.scene.slab, STRIKE)
            met = _upright(other.assembly, STRIKE, shares, own)
            across: Floats = (met - points) @ assembly.place[:, 0]
            return across
    return leg_gaps(assembly.scene, STRIKE, points)


def _bottom_gaps(assembly: Assembly, points: Floats, shares: Sequence[float]) -> list[float]:
    """Return the gaps under the slab: to the floor, or a Dutch door's lower slab or its shelf."""
    lower = assembly.scene.lower
    for other in assembly.others:
        if other.relation is Relation.LOWER and lower is not None:
            over = 0.0 if lower.shelf is None else lower.shelf.thickness
            met = _level(other.assembly, shares, is_top=True)
            return [float(gap) for gap in points[:, 2] - met[:, 2] - over]
    return [gap_under(assembly.scene, *(float(v) for v in p)) for p in points]


def _stop_gaps(assembly: Assembly, side: int, points: Floats) -> Point | None:
    """Return the slab's stop-side face to the middle of a stop's, at the height of points."""
    scene = assembly.scene
    if scene.stop is None:
        return None
    return _point(stop_gaps(scene, scene.stop, side, assembly.place, points))


def _proud(assembly: Assembly, side: int) -> Point:
    """Return how far the wide face, or a lip's back, stands beyond a leg's pull-side edge.

    At the strike edge of a pair beyond the inactive slab's wide face.
    """
    scene = assembly.scene
    points = _upright(assembly, side, STATIONS, _lip_back(scene.slab, side))
    for other in assembly.others:
        if side == STRIKE and other.relation is Relation.INACTIVE:
            own, met = (_upright(hung, side, STATIONS, 0.0) for hung in (assembly, other.assembly))
            return _point((own - met) @ assembly.place[:, 1])
    return _point([p[1] - leg_plan(scene.opening, side, float(p[2])).edge[1] for p in points])
