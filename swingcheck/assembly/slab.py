"""The slab as one solid in its own frame: edges, taper, lip, warp, mortises and bores.

``x`` runs from the hinge edge's wide-face arris toward the strike edge,
``y = 0`` is the wide face and ``y = -T`` the narrow one, ``z = 0`` the bottom.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import pi
from typing import Any

import numpy as np

from swingcheck.assembly.drafts import Draft, Pattern
from swingcheck.assembly.leaves import mortise_tool
from swingcheck.assembly.parts import PartKind
from swingcheck.assembly.pins import slab_leaf_frames
from swingcheck.assembly.rebates import arch_waste, lip_back, lip_rebates
from swingcheck.assembly.warp import warp_at, warped
from swingcheck.geometry.sizes import Sizes, hold, point, points, smallest, variants
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import (
    ROUND_SAGITTA,
    Skin,
    arc_facets,
    box,
    box_skin,
    circle_outline,
    cylinder_skin,
)
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

    Raises GeometryError where the sizes leave nothing of the slab, or its parts do not
    fit.
    """
    return slab_draft(scene, Pattern()).solid()


def slab_draft(scene: Scene, pattern: Pattern) -> Draft:
    """Return the slab, mortised and bored, in the slab frame."""
    slab = scene.slab
    waste: list[Skin | Solid] = [*lip_rebates(slab), *_lip_notches(scene), *arch_waste(slab)]
    waste += [*_leaf_mortises(scene, pattern), *_lock_bores(scene, pattern)]
    skin = _blank(slab, pattern)
    return Draft(name="slab", kind=PartKind.SLAB, skin=skin, cut=tuple(waste))


def slab_blank(slab: Slab) -> Solid:
    """Return the slab with its edges shaped, before anything is cut off or let in.

    A lipped slab's is square and as large as its lips, an arched one's as high
    as its crown.
    """
    return _blank(slab, Pattern()).solid()


def _blank(slab: Slab, pattern: Pattern) -> Skin:
    hinge, strike = (
        variants(_blank_profile(slab, pattern, at_strike=at_strike), 2).swapaxes(0, 1)
        for at_strike in (False, True)
    )
    last = len(slab.width) - 1
    rings = [_level_ring(hinge, strike, slab.width[-1], 0.0)]
    for k in range(last - 1, 0, -1):
        rings.append(_level_ring(hinge, strike, slab.width[k], slab.height[1] * (1 - k / last)))
    rings.append(_top_ring(slab, hinge, strike))
    hold(
        "slab",
        rings[-1][2].min(axis=0) > rings[-2][2].max(axis=0),
        "its top slopes down past a height where its width was read",
    )
    skin = np.stack(np.broadcast_arrays(*rings)).swapaxes(1, 2)
    if slab.warp is not None:
        counts = hinge.shape[1], strike.shape[1]
        return warped("slab", slab, slab.warp, skin[..., 0], counts)
    narrow = skin[:, hinge.shape[1], 0] - skin[:, hinge.shape[1] - 1, 0]
    wide = skin[:, -1, 0] - skin[:, 0, 0]
    hold("slab", (narrow > 0) & (wide > 0), "nothing is left of its width at these sizes")
    return Skin("slab", skin)


def _blank_profile(slab: Slab, pattern: Pattern, *, at_strike: bool) -> Floats:
    """Return an edge of the blank in plan, as ``edge_profile`` does: out to its lip's face."""
    lip = slab.lip
    out = 0.0 if lip is None else lip.strike if at_strike else lip.hinge
    if out > 0:
        return points([(-out, 0.0), (-out, -slab.thickness)])
    edge = slab.strike_edge if at_strike else slab.hinge_edge
    return edge_profile(edge, slab.thickness, pattern)


def edge_profile(edge: Edge, thickness: Sizes, pattern: Pattern | None = None) -> Floats:
    """Return an edge in plan, (k, 2, ...), from the wide face to the narrow one.

    The first column is how far the edge stands back from the plane through
    the wide-face arris (a round edge: through its crown), the second is ``y``.
    """
    if edge.is_round:
        return _round_profile(edge, thickness, pattern or Pattern())
    return points([(0.0, 0.0), (thickness * np.tan(edge.lean), -thickness)])


def slab_bottom(scene: Scene) -> Any:
    """Return how high the closed slab's bottom stands at the hinge edge, opening frame."""
    return hung_top(scene.opening, scene.slab) - scene.slab.height[0]


def width_at(slab: Slab, z: Sizes) -> Any:
    """Return the slab's width at height ``z`` of the slab frame."""
    return station_value(slab.width, 1 - z / slab.height[1])


def bore_centre(scene: Scene, lock: Lock) -> Floats:
    """Return the middle (3, ...) of a lock's cross bore, slab frame.

    The backset is level, from the strike edge at mid-thickness.
    """
    slab = scene.slab
    z = lock.height - slab_bottom(scene)
    x = _strike_middle(slab, z) - lock.backset
    return point(x, warp_at(slab, x, z) - slab.thickness / 2, z)


def _round_profile(edge: Edge, thickness: Sizes, pattern: Pattern) -> Floats:
    radius, half = edge.radius, thickness / 2
    hold("slab", radius >= half, "an edge's radius is less than half its thickness")
    span = np.arcsin(half / radius)
    first = float(np.ravel(span)[0])
    steps = pattern.once(
        f"round edge {edge.radius}", lambda: arc_facets(radius, first, EDGE_SAGITTA)
    )
    turns = np.multiply.outer(np.arange(steps + 1) / steps, span)
    y, inset = radius * np.sin(turns), radius * (1 - np.cos(turns))
    y[-1] = half
    wide = np.stack([inset, y - half], axis=1)[::-1]
    return np.concatenate([wide, np.stack([inset, -y - half], axis=1)[1:]])


def _level_ring(hinge: Floats, strike: Floats, width: Sizes, z: Sizes) -> Floats:
    """Return a ring (3, k, n) from the edges' profiles (2, k, n), down one and back the other."""
    x = _joined(hinge[0], (width - strike[0])[::-1])
    return point(x, _joined(hinge[1], strike[1][::-1]), z)


def _joined(hinge: Floats, strike: Floats) -> Floats:
    """Return the sizes (k, n) of both edges' corners."""
    count = np.broadcast_shapes(hinge.shape[1:], strike.shape[1:])
    each = (np.broadcast_to(edge, (len(edge), *count)) for edge in (hinge, strike))
    return np.concatenate(list(each))


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
    lean, inset = _head_lean(slab), strike[0][::-1]
    fall = lean * strike[1][::-1]
    down = slab.height[1] - low - fall
    x = (width - inset + spread * down) / (1 + spread * slope)
    # At its own height a sloped top meets the arris where its width was read, to the bit.
    at_height = (np.not_equal(slope, 0) & np.equal(high, slab.height[1])) & (
        (inset == 0.0) & (fall == 0.0)
    )
    x = np.where(at_height, width, x)
    z = np.where(at_height, high, low + slope * x + fall)
    near = low + slope * hinge[0] + lean * hinge[1]
    ring = (_joined(hinge[0], x), _joined(hinge[1], strike[1][::-1]), _joined(near, z))
    return point(*ring)


def _top_heights(slab: Slab) -> tuple[Sizes, Sizes]:
    """Return how high the blank is at the hinge edge and the strike edge."""
    arc = slab_arc(slab)
    if arc is not None:
        return arc.crown + OVER_ARCH, arc.crown + OVER_ARCH
    up = slab.lip.head if slab.lip else 0.0
    return slab.height[0] + up, slab.height[1] + up


def _head_lean(slab: Slab) -> Any:
    """Return how much lower the blank's top is for each inch in from the wide face."""
    is_lipped = slab.lip is not None and slab.lip.head > 0
    return 0.0 if is_lipped or slab.arch else np.tan(slab.head_edge.lean)


def _leaf_mortises(scene: Scene, pattern: Pattern) -> Iterator[Skin]:
    slab, hinge = scene.slab, scene.hinge
    if not hinge.count:
        return
    frames = slab_leaf_frames(scene)
    run = slab.thickness / np.cos(slab.hinge_edge.lean) - smallest(hinge.slab.setbacks)
    for k, depth in enumerate(hinge.slab.depths):
        if pattern.is_some(f"slab mortise {k}", depth):
            yield mortise_tool(scene, "slab mortise", frames[..., k, :], depth, run, pattern)


def _lip_notches(scene: Scene) -> Iterator[Solid]:
    """Yield what is cut out of the hinge edge's lip for the leaves to pass through."""
    slab, half = scene.slab, scene.hinge.leaf_length / 2 + LIP_NOTCH
    if slab.lip is None or slab.lip.hinge == 0:
        return
    for top in scene.hinge.slab.tops:
        middle = slab.height[0] - top - scene.hinge.leaf_length / 2
        low = (-slab.lip.hinge - 1.0, lip_back(slab), middle - half)
        yield box("lip notch", low, (0.0, 1.0, middle + half))


def _lock_bores(scene: Scene, pattern: Pattern) -> Iterator[Skin]:
    lock, slab = scene.lock, scene.slab
    if lock is None:
        return
    centre = bore_centre(scene, lock)
    x, y, z = centre
    lip = slab.lip.strike if slab.lip else 0.0
    face = point(x, y - slab.thickness, z)
    back = point(x, y + slab.thickness, z)
    outside = point(width_at(slab, z) + lip + 1.0, y, z)
    bores = (("lock bore", lock.bore, face, back), ("edge bore", lock.edge_bore, centre, outside))
    for name, size, start, end in bores:
        facets = pattern.once(name, partial(arc_facets, size / 2, pi / 2, ROUND_SAGITTA))
        yield cylinder_skin(name, start, end, circle_outline(name, size / 2, facets))
    if pattern.is_some("latch face mortise", lock.face_depth):
        yield _face_mortise(slab, lock, centre)


def _face_mortise(slab: Slab, lock: Lock, centre: Floats) -> Skin:
    """Return what the latch face's mortise takes away, square to the strike edge."""
    lean = slab.strike_edge.lean
    low = (-lock.face_depth, -lock.face_width / 2, -lock.face_length / 2)
    tool = box_skin("latch face mortise", low, (1.0, lock.face_width / 2, lock.face_length / 2))
    cos, sin = np.cos(lean), np.sin(lean)
    turn = points([(cos, sin, 0.0), (-sin, cos, 0.0), (0.0, 0.0, 1.0)])
    return tool.moved(turn, point(_strike_middle(slab, centre[2]), centre[1], centre[2]))


def _strike_middle(slab: Slab, z: Sizes) -> Any:
    """Return the strike edge's ``x`` at mid-thickness and height ``z``."""
    return width_at(slab, z) - slab.thickness / 2 * np.tan(slab.strike_edge.lean)
