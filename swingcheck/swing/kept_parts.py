"""Scenes that differ in a few measurements, assembled without building every part again.

A part is made from some of the measurements and no others, and its convex
features do not depend on where it is placed. So whoever looks at one scene
after another keeps what was built, and builds only what a change reaches: for
another setback on the slab its mortises and leaves, for another head margin
nothing at all.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import replace
from typing import Any, TypeVar

from swingcheck.assembly import Part
from swingcheck.assembly.assemble import closed_parts
from swingcheck.assembly.fitted import slab_parts
from swingcheck.assembly.frame import jamb_parts, stop_parts
from swingcheck.assembly.ground import ground_parts
from swingcheck.assembly.hang import hang
from swingcheck.assembly.leaves import jamb_leaf_parts
from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.room import room_parts
from swingcheck.assembly.second_slab import let_in, other_slabs
from swingcheck.assembly.slab import slab_bottom
from swingcheck.geometry.features import Features, features_of
from swingcheck.model import LeafLayout, Rabbet, Scene, inactive_scene, lower_scene
from swingcheck.swing.swung import Swung

T = TypeVar("T")

_NO_LEAVES = LeafLayout(tops=(), setbacks=(), depths=())
_NO_RABBET = Rabbet(hinge=(), strike=(), head=())

#: How many makes of each part are kept, the latest used.
KEPT = 16

Built = tuple[tuple[Part, Features], ...]


class Variants:
    """Assembles scenes one after another and keeps the parts that they share."""

    def __init__(self) -> None:
        self._kept: dict[str, dict[Hashable, Any]] = {}

    def swung(self, scene: Scene) -> Swung:
        """Return the scene assembled, with the features of its parts.

        The same as assembling it afresh, to the rounding of the last digit. Raises
        GeometryError where the sizes leave nothing of a part.
        """
        others = self.once("others", _other_needs(scene), lambda: other_slabs(scene))
        hung = hang(scene)
        moving = self._built("slab", scene)
        beside = self.once("beside", others, lambda: _with_features(closed_parts(others)))
        fixed = [*(pair for name in _FIXED for pair in self._built(name, scene)), *beside]
        return Swung(
            assembly=hung.assembly(
                scene,
                moving=hung.closed(part for part, _ in moving),
                fixed=tuple(part for part, _ in fixed),
                others=others,
            ),
            moving=tuple(own.moved(hung.place[:, :3], hung.place[:, 3]) for _, own in moving),
            fixed=tuple(own for _, own in fixed),
        )

    def once(self, what: str, key: Hashable, make: Callable[[], T]) -> T:
        """Return what was made of a key before; else make it, and keep it with the latest."""
        kept = self._kept.setdefault(what, {})
        made: T = kept.pop(key) if key in kept else make()
        kept[key] = made
        if len(kept) > KEPT:
            del kept[next(iter(kept))]
        return made

    def _built(self, name: str, scene: Scene) -> Built:
        make, needs = _MAKES[name]
        return self.once(name, needs(scene), lambda: _with_features(make(scene)))


def _with_features(parts: Iterable[Part]) -> Built:
    built = tuple(parts)
    return tuple(zip(built, features_of([part.solid for part in built]), strict=True))


def _slab_needs(scene: Scene) -> Hashable:
    slab = scene.slab
    shape = replace(slab, head_margin=0.0, material="", construction="", delivered=None)
    bored_at = slab_bottom(scene) if scene.lock else 0.0
    return shape, replace(scene.hinge, jamb=_NO_LEAVES), scene.lock, bored_at


def _floor_needs(scene: Scene) -> Hashable:
    """Return what the floor's height anywhere is made from."""
    return scene.floor, scene.slab.width if scene.floor.profile else ()


def _bare_opening(scene: Scene) -> Hashable:
    """Return the opening but for how far in its stops stand."""
    rabbet = scene.opening.rabbet
    read_at = (len(rabbet.hinge), len(rabbet.strike))
    return replace(scene.opening, rabbet=_NO_RABBET), read_at


def _on_jamb_needs(scene: Scene) -> Hashable:
    """Return what the jamb and its leaves are made from.

    The leaves are measured from the stop: where it is moved away from leaves
    that stay, their own places are the same but for the last digit.
    """
    opening, hinge = scene.opening, scene.hinge
    sizes = replace(hinge, jamb=replace(hinge.jamb, setbacks=()), slab=_NO_LEAVES)
    edges = tuple(
        round(hinge_leg_plan(opening, opening.height[0] - top - down).rabbet - setback, 13)
        for top, setback in zip(hinge.jamb.tops, hinge.jamb.setbacks, strict=True)
        for down in (0.0, hinge.leaf_length / 2, hinge.leaf_length)
    )
    return _bare_opening(scene), sizes, edges, _floor_needs(scene)


def _room_needs(scene: Scene) -> Hashable:
    stands = (scene.casing, scene.baseboard, scene.wall_return, scene.obstacles)
    return _bare_opening(scene), stands, _floor_needs(scene)


def _other_needs(scene: Scene) -> Hashable:
    """Return what further slabs are made from: nothing of this slab and its hinges."""
    return (
        inactive_scene(scene) if scene.inactive else None,
        lower_scene(scene) if scene.lower else None,
        scene.neighbours,
        scene.hinges_on,
    )


_Make = tuple[Callable[[Scene], Iterable[Part]], Callable[[Scene], Hashable]]

_MAKES: dict[str, _Make] = {
    "slab": (slab_parts, _slab_needs),
    "jamb": (
        lambda scene: let_in(scene, jamb_parts(scene)),
        lambda scene: (_on_jamb_needs(scene), _other_needs(scene)),
    ),
    "stops": (stop_parts, lambda scene: (scene.opening, scene.stop, _floor_needs(scene))),
    "ground": (
        ground_parts,
        lambda scene: (_bare_opening(scene), scene.carpet, scene.threshold, _floor_needs(scene)),
    ),
    "room": (room_parts, _room_needs),
    "jamb leaves": (jamb_leaf_parts, _on_jamb_needs),
}

_FIXED = tuple(name for name in _MAKES if name != "slab")
