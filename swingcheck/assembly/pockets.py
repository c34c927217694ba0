"""The hinge leg with its leaves' mortises built in its face, not cut: every corner is a formula.

A mortise's floor is its leaf's outline. Its walls rise square to the floor to
the leg's face, and it opens through the leg's pull-side edge. The face, and
the edge beside it, are left out over a zone about each mortise and filled
about the mortise's rim. A reading within a zone keeps its level line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
from manifold3d import triangulate

from swingcheck.assembly.drafts import Pattern
from swingcheck.assembly.leaves import leaf_outline
from swingcheck.assembly.legs import Mark, hinge_leg_plan, in_frame, marks_of
from swingcheck.assembly.pins import jamb_leaf_frames
from swingcheck.assembly.uprights import Levels, Stage, Upright, carried
from swingcheck.geometry.sizes import Sizes, hold, point, variants
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.geometry.solids import Mesh, fan, ring_cells
from swingcheck.model import Opening, Scene

#: How far a zone runs on past its mortise, and what is left between any two lines, inches.
_ZONE, _CLEAR = 0.25, 0.02

#: Rounds that bring a corner to the leg's face, which is all but flat; one where it is flat.
_ROUNDS = 3


class _Pocket(NamedTuple):
    """A mortise's corners: ``floor`` and ``rim`` (c, 3, n) round the buried edge, top to bottom.

    ``mouth`` (d, 3, n) is the floor's line in the pull-side edge, ``arris``
    (2, 3, n) the rim's two ends; ``at`` are the places of the zone's readings
    in floor and rim, and they come in the mouth in the same order.
    """

    floor: Any
    rim: Any
    mouth: Any
    arris: Any
    at: Any


def pocketed(
    name: str, scene: Scene, section: Floats, over: Sizes, beyond: Sequence[int], pattern: Pattern
) -> Mesh | None:
    """Return the hinge leg with its mortises, or None where there are none that fit its face."""
    hinge = scene.hinge
    let_in = [
        k
        for k, depth in enumerate(hinge.jamb.depths)
        if pattern.is_some(f"jamb mortise {k}", depth)
    ]
    fits = _fits(scene, let_in, section) if let_in else np.array([False])
    if not pattern.once("pockets", lambda: bool(fits.all())):
        return None
    hold(name, fits, "a mortise does not fit its face at these sizes")
    stages = _stages(scene, let_in)
    leg = carried(name, scene, 0, section, over, pattern, beyond=beyond, stages=stages)
    pockets = _pockets(scene, let_in, leg.levels, pattern)
    parts = [leg.rings.reshape(-1, *leg.rings.shape[2:])]
    parts += [own for each in pockets for own in each[:4]]
    count = np.broadcast_shapes(*(own.shape[2:] for own in parts))
    corners = np.concatenate([np.broadcast_to(own, (*own.shape[:2], *count)) for own in parts])
    used, faces = pattern.once(
        "pocketed leg", lambda: _filled(corners[..., 0], leg, pockets, let_in, len(section))
    )
    return Mesh(name, corners[used], faces)


def _middle(scene: Scene, k: int) -> Sizes:
    return scene.opening.height[0] - scene.hinge.jamb.tops[k] - scene.hinge.leaf_length / 2


def _stages(scene: Scene, let_in: Iterable[int]) -> dict[Stage, Sizes]:
    """Return the heights between which mortises are built."""
    off = scene.hinge.leaf_length / 2 + _ZONE
    return {
        Stage(k, is_top): _middle(scene, k) + (off if is_top else -off)
        for k in let_in
        for is_top in (False, True)
    }


def _fits(scene: Scene, let_in: Sequence[int], section: Floats) -> Bools:
    """Return for which variants (n,) the mortises fit: clear of each other and of every line."""
    hinge, opening = scene.hinge, scene.opening
    half, radius = hinge.leaf_length / 2, hinge.corner_radius
    along = np.asarray(section[-3, 0])
    fits = [np.greater(half - radius, _CLEAR)]
    order = sorted(let_in, key=lambda k: float(np.ravel(_middle(scene, k))[0]))
    for low, high in pairwise(order):
        apart = _middle(scene, high) - _middle(scene, low) - 2 * (half + _ZONE)
        fits.append(np.greater(apart, _CLEAR))
    fits.append(_middle(scene, order[0]) - half - _ZONE > scene.floor.covering + 1.0)
    fits.append(_middle(scene, order[-1]) + half + _ZONE < opening.height[0] - _CLEAR)
    for k in let_in:
        middle = _middle(scene, k)
        ends = variants(point(middle - half, middle + half), 1)
        buried = hinge_leg_plan(opening, ends).rabbet - hinge.jamb.setbacks[k] + np.zeros_like(ends)
        fits.append(buried.max(axis=0) + _CLEAR < along)
        fits.append(buried.min(axis=0) > radius + _CLEAR)
        fits.append(np.less(hinge.jamb.depths[k] + _CLEAR, opening.thickness))
        for mark in marks_of(opening, 0):
            off = np.abs(mark.height(opening) - middle)
            fits.append((off < half - radius - _CLEAR) | (off > half + _ZONE + _CLEAR))
    fits.append(np.greater(hinge.jamb_reach, radius))
    together: Bools = np.logical_and.reduce(np.broadcast_arrays(*(np.ravel(own) for own in fits)))
    return together


def _readings(levels: Levels, zone: int) -> list[Mark]:
    """Return the marks within a zone, highest first."""
    low, high = (levels.marks.index(Stage(zone, is_top)) for is_top in (False, True))
    return [mark for mark in levels.marks[low + 1 : high] if isinstance(mark, Mark)][::-1]


def _pockets(
    scene: Scene, let_in: Sequence[int], levels: Levels, pattern: Pattern
) -> list[_Pocket]:
    """Return the mortises' corners."""
    opening, hinge = scene.opening, scene.hinge
    frames = jamb_leaf_frames(scene)
    outline = variants(leaf_outline(hinge, hinge.jamb_reach, pattern), 2)
    lower = len(outline) // 2 - 1
    floors, mouths, at = [], [], []
    for k in let_in:
        toward, up, _, origin = frames[..., k, :].swapaxes(0, 1)
        own = [(mark.height(opening) - origin[2]) / up[2] for mark in _readings(levels, k)]
        u = point(*outline[lower + 2 :, 0], *(0.0 for _ in own), *outline[:lower, 0])
        v = point(*outline[lower + 2 :, 1], *own, *outline[:lower, 1])
        ends = variants(point(hinge.leaf_length / 2, *own, -hinge.leaf_length / 2), 1)
        floors.append(in_frame(origin, (u, toward), (v, up)))
        mouths.append(in_frame(origin, (hinge.jamb_reach, toward), (ends, up)))
        first = len(outline) - lower - 2
        at.append(tuple(range(first, first + len(own))))
    toward, normal = frames[:, 0, let_in], frames[:, 2, let_in]
    rims = _onto(opening, floors, [(normal, "normal")])
    mouths = _onto(opening, mouths, [(toward, "along")])
    arrises = [mouth[:, [0, -1]] for mouth in mouths]
    arrises = _onto(opening, arrises, [(normal, "normal"), (toward, "along")])
    each = (
        [np.moveaxis(own, 0, 1) for own in places] for places in (floors, rims, mouths, arrises)
    )
    return [_Pocket(*one) for one in zip(*each, at, strict=True)]


def _onto(
    opening: Opening, places: Sequence[Floats], ways: Sequence[tuple[Floats, str]]
) -> list[Floats]:
    """Return each mortise's places (3, k, n) moved to the leg's face, or to its pull-side edge.

    By ways (3, mortises, n) in turn, each to what is square to the leg's
    ``normal`` or to its ``along``.
    """
    counts = [own.shape[1] for own in places]
    width = max(own.shape[2] for own in places)
    found = np.concatenate(
        [np.broadcast_to(own, (*own.shape[:2], width)) for own in places], axis=1
    )
    each = [(np.repeat(way, counts, axis=1), square) for way, square in ways]
    for _ in range(_ROUNDS if marks_of(opening, 0) else 1):
        for way, square in each:
            x, y, z = found
            leg = hinge_leg_plan(opening, z)
            across = getattr(leg, square)
            gap = (x - leg.edge[0]) * across[0] + (y - leg.edge[1]) * across[1]
            off = -gap / (way[0] * across[0] + way[1] * across[1])
            found = in_frame(found, (off, way))
    return np.split(found, np.cumsum(counts)[:-1], axis=1)


def _filled(
    corners: Floats, leg: Upright, pockets: Sequence[_Pocket], let_in: Sequence[int], sides: int
) -> tuple[Ints, Ints]:
    """Return which of one leg's corners (v, 3) are used, and its triangles among those."""
    count, size = leg.rings.shape[:2]
    at = np.cumsum([0, *leg.levels.strips])
    grid = np.arange(count * size).reshape(count, size)
    rows = dict(zip(leg.levels.marks, np.cumsum(leg.levels.bands).tolist(), strict=False))
    cells = ring_cells(count, size)
    kept = np.ones(cells.shape[:2], dtype=bool)
    triangles: list[Ints] = [fan(size)[:, ::-1], fan(size) + (count - 1) * size]
    start = count * size
    for zone, pocket in zip(let_in, pockets, strict=True):
        low, high = rows[Stage(zone, False)], rows[Stage(zone, True)]
        kept[low:high, at[sides - 3] : at[sides - 1]] = False
        lengths = [len(own) for own in pocket[:4]]
        floor, rim, mouth, arris = np.split(
            np.arange(sum(lengths)) + start, np.cumsum(lengths)[:-1]
        )
        start += sum(lengths)
        front = grid[low : high + 1, at[sides - 3] : at[sides - 2] + 1]
        edge = grid[low : high + 1, at[sides - 2] : at[sides - 1] + 1]
        triangles += _zone(corners, front, edge, _Pocket(floor, rim, mouth, arris, pocket.at))
    faces = np.concatenate([cells[kept].reshape(-1, 3), *triangles])
    used, numbered = np.unique(faces, return_inverse=True)
    return used, numbered.reshape(-1, 3)


def _zone(corners: Floats, front: Ints, edge: Ints, own: _Pocket) -> Iterator[Ints]:
    """Yield the triangles of a zone, all by the numbers of their corners.

    ``front`` and ``edge`` (rows, k) are the face's and the pull-side edge's
    corners about it, lowest row first, toward the arris and on from it.
    """
    floor, rim, mouth, arris, at = own
    yield _flat(corners, [*mouth[::-1], *floor], "face")
    top, bottom = [floor[0], mouth[0], arris[0], rim[0]], [mouth[-1], floor[-1], rim[-1], arris[1]]
    around = [(floor[k + 1], floor[k], rim[k], rim[k + 1]) for k in range(len(floor) - 1)]
    for a, b, c, d in (top, bottom, *around):
        yield np.array([(a, b, c), (a, c, d)])
    # From the lowest row to the highest, between readings: where each is on the rim.
    places = [len(rim) - 1, *at[::-1], 0]
    last = len(front) - 1
    for k, (below, above) in enumerate(pairwise(places)):
        low = [*front[0], arris[1]] if k == 0 else [front[k, 0]]
        high = [arris[0], *front[last, ::-1]] if k + 1 == last else [front[k + 1, 0]]
        yield _flat(corners, [*low, *rim[above : below + 1][::-1], *high], "face")
        ends = mouth[last - k - 1], mouth[last - k]
        low = [arris[1], *edge[0]] if k == 0 else [edge[k, -1]]
        high = [*edge[last, ::-1], arris[0]] if k + 1 == last else [edge[k + 1, -1]]
        yield _flat(corners, [*low, *high, *ends], "edge")


def _flat(corners: Floats, loop: Sequence[int], side: str) -> Ints:
    """Return the triangles that fill a loop of corners, seen from outside the face or the edge."""
    places = corners[list(loop)]
    seen = places[:, 1:] if side == "face" else places[:, [0, 2]] * [-1.0, 1.0]
    return np.array(loop)[np.array(triangulate([np.ascontiguousarray(seen)]), dtype=np.int64)]
