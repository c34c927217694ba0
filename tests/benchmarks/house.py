"""A whole job by its size: time and memory of ``swingcheck house`` as a person runs it.

    python tests/benchmarks/house.py [openings ...]

Each job is one schedule of invented openings, no two alike, nine of ten of which swing. It is read,
cut, checked and summed up by the command in a process of its own, into a new folder. What matters
is that the time for one opening stays what it is as the job grows, which the ratio to the smallest
job tells: on a machine that does other work too, by the processors' time. Memory is the most that
any one process had in use. The last columns are the same job one opening after the other, and run
again with every result kept, as ratios to the first run.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.timing import machine, table

ROOT = Path(__file__).resolve().parents[2]
SIZES = (40, 200, 1000, 2000)


def write_schedule(path: Path, count: int) -> None:
    """Write a schedule of so many openings, every one another width by its place."""
    head = (
        "door,opening width,opening height,rabbet,slab width,strike edge,jamb setback,slab setback"
    )
    lines = [head]
    for place in range(count):
        width = 24.0 + place * 12.0 / count
        setbacks = "1/4,5/16" if place % 10 == 9 else "5/16,1/4"
        sizes = f"{width:.4f},80 1/2,1 7/16,{width - 0.25:.4f},{2 + place % 3},{setbacks}"
        lines.append(f"Door {place + 1},{sizes}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def run(schedule: Path, out: Path, *more: str) -> tuple[float, float, float]:
    """Return the seconds that the command takes, those of all processors, and the memory, MB."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begin = time.perf_counter()
    words = ["house", str(schedule), "-o", str(out), "--json", *more]
    done = subprocess.run(
        [sys.executable, "-m", "swingcheck", *words],
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=False,
    )
    seconds = time.perf_counter() - begin
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1):
        raise SystemExit(f"the job ended with {done.returncode}")
    busy = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return seconds, busy, after.ru_maxrss / 1024


def main() -> None:
    """Print the table for jobs of several sizes."""
    sizes = [int(size) for size in sys.argv[1:]] or SIZES
    rows = []
    least = 0.0
    for size in sorted(sizes):
        with tempfile.TemporaryDirectory() as folder:
            schedule = Path(folder) / "job.csv"
            write_schedule(schedule, size)
            seconds, busy, memory = run(schedule, Path(folder) / "out")
            again, _, _ = run(schedule, Path(folder) / "out")
            alone, _, _ = run(schedule, Path(folder) / "alone", "--jobs", "1")
        each = busy / size
        least = least or each
        ratios = [f"{ratio:.2f}" for ratio in (each / least, alone / seconds, again / seconds)]
        figures = [f"{figure:.1f}" for figure in (seconds, each * 1e3, memory)]
        rows.append([str(size), *figures, *ratios])
    print(machine("numpy", "manifold3d"))
    head = ["openings", "s", "ms an opening", "MB", "ratio", "one at a time", "all kept"]
    print(table("A job by its size", head, rows))


if __name__ == "__main__":
    main()
