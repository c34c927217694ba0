"""Openings of every crookedness, hung so near to failing that draws of them come out either way."""

from __future__ import annotations

from math import radians

from swingcheck.chance.batches import change_order
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.tolerances import Draws, tolerances
from swingcheck.geometry.solid import Floats
from swingcheck.model import Floor, Leg, Rabbet, Scene
from tests.factory import CASING, LOCK, SQUARE, bevel, plain_scene

CROSSED = Leg(cross=(0.0, 0.0625, 0.125))
BOWED = Leg(plumb=(0.0, 0.05, 0.0), cross=(0.0, -0.03, 0.0))
TWISTED = Leg(twist=(radians(0.5), radians(0.8)))
TWISTED_ALL = Leg(twist=(radians(1.5), radians(1.85), radians(1.7)))

PLUMB = {
    "plumb, near the hinge stop": plain_scene(hinge__slab__setbacks=(0.312,) * 3),
    "plumb, near the strike leg": plain_scene(slab__strike_edge=SQUARE, slab__width=(29.972,)),
    "a lock and casing": plain_scene(
        lock=LOCK, casing=CASING, hinge__slab__setbacks=(0.312,) * 3, slab__width=(29.9,)
    ),
    "a sloped floor": plain_scene(floor=Floor(across=0.004), hinge__slab__setbacks=(0.312,) * 3),
}
CROOKED = {
    "hinge leg crossed": plain_scene(
        opening__hinge_leg=CROSSED, hinge__slab__setbacks=(0.285, 0.29, 0.295)
    ),
    "strike leg crossed": plain_scene(
        opening__strike_leg=Leg(cross=(0.0, 0.04, 0.14)), slab__width=(29.88,)
    ),
    "legs bowed": plain_scene(
        opening__hinge_leg=BOWED, hinge__slab__setbacks=(0.3,) * 3, slab__width=(29.85,)
    ),
    "hinge leg twisted": plain_scene(
        opening__hinge_leg=TWISTED, slab__hinge_edge=SQUARE, hinge__slab__setbacks=(0.3,) * 3
    ),
    "bound on a twisted leg": plain_scene(
        opening__hinge_leg=TWISTED_ALL,
        slab__hinge_edge=SQUARE,
        slab__width=(29.7,),
        hinge__slab__setbacks=(0.22,) * 3,
    ),
    "strike leg twisted": plain_scene(
        opening__strike_leg=Leg(twist=(radians(1.0), radians(0.2))),
        slab__strike_edge=bevel(0.5),
        slab__width=(29.99,),
    ),
    "tapered, read at three heights": plain_scene(
        opening__width=(30.1, 30.15, 30.2),
        slab__width=(29.97, 30.0, 30.03),
        slab__strike_edge=bevel(0.5),
        opening__strike_leg=Leg(cross=(0.02, 0.0, -0.01)),
    ),
    "leaves let in unlike": plain_scene(
        hinge__slab__setbacks=(0.31, 0.28, 0.25),
        hinge__jamb__depths=(0.097, 0.11, 0.097),
        opening__rabbet=Rabbet(hinge=(1.4375, 1.42, 1.45), strike=(1.44, 1.43), head=(1.44, 1.44)),
    ),
}
SCENES: dict[str, Scene] = {**PLUMB, **CROOKED}


def drawn(scene: Scene, count: int, seed: int = 3) -> tuple[tuple[Measurement, ...], Floats]:
    """Return what is held at the bench, and random values (count, d) of it."""
    draws = Draws(scene=scene, held=tolerances(scene), seed=seed, count=count)
    held = tuple(each.measurement for each in draws.held)
    order = change_order(scene, held)
    return tuple(held[k] for k in order), draws.values[:, order]
