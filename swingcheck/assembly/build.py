"""What a slab hangs as and on: the slab with its leaves, the jamb's leaves, the barrels."""

from __future__ import annotations

from swingcheck.assembly.fitted import fitted_parts
from swingcheck.assembly.hang import Hang
from swingcheck.assembly.leaves import (
    barrel_solid,
    jamb_leaf_solid,
    slab_leaf_solid,
)
from swingcheck.assembly.parts import Axis, Part, PartKind
from swingcheck.assembly.slab import slab_solid
from swingcheck.geometry.solids import cylinder
from swingcheck.model import Scene

#: How far a top pivot's pin is drawn into the head, inches.
PIVOT_LET_IN = 0.5


def slab_parts(scene: Scene) -> list[Part]:
    """Return the slab, its leaves and what is fitted to it, slab frame."""
    parts = [Part(name="slab", kind=PartKind.SLAB, solid=slab_solid(scene))]
    for k in range(scene.hinge.count):
        name = f"slab leaf of {hinge_name(scene, k)}"
        solid = slab_leaf_solid(scene, k)
        parts.append(Part(name=name, kind=PartKind.SLAB_LEAF, solid=solid, hinge=k))
    return parts + fitted_parts(scene)


def jamb_leaf_parts(scene: Scene) -> list[Part]:
    """Return the jamb's leaves, opening frame."""
    return [
        Part(
            name=f"jamb leaf of {hinge_name(scene, k)}",
            kind=PartKind.JAMB_LEAF,
            solid=jamb_leaf_solid(scene, k),
            hinge=k,
        )
        for k in range(scene.hinge.count)
    ]


def barrel_parts(scene: Scene, hung: Hang) -> tuple[Part, ...]:
    """Return the barrels, or the pivots' pins above and below the slab, opening frame."""
    if scene.pivot is not None:
        return _pivot_pins(scene, hung, scene.pivot.pin)
    return tuple(
        _barrel(scene, hung.axis, float(pin[2]), k) for k, pin in enumerate(hung.jamb_pins)
    )


def _barrel(scene: Scene, axis: Axis, height: float, k: int) -> Part:
    solid = barrel_solid(scene, axis.at(height), axis.direction, scene.hinge.leaf_length)
    name = f"barrel of {hinge_name(scene, k)}"
    return Part(name=name, kind=PartKind.BARREL, solid=solid, hinge=k)


def _pivot_pins(scene: Scene, hung: Hang, diameter: float) -> tuple[Part, ...]:
    axis = hung.axis
    top, bottom = hung.slab_pins[:, 2]
    head = scene.opening.height[0] + PIVOT_LET_IN
    spans = {"top pivot": (top, head), "bottom pivot": (0.0, bottom)}
    parts = []
    for k, (name, (low, high)) in enumerate(spans.items()):
        if high - low > 1e-6:
            solid = cylinder(name, axis.at(low), axis.at(high), diameter / 2)
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
