"""What is known of a mesh from outside swingcheck: trimesh's checks and the winding number."""

from __future__ import annotations

import numpy as np
import trimesh
from numpy.typing import ArrayLike

from swingcheck.geometry.solid import Solid
from tests.peers import winding_numbers


def trimesh_of(solid: Solid) -> trimesh.Trimesh:
    """Return the same mesh for trimesh, nothing merged or mended."""
    return trimesh.Trimesh(solid.vertices, solid.faces, process=False)


def assert_closed(solid: Solid) -> None:
    """Check with trimesh that a solid is closed, wound outward, and has no needle of no area."""
    mesh = trimesh_of(solid)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume > 0
    assert abs(mesh.volume - solid.volume) <= 1e-9 * mesh.volume
    longest = mesh.edges_unique_length[mesh.faces_unique_edges].max(axis=1)
    assert (2 * mesh.area_faces / longest).min() > 1e-9


def is_inside(solid: Solid, point: ArrayLike) -> bool:
    """Return whether a point is inside, by the winding number."""
    return bool(winding_numbers(np.asarray(point, dtype=float)[None], solid)[0] > 0.5)
