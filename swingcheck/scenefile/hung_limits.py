"""What cannot be built of pivots, cranked hinges and further slabs."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import PivotKind, PivotSet, Scene
from swingcheck.scenefile.broken import SLACK, Broken
from swingcheck.units import length_text


def broken_hanging(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that a scene's pivots, its knuckles and its further slabs break."""
    if scene.pivot is not None:
        yield from _pivots(scene, scene.pivot)
    else:
        yield from _leaf_widths(scene)
    if scene.inactive is not None:
        yield from _pair(scene)
    if scene.lower is not None:
        yield from _dutch(scene)


def _pivots(scene: Scene, pivot: PivotSet) -> Iterator[Broken]:
    slab, unit = scene.slab, scene.unit
    for end, (edge, face) in enumerate(zip(pivot.edge, pivot.face, strict=True)):
        if edge >= min(slab.width) - SLACK:
            yield Broken(
                key=f"pivot.slab.edge[{end}]",
                value=length_text(edge, unit),
                expected=f"under the slab's width, {length_text(min(slab.width), unit)}",
                others=("slab.width",),
            )
        inside = SLACK < face < slab.thickness - SLACK
        if pivot.kind is PivotKind.CENTRE and not inside:
            yield Broken(
                key=f"pivot.slab.face[{end}]",
                value=length_text(face, unit),
                expected=f"within the slab's thickness, {length_text(slab.thickness, unit)}",
                others=("slab.thickness",),
                hint='a pin beyond a face is kind = "offset"',
            )
        if pivot.kind is PivotKind.OFFSET and inside:
            yield Broken(
                key=f"pivot.slab.face[{end}]",
                value=length_text(face, unit),
                expected="below 0, proud of the wide face",
                hint='a pin within the slab is kind = "centre"',
            )


def _leaf_widths(scene: Scene) -> Iterator[Broken]:
    hinge, unit = scene.hinge, scene.unit
    for side, reach in (("jamb", hinge.jamb_reach), ("slab", hinge.slab_reach)):
        own = (hinge.jamb if side == "jamb" else hinge.slab).width
        if reach <= hinge.barrel / 2 + SLACK and (own is not None or hinge.offset.out):
            yield Broken(
                key="hinge.offset.out" if own is None else f"hinge.leaf_width.{side}",
                value=length_text(hinge.offset.out if own is None else own, unit),
                expected="enough to reach past the barrel,"
                f" {length_text(hinge.barrel / 2, unit)} from the leaf's buried edge to the pin",
                others=("hinge.barrel",),
            )


def _pair(scene: Scene) -> Iterator[Broken]:
    inactive, slab, opening, unit = scene.inactive, scene.slab, scene.opening, scene.unit
    assert inactive is not None
    both = max(slab.width) + max(inactive.slab.width)
    if both > max(opening.width) + SLACK:
        room = max(opening.width) - max(slab.width)
        yield Broken(
            key="inactive.slab.width",
            value=length_text(max(inactive.slab.width), unit),
            expected=f"no wider than the active slab leaves, {length_text(room, unit)}",
            others=("opening.width", "slab.width"),
        )
    if scene.lower is not None:
        yield Broken(
            key="inactive",
            value="a table",
            expected="left out: a Dutch door is no pair (it has a [lower] slab)",
        )
    if opening.arch:
        yield Broken(
            key="opening.arch",
            value=length_text(opening.arch, unit),
            expected="0: a pair under an arched head cannot be built",
        )
    uneven = len(set(opening.height)) > 1 and len(opening.hinge_leg.plumb) > 1
    if uneven and len(opening.width) > 1:
        yield Broken(
            key="opening.hinge_leg.plumb",
            value="a list",
            expected="one value: on a pair under an uneven head, the widths say the rest",
            others=("opening.width", "opening.height"),
        )
    rebate = inactive.rebate
    if rebate is not None and rebate.depth >= inactive.slab.thickness - SLACK:
        yield Broken(
            key="inactive.rebate.depth",
            value=length_text(rebate.depth, unit),
            expected="under the inactive slab's thickness,"
            f" {length_text(inactive.slab.thickness, unit)}",
            others=("slab.thickness",),
        )


def _dutch(scene: Scene) -> Iterator[Broken]:
    lower, opening, unit = scene.lower, scene.opening, scene.unit
    assert lower is not None
    room = opening.height[0] - lower.slab.head_margin
    if max(lower.slab.height) > room + SLACK:
        yield Broken(
            key="lower.slab.height",
            value=length_text(max(lower.slab.height), unit),
            expected=f"no more than the upper slab leaves, {length_text(max(room, 0.0), unit)}",
            others=("slab.height", "opening.height"),
        )
    shelf = lower.shelf
    if shelf is not None and 2 * shelf.ends >= min(lower.slab.width) - SLACK:
        yield Broken(
            key="lower.shelf.ends",
            value=length_text(shelf.ends, unit),
            expected=f"under half the slab's width, {length_text(min(lower.slab.width) / 2, unit)}",
            others=("slab.width",),
        )
