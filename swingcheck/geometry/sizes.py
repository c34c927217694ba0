"""Sizes of one thing, or of n variants of it: coordinates come first, variants last.

A size is a number or an array (n,), and what is made of sizes has the axes
that they have: a point is (3,) or (3, n), an outline (k, 2) or (k, 2, n).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from typing import Any

import numpy as np

from swingcheck.errors import GeometryError
from swingcheck.geometry.solid import Bools, Floats

#: How many arrays numpy broadcasts at once.
_AT_ONCE = 32

#: A number, or one for each of n variants (n,).
Sizes = float | Floats


def point(*sizes: Sizes) -> Floats:
    """Return a point (d, ...) from its coordinates, (...) each."""
    return points([sizes])[0]


def points(rows: Sequence[Sequence[Sizes] | Floats]) -> Floats:
    """Return points (k, d, ...) from their coordinates, (...) each."""
    sizes = [size for row in rows for size in row]
    shape = np.broadcast(*sizes[:_AT_ONCE]).shape
    for low in range(_AT_ONCE, len(sizes), _AT_ONCE):
        shape = np.broadcast_shapes(shape, np.broadcast(*sizes[low : low + _AT_ONCE]).shape)
    if not shape:
        return np.array(rows, dtype=np.float64)
    found: Floats = np.empty((len(rows), len(rows[0]), *shape))
    for out, row in zip(found, rows, strict=True):
        for place, size in enumerate(row):
            out[place] = size
    return found


def columns(*vectors: Floats) -> Floats:
    """Return a matrix (d, k, ...) of its columns, (d, ...) each."""
    return np.moveaxis(points(vectors), 0, 1)


def variants(array: Floats, axes: int) -> Floats:
    """Return an array with an axis of variants after its own ``axes``: one where it had none."""
    return array if array.ndim > axes else array[..., None]


def applied(matrix: Floats, vectors: Floats) -> Floats:
    """Return vectors (3, ...) turned by a matrix (3, 3, ...)."""
    turned: Floats = np.einsum("ij...,j...->i...", matrix, vectors)
    return turned


def largest(sizes: Sequence[Sizes]) -> Any:
    """Return the largest of some sizes, for each variant."""
    return reduce(np.maximum, sizes)


def smallest(sizes: Sequence[Sizes]) -> Any:
    """Return the smallest of some sizes, for each variant."""
    return reduce(np.minimum, sizes)


def hold(name: str, ok: Bools | bool, reason: str) -> None:
    """Raise GeometryError where something (..., n) does not hold, telling which variants."""
    if np.all(ok):
        return
    each = np.atleast_1d(ok)
    raise GeometryError(name, reason, rows=~each.all(axis=tuple(range(each.ndim - 1))))
