"""The slab as one solid in its own frame: edges, taper, lip, warp, mortises and bores.

``x`` runs from the hinge edge's wide-face arris toward the strike edge,
``y = 0`` is the wide face and ``y = -T`` the narrow one, ``z = 0`` the bottom.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, cos, sin, tan

import numpy as np

from swingcheck.assembly.leaves import mortise_tool
from swingcheck.assembly.pins import slab_leaf_frame
from swingcheck.assembly.rebates import arch_waste, lip_back, lip_rebates
from swingcheck.assembly.warp import warp_at, warped
from swingcheck.errors import GeometryError
from swingcheck.geometry.booleans import cut
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import arc_facets, box, cylinder, loft
from swingcheck.model import (
    Edge,
    Lock,
    Scene,
    Slab,
    hung_top,
    slab_arc,
    station_value,
)

#: How far a facet of a round edge may fall inside its arc, inches.
EDGE_SAGITTA = 1e-4

#: How far the notch in a lip runs past a leaf at either end, inches. Common practice, no source.
LIP_NOTCH = 1 / 16

#: How much higher than its crown an arched slab's blank is, inches.
OVER_ARCH = 0.5


def slab_solid(scene: Scene) -> Solid:
    """Return the slab, mortised and bored, in the slab frame.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of the slab, or its parts do not fit.
    """
    slab = scene.slab
    waste = [*lip_rebates(slab), *_lip_notches(scene), *arch_waste(slab)]
    return cut("slab", slab_blank(slab), [*waste, *_leaf_mortises(scene), *_lock_bores(scene)])


def slab_blank(slab: Slab) -> Solid:
    """Return the slab with its edges shaped, before anything is cut off or let in.

    A lipped slab's is square and as large as its lips, an arched one's as high
    as its crown.
    """
    hinge, strike = (_blank_profile(slab, at_strike=at_strike) for at_strike in (False, True))
    strike = strike[::-1]
    last = len(slab.width) - 1
    rings = [_level_ring(hinge, strike, slab.width[-1], 0.0)]
    for k in range(last - 1, 0, -1):
        rings.append(_level_ring(hinge, strike, slab.width[k], slab.height[1] * (1 - k / last)))
    top = _top_ring(slab, hinge, strike)
    if top[:, 2].min() <= rings[-1][0, 2]:
        raise GeometryError("slab", "its top slopes down past a height where its width was read")
    skin = np.array([*rings, top])
    if slab.warp is not None:
        return warped("slab", slab, slab.warp, skin, (len(hinge), len(strike)))
    return loft("slab", skin)


def _blank_profile(slab: Slab, *, at_strike: bool) -> Floats:
    """Return an edge of the blank in plan, as ``edge_profile`` does: out to its lip's face."""
    lip = slab.lip
    out = 0.0 if lip is None else lip.strike if at_strike else lip.hinge
    if out > 0:
        return np.array([[-out, 0.0], [-out, -slab.thickness]])
    return edge_profile(slab.strike_edge if at_strike else slab.hinge_edge, slab.thickness)


def edge_profile(edge: Edge, thickness: float) -> Floats:
    """Return an edge in plan, (k, 2), from the wide face to the narrow one.

    The first column is how far the edge stands back from the plane through
    the wide-face arris (a round edge: through its crown), the second is ``y``.
    """
    if edge.is_round:
        return _round_profile(edge.radius, thickness)
    return np.array([[0.0, 0.0], [edge.narrow_inset(thickness), -thickness]])


def slab_bottom(scene: Scene) -> float:
    """Return how high the closed slab's bottom stands at the hinge edge, opening frame."""
    return hung_top(scene.opening, scene.slab) - scene.slab.height[0]


def width_at(slab: Slab, z: float) -> float:
    """Return the slab's width at height ``z`` of the slab frame."""
    return station_value(slab.width, 1 - z / slab.height[1])


def bore_centre(scene: Scene, lock: Lock) -> Floats:
    """Return the middle (3,) of a lock's cross bore, slab frame.

    The backset is level, from the strike edge at mid-thickness.
    """
    slab = scene.slab
    z = lock.height - slab_bottom(scene)
    x = _strike_middle(slab, z) - lock.backset
    return np.array([x, warp_at(slab, x, z) - slab.thickness / 2, z])


def _round_profile(radius: float, thickness: float) -> Floats:
    half = thickness / 2
    if radius < half:
        raise GeometryError("slab", "an edge's radius is less than half its thickness")
    span = asin(half / radius)
    steps = arc_facets(radius, span, EDGE_SAGITTA)
    y = np.array([radius * sin(span * k / steps) for k in range(steps + 1)])
    inset = np.array([radius * (1 - cos(span * k / steps)) for k in range(steps + 1)])
    y[-1] = half
    wide = np.stack([inset, y - half], axis=1)[::-1]
    narrow = np.stack([inset, -y - half], axis=1)
    return np.concatenate([wide, narrow[1:]])


def _level_ring(hinge: Floats, strike: Floats, width: float, z: float) -> Floats:
    ring = np.concatenate([hinge, strike])
    ring[len(hinge) :, 0] = width - strike[:, 0]
    return np.column_stack([ring, np.full(len(ring), z)])


def _top_ring(slab: Slab, hinge: Floats, strike: Floats) -> Floats:
    """Return the top ring: on the slope and the lean, at both edges as tapered and bevelled.

    The strike edge stands at ``x = w + s (H - z)``, with ``w`` its place at
    the height ``H`` where the top width was read and ``s`` the taper, and the
    top at ``z = low + slope x + lean y``.
    """
    width = slab.width[0]
    low, high = _top_heights(slab)
    slope = (high - low) / width
    last = len(slab.width) - 1
    spread = (slab.width[1] - width) * last / slab.height[1] if last else 0.0
    ring = _level_ring(hinge, strike, width, low)
    count = len(hinge)
    fall = _head_lean(slab) * ring[:, 1]
    down = slab.height[1] - low - fall[count:]
    ring[count:, 0] = (width - strike[:, 0] + spread * down) / (1 + spread * slope)
    ring[:, 2] = low + slope * ring[:, 0] + fall
    if slope and high == slab.height[1]:
        on_arris = np.arange(len(ring)) >= count
        on_arris[count:] &= (strike[:, 0] == 0.0) & (fall[count:] == 0.0)
        ring[on_arris, 2] = high
        ring[on_arris, 0] = width
    return ring


def _top_heights(slab: Slab) -> tuple[float, float]:
    """Return how high the blank is at the hinge edge and the strike edge."""
    arc = slab_arc(slab)
    if arc is not None:
        return arc.crown + OVER_ARCH, arc.crown + OVER_ARCH
    up = slab.lip.head if slab.lip else 0.0
    return slab.height[0] + up, slab.height[1] + up


def _head_lean(slab: Slab) -> float:
    """Return how much lower the blank's top is for each inch in from the wide face."""
    is_lipped = slab.lip is not None and slab.lip.head > 0
    return 0.0 if is_lipped or slab.arch else tan(slab.head_edge.lean)


def _leaf_mortises(scene: Scene) -> Iterator[Solid]:
    slab, hinge = scene.slab, scene.hinge
    run = slab.thickness / cos(slab.hinge_edge.lean) - min(hinge.slab.setbacks, default=0.0)
    for k in range(hinge.count):
        depth = hinge.slab.depths[k]
        if depth > 0:
            yield mortise_tool(scene, "slab mortise", slab_leaf_frame(scene, k), depth, run)


def _lip_notches(scene: Scene) -> Iterator[Solid]:
    """Yield what is cut out of the hinge edge's lip for the leaves to pass through."""
    slab, half = scene.slab, scene.hinge.leaf_length / 2 + LIP_NOTCH
    if slab.lip is None or slab.lip.hinge == 0:
        return
    for top in scene.hinge.slab.tops:
        middle = slab.height[0] - top - scene.hinge.leaf_length / 2
        low = (-slab.lip.hinge - 1.0, lip_back(slab), middle - half)
        yield box("lip notch", low, (0.0, 1.0, middle + half))


def _lock_bores(scene: Scene) -> Iterator[Solid]:
    lock, slab = scene.lock, scene.slab
    if lock is None:
        return
    centre = bore_centre(scene, lock)
    through = np.array([0.0, slab.thickness, 0.0])
    yield cylinder("lock bore", centre - through, centre + through, lock.bore / 2)
    lip = slab.lip.strike if slab.lip else 0.0
    outside = np.array([width_at(slab, centre[2]) + lip + 1.0, centre[1], centre[2]])
    yield cylinder("edge bore", centre, outside, lock.edge_bore / 2)
    if lock.face_depth > 0:
        yield _face_mortise(slab, lock, centre)


def _face_mortise(slab: Slab, lock: Lock, centre: Floats) -> Solid:
    """Return what the latch face's mortise takes away, square to the strike edge."""
    lean = slab.strike_edge.lean
    low = [-lock.face_depth, -lock.face_width / 2, -lock.face_length / 2]
    tool = box("latch face mortise", low, [1.0, lock.face_width / 2, lock.face_length / 2])
    turn = np.array([[cos(lean), sin(lean), 0.0], [-sin(lean), cos(lean), 0.0], [0.0, 0.0, 1.0]])
    return tool.moved(turn, np.array([_strike_middle(slab, centre[2]), centre[1], centre[2]]))


def _strike_middle(slab: Slab, z: float) -> float:
    """Return the strike edge's ``x`` at mid-thickness and height ``z``."""
    return width_at(slab, z) - slab.thickness / 2 * tan(slab.strike_edge.lean)
