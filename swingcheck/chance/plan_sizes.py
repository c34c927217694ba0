"""Which scenes look the same at every height, and what they come to in plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from math import pi
from typing import Any

import numpy as np

from swingcheck.assembly.slab import slab_bottom
from swingcheck.chance.values import Lean
from swingcheck.geometry.solid import Floats
from swingcheck.model import (
    EdgeShape,
    HingeSet,
    LeafLayout,
    Lock,
    Opening,
    Scene,
    Slab,
    Stop,
    Swing,
    top_drop,
)

SIZES_OF: dict[tuple[str, Lean], tuple[str, ...]] = {
    ("opening.width", Lean.NONE): ("opening_width",),
    ("opening.rabbet.hinge", Lean.NONE): ("hinge_rabbet",),
    ("opening.rabbet.strike", Lean.NONE): ("strike_rabbet",),
    ("opening.rabbet.head", Lean.NONE): ("head_rabbet", "head_rabbet_strike"),
    ("opening.rabbet.head", Lean.TOP): ("head_rabbet",),
    ("opening.rabbet.head", Lean.BOTTOM): ("head_rabbet_strike",),
    ("opening.hinge_leg.twist", Lean.NONE): ("hinge_twist",),
    ("opening.strike_leg.twist", Lean.NONE): ("strike_twist",),
    ("stop.projection", Lean.NONE): ("projection",),
    ("slab.width", Lean.NONE): ("width",),
    ("slab.thickness", Lean.NONE): ("thickness",),
    ("slab.hinge_edge.bevel", Lean.NONE): ("hinge_bevel",),
    ("slab.strike_edge.bevel", Lean.NONE): ("strike_bevel",),
    ("hinge.open_width", Lean.NONE): ("open_width",),
    ("hinge.closed_gap", Lean.NONE): ("closed_gap",),
    ("hinge.leaf_thickness", Lean.NONE): ("leaf_thickness",),
    ("hinge.jamb.setbacks", Lean.NONE): ("jamb_setback",),
    ("hinge.jamb.depths", Lean.NONE): ("jamb_depth",),
    ("hinge.slab.setbacks", Lean.NONE): ("slab_setback",),
    ("hinge.slab.depths", Lean.NONE): ("slab_depth",),
}
"""What a plan can vary of a scene, and the sizes that each sets."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PlanSizes:
    """What a prismatic scene comes to in plan: (n,) float64 each, inches and radians."""

    opening_width: Floats
    hinge_plumb: Floats
    strike_plumb: Floats
    hinge_cross: Floats
    strike_cross: Floats
    hinge_twist: Floats
    strike_twist: Floats
    hinge_rabbet: Floats
    strike_rabbet: Floats
    head_rabbet: Floats
    head_rabbet_strike: Floats
    depth: Floats
    stock: Floats
    projection: Floats
    stop_width: Floats
    width: Floats
    thickness: Floats
    hinge_bevel: Floats
    strike_bevel: Floats
    open_width: Floats
    leaf_thickness: Floats
    closed_gap: Floats
    barrel: Floats
    jamb_setback: Floats
    jamb_depth: Floats
    slab_setback: Floats
    slab_depth: Floats

    def with_values(self, values: Mapping[str, Floats], count: int) -> PlanSizes:
        """Return ``count`` variants: these sizes, one variant, with some of them varied (n,)."""
        return PlanSizes(
            **{
                own.name: np.broadcast_to(values.get(own.name, getattr(self, own.name)), (count,))
                for own in fields(self)
            }
        )


#: What a plan takes in, or can leave out without harm. What else a scene has goes beyond it.
_SHOWN: dict[type, str] = {
    Scene: (
        "title unit hinges_on opening stop slab hinge lock floor casing obstacles swing shop site"
        " wanted season finish assumed"
    ),
    Opening: "width height rabbet depth thickness hinge_leg strike_leg",
    Slab: (
        "width height thickness hinge_edge strike_edge head_margin material construction grain"
        " delivered"
    ),
    HingeSet: (
        "leaf_length open_width leaf_thickness closed_gap barrel corner_radius screw_proud jamb"
        " slab"
    ),
    LeafLayout: "tops setbacks depths",
    Lock: "backset bore edge_bore height face_length face_width face_depth throw deadbolt",
    Stop: "projection width",
    Swing: "start wanted limit seat",
}


def beyond_plan(value: Any) -> str:
    """Return what of a scene, or of a part of it, goes beyond a plan; empty where nothing does."""
    if type(value) not in _SHOWN:
        return ""
    shown = set(_SHOWN[type(value)].split())
    found = []
    for own in fields(value):
        part = getattr(value, own.name)
        if own.name in shown:
            found.append(beyond_plan(part))
        elif own.compare and part != own.default:
            found.append(f"its {own.name.replace('_', ' ')}")
    return ", ".join(filter(None, found))


def why_not_prismatic(scene: Scene) -> str:
    """Return what keeps a scene from being answered in plan, in trade words; empty when it can."""
    opening, slab, hinge, floor = scene.opening, scene.slab, scene.hinge, scene.floor
    legs = (opening.hinge_leg, opening.strike_leg)
    stations = [opening.width, slab.width, opening.rabbet.hinge, opening.rabbet.strike]
    stations += [part for leg in legs for part in (leg.plumb, leg.cross, leg.twist)]
    layouts = [(side.setbacks, side.depths) for side in (hinge.jamb, hinge.slab)]
    tops = zip(hinge.jamb.tops, hinge.slab.tops, strict=True)
    shapes = (slab.hinge_edge.shape, slab.strike_edge.shape)
    reasons = {
        "the slab hangs on pivots": scene.pivot is not None,
        "the hinges' leaves are not half the open width, or cranked": not hinge.is_flat,
        "the slab rises as it opens": hinge.rise != 0.0,
        "the slab swings both ways": scene.swing.both_ways,
        "it is a pair": scene.inactive is not None,
        "it is a Dutch door": scene.lower is not None,
        "another opening's slab swings in the same room": bool(scene.neighbours),
        "a measurement differs from top to bottom": any(len(set(s)) > 1 for s in stations),
        "the hinges are not let in alike": any(len(set(v)) > 1 for pair in layouts for v in pair),
        "the leaves of a hinge do not stand at one height": any(
            abs(jamb - own - top_drop(opening, slab)) > 1e-9 for jamb, own in tops
        ),
        "the head or the slab's top is not level": len({*opening.height}) > 1
        or len({*slab.height}) > 1
        or len(opening.rabbet.head) > 2,
        "the slab touches the head": slab.head_margin <= 0,
        "the floor is not level or touches the slab": bool(floor.across or floor.out)
        or bool(floor.profile)
        or slab_bottom(scene) <= floor.covering,
        "an edge is round": EdgeShape.RADIUS in shapes,
        "screw heads stand proud": hinge.screw_proud > 0,
        "something stands in the room": bool(scene.obstacles),
        "closing starts from beyond 90 degrees": scene.swing.start > pi / 2 + 1e-9,
        f"a plan does not show {beyond_plan(scene)}": bool(beyond_plan(scene)),
        "it has to open farther than closing starts": scene.swing.wanted > scene.swing.start + 1e-9,
    }
    return next((reason for reason, found in reasons.items() if found), "")


def plan_sizes(scene: Scene) -> PlanSizes:
    """Return a prismatic scene's sizes in plan, one variant.

    Raises ValueError where the scene is not prismatic.
    """
    reason = why_not_prismatic(scene)
    if reason:
        raise ValueError(f"not to be answered in plan: {reason}")
    opening, slab, hinge, stop = scene.opening, scene.slab, scene.hinge, scene.stop
    sizes = {
        "opening_width": opening.width[0],
        "hinge_plumb": opening.hinge_leg.plumb[0],
        "strike_plumb": opening.strike_leg.plumb[0]
        if len(opening.width) == 1
        else -opening.hinge_leg.plumb[0],
        "hinge_cross": opening.hinge_leg.cross[0],
        "strike_cross": opening.strike_leg.cross[0],
        "hinge_twist": opening.hinge_leg.twist[0],
        "strike_twist": opening.strike_leg.twist[0],
        "hinge_rabbet": opening.rabbet.hinge[0],
        "strike_rabbet": opening.rabbet.strike[0],
        "head_rabbet": opening.rabbet.head[0],
        "head_rabbet_strike": opening.rabbet.head[-1],
        "depth": opening.depth,
        "stock": opening.thickness,
        "projection": stop.projection if stop else 0.0,
        "stop_width": stop.width if stop else 0.0,
        "width": slab.width[0],
        "thickness": slab.thickness,
        "hinge_bevel": slab.hinge_edge.bevel,
        "strike_bevel": slab.strike_edge.bevel,
        "open_width": hinge.open_width,
        "leaf_thickness": hinge.leaf_thickness,
        "closed_gap": hinge.closed_gap,
        "barrel": hinge.barrel,
        "jamb_setback": hinge.jamb.setbacks[0],
        "jamb_depth": hinge.jamb.depths[0],
        "slab_setback": hinge.slab.setbacks[0],
        "slab_depth": hinge.slab.depths[0],
    }
    return PlanSizes(**{name: np.array([float(value)]) for name, value in sizes.items()})
