"""Closed solids from plain sizes: boxes, prisms, lofts, cylinders and plates.

All raise GeometryError, under the name they are given, where the sizes leave
nothing of the solid or an outline does not fit. Round outlines become facets:
every corner of a facet lies on the true curve, and no facet falls inside it by
more than the allowed ``sagitta``.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, ceil, cos, pi, sin

import numpy as np
from numpy.typing import ArrayLike

from swingcheck.errors import GeometryError
from swingcheck.geometry.solid import Bools, Floats, Ints, Solid, closed_solid, crossed

#: How far a facet of a round corner or a bore may fall inside its arc, inches.
ROUND_SAGITTA = 1e-3

_BOX_FACES = np.array(
    [
        [0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
        [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3],
    ]
)  # fmt: skip


def box(name: str, low: ArrayLike, high: ArrayLike) -> Solid:
    """Return the box between two opposite corners (3,), (3,)."""
    ends = np.array([low, high], dtype=np.float64)
    if not (ends[0] < ends[1]).all():
        raise GeometryError(name, "nothing is left of the box at these sizes")
    corners = [[ends[i, 0], ends[j, 1], ends[k, 2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)]
    return closed_solid(name, np.array(corners), _BOX_FACES)


def prism(name: str, outline: ArrayLike, low: float, high: float) -> Solid:
    """Return the upright prism on a plan outline (k, 2) between two heights."""
    plan = np.asarray(outline, dtype=np.float64)
    rings = np.empty((2, len(plan), 3))
    rings[:, :, :2] = plan
    rings[0, :, 2], rings[1, :, 2] = low, high
    return loft(name, rings)


def plate(name: str, outline: ArrayLike, frame: ArrayLike, thickness: float) -> Solid:
    """Return a flat plate.

    Parameters
    ----------
    name : str
        What to call it when it cannot be built.
    outline : (k, 2) float64
        The plate's outline in its own plane.
    frame : (3, 4) float64
        Columns: the directions of the outline's first and second coordinate,
        the direction of the thickness, and the origin.
    thickness : float
        From the outline's plane along the third direction.
    """
    flat = np.asarray(outline, dtype=np.float64)
    first, second, up, origin = np.asarray(frame, dtype=np.float64).T
    low = origin + (flat[:, :1] * first + flat[:, 1:] * second)
    return loft(name, np.array([low, low + thickness * up]))


def cylinder(
    name: str, start: ArrayLike, end: ArrayLike, radius: float, *, sagitta: float = ROUND_SAGITTA
) -> Solid:
    """Return the cylinder about the line from ``start`` (3,) to ``end`` (3,)."""
    start, end = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
    length = float(np.linalg.norm(end - start))
    if not length > 0:
        raise GeometryError(name, "its two ends fall together")
    up = (end - start) / length
    helper = np.eye(3)[np.argmin(np.abs(up))]
    first = crossed(helper, up)
    first /= np.linalg.norm(first)
    circle = circle_outline(name, radius, sagitta=sagitta)
    ring = circle[:, :1] * first + circle[:, 1:] * crossed(up, first)
    return loft(name, np.array([start + ring, end + ring]))


def loft(
    name: str, rings: ArrayLike, *, folded: Bools | None = None, cap: Ints | None = None
) -> Solid:
    """Return the closed skin through rings of points, with flat ends.

    Parameters
    ----------
    name : str
        What to call it when it cannot be built.
    rings : (s, k, 3) float64
        At least two rings of the same number of corners, in order from one
        end to the other, all wound the same way. A four-cornered side that is
        not flat is folded along one diagonal. The end rings are flat; they
        may be concave.
    folded : (k,) bool
        Which sides, each from a corner to the next, are folded along their
        other diagonal.
    cap : (m, 3) int64
        The triangles that fill an end ring, wound as the rings are: for ends
        that are not flat.
    """
    rings = np.asarray(rings, dtype=np.float64)
    if not np.isfinite(rings).all():
        raise GeometryError(name, "a corner is not a finite point")
    count, size = rings.shape[:2]
    here = np.arange(count - 1)[:, None] * size + np.arange(size)
    beside = np.arange(count - 1)[:, None] * size + np.roll(np.arange(size), -1)
    other = np.zeros(size, dtype=bool) if folded is None else folded
    tip, heel = np.where(other, here, beside) + size, np.where(other, beside, here)
    sides = np.stack([here, beside, tip, heel, beside + size, here + size], axis=-1)
    low, high = (
        _flat_triangles(name, ring) if cap is None else cap for ring in (rings[0], rings[-1])
    )
    faces = np.concatenate([low[:, ::-1], sides.reshape(-1, 3), high + (count - 1) * size])
    vertices = rings.reshape(-1, 3)
    if Solid(vertices, faces).volume < 0:
        faces = faces[:, ::-1]
    return closed_solid(name, vertices, faces)


def _flat_triangles(name: str, ring: Floats) -> Ints:
    """Return the triangles (m, 3) that fill a flat ring (k, 3), wound as the ring is.

    A convex ring is a fan; any other is cut up corner by corner.
    """
    following = np.roll(ring, -1, axis=0)
    turns = crossed(following - ring, np.roll(ring, -2, axis=0) - following)
    normal = crossed(ring - ring[0], following - ring[0]).sum(axis=0)
    if not normal.any():
        raise GeometryError(name, "nothing is left of its outline at these sizes")
    if (turns @ normal > 1e-12 * (normal @ normal)).all():
        steps = np.arange(1, len(ring) - 1)
        return np.stack([np.zeros_like(steps), steps, steps + 1], axis=-1)
    from manifold3d import triangulate

    axis = int(np.argmax(np.abs(normal)))
    flat = ring[:, [(axis + 1) % 3, (axis + 2) % 3]]
    if normal[axis] > 0:
        return np.array(triangulate([np.ascontiguousarray(flat)]), dtype=np.int64)
    flipped = np.array(triangulate([np.ascontiguousarray(flat[::-1])]), dtype=np.int64)
    return len(ring) - 1 - flipped[:, ::-1]


def rounded_outline(
    name: str,
    low: Sequence[float],
    high: Sequence[float],
    radii: Sequence[float],
    *,
    sagitta: float = ROUND_SAGITTA,
) -> Floats:
    """Return a rectangle with round corners, (k, 2), counter-clockwise.

    Parameters
    ----------
    name : str
        What to call it when it cannot be built.
    low, high : sequence of two floats
        Opposite corners.
    radii : sequence of four floats
        Corner radii, counter-clockwise from the low corner; 0 is sharp.
    sagitta : float
        How far a facet may fall inside its arc.
    """
    (x0, y0), (x1, y1) = low, high
    across, up = x1 - x0, y1 - y0
    sides = (across, up, across, up)
    slack = 1e-12 * max(abs(value) for value in (x0, y0, x1, y1, 1.0))
    if across <= 0 or up <= 0:
        raise GeometryError(name, "nothing is left of its outline at these sizes")
    if min(radii) < 0 or any(radii[k] + radii[(k + 1) % 4] > sides[k] + slack for k in range(4)):
        raise GeometryError(name, "its corner radius does not fit on its sides")
    corners = ((x0, y0, 1, 1), (x1, y0, -1, 1), (x1, y1, -1, -1), (x0, y1, 1, -1))
    points: list[tuple[float, float]] = []
    for k, ((x, y, inward_x, inward_y), radius) in enumerate(zip(corners, radii, strict=True)):
        if radius == 0:
            points.append((x, y))
            continue
        facets = arc_facets(radius, pi / 2, sagitta)
        for step in range(facets + 1):
            along, back = _quarter(step / facets)
            dx, dy = (back, along) if k % 2 else (along, back)
            points.append((x + inward_x * radius * (1 - dx), y + inward_y * radius * (1 - dy)))
    return _without_repeats(np.array(points))


def circle_outline(name: str, radius: float, *, sagitta: float = ROUND_SAGITTA) -> Floats:
    """Return a circle about the origin, (k, 2), counter-clockwise; k is a multiple of 4."""
    if not radius > 0:
        raise GeometryError(name, "its radius leaves nothing of it")
    quarter = arc_facets(radius, pi / 2, sagitta)
    arc = np.array([_quarter(step / quarter) for step in range(quarter)])
    turns = [arc, arc[:, ::-1] * [-1, 1], -arc, arc[:, ::-1] * [1, -1]]
    return radius * np.concatenate(turns)


def arc_facets(radius: float, angle: float, sagitta: float) -> int:
    """Return how many facets keep an arc of this angle (radians) within the sagitta.

    A chord that spans ``a`` falls inside its arc by ``radius (1 - cos(a / 2))``.

    Examples
    --------
    >>> arc_facets(0.625, pi / 2, 1e-3)
    14
    """
    if sagitta >= radius:
        return max(1, ceil(angle / pi))
    return max(1, ceil(angle / (2 * acos(1 - sagitta / radius)) - 1e-9))


def _quarter(fraction: float) -> tuple[float, float]:
    """Return cosine and sine at a fraction of a quarter turn, exact at both ends."""
    if fraction in (0.0, 1.0):
        return 1.0 - fraction, fraction
    return cos(fraction * pi / 2), sin(fraction * pi / 2)


def _without_repeats(points: Floats) -> Floats:
    """Return the outline without corners that stand on the corner before them."""
    steps = np.abs(points - np.roll(points, 1, axis=0)).max(axis=1)
    return points[steps > 1e-12 * np.abs(points).max()]
