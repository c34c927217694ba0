"""What decides, drawn where the slab's own turn does not show it: a second slab, the push side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from swingcheck.assembly import GROUND, Assembly, Part, PartKind
from swingcheck.geometry.booleans import in_common
from swingcheck.page.plan import cut_shapes
from swingcheck.render.pen.subject import turned_parts
from swingcheck.report.headline import widest_foul
from swingcheck.swing.found import Found, Point, Way

AROUND_IN = 4.0
"""What is shown around the slabs as they stand."""

THIS = ""
"""What this slab is called among the further ones."""

SLABS = (
    PartKind.SLAB,
    PartKind.INACTIVE,
    PartKind.ACTIVE,
    PartKind.LOWER,
    PartKind.UPPER,
    PartKind.NEIGHBOUR,
)


def decided_view(assembly: Assembly, result: Found) -> dict[str, Any] | None:
    """Return the window on what decides, ``None`` where the slab's own turn shows it.

    Its shapes stand as they do where the verdict is decided; nothing turns.
    """
    decided = result.decided
    if decided.way is None or not (decided.slab or decided.push):
        return None
    angles = _angles(assembly, result)
    if not angles:
        return None
    slabs, gone = [], set()
    for other in assembly.others:
        own = other.assembly
        gone |= {part.name for part in own.moving}
        slabs += turned_parts(own.axis, own.moving, angles.get(other.name, 0.0))
    if THIS in angles:
        slabs += turned_parts(assembly.axis, assembly.moving, angles[THIS])
    still = [part for part in assembly.fixed if part.name not in gone and part.kind not in GROUND]
    mark = decided.touch.point if decided.touch else _overlap(slabs)
    height = mark[2] if mark else float(assembly.moving[0].solid.bounds[:, 2].mean())
    bounds = np.array([part.solid.bounds[:, :2] for part in slabs])
    low, high = bounds[:, 0].min(axis=0) - AROUND_IN, bounds[:, 1].max(axis=0) + AROUND_IN
    return {
        "name": "decided",
        "heading": "Where it decides",
        "corner": low.tolist(),
        "size": (high - low).tolist(),
        "parts": [],
        "shapes": cut_shapes(assembly, (*still, *slabs), height),
        "lit": [decided.touch.against] if decided.touch else list(decided.blocked_by),
        "mark": None if mark is None else list(mark[:2]),
    }


def _angles(assembly: Assembly, result: Found) -> dict[str, float]:
    """Return how far open what decides stands, radians: by the slab's name, this one's empty.

    This slab is left out where it is out of the way, and all is where no angles decide.
    """
    decided, start = result.decided, result.scene.swing.start
    if decided.way is Way.TOGETHER:
        foul = widest_foul(decided.together) if decided.together else None
        return {THIS: foul.angle, decided.slab: (foul.low + foul.high) / 2} if foul else {}
    if decided.slab:
        other = next(each for each in assembly.others if each.name == decided.slab)
        start = other.assembly.scene.swing.start
    elif decided.push:
        start = -start
    return {decided.slab or THIS: decided.touch.angle if decided.touch else start}


def _overlap(slabs: Sequence[Part]) -> Point | None:
    """Return the middle of what the two slabs share, ``None`` for nothing."""
    first, *rest = (part for part in slabs if part.kind in SLABS)
    for other in rest:
        volume, shared = in_common(first.solid, other.solid)
        if volume > 0.0:
            x, y, z = shared.mean(axis=0).tolist()
            return (x, y, z)
    return None
