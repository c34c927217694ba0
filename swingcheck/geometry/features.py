"""The features of a solid at which a contact can begin.

Only convex features begin a contact between solids that were apart, so flat
edges (the diagonals of a box's faces) and reflex ones (the inside corners of a
mortise) are left out, and so are corners that no convex edge ends at.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from swingcheck.geometry.solid import Bools, Floats, Ints, Solid, crossed, face_normals

FLAT_SINE = 1e-9  # sine of the angle between two faces below which their edge is flat


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Features:
    """Corners, convex edges and faces of one or more solids.

    ``points`` (n, 3) are all their corners, each once, and ``owner`` (n,) the
    solid that each belongs to. ``corner`` (k,), ``edge`` (m, 2) and ``face``
    (l, 3) say between which points the features are; a face's are
    counter-clockwise from outside.
    """

    points: Floats
    owner: Ints
    corner: Ints
    edge: Ints
    face: Ints

    @property
    def corners(self) -> Floats:
        """Convex corners (k, 3)."""
        return self.points[self.corner]

    @property
    def edges(self) -> Floats:
        """End points (m, 2, 3) of convex edges."""
        return self.points[self.edge]

    @property
    def faces(self) -> Floats:
        """Corner points (l, 3, 3) of triangles."""
        return self.points[self.face]

    def moved(self, rotation: Floats, shift: Floats) -> Features:
        """Return the features at ``rotation @ point + shift`` ((3, 3), (3,))."""
        return replace(self, points=self.points @ rotation.T + shift)


def features(solid: Solid) -> Features:
    """Return the features of a closed, outward-facing solid; see :func:`features_of`."""
    return features_of([solid])[0]


def features_of(solids: Sequence[Solid]) -> tuple[Features, ...]:
    """Return the features of each of several closed, outward-facing solids.

    Corners of one that stand in the same place are taken as one, so a mesh that
    repeats its corners for each triangle is welded first.
    """
    if not solids:
        return ()
    points, owner, faces, normals = skin(solids)
    ends, first, second = edges_between(faces, len(points))
    along = points[ends[:, 1]] - points[ends[:, 0]]
    along /= np.sqrt(np.einsum("ij,ij->i", along, along))[:, None]
    bend = np.einsum("ij,ij->i", crossed(normals[first], normals[second]), along)
    folded = np.einsum("ij,ij->i", normals[first], normals[second]) < -0.5
    ends = ends[(bend > FLAT_SINE) | (folded & (np.abs(bend) <= FLAT_SINE))]
    ends = ends[np.argsort(owner[ends[:, 0]], kind="stable")]
    used: Bools = np.zeros(len(points), dtype=bool)
    used[ends] = True
    return _parted(points, owner, np.flatnonzero(used), ends, faces, len(solids))


def _parted(
    points: Floats, owner: Ints, corner: Ints, edge: Ints, face: Ints, count: int
) -> tuple[Features, ...]:
    """Return features that stand in the order of their owners as those of each."""
    owners = np.arange(count + 1)
    own = (owner, owner[corner], owner[edge[:, 0]], owner[face[:, 0]])
    rows = np.array([np.searchsorted(each, owners) for each in own]).T
    return tuple(
        Features(
            points=points[p:p_end],
            owner=np.zeros(p_end - p, dtype=np.int64),
            corner=corner[c:c_end] - p,
            edge=edge[e:e_end] - p,
            face=face[f:f_end] - p,
        )
        for (p, c, e, f), (p_end, c_end, e_end, f_end) in pairwise(rows)
    )


def gathered(parts: Sequence[Solid | Features]) -> Features:
    """Return the features of several solids as one set, owners numbered in order."""
    solids = [part for part in parts if isinstance(part, Solid)]
    made = iter(features_of(solids))
    own = [next(made) if isinstance(part, Solid) else part for part in parts]
    counts = [len(part.points) for part in own]
    firsts = np.cumsum([0, *counts[:-1]])

    def numbered(kind: str) -> Ints:
        each = zip(own, firsts, strict=True)
        return np.concatenate([getattr(part, kind) + first for part, first in each])

    return Features(
        points=np.concatenate([part.points for part in own]),
        owner=np.repeat(np.arange(len(own)), counts),
        corner=numbered("corner"),
        edge=numbered("edge"),
        face=numbered("face"),
    )


def solid_of(parts: Features, owner: int) -> Solid:
    """Return one of the solids that the features belong to, welded."""
    first, end = np.searchsorted(parts.owner, [owner, owner + 1])
    faces = parts.face[parts.owner[parts.face[:, 0]] == owner]
    return Solid(parts.points[first:end], faces - first)


def skin(solids: Sequence[Solid]) -> tuple[Floats, Ints, Ints, Floats]:
    """Return points (n, 3) that are all apart, their owners (n,), faces (m, 3), unit normals."""
    points = np.concatenate([solid.vertices for solid in solids])
    counts = [len(solid.vertices) for solid in solids]
    owner = np.repeat(np.arange(len(solids)), counts)
    order = np.lexsort((points[:, 2], points[:, 1], points[:, 0], owner))
    points, owner = points[order], owner[order]
    new: Bools = np.ones(len(points), dtype=bool)
    new[1:] = (points[1:] != points[:-1]).any(axis=1) | (owner[1:] != owner[:-1])
    number = np.empty(len(points), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    firsts = np.cumsum([0, *counts[:-1]])
    faces = np.concatenate([s.faces + k for s, k in zip(solids, firsts, strict=True)])
    faces = number[faces]
    a, b, c = faces.T
    points, faces = points[new], faces[(a != b) & (b != c) & (c != a)]
    across = face_normals(points[faces])
    length = np.sqrt(np.einsum("ij,ij->i", across, across))
    some = length > 0
    return points, owner[new], faces[some], across[some] / length[some, None]


def edges_between(faces: Ints, count: int) -> tuple[Ints, Ints, Ints]:
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


def creased(solid: Solid, turn: float, toward: Floats | None = None) -> tuple[Floats, Ints, Ints]:
    """Return a closed solid's corners (n, 3), its faces (m, 3), and the edges to draw (k, 2).

    Edges at which its faces turn by more than ``turn`` (radians). Where the eye is
    ``toward`` (3,), only such with a face that looks there, and outlines: those
    between a face that does and one that does not.
    """
    points, _, faces, normals = skin([solid])
    ends, first, second = edges_between(faces, len(points))
    seen = np.ones(len(faces), dtype=bool) if toward is None else normals @ toward > 1e-9
    sharp = np.einsum("ij,ij->i", normals[first], normals[second]) < np.cos(turn)
    return points, faces, ends[(sharp & seen[first]) | (seen[first] != seen[second])]
