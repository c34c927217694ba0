"""What one turn of a dial costs the live page's server, reply included.

    python tests/benchmarks/live.py [repeats]

Beside it, in the same run, what the page does without its server: the scene read and checked, its
solids built and its cures looked for. Every turn is another setback, so that none is remembered.
"""

from __future__ import annotations

import json
import sys
from itertools import count
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import swingcheck as sc
from swingcheck.live import Session
from tests.benchmarks.timing import machine, median_seconds, table

ROOT = Path(__file__).resolve().parents[2]
SCENES = ("pantry", "guest_room", "linen_closet", "study")
KEY = "hinge.slab.setback"


def times(path: Path, repeats: int) -> list[str]:
    """Return the row of a scene: a turn, the check alone, and a check with its cures."""
    session, scene, turn = Session(path), sc.read(path), count(1)

    def turned() -> dict[str, str]:
        return {KEY: f"{0.25 + next(turn) / 4096:.6f} in"}

    seconds = [
        median_seconds(call, times=repeats)[0]
        for call in (
            lambda: json.dumps(session.checked(turned())),
            lambda: sc.check(scene.with_(turned())),
            lambda: sc.answered(scene.with_(turned())),
        )
    ]
    return [path.stem, *(f"{1e3 * s:.0f}" for s in seconds), f"{seconds[2] / seconds[0]:.1f}"]


def main() -> None:
    """Print the median time of a turn, plain scenes first."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    rows = [times(ROOT / "scenes" / f"{name}.toml", repeats) for name in SCENES]
    print(machine("numpy", "manifold3d"))
    head = ["scene", "turn", "check alone", "with cures", "ratio"]
    print(table("one turn of a dial, ms", head, rows))


if __name__ == "__main__":
    main()
