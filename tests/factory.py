"""Scenes built by hand for tests: one opening in plain numbers, and changes to it by name."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from math import radians, sqrt
from typing import Any

from swingcheck.model import (
    Arc,
    Casing,
    Edge,
    EdgeShape,
    Floor,
    HingeSet,
    LeafLayout,
    Leg,
    Lock,
    Opening,
    Rabbet,
    Scene,
    Shop,
    Site,
    Slab,
    Stop,
    Swing,
    arc_over,
    rise_of,
)

SQUARE = Edge()

LOCK = Lock(
    backset=2.375,
    bore=2.125,
    edge_bore=1.0,
    height=36.0,
    face_length=2.25,
    face_width=1.0,
    face_depth=0.125,
)

CASING = Casing(thickness=0.75, width=2.25, reveal=0.1875)


def bevel(degrees: float) -> Edge:
    """Return an edge that leans this far from square."""
    return Edge(shape=EdgeShape.BEVEL, bevel=radians(degrees))


def rounded(radius: float) -> Edge:
    """Return an edge rounded to this radius through the whole thickness."""
    return Edge(shape=EdgeShape.RADIUS, radius=radius)


EXACT = Shop(
    setback_tolerance=0.0,
    depth_tolerance=0.0,
    bevel_tolerance=0.0,
    rip_tolerance=0.0,
    measuring_tolerance=0.0,
)


def plain_scene(**changes: Any) -> Scene:
    """Return a linen closet with both legs plumb and square, changed by name.

    A name reaches inside with double underscores, one value for one field:
    ``plain_scene(slab__width=(30.0,), hinge__slab__setbacks=(0.25, 0.25, 0.25),
    opening__hinge_leg__twist=(radians(1.0),), stop=None, lock=LOCK)``.

    The axis stands in closed form at x = 1/32, y = 5/8 from the jamb; with
    ``slab__hinge_edge=SQUARE`` the hinge margin is 1/16, slab to hinge stop
    1/16, and the wide face is flush with the jamb's edge (y = 0).
    """
    scene = Scene(
        title="Linen closet",
        unit="in",
        hinges_on="left",
        opening=Opening(
            width=(30.125,),
            height=(80.5, 80.5),
            rabbet=Rabbet(hinge=(1.4375,), strike=(1.4375,), head=(1.4375, 1.4375)),
            depth=4.5625,
            thickness=0.75,
            hinge_leg=Leg(),
            strike_leg=Leg(),
        ),
        stop=Stop(projection=0.4375, width=1.25),
        slab=Slab(
            width=(29.875,),
            height=(79.75, 79.75),
            thickness=1.375,
            hinge_edge=bevel(2.0),
            strike_edge=bevel(2.0),
            head_margin=0.125,
            material="red oak",
            construction="solid",
        ),
        hinge=HingeSet(
            leaf_length=3.5,
            open_width=3.5,
            leaf_thickness=0.097,
            closed_gap=0.0625,
            barrel=0.44,
            corner_radius=0.625,
            screw_proud=0.0,
            jamb=LeafLayout(tops=(7.0, 37.75, 68.5), setbacks=(0.3125,) * 3, depths=(0.097,) * 3),
            slab=LeafLayout(
                tops=(6.875, 37.625, 68.375), setbacks=(0.25,) * 3, depths=(0.097,) * 3
            ),
        ),
        lock=None,
        floor=Floor(),
        casing=None,
        obstacles=(),
        swing=Swing(),
        shop=Shop(),
        site=Site(),
    )
    return changed(scene, **changes)


def square_scene(**changes: Any) -> Scene:
    """Return the same closet with square edges, changed by name."""
    return plain_scene(**{"slab__hinge_edge": SQUARE, "slab__strike_edge": SQUARE} | changes)


def under_arch(**changes: Any) -> tuple[Scene, Arc]:
    """Return the square closet under an arch of 6 in, 1/8 in off it all along, and the head's arc.

    The slab's arc has the head's centre; its hinge edge stands 1/16 in off the leg.
    """
    gap, width = 1 / 16, 29.875
    arc = arc_over((0.0, 80.5), (30.125, 80.5), 6.0)
    radius = arc.radius - 1 / 8
    sides = [arc.up + sqrt(radius**2 - (x - arc.across) ** 2) - 0.5 for x in (gap, gap + width)]
    shape = {
        "opening__arch": 6.0,
        "slab__height": (sides[0], sides[1]),
        "slab__arch": rise_of((0.0, sides[0]), (width, sides[1]), radius),
    }
    return square_scene(**shape | changes), arc


def linen_closet(**changes: Any) -> Scene:
    """Return the same closet with its hinge leg as measured: cross-legged and twisted."""
    measured = plain_scene(
        opening__hinge_leg=Leg(cross=(0.0, 0.0625, 0.125), twist=(radians(0.5),))
    )
    return changed(measured, **changes)


def changed(value: Any, **changes: Any) -> Any:
    """Return a frozen value with fields replaced; double underscores reach inside."""
    nested: dict[str, dict[str, Any]] = {}
    for name, new in changes.items():
        first, _, rest = name.partition("__")
        if first not in {field.name for field in fields(value)}:
            raise TypeError(f"{type(value).__name__} has no {first!r}")
        if rest:
            nested.setdefault(first, {})[rest] = new
        else:
            value = replace(value, **{first: new})
    for first, inner in nested.items():
        part = getattr(value, first)
        if not is_dataclass(part):
            raise TypeError(f"{first!r} holds no fields to change")
        value = replace(value, **{first: changed(part, **inner)})
    return value
