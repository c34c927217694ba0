"""Where a leaf lies as let in, and where its pin stands.

In plan a leaf is told by its buried edge and two directions; these formulas
take numbers or arrays (n,) of variants alike. In space it lies in a *leaf
frame*: the first direction from the buried edge toward the pin, the second
along the barrel, the third out of the surface that the leaf is let into; the
origin is on the mortise's floor, at the buried edge and the leaf's mid-length.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly.legs import (
    LegPlan,
    Sizes,
    along_way,
    hinge_leg_plan,
    plan_points,
)
from swingcheck.assembly.warp import lean_at, warp_at
from swingcheck.geometry.solid import Floats, crossed
from swingcheck.model import Scene, Slab


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LeafPlan:
    """A leaf as let in, in plan, (..., 2) each.

    ``surface`` is where its buried edge is marked on the wood, ``floor`` that
    place on the mortise's floor, ``toward`` the unit direction along the leaf
    to its pin and ``out`` the one out of the surface.
    """

    surface: Floats
    floor: Floats
    toward: Floats
    out: Floats

    def at(self, along: Sizes, lift: Sizes) -> Floats:
        """Return the point (..., 2) so far from the buried edge, and off the mortise's floor.

        The pin's centre is at the leaf's reach along and its pin's lift off:
        :attr:`HingeSet.slab_reach <swingcheck.model.HingeSet>`, ``slab_lift``.
        """
        return self.floor + along_way(along, self.toward) + along_way(lift, self.out)


def slab_leaf_plan(thickness: Sizes, lean: Sizes, setback: Sizes, depth: Sizes) -> LeafPlan:
    """Return a slab's leaf in plan, slab frame.

    With a bevel ``b``, ``e = (sin b, -cos b)`` runs down the hinge edge to the
    narrow face and ``n = (-cos b, -sin b)`` out of it: the buried edge is
    marked at ``P = (T tan b, -T) - setback e``, and the mortise's floor is
    ``depth`` below it. The pin stands at
    ``P - depth n + (t + q / 2 + a) n - reach e``, with the leaf's thickness
    ``t``, the closed gap ``q`` and the knuckle's offset ``a``.
    """
    sin, cos = np.sin(lean), np.cos(lean)
    toward, out = plan_points(-sin, cos), plan_points(-cos, -sin)
    surface = plan_points(thickness * np.tan(lean), -thickness) + along_way(setback, toward)
    return LeafPlan(surface=surface, floor=surface - along_way(depth, out), toward=toward, out=out)


def jamb_leaf_plan(leg: LegPlan, setback: Sizes, depth: Sizes) -> LeafPlan:
    """Return a jamb's leaf in plan on the hinge leg as it stands there, opening frame.

    The buried edge is marked ``setback`` from the stop's face; the pin stands
    ``reach`` farther along to the pull side and ``t + q / 2 - a`` off the
    mortise's floor.
    """
    along = leg.rabbet - setback
    return LeafPlan(
        surface=leg.at(along, 0.0),
        floor=leg.at(along, -depth),
        toward=-leg.along,
        out=leg.normal,
    )


def slab_leaf_frame(scene: Scene, k: int) -> Floats:
    """Return the leaf frame (3, 4) of the slab's leaf of hinge ``k``, in the slab frame.

    On a round edge a leaf is let in along the tangent plane at the crown.
    """
    slab, hinge = scene.slab, scene.hinge
    leaf = slab_leaf_plan(
        slab.thickness, slab.hinge_edge.lean, hinge.slab.setbacks[k], hinge.slab.depths[k]
    )
    middle = slab.height[0] - hinge.slab.tops[k] - hinge.leaf_length / 2
    toward, out = np.array([*leaf.toward, 0.0]), np.array([*leaf.out, 0.0])
    origin = np.array([*leaf.floor, middle])
    if slab.warp is not None:
        return _on_warp(slab, toward, origin)
    return np.stack([toward, np.array([0.0, 0.0, -1.0]), out, origin], axis=1)


def _on_warp(slab: Slab, toward: Floats, origin: Floats) -> Floats:
    """Return a leaf frame (3, 4) carried off flat with the slab, and leaning as it bows there."""
    middle = float(origin[2])
    down = np.array([0.0, -lean_at(slab, 0.0, middle), -1.0])
    down /= np.linalg.norm(down)
    level = toward - (toward @ down) * down
    level /= np.linalg.norm(level)
    off = np.array([0.0, warp_at(slab, 0.0, middle), 0.0])
    return np.stack([level, down, crossed(level, down), origin + off], axis=1)


def jamb_leaf_frame(scene: Scene, k: int) -> Floats:
    """Return the leaf frame (3, 4) of the jamb's leaf of hinge ``k``, in the opening frame.

    The leaf is rigid and lies on the hinge leg's face at its mid-height; its
    length follows the line at its setback from the stop's face, so that a leg
    out of plumb tilts it.
    """
    hinge = scene.hinge
    top = scene.opening.height[0] - hinge.jamb.tops[k]
    heights = (top - hinge.leaf_length, top - hinge.leaf_length / 2, top)
    leaves = [_jamb_leaf(scene, k, z) for z in heights]
    low, middle, high = (
        np.array([*leaf.surface, z]) for leaf, z in zip(leaves, heights, strict=True)
    )
    up = (high - low) / np.linalg.norm(high - low)
    toward = np.array([*leaves[1].toward, 0.0])
    toward -= (toward @ up) * up
    toward /= np.linalg.norm(toward)
    normal = crossed(toward, up)
    return np.stack([toward, up, normal, middle - hinge.jamb.depths[k] * normal], axis=1)


def slab_pin(scene: Scene, k: int) -> Floats:
    """Return the pin's centre (3,) that the slab's leaf of hinge ``k`` carries, slab frame.

    At the leaf's mid-length: :func:`slab_leaf_plan`, on a warped slab as the leaf leans there.
    """
    toward, _, normal, origin = slab_leaf_frame(scene, k).T
    return origin + normal * scene.hinge.slab_lift + toward * scene.hinge.slab_reach


def jamb_pin(scene: Scene, k: int) -> Floats:
    """Return the pin's centre (3,) that the jamb's leaf of hinge ``k`` carries, opening frame.

    At the leaf's mid-length, in plan on the leg as it stands at that height:
    :func:`jamb_leaf_plan`.
    """
    hinge = scene.hinge
    middle = scene.opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
    leaf = _jamb_leaf(scene, k, middle)
    return np.array([*leaf.at(hinge.jamb_reach, hinge.jamb_lift), middle])


def _jamb_leaf(scene: Scene, k: int, z: float) -> LeafPlan:
    layout = scene.hinge.jamb
    return jamb_leaf_plan(hinge_leg_plan(scene.opening, z), layout.setbacks[k], layout.depths[k])


def jamb_pins(scene: Scene) -> Floats:
    """Return the pins (hinges, 3) that the jamb's leaves carry, opening frame."""
    return np.array([jamb_pin(scene, k) for k in range(scene.hinge.count)])


def slab_pins(scene: Scene) -> Floats:
    """Return the pins (hinges, 3) that the slab's leaves carry, slab frame."""
    return np.array([slab_pin(scene, k) for k in range(scene.hinge.count)])
