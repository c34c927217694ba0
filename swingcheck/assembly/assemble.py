"""The whole assembly of a scene."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from swingcheck.assembly.drafts import Pattern, made
from swingcheck.assembly.fitted import slab_drafts
from swingcheck.assembly.frame import frame_drafts
from swingcheck.assembly.hang import hang, hanging
from swingcheck.assembly.leaves import jamb_leaf_drafts
from swingcheck.assembly.parts import Assembly, Other, Part
from swingcheck.assembly.second_slab import let_in, other_slabs
from swingcheck.model import Scene


def assemble(scene: Scene, pattern: Pattern | None = None) -> Assembly:
    """Return the scene's solids, the slab closed, and the line its pins make.

    ``pattern`` is what was settled for a scene that this is a variant of (:class:`Shape
    <swingcheck.assembly.Shape>`): its facets, for an answer to hold theirs to. Raises
    GeometryError where the sizes leave nothing of a part.
    """
    hung, others, pattern = hang(scene), other_slabs(scene), pattern or Pattern()
    return hung.assembly(
        scene,
        moving=hung.closed(made(slab_drafts(scene, pattern))),
        fixed=(
            *let_in(scene, made(frame_drafts(scene, pattern))),
            *made(jamb_leaf_drafts(scene, pattern)),
            *closed_parts(others),
        ),
        others=others,
    )


def bare_assembly(scene: Scene) -> Assembly:
    """Return the scene's pin line and closed place, without any of its solids: for margins."""
    return hang(scene).assembly(scene, others=other_slabs(scene, bare=True))


def closed_parts(others: Sequence[Other]) -> tuple[Part, ...]:
    """Return the other slabs, closed, with what stands still about them."""
    return tuple(
        part for other in others for part in (*other.assembly.moving, *other.assembly.fixed)
    )


def barrel_parts(assembly: Assembly) -> tuple[Part, ...]:
    """Return every slab's barrels, or pivots' pins, which are drawn and never collide.

    Another slab's stand under its name; only this slab's hinges are numbered.
    """
    return (
        *hanging(assembly.scene).barrels(assembly.scene, assembly),
        *(
            replace(barrel, name=f"{other.name}'s {barrel.name}", hinge=None)
            for other in assembly.others
            for barrel in barrel_parts(other.assembly)
        ),
    )
