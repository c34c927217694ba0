"""How far each measurement of a scene can go: what leaves wood, room and metal enough to build."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, tan

from swingcheck.assembly.legs import hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.slab import slab_bottom
from swingcheck.chance.values import place_count
from swingcheck.model import Scene
from swingcheck.units import rounded_down, rounded_up

Span = tuple[float, float]

#: The steepest bevel that is looked at, radians.
STEEPEST_RAD = radians(15.0)

#: How far past flush a leaf is let in at the most, inches.
PAST_FLUSH_IN = 1 / 4

#: Wood left beyond a leaf's buried edge, and beside a stop, at the least, inches.
WOOD_LEFT_IN = 1 / 4


def marks(low: float, high: float, step: float) -> list[float]:
    """Return the whole multiples of a step from ``low`` to ``high``, rising."""
    first, last = round(rounded_up(low, step) / step), round(rounded_down(high, step) / step)
    return [k * step for k in range(first, last + 1)]


def span_of(scene: Scene, path: str, place: int) -> Span:
    """Return the least and the most that one place of a measurement can be."""
    path, _, index = path.rstrip("]").partition("[")
    k = int(index) if index else place
    return _LIMITS[path](scene, k)


def _setback_limits(scene: Scene, room: float, reach: float) -> Span:
    """Return the setbacks that keep the knuckles off the wood and the leaf on it."""
    return max(0.0, room - reach + scene.hinge.barrel / 2), room - WOOD_LEFT_IN


def _jamb_setback_limits(scene: Scene, k: int) -> Span:
    hinge, opening = scene.hinge, scene.opening
    middle = opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
    return _setback_limits(scene, hinge_leg_plan(opening, middle).rabbet, hinge.jamb_reach)


def _slab_setback_limits(scene: Scene, k: int) -> Span:
    on_edge = scene.slab.thickness / cos(scene.slab.hinge_edge.lean)
    return _setback_limits(scene, on_edge, scene.hinge.slab_reach)


def _width_limits(scene: Scene, k: int) -> Span:
    slab, opening = scene.slab, scene.opening
    share = k / max(place_count(scene, "slab.width") - 1, 1)
    z = slab_bottom(scene) + slab.height[1] * (1 - share)
    room = strike_leg_plan(opening, z).edge[0] - hinge_leg_plan(opening, z).edge[0]
    if scene.inactive:
        room -= max(scene.inactive.slab.width)
    return max(room - 3.0, room / 2), float(room)


def _height_limits(scene: Scene, k: int) -> Span:
    slab, hinge = scene.slab, scene.hinge
    least = max(hinge.slab.tops, default=0.0) + hinge.leaf_length
    return max(slab.height[k] - 3.0, least), scene.opening.height[k]


def _thickness_limits(scene: Scene, k: int) -> Span:
    hinge, lock = scene.hinge, scene.lock
    least = max(hinge.slab.setbacks) + WOOD_LEFT_IN
    if lock is not None:
        least = max(least, lock.edge_bore + 1 / 16, lock.face_width + 1 / 16)
    most = min(hinge.slab.setbacks) + hinge.slab_reach - hinge.barrel / 2
    return max(least, 1 / 2), most * cos(scene.slab.hinge_edge.lean)


def _rabbet_limits(scene: Scene, k: int) -> Span:
    opening, stop = scene.opening, scene.stop
    assert stop is not None
    return scene.slab.thickness - 1 / 2, opening.depth - stop.width


def _open_width_limits(scene: Scene, k: int) -> Span:
    """Return the open widths whose knuckles clear the slab and whose corners fit on a leaf."""
    hinge, slab = scene.hinge, scene.slab
    on_edge = slab.thickness / cos(slab.hinge_edge.lean) - min(hinge.slab.setbacks)
    least = max(2 * on_edge + hinge.barrel, 2 * hinge.corner_radius, hinge.barrel + 1.0)
    return least, hinge.open_width + 4.0


def _bevel_limits(scene: Scene, k: int) -> Span:
    on_edge = scene.slab.thickness * tan(STEEPEST_RAD)
    return 0.0, STEEPEST_RAD if on_edge < min(scene.slab.width) / 4 else 0.0


_LIMITS: dict[str, Callable[[Scene, int], Span]] = {
    "hinge.slab.setbacks": _slab_setback_limits,
    "hinge.jamb.setbacks": _jamb_setback_limits,
    "hinge.slab.depths": lambda scene, k: (0.0, scene.hinge.leaf_thickness + PAST_FLUSH_IN),
    "hinge.jamb.depths": lambda scene, k: (
        0.0,
        min(scene.hinge.leaf_thickness + PAST_FLUSH_IN, 0.9 * scene.opening.thickness),
    ),
    "hinge.slab.tops": lambda scene, k: (
        0.0,
        scene.slab.height[0] - scene.hinge.leaf_length * (scene.hinge.count - k),
    ),
    "slab.hinge_edge.bevel": _bevel_limits,
    "slab.strike_edge.bevel": _bevel_limits,
    "slab.width": _width_limits,
    "slab.height": _height_limits,
    "slab.head_margin": lambda scene, k: (0.0, 1.0),
    "slab.thickness": _thickness_limits,
    "opening.rabbet.hinge": _rabbet_limits,
    "opening.rabbet.strike": _rabbet_limits,
    "opening.rabbet.head": _rabbet_limits,
    "stop.projection": lambda scene, k: (1 / 8, 1.0),
    "hinge.open_width": _open_width_limits,
    "hinge.closed_gap": lambda scene, k: (0.0, 1 / 4),
    "hinge.screw_proud": lambda scene, k: (0.0, 1 / 8),
}
