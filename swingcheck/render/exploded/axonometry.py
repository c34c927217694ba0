"""Solids and lines seen along a slant, in painter's order: no line needs to be found hidden.

It is exact and needs no GL: what looks at the eye is put in order by a tree of
the faces' own planes, and cut where it has to be (Fuchs, Kedem and Naylor,
1980, "On visible surface generation by a priori tree structures").
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from swingcheck.geometry.section import kept_half
from swingcheck.geometry.solid import Floats, Solid, face_normals
from swingcheck.render.pen.eye import Eye, eye_from

SAME_PLANE_IN = 1e-7
"""Points nearer to a plane than this lie in it, inches."""

LIFTED_IN = 0.03
"""A stroke is taken so much nearer to the eye, inches: no face that it runs along covers half."""

ISOMETRIC = eye_from(45.0, np.degrees(np.arctan(1 / sqrt(2))))
"""Sees all three directions at one scale, sqrt(2 / 3) of true length (ISO 5456-3, isometric)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A flat piece (n, 3) of a solid's skin, ``normal`` (3,) outward, or a stroke (2, 3) without.

    ``owner`` names the solid, or the kind of line.
    """

    corners: Floats
    owner: int
    normal: Floats | None = None


def facing(solids: Sequence[Solid], eye: Eye) -> list[Piece]:
    """Return the triangles of solids that look at the eye."""
    found = []
    for owner, solid in enumerate(solids):
        across = face_normals(solid.vertices[solid.faces])
        length = np.linalg.norm(across, axis=1)
        for k in np.flatnonzero(across @ eye.toward > 1e-9 * length):
            corners = solid.vertices[solid.faces[k]]
            found.append(Piece(corners=corners, owner=owner, normal=across[k] / length[k]))
    return found


def strokes(lines: Floats, kind: int, eye: Eye) -> list[Piece]:
    """Return lines (n, 2, 3) to be painted over the faces that they run along."""
    return [Piece(corners=line + LIFTED_IN * eye.toward, owner=kind) for line in lines]


def painted(pieces: Sequence[Piece]) -> list[Piece]:
    """Return pieces cut and ordered so that painting them one after another is right."""
    order: list[Piece] = []
    _paint(list(pieces), order)
    return order


def _paint(pieces: list[Piece], order: list[Piece]) -> None:
    """Append pieces from the farthest on: behind a middle one's plane, in it, before it."""
    while facets := [piece for piece in pieces if piece.normal is not None]:
        root = facets[len(facets) // 2]
        behind: list[Piece] = []
        within: list[Piece] = []
        before: list[Piece] = []
        for piece in pieces:
            height = (piece.corners - root.corners[0]) @ root.normal
            if piece.normal is not None and (np.abs(height) <= SAME_PLANE_IN).all():
                within.append(piece)
            elif (height >= -SAME_PLANE_IN).all():  # a stroke in the plane lies over what is in it
                before.append(piece)
            elif (height <= SAME_PLANE_IN).all():
                behind.append(piece)
            else:
                before += _half(piece, height)
                behind += _half(piece, -height)
        _paint(behind, order)
        order += within
        pieces = before  # every facet looks at the eye, which is before each plane
    order += pieces


def _half(piece: Piece, height: Floats) -> list[Piece]:
    """Return what of a piece is not below a plane, given the height over it of its corners."""
    kept = kept_half(piece.corners, height, SAME_PLANE_IN)
    count = min(len(piece.corners), 3)
    # a stroke, there and back, is cut twice at one point
    return [replace(piece, corners=kept[-2:] if count == 2 else kept)] if len(kept) >= count else []
