"""The certified least clearance beside distances stepped with a general collision library.

    python tests/benchmarks/clearance.py [repeats]

The library's way is its fairest: one distance query at a time between managers, every pose worked
out beforehand and not counted. It gives the least over its steps and can only be too high; the
certified answer is within 1e-4 in of the true least, for each fixed part.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import partial
from math import radians
from pathlib import Path

import fcl
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from swingcheck.assembly import assemble
from swingcheck.geometry.clearance import least_distances
from swingcheck.geometry.features import features
from tests.benchmarks.contact import Manager, exact, measured, plain_boxes
from tests.benchmarks.timing import machine, median_seconds, table
from tests.openings import closing, without_leaves
from tests.peers import TurningScene


def stepped_distance(manager: Manager, poses: list[tuple[float, fcl.Transform]]) -> float:
    """Return the least distance over the poses."""
    least = np.inf
    for _, pose in poses:
        for mover in manager.moving:
            mover.setTransform(pose)
        manager.movers.update()
        found = fcl.DistanceData()
        manager.movers.distance(manager.rest, found, fcl.defaultDistanceCallback)
        least = min(least, found.result.min_distance)
    return float(least)


def compare(turning: TurningScene, repeats: int) -> str:
    """Return the times and answers of both ways over the free part of the closing."""
    touching = exact(turning, turning.moving, turning.fixed)
    stop = turning.stop if touching is None else touching + radians(1.0)
    turning = turning.over(turning.start, stop)
    prepared = [features(s) for s in turning.moving], [features(s) for s in turning.fixed]
    manager = Manager(turning)

    def certified() -> float:
        found = least_distances(
            *prepared,
            point=turning.point,
            direction=turning.direction,
            start=turning.start,
            stop=turning.stop,
        )
        return min(near.distance for near in found)

    ways = [("certified, each part", certified, repeats)]
    for step, times in ((1.0, repeats), (0.25, max(3, repeats // 5))):
        poses = manager.poses(radians(step))
        ways.append((f"stepped {step} degrees", partial(stepped_distance, manager, poses), times))
    rows = []
    base = 0.0
    for name, call, times in ways:
        seconds, least = median_seconds(call, times=times)
        base = base or seconds
        rows.append([name, f"{seconds * 1e3:.2f}", f"{seconds / base:.2f}", f"{least:.6f}"])
    return table(turning.label, ["", "ms", "ratio", "least, inches"], rows)


def main() -> None:
    """Print the comparison for three scenes."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    assembly = assemble(measured())
    scenes = {
        "plain boxes": plain_boxes(),
        "measured at stations, mortised": closing(without_leaves(assembly)),
        "the same with its leaves": closing(assembly),
    }
    print(machine("numpy", "python-fcl"))
    for label, turning in scenes.items():
        print()
        print(compare(replace(turning, label=label), repeats))


if __name__ == "__main__":
    main()
