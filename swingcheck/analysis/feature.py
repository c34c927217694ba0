"""Which feature of the slab a point is on, in trade words."""

from __future__ import annotations

from math import cos, hypot, sin, sqrt

from swingcheck.assembly.slab import width_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import Edge, EdgeShape, Slab

NEAR = 1e-5  # inches: on a face within this (round edges: within their facets' sagitta)
FACET = 2e-3


def slab_feature(slab: Slab, point: Floats, span: float) -> str:
    """Return the name of the slab's feature at a point (3,) of the slab frame.

    ``span`` is the height of the line along which it touches, inches: 0 for a
    single place, so that a corner is not named for a whole arris.
    """
    x, y, z = (float(v) for v in point)
    faces = []
    if abs(y) < NEAR:
        faces.append("wide-face")
    if abs(y + slab.thickness) < NEAR:
        faces.append("narrow-face")
    edge = _edge_at(slab, x, y, z)
    end = _end_at(slab, x, z) if span < NEAR else ""
    if edge and faces:
        arris = f"{faces[0]} arris of the {edge}"
        return f"{end} corner of the {arris}" if end else arris
    if edge:
        return f"{end} of the {edge}" if end else edge
    if faces and end:
        return f"{faces[0]} arris of the {end} edge"
    if faces:
        return faces[0].replace("-", " ")
    return f"{end} edge" if end else "cut edge of a mortise or bore"


def _edge_at(slab: Slab, x: float, y: float, z: float) -> str:
    if abs(_off_edge(slab.hinge_edge, slab.thickness, x, y)) < _room(slab.hinge_edge):
        return "hinge edge"
    inward = width_at(slab, z) - x
    if abs(_off_edge(slab.strike_edge, slab.thickness, inward, y)) < _room(slab.strike_edge):
        return "strike edge"
    return ""


def _room(edge: Edge) -> float:
    return FACET if edge.shape is EdgeShape.RADIUS else NEAR


def _off_edge(edge: Edge, thickness: float, inward: float, y: float) -> float:
    """Return how far a point, ``inward`` of the wide-face arris or crown, is inside the edge."""
    if edge.shape is EdgeShape.RADIUS:
        return edge.radius - hypot(inward - edge.radius, y + thickness / 2)
    return inward * cos(edge.bevel) + y * sin(edge.bevel)


def _end_at(slab: Slab, x: float, z: float) -> str:
    if abs(z) < NEAR:
        return "bottom"
    hinge, strike = slab.height
    across = min(max(x / slab.width[0], 0.0), 1.0)
    slope = (strike - hinge) / slab.width[0]
    top = hinge + (strike - hinge) * across
    return "top" if abs(top - z) / sqrt(1 + slope * slope) < max(NEAR, 1e-3 * abs(slope)) else ""
