"""One slab of two as a scene of its own: a pair's inactive one, a Dutch door's lower one."""

from __future__ import annotations

from dataclasses import replace

from swingcheck.model.hinge import HingeSet, PivotSet
from swingcheck.model.scene import Scene
from swingcheck.model.second_slab import seen_from_strike
from swingcheck.model.slab import Edge, EdgeShape, Slab


def inactive_scene(scene: Scene) -> tuple[Scene, float]:
    """Return a pair's opening as its inactive slab hangs in it, and where it is mirrored.

    Raises
    ------
    ValueError
        Where the scene is no pair.
    """
    own = scene.inactive
    if own is None:
        raise ValueError("there is no inactive slab")
    seen, mirror = seen_from_strike(scene.opening)
    slab = own.slab
    if own.rebate is not None:
        slab = replace(slab, strike_edge=Edge(shape=EdgeShape.SQUARE))
    hung = _alone(scene, slab, own.hinge, own.pivot)
    on = {"left": "right", "right": "left"}[scene.hinges_on]
    return replace(hung, opening=seen, hinges_on=on), mirror


def lower_scene(scene: Scene) -> Scene:
    """Return a Dutch door's opening with its lower slab alone.

    Raises
    ------
    ValueError
        Where the scene is no Dutch door.
    """
    own = scene.lower
    if own is None:
        raise ValueError("there is no lower slab")
    return _alone(scene, own.slab, own.hinge, own.pivot)


def _alone(scene: Scene, slab: Slab, hinge: HingeSet, pivot: PivotSet | None) -> Scene:
    return replace(
        scene,
        slab=slab,
        hinge=hinge,
        pivot=pivot,
        lock=None,
        inactive=None,
        lower=None,
        neighbours=(),
    )
