"""A slab hung on pivots: where each side carries its pins, and the pins that are drawn."""

from __future__ import annotations

from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.parts import Hang, Part, PartKind
from swingcheck.geometry.sizes import points, variants
from swingcheck.geometry.solid import Floats
from swingcheck.geometry.solids import cylinder
from swingcheck.model import PivotSet, Scene

#: How far a top pivot's pin is drawn into the head, inches.
PIVOT_LET_IN = 0.5

#: A pin shorter than this is not drawn, inches.
_LEAST_PIN = 1e-6


def pivots_on_jamb(scene: Scene) -> Floats:
    """Return the pins (2, 3, n) at head and floor, off the hinge leg as it stands there."""
    pivot = _pivots(scene)
    pins = [
        (*hinge_leg_plan(scene.opening, z).at(-out, off), z)
        for z, off, out in zip((scene.opening.height[0], 0.0), pivot.leg, pivot.out, strict=True)
    ]
    return variants(points(pins), 2)


def pivots_on_slab(scene: Scene) -> Floats:
    """Return the pins (2, 3, n) at the slab's top and bottom, slab frame."""
    pivot = _pivots(scene)
    heights = (scene.slab.height[0], 0.0)
    pins = [(x, -y, z) for x, y, z in zip(pivot.edge, pivot.face, heights, strict=True)]
    return variants(points(pins), 2)


def pivot_pin_parts(scene: Scene, hung: Hang) -> tuple[Part, ...]:
    """Return the pins above and below the slab, opening frame."""
    axis, radius = hung.axis, _pivots(scene).pin / 2
    top, bottom = hung.slab_pins[:, 2]
    spans = {"top pivot": (top, scene.opening.height[0] + PIVOT_LET_IN)}
    spans["bottom pivot"] = (0.0, bottom)
    return tuple(
        Part(
            name=name,
            kind=PartKind.BARREL,
            solid=cylinder(name, axis.at(low), axis.at(high), radius),
            hinge=k,
        )
        for k, (name, (low, high)) in enumerate(spans.items())
        if high - low > _LEAST_PIN
    )


def _pivots(scene: Scene) -> PivotSet:
    assert scene.pivot is not None
    return scene.pivot
