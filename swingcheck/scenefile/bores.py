"""Limits of what is cut into a slab beside its leaves: the lock's bores, and a pane."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Deadbolt, Lock, Scene, hung_top
from swingcheck.scenefile.broken import SLACK, Broken
from swingcheck.units import length_text


def broken_bores(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that the lock, the deadbolt or the pane breaks."""
    lock = scene.lock
    if lock is not None:
        yield from _bored(scene, "lock", lock)
        yield from _height(scene, "lock.height", lock, lock.height, 0.0)
        if lock.deadbolt is not None:
            yield from _deadbolt(scene, lock, lock.deadbolt)
    yield from _pane(scene)


def _bored(scene: Scene, path: str, bored: Lock | Deadbolt) -> Iterator[Broken]:
    """Yield what does not fit across the slab or into its edge."""
    unit, slab = scene.unit, scene.slab
    half = bored.bore / 2

    def broken(name: str, value: float, expected: str, *others: str) -> Broken:
        text = length_text(value, unit)
        return Broken(
            key=f"{path}.{name}",
            value=text,
            expected=expected,
            others=others,
            follows=f"lock.{name}",
        )

    if bored.backset <= half + SLACK:
        expected = f"above half the bore, {length_text(half, unit)}"
        yield broken("backset", bored.backset, expected, f"{path}.bore")
    elif bored.face_depth >= bored.backset - half - SLACK:
        expected = f"under the wood before the bore, {length_text(bored.backset - half, unit)}"
        yield broken("face_depth", bored.face_depth, expected, f"{path}.backset", f"{path}.bore")
    room = min(slab.width) - half
    if bored.backset >= room - SLACK:
        expected = f"under {length_text(room, unit)}, so that the bore stays within the slab"
        yield broken("backset", bored.backset, expected, "slab.width", f"{path}.bore")
    thick = length_text(slab.thickness, unit)
    for name, value in (("edge_bore", bored.edge_bore), ("face_width", bored.face_width)):
        if value >= slab.thickness - SLACK:
            yield broken(name, value, f"under the slab's thickness, {thick}", "slab.thickness")


def _height(
    scene: Scene, key: str, bored: Lock | Deadbolt, height: float, below: float
) -> Iterator[Broken]:
    """Yield a height at which the bores run out of the slab; ``below`` is taken off in words."""
    slab, unit = scene.slab, scene.unit
    bottom = hung_top(scene.opening, slab) - slab.height[0]
    half = max(bored.bore, bored.face_length, bored.edge_bore) / 2
    low, high = bottom + half, bottom + min(slab.height) - half
    if low - SLACK <= height <= high + SLACK:
        return
    over = "the lock" if below else "the floor"
    if low > high:
        expected = "in a higher slab: there is no room for it"
    else:
        expected = (
            f"between {length_text(max(low - below, 0.0), unit)} and"
            f" {length_text(high - below, unit)} over {over}, so that it stays within the slab"
        )
    yield Broken(
        key=key,
        value=length_text(height - below, unit),
        expected=expected,
        others=("opening.height", "slab.height"),
        follows="lock.height",
    )


def _deadbolt(scene: Scene, lock: Lock, bolt: Deadbolt) -> Iterator[Broken]:
    path = "lock.deadbolt"
    yield from _bored(scene, path, bolt)
    yield from _height(scene, f"{path}.above", bolt, lock.height + bolt.above, lock.height)
    apart = max(
        (mine + its) / 2
        for mine, its in (
            (bolt.bore, lock.bore),
            (bolt.edge_bore, lock.edge_bore),
            (bolt.face_length, lock.face_length),
        )
    )
    if bolt.above <= apart + SLACK:
        yield Broken(
            key=f"{path}.above",
            value=length_text(bolt.above, scene.unit),
            expected=f"above {length_text(apart, scene.unit)}, so that it is clear of the lock",
            others=("lock.bore", f"{path}.bore"),
        )


def _pane(scene: Scene) -> Iterator[Broken]:
    slab, glass, unit = scene.slab, scene.slab.glass, scene.unit
    if glass is None:
        return
    rooms = (
        ("across", glass.across, "width", glass.width, min(slab.width)),
        ("up", glass.up, "height", glass.height, min(slab.height)),
    )
    for start_name, start, size_name, size, room in rooms:
        if start + size >= room - SLACK:
            yield Broken(
                key=f"slab.glass.{size_name}",
                value=length_text(size, unit),
                expected=f"under {length_text(max(room - start, 0.0), unit)}, so that the pane"
                " stays within the slab",
                others=(f"slab.{size_name}", f"slab.glass.{start_name}"),
            )
    if glass.thickness >= slab.thickness - SLACK:
        yield Broken(
            key="slab.glass.thickness",
            value=length_text(glass.thickness, unit),
            expected=f"under the slab's thickness, {length_text(slab.thickness, unit)}",
            others=("slab.thickness",),
        )
