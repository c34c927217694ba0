"""Hinge leaves as solids, and what they are let into: plates from buried edge to knuckles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from swingcheck.assembly.drafts import Draft, Pattern, made
from swingcheck.assembly.parts import Hang, Part, PartKind
from swingcheck.assembly.pins import jamb_leaf_frames, slab_leaf_frames
from swingcheck.geometry.sizes import Sizes, hold
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import (
    Skin,
    circle_outline,
    corner_facets,
    cylinder,
    fan,
    plate,
    plate_skin,
    rounded_outline,
)
from swingcheck.model import HingeSet, Scene

#: A wood screw's head, No. 9 countersunk, diameter in inches. Common practice, no source.
SCREW_HEAD = 0.36

#: How far a leaf's end screws stand from its buried edge and its ends, inches.
#: Common practice, no source.
SCREW_FROM_EDGE, SCREW_FROM_END = 0.375, 0.625

#: How far past the arris a mortise's tool runs, inches.
_BEYOND = 1.0


def leaf_outline(hinge: HingeSet, reach: Sizes, pattern: Pattern) -> Floats:
    """Return a leaf's outline (k, 2, ...) in its leaf frame, this far from the buried edge.

    The corners at the buried edge are round; the leaf and its mortise share
    the outline, facet by facet.
    """
    half, radius = hinge.leaf_length / 2, hinge.corner_radius
    radii = (radius, 0.0, 0.0, radius)
    facets = pattern.once("leaf corners", lambda: corner_facets(radii))
    return rounded_outline("hinge leaf", (0.0, -half), (reach, half), radii, facets)


def jamb_leaf_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the jamb's leaves, opening frame."""
    return made(jamb_leaf_drafts(scene, Pattern()))


def slab_leaf_drafts(scene: Scene, pattern: Pattern) -> Iterator[Draft]:
    """Yield the slab's leaves, slab frame."""
    if scene.hinge.count:
        frames = slab_leaf_frames(scene)
        yield from _leaf_drafts(scene, PartKind.SLAB_LEAF, frames, pattern)


def jamb_leaf_drafts(scene: Scene, pattern: Pattern) -> Iterator[Draft]:
    """Yield the jamb's leaves, opening frame."""
    if scene.hinge.count:
        frames = jamb_leaf_frames(scene)
        yield from _leaf_drafts(scene, PartKind.JAMB_LEAF, frames, pattern)


def _leaf_drafts(scene: Scene, kind: PartKind, frames: Floats, pattern: Pattern) -> Iterator[Draft]:
    """Yield leaves from their leaf frames (3, 4, hinges, n): plates, arms and screw heads."""
    hinge, on_slab, name = scene.hinge, kind is PartKind.SLAB_LEAF, kind.value
    arm = leaf_arm(hinge, on_slab=on_slab)
    reach = (hinge.slab_reach if on_slab else hinge.jamb_reach) - hinge.barrel / 2
    flat = reach if arm is None else arm.high[0]
    hold(name, np.greater(flat, 0), "the barrel is as wide as both leaves")
    outline = leaf_outline(hinge, flat, pattern)
    for k in range(hinge.count):
        frame, joined = frames[..., k, :], []
        skin = plate_skin(name, outline, frame, hinge.leaf_thickness, cap=fan(len(outline)))
        if arm is not None:
            joined.append(_arm_solid(name, hinge, frame[..., 0], arm))
        if pattern.is_some("screw heads", hinge.screw_proud):
            joined += _screw_heads(name, hinge, frame[..., 0], min(flat, reach))
        yield Draft(
            name=f"{name} of {hinge_name(scene, k)}",
            kind=kind,
            skin=skin,
            joined=tuple(joined),
            hinge=k,
        )


def hinge_barrel_parts(scene: Scene, hung: Hang) -> tuple[Part, ...]:
    """Return the knuckles about the pin line, as long as the leaves, opening frame."""
    half = hung.axis.direction * scene.hinge.leaf_length / 2
    parts = []
    for k, height in enumerate(hung.jamb_pins[:, 2]):
        pin = hung.axis.at(float(height))
        solid = cylinder("barrel", pin - half, pin + half, scene.hinge.barrel / 2)
        name = f"barrel of {hinge_name(scene, k)}"
        parts.append(Part(name=name, kind=PartKind.BARREL, solid=solid, hinge=k))
    return tuple(parts)


def hinge_name(scene: Scene, k: int) -> str:
    """Return what a person calls hinge ``k``, counted from the top."""
    last = scene.hinge.count - 1
    if k == 0:
        return "the top hinge"
    if k == last:
        return "the bottom hinge"
    return "the middle hinge" if last == 2 else f"hinge {k + 1} from the top"


def mortise_tool(
    scene: Scene, name: str, frame: Floats, depth: Sizes, run: Sizes, pattern: Pattern
) -> Skin:
    """Return what a leaf's mortise takes away, from its floor to clear of the surface.

    ``frame`` (3, 4, n) is the leaf's; ``depth``, floor to surface, and ``run``, buried edge
    to the arris that the mortise opens through, are floats or (n,). The ``pattern`` settles
    its facets.
    """
    outline = leaf_outline(scene.hinge, run + _BEYOND, pattern)
    return plate_skin(name, outline, frame, depth + _BEYOND, cap=fan(len(outline)))


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafArm:
    """A leaf's arm square to its flat, in section: ``low`` and ``high``, toward the pin and out."""

    low: tuple[float, float]
    high: tuple[float, float]


def leaf_arm(hinge: HingeSet, *, on_slab: bool) -> LeafArm | None:
    """Return the arm that carries a cranked leaf to its knuckles; None where its flat meets them.

    Closed, the two arms lie on each other with the closed gap between them and
    the pin's plane in its middle, the one of the leaf that the pin is away
    from on the outside. An arm runs from its flat to the barrel.
    """
    thickness, radius = hinge.leaf_thickness, hinge.barrel / 2
    gap, across = hinge.closed_gap / 2, hinge.offset.across
    reach = hinge.slab_reach if on_slab else hinge.jamb_reach
    pin = thickness + gap + (across if on_slab else -across)
    meets = np.less_equal(np.abs(pin - thickness / 2), radius + thickness / 2)
    if np.all(meets):
        return None
    if np.any(meets):
        hold("hinge leaf", meets, "it has an arm at some sizes and not at others")
    outside = on_slab is (across > 0)
    inner = reach + gap if outside else reach - gap - thickness
    if pin > thickness:
        low, high = 0.0, pin - radius
    else:
        low, high = pin + radius, thickness
    return LeafArm(low=(inner, low), high=(inner + thickness, high))


def _arm_solid(name: str, hinge: HingeSet, frame: Floats, arm: LeafArm) -> Solid:
    """Return a leaf's arm, as long as the leaf."""
    half = hinge.leaf_length / 2
    toward, up, normal, origin = frame.T
    section = np.stack([toward, normal, -up, origin + half * up], axis=1)
    (u, v), (far, out) = arm.low, arm.high
    return plate(name, [(u, v), (far, v), (far, out), (u, out)], section, hinge.leaf_length)


def _screw_heads(name: str, hinge: HingeSet, frame: Floats, reach: float) -> list[Solid]:
    """Return three heads that stand proud of a leaf's inner face.

    Two by the ends near the buried edge, where the leaves come together
    first, and one in the middle.
    """
    radius = min(SCREW_HEAD / 2, reach / 4, hinge.leaf_length / 8)
    edge = min(max(SCREW_FROM_EDGE, radius), reach / 2)
    end = hinge.leaf_length / 2 - min(SCREW_FROM_END, hinge.leaf_length / 4)
    sunk = hinge.leaf_thickness / 2
    base = frame.copy()
    base[:, 3] += sunk * frame[:, 2]
    head = circle_outline(name, radius)
    return [
        plate(name, head + place, base, hinge.leaf_thickness - sunk + hinge.screw_proud)
        for place in ([edge, -end], [reach / 2, 0.0], [edge, end])
    ]
