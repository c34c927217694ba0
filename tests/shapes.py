"""Closed solids for the geometry tests, plain ones by size and random ones by seed; inches."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin

import manifold3d
import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

from swingcheck.geometry.solid import Solid, closed_solid

Floats = NDArray[np.float64]
Rng = np.random.Generator


def loft(outlines: Sequence[Floats], heights: Sequence[float]) -> Solid:
    """Return the solid through plan outlines (n, 2), counter-clockwise, at rising heights."""
    count = len(outlines[0])
    rings = [
        np.column_stack([outline, np.full(count, height)])
        for outline, height in zip(outlines, heights, strict=True)
    ]
    following = np.roll(np.arange(count), -1)
    faces: list[NDArray[np.int64]] = []
    for k in range(len(rings) - 1):
        low, high = k * count, (k + 1) * count
        here = np.arange(count)
        faces.append(np.column_stack([low + here, low + following, high + following]))
        faces.append(np.column_stack([low + here, high + following, high + here]))
    bottom = np.asarray(manifold3d.triangulate([np.asarray(outlines[0])]), dtype=np.int64)
    top = np.asarray(manifold3d.triangulate([np.asarray(outlines[-1])]), dtype=np.int64)
    faces += [bottom[:, ::-1], top + (len(rings) - 1) * count]
    return closed_solid("loft", np.concatenate(rings), np.concatenate(faces))


def prism(outline: Floats, low: float, high: float) -> Solid:
    """Return the upright prism over a plan outline (n, 2), counter-clockwise."""
    return loft([np.asarray(outline, float)] * 2, [low, high])


def box(low: Sequence[float], high: Sequence[float]) -> Solid:
    """Return the box between two corners."""
    return prism(rectangle(low[0], low[1], high[0], high[1]), low[2], high[2])


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Floats:
    """Return a rectangle's outline (4, 2), counter-clockwise."""
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=float)


def hull(points: Floats) -> Solid:
    """Return the convex hull of points (n, 3), wound outward."""
    found = ConvexHull(points)
    used = np.unique(found.simplices)
    renumber = np.zeros(len(points), dtype=np.int64)
    renumber[used] = np.arange(len(used))
    corners = points[found.simplices]
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    inverted = (across * found.equations[:, :3]).sum(axis=1) < 0
    faces = renumber[found.simplices]
    faces[inverted] = faces[inverted][:, ::-1]
    return closed_solid("hull", points[used], faces)


def less(body: Solid, *cutters: Solid) -> Solid:
    """Return a solid with others cut out of it."""

    def manifold(solid: Solid) -> manifold3d.Manifold:
        return manifold3d.Manifold(
            manifold3d.Mesh64(
                vert_properties=np.array(solid.vertices), tri_verts=solid.faces.astype(np.uint64)
            )
        )

    left = manifold(body)
    for cutter in cutters:
        left = left - manifold(cutter)
    mesh = left.to_mesh64()
    return closed_solid("cut", np.asarray(mesh.vert_properties), np.asarray(mesh.tri_verts))


def placed(solid: Solid, turn: Rotation, shift: Floats) -> Solid:
    """Return a solid turned and shifted."""
    return solid.moved(turn.as_matrix(), np.asarray(shift, float))


def random_turn(rng: Rng, most: float = pi) -> Rotation:
    """Return a turn about a random direction by up to ``most`` radians."""
    direction = rng.normal(size=3)
    return Rotation.from_rotvec(direction / np.linalg.norm(direction) * rng.uniform(0, most))


def random_outline(rng: Rng, corners: int) -> Floats:
    """Return a star-shaped outline about the origin, counter-clockwise; may be concave."""
    angles = (np.arange(corners) + rng.uniform(0, 0.45, corners)) * 2 * pi / corners
    radii = rng.uniform(0.4, 1.0, corners)
    return np.column_stack([radii * np.cos(angles), radii * np.sin(angles)])


def random_box(rng: Rng) -> Solid:
    """Return a leaning box or slat, up to 8 in long."""
    size = rng.uniform(0.2, 1.0, 3) * rng.choice([1.0, 2.0, 4.0], 3)
    return placed(box(-size, size), random_turn(rng), np.zeros(3))


def random_prism(rng: Rng) -> Solid:
    """Return a leaning prism over a random outline."""
    outline = random_outline(rng, int(rng.integers(3, 8))) * rng.uniform(0.5, 2)
    height = rng.uniform(0.3, 3)
    return placed(prism(outline, -height, height), random_turn(rng), np.zeros(3))


def random_loft(rng: Rng) -> Solid:
    """Return a leaning loft that tapers, twists and bows."""
    stations = int(rng.integers(2, 5))
    outline = random_outline(rng, int(rng.integers(3, 7))) * rng.uniform(0.5, 1.5)
    outlines = []
    for _ in range(stations):
        twist = rng.uniform(-0.3, 0.3)
        turn = np.array([[cos(twist), -sin(twist)], [sin(twist), cos(twist)]])
        stretched = outline * rng.uniform(0.6, 1.2, (1, 2))
        outlines.append(stretched @ turn.T + rng.uniform(-0.3, 0.3, 2))
    heights = np.linspace(-1, 1, stations) * rng.uniform(0.5, 3)
    return placed(loft(outlines, list(heights)), random_turn(rng), np.zeros(3))


def random_hull(rng: Rng) -> Solid:
    """Return the hull of a random cloud."""
    points = rng.normal(size=(int(rng.integers(4, 25)), 3)) * rng.uniform(0.3, 1.2, 3)
    return hull(points)


def random_concave(rng: Rng) -> Solid:
    """Return a notched or pierced block, or a spiky ball."""
    kind = rng.integers(3)
    if kind == 0:
        body = box((-1.5, -1, -1), (1.5, 1, 1))
        cut = box((-0.6, -0.4, -2), (0.7, 2 if rng.random() < 0.5 else 0.5, 2))
        solid = less(body, placed(cut, random_turn(rng, 0.3), np.zeros(3)))
    elif kind == 1:
        body = box((-2, -0.5, -1), (2, 0.5, 1))
        cuts = [
            placed(box((-0.3, -2, -0.4), (0.3, 2, 0.4)), random_turn(rng, 0.2), np.array([x, 0, 0]))
            for x in (-1.2, 0.0, 1.1)
        ]
        solid = less(body, *cuts)
    else:
        ball = hull(rng.normal(size=(20, 3)))
        reach = np.linalg.norm(ball.vertices, axis=1, keepdims=True)
        solid = Solid(ball.vertices / reach * rng.uniform(0.7, 1.5, reach.shape), ball.faces)
    scale = rng.uniform(0.5, 1.5)
    return placed(Solid(solid.vertices * scale, solid.faces), random_turn(rng), np.zeros(3))


def overlapping_outlines(first: Floats, second: Floats) -> bool:
    """Return whether two outlines share area, by the boolean library's plan sections."""
    both = manifold3d.CrossSection([first]) ^ manifold3d.CrossSection([second])
    return bool(both.area() > 0)


def enclosed_area(outlines: Sequence[np.ndarray]) -> float:
    """Return what outlines (n, 2) enclose, holes taken off, square inches: the shoelace formula."""
    return sum(
        float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2 for x, y in (o.T for o in outlines)
    )
