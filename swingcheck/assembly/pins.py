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

from swingcheck.assembly.legs import LegPlan, hinge_leg_plan, in_frame
from swingcheck.assembly.warp import lean_at, warp_at
from swingcheck.geometry.sizes import Sizes, point, variants
from swingcheck.geometry.solid import Floats, crossed
from swingcheck.model import LeafLayout, Scene, Slab


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LeafPlan:
    """A leaf as let in, in plan, (2, ...) each.

    ``surface`` is where its buried edge is marked on the wood, ``floor`` that
    place on the mortise's floor, ``toward`` the unit direction along the leaf
    to its pin and ``out`` the one out of the surface.
    """

    surface: Floats
    floor: Floats
    toward: Floats
    out: Floats

    def at(self, along: Sizes, lift: Sizes) -> Floats:
        """Return the point (2, ...) so far from the buried edge, and off the mortise's floor.

        The pin's centre is at the leaf's reach along and its pin's lift off:
        :attr:`HingeSet.slab_reach <swingcheck.model.HingeSet>`, ``slab_lift``.
        """
        return in_frame(self.floor, (along, self.toward), (lift, self.out))


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
    toward, out = point(-sin, cos), point(-cos, -sin)
    surface = in_frame(point(thickness * np.tan(lean), -thickness), (setback, toward))
    floor = in_frame(surface, (-depth, out))
    return LeafPlan(surface=surface, floor=floor, toward=toward, out=out)


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
    """Return the leaf frame (3, 4) of the slab's leaf of hinge ``k``, in the slab frame."""
    frame: Floats = slab_leaf_frames(scene)[..., k, 0]
    return frame


def jamb_leaf_frame(scene: Scene, k: int) -> Floats:
    """Return the leaf frame (3, 4) of the jamb's leaf of hinge ``k``, in the opening frame."""
    frame: Floats = jamb_leaf_frames(scene)[..., k, 0]
    return frame


def slab_leaf_frames(scene: Scene) -> Floats:
    """Return the leaf frames (3, 4, hinges, n) of the slab's leaves, in the slab frame.

    On a round edge a leaf is let in along the tangent plane at the crown.
    """
    slab, hinge = scene.slab, scene.hinge
    tops, setbacks, depths = _laid_out(hinge.slab)
    leaf = slab_leaf_plan(slab.thickness, slab.hinge_edge.lean, setbacks, depths)
    toward, out = point(*leaf.toward, 0.0), point(*leaf.out, 0.0)
    origin = point(*leaf.floor, slab.height[0] - tops - hinge.leaf_length / 2)
    if slab.warp is not None:
        each = [_on_warp(slab, toward, place) for place in origin[..., 0].T]
        return np.stack(each, axis=-1)[..., None]
    directions = (variants(way, 1)[:, None] for way in (toward, np.array([0.0, 0.0, -1.0]), out))
    return np.stack(np.broadcast_arrays(*directions, origin), axis=1)


def _laid_out(layout: LeafLayout) -> list[Floats]:
    """Return where leaves are let in, (hinges, n) each: tops, setbacks and depths."""
    return [variants(point(*own), 1) for own in (layout.tops, layout.setbacks, layout.depths)]


def _on_warp(slab: Slab, toward: Floats, origin: Floats) -> Floats:
    """Return a leaf frame (3, 4) carried off flat with the slab, and leaning as it bows there."""
    middle = float(origin[2])
    down = np.array([0.0, -lean_at(slab, 0.0, middle), -1.0])
    down /= np.linalg.norm(down)
    level = toward - (toward @ down) * down
    level /= np.linalg.norm(level)
    off = np.array([0.0, warp_at(slab, 0.0, middle), 0.0])
    return np.stack([level, down, crossed(level, down), origin + off], axis=1)


def jamb_leaf_frames(scene: Scene) -> Floats:
    """Return the leaf frames (3, 4, hinges, n) of the jamb's leaves, in the opening frame.

    A leaf is rigid and lies on the hinge leg's face at its mid-height; its
    length follows the line at its setback from the stop's face, so that a leg
    out of plumb tilts it.
    """
    half = point(-scene.hinge.leaf_length / 2, 0.0, scene.hinge.leaf_length / 2)
    leaf, height = _jamb_leaves(scene, variants(half, 1)[:, None])
    low, middle, high = point(*leaf.surface, height).swapaxes(0, 1)
    up = _unit(high - low)
    toward = point(*leaf.toward[:, 1], 0.0)
    toward = _unit(toward - (toward * up).sum(axis=0) * up)
    normal = crossed(toward.T, up.T).T
    depths = _laid_out(scene.hinge.jamb)[2]
    return np.stack(np.broadcast_arrays(toward, up, normal, middle - depths * normal), axis=1)


def _unit(vectors: Floats) -> Floats:
    """Return vectors (d, ...) brought to length 1."""
    unit: Floats = vectors / np.sqrt((vectors * vectors).sum(axis=0))
    return unit


def _jamb_leaves(scene: Scene, off: Sizes) -> tuple[LeafPlan, Floats]:
    """Return the jamb's leaves in plan, so far (...) over mid-length, and at which heights.

    (..., hinges, n) each.
    """
    tops, setbacks, depths = _laid_out(scene.hinge.jamb)
    height = scene.opening.height[0] - tops - scene.hinge.leaf_length / 2 + off
    return jamb_leaf_plan(hinge_leg_plan(scene.opening, height), setbacks, depths), height


def jamb_pins(scene: Scene) -> Floats:
    """Return the pins (hinges, 3, n) that the jamb's leaves carry, opening frame."""
    leaf, height = _jamb_leaves(scene, 0.0)
    pins = point(*leaf.at(scene.hinge.jamb_reach, scene.hinge.jamb_lift), height)
    return np.moveaxis(pins, 0, 1)


def slab_pins(scene: Scene) -> Floats:
    """Return the pins (hinges, 3, n) that the slab's leaves carry, slab frame."""
    toward, _, normal, origin = slab_leaf_frames(scene).swapaxes(0, 1)
    pins = in_frame(origin, (scene.hinge.slab_lift, normal), (scene.hinge.slab_reach, toward))
    return np.moveaxis(pins, 0, 1)
