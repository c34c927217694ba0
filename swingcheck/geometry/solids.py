"""Closed solids from plain sizes: boxes, prisms, lofts, cylinders and plates.

All raise GeometryError, under the name they are given, where the sizes leave
nothing of the solid or an outline does not fit. Round outlines become facets:
every corner of a facet lies on the true curve, and no facet falls inside it by
more than the allowed ``sagitta``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, reduce
from math import acos, ceil, cos, pi, sin
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from swingcheck.errors import GeometryError
from swingcheck.geometry.sizes import Sizes, hold, largest, point, points, variants
from swingcheck.geometry.solid import Bools, Floats, Ints, Solid, crossed

#: How far a facet of a round corner or a bore may fall inside its arc, inches.
ROUND_SAGITTA = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Skin:
    """The closed skin through rings of corners, with flat ends: one solid, or n variants of it.

    ``rings`` (s, k, 3, n) are two or more, in order from one end to the other, all wound
    the same way; the end rings are flat, and may be concave. A four-cornered side that is
    not flat is folded along one diagonal, those of ``folded`` (k,), each from a corner to
    the next, along the other. ``cap`` (m, 3) are the triangles that fill an end ring, wound
    as the rings are: for ends that are not flat, or known to be convex (:func:`fan`).
    ``name`` is what to call it when it cannot be built.
    """

    name: str
    rings: Floats
    folded: Bools | None = None
    cap: Ints | None = None

    def __post_init__(self) -> None:
        rings = self.rings.reshape(*self.rings.shape[:3], -1)
        hold(self.name, np.isfinite(rings), "a corner is not a finite point")
        object.__setattr__(self, "rings", rings)

    @property
    def corners(self) -> Floats:
        """Its corners (v, 3, n), ring by ring."""
        return self.rings.reshape(-1, *self.rings.shape[2:])

    def solid(self) -> Solid:
        """Return the first variant as a solid.

        Raises GeometryError where its sizes leave nothing of it.
        """
        ends, cap = self.rings[[0, -1], ..., 0], self.cap
        low, high = (_flat_triangles(self.name, end) if cap is None else cap for end in ends)
        count, size = self.rings.shape[:2]
        sides = ring_cells(count, size, None if self.folded is None else self.folded.tobytes())
        faces = [low[:, ::-1], sides.reshape(-1, 3), high + (count - 1) * size]
        return Mesh(self.name, self.corners, np.concatenate(faces)).solid()

    def moved(self, rotation: Floats, shift: Floats) -> Skin:
        """Return the skin at ``rotation @ corner + shift`` ((3, 3, ...), (3, ...))."""
        turned = np.einsum("ij...,skj...->ski...", variants(rotation, 2), self.rings)
        return replace(self, rings=turned + variants(shift, 1))


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """A closed mesh of corners (v, 3, n) and triangles (m, 3): one solid, or n variants of it."""

    name: str
    corners: Floats
    faces: Ints

    def solid(self) -> Solid:
        """Return the first variant as a solid, wound outward.

        Raises GeometryError where its sizes leave nothing of it.
        """
        solid = Solid(self.corners[..., 0], self.faces)
        volume = solid.volume
        if volume == 0:
            raise GeometryError(self.name, "nothing is left of the solid at these sizes")
        return Solid(solid.vertices, solid.faces[:, ::-1]) if volume < 0 else solid


@lru_cache(maxsize=256)
def ring_cells(count: int, size: int, folded: bytes | None = None) -> Ints:
    """Return the triangles (count - 1, size, 2, 3) between rings, two for each side."""
    here = np.arange(count - 1)[:, None] * size + np.arange(size)
    beside = np.arange(count - 1)[:, None] * size + np.roll(np.arange(size), -1)
    other = np.zeros(size, dtype=bool) if folded is None else np.frombuffer(folded, dtype=bool)
    tip, heel = np.where(other, here, beside) + size, np.where(other, beside, here)
    sides = np.stack([here, beside, tip, heel, beside + size, here + size], axis=-1)
    return sides.reshape(count - 1, size, 2, 3)


@lru_cache(maxsize=256)
def fan(size: int) -> Ints:
    """Return the triangles (m, 3) that fill a convex ring."""
    steps = np.arange(1, size - 1)
    return np.stack([np.zeros_like(steps), steps, steps + 1], axis=-1)


def box_skin(name: str, low: Sequence[Sizes] | Floats, high: Sequence[Sizes] | Floats) -> Skin:
    """Return the box between two opposite corners, three sizes each."""
    ends = points([low, high])
    hold(name, ends[0] < ends[1], "nothing is left of the box at these sizes")
    (x, y, z), (x1, y1, z1) = low, high
    around = ((x, y), (x1, y), (x1, y1), (x, y1))
    corners = points([(*plan, up) for up in (z, z1) for plan in around])
    return Skin(name, corners.reshape(2, 4, *corners.shape[1:]), cap=fan(4))


def plate_skin(
    name: str, outline: Floats, frame: Floats, thickness: Sizes, *, cap: Ints | None = None
) -> Skin:
    """Return a flat plate.

    Its ``outline`` (k, 2, ...) lies in the plane of the ``frame`` (3, 4, ...), whose columns
    are the directions of the outline's first and second coordinate, the direction of the
    ``thickness``, a float or (n,), and the origin. ``cap`` (m, 3) are the triangles that
    fill the outline.
    """
    flat, own = variants(outline, 2), variants(frame, 2)
    low = own[:, 3] + (flat[:, :1] * own[:, 0] + flat[:, 1:] * own[:, 1])
    high = low + thickness * own[:, 2]
    return Skin(name, np.stack(np.broadcast_arrays(low, high)), cap=cap)


def cylinder_skin(name: str, start: Floats, end: Floats, circle: Floats) -> Skin:
    """Return the cylinder on a circle (k, 2, ...) from ``start`` (3, ...) to ``end`` (3, ...)."""
    start, end = variants(start, 1), variants(end, 1)
    length = np.sqrt(((end - start) ** 2).sum(axis=0))
    hold(name, length > 0, "its two ends fall together")
    up = (end - start) / length
    helper = np.eye(3)[np.argmin(np.abs(up[:, 0]))]
    first = crossed(helper, up.T).T
    first = first / np.sqrt((first**2).sum(axis=0))
    flat = variants(circle, 2)
    ring = flat[:, :1] * first + flat[:, 1:] * crossed(up.T, first.T).T
    rings = np.stack(np.broadcast_arrays(start + ring, end + ring))
    return Skin(name, rings, cap=fan(len(flat)))


def box(name: str, low: ArrayLike, high: ArrayLike) -> Solid:
    """Return the box between two opposite corners (3,), (3,)."""
    ends = np.array([low, high], dtype=np.float64).tolist()
    return box_skin(name, *ends).solid()


def prism(name: str, outline: ArrayLike, low: float, high: float) -> Solid:
    """Return the upright prism on a plan outline (k, 2) between two heights."""
    plan = np.asarray(outline, dtype=np.float64)
    rings = np.empty((2, len(plan), 3))
    rings[:, :, :2] = plan
    rings[0, :, 2], rings[1, :, 2] = low, high
    return loft(name, rings)


def plate(name: str, outline: ArrayLike, frame: ArrayLike, thickness: float) -> Solid:
    """Return a flat plate: :func:`plate_skin` of an outline (k, 2) and a frame (3, 4)."""
    flat = np.asarray(outline, dtype=np.float64)
    return plate_skin(name, flat, np.asarray(frame, dtype=np.float64), thickness).solid()


def cylinder(name: str, start: ArrayLike, end: ArrayLike, radius: float) -> Solid:
    """Return the cylinder about the line from ``start`` (3,) to ``end`` (3,)."""
    first, last = (np.asarray(place, dtype=np.float64) for place in (start, end))
    return cylinder_skin(name, first, last, circle_outline(name, radius)).solid()


def loft(name: str, rings: ArrayLike) -> Solid:
    """Return the closed skin through rings of points (s, k, 3): see :class:`Skin`."""
    return Skin(name, np.asarray(rings, dtype=np.float64)).solid()


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
        return fan(len(ring))
    from manifold3d import triangulate

    axis = int(np.argmax(np.abs(normal)))
    flat = ring[:, [(axis + 1) % 3, (axis + 2) % 3]]
    if normal[axis] > 0:
        return np.array(triangulate([np.ascontiguousarray(flat)]), dtype=np.int64)
    flipped = np.array(triangulate([np.ascontiguousarray(flat[::-1])]), dtype=np.int64)
    return len(ring) - 1 - flipped[:, ::-1]


def rounded_outline(
    name: str,
    low: Sequence[Sizes],
    high: Sequence[Sizes],
    radii: Sequence[Sizes],
    facets: Sequence[int] | None = None,
) -> Floats:
    """Return a rectangle with round corners, (k, 2, ...), counter-clockwise.

    From its ``low`` corner to its ``high`` one, with four corner ``radii`` counter-clockwise
    from the low one; 0 is sharp. ``facets`` are into how many each corner is parted, 0
    where it is sharp; without them as many as keep within :data:`ROUND_SAGITTA`, and
    corners that fall together are one.
    """
    across, up = high[0] - low[0], high[1] - low[1]
    sides = (across, up, across, up)
    slack = 1e-12 * largest([1.0, *(np.abs(size) for size in (*low, *high))])
    hold(name, (across > 0) & (up > 0), "nothing is left of its outline at these sizes")
    fits = [np.less_equal(radii[k] + radii[(k + 1) % 4], sides[k] + slack) for k in range(4)]
    fits += [np.greater_equal(radius, 0) for radius in radii]
    hold(name, reduce(np.logical_and, fits), "its corner radius does not fit on its sides")
    counts = corner_facets(radii) if facets is None else tuple(facets)
    which, share = _rounded(counts)
    sizes = point(*low, *high, *radii)
    into = sizes[4 + which[:, 2]]
    found = [sizes[2 * which[:, k] + k] + (share[:, k] * into.T).T for k in (0, 1)]
    outline = np.stack(found, axis=1)
    return _without_repeats(outline) if facets is None else outline


def corner_facets(radii: Sequence[Any]) -> tuple[int, ...]:
    """Return into how many facets round corners are parted, 0 where one is sharp."""
    return tuple(arc_facets(r, pi / 2, ROUND_SAGITTA) if r else 0 for r in radii)


@lru_cache(maxsize=64)
def _rounded(counts: tuple[int, ...]) -> tuple[Ints, Floats]:
    """Return a rounded rectangle's corners on a unit scale.

    For each its side across, its side up and its radius (k, 3), and how many
    radii it stands in from those sides (k, 2).
    """
    which, share = [], []
    for k, facets in enumerate(counts):
        x, y = ((0, 0), (1, 0), (1, 1), (0, 1))[k]
        for step in range(facets + 1):
            along, back = _quarter(step / facets) if facets else (1.0, 1.0)
            dx, dy = (back, along) if k % 2 else (along, back)
            which.append((x, y, k))
            share.append(((1 - 2 * x) * (1 - dx), (1 - 2 * y) * (1 - dy)))
    return np.array(which), np.array(share)


def circle_outline(name: str, radius: Sizes, facets: int | None = None) -> Floats:
    """Return a circle about the origin, (k, 2, ...), counter-clockwise; k is a multiple of 4.

    ``facets`` are those of a quarter, as many as keep within :data:`ROUND_SAGITTA`
    where they are not told.
    """
    hold(name, np.greater(radius, 0), "its radius leaves nothing of it")
    quarter = facets or arc_facets(float(radius), pi / 2, ROUND_SAGITTA)
    return np.multiply.outer(_circle(quarter), radius)


@lru_cache(maxsize=64)
def _circle(quarter: int) -> Floats:
    arc = np.array([_quarter(step / quarter) for step in range(quarter)])
    turns = [arc, arc[:, ::-1] * [-1, 1], -arc, arc[:, ::-1] * [1, -1]]
    return np.concatenate(turns)


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


def _without_repeats(outline: Floats) -> Floats:
    """Return the outline (k, 2) without corners that stand on the corner before them."""
    steps = np.abs(outline - np.roll(outline, 1, axis=0)).max(axis=1)
    return outline[steps > 1e-12 * np.abs(outline).max()]
