"""The collision library python-fcl at its fairest: broad-phase managers, every pose beforehand."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

import fcl
import numpy as np

from swingcheck.geometry.solid import Solid
from tests.peers import mesh_model

Pose = tuple[float, fcl.Transform]
WIDTH = 1e-9  # radians, of the bracket that halving ends with


class Managers:
    """Moving and fixed parts, each under a broad phase."""

    def __init__(self, moving: Iterable[Solid], fixed: Iterable[Solid]) -> None:
        self.moving = [fcl.CollisionObject(mesh_model(s), fcl.Transform()) for s in moving]
        rest = [fcl.CollisionObject(mesh_model(s), fcl.Transform()) for s in fixed]
        self.movers, self.rest = _manager(self.moving), _manager(rest)

    def touches(self, pose: fcl.Transform) -> bool:
        """Tell whether any moving part touches a fixed one in a pose."""
        self._move_to(pose)
        found = fcl.CollisionData()
        self.movers.collide(self.rest, found, fcl.defaultCollisionCallback)
        return bool(found.result.is_collision)

    def stepped(self, poses: Sequence[Pose]) -> tuple[float, float] | None:
        """Return the last free angle and the first that touches; the first pose is free."""
        for (free, _), (angle, pose) in pairwise(poses):
            if self.touches(pose):
                return free, angle
        return None

    def bisected(
        self, poses: Sequence[Pose], pose_at: Callable[[float], fcl.Transform]
    ) -> tuple[float, float] | None:
        """Return the same narrowed by halving."""
        found = self.stepped(poses)
        if found is None:
            return None
        free, touching = found
        while abs(touching - free) > WIDTH:
            middle = (free + touching) / 2
            if self.touches(pose_at(middle)):
                touching = middle
            else:
                free = middle
        return free, touching

    def least(self, poses: Sequence[Pose]) -> float:
        """Return the least distance over the poses after the first, a query at a time."""
        least = np.inf
        for _, pose in poses[1:]:
            self._move_to(pose)
            found = fcl.DistanceData()
            self.movers.distance(self.rest, found, fcl.defaultDistanceCallback)
            least = min(least, found.result.min_distance)
        return float(least)

    def _move_to(self, pose: fcl.Transform) -> None:
        for mover in self.moving:
            mover.setTransform(pose)
        self.movers.update()


def _manager(objects: list[fcl.CollisionObject]) -> fcl.DynamicAABBTreeCollisionManager:
    manager = fcl.DynamicAABBTreeCollisionManager()
    manager.registerObjects(objects)
    manager.setup()
    return manager
