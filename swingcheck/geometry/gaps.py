"""The least distance between turning solids and fixed ones at each of many angles.

The answer at every angle is the exact least distance of the two meshes, found
by bounding boxes in a tree. A search that is told how far to look is much
faster, so each angle looks only a little farther than the last one found.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from manifold3d import Manifold

from swingcheck.geometry.booleans import manifold
from swingcheck.geometry.frames import turning
from swingcheck.geometry.solid import Floats, Solid

SLACK = 0.02
"""How far past the last distance a search looks first, inches."""


class TurningGaps:
    """Turning solids and fixed ones, made ready once to be measured at any angle.

    What is given is as for :func:`.first_contact`, the moving solids not overlapping one
    another. Distances are looked for up to ``within``, inches. Raises GeometryError where a
    solid is not closed.
    """

    def __init__(
        self,
        moving: Sequence[Solid],
        fixed: Sequence[Solid],
        *,
        point: Floats,
        direction: Floats,
        within: float,
        rise: float = 0.0,
    ) -> None:
        self._moving = Manifold.compose([manifold("gap", solid) for solid in moving])
        self._fixed = [manifold("gap", solid) for solid in fixed]
        self._boxes = [solid.bounds for solid in fixed]
        self._point = np.asarray(point, dtype=np.float64)
        self._direction = np.asarray(direction, dtype=np.float64)
        self._within, self._rise = within, rise

    def at(self, angles: Sequence[float] | Floats) -> Floats:
        """Return the least distance to each fixed solid at each angle.

        (angles, fixed) in inches: 0 where a moving solid touches or overlaps the fixed one,
        and ``within`` where nothing is nearer than that. Angles are radians, right-handed
        about the axis; neighbours that are near each other are measured fastest.
        """
        found = np.empty((len(angles), len(self._fixed)))
        last = np.full(len(self._fixed), self._within)
        for row, angle in zip(found, angles, strict=True):
            turned = self._turned(float(angle))
            box = np.array(turned.bounding_box()).reshape(2, 3)
            for k in range(len(self._fixed)):
                row[k] = self._distance(turned, box, k, float(last[k]))
            last = row
        return found

    def _turned(self, angle: float) -> Manifold:
        turn = turning(self._direction, angle)
        shift = self._point - turn @ self._point + self._rise * angle * self._direction
        return self._moving.transform(np.column_stack([turn, shift]))

    def _distance(self, turned: Manifold, box: Floats, k: int, last: float) -> float:
        low, high = self._boxes[k]
        away = np.maximum(np.maximum(low - box[1], box[0] - high), 0.0)
        if away @ away >= self._within**2:
            return self._within
        reach = min(self._within, 1.1 * last + SLACK)
        distance = turned.min_gap(self._fixed[k], reach)
        if distance >= reach and reach < self._within:
            distance = turned.min_gap(self._fixed[k], self._within)
        return float(distance)
