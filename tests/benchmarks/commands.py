"""Whole-process times of the commands, as a person waits for them.

    python tests/benchmarks/commands.py [repeats]

The median over fresh processes, beside an interpreter that does nothing and one that only imports
numpy: what is left over is swingcheck's own.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.timing import machine, median_seconds, table

ROOT = Path(__file__).resolve().parents[2]


def commands() -> list[tuple[str, list[str]]]:
    """Return what is timed: a name and the arguments of each."""
    program = [sys.executable, "-m", "swingcheck"]
    scenes = sorted((ROOT / "scenes").glob("*.toml"))
    timed = [
        ("python, nothing", [sys.executable, "-c", "pass"]),
        ("python, import numpy", [sys.executable, "-c", "import numpy"]),
        ("python, import swingcheck", [sys.executable, "-c", "import swingcheck"]),
        ("swingcheck --help", [*program, "--help"]),
        ("swingcheck check --help", [*program, "check", "--help"]),
    ]
    for scene in scenes:
        timed.append((f"swingcheck check {scene.name}", [*program, "check", str(scene)]))
    for scene in scenes[:1]:
        named = f"swingcheck check --json {scene.name}"
        timed.append((named, [*program, "check", "--json", str(scene)]))
    return timed


def exit_code(arguments: list[str]) -> int:
    """Return a command's exit code, its output thrown away."""
    return subprocess.run(arguments, cwd=ROOT, capture_output=True, check=False).returncode


def main() -> None:
    """Print the median time of each command."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    rows = []
    base = 0.0
    for name, arguments in commands():
        seconds, code = median_seconds(lambda args=arguments: exit_code(args), times=repeats)
        base = base or seconds
        rows.append([name, f"{seconds:.3f}", f"{seconds / base:.1f}", str(code)])
    print(machine("numpy", "click", "manifold3d"))
    print(table(f"whole process, median of {repeats}", ["", "s", "ratio", "exit"], rows))


if __name__ == "__main__":
    main()
