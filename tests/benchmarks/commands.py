"""Whole-process times of the commands, as a person waits for them.

    python tests/benchmarks/commands.py [repeats]

The median over fresh processes, beside an interpreter that does nothing and one that only imports
numpy: what is left over is swingcheck's own.
"""

from __future__ import annotations

import subprocess
import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.timing import machine, median_seconds, table

ROOT = Path(__file__).resolve().parents[2]
PYTHONS = {
    "nothing": "pass",
    "import numpy": "import numpy",
    "import swingcheck": "import swingcheck",
}


def commands() -> list[tuple[str, list[str]]]:
    """Return what is timed: a name and the arguments of each."""
    timed = [(f"python, {what}", [sys.executable, "-c", code]) for what, code in PYTHONS.items()]
    scenes = [f"check scenes/{path.name}" for path in sorted((ROOT / "scenes").glob("*.toml"))]
    for words in ("--help", "check --help", *scenes, f"{scenes[0]} --json"):
        timed.append((f"swingcheck {words}", [sys.executable, "-m", "swingcheck", *words.split()]))
    return timed


def main() -> None:
    """Print the median time of each command."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    rows = []
    base = 0.0
    for name, arguments in commands():
        run = partial(subprocess.run, arguments, cwd=ROOT, capture_output=True, check=False)
        seconds, done = median_seconds(run, times=repeats)
        base = base or seconds
        rows.append([name, f"{seconds:.3f}", f"{seconds / base:.1f}", str(done.returncode)])
    print(machine("numpy", "click", "manifold3d"))
    print(table(f"whole process, median of {repeats}", ["", "s", "ratio", "exit"], rows))


if __name__ == "__main__":
    main()
