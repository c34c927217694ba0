"""A slab, with what is fitted to it, as convex pieces: what meets another slab that swings too.

Mortises and bores are filled and leaves left out: they lie within the slab, or
by its own pin.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly.parts import Assembly, Other, PartKind
from swingcheck.assembly.rebates import arch_waste, lip_back, lip_rebates
from swingcheck.assembly.second_slab import rebate_tool
from swingcheck.assembly.slab import slab_blank
from swingcheck.geometry.booleans import cut, hull
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import box
from swingcheck.model import MeetingRebate, Relation, Scene, Slab

#: A hull that is larger than its solid by no more than this share is its solid.
SAME = 1e-9

_LEAVES = (PartKind.SLAB_LEAF, PartKind.OTHER_LEAF)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pieces:
    """Convex solids, closed, in the opening's frame; ``fills`` where they fill a hollow too."""

    solids: tuple[Solid, ...]
    fills: bool


def slab_pieces(assembly: Assembly) -> Pieces:
    """Return the pieces of the slab that is looked at.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of the slab.
    """
    return _pieces(assembly, None)


def other_pieces(scene: Scene, other: Other) -> Pieces:
    """Return the pieces of another slab of a scene.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of the slab.
    """
    if other.relation is Relation.INACTIVE and scene.inactive is not None:
        return _pieces(other.assembly, scene.inactive.rebate)
    return _pieces(other.assembly, None)


def _pieces(assembly: Assembly, rebate: MeetingRebate | None) -> Pieces:
    own = [_placed(solid, assembly.place) for solid in _slab_prisms(assembly.scene.slab, rebate)]
    fitted = [part.solid for part in assembly.moving[1:] if part.kind not in _LEAVES]
    solids = [*own, *fitted]
    hulls = [hull("slab", solid) for solid in solids]
    fills = any(
        convex.volume > solid.volume * (1 + SAME)
        for convex, solid in zip(hulls, solids, strict=True)
    )
    return Pieces(solids=tuple(hulls), fills=fills)


def _slab_prisms(slab: Slab, rebate: MeetingRebate | None) -> list[Solid]:
    """Return the slab without its mortises and bores, parted where it is stepped."""
    waste = [*lip_rebates(slab), *arch_waste(slab)]
    steps = [] if slab.lip is None else [lip_back(slab)]
    if rebate is not None:
        waste.append(rebate_tool(slab, rebate))
        steps.append(-rebate.depth)
    solids = [cut("slab", slab_blank(slab), waste)]
    for step in steps:
        solids = [half for solid in solids for half in _parted(solid, step)]
    return solids


def _parted(solid: Solid, y: float) -> list[Solid]:
    """Return what of a solid is on either side of a plane parallel to its faces."""
    low, high = solid.bounds
    if not low[1] < y < high[1]:
        return [solid]
    beyond = np.array([1.0, 1.0, 1.0])
    front = box("slab", [low[0] - 1, y, low[2] - 1], high + beyond)
    back = box("slab", low - beyond, [high[0] + 1, y, high[2] + 1])
    return [cut("slab", solid, [front]), cut("slab", solid, [back])]


def _placed(solid: Solid, place: Floats) -> Solid:
    moved = solid.moved(place[:, :3], place[:, 3])
    mirrors = float(np.linalg.det(place[:, :3])) < 0
    return Solid(moved.vertices, moved.faces[:, ::-1]) if mirrors else moved
