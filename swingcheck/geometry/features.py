"""The features of a solid at which a contact can begin.

Only convex features begin a contact between solids that were apart, so flat
edges (the diagonals of a box's faces) and reflex ones (the inside corners of a
mortise) are left out, and so are corners that no convex edge ends at.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.geometry.frames import axis_frame, turn_about_z
from swingcheck.geometry.solid import Floats, Ints, Solid, crossed, face_normals

FLAT_SINE = 1e-9  # sine of the angle between two faces below which their edge is flat

#: What there is of each kind, and whose it is.
_KINDS = {"corners": "corner_owner", "edges": "edge_owner", "faces": "face_owner"}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Features:
    """Corners, convex edges and faces of one or more solids.

    ``corners`` (n, 3); ``edges`` (m, 2, 3) end points; ``faces`` (k, 3, 3)
    corner points, counter-clockwise from outside. ``corner_owner``,
    ``edge_owner`` and ``face_owner`` give the solid that each belongs to.
    """

    corners: Floats
    edges: Floats
    faces: Floats
    corner_owner: Ints
    edge_owner: Ints
    face_owner: Ints

    def moved(self, rotation: Floats, shift: Floats) -> Features:
        """Return the features at ``rotation @ point + shift`` ((3, 3), (3,))."""
        return replace(self, **{kind: getattr(self, kind) @ rotation.T + shift for kind in _KINDS})


def features(solid: Solid) -> Features:
    """Return the features of a closed, outward-facing solid.

    Corners that stand in the same place are taken as one, so a mesh that
    repeats its corners for each triangle is welded first.
    """
    vertices, faces = _welded(solid)
    points = vertices[faces]
    across = face_normals(points)
    length = np.linalg.norm(across, axis=1)
    some = length > 0
    faces, points = faces[some], points[some]
    normals = across[some] / length[some, None]
    ends, first, second = _edges(faces, len(vertices))
    along = vertices[ends[:, 1]] - vertices[ends[:, 0]]
    along /= np.linalg.norm(along, axis=1)[:, None]
    bend = np.einsum("ij,ij->i", crossed(normals[first], normals[second]), along)
    folded = np.einsum("ij,ij->i", normals[first], normals[second]) < -0.5
    convex = (bend > FLAT_SINE) | (folded & (np.abs(bend) <= FLAT_SINE))
    ends = ends[convex]
    used = np.unique(ends)
    return Features(
        corners=vertices[used],
        edges=vertices[ends],
        faces=points,
        corner_owner=np.zeros(len(used), dtype=np.int64),
        edge_owner=np.zeros(len(ends), dtype=np.int64),
        face_owner=np.zeros(len(points), dtype=np.int64),
    )


def solid_of(parts: Features, owner: int) -> Solid:
    """Return one of the solids that the features belong to, welded."""
    corners, faces = np.unique(
        parts.faces[parts.face_owner == owner].reshape(-1, 3), axis=0, return_inverse=True
    )
    return Solid(corners, faces.reshape(-1, 3))


def _welded(solid: Solid) -> tuple[Floats, Ints]:
    vertices, inverse = np.unique(solid.vertices, axis=0, return_inverse=True)
    faces = inverse.reshape(-1)[solid.faces]
    distinct = (
        (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    )
    return vertices, faces[distinct]


def _edges(faces: Ints, count: int) -> tuple[Ints, Ints, Ints]:
    """Return each edge's ends (m, 2), the face that runs along it, and the face that runs back."""
    directed = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    owner = np.tile(np.arange(len(faces)), 3)
    forward = directed[:, 0] * count + directed[:, 1]
    backward = directed[:, 1] * count + directed[:, 0]
    order = np.argsort(backward, kind="stable")
    place = np.searchsorted(backward[order], forward)
    place = np.minimum(place, len(order) - 1)
    paired = (backward[order][place] == forward) & (directed[:, 0] < directed[:, 1])
    return directed[paired], owner[paired], owner[order][place][paired]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class AboutAxis:
    """Moving and fixed features with the turning axis on z, the turn counter-clockwise.

    ``movers`` stand where the turn of ``span`` radians starts; ``sense`` is -1
    where the turn goes against the axis's direction. A point ``p`` of the own
    frame stands at ``rotation @ p + shift``.
    """

    movers: Features
    rest: Features
    span: float
    sense: float
    rotation: Floats
    shift: Floats


def about_axis(
    moving: Sequence[Solid | Features],
    fixed: Sequence[Solid | Features],
    *,
    point: Floats,
    direction: Floats,
    start: float,
    stop: float,
    rise: float,
) -> AboutAxis:
    """Return solids that turn from ``start`` to ``stop`` radians, and fixed ones, about z.

    ``moving`` are as they stand at angle 0, and climb ``rise`` inches a radian.
    """
    sense = 1.0 if stop >= start else -1.0
    rotation, shift = axis_frame(point, sense * np.asarray(direction, dtype=np.float64))
    lift = np.array([0.0, 0.0, sense * rise * start])
    movers = _gathered(moving).moved(rotation, shift).moved(turn_about_z(sense * start), lift)
    return AboutAxis(
        movers=movers,
        rest=_gathered(fixed).moved(rotation, shift),
        span=abs(stop - start),
        sense=sense,
        rotation=rotation,
        shift=shift,
    )


def _gathered(parts: Sequence[Solid | Features]) -> Features:
    """Return the features of several solids as one set, owners numbered in order."""
    own = [part if isinstance(part, Features) else features(part) for part in parts]
    found: dict[str, Any] = {}
    for kind, owner in _KINDS.items():
        each = [getattr(part, kind) for part in own]
        found[kind] = np.concatenate(each)
        found[owner] = np.repeat(np.arange(len(own)), [len(rows) for rows in each])
    return Features(**found)
