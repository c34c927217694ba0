"""What is taken off a slab's outline: the rebates behind a lip, and all that is over an arch."""

from __future__ import annotations

from math import tan

import numpy as np

from swingcheck.assembly.arches import arc_points
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import loft, prism
from swingcheck.model import Lip, Slab, slab_arc

#: How far a tool runs past what it takes away, inches.
_BEYOND = 1.0


def lip_back(slab: Slab) -> float:
    """Return where a lip's back stands, slab frame: ``y``, 0 without a lip."""
    return slab.lip.depth - slab.thickness if slab.lip else 0.0


def lip_rebates(slab: Slab) -> list[Solid]:
    """Return what the rebates behind a lip take away, one for each edge that has one."""
    lip = slab.lip
    if lip is None:
        return []
    tools = []
    if lip.hinge > 0:
        tools.append(_hinge_rebate(slab, lip))
    if lip.strike > 0:
        tools.append(_strike_rebate(slab, lip))
    if lip.head > 0:
        tools.append(_head_rebate(slab, lip))
    return tools


def arch_waste(slab: Slab) -> list[Solid]:
    """Return what is taken away over an arched top, nothing for a straight one."""
    arc = slab_arc(slab)
    if arc is None:
        return []
    points = arc_points(arc)
    left, right = points[0, 0] - 2 * _BEYOND, points[-1, 0] + 2 * _BEYOND
    top = arc.crown + 2 * _BEYOND
    ends = [(right, points[-1, 1]), (right, top), (left, top), (left, points[0, 1])]
    outline = np.concatenate([points, ends])
    thick = slab.thickness + abs(slab.warp.bow if slab.warp else 0.0) + 4 * _BEYOND
    rings = np.empty((2, len(outline), 3))
    rings[:, :, 0], rings[:, :, 2] = outline[:, 0], outline[:, 1]
    rings[0, :, 1], rings[1, :, 1] = -thick, 4 * _BEYOND
    return [loft("slab arch", rings)]


def _spans(slab: Slab, lip: Lip) -> tuple[float, float, float]:
    """Return where a rebate's tool begins and ends through the thickness, and how high it goes."""
    high = max(slab.height) + lip.head + _BEYOND
    return lip_back(slab), -slab.thickness - _BEYOND, high


def _hinge_rebate(slab: Slab, lip: Lip) -> Solid:
    near, far, high = _spans(slab, lip)
    lean = tan(slab.hinge_edge.lean)
    out = -lip.hinge - _BEYOND
    outline = [(out, near), (-near * lean, near), (-far * lean, far), (out, far)]
    return prism("slab rebate", outline, -_BEYOND, high)


def _strike_rebate(slab: Slab, lip: Lip) -> Solid:
    near, far, high = _spans(slab, lip)
    lean = tan(slab.strike_edge.lean)
    out = max(slab.width) + lip.strike + _BEYOND
    rings = []
    for z, width in _widths(slab, -_BEYOND, high):
        edge = [(width + y * lean, y, z) for y in (near, far)]
        rings.append([(out, near, z), *edge, (out, far, z)])
    return loft("slab rebate", np.array(rings))


def _widths(slab: Slab, low: float, high: float) -> Floats:
    """Return the heights at which the width was read and the width there, run on to two others."""
    last = len(slab.width) - 1
    if not last:
        return np.array([[low, slab.width[0]], [high, slab.width[0]]])
    step = slab.height[1] / last
    read = [(slab.height[1] - k * step, width) for k, width in enumerate(slab.width)][::-1]
    foot = (read[1][1] - read[0][1]) / step
    head = (read[-1][1] - read[-2][1]) / step
    ends = (low, read[0][1] + foot * low), (high, read[-1][1] + head * (high - read[-1][0]))
    return np.array([ends[0], *read[1:-1], ends[1]])


def _head_rebate(slab: Slab, lip: Lip) -> Solid:
    near, far, high = _spans(slab, lip)
    low, strike = slab.height
    slope, lean = (strike - low) / slab.width[0], tan(slab.head_edge.lean)
    left, right = -lip.hinge - _BEYOND, slab.width[0] + lip.strike + _BEYOND
    high += abs(slope) * (right - left)
    faces = [
        [
            (left, y, low + slope * left + lean * y),
            (right, y, low + slope * right + lean * y),
            (right, y, high),
            (left, y, high),
        ]
        for y in (near, far)
    ]
    return loft("slab rebate", np.array(faces))
