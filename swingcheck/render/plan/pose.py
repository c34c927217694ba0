"""Which moment of the swing a picture shows, and where the plan is cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import GROUND, Assembly, Axis, Part, PartKind, barrel_parts
from swingcheck.geometry.section import horizontal_section
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.swing.found import Found, Touch, Verdict

INSIDE = 1 / 32
"""A section keeps this far inside the slab's ends, inches."""

SAME_ANGLE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """A moment of the swing.

    ``angle`` is the swing angle in radians, ``touch`` what touches there (or
    ``None``), ``seated`` whether that is only the slab resting on its stop,
    and ``blocked_by`` what the slab overlaps there before it has moved.
    """

    angle: float
    touch: Touch | None = None
    seated: bool = False
    blocked_by: tuple[str, ...] = ()

    @property
    def closed(self) -> bool:
        """Whether the slab is drawn closed, so that no ghost is wanted under it."""
        return abs(self.angle) < SAME_ANGLE


def shown_pose(result: Found, angle: float | None = None) -> Pose:
    """Return the moment to draw: the angle asked for, or the one the verdict speaks of.

    That is the first contact, closing before opening; the start pose where
    the slab is blocked there; closed where nothing touches.
    """
    found = _decisive(result)
    if angle is None or abs(angle - found.angle) < SAME_ANGLE:
        return found
    touches = [touch for touch in (result.closing, result.opening) if touch is not None]
    met = next((touch for touch in touches if abs(touch.angle - angle) < SAME_ANGLE), None)
    return Pose(angle=angle, touch=met, seated=met is result.closing and result.seated)


def _decisive(result: Found) -> Pose:
    if result.verdict is Verdict.BLOCKED:
        return Pose(angle=result.scene.swing.start, blocked_by=result.blocked_by)
    closing, opening = result.closing, result.opening
    if closing is not None and not result.seated:
        return Pose(angle=closing.angle, touch=closing)
    if opening is not None and result.verdict is not Verdict.SWINGS:
        return Pose(angle=opening.angle, touch=opening)
    if closing is not None:
        return Pose(angle=closing.angle, touch=closing, seated=True)
    return Pose(angle=0.0)


def cut_height(assembly: Assembly, pose: Pose) -> float:
    """Return the height (inches) to cut the plan at.

    Where the contact is; through the middle of the hinge nearest to it where
    the contact reaches so far, so that the leaves are cut too. With no
    contact, through the hinge nearest to mid-height.
    """
    low, high = _slab_span(assembly)
    leaves = assembly.jamb_pins[:, 2] if assembly.scene.hinge.count else np.array([])
    touch = pose.touch
    if touch is None:
        if not len(leaves):
            return (low + high) / 2
        return float(min(leaves, key=lambda z: abs(z - (low + high) / 2)))
    reached = [z for z in leaves if touch.span[0] <= z <= touch.span[1]]
    height = min(reached, key=lambda z: abs(z - touch.point[2])) if reached else touch.point[2]
    return float(np.clip(height, low + INSIDE, high - INSIDE))


def nearest_hinge(assembly: Assembly, height: float) -> int:
    """Return the index of the hinge whose middle is nearest to a height."""
    return int(np.abs(assembly.jamb_pins[:, 2] - height).argmin())


def turned_points(axis: Axis, points: Sequence[Sequence[float]] | Floats, angle: float) -> Floats:
    """Return points (n, 3) of the closed slab after it has turned by ``angle``."""
    return axis.turned(Solid(np.array(points), np.empty((0, 3), dtype=np.int64)), angle).vertices


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """What the plane cuts of one part: outlines (n, 2) in the opening frame, seen from above."""

    kind: PartKind
    outlines: tuple[Floats, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlanCut:
    """A whole plan section at one height.

    ``fixed`` and ``moving`` are cut at ``height``, the moving parts turned to
    the pose; ``ghost`` is the slab closed. ``beyond`` is the hinge nearest to
    the plane where the plane itself misses its leaves, cut through its own
    middle; ``hinge`` is that hinge's index.
    """

    height: float
    hinge: int
    fixed: tuple[Cut, ...]
    moving: tuple[Cut, ...]
    ghost: tuple[Cut, ...]
    beyond: tuple[Cut, ...]


def plan_cut(assembly: Assembly, pose: Pose, height: float) -> PlanCut:
    """Return the plan section of an assembly at a pose and a height (inches)."""
    hinge = nearest_hinge(assembly, height)
    middle = float(assembly.jamb_pins[hinge, 2])
    leaf = abs(height - middle) < assembly.scene.hinge.leaf_length / 2
    solid = [part for part in assembly.fixed if part.kind not in GROUND]
    slab = [part for part in assembly.moving if part.kind is PartKind.SLAB]
    own = [
        part
        for parts in (assembly.fixed, barrel_parts(assembly), assembly.moving)
        for part in parts
        if part.hinge == hinge
    ]
    moving = {part.kind for part in assembly.moving}
    return PlanCut(
        height=height,
        hinge=hinge,
        fixed=_cuts(solid, height) + _cuts(barrel_parts(assembly), height),
        moving=_cuts(_turned(assembly.axis, assembly.moving, pose.angle), height),
        ghost=_cuts(slab, height),
        beyond=()
        if leaf or not assembly.scene.hinge.count
        else _cuts([part for part in own if part.kind not in moving], middle)
        + _cuts(
            _turned(assembly.axis, [part for part in own if part.kind in moving], pose.angle),
            middle,
        ),
    )


def _turned(axis: Axis, parts: Sequence[Part], angle: float) -> list[Part]:
    return [
        Part(name=part.name, kind=part.kind, solid=axis.turned(part.solid, angle), hinge=part.hinge)
        for part in parts
    ]


def _cuts(parts: Sequence[Part], height: float) -> tuple[Cut, ...]:
    found = ((part, horizontal_section(part.solid, height)) for part in parts)
    return tuple(Cut(kind=part.kind, outlines=outlines) for part, outlines in found if outlines)


def _slab_span(assembly: Assembly) -> tuple[float, float]:
    bounds = np.array([part.solid.bounds for part in assembly.moving])
    return float(bounds[:, 0, 2].min()), float(bounds[:, 1, 2].max())
