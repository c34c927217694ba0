"""What one turn of a dial costs the live page's server, reply included.

    python tests/benchmarks/live.py [repeats]

Beside it, in the same run, the same scene read and checked without the server's bench.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from swingcheck.live import Session
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from tests.benchmarks.timing import machine, median_seconds, table

ROOT = Path(__file__).resolve().parents[2]
SCENES = ("pantry", "guest_room", "linen_closet", "study")


def main() -> None:
    """Print the median time of a turn, plain scenes first."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    rows = []
    for name in SCENES:
        path = ROOT / "scenes" / f"{name}.toml"
        session = Session(path)
        turn = {"hinge.slab.setback": "17/64 in"}
        alone, _ = median_seconds(lambda path=path: check(read_scene(path)), times=repeats)
        turned, _ = median_seconds(
            lambda s=session, t=turn: json.dumps(s.checked(t)), times=repeats
        )
        rows.append([path.stem, f"{1e3 * alone:.0f}", f"{1e3 * turned:.0f}"])
    print(machine("numpy", "manifold3d"))
    print(table("one turn of a dial, ms", ["scene", "check alone", "turn"], rows))


if __name__ == "__main__":
    main()
