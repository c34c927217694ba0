"""Which feature of the slab a point is on, in trade words."""

from __future__ import annotations

from math import cos, hypot, sin, sqrt, tan

from swingcheck.assembly.rebates import lip_back
from swingcheck.assembly.slab import width_at
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.solid import Floats
from swingcheck.model import Edge, Slab, slab_arc

ON_FACE_IN = 1e-5
"""A point this near to a face is on it."""

ON_FACET_IN = 2e-3
"""One this near to a round or warped face is: past its facets' sagitta."""

LIP = "lip on the "
"""What the feature of an edge that laps the frame begins with."""


def slab_feature(slab: Slab, point: Floats, span: float) -> str:
    """Return the name of the slab's feature at a point (3,) of the slab frame.

    ``span`` is the height of the line along which it touches, inches: 0 for a
    single place, so that a corner is not named for a whole arris.
    """
    x, y, z = (float(v) for v in point)
    y -= warp_at(slab, x, z)
    lip = _lip_at(slab, x, y, z)
    if lip:
        return lip
    near = ON_FACET_IN if slab.warp else ON_FACE_IN
    faces = []
    if abs(y) < near:
        faces.append("wide-face")
    if abs(y + slab.thickness) < near:
        faces.append("narrow-face")
    edge = _edge_at(slab, x, y, z)
    end = _end_at(slab, x, y, z) if span < ON_FACE_IN else ""
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


def _lip_at(slab: Slab, x: float, y: float, z: float) -> str:
    """Return which lip a point is on, beyond the edge that it laps; nothing for none."""
    if slab.lip is None or y < lip_back(slab) - ON_FACE_IN:
        return ""
    if x < -ON_FACE_IN:
        return f"{LIP}hinge edge"
    if x > width_at(slab, z) + ON_FACE_IN:
        return f"{LIP}strike edge"
    return f"{LIP}head edge" if z > _top(slab, x, y) + ON_FACE_IN else ""


def _edge_at(slab: Slab, x: float, y: float, z: float) -> str:
    strike = slab.strike_edge, width_at(slab, z) - x
    for name, edge, inward in (("hinge edge", slab.hinge_edge, x), ("strike edge", *strike)):
        near = ON_FACET_IN if slab.warp or edge.is_round else ON_FACE_IN
        if abs(_off_edge(edge, slab.thickness, inward, y)) < near:
            return name
    return ""


def _off_edge(edge: Edge, thickness: float, inward: float, y: float) -> float:
    """Return how far a point, ``inward`` of the wide-face arris or crown, is inside the edge."""
    if edge.is_round:
        return edge.radius - hypot(inward - edge.radius, y + thickness / 2)
    return inward * cos(edge.bevel) + y * sin(edge.bevel)


def _top(slab: Slab, x: float, y: float) -> float:
    """Return how high a straight top stands at a place."""
    hinge, strike = slab.height
    across = min(max(x / slab.width[0], 0.0), 1.0)
    return hinge + (strike - hinge) * across + y * tan(slab.head_edge.bevel)


def _end_at(slab: Slab, x: float, y: float, z: float) -> str:
    if abs(z) < ON_FACE_IN:
        return "bottom"
    arc = slab_arc(slab)
    if arc is not None:
        return "top" if abs(arc.gap(x, z)) < ON_FACET_IN else ""
    slope = (slab.height[1] - slab.height[0]) / slab.width[0]
    off = abs(_top(slab, x, y) - z) / sqrt(1 + slope * slope)
    return "top" if off < max(ON_FACE_IN, 1e-3 * abs(slope)) else ""
