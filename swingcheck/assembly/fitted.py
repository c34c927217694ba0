"""What turns: the slab, its leaves, and what is fitted to it (astragal, boxes, beads, handles).

Slab frame. Each is a part of its own, so that a contact names it; on a warped
slab it is carried off flat with the place that it is fitted at.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

import numpy as np

from swingcheck.assembly.drafts import Draft, Pattern, made
from swingcheck.assembly.leaves import slab_leaf_drafts
from swingcheck.assembly.parts import Part, PartKind
from swingcheck.assembly.slab import bore_centre, slab_draft, width_at
from swingcheck.assembly.warp import warp_at, warp_facets
from swingcheck.geometry.booleans import cut, joined
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import arc_facets, box, loft
from swingcheck.model import Applied, Astragal, Bead, Face, Glass, Handle, Scene, Slab

#: How far a facet of a round handle may fall inside its arc, inches.
HANDLE_SAGITTA = 4e-3

#: How thick a handle's rose is, how thick its neck and how deep a knob, inches.
#: Common practice, no source.
ROSE, NECK, KNOB = 3 / 8, 1.0, 1.5


def slab_parts(scene: Scene) -> tuple[Part, ...]:
    """Return the slab, its leaves and what is fitted to it, slab frame."""
    return made(slab_drafts(scene, Pattern()))


def slab_drafts(scene: Scene, pattern: Pattern) -> tuple[Draft, ...]:
    """Return the slab, its leaves and what is fitted to it, slab frame."""
    leaves = slab_leaf_drafts(scene, pattern)
    return slab_draft(scene, pattern), *leaves, *_fitted(scene)


def _fitted(scene: Scene) -> Iterator[Draft]:
    slab = scene.slab
    if slab.astragal is not None:
        solid = _astragal_solid(slab, slab.astragal)
        yield Draft(name="astragal", kind=PartKind.ASTRAGAL, skin=solid)
    for applied in slab.applied:
        for face, name in _faces(applied.face, applied.name):
            solid = _applied_solid(slab, applied, face, name)
            yield Draft(name=name, kind=PartKind.APPLIED, skin=solid)
    if slab.glass is not None and slab.glass.bead is not None:
        for face, name in _faces(slab.glass.bead.face, "glass bead"):
            solid = _bead_solid(slab, slab.glass, slab.glass.bead, face, name)
            yield Draft(name=name, kind=PartKind.APPLIED, skin=solid)
    yield from _handles(scene)


def _faces(face: Face, name: str) -> list[tuple[Face, str]]:
    """Return the faces that something is on, and what it is called there."""
    if face is not Face.BOTH:
        return [(face, name)]
    return [(Face.PULL, name), (Face.PUSH, f"push-side {name}")]


def _depths(slab: Slab, face: Face, proud: float) -> tuple[float, float]:
    """Return the lowest and highest ``y`` of what stands so far proud of a flat face."""
    if face is Face.PULL:
        return 0.0, proud
    return -slab.thickness - proud, -slab.thickness


def _astragal_solid(slab: Slab, strip: Astragal) -> Solid:
    """Return the strip along the strike edge, and the stem of a T-moulding, carried up the slab."""
    section = _astragal_section(slab, strip)
    last = len(slab.width) - 1
    heights = {slab.height[1] * k / last for k in range(last + 1)} if last else {0.0}
    up = warp_facets(slab.warp)[1] if slab.warp else 1
    heights |= {slab.height[1] * k / up for k in range(up + 1)}
    rings = []
    for z in sorted(heights):
        width = width_at(slab, z)
        off = warp_at(slab, width, z)
        rings.append([(width + x, y + off, z) for x, y in section])
    return loft("astragal", np.array(rings))


def _astragal_section(slab: Slab, strip: Astragal) -> list[tuple[float, float]]:
    """Return the strip's section: out from the strike edge's wide-face arris, and ``y``."""
    low, high = _depths(slab, strip.face, strip.thickness)
    near, outer, far = (low, high, -slab.thickness)
    if strip.face is Face.PUSH:
        near, outer, far = (high, low, 0.0)
    inner = strip.overlap - strip.width
    edge = [(0.0, near), (0.0, far), (strip.stem, far), (strip.stem, near)]
    cap = [(strip.overlap, near), (strip.overlap, outer), (inner, outer)]
    return [(inner, near), *(edge if strip.stem > 0 else ()), *cap]


def _applied_solid(slab: Slab, applied: Applied, face: Face, name: str) -> Solid:
    (across, up), (width, height, proud) = applied.corner, applied.size
    off = warp_at(slab, across + width / 2, up + height / 2)
    low, high = _depths(slab, face, proud)
    return box(name, (across, low + off, up), (across + width, high + off, up + height))


def _bead_solid(slab: Slab, glass: Glass, bead: Bead, face: Face, name: str) -> Solid:
    """Return the bead on one face: a frame about the pane."""
    off = warp_at(slab, glass.across + glass.width / 2, glass.up + glass.height / 2)
    low, high = (y + off for y in _depths(slab, face, bead.proud))
    right, top = glass.across + glass.width, glass.up + glass.height
    frame = box(
        name,
        (glass.across - bead.width, low, glass.up - bead.width),
        (right + bead.width, high, top + bead.width),
    )
    pane = box(name, (glass.across, low - 1.0, glass.up), (right, high + 1.0, top))
    return cut(name, frame, [pane])


def _handles(scene: Scene) -> Iterator[Draft]:
    lock = scene.lock
    if lock is None or lock.handle is None:
        return
    slab = scene.slab
    centre = bore_centre(scene, lock)
    for face, name in _faces(lock.handle.face, "handle"):
        sense = 1.0 if face is Face.PULL else -1.0
        start = centre + np.array([0.0, sense * slab.thickness / 2, 0.0])
        solid = _handle_solid(name, lock.handle, start, sense)
        yield Draft(name=name, kind=PartKind.HANDLE, skin=solid)


def _handle_solid(name: str, handle: Handle, start: Floats, sense: float) -> Solid:
    """Return a handle that stands out of a face at ``start`` (3,), its ``sense`` +1 or -1."""
    far = handle.projection
    rose, neck = min(ROSE, far / 3), min(NECK, handle.diameter, handle.rose) / 2
    knob = far - min(KNOB, (far - rose) * 2 / 3)
    outline = [(handle.rose / 2, 0.0), (handle.rose / 2, rose), (neck, rose)]
    if handle.length > 0:
        outline.append((neck, far - handle.diameter / 2))
        shank = _turned(name, outline, start, sense)
        return joined(name, [shank, _bar(name, handle, start, sense)])
    head = handle.diameter / 2
    outline += [(neck, knob), (head, knob), (head, far)]
    return _turned(name, outline, start, sense)


def _bar(name: str, handle: Handle, start: Floats, sense: float) -> Solid:
    """Return a lever's bar: level, from the bore toward the hinge edge."""
    half = handle.diameter / 2
    near = handle.projection - min(handle.diameter, handle.projection / 2)
    corners = np.array([[-handle.length, near, -half], [half, handle.projection, half]])
    corners = corners * [1.0, sense, 1.0] + start
    return box(name, corners.min(axis=0), corners.max(axis=0))


def _turned(name: str, outline: list[tuple[float, float]], start: Floats, sense: float) -> Solid:
    """Return a solid of revolution: ``outline`` holds radii and how far out of the face each is."""
    count = arc_facets(max(radius for radius, _ in outline), 2 * pi, HANDLE_SAGITTA)
    turns = [2 * pi * k / count for k in range(count)]
    rings = [[(r * cos(t), sense * out, r * sin(t)) for t in turns] for r, out in outline]
    return loft(name, np.array(rings) + start)
