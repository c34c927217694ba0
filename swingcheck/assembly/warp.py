"""A slab out of flat: how far each place on it stands off, and the skin through it.

The faces are displaced along ``y`` alone, so the slab keeps its thickness and
its outline. Bow is a parabola up the slab and cup one across it; twist is the
strike edge's top corner carried off the plane of the other three, so that the
slab is ruled straight both ways (a hyperbolic paraboloid).
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, sqrt

import numpy as np

from swingcheck.assembly.legs import FACE_SAGITTA
from swingcheck.geometry.solid import Floats, Ints
from swingcheck.geometry.solids import Skin
from swingcheck.model import Slab, Warp, station_value


def warp_at(slab: Slab, x: float, z: float) -> float:
    """Return how far the slab stands off flat at a place, inches, positive to the pull side.

    With ``u`` from the hinge edge (0) to the strike edge (1) and ``v`` from
    the bottom to the top: ``4 bow v (1 - v) + 4 cup u (1 - u) + twist u v``.
    """
    warp = slab.warp
    if warp is None:
        return 0.0
    across = x / station_value(slab.width, 1 - z / slab.height[1])
    up = z / (slab.height[0] + (slab.height[1] - slab.height[0]) * across)
    return _off(warp, across, up)


def _off(warp: Warp, across: float, up: float) -> float:
    bow = 4 * warp.bow * up * (1 - up)
    return bow + 4 * warp.cup * across * (1 - across) + warp.twist * across * up


def lean_at(slab: Slab, x: float, z: float) -> float:
    """Return how much farther to the pull side the slab stands for each inch up, at a place."""
    step = slab.height[0] / 64
    return (warp_at(slab, x, z + step) - warp_at(slab, x, z - step)) / (2 * step)


def warp_facets(warp: Warp) -> tuple[int, int]:
    """Return into how many strips to part the slab, across and up.

    A parabola of rise ``d`` in ``n`` chords strays ``d / n^2`` from them; two
    triangles stray a quarter of what their cell is twisted.
    """
    twist = ceil(sqrt(abs(warp.twist) / 4 / FACE_SAGITTA))
    across = max(1, ceil(sqrt(abs(warp.cup) / FACE_SAGITTA)), twist)
    up = max(1, ceil(sqrt(abs(warp.bow) / FACE_SAGITTA)), twist)
    return across, up


def warped(name: str, slab: Slab, warp: Warp, rings: Floats, counts: tuple[int, int]) -> Skin:
    """Return the skin through rings of a flat slab, carried off flat.

    ``rings`` (s, k, 3) run from the bottom to the top: the hinge edge from the wide face to
    the narrow one, then the strike edge back; ``counts`` are how many of their corners are
    on either edge.
    """
    across, up = warp_facets(warp)
    split = np.array([_faced(ring, counts[0], across) for ring in _climbed(rings, up)])
    shift = [[warp_at(slab, x, z) for x, _, z in ring] for ring in split]
    split[:, :, 1] += shift
    size = split.shape[1]
    # Both faces fold along the same diagonals, so that the thickness is kept.
    on_wide = np.arange(size) >= size - across
    return Skin(name, split, folded=on_wide, cap=_cap(size, counts, across))


def _climbed(rings: Floats, up: int) -> list[Floats]:
    """Return the rings with more between them, so that there are at least ``up`` strips."""
    height = rings[-1, 0, 2] - rings[0, 0, 2]
    found = [rings[0]]
    for low, high in pairwise(rings):
        steps = max(1, ceil(up * (high[0, 2] - low[0, 2]) / height - 1e-9))
        found += [low + (high - low) * k / steps for k in range(1, steps)]
        found.append(high)
    return found


def _faced(ring: Floats, hinge: int, across: int) -> Floats:
    """Return a ring with corners between on its narrow face and then on its wide one."""
    shares = np.arange(1, across)[:, None] / across
    narrow = ring[hinge - 1] + shares * (ring[hinge] - ring[hinge - 1])
    wide = ring[-1] + shares * (ring[0] - ring[-1])
    return np.concatenate([ring[:hinge], narrow, ring[hinge:], wide])


def _cap(size: int, counts: tuple[int, int], across: int) -> Ints:
    """Return the triangles that close a ring: fans at both edges, and strips from face to face."""
    hinge, strike = counts
    narrow = np.arange(hinge - 1, hinge + across)
    last = hinge + across - 1 + strike - 1
    wide = np.concatenate([[0], np.arange(size - 1, last - 1, -1)])
    start = hinge + across - 1
    fans = [
        [(0, k, k + 1) for k in range(1, hinge - 1)],
        [(last, k, k + 1) for k in range(start, last - 1)],
    ]
    strips = []
    for (w, n), (w_next, n_next) in pairwise(zip(wide, narrow, strict=True)):
        strips += [(w, n, n_next), (w, n_next, w_next)]
    return np.array([*fans[0], *fans[1], *strips], dtype=np.int64)
