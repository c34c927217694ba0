"""Solids seen along a slant, as filled pieces in painter's order and the lines not hidden.

All of it is exact and needs no GL: the faces that look at the eye are put in
order by a tree of their own planes, and cut where they have to be (Fuchs,
Kedem and Naylor, 1980, "On visible surface generation by a priori tree
structures"); what hides a line is found by solving where the line passes
behind each face.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin, sqrt

import numpy as np

from swingcheck.geometry.features import edges_between, skin
from swingcheck.geometry.section import kept_half
from swingcheck.geometry.solid import Floats, Solid

SAME_PLANE_IN = 1e-7
"""Points nearer to a plane than this lie in it, inches."""

SHORTEST_IN = 1e-5
"""Shorter pieces of a line are not drawn, inches."""

SHARP = cos(radians(25.0))
"""Faces that turn by less do not make an edge."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Eye:
    """Looks along ``-toward``: ``right``, ``up`` and ``toward`` (3,), unit and square."""

    right: Floats
    up: Floats
    toward: Floats

    def seen(self, points: Floats) -> Floats:
        """Return points (..., 3) on the drawing, (..., 2): across, up."""
        found: Floats = points @ np.stack([self.right, self.up]).T
        return found

    def depth(self, points: Floats) -> Floats:
        """Return how near points (n, 3) are to the eye, (n,)."""
        found: Floats = np.asarray(points) @ self.toward
        return found


def eye_from(aside: float, above: float) -> Eye:
    """Return an eye on the side of +x, turned to +y by ``aside`` and raised by ``above``, degrees.

    Examples
    --------
    >>> eye_from(0.0, 0.0).seen(np.array([5.0, 1.0, 2.0])).tolist()
    [1.0, 2.0]
    """
    turn, rise = radians(aside), radians(above)
    toward = np.array([cos(turn) * cos(rise), sin(turn) * cos(rise), sin(rise)])
    right = np.array([-sin(turn), cos(turn), 0.0])
    return Eye(right=right, up=np.cross(toward, right), toward=toward)


ISOMETRIC = eye_from(45.0, np.degrees(np.arctan(1 / sqrt(2))))
"""Sees all three directions at one scale, sqrt(2 / 3) of true length (ISO 5456-3, isometric)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Facet:
    """A flat piece (n, 3) of a solid's skin, ``normal`` (3,) outward; ``owner`` names the solid."""

    corners: Floats
    normal: Floats
    owner: int


def facing(solids: Sequence[Solid], eye: Eye) -> list[Facet]:
    """Return the triangles of solids that look at the eye."""
    found = []
    for owner, solid in enumerate(solids):
        for corners in solid.vertices[solid.faces]:
            across = np.cross(corners[1] - corners[0], corners[2] - corners[0])
            length = float(np.linalg.norm(across))
            if length > 0 and across @ eye.toward > 1e-9 * length:
                found.append(Facet(corners=corners, normal=across / length, owner=owner))
    return found


def painted(facets: Sequence[Facet], eye: Eye) -> list[Facet]:
    """Return facets cut and ordered so that painting them one after another is right."""
    order: list[Facet] = []
    _paint(list(facets), eye, order)
    return order


def _paint(facets: list[Facet], eye: Eye, order: list[Facet]) -> None:
    """Append facets from the farthest on: behind the first one's plane, in it, before it."""
    while facets:
        root = facets[len(facets) // 2]
        offset = float(root.normal @ root.corners[0])
        behind: list[Facet] = []
        within: list[Facet] = []
        before: list[Facet] = []
        for facet in facets:
            _sort(facet, root.normal, offset, behind, within, before)
        _paint(behind, eye, order)
        order += within
        facets = before  # every facet looks at the eye, which is before each plane


def _sort(
    facet: Facet,
    normal: Floats,
    offset: float,
    behind: list[Facet],
    within: list[Facet],
    before: list[Facet],
) -> None:
    """Put a facet on its side of a plane, in two pieces where it stands through it."""
    height = facet.corners @ normal - offset
    if (np.abs(height) <= SAME_PLANE_IN).all():
        within.append(facet)
    elif (height >= -SAME_PLANE_IN).all():
        before.append(facet)
    elif (height <= SAME_PLANE_IN).all():
        behind.append(facet)
    else:
        for side, pieces in ((height, before), (-height, behind)):
            kept = kept_half(facet.corners, side, SAME_PLANE_IN)
            if len(kept) >= 3:
                pieces.append(Facet(corners=kept, normal=facet.normal, owner=facet.owner))


def drawn_edges(solid: Solid, eye: Eye) -> Floats:
    """Return the edges (n, 2, 3) that a draughtsman draws: sharp ones, and outlines.

    Of the sharp ones those with a face toward the eye; an outline is an edge
    between a face toward the eye and one away from it.
    """
    return edges_of(solid, SHARP, eye.toward)


def edges_of(solid: Solid, sharp: float, toward: Floats | None = None) -> Floats:
    """Return the edges (n, 2, 3) of a solid at which its faces turn sharply.

    Parameters
    ----------
    solid : Solid
        Closed.
    sharp : float
        The cosine of how far two faces turn, from which on they make an edge.
    toward : (3,) float64, optional
        To where the eye is: then outlines too, and no edge that both faces
        turn away from it.
    """
    vertices, _, faces, normals = skin([solid])
    ends, first, second = edges_between(faces, len(vertices))
    seen = np.ones(len(faces), dtype=bool) if toward is None else normals @ toward > 1e-9
    turned = np.einsum("ij,ij->i", normals[first], normals[second]) < sharp
    outline = seen[first] != seen[second]
    return vertices[ends[(turned & seen[first]) | outline]]


def visible(lines: Floats, facets: Sequence[Facet], eye: Eye) -> Floats:
    """Return the pieces (m, 2, 3) of lines (n, 2, 3) that no facet hides.

    Parameters
    ----------
    lines : (n, 2, 3) float64
        What to draw.
    facets : sequence of Facet
        Triangles that look at the eye, as :func:`facing` returns them.
    eye : Eye
        Where from.
    """
    if not len(facets):
        return lines
    triangles = np.array([facet.corners for facet in facets])
    pieces = []
    for line in lines:
        for start, end in _open_shares(_hidden_shares(line, triangles, eye)):
            ends = line[0] + np.array([[start], [end]]) * (line[1] - line[0])
            if np.linalg.norm(ends[1] - ends[0]) > SHORTEST_IN:
                pieces.append(ends)
    return np.array(pieces).reshape(-1, 2, 3)


def _hidden_shares(line: Floats, triangles: Floats, eye: Eye) -> Floats:
    """Return where triangles (m, 3, 3) hide a line, as shares of its length (k, 2).

    Along the line the signed distances to a triangle's three sides, seen from
    the eye, and the depth under its plane are all linear; where all four are
    positive the line is hidden.
    """
    flat, near = eye.seen(triangles), eye.depth(triangles)
    ends, depth = eye.seen(line), eye.depth(line)
    sides = np.roll(flat, -1, axis=1) - flat
    lengths = np.maximum(np.linalg.norm(sides, axis=2), 1e-300)
    inward = np.stack([-sides[:, :, 1], sides[:, :, 0]], axis=2) / lengths[:, :, None]
    inside = np.einsum("tsk,etsk->ets", inward, ends[:, None, None, :] - flat[None])
    under = _depth_at(flat, near, ends) - depth[:, None]
    heights = np.concatenate(
        [inside + SAME_PLANE_IN, under[:, :, None] - 10 * SAME_PLANE_IN], axis=2
    )
    first, slope = heights[0], heights[1] - heights[0]
    with np.errstate(divide="ignore", invalid="ignore"):
        root = -first / slope
    low = np.where(slope > 0, root, np.where((slope == 0) & (first <= 0), np.inf, -np.inf))
    high = np.where(slope < 0, root, np.inf)
    spans = np.stack([np.maximum(low.max(axis=1), 0.0), np.minimum(high.min(axis=1), 1.0)], axis=1)
    return spans[spans[:, 0] < spans[:, 1]]


def _depth_at(flat: Floats, near: Floats, points: Floats) -> Floats:
    """Return the depth of triangles' planes under points (n, 2) of the drawing, (n, m)."""
    u, v = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    away = points[:, None, :] - flat[None, :, 0]
    a = (away[:, :, 0] * v[:, 1] - away[:, :, 1] * v[:, 0]) / area
    b = (u[:, 0] * away[:, :, 1] - u[:, 1] * away[:, :, 0]) / area
    found: Floats = near[:, 0] + a * (near[:, 1] - near[:, 0]) + b * (near[:, 2] - near[:, 0])
    return found


def _open_shares(hidden: Floats) -> list[tuple[float, float]]:
    """Return what spans (k, 2) leave open of 0 to 1."""
    left = []
    free = 0.0
    for start, end in hidden[np.argsort(hidden[:, 0], kind="stable")].tolist():
        if start > free:
            left.append((free, start))
        free = max(free, end)
    return [*left, (free, 1.0)] if free < 1.0 else left
