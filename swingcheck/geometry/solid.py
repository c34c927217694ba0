"""A closed triangle mesh, its convex features, and its moves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swingcheck.errors import GeometryError

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_NEXT, _LAST = np.array([1, 2, 0]), np.array([2, 0, 1])


def crossed(a: Floats, b: Floats) -> Floats:
    """Return cross products (..., 3): on few vectors numpy's own takes ten times as long."""
    product: Floats = a[..., _NEXT] * b[..., _LAST] - a[..., _LAST] * b[..., _NEXT]
    return product


def face_normals(faces: Floats) -> Floats:
    """Return the outward normals (m, 3) of triangles (m, 3, 3), as long as twice their area."""
    return crossed(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """A closed, outward-facing triangle mesh.

    Parameters
    ----------
    vertices : (n, 3) float64
        Corner points, inches. Copied, then read-only.
    faces : (m, 3) int64
        Corner indices of each triangle, counter-clockwise seen from outside.

    Notes
    -----
    :func:`closed_solid` makes one with the checks; the bare class takes what
    it is given.
    """

    vertices: Floats
    faces: Ints

    def __post_init__(self) -> None:
        vertices = np.array(self.vertices, dtype=np.float64).reshape(-1, 3)
        faces = np.array(self.faces, dtype=np.int64).reshape(-1, 3)
        vertices.setflags(write=False)
        faces.setflags(write=False)
        object.__setattr__(self, "vertices", vertices)
        object.__setattr__(self, "faces", faces)

    @property
    def bounds(self) -> Floats:
        """Lowest and highest corner, (2, 3)."""
        return np.array([self.vertices.min(axis=0), self.vertices.max(axis=0)])

    @property
    def volume(self) -> float:
        """Volume by the divergence theorem, cubic inches; positive when wound outward."""
        a, b, c = (self.vertices[self.faces[:, k]] for k in range(3))
        return float(np.einsum("ij,ij->", a, crossed(b, c)) / 6)

    def moved(self, rotation: Floats, shift: Floats) -> Solid:
        """Return the solid at ``rotation @ vertex + shift`` ((3, 3), (3,))."""
        return Solid(self.vertices @ np.asarray(rotation).T + shift, self.faces)

    def mirrored_in_x(self) -> Solid:
        """Return the mirror image in the plane x = 0, still wound outward."""
        return Solid(self.vertices * [-1.0, 1.0, 1.0], self.faces[:, ::-1])


def closed_solid(name: str, vertices: Floats, faces: Ints) -> Solid:
    """Return a solid after checking that it is closed and wound outward.

    Raises GeometryError where an edge has not exactly one triangle on either side, a
    triangle has no area, or the volume is not positive.
    """
    solid = Solid(vertices, faces)
    if not np.isfinite(solid.vertices).all():
        raise GeometryError(name, "a corner is not a finite point")
    directed = np.concatenate([solid.faces[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])
    size = len(solid.vertices)
    forward = np.sort(directed[:, 0] * size + directed[:, 1])
    backward = np.sort(directed[:, 1] * size + directed[:, 0])
    if len(forward) == 0 or not np.array_equal(forward, backward) or (np.diff(forward) == 0).any():
        raise GeometryError(name, "the solid is not closed")
    if solid.volume <= 0:
        raise GeometryError(name, "nothing is left of the solid at these sizes")
    return solid
