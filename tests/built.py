"""A scene's parts by name, as they are built, and what is held of them from outside swingcheck."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, hypot, sin, tan

import numpy as np
from numpy.typing import ArrayLike, NDArray

from swingcheck.assembly import assemble
from swingcheck.geometry.solid import Solid
from swingcheck.model import Edge, Scene
from tests.meshes import assert_closed, is_inside

Floats = NDArray[np.float64]

#: What facets may fall off a true face: of a bore or a twisted leg, and of a round edge; inches.
SKIN, EDGE_SKIN = 1e-3, 1e-4


def built(scene: Scene) -> dict[str, Solid]:
    """Return every part by its own name: the slab's in the slab frame, the rest in the opening's.

    The slab frame is where ``x`` runs from the hinge edge's wide-face arris, ``y = 0`` is the
    wide face and ``z = 0`` the bottom. Every part is a closed mesh.
    """
    hung = assemble(scene)
    parts = [*hung.moving, *hung.fixed]
    found = {part.name: part.solid for part in parts}
    assert len(found) == len(parts)
    for part in hung.moving:
        found[part.name] = Solid(hung.in_slab(part.solid.vertices), part.solid.faces)
    return found


def part(scene: Scene, name: str) -> Solid:
    """Return one part of a scene, closed."""
    solid = built(scene)[name]
    assert_closed(solid)
    return solid


def assert_face(solid: Solid, outward: ArrayLike, points: Iterable[ArrayLike], skin: float) -> None:
    """Check that there is material a skin's breadth behind each point and none before it."""
    step = skin * np.asarray(outward, dtype=float)
    for point in points:
        assert is_inside(solid, np.asarray(point) - step), point
        assert not is_inside(solid, np.asarray(point) + step), point


def corners(solid: Solid) -> set[tuple[float, ...]]:
    """Return the corners of a solid, to a millionth of an inch."""
    return set(map(tuple, (solid.vertices.round(6) + 0.0).tolist()))


def turned(angle: float, x: float, y: float) -> Floats:
    """Return a plan point turned about the origin."""
    return np.array([x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)])


def station(values: tuple[float, ...], share: float) -> float:
    """Return what is read at a share of the way down, straight between the readings."""
    return float(np.interp(share, np.linspace(0.0, 1.0, len(values)), values))


def on_leg(scene: Scene, side: int, z: float, along: float, out: float) -> Floats:
    """Return a plan point of the hinge (0) or strike (1) leg as it was measured, at a height.

    ``along`` its face from the pull-side edge and ``out`` of it, toward the other leg.
    """
    opening, way = scene.opening, (1.0, -1.0)[side]
    leg = (opening.hinge_leg, opening.strike_leg)[side]
    down, hinge_down = (1 - z / opening.height[k] for k in (side, 0))
    x = station(leg.plumb, down) * way
    if side:
        hinge = station(opening.hinge_leg.plumb, hinge_down) if len(opening.width) > 1 else 0.0
        x += hinge + station(opening.width, down)
    edge = np.array([x, station(leg.cross, down)])
    return edge + turned(way * station(leg.twist, down), way * out, -along)


def taken_by(edge: Edge, thickness: float) -> float:
    """Return what an edge takes off a square section (its area), from its definition."""
    if edge.radius:
        r, half = edge.radius, thickness / 2
        angle = np.arcsin(half / r)
        return float(thickness * r - (r**2 * angle + half * r * cos(angle)))
    return thickness**2 * tan(edge.bevel) / 2


def off_line(points: Floats, point: Floats, direction: Floats) -> float:
    """Return how far points are from a line, at most."""
    away = np.cross(points - point, direction / hypot(*direction))
    return float(np.linalg.norm(away, axis=-1).max())
