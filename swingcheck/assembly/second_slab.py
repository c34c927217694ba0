"""Further slabs beside the one that is looked at, closed, in its opening's frame."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import cos, sin

import numpy as np

from swingcheck.assembly.drafts import Pattern
from swingcheck.assembly.fitted import slab_parts
from swingcheck.assembly.frame import leaf_mortises
from swingcheck.assembly.hang import hang
from swingcheck.assembly.leaves import jamb_leaf_parts
from swingcheck.assembly.parts import Assembly, Axis, Hang, Other, Part, PartKind
from swingcheck.assembly.room import casing_parts
from swingcheck.geometry.booleans import cut
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import box, loft
from swingcheck.model import (
    MeetingRebate,
    Neighbour,
    Relation,
    Scene,
    Shelf,
    Slab,
    inactive_scene,
    lower_scene,
)

#: How far past the slab a cut's tool runs, inches.
_BEYOND = 1.0

_KINDS = {
    Relation.INACTIVE: PartKind.INACTIVE,
    Relation.LOWER: PartKind.LOWER,
    Relation.NEIGHBOUR: PartKind.NEIGHBOUR,
}


def other_slabs(scene: Scene, *, bare: bool = False) -> tuple[Other, ...]:
    """Return the further slabs of a scene: a pair's, a Dutch door's, and its neighbours'.

    ``bare`` leaves out their solids. Raises GeometryError where the sizes leave nothing of
    a part.
    """
    return tuple(_others(scene, bare))


def _others(scene: Scene, bare: bool) -> Iterator[Other]:
    if scene.inactive is not None:
        own, frame = _mirrored(scene)
        yield _other("inactive slab", Relation.INACTIVE, own, frame, scene, bare)
    if scene.lower is not None:
        frame = np.eye(4)[:3]
        yield _other("lower slab", Relation.LOWER, lower_scene(scene), frame, scene, bare)
    for neighbour in scene.neighbours:
        frame = neighbour_frame(scene, neighbour)
        yield _other(neighbour.name, Relation.NEIGHBOUR, neighbour.scene, frame, scene, bare)


def neighbour_frame(scene: Scene, neighbour: Neighbour) -> Floats:
    """Return the (3, 4) matrix from a neighbour's opening frame to this opening's.

    Of two openings hinged on opposite hands one frame is the other's mirror
    image: as built, the pull side is to the left of the way from hinge leg to
    strike leg on one hand, and to the right on the other.
    """
    c, s = cos(neighbour.turn), sin(neighbour.turn)
    hand = 1.0 if neighbour.scene.hinges_on == scene.hinges_on else -1.0
    turn = np.array([[c, -hand * s, 0.0], [s, hand * c, 0.0], [0.0, 0.0, 1.0]])
    return np.column_stack([turn, [neighbour.across, neighbour.out, 0.0]])


def _other(
    name: str, relation: Relation, own: Scene, frame: Floats, scene: Scene, bare: bool
) -> Other:
    hung = hang(own)
    moving = () if bare else _moving_parts(name, relation, own, scene, hung)
    fixed = () if bare else _fixed_parts(name, relation, own)
    assembly = hung.assembly(own, moving=moving, fixed=fixed)
    return Other(name=name, relation=relation, frame=frame, assembly=placed(assembly, frame))


def _moving_parts(
    name: str, relation: Relation, own: Scene, scene: Scene, hung: Hang
) -> tuple[Part, ...]:
    parts = list(slab_parts(own))
    if relation is Relation.INACTIVE and scene.inactive and scene.inactive.rebate:
        solid = cut(name, parts[0].solid, [rebate_tool(own.slab, scene.inactive.rebate)])
        parts[0] = replace(parts[0], solid=solid)
    if relation is Relation.LOWER and scene.lower and scene.lower.shelf:
        solid = shelf_solid(own.slab, scene.lower.shelf)
        parts.append(Part(name="shelf", kind=PartKind.SHELF, solid=solid))
    return tuple(_named(part, name, relation) for part in hung.closed(parts))


def _named(part: Part, name: str, relation: Relation) -> Part:
    """Return another slab's part under the other's name, of its kind."""
    if part.kind is PartKind.SHELF:
        return part
    if part.kind is PartKind.SLAB:
        own = f"{name}'s slab" if relation is Relation.NEIGHBOUR else name
        return replace(part, name=own, kind=_KINDS[relation])
    is_leaf = part.kind in (PartKind.SLAB_LEAF, PartKind.JAMB_LEAF)
    kind = PartKind.OTHER_LEAF if is_leaf else _KINDS[relation]
    if part.kind is PartKind.CASING:
        kind = PartKind.CASING
    return replace(part, name=f"{name}'s {part.name}", kind=kind, hinge=None)


def _fixed_parts(name: str, relation: Relation, own: Scene) -> tuple[Part, ...]:
    """Return what of another opening stands still in this one's way: leaves, and its casing."""
    parts = list(jamb_leaf_parts(own))
    if relation is Relation.NEIGHBOUR:
        parts += casing_parts(own)
    return tuple(_named(part, name, relation) for part in parts)


def rebate_tool(slab: Slab, rebate: MeetingRebate) -> Solid:
    """Return what a rebate takes off the strike edge's wide face, slab frame."""
    last = max(len(slab.width) - 1, 1)
    heights = [slab.height[1] * k / last for k in range(last + 1)]
    heights[0], heights[-1] = -_BEYOND, max(slab.height) + _BEYOND
    widths = list(reversed(slab.width)) if len(slab.width) > 1 else list(slab.width) * 2
    rings = [
        [
            (width - rebate.width, -rebate.depth, z),
            (width + _BEYOND, -rebate.depth, z),
            (width + _BEYOND, _BEYOND, z),
            (width - rebate.width, _BEYOND, z),
        ]
        for width, z in zip(widths, heights, strict=True)
    ]
    return loft("meeting rebate", np.array(rings))


def shelf_solid(slab: Slab, shelf: Shelf) -> Solid:
    """Return the shelf on a slab's top, slab frame."""
    top = max(slab.height)
    low = (shelf.ends, -slab.thickness - shelf.push, top)
    high = (slab.width[0] - shelf.ends, shelf.pull, top + shelf.thickness)
    return box("shelf", low, high)


def placed_solid(solid: Solid, frame: Floats) -> Solid:
    """Return a solid moved into another frame, by a (3, 4) matrix that may mirror it."""
    moved = solid.moved(frame[:, :3], frame[:, 3])
    mirrors = float(np.linalg.det(frame[:, :3])) < 0
    return Solid(moved.vertices, moved.faces[:, ::-1]) if mirrors else moved


def placed(assembly: Assembly, frame: Floats) -> Assembly:
    """Return an assembly moved into another frame, by a (3, 4) matrix that may mirror it."""
    turn, shift = frame[:, :3], frame[:, 3]

    def parts(own: tuple[Part, ...]) -> tuple[Part, ...]:
        return tuple(replace(part, solid=placed_solid(part.solid, frame)) for part in own)

    axis, way = assembly.axis, -1.0 if float(np.linalg.det(turn)) < 0 else 1.0
    place = np.column_stack([turn @ assembly.place[:, :3], turn @ assembly.place[:, 3] + shift])
    return replace(
        assembly,
        moving=parts(assembly.moving),
        fixed=parts(assembly.fixed),
        axis=Axis(
            point=turn @ axis.point + shift,
            direction=way * (turn @ axis.direction),
            rise=way * axis.rise,
        ),
        place=place,
        jamb_pins=assembly.jamb_pins @ turn.T + shift,
        slab_pins=assembly.slab_pins @ turn.T + shift,
    )


def let_in(scene: Scene, parts: Iterable[Part]) -> tuple[Part, ...]:
    """Return the frame's parts with the mortises of the other slabs' jamb leaves cut in."""
    tools: dict[PartKind, list[Solid]] = {}
    if scene.inactive is not None:
        own, frame = _mirrored(scene)
        tools[PartKind.STRIKE_LEG] = [placed_solid(tool, frame) for tool in _mortises(own)]
    if scene.lower is not None:
        tools[PartKind.HINGE_LEG] = _mortises(lower_scene(scene))
    return tuple(
        replace(part, solid=cut(part.name, part.solid, tools[part.kind]))
        if part.kind in tools
        else part
        for part in parts
    )


def _mortises(own: Scene) -> list[Solid]:
    return [tool.solid() for tool in leaf_mortises(own, Pattern())]


def _mirrored(scene: Scene) -> tuple[Scene, Floats]:
    """Return a pair's opening as its inactive slab hangs in it, and that frame's (3, 4) matrix."""
    own, mirror = inactive_scene(scene)
    return own, np.column_stack([np.diag([-1.0, 1.0, 1.0]), [mirror, 0.0, 0.0]])
