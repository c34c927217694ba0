"""Exact first contact and certified clearance beside a general collision library, in one run.

    python tests/benchmarks/contact.py [repeats]

The library steps; its poses are worked out beforehand and not counted. Its contact is the first
step that touches, or with bisection the last halving, whose few poses are counted: nobody can know
them beforehand. Its clearance is the least over its steps and can only be too high; the certified
one is within 1e-4 in of the true least, for each fixed part. Ours is timed from solids, and again
with the features of each solid found beforehand, as a search over axes or setbacks has them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from math import degrees, radians
from pathlib import Path
from typing import Any

import fcl
import numpy as np
from scipy.spatial.transform import Rotation

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from swingcheck.assembly import assemble
from swingcheck.geometry.features import features
from swingcheck.model import Leg, Scene
from tests.benchmarks.library import Managers, Pose
from tests.benchmarks.timing import machine, median_seconds, table
from tests.factory import plain_scene
from tests.openings import closing, without_leaves
from tests.peers import TurningScene
from tests.strategies import scene
from tests.turning import contact_of, least_of


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


def pose_of(turning: TurningScene, angle: float) -> fcl.Transform:
    """Return the moving parts' pose at an angle."""
    turn = Rotation.from_rotvec(angle * turning.direction).as_matrix()
    return fcl.Transform(turn, turning.point - turn @ turning.point)


def poses_of(turning: TurningScene, step: float) -> list[Pose]:
    """Return the angles of the steps from the start and the pose at each."""
    count = round(abs(turning.stop - turning.start) / radians(step))
    angles = np.linspace(turning.start, turning.stop, count + 1)
    return [(float(angle), pose_of(turning, float(angle))) for angle in angles]


def exact(turning: TurningScene) -> float | None:
    """Return the exact angle."""
    found = contact_of(turning)
    return None if found is None else found.angle


def prepared(turning: TurningScene) -> Any:
    """Return the scene with the features of its solids in their place."""
    moving, fixed = (tuple(map(features, part)) for part in (turning.moving, turning.fixed))
    return replace(turning, moving=moving, fixed=fixed)  # type: ignore[arg-type]


Ways = list[tuple[str, Callable[[], Any], int]]


def contacts(turning: TurningScene, repeats: int) -> str:
    """Return the times of every way on one scene, as ratios of the exact one, and their errors."""
    managers, ready = Managers(turning.moving, turning.fixed), prepared(turning)
    coarse, fine = poses_of(turning, 0.25), poses_of(turning, 0.01)

    def touched(found: tuple[float, float] | None) -> float | None:
        return found and found[1]

    ways: Ways = [
        ("exact, features beforehand", lambda: exact(ready), repeats),
        ("exact, from solids", lambda: exact(turning), repeats),
        ("stepped 0.25 degrees", lambda: touched(managers.stepped(coarse)), repeats),
        (
            "stepped 0.25, bisected",
            lambda: touched(managers.bisected(coarse, partial(pose_of, turning))),
            repeats,
        ),
        ("stepped 0.01 degrees", lambda: touched(managers.stepped(fine)), max(3, repeats // 5)),
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


def clearances(turning: TurningScene, repeats: int) -> str:
    """Return the times and answers of both ways over the free part of the closing."""
    touching = exact(turning)
    stop = turning.stop if touching is None else touching + radians(1.0)
    turning = turning.over(turning.start, stop)
    managers, ready = Managers(turning.moving, turning.fixed), prepared(turning)
    ways: Ways = [
        ("certified", lambda: min(near.distance for near in least_of(ready, stop)), repeats)
    ]
    for step, times in ((1.0, repeats), (0.25, max(3, repeats // 5))):
        stepped = partial(managers.least, poses_of(turning, step))
        ways.append((f"stepped {step} degrees", stepped, times))
    timed = [(name, *median_seconds(call, times=times)) for name, call, times in ways]
    rows = [
        [name, f"{seconds * 1e3:.2f}", f"{seconds / timed[0][1]:.2f}", f"{least:.6f}"]
        for name, seconds, least in timed
    ]
    return table("clearance until there", ["", "ms", "ratio", "least, inches"], rows)


def _angle(found: float | None) -> str:
    return "none" if found is None else f"{degrees(found):.6f}"


def _error(found: float | None, right: float | None) -> str:
    if found is None or right is None:
        return "" if found is right else "missed"
    return f"{abs(degrees(found - right)):.1e}"


def main() -> None:
    """Print both comparisons for three scenes."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 25
    assembly = assemble(measured())
    scenes = [scene("plumb", 0), closing(without_leaves(assembly)), closing(assembly)]
    labels = [
        "a slab between plumb legs",
        "measured at stations, mortised",
        "the same with its leaves",
    ]
    print(machine("numpy", "python-fcl"))
    for turning, label in zip(scenes, labels, strict=True):
        labelled = replace(turning, label=label)
        print("", contacts(labelled, repeats), clearances(labelled, repeats), sep="\n")


if __name__ == "__main__":
    main()
