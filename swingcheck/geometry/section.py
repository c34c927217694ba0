"""What a horizontal plane cuts out of a solid, as closed polylines."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swingcheck.geometry.solid import Floats, Solid

FLAT = 1e-12
"""A point this share of the outline's size off its neighbours' line is no corner."""


def horizontal_section(solid: Solid, height: float) -> tuple[Floats, ...]:
    """Return the outlines where the plane ``z = height`` cuts a closed solid.

    Parameters
    ----------
    solid : Solid
        Closed and wound outward.
    height : float
        Inches. A corner that lies exactly in the plane counts as above it, so
        that a plane through a flat top cuts just beneath it and a plane
        through a flat bottom just above; nothing is ever cut along a face.

    Returns
    -------
    tuple of (n, 2) float64
        One closed outline each, the last corner not repeated, seen from
        above: material counter-clockwise, holes clockwise. Empty where the
        plane misses the solid.

    Examples
    --------
    >>> from swingcheck.geometry.solid import Solid
    >>> corners = [[0, 0, 0], [3, 0, 0], [0, 3, 0], [0, 0, 3]]
    >>> faces = [[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]]
    >>> (outline,) = horizontal_section(Solid(corners, faces), 1.0)
    >>> enclosed_area([outline])
    2.0
    """
    return tuple(
        outline
        for outline in (_without_flat_corners(loop) for loop in _loops(solid, height))
        if len(outline) >= 3
    )


def enclosed_area(outlines: Sequence[Floats]) -> float:
    """Return the area that outlines enclose, holes taken off, by the shoelace formula."""
    total = 0.0
    for outline in outlines:
        x, y = outline[:, 0], outline[:, 1]
        total += float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    return total


def _loops(solid: Solid, height: float) -> list[Floats]:
    """Chain the cut of each triangle into closed rings of (n, 2) points.

    A triangle that the plane cuts has exactly one side running down through
    the plane and one running up. Seen from outside, the cut runs from the
    first to the second with the material on its left; the side running up is
    the neighbour's side running down, so that each cut names the next.
    """
    above = solid.vertices[:, 2] >= height
    start = solid.faces.reshape(-1)
    end = np.roll(solid.faces, -1, axis=1).reshape(-1)
    owner = np.repeat(np.arange(len(solid.faces)), 3)
    down = above[start] & ~above[end]
    up = ~above[start] & above[end]
    top, bottom = start[down], end[down]
    a, b = solid.vertices[top], solid.vertices[bottom]
    share = (a[:, 2] - height) / (a[:, 2] - b[:, 2])
    points = a[:, :2] + share[:, None] * (b[:, :2] - a[:, :2])

    place = {side: k for k, side in enumerate(zip(top.tolist(), bottom.tolist(), strict=True))}
    rising = zip(owner[up].tolist(), end[up].tolist(), start[up].tolist(), strict=True)
    leaves_by = {face: place[high, low] for face, high, low in rising}
    follower = [leaves_by[face] for face in owner[down].tolist()]
    return [points[ring] for ring in _rings(follower)]


def _rings(follower: Sequence[int]) -> list[list[int]]:
    """Split a permutation into its cycles."""
    left = set(range(len(follower)))
    rings = []
    while left:
        first = min(left)
        ring, at = [], first
        while at in left:
            left.discard(at)
            ring.append(at)
            at = follower[at]
        rings.append(ring)
    return rings


def _without_flat_corners(loop: Floats) -> Floats:
    """Drop repeated points, then points on the straight line between their neighbours."""
    size = float(np.ptp(loop, axis=0).max()) if len(loop) else 0.0
    kept = loop[np.linalg.norm(loop - np.roll(loop, 1, axis=0), axis=1) > FLAT * size]
    behind, ahead = np.roll(kept, 1, axis=0), np.roll(kept, -1, axis=0)
    chord, arm = ahead - behind, kept - behind
    cross = chord[:, 0] * arm[:, 1] - chord[:, 1] * arm[:, 0]
    return kept[np.abs(cross) > FLAT * size * np.linalg.norm(chord, axis=1)]


def kept_half(corners: Floats, height: Floats, slack: float = 0.0) -> Floats:
    """Return the part of a polygon (n, k) where a height (n,) over its corners is not below 0.

    Within ``slack`` of 0 a corner is kept and cuts no side. One side of
    Sutherland and Hodgman (1974), "Reentrant polygon clipping".
    """
    points: list[Floats] = []
    for k in range(len(corners)):
        here, there = height[k - 1], height[k]
        if min(here, there) < -slack and max(here, there) > slack:
            share = here / (here - there)
            points.append(corners[k - 1] + share * (corners[k] - corners[k - 1]))
        if there >= -slack:
            points.append(corners[k])
    return np.array(points).reshape(-1, corners.shape[1])
