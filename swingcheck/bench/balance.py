"""Where a slab balances: its centre of gravity, slab frame."""

from __future__ import annotations

import numpy as np

from swingcheck.assembly.slab import slab_blank, slab_bottom
from swingcheck.bench.weight import (
    BOTTOM_RAIL,
    CUBIC_INCHES,
    LOCK_RAIL,
    TOP_RAIL,
    glass_added,
    hollowed_by_panels,
    known_construction,
    material_density,
    weight_without_glass,
)
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.model import Scene

LOCK_RAIL_UP = 36.0
"""A lock rail's centre over the floor without a lock, inches. Common practice, no source."""


def centre_of_gravity(scene: Scene) -> Floats:
    """Return the centre of gravity (3,) of a slab, slab frame, without hardware.

    The shaped blank, in one density; thinner panels between stiles and rails,
    and glass in place of what it replaces, are masses laid on it. Where the
    material is not known the blank's own centre is told.
    """
    slab = scene.slab
    blank = slab_blank(slab)
    centre = centroid(blank)
    weight = weight_without_glass(scene)
    if weight is None:
        return centre
    masses, centres = [weight], [centre]
    if known_construction(scene) == "stile and rail":
        density = material_density(slab.material) or 0.0
        hollow = hollowed_by_panels(slab) / CUBIC_INCHES * density
        masses += [hollow, -hollow]
        centres += [centre, np.array([centre[0], centre[1], _panels_up(scene)])]
    glass = slab.glass
    if glass is not None:
        masses.append(glass_added(scene) or 0.0)
        centres.append(
            np.array([glass.across + glass.width / 2, centre[1], glass.up + glass.height / 2])
        )
    found: Floats = np.average(centres, axis=0, weights=masses)
    return found


def centroid(solid: Solid) -> Floats:
    """Return a solid's centroid (3,), from its tetrahedra with the origin.

    Examples
    --------
    >>> from swingcheck.geometry.solids import box
    >>> centroid(box("block", (0, 0, 0), (2, 4, 6))).tolist()
    [1.0, 2.0, 3.0]
    """
    a, b, c = (solid.vertices[solid.faces[:, k]] for k in range(3))
    volumes = np.einsum("ij,ij->i", a, np.cross(b, c))
    found: Floats = volumes @ (a + b + c) / (4 * volumes.sum())
    return found


def _panels_up(scene: Scene) -> float:
    """Return how high the middle of a stile and rail slab's panels is, over its bottom."""
    top = sum(scene.slab.height) / 2 - TOP_RAIL
    over_floor = LOCK_RAIL_UP if scene.lock is None else scene.lock.height
    rail = over_floor - slab_bottom(scene)
    high = top - BOTTOM_RAIL - LOCK_RAIL
    if high <= 0:
        return (top + BOTTOM_RAIL) / 2
    return ((top**2 - BOTTOM_RAIL**2) / 2 - LOCK_RAIL * rail) / high
