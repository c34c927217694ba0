"""What a plane leaves of a solid or a polygon."""

from __future__ import annotations

import numpy as np

from swingcheck.geometry.booleans import manifold
from swingcheck.geometry.solid import Floats, Solid

STRAIGHT_IN = 1e-7
"""A point nearer than this to its neighbours' line is no corner of a section, inches."""


def horizontal_section(solid: Solid, height: float) -> tuple[Floats, ...]:
    """Return the outlines where the plane ``z = height`` (inches) cuts a closed solid.

    One closed (n, 2) outline each, the last corner not repeated, seen from
    above: material counter-clockwise, holes clockwise; to about 1e-8 in.
    Empty where the plane misses the solid, or lies in its top.
    """
    cut = manifold("section", solid).slice(height).simplify(STRAIGHT_IN)
    return tuple(np.asarray(outline, dtype=np.float64) for outline in cut.to_polygons())


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
