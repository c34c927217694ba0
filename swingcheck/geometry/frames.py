"""Frames and turns, as (3, 3) matrices."""

from __future__ import annotations

from math import cos, sin

import numpy as np

from swingcheck.geometry.sizes import Sizes, points, variants
from swingcheck.geometry.solid import Floats, crossed


def turn_about_z(angle: float) -> Floats:
    """Return the turn by ``angle`` radians about +z, right-handed."""
    c, s = cos(angle), sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def turned_about_z(points: Floats, turn: Floats, lift: Floats | float = 0.0) -> Floats:
    """Return points (..., 3), turned about z by their turns (...) and lifted along it."""
    cos, sin = np.cos(turn), np.sin(turn)
    x, y = points[..., 0], points[..., 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y, points[..., 2] + lift], axis=-1)


def axis_frame(point: Floats, direction: Floats) -> tuple[Floats, Floats]:
    """Return the rotation (3, 3, ...) and shift (3, ...) that put lines on z, directions up.

    A point ``p`` stands at ``rotation @ p + shift`` there. A vertical line is
    only shifted (and turned over when it points down), so that plumb work
    keeps every digit. Elsewhere it is the least turn that does it, the matrix
    of two unit vectors given by Moller and Hughes (1999), "Efficiently
    building a matrix to rotate one vector to another".
    """
    x, y, z = direction / np.sqrt((np.asarray(direction) ** 2).sum(axis=0))
    over = np.where(z < 0, -1.0, 1.0)
    y, z = over * y, over * z
    h = 1 / (1 + z)
    rotation = points(
        [
            (1 - h * x * x, -over * h * x * y, -over * x),
            (-h * x * y, over * (1 - h * y * y), -over * y),
            (x, over * y, over * z),
        ]
    )
    return rotation, -np.einsum("ij...,j...->i...", rotation, np.asarray(point, dtype=np.float64))


def turn_between(first: Floats, second: Floats) -> Floats:
    """Return the least turn (3, 3, ...) that lays unit vectors (3, ...) on others.

    Not on their opposites.
    """
    across = crossed(first.T, second.T).T
    return _about(across, 1.0, 1 / (1 + (first * second).sum(axis=0)))


def turning(direction: Floats, angle: Sizes) -> Floats:
    """Return the turn (3, 3, ...) by angles about unit directions (3, ...), right-handed.

    Radians; Rodrigues' formula. No turn is the exact identity.
    """
    return _about(direction, np.sin(angle), 1 - np.cos(angle))


def _about(v: Floats, once: Sizes, twice: Sizes) -> Floats:
    """Return ``1 + once K + twice K K``, with ``K`` the cross product by ``v`` as a matrix."""
    x, y, z = v
    skew = points([(0.0, -z, y), (z, 0.0, -x), (-y, x, 0.0)])
    square = np.einsum("ij...,jk...->ik...", skew, skew)
    turn: Floats = variants(np.eye(3), 2) if skew.ndim > 2 else np.eye(3)
    return turn + once * skew + twice * square
