"""Exact first contact beside a general collision library, in one run.

    python tests/benchmarks/contact.py [repeats]

The library is python-fcl at its fairest: a broad-phase manager over the separate fixed parts and
one over the moving ones, every pose worked out beforehand and not counted, stopping at the first
step that touches. Its angle is that step's, or with bisection that of the last halving (whose few
poses are counted: nobody can know them beforehand). The exact answer is timed from solids, and
again with the features of each solid found beforehand, as a search over axes or setbacks has them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from math import degrees, pi, radians
from pathlib import Path

import fcl
import numpy as np
from scipy.spatial.transform import Rotation

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from swingcheck.assembly import assemble
from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.features import features
from swingcheck.geometry.solid import Solid
from swingcheck.model import Leg, Scene
from tests.benchmarks.timing import machine, median_seconds, table
from tests.factory import plain_scene
from tests.openings import closing, without_leaves
from tests.peers import TurningScene
from tests.shapes import box


def plain_boxes() -> TurningScene:
    """Return a slab of twelve triangles that pinches on its hinge stop."""
    slab = box((0.03, -1.78, 0.6), (29.9, -0.4, 80.3))
    fixed = (
        box((-1, -5, 0), (0, -0.4, 81)),
        box((30.1, -5, 0), (31, -0.4, 81)),
        box((-1, -5, 80.5), (31, -0.4, 82)),
        box((0, -3, 0), (0.4375, -1.775, 81)),
        box((29.66, -3, 0), (30.1, -1.8, 81)),
        box((-20, -40, -1), (50, 40, 0)),
    )
    return TurningScene(
        label="plain boxes",
        moving=(slab,),
        fixed=fixed,
        point=np.zeros(3),
        direction=np.array([0.0, 0.0, 1.0]),
        start=pi / 2,
        stop=0.0,
    )


def measured() -> Scene:
    """Return an opening measured at stations, cross-legged and twisted, that does not swing."""
    return plain_scene(
        opening__width=(30.125, 30.0625, 30.0),
        opening__hinge_leg=Leg(
            plumb=(0.0, 0.03125, 0.0),
            cross=(0.0, 0.0625, 0.125),
            twist=(0.0, radians(0.5), radians(1.0)),
        ),
        opening__strike_leg=Leg(cross=(0.0625, 0.0, 0.0), twist=(radians(0.5),)),
        hinge__slab__setbacks=(0.3125, 0.3125, 0.375),
    )


class Manager:
    """The collision library's broad-phase managers over a scene, with their poses."""

    def __init__(self, turning: TurningScene) -> None:
        self.turning = turning
        self.moving = [fcl.CollisionObject(_model(s), fcl.Transform()) for s in turning.moving]
        fixed = [fcl.CollisionObject(_model(s), fcl.Transform()) for s in turning.fixed]
        self.movers, self.rest = _manager(self.moving), _manager(fixed)

    def poses(self, step: float) -> list[tuple[float, fcl.Transform]]:
        """Return the angles of the steps after the start and the pose at each."""
        count = round(abs(self.turning.stop - self.turning.start) / step)
        angles = np.linspace(self.turning.start, self.turning.stop, count + 1)[1:]
        return [(float(angle), self.pose(float(angle))) for angle in angles]

    def pose(self, angle: float) -> fcl.Transform:
        """Return the moving parts' pose at an angle."""
        turn = Rotation.from_rotvec(angle * self.turning.direction).as_matrix()
        return fcl.Transform(turn, self.turning.point - turn @ self.turning.point)

    def touches(self, pose: fcl.Transform) -> bool:
        """Tell whether any moving part touches a fixed one in a pose."""
        for mover in self.moving:
            mover.setTransform(pose)
        self.movers.update()
        found = fcl.CollisionData()
        self.movers.collide(self.rest, found, fcl.defaultCollisionCallback)
        return bool(found.result.is_collision)

    def stepped(self, poses: list[tuple[float, fcl.Transform]]) -> float | None:
        """Return the first step that touches."""
        for angle, pose in poses:
            if self.touches(pose):
                return angle
        return None

    def bisected(self, poses: list[tuple[float, fcl.Transform]], step: float) -> float | None:
        """Return the first touching step narrowed by halving to 1e-9 radians."""
        touching = self.stepped(poses)
        if touching is None:
            return None
        free = touching + step if self.turning.stop < self.turning.start else touching - step
        while abs(touching - free) > 1e-9:
            middle = (free + touching) / 2
            if self.touches(self.pose(middle)):
                touching = middle
            else:
                free = middle
        return touching


def _model(solid: Solid) -> fcl.BVHModel:
    model = fcl.BVHModel()
    model.beginModel(len(solid.vertices), len(solid.faces))
    model.addSubModel(np.array(solid.vertices), np.array(solid.faces))
    model.endModel()
    return model


def _manager(objects: list[fcl.CollisionObject]) -> fcl.DynamicAABBTreeCollisionManager:
    manager = fcl.DynamicAABBTreeCollisionManager()
    manager.registerObjects(objects)
    manager.setup()
    return manager


def compare(turning: TurningScene, repeats: int) -> str:
    """Return the times of every way on one scene, as ratios of the exact one, and their errors."""
    prepared = [features(s) for s in turning.moving], [features(s) for s in turning.fixed]
    manager = Manager(turning)
    coarse, fine = radians(0.25), radians(0.01)
    coarse_poses, fine_poses = manager.poses(coarse), manager.poses(fine)
    ways: list[tuple[str, Callable[[], float | None], int]] = [
        ("exact, features beforehand", lambda: exact(turning, *prepared), repeats),
        ("exact, from solids", lambda: exact(turning, turning.moving, turning.fixed), repeats),
        ("stepped 0.25 degrees", lambda: manager.stepped(coarse_poses), repeats),
        ("stepped 0.25, bisected", lambda: manager.bisected(coarse_poses, coarse), repeats),
        ("stepped 0.01 degrees", lambda: manager.stepped(fine_poses), max(3, repeats // 5)),
    ]
    timed = [(name, *median_seconds(call, times=times)) for name, call, times in ways]
    base, right = timed[0][1], timed[0][2]
    rows = [
        [name, f"{seconds * 1e3:.3f}", f"{seconds / base:.2f}", _angle(found), _error(found, right)]
        for name, seconds, found in timed
    ]
    triangles = [sum(len(s.faces) for s in part) for part in (turning.moving, turning.fixed)]
    title = f"{turning.label}: {triangles[0]} triangles turning, {triangles[1]} fixed"
    return table(title, ["", "ms", "ratio", "contact, degrees", "error, degrees"], rows)


def exact(turning: TurningScene, moving: object, fixed: object) -> float | None:
    """Return the exact angle."""
    found = first_contact(
        moving,  # type: ignore[arg-type]
        fixed,  # type: ignore[arg-type]
        point=turning.point,
        direction=turning.direction,
        start=turning.start,
        stop=turning.stop,
    )
    return None if found is None else found.angle


def _angle(found: float | None) -> str:
    return "none" if found is None else f"{degrees(found):.6f}"


def _error(found: float | None, right: float | None) -> str:
    if found is None or right is None:
        return "" if found is right else "missed"
    return f"{abs(degrees(found - right)):.1e}"


def main() -> None:
    """Print the comparison for three scenes."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 25
    assembly = assemble(measured())
    scenes = [plain_boxes(), closing(without_leaves(assembly)), closing(assembly)]
    labels = ["plain boxes", "measured at stations, mortised", "the same with its leaves"]
    print(machine("numpy", "python-fcl"))
    for turning, label in zip(scenes, labels, strict=True):
        print()
        print(compare(replace(turning, label=label), repeats))


if __name__ == "__main__":
    main()
