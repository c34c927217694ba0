"""Hinge leaves as solids, and what they are let into: plates from buried edge to knuckles."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly.parts import Hang, Part, PartKind
from swingcheck.assembly.pins import jamb_leaf_frame, slab_leaf_frame
from swingcheck.errors import GeometryError
from swingcheck.geometry.booleans import joined
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import circle_outline, cylinder, plate, rounded_outline
from swingcheck.model import HingeSet, Scene

#: A wood screw's head, No. 9 countersunk, diameter in inches. Common practice, no source.
SCREW_HEAD = 0.36

#: How far a leaf's end screws stand from its buried edge and its ends, inches.
#: Common practice, no source.
SCREW_FROM_EDGE, SCREW_FROM_END = 0.375, 0.625

#: How far past the arris a mortise's tool runs, inches.
_BEYOND = 1.0


def leaf_outline(hinge: HingeSet, reach: float) -> Floats:
    """Return a leaf's outline (k, 2) in its leaf frame, this far from the buried edge.

    The corners at the buried edge are round; the leaf and its mortise share
    the outline, facet by facet.
    """
    half, radius = hinge.leaf_length / 2, hinge.corner_radius
    return rounded_outline("hinge leaf", (0.0, -half), (reach, half), (radius, 0.0, 0.0, radius))


def slab_leaf_parts(scene: Scene) -> list[Part]:
    """Return the slab's leaves, slab frame."""
    return _leaf_parts(scene, PartKind.SLAB_LEAF)


def jamb_leaf_parts(scene: Scene) -> list[Part]:
    """Return the jamb's leaves, opening frame."""
    return _leaf_parts(scene, PartKind.JAMB_LEAF)


def _leaf_parts(scene: Scene, kind: PartKind) -> list[Part]:
    on_slab = kind is PartKind.SLAB_LEAF
    frame_of = slab_leaf_frame if on_slab else jamb_leaf_frame
    return [
        Part(
            name=f"{kind.value} of {hinge_name(scene, k)}",
            kind=kind,
            solid=_leaf_solid(kind.value, scene.hinge, frame_of(scene, k), on_slab=on_slab),
            hinge=k,
        )
        for k in range(scene.hinge.count)
    ]


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


def mortise_tool(scene: Scene, name: str, frame: Floats, depth: float, run: float) -> Solid:
    """Return what a leaf's mortise takes away, from its floor to clear of the surface.

    Parameters
    ----------
    scene : Scene
        The scene whose leaf it is.
    name : str
        What to call the mortise when it cannot be built.
    frame : (3, 4) float64
        The leaf frame.
    depth : float
        Floor to surface.
    run : float
        Buried edge to the arris that the mortise opens through.
    """
    return plate(name, leaf_outline(scene.hinge, run + _BEYOND), frame, depth + _BEYOND)


def _leaf_solid(name: str, hinge: HingeSet, frame: Floats, *, on_slab: bool) -> Solid:
    """Return a leaf with its screw heads, and the arm of one that is cranked to its knuckles."""
    arm = leaf_arm(hinge, on_slab=on_slab)
    reach = hinge.slab_reach if on_slab else hinge.jamb_reach
    flat = reach - hinge.barrel / 2 if arm is None else arm.high[0]
    if flat <= 0:
        raise GeometryError(name, "the barrel is as wide as both leaves")
    solids = [plate(name, leaf_outline(hinge, flat), frame, hinge.leaf_thickness)]
    if arm is not None:
        solids.append(_arm_solid(name, hinge, frame, arm))
    if hinge.screw_proud > 0:
        solids += _screw_heads(name, hinge, frame, min(flat, reach - hinge.barrel / 2))
    return solids[0] if len(solids) == 1 else joined(name, solids)


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
    if abs(pin - thickness / 2) <= radius + thickness / 2:
        return None
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
