"""Where a drawing of solids is seen from, in parallel, and lines broken into dashes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from swingcheck.geometry.solid import Floats

SHARP_RAD = radians(25.0)
"""An edge between faces that turn by more than this is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Eye:
    """Looks along ``-toward``: ``right``, ``up`` and ``toward`` (3,), unit and square; +z is up."""

    right: Floats
    up: Floats
    toward: Floats

    def seen(self, points: Floats) -> Floats:
        """Return points (..., 3) on the drawing, (..., 2): across, up."""
        found: Floats = points @ np.stack([self.right, self.up]).T
        return found


def eye_from(aside: float, above: float) -> Eye:
    """Return an eye on the side of +x, turned to +y by ``aside`` and raised by ``above``, degrees.

    Examples
    --------
    >>> eye_from(0.0, 0.0).seen(np.array([5.0, 1.0, 2.0])).tolist()
    [1.0, 2.0]
    """
    turn, rise = radians(aside), radians(above)
    toward = np.array([cos(turn) * cos(rise), sin(turn) * cos(rise), sin(rise)])
    right = np.array([-sin(turn), cos(turn), 0.0])
    return Eye(right=right, up=np.cross(toward, right), toward=toward)


def dashes(lines: Floats, pattern: Sequence[float]) -> Floats:
    """Break lines (n, 2, 3) into strokes (m, 2, 3): drawn, left out, drawn, left out ...

    Examples
    --------
    >>> dashes(np.array([[[0.0, 0, 0], [3.0, 0, 0]]]), (1.0, 1.0))[:, :, 0].tolist()
    [[0.0, 1.0], [2.0, 3.0]]
    """
    strokes = []
    for start, end in lines:
        length = float(np.linalg.norm(end - start))
        along = (end - start) / length if length else np.zeros(3)
        at, k = 0.0, 0
        while at < length:
            reach = min(at + pattern[k % len(pattern)], length)
            if k % 2 == 0:
                strokes.append([start + at * along, start + reach * along])
            at, k = reach, k + 1
    return np.array(strokes).reshape(-1, 2, 3)
