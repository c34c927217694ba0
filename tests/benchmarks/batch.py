"""Variants in full a second: answered together, and swung one at a time, in one run.

    python tests/benchmarks/batch.py [draws [held]]

Every scene's draws (3,000 where nothing is said) are answered together, with what is settled once
left out of the time and told by itself; so many of them (40) are swung one at a time as well, and
held to the same. Both are processor time on one core. ``build`` and ``contact`` are what most of
the draws take of it. Then how time and memory grow with draws.
"""

from __future__ import annotations

import resource
import sys
from pathlib import Path
from time import process_time

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from swingcheck.chance.full import CHUNK_VARIANTS, Job, full_job
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import Outcomes, joined
from swingcheck.geometry.many.search import first_met
from swingcheck.geometry.solid import Floats
from swingcheck.model import Scene
from tests.benchmarks.timing import machine, table
from tests.crooked import SCENES, drawn
from tests.properties.test_full_batch import one_at_a_time


def settled(scene: Scene, held: tuple[Measurement, ...], values: Floats) -> tuple[Job, float]:
    begin = process_time()
    job = full_job(scene, held, tuple(values.min(axis=0)), tuple(values.max(axis=0)))
    assert job is not None
    return job, process_time() - begin


def stages(job: Job, values: Floats) -> tuple[float, float]:
    """Return the seconds that building a draw takes, and finding what it meets."""
    tier, some = job.tiers[0], values[:CHUNK_VARIANTS]
    begin = process_time()
    corners = tier.builder.built(some).corners
    middle = process_time()
    first_met(tier.ready, corners, job.scene.swing.start, job.room)
    return (middle - begin) / len(some), (process_time() - middle) / len(some)


def together(job: Job, values: Floats) -> tuple[Outcomes, float]:
    """Return outcomes and the seconds that each draw took."""
    job.outcomes(values[:3])
    begin = process_time()
    found = job.outcomes(values)
    return found, (process_time() - begin) / len(values)


def differing(found: Outcomes, alone: Outcomes) -> str:
    """Return how many verdicts or parts differ of those told for sure, and the farthest angle."""
    sure = ~found.alone[: len(alone.alone)]
    some, rest = (joined([each], np.flatnonzero(sure)) for each in (found, alone))
    other = (some.verdict != rest.verdict) | (some.against != rest.against)
    off = np.nan_to_num(np.abs(some.angle - rest.angle)).max(initial=0.0)
    return f"{int(other.sum())}, {off:.0e}"


def row(name: str, draws: int, held: int) -> list[str]:
    scene = SCENES[name]
    measured, values = drawn(scene, draws)
    job, set_up = settled(scene, measured, values)
    begin = process_time()
    alone = one_at_a_time(scene, measured, values[:held])
    single = (process_time() - begin) / held
    found, each = together(job, values)
    build, contact = stages(job, values)
    return [
        name,
        f"{single * 1e3:.1f}",
        f"{each * 1e6:.0f}",
        f"{build * 1e6:.0f} + {contact * 1e6:.0f}",
        f"{single / each:.0f}",
        f"{set_up:.2f}",
        f"{found.swings.mean() * 100:.0f} %",
        f"{found.alone.mean() * 100:.2f} %",
        differing(found, alone),
    ]


def growth() -> list[list[str]]:
    scene = SCENES["bound on a twisted leg"]
    measured, values = drawn(scene, 40_000)
    job, _ = settled(scene, measured, values)
    rows = []
    for count in (1_000, 10_000, 40_000):
        _, each = together(job, values[:count])
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        rows.append([f"{count:,}", f"{each * 1e6:.0f}", f"{peak:.0f}"])
    return rows


def main() -> None:
    draws, held = [*map(int, sys.argv[1:]), *(3_000, 40)[len(sys.argv) - 1 :]][:2]
    print(machine("numpy"))
    heads = ("scene", "alone ms", "together us", "build + contact", "times", "settle s")
    heads += ("swing", "alone", "unlike, rad off")
    print(table(f"{draws:,} draws", heads, [row(name, draws, held) for name in SCENES]))
    print(table("growth", ("draws", "us each", "peak MB"), growth()))


if __name__ == "__main__":
    main()
