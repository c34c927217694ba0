"""Where the plan is cut, and what the cut shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import GROUND, Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.parts import is_mirrored
from swingcheck.geometry.section import horizontal_section
from swingcheck.geometry.solid import Floats
from swingcheck.render.pen.subject import Pose, Subject, turned_parts

INSIDE = 1 / 32
"""A section keeps this far inside the slab's ends, inches."""

LEVEL = (*GROUND, PartKind.HEAD, PartKind.HEAD_STOP)
"""Parts that a plan does not show the slab meeting."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cut:
    """What the plane cuts of one part: outlines (n, 2) in the opening frame, seen from above."""

    name: str
    kind: PartKind
    outlines: tuple[Floats, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlanCut:
    """A whole plan section at one height.

    ``fixed`` and ``moving`` are cut at ``height``, the moving parts turned to
    the pose; ``ghost`` is the slab closed, with what else stands closed out of
    its way. ``beyond`` is the hinge nearest to the plane where the plane itself
    misses its leaves, cut through its own middle; ``hinge`` is that hinge's
    index.
    """

    height: float
    hinge: int
    fixed: tuple[Cut, ...]
    moving: tuple[Cut, ...]
    ghost: tuple[Cut, ...]
    beyond: tuple[Cut, ...]


def plan_hand(assembly: Assembly) -> float:
    """Return how a plan is mirrored: turned over to put the pull side down, it mirrors once."""
    return 1.0 if is_mirrored(assembly.scene) else -1.0


def cut_height(assembly: Assembly, pose: Pose) -> float:
    """Return the height (inches) to cut the plan at.

    Where the contact is; through the middle of the hinge nearest to it where
    the contact reaches so far, so that the leaves are cut too. With no
    contact, through the hinge nearest to mid-height.
    """
    bounds = np.array([part.solid.bounds for part in assembly.moving])
    low, high = float(bounds[:, 0, 2].min()), float(bounds[:, 1, 2].max())
    leaves = assembly.jamb_pins[:, 2] if assembly.scene.hinge.count else np.array([])
    wanted, span = (low + high) / 2, (low, high)
    if pose.at is not None:
        wanted, span = pose.at[2], pose.span
    reached = [float(z) for z in leaves if span[0] <= z <= span[1]]
    height = min(reached, key=lambda z: abs(z - wanted), default=wanted)
    return float(np.clip(height, low + INSIDE, high - INSIDE))


def nearest_hinge(assembly: Assembly, height: float) -> int:
    """Return the index of the hinge whose middle is nearest to a height."""
    return int(np.abs(assembly.jamb_pins[:, 2] - height).argmin())


def plan_cut(subject: Subject, pose: Pose, height: float) -> PlanCut:
    """Return the plan section of a subject's assembly at a pose and a height (inches)."""
    assembly = subject.assembly
    hinge = nearest_hinge(assembly, height)
    middle = float(assembly.jamb_pins[hinge, 2])
    moving = turned_parts(assembly.axis, assembly.moving, pose.angle)
    still = (*assembly.fixed, *barrel_parts(assembly))
    cut_too = abs(height - middle) < assembly.scene.hinge.leaf_length / 2
    beyond = [] if cut_too or not assembly.scene.hinge.count else [*still, *moving]
    return PlanCut(
        height=height,
        hinge=hinge,
        fixed=_cuts([part for part in still if part.kind not in GROUND], height),
        moving=_cuts(moving, height),
        ghost=_cuts(ghosts_of(subject), height),
        beyond=_cuts([part for part in beyond if part.hinge == hinge], middle),
    )


def ghosts_of(subject: Subject) -> list[Part]:
    """Return what is drawn dashed where it stands closed: the slab without its fittings, others."""
    slab = [part for part in subject.assembly.moving if part.kind is PartKind.SLAB]
    return [*slab, *subject.ghosts]


def _cuts(parts: Sequence[Part], height: float) -> tuple[Cut, ...]:
    found = ((part, horizontal_section(part.solid, height)) for part in parts)
    return tuple(
        Cut(name=part.name, kind=part.kind, outlines=outlines)
        for part, outlines in found
        if outlines
    )
