"""Round edges of a slab that swings both ways: how far they sweep, and which radii clear.

An edge of radius ``r``, its crown ``L`` from the axis along the slab, the
slab's middle ``m`` off the axis: the round's centre stands at ``(L - r, m)``,
and its arc spans ``asin(T / 2r)`` to either side. The farthest point from the
axis lies on the line from the axis through that centre, where the arc reaches
so far round, at ``hypot(L - r, m) + r``; else it is the farther arris, at
``hypot(L - s, |m| + T / 2)``, ``s`` being how far the arrises stand back from
the crown. With the axis in the slab's middle any radius from half the
thickness up to ``L`` sweeps exactly ``L``: the edge never reaches past where
it closes, either way. Derived here; plane geometry.
"""

from __future__ import annotations

from math import asin, atan2, hypot, inf, sqrt

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.slab import width_at
from swingcheck.model import Edge, EdgeShape
from swingcheck.swing.found import Margins, RoundEdge


def sweep_radius(radius: float, thickness: float, along: float, off: float) -> float:
    """Return how far from the axis an edge reaches; a square edge has an infinite radius.

    The edge's ``radius`` is at least half the slab's ``thickness``; ``along`` is from axis
    to crown along the slab, ``off`` the slab's middle off the axis, across it.

    Examples
    --------
    >>> sweep_radius(2.125, 1.75, 30.0, 0.0)
    30.0
    >>> round(sweep_radius(inf, 1.75, 30.0, 0.0), 6)
    30.012758
    """
    half = thickness / 2
    if radius < inf and atan2(abs(off), along - radius) <= asin(min(half / radius, 1.0)):
        return hypot(along - radius, off) + radius
    return hypot(along - _edge(radius).wide_inset(thickness), abs(off) + half)


def _edge(radius: float) -> Edge:
    return Edge() if radius == inf else Edge(shape=EdgeShape.RADIUS, radius=radius)


def radii_that_clear(
    thickness: float, along: float, off: float, margin: float
) -> tuple[float, float] | None:
    """Return the least and the greatest radius that sweep no farther than the margin leaves.

    The sweep grows with the radius, so the least is half the thickness: a
    bullnose. None where even that reaches too far.

    Examples
    --------
    >>> least, greatest = radii_that_clear(1.75, 30.0, 0.0, 0.005)
    >>> least, round(sweep_radius(greatest, 1.75, 30.0, 0.0), 9)
    (0.875, 30.005)
    """
    least, reach = thickness / 2, along + margin
    if sweep_radius(least, thickness, along, off) > reach:
        return None
    if sweep_radius(inf, thickness, along, off) <= reach:
        return least, inf
    # The farther arris just reaches: s = L - sqrt(reach^2 - (|m| + T/2)^2).
    back = along - sqrt(reach**2 - (abs(off) + thickness / 2) ** 2)
    greatest = (back**2 + thickness**2 / 4) / (2 * back)
    if sweep_radius(greatest, thickness, along, off) > reach + 1e-12 * reach:
        # The arc itself reaches first: hypot(L - r, m) = reach - r.
        greatest = along + margin / 2 - off**2 / (2 * margin)
    return least, greatest


def round_edges(assembly: Assembly, margins: Margins) -> tuple[RoundEdge, ...]:
    """Return what both edges of a slab that swings both ways sweep.

    Taken at mid-height. An edge that is not round has an infinite radius; a
    bevelled one is left out.
    """
    slab, found = assembly.scene.slab, []
    middle, thickness = slab.height[1] / 2, slab.thickness
    point = assembly.in_slab(assembly.axis.point)
    direction = assembly.axis.direction @ assembly.place[:, :3]
    pin = point + direction * ((middle - point[2]) / direction[2])
    off = float(-thickness / 2 - pin[1])
    places = {
        "hinge edge": (slab.hinge_edge, float(pin[0]), margins.hinge),
        "strike edge": (slab.strike_edge, width_at(slab, middle) - float(pin[0]), margins.strike),
    }
    for name, (edge, along, own) in places.items():
        if edge.shape is EdgeShape.BEVEL or along <= 0:
            continue
        radius, margin = edge.radius if edge.is_round else inf, float(np.mean(own))
        run_out = sweep_radius(radius, thickness, along, off) - along
        least, greatest = radii_that_clear(thickness, along, off, margin) or (None, None)
        swept = RoundEdge(
            edge=name,
            radius=radius,
            along=along,
            run_out=run_out,
            left=margin - run_out,
            least=least,
            greatest=greatest,
            least_left=along + margin - sweep_radius(thickness / 2, thickness, along, off),
            at_faces=margin + _edge(radius).wide_inset(thickness),
        )
        found.append(swept)
    return tuple(found)
