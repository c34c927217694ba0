"""Which hinges the trade's tables give a slab: how many, and how long.

What a scene takes for hinges that it leaves out, and what the bench holds the
hinges that are there against.
"""

from __future__ import annotations

from math import ceil, inf

_Row = tuple[tuple[float, float], ...]

_LEAF_LENGTHS: tuple[tuple[float, _Row], ...] = (
    (1.375, ((32.0, 3.5), (37.0, 4.0))),
    (1.75, ((36.0, 4.5), (48.0, 5.0), (inf, 6.0))),
    (2.5, ((42.0, 5.0), (inf, 6.0))),
)
"""Nominal thickness, and the leaf's length up to each width: the Door and Hardware
Institute's recommendation, read in secondary text only."""

_OVER_NOMINAL_IN = 1 / 8
"""How far over its nominal thickness a slab comes under the next one."""

_SAME_IN = 1e-6


def hinge_count(height: float) -> int:
    """Return how many hinges a slab of this height takes.

    Two up to 60 in, and one more for "each additional 30 inches of height or
    fraction thereof" (NFPA 80).

    Examples
    --------
    >>> [hinge_count(height) for height in (60, 60.5, 80, 90, 91, 120)]
    [2, 3, 3, 3, 4, 4]
    """
    return 2 + ceil(max(0.0, height - 60.0) / 30.0 - 1e-9)


def recommended_leaf_length(thickness: float, width: float) -> float | None:
    """Return the leaf length recommended for a slab, or None where nothing is.

    Examples
    --------
    >>> recommended_leaf_length(1.375, 29.875), recommended_leaf_length(1.375, 38.0)
    (3.5, None)
    """
    if thickness > _LEAF_LENGTHS[-1][0] + _SAME_IN:
        return None
    return next((long for widest, long in _row(thickness) if width <= widest + _SAME_IN), None)


def usual_leaf_length(thickness: float, width: float) -> float:
    """Return the recommended leaf length; past the table, the longest of its row.

    Examples
    --------
    >>> usual_leaf_length(1.375, 38.0), usual_leaf_length(1.75, 36.0), usual_leaf_length(3.0, 43.0)
    (4.0, 4.5, 6.0)
    """
    row = _row(thickness)
    return next((long for widest, long in row if width <= widest + _SAME_IN), row[-1][1])


def _row(thickness: float) -> _Row:
    rows = (row for most, row in _LEAF_LENGTHS if thickness < most + _OVER_NOMINAL_IN)
    return next(rows, _LEAF_LENGTHS[-1][1])
