"""Outlines carried up the jamb's legs as each stands, and straightened where nothing turns."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

import numpy as np

from swingcheck.assembly.legs import LegPlanAt
from swingcheck.geometry.solid import Floats

#: How far a twisted face's facets may stray from the twist that was measured, inches.
SKIN = 1e-3


def rectangle(along: tuple[float, float], out: tuple[float, float]) -> Floats:
    """Return a rectangle's outline (4, 2)."""
    return np.array([(along[i], out[j]) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))])


def levels(
    plan_at: LegPlanAt, heights: Sequence[float], low: float, high: float, depth: float
) -> list[float]:
    """Return the heights to loft through: those measured, and more where the twist changes.

    Two triangles stand off a twisted face by a quarter of what its far edge
    turns between two heights; heights are added until that is within ``SKIN``.
    """
    marks = [low, *(z for z in heights if low < z < high), high]
    levels = [low]
    for here, above in pairwise(marks):
        turn = float(np.linalg.norm(plan_at(above).along - plan_at(here).along))
        steps = max(1, ceil(depth * turn / 4 / SKIN - 1e-9))
        levels += [here + (above - here) * k / steps for k in range(1, steps)]
        levels.append(above)
    return levels


def rings(
    plan_at: LegPlanAt, levels: Sequence[float], outline: Floats, *, from_stop: bool = False
) -> Floats:
    """Return the outline at every level, (s, k, 3); ``from_stop``: along from the stop's face."""
    rings = np.empty((len(levels), len(outline), 3))
    for ring, z in zip(rings, levels, strict=True):
        leg = plan_at(z)
        start = leg.rabbet if from_stop else 0.0
        ring[:, :2] = [leg.at(start + along, out) for along, out in outline]
        ring[:, 2] = z
    return rings


def needed(rings: Floats) -> Floats:
    """Return the rings without those that lie on the straight skin between their neighbours."""
    kept = [0]
    for k in range(1, len(rings) - 1):
        low, high = rings[kept[-1]], rings[k + 1]
        share = (rings[k, 0, 2] - low[0, 2]) / (high[0, 2] - low[0, 2])
        if np.abs(rings[k] - (low + share * (high - low))).max() > 1e-12 * np.abs(high).max():
            kept.append(k)
    return rings[[*kept, len(rings) - 1]]
