"""Solids cut by solids, in float64 throughout.

All raise GeometryError where a solid is not closed, or nothing is left of one.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from manifold3d import Error, Manifold, Mesh64, OpType

from swingcheck.errors import GeometryError
from swingcheck.geometry.solid import Floats, Solid, closed_solid
from swingcheck.geometry.solids import box


def cut(name: str, body: Solid, tools: Sequence[Solid]) -> Solid:
    """Return ``body`` without what the tools take away.

    Corners of ``body`` that no tool reaches keep their coordinates to the last
    bit.
    """
    if not tools:
        return body
    manifolds = [manifold(name, body), *(manifold(name, tool) for tool in tools)]
    return _solid(name, Manifold.batch_boolean(manifolds, OpType.Subtract))


def clipped(solid: Solid, low: Floats, high: Floats) -> Solid:
    """Return what of a solid is between two corners (3,) of a box, its cuts closed."""
    ends = solid.bounds + np.array([[-1.0], [1.0]])
    tools = []
    for k in range(3):
        for bound, side in ((low[k], 0), (high[k], 1)):
            tool = ends.copy()
            tool[1 - side, k] = bound
            if tool[0, k] < tool[1, k] and solid.bounds[0, k] < bound < solid.bounds[1, k]:
                tools.append(box("cut", tool[0], tool[1]))
    return cut("piece", solid, tools)


def joined(name: str, solids: Sequence[Solid]) -> Solid:
    """Return what the solids fill together, as one solid."""
    manifolds = [manifold(name, solid) for solid in solids]
    return _solid(name, Manifold.batch_boolean(manifolds, OpType.Add))


def hull(name: str, solid: Solid) -> Solid:
    """Return the least convex solid about a solid."""
    return _solid(name, manifold(name, solid).hull())


def in_common(first: Solid, second: Solid) -> tuple[float, Floats]:
    """Return the volume that two solids both fill, cubic inches, and the box about it (2, 3)."""
    both = manifold("overlap", first) ^ manifold("overlap", second)
    if both.is_empty():
        return 0.0, np.zeros((2, 3))
    return float(both.volume()), np.array(both.bounding_box()).reshape(2, 3)


def shared_volume(first: Solid, second: Solid) -> float:
    """Return the volume that two solids both fill, cubic inches."""
    low = np.maximum(first.bounds[0], second.bounds[0])
    high = np.minimum(first.bounds[1], second.bounds[1])
    if not (low < high).all():
        return 0.0
    return max(in_common(first, second)[0], 0.0)


def gap_between(first: Solid, second: Solid, *, within: float) -> float:
    """Return the least distance between two solids, inches: 0 where they touch or overlap.

    ``within`` is returned where they are farther apart than that.
    """
    return float(manifold("gap", first).min_gap(manifold("gap", second), within))


def manifold(name: str, solid: Solid) -> Manifold:
    """Return a solid as the boolean library takes it, in float64."""
    made = Manifold(
        Mesh64(
            np.array(solid.vertices, order="C"),
            np.array(solid.faces, dtype=np.uint64, order="C"),
        )
    )
    if made.status() != Error.NoError or made.is_empty():
        raise GeometryError(name, "the solid is not closed")
    return made


def _solid(name: str, made: Manifold) -> Solid:
    if made.status() != Error.NoError:
        raise GeometryError(name, "the solid is not closed")
    if made.is_empty():
        raise GeometryError(name, "nothing is left of the solid at these sizes")
    mesh = made.to_mesh64()
    faces = np.asarray(mesh.tri_verts, dtype=np.int64)
    if len(mesh.merge_from_vert):
        target = np.arange(len(mesh.vert_properties))
        target[np.asarray(mesh.merge_from_vert)] = np.asarray(mesh.merge_to_vert)
        faces = target[faces]
    used, numbered = np.unique(faces, return_inverse=True)
    vertices = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    return closed_solid(name, vertices[used], numbered.reshape(-1, 3))
