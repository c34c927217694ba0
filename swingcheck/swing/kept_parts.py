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

from swingcheck.assembly import Assembly, Part
from swingcheck.assembly.assemble import closed_parts
from swingcheck.assembly.fitted import slab_parts
from swingcheck.assembly.frame import jamb_parts, stop_parts
from swingcheck.assembly.ground import ground_parts
from swingcheck.assembly.hang import hang
from swingcheck.assembly.leaves import jamb_leaf_parts
from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.room import room_parts
from swingcheck.assembly.second_slab import other_slabs
from swingcheck.assembly.slab import slab_bottom
from swingcheck.geometry.features import Features, features
from swingcheck.model import LeafLayout, Rabbet, Scene
from swingcheck.swing.swung import Swung

_NO_LEAVES = LeafLayout(tops=(), setbacks=(), depths=())
_NO_RABBET = Rabbet(hinge=(), strike=(), head=())

#: How many makes of each part are kept, the latest used.
KEPT = 16

Built = tuple[tuple[Part, Features], ...]


class Variants:
    """Assembles scenes one after another and keeps the parts that they share."""

    def __init__(self) -> None:
        self._kept: dict[str, dict[Hashable, Built]] = {name: {} for name in _MAKES}

    def swung(self, scene: Scene) -> Swung:
        """Return the scene assembled, with the features of its parts.

        The same as assembling it afresh, to the rounding of the last digit.

        Raises
        ------
        GeometryError
            Where the sizes leave nothing of a part.
        """
        bare = bare_assembly(scene)
        rotation, shift = bare.place[:, :3], bare.place[:, 3]
        moving = self._made("slab", scene)
        fixed = [pair for name in _FIXED for pair in self._made(name, scene)]
        return Swung(
            assembly=replace(
                bare,
                moving=bare.closed(part for part, _ in moving),
                fixed=tuple(part for part, _ in fixed),
            ),
            moving=tuple(own.moved(rotation, shift) for _, own in moving),
            fixed=tuple(own for _, own in fixed),
        )

    def _made(self, name: str, scene: Scene) -> Built:
        make, needs = _MAKES[name]
        kept, key = self._kept[name], needs(scene)
        built = kept.pop(key, None)
        if built is None:
            built = tuple((part, features(part.solid)) for part in make(scene))
        kept[key] = built
        if len(kept) > KEPT:
            del kept[next(iter(kept))]
        return built


def bare_assembly(scene: Scene) -> Assembly:
    """Return the scene's pin line and closed place, without any of its parts."""
    return hang(scene).assembly(scene, others=other_slabs(scene, bare=True))


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


def _ground_needs(scene: Scene) -> Hashable:
    return _bare_opening(scene), scene.carpet, scene.threshold, _floor_needs(scene)


def _room_needs(scene: Scene) -> Hashable:
    stands = (scene.casing, scene.baseboard, scene.wall_return, scene.obstacles)
    return _bare_opening(scene), stands, _floor_needs(scene)


def _other_needs(scene: Scene) -> Hashable:
    if not (scene.inactive or scene.lower or scene.neighbours):
        return None
    hung = (scene.inactive, scene.lower, scene.neighbours)
    return scene.opening, scene.stop, scene.hinges_on, hung


_Make = tuple[Callable[[Scene], Iterable[Part]], Callable[[Scene], Hashable]]

_MAKES: dict[str, _Make] = {
    "slab": (slab_parts, _slab_needs),
    "jamb": (jamb_parts, _on_jamb_needs),
    "stops": (stop_parts, lambda scene: (scene.opening, scene.stop, _floor_needs(scene))),
    "ground": (ground_parts, _ground_needs),
    "room": (room_parts, _room_needs),
    "jamb leaves": (jamb_leaf_parts, _on_jamb_needs),
    "others": (lambda scene: closed_parts(other_slabs(scene)), _other_needs),
}

_FIXED = tuple(name for name in _MAKES if name != "slab")
