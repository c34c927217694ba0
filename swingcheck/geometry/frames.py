"""Frames and turns, as (3, 3) matrices."""

from __future__ import annotations

from math import cos, sin

import numpy as np

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
    """Return the rotation and shift that put a line on z, its direction up.

    A point ``p`` stands at ``rotation @ p + shift`` there. A vertical line is
    only shifted (and turned over when it points down), so that plumb work
    keeps every digit. Elsewhere it is the least turn that does it, the matrix
    of two unit vectors given by Moller and Hughes (1999), "Efficiently
    building a matrix to rotate one vector to another".
    """
    x, y, z = direction / np.linalg.norm(direction)
    flip = np.eye(3)
    if z < 0:
        flip = np.diag([1.0, -1.0, -1.0])
        y, z = -y, -z
    h = 1 / (1 + z)
    turn = np.array([[1 - h * x * x, -h * x * y, -x], [-h * x * y, 1 - h * y * y, -y], [x, y, z]])
    rotation = turn @ flip
    return rotation, -rotation @ np.asarray(point, dtype=np.float64)


def turn_between(first: Floats, second: Floats) -> Floats:
    """Return the least turn (3, 3) that lays one unit vector (3,) on another, not its opposite."""
    across = crossed(first, second)
    skew = _skew(across)
    turn: Floats = np.eye(3) + skew + skew @ skew / (1 + first @ second)
    return turn


def turning(direction: Floats, angle: float) -> Floats:
    """Return the turn (3, 3) by ``angle`` radians about a unit direction (3,), right-handed.

    Rodrigues' formula. No turn is the exact identity.
    """
    skew = _skew(direction)
    turn: Floats = np.eye(3) + sin(angle) * skew + (1 - cos(angle)) * (skew @ skew)
    return turn


def _skew(v: Floats) -> Floats:
    return np.array([[0.0, -v[2], v[1]], [v[2], 0.0, -v[0]], [-v[1], v[0], 0.0]])
