"""How high corners stand over faces while either turns about z, and rises."""

from __future__ import annotations

import numpy as np

from swingcheck.geometry.features import Features
from swingcheck.geometry.frames import turned_about_z
from swingcheck.geometry.solid import Floats, Ints, crossed, face_normals
from swingcheck.geometry.sweep import Sweep, corner_sweep, face_sweep


class Heights:
    """Corners of one set of solids over the faces of the other; one of the two turns.

    After a turn of ``t`` a corner stands ``A cos t + B sin t + C + G t`` over
    a face's plane; ``G`` is 0 where nothing rises.

    Parameters
    ----------
    movers, rest : Features
        In the axis's frame; the moving ones as the turn starts.
    corner_moves : bool
        Moving corners over fixed faces, else fixed corners under moving faces.
    rise : float
        Inches a radian, along the axis.
    """

    def __init__(
        self, movers: Features, rest: Features, *, corner_moves: bool, rise: float
    ) -> None:
        corners, faces = (movers, rest) if corner_moves else (rest, movers)
        self.corner_moves = corner_moves
        self.sense = 1.0 if corner_moves else -1.0
        self.climb = self.sense * rise
        self.corners, self.corner_owner = corners.corners, corners.corner_owner
        self.faces, self.face_owner = faces.faces, faces.face_owner
        points = self.faces
        across = face_normals(points)
        self.normals = across / np.linalg.norm(across, axis=1)[:, None]
        self.offsets = np.einsum("ij,ij->i", self.normals, points.mean(axis=1))
        sides = np.roll(points, -1, axis=1) - points
        sides /= np.linalg.norm(sides, axis=2)[:, :, None]
        self.inward = crossed(self.normals[:, None, :], sides)
        self.borders = np.einsum("ijk,ijk->ij", self.inward, points)

    def sweeps(self) -> tuple[Sweep, Sweep]:
        """Return what the moving features and the fixed ones sweep."""
        sweeps = corner_sweep(self.corners), face_sweep(self.faces)
        return sweeps if self.corner_moves else sweeps[::-1]

    def paired(self, first: Ints, second: Ints) -> tuple[Ints, Ints]:
        """Return pairs of a moving and a fixed one as corner and face, or the other way round."""
        return (first, second) if self.corner_moves else (second, first)

    def terms(self, corner: Ints, face: Ints) -> tuple[Floats, Floats, Floats, Floats]:
        """Return A, B, C and G (n,) of pairs of a corner and a face."""
        normals = self.normals[face]
        return *self.over(corner, normals, self.offsets[face]), self.climb * normals[:, 2]

    def over(self, corner: Ints, ways: Floats, offsets: Floats) -> tuple[Floats, Floats, Floats]:
        """Return A, B and C (n,) of corners along ways (n, 3) of the other's, past offsets (n,)."""
        p = self.corners[corner]
        return (
            ways[:, 0] * p[:, 0] + ways[:, 1] * p[:, 1],
            self.sense * (ways[:, 1] * p[:, 0] - ways[:, 0] * p[:, 1]),
            ways[:, 2] * p[:, 2] - offsets,
        )

    def inside(self, corner: Ints, face: Ints, turn: Floats, room: float) -> tuple[Ints, Floats]:
        """Return which pairs (k,) have the corner in its face, and where faces see it (k, 3)."""
        local = turned_about_z(self.corners[corner], self.sense * turn, self.climb * turn)
        depth = np.einsum("ijk,ik->ij", self.inward[face], local) - self.borders[face]
        rows = np.flatnonzero((depth >= -room).all(axis=1))
        return rows, local[rows]
