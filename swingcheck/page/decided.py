"""What decides, drawn where the slab's own turn does not show it: a second slab, the push side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.assembly import GROUND, Assembly, Part, PartKind
from swingcheck.geometry.booleans import in_common
from swingcheck.page.plan import cut_shapes
from swingcheck.render.pen.subject import turned_parts
from swingcheck.report.second_slab import widest_foul
from swingcheck.swing.found import Found, Way

AROUND_IN = 4.0
"""What is shown around the slabs as they stand."""

SLABS = (
    PartKind.SLAB,
    PartKind.INACTIVE,
    PartKind.ACTIVE,
    PartKind.LOWER,
    PartKind.UPPER,
    PartKind.NEIGHBOUR,
)


@dataclass(frozen=True, slots=True)
class Decisive:
    """The pose that decides: this slab's swing angle, the further slab's, and where they touch.

    Angles are radians; ``this`` is ``None`` where this slab is out of the way,
    and ``mark`` where there is no contact to mark.
    """

    this: float | None
    other: float = 0.0
    mark: tuple[float, ...] | None = None


def decided_view(assembly: Assembly, result: Found) -> dict[str, Any] | None:
    """Return the window on what decides, ``None`` where the slab's own turn shows it.

    Its shapes stand as they do where the verdict is decided; nothing turns.
    """
    decided = result.decided
    if decided.way is None or not (decided.slab or decided.push):
        return None
    pose = _decisive(assembly, result)
    if pose is None:
        return None
    still, slabs = _posed(assembly, result, pose)
    mark = pose.mark or _overlap(slabs)
    height = _height(assembly, mark)
    solid = [part.solid.bounds[:, :2] for part in slabs]
    low = np.min([each[0] for each in solid], axis=0) - AROUND_IN
    high = np.max([each[1] for each in solid], axis=0) + AROUND_IN
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


def _decisive(assembly: Assembly, result: Found) -> Decisive | None:
    decided, start = result.decided, result.scene.swing.start
    if decided.way is Way.TOGETHER:
        foul = widest_foul(decided.together) if decided.together else None
        return None if foul is None else Decisive(foul.angle, (foul.low + foul.high) / 2)
    touch = decided.touch
    angle = touch.angle if touch else -start if decided.push else start
    mark = touch.point if touch else None
    if decided.slab:
        other = next(each for each in assembly.others if each.name == decided.slab)
        angle = touch.angle if touch else other.assembly.scene.swing.start
        return Decisive(None, angle, mark)
    return Decisive(angle, mark=mark)


def _posed(assembly: Assembly, result: Found, pose: Decisive) -> tuple[list[Part], list[Part]]:
    """Return what stands still, and the parts of the slabs as they stand."""
    name = result.decided.slab
    moved: list[Part] = []
    gone: set[str] = set()
    for other in assembly.others:
        gone |= {part.name for part in other.assembly.moving}
        angle = pose.other if other.name == name else 0.0
        moved += turned_parts(other.assembly.axis, other.assembly.moving, angle)
    if pose.this is not None:
        moved += turned_parts(assembly.axis, assembly.moving, pose.this)
    still = [part for part in assembly.fixed if part.name not in gone and part.kind not in GROUND]
    return still, moved


def _overlap(slabs: Sequence[Part]) -> tuple[float, ...] | None:
    """Return the middle of what the two slabs share, ``None`` for nothing."""
    first, *rest = (part for part in slabs if part.kind in SLABS)
    for other in rest:
        volume, middle = in_common(first.solid, other.solid)
        if volume > 0.0:
            return tuple(middle.tolist())
    return None


def _height(assembly: Assembly, mark: Sequence[float] | None) -> float:
    low, high = assembly.moving[0].solid.bounds[:, 2]
    if mark is None:
        return float(low + high) / 2
    return float(mark[2])
