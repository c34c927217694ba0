"""The whole assembly of a scene."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from swingcheck.assembly.axis import closed_place, pin_line
from swingcheck.assembly.frame import frame_parts
from swingcheck.assembly.leaves import (
    barrel_solid,
    jamb_leaf_solid,
    jamb_pin,
    slab_leaf_solid,
    slab_pin,
)
from swingcheck.assembly.parts import Assembly, Axis, Part, PartKind
from swingcheck.assembly.slab import slab_solid
from swingcheck.model import Scene


def assemble(scene: Scene) -> Assembly:
    """Return the scene's solids, the slab closed, and the line its pins make.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of a part.
    """
    hinges = range(scene.hinge.count)
    jamb_pins = np.array([jamb_pin(scene, k) for k in hinges])
    slab_pins = np.array([slab_pin(scene, k) for k in hinges])
    axis = pin_line(jamb_pins)
    place = closed_place(scene, axis, pin_line(slab_pins))
    rotation, shift = place[:, :3], place[:, 3]
    return Assembly(
        scene=scene,
        moving=tuple(
            replace(part, solid=part.solid.moved(rotation, shift)) for part in slab_parts(scene)
        ),
        fixed=(*frame_parts(scene), *jamb_leaf_parts(scene)),
        barrels=tuple(_barrel(scene, axis, float(jamb_pins[k, 2]), k) for k in hinges),
        axis=axis,
        place=place,
        jamb_pins=jamb_pins,
        slab_pins=slab_pins @ rotation.T + shift,
    )


def slab_parts(scene: Scene) -> list[Part]:
    """Return the slab and its leaves, slab frame."""
    parts = [Part(name="slab", kind=PartKind.SLAB, solid=slab_solid(scene))]
    for k in range(scene.hinge.count):
        name = f"slab leaf of {hinge_name(scene, k)}"
        solid = slab_leaf_solid(scene, k)
        parts.append(Part(name=name, kind=PartKind.SLAB_LEAF, solid=solid, hinge=k))
    return parts


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


def _barrel(scene: Scene, axis: Axis, height: float, k: int) -> Part:
    pin = axis.point + axis.direction * ((height - axis.point[2]) / axis.direction[2])
    solid = barrel_solid(scene, pin, axis.direction, scene.hinge.leaf_length)
    name = f"barrel of {hinge_name(scene, k)}"
    return Part(name=name, kind=PartKind.BARREL, solid=solid, hinge=k)


def hinge_name(scene: Scene, k: int) -> str:
    """Return what a person calls hinge ``k``, counted from the top."""
    last = scene.hinge.count - 1
    if k == 0:
        return "the top hinge"
    if k == last:
        return "the bottom hinge"
    return "the middle hinge" if last == 2 else f"hinge {k + 1} from the top"
