"""Where a bolt meets the strike leg, and how far it stands into its strike."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from swingcheck.assembly import bare_assembly
from swingcheck.assembly.legs import strike_leg_plan
from swingcheck.assembly.slab import bore_centre
from swingcheck.assembly.warp import warp_at
from swingcheck.model import Deadbolt, Lock, Scene

LIP_PAST_IN = 1 / 8
"""How far a strike's lip stands past the jamb's edge, inches, at the least. From memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrikePlace:
    """Where the bolt meets the strike leg.

    ``up`` is from the floor and ``down`` from the head, at the leg;
    ``from_stop`` from the stop's face and ``from_edge`` from the leg's
    pull-side edge, along the leg's face; ``gap`` is from the slab's edge to
    the leg along the bolt, ``hold`` how far the bolt stands into the strike,
    ``lip`` the least strike lip, centre to end.
    """

    up: float
    down: float
    from_stop: float
    from_edge: float
    gap: float
    hold: float
    lip: float


def bolts(scene: Scene) -> dict[str, Lock]:
    """Return the latch and the deadbolt by name, each as a lock of its own; none without one."""
    lock = scene.lock
    if lock is None:
        return {}
    found = {"latch": lock}
    if lock.deadbolt is not None:
        own = {each.name: getattr(lock.deadbolt, each.name) for each in fields(Deadbolt)}
        up = lock.height + own.pop("above")
        found["deadbolt"] = replace(lock, deadbolt=None, height=up, **own)
    return found


def strike_place(scene: Scene, lock: Lock) -> StrikePlace:
    """Return where a lock's bolt meets the strike leg with the slab closed.

    The bolt's line is followed from the strike edge at mid-thickness to the
    leg's face, in plan at the height it has there.
    """
    hung, slab, opening = bare_assembly(scene), scene.slab, scene.opening
    across, _, z = bore_centre(scene, lock)
    x = float(across) + lock.backset
    edge = hung.placed(np.array([x, warp_at(slab, x, float(z)) - slab.thickness / 2, z]))
    along = hung.place[:, 0]
    leg, gap = strike_leg_plan(opening, float(edge[2])), 0.0
    for _ in range(4):
        gap = -float(leg.gap(edge[:2])) / float(along[:2] @ leg.normal)
        leg = strike_leg_plan(opening, float((edge + gap * along)[2]))
    met = edge + gap * along
    from_edge = float((met[:2] - leg.edge) @ leg.along)
    return StrikePlace(
        up=float(met[2]),
        down=float(opening.height[1] - met[2]),
        from_stop=float(leg.rabbet) - from_edge,
        from_edge=from_edge,
        gap=gap,
        hold=lock.throw - gap,
        lip=from_edge + LIP_PAST_IN,
    )
