"""Limits of what is worked on a slab or fitted to it, and of what stands about the opening."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from math import dist, tan

from swingcheck.model import EdgeShape, Lip, Scene, head_arc, slab_arc
from swingcheck.model.arch import head_ends
from swingcheck.scenefile.broken import SLACK, Broken
from swingcheck.units import length_text


def broken_fitted(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that a lip, an arch, a warp or what is fitted to the slab breaks."""
    slab = scene.slab
    if slab.lip is not None:
        yield from _lip(scene, slab.lip)
    if slab.arch or scene.opening.arch:
        yield from _arches(scene)
    yield from _proud(scene)
    yield from _bead(scene)
    yield from _handle(scene)


def broken_surroundings(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that the steel profile, the floor's coverings or the swing breaks."""
    opening, unit = scene.opening, scene.unit
    steel = opening.steel
    if steel is not None:
        half = opening.depth / 2
        if steel.backbend >= half - SLACK:
            key, where = "opening.steel.backbend", "half the jamb's depth"
            yield _over(scene, key, steel.backbend, half, where, "opening.depth")
        if steel.face <= opening.thickness + SLACK:
            yield Broken(
                key="opening.steel.face",
                value=length_text(steel.face, unit),
                expected="above opening.thickness, " + length_text(opening.thickness, unit),
                others=("opening.thickness",),
            )
        if scene.casing is not None:
            yield Broken(
                key="casing",
                value="there",
                expected="left out: a steel frame's own faces lie over the wall",
                others=("opening.steel",),
            )
    yield from _laid(scene)
    if scene.swing.both_ways and scene.stop is not None:
        yield Broken(
            key="swing.both_ways",
            value="true",
            expected='false, or stop = "none": a slab that swings both ways has no stop',
        )


def _over(scene: Scene, key: str, value: float, room: float, what: str, *others: str) -> Broken:
    return Broken(
        key=key,
        value=length_text(value, scene.unit),
        expected=f"under {what}, {length_text(room, scene.unit)}",
        others=others,
    )


def _together(key: str, value: str, why: str, *others: str) -> Broken:
    """Return that two things are not modelled on one slab."""
    return Broken(key=key, value=value, expected=f"left out: {why}", others=others)


def _lip(scene: Scene, lip: Lip) -> Iterator[Broken]:
    slab = scene.slab
    if lip.depth >= slab.thickness - SLACK:
        where = "the slab's thickness"
        yield _over(scene, "slab.lip.depth", lip.depth, slab.thickness, where, "slab.thickness")
    round_edges = EdgeShape.RADIUS in (slab.hinge_edge.shape, slab.strike_edge.shape)
    found = (
        (round_edges, "a lip on a slab with a round edge", "slab.strike_edge"),
        (slab.warp is not None, "a lip on a warped slab", "slab.warp"),
        (bool(slab.arch), "a lip on an arched slab", "slab.arch"),
        (slab.astragal is not None and lip.strike > 0, "a lip under an astragal", "slab.astragal"),
    )
    for is_found, what, other in found:
        if is_found:
            yield _together("slab.lip", "there", f"{what} is not modelled", other)


def _arches(scene: Scene) -> Iterator[Broken]:
    opening, slab = scene.opening, scene.slab
    heads = {
        "opening.arch": (opening.arch, *head_ends(opening), head_arc(opening)),
        "slab.arch": (
            slab.arch,
            (0.0, slab.height[0]),
            (slab.width[0], slab.height[1]),
            slab_arc(slab),
        ),
    }
    for key, (rise, start, end, arc) in heads.items():
        half = dist(start, end) / 2
        if arc is not None and (rise > half + SLACK or arc.up > min(start[1], end[1]) + SLACK):
            yield Broken(
                key=key,
                value=length_text(rise, scene.unit),
                expected="at most a half circle over its lower end, "
                + length_text(half, scene.unit),
                others=(f"{key.split('.')[0]}.width", f"{key.split('.')[0]}.height"),
            )
    if slab.arch and not opening.arch:
        yield _together("slab.arch", "there", "the head is straight", "opening.arch")
    if slab.arch and slab.head_edge.bevel:
        why = "a bevelled arch is not modelled"
        yield _together("slab.head_edge", "bevelled", why, "slab.arch")
    if opening.arch and opening.steel is not None:
        why = "an arched steel frame is not modelled"
        yield _together("opening.arch", "there", why, "opening.steel")


def _proud(scene: Scene) -> Iterator[Broken]:
    """Yield what does not fit on the slab's faces."""
    slab, unit = scene.slab, scene.unit
    strip, path = slab.astragal, "slab.astragal"
    if strip is not None and strip.overlap >= strip.width - SLACK:
        where = "its width, so that it lies on the slab"
        yield _over(scene, f"{path}.overlap", strip.overlap, strip.width, where, f"{path}.width")
    if strip is not None and strip.stem >= strip.overlap - SLACK and strip.stem > 0:
        lap, other = "its overlap", f"{path}.overlap"
        yield _over(scene, f"{path}.stem", strip.stem, strip.overlap, lap, other)
    room = (min(slab.width), min(slab.height))
    for place, applied in enumerate(slab.applied):
        sizes = zip(("width", "height"), applied.corner, applied.size, room, strict=False)
        for axis, (name, start, size, most) in enumerate(sizes):
            if start + size > most + SLACK:
                yield Broken(
                    key=f"slab.applied[{place}].size[{axis}]",
                    value=length_text(size, unit),
                    expected=f"at most {length_text(max(most - start, 0.0), unit)}, so that it"
                    " stays on the slab",
                    others=(f"slab.{name}",),
                )


def _bead(scene: Scene) -> Iterator[Broken]:
    slab, glass, unit = scene.slab, scene.slab.glass, scene.unit
    room = (min(slab.width), min(slab.height))
    if glass is not None and glass.bead is not None:
        ends = zip((glass.across, glass.up), (glass.width, glass.height), room, strict=True)
        least = min(chain.from_iterable((start, most - start - size) for start, size, most in ends))
        if glass.bead.width > least + SLACK:
            where = "at most what is left of the slab beside the pane"
            yield Broken(
                key="slab.glass.bead.width",
                value=length_text(glass.bead.width, unit),
                expected=f"{where}, {length_text(max(least, 0.0), unit)}",
                others=("slab.glass.across", "slab.glass.up"),
            )


def _handle(scene: Scene) -> Iterator[Broken]:
    lock = scene.lock
    if lock is None or lock.handle is None:
        return
    room = min(scene.slab.width) - lock.backset
    if lock.handle.length >= room - SLACK:
        where = "what is left to the hinge edge"
        others = ("slab.width", "lock.backset")
        yield _over(scene, "lock.handle.length", lock.handle.length, room, where, *others)


def _laid(scene: Scene) -> Iterator[Broken]:
    saddle, carpet = scene.threshold, scene.carpet
    if saddle is not None:
        least = 2 * saddle.height / tan(saddle.slope)
        if saddle.width <= least + SLACK:
            yield Broken(
                key="threshold.width",
                value=length_text(saddle.width, scene.unit),
                expected=f"above what its two sides take, {length_text(least, scene.unit)}",
                others=("threshold.height", "threshold.slope"),
            )
    if carpet is not None and scene.floor.profile:
        why = "read the floor's profile on the carpet"
        yield _together("carpet", "there", why, "floor.profile")
