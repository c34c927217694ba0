"""The whole assembly of a scene."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from swingcheck.assembly.build import barrel_parts, jamb_leaf_parts, slab_parts
from swingcheck.assembly.frame import frame_parts
from swingcheck.assembly.hang import hang
from swingcheck.assembly.parts import Assembly, Other, Part
from swingcheck.assembly.second_slab import let_in, other_slabs
from swingcheck.model import Scene


def assemble(scene: Scene) -> Assembly:
    """Return the scene's solids, the slab closed, and the line its pins make.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of a part.
    """
    hung = hang(scene)
    rotation, shift = hung.place[:, :3], hung.place[:, 3]
    others = other_slabs(scene)
    return Assembly(
        scene=scene,
        moving=tuple(
            replace(part, solid=part.solid.moved(rotation, shift)) for part in slab_parts(scene)
        ),
        fixed=(
            *let_in(scene, frame_parts(scene)),
            *jamb_leaf_parts(scene),
            *closed_parts(others),
        ),
        barrels=(
            *barrel_parts(scene, hung),
            *(barrel for other in others for barrel in _unnumbered(other)),
        ),
        axis=hung.axis,
        place=hung.place,
        jamb_pins=hung.jamb_pins,
        slab_pins=hung.slab_pins,
        others=others,
    )


def closed_parts(others: Sequence[Other]) -> tuple[Part, ...]:
    """Return the other slabs, closed, with what stands still about them."""
    return tuple(
        part for other in others for part in (*other.assembly.moving, *other.assembly.fixed)
    )


def _unnumbered(other: Other) -> tuple[Part, ...]:
    """Return another slab's barrels under its name; only this slab's hinges are numbered."""
    return tuple(
        replace(barrel, name=f"{other.name}'s {barrel.name}", hinge=None)
        for barrel in other.assembly.barrels
    )
