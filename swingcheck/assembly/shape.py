"""Thousands of variants of one scene as corners: what they share, and where each corner stands.

A shape is what a scene and all its variants have in common: the parts, their
triangles, and what was settled as they were counted. Corners are
the numbers, for n variants at once; a single scene's are its assembly's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, NamedTuple

import numpy as np

from swingcheck.assembly.drafts import Draft, Pattern
from swingcheck.assembly.fitted import slab_drafts
from swingcheck.assembly.frame import frame_drafts
from swingcheck.assembly.hang import hang, hung_lines
from swingcheck.assembly.leaves import jamb_leaf_drafts, leaf_arm
from swingcheck.assembly.parts import Assembly, Part
from swingcheck.errors import GeometryError
from swingcheck.geometry.cutting import Record, holds, recorded, replayed
from swingcheck.geometry.sizes import variants
from swingcheck.geometry.solid import Bools, Floats, Ints, Solid
from swingcheck.geometry.solids import Mesh, Skin
from swingcheck.model import Scene

#: Heights nearer to each other than this are one, inches.
_SAME_HEIGHT = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ShapePart:
    """A part of every variant: which ``corners`` are its own, and how they are cut.

    Of all that the part has they are those that are ``picked``. ``own`` is
    the part of the shape's own scene, a moving one in the slab frame.
    """

    own: Part
    moves: bool
    corners: slice
    record: Record | None
    picked: Ints


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shape:
    """What a scene and its variants share.

    ``parts`` are first those that move, then the fixed ones, in the order of
    the assembly's; ``triangles`` (m, 3) are numbers of corners,
    counter-clockwise from outside, and ``corner_part`` (v,) those of parts.
    """

    scene: Scene
    pattern: Pattern
    parts: tuple[ShapePart, ...]
    triangles: Ints
    corner_part: Ints

    def thinned(self, corners: Ints, sure: Sequence[frozenset[int]]) -> Shape:
        """Return the shape with some of its corners alone, rising, and no triangles.

        ``sure`` tells of each part what of its cut is so in every variant.
        """
        none, parts = np.zeros((0, 3), dtype=np.int64), []
        for part, certain in zip(self.parts, sure, strict=True):
            low, high = np.searchsorted(corners, [part.corners.start, part.corners.stop]).tolist()
            picked = corners[low:high] - part.corners.start
            record = part.record and part.record.thinned(picked, certain)
            parts.append(replace(part, corners=slice(low, high), picked=picked, record=record))
        kept = self.corner_part[corners]
        return replace(self, parts=tuple(parts), triangles=none, corner_part=kept)


class Corners(NamedTuple):
    """Where everything of n variants stands, the slab closed, opening frame.

    ``points`` (v, 3, n) are the shape's corners, ``line`` (2, 3, n) a point
    and the direction of the pin line, ``place`` (3, 4, n) takes the slab frame
    to the opening frame. Where a variant is not ``built`` (n,), its sizes leave
    nothing of a part or make it another shape, and its numbers are the
    shape's own scene's. ``spare`` is what each part has to spare of what holds
    its cut, as far as that is not sure: :func:`.replayed`.
    """

    points: Floats
    line: Floats
    place: Floats
    built: Bools
    spare: list[list[Floats]]


def why_not_many(scene: Scene) -> tuple[str, ...]:
    """Return what of a scene is not built for many variants at once, none where all is."""
    slab, hinge, opening, lock = scene.slab, scene.hinge, scene.opening, scene.lock
    has = {
        "a lip": slab.lip,
        "a warp": slab.warp,
        "an arched slab": slab.arch,
        "an arched head": opening.arch,
        "a round edge": slab.hinge_edge.is_round or slab.strike_edge.is_round,
        "an astragal": slab.astragal,
        "something applied to the slab": slab.applied,
        "a glass bead": slab.glass and slab.glass.bead,
        "a handle": lock and lock.handle,
        "a steel frame": opening.steel,
        "screw heads": hinge.screw_proud > 0,
        "a cranked leaf": any(leaf_arm(hinge, on_slab=on) for on in (True, False)),
        "rising hinges": hinge.rise,
        "pivots": scene.pivot,
        "a floor profile": scene.floor.profile,
        "a carpet": scene.carpet,
        "a threshold": scene.threshold,
        "a pair": scene.inactive,
        "a Dutch door": scene.lower,
        "a neighbour": scene.neighbours,
    }
    return tuple(name for name, own in has.items() if own)


def hinges_alike(scene: Scene) -> bool:
    """Tell whether each hinge of a scene is any other at another height, in all its variants.

    They hang in one plumb line on a leg that is one all the way up, and nothing stands there that
    is not at every height.
    """
    opening, hinge = scene.opening, scene.hinge
    leg, projection = opening.hinge_leg, scene.stop.projection if scene.stop else 0.0
    read = (leg.plumb, leg.cross, leg.twist, opening.rabbet.hinge)
    let_in = [own for side in (hinge.jamb, hinge.slab) for own in (side.setbacks, side.depths)]
    tops = zip(hinge.jamb.tops, hinge.slab.tops, strict=True)
    apart = [jamb - own for jamb, own in tops]
    return (
        hinge.count > 1
        and all(len(own) == 1 for own in read)
        and not (scene.pivot or scene.obstacles or scene.baseboard or scene.wall_return)
        and all(np.array_equal(own[0], each) for own in let_in for each in own)
        and all(np.max(np.abs(each - apart[0])) < _SAME_HEIGHT for each in apart)
        and all(np.all(np.greater(own, projection)) for own in hinge.slab.tops)
    )


def with_one_hinge(scene: Scene) -> Scene:
    """Return a scene with one hinge of those that it has, which are alike."""
    hinge, k = scene.hinge, scene.hinge.count // 2
    jamb, slab = (
        replace(side, tops=side.tops[k:][:1], setbacks=side.setbacks[:1], depths=side.depths[:1])
        for side in (hinge.jamb, hinge.slab)
    )
    return replace(scene, hinge=replace(hinge, jamb=jamb, slab=slab))


def shape_of(scene: Scene, pattern: Pattern | None = None) -> Shape:
    """Return what a scene and its variants share.

    Parameters
    ----------
    scene : Scene
        The scene.
    pattern : Pattern, optional
        What was settled for a scene that this is a variant of.

    Raises
    ------
    GeometryError
        Where something of it is not built for many variants at once
        (:func:`why_not_many`), or the sizes leave nothing of a part.
    """
    lacking = why_not_many(scene)
    if lacking:
        raise GeometryError(lacking[0], "it is not built for many variants at once")
    pattern = pattern or Pattern()
    parts, start = [], 0
    for draft, moves in _drafts(scene, pattern):
        solid = draft.solid()
        record = None
        if draft.cut:
            record = recorded(draft.name, [each.solid() for each in _operands(draft)], solid)
        corners = slice(start, start + len(solid.vertices))
        start = corners.stop
        parts.append(
            ShapePart(
                own=Part(name=draft.name, kind=draft.kind, solid=solid, hinge=draft.hinge),
                moves=moves,
                corners=corners,
                record=record,
                picked=np.arange(len(solid.vertices)),
            )
        )
    solids = [part.own.solid for part in parts]
    each = [solid.faces + part.corners.start for solid, part in zip(solids, parts, strict=True)]
    return Shape(
        scene=scene,
        pattern=pattern,
        parts=tuple(parts),
        triangles=np.concatenate(each),
        corner_part=np.repeat(np.arange(len(parts)), [len(solid.vertices) for solid in solids]),
    )


def assembled(shape: Shape) -> Assembly:
    """Return the assembly of a shape's own scene."""
    hung = hang(shape.scene)
    moving, fixed = (
        tuple(part.own for part in shape.parts if part.moves is moves) for moves in (True, False)
    )
    return hung.assembly(shape.scene, moving=hung.closed(moving), fixed=fixed)


def _drafts(scene: Scene, pattern: Pattern) -> Iterator[tuple[Draft, bool]]:
    """Yield every part, and whether it moves."""
    for draft in slab_drafts(scene, pattern):
        yield draft, True
    for draft in (*frame_drafts(scene, pattern), *jamb_leaf_drafts(scene, pattern)):
        yield draft, False


def _operands(draft: Draft) -> list[Skin | Mesh]:
    return [each for each in (draft.skin, *draft.cut) if not isinstance(each, Solid)]


def corners_of(shape: Shape, scene: Scene) -> Corners:
    """Return where the corners of n variants stand.

    ``scene`` is the one whose ``shape`` it is, with an array (n,) for every number that
    differs. Raises GeometryError where a part cannot be built whatever its variants' sizes
    are.
    """
    count = _count(scene)
    built = np.ones(count, dtype=bool)
    while True:
        try:
            found = _corners(shape, scene, count)
        except GeometryError as error:
            lost = np.broadcast_to(error.rows, built.shape) & built
            if lost.all() or not lost.any():
                raise
            built &= ~lost
            scene = _replaced(scene, shape.scene, ~built)
        else:
            return found._replace(built=found.built & built)


def _corners(shape: Shape, scene: Scene, count: int) -> Corners:
    hung = hung_lines(scene)
    points = np.empty((len(shape.corner_part), 3, count))
    spare: list[list[Floats]] = []
    rotation, shift = variants(hung.place[:, :3], 2), variants(hung.place[:, 3], 1)
    for part, (draft, _) in zip(shape.parts, _drafts(scene, shape.pattern), strict=True):
        own, held = [skin.corners for skin in _operands(draft)], list[Floats]()
        made = own[0]
        if part.record is not None:
            each = [np.broadcast_to(one, (*one.shape[:2], count)) for one in own]
            made, held = replayed(part.record, np.concatenate(each))
        made = made[part.picked]
        if part.moves:
            made = np.einsum("ij...,vj...->vi...", rotation, made) + shift
        points[part.corners] = made
        spare.append(held)
    line = np.broadcast_to(hung.line, (2, 3, count))
    place = np.broadcast_to(hung.place, (3, 4, count))
    built = np.broadcast_to(holds(spare), count)
    return Corners(points, line, place, built, spare)


def _count(node: Any) -> int:
    """Return how many variants there are of what a scene holds."""
    if isinstance(node, np.ndarray):
        return len(node)
    if isinstance(node, tuple):
        return max((_count(each) for each in node), default=1)
    if is_dataclass(node):
        return max(_count(getattr(node, each.name)) for each in fields(node))
    return 1


def _replaced(node: Any, other: Any, rows: Bools) -> Any:
    """Return a scene with some variants' numbers put in from another one."""
    if isinstance(node, np.ndarray):
        return np.where(rows, other, node)
    if isinstance(node, tuple) and _count(node) > 1:
        return tuple(_replaced(a, b, rows) for a, b in zip(node, other, strict=True))
    if is_dataclass(node) and not isinstance(node, type) and _count(node) > 1:
        names = [each.name for each in fields(node) if each.init]
        changed = {
            name: _replaced(getattr(node, name), getattr(other, name), rows) for name in names
        }
        return replace(node, **changed)
    return node
