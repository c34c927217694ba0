"""A slab, with what is fitted to it, as convex pieces: what meets another slab that swings too.

Mortises and bores are filled and leaves left out: they lie within the slab, or
by its own pin.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly.parts import Assembly, PartKind
from swingcheck.assembly.rebates import arch_waste, lip_back, lip_rebates
from swingcheck.assembly.second_slab import placed_solid, rebate_tool
from swingcheck.assembly.slab import slab_blank
from swingcheck.geometry.booleans import cut, hull
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import box
from swingcheck.geometry.two_turns import Body
from swingcheck.model import MeetingRebate, Slab

SAME_VOLUME = 1e-9
"""A hull that is larger than its solid by no more than this share is its solid."""

_LEAVES = (PartKind.SLAB_LEAF, PartKind.OTHER_LEAF)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hulls:
    """Convex pieces, closed, in the opening's frame; ``fills`` where they fill a hollow too."""

    body: Body
    fills: bool


def slab_hulls(assembly: Assembly, rebate: MeetingRebate | None = None) -> Hulls:
    """Return the pieces of a slab, with the rebate that it takes another's lip in.

    Raises GeometryError where the sizes leave nothing of the slab.
    """
    own = [placed_solid(solid, assembly.place) for solid in _prisms(assembly.scene.slab, rebate)]
    fitted = [part.solid for part in assembly.moving[1:] if part.kind not in _LEAVES]
    solids = [*own, *fitted]
    hulls = tuple(hull("slab", solid) for solid in solids)
    grown = zip(hulls, solids, strict=True)
    axis = assembly.axis
    return Hulls(
        body=Body(pieces=hulls, point=axis.point, direction=axis.direction, rise=axis.rise),
        fills=any(full.volume > solid.volume * (1 + SAME_VOLUME) for full, solid in grown),
    )


def _prisms(slab: Slab, rebate: MeetingRebate | None) -> list[Solid]:
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
