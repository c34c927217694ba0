"""Independent answers for a solid that turns about a line: none of it uses swingcheck's contact.

The collision library python-fcl says whether two triangle meshes touch, and how far apart they
are. Three ways of finding the first contact are built on it, each with another weakness:

* :meth:`Peer.stepped` poses the parts at even angles and narrows the first touching step by
  bisection; it misses a glance that is thinner than the step.
* :meth:`Peer.advanced` turns by ``distance / radius`` at a time. No point of the moving part
  travels farther than the distance that is left, so it can pass nothing; it creeps where parts
  run close side by side, and says nothing about a start that already touches.
* :meth:`Peer.refined` steps a short window very finely, to explain what the first one missed.

A mesh wholly inside another touches none of its triangles, so a point-inside test by winding
number (Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125: solid angle of a
triangle) stands beside every collision test. Poses come from scipy's rotations.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot

import fcl
import numpy as np
from numpy.typing import NDArray
from scipy.spatial.distance import pdist
from scipy.spatial.transform import Rotation

from swingcheck.geometry.solid import Solid

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class TurningScene:
    """Solids at angle 0, the line that the moving ones turn about, and how far they turn.

    ``point`` (3,) is on the line, ``direction`` (3,) along it, of any length; ``start`` and
    ``stop`` are radians, ``stop`` below ``start`` turning the other way. The moving ones climb
    along it by ``rise`` inches a radian.
    """

    label: str
    moving: tuple[Solid, ...]
    fixed: tuple[Solid, ...]
    point: Floats
    direction: Floats
    start: float
    stop: float
    rise: float = 0.0

    def __repr__(self) -> str:
        counts = f"{len(self.moving)} moving, {len(self.fixed)} fixed"
        return f"<{self.label}: {counts}, {self.start:.6f} to {self.stop:.6f}>"

    @property
    def sense(self) -> float:
        """+1 where the angle grows, -1 where it falls."""
        return 1.0 if self.stop > self.start else -1.0

    @property
    def size(self) -> float:
        """The farthest corner from the line's point."""
        corners = np.concatenate([s.vertices for s in (*self.moving, *self.fixed)])
        return float(np.linalg.norm(corners - self.point, axis=1).max())

    def over(self, start: float, stop: float) -> TurningScene:
        """Return the same solids over another turn."""
        return replace(self, start=start, stop=stop)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """The parts are apart at ``free`` and touch at ``touching``; ``pair`` is (moving, fixed).

    ``nestable`` are the pairs of which one can be wholly inside the other in between.
    """

    free: float
    touching: float
    pair: tuple[int, int]
    nestable: Sequence[tuple[int, int]]


def turned(points: Floats, scene: TurningScene, angle: float) -> Floats:
    """Return the points (n, 3) turned by an angle about the scene's line."""
    axis = scene.direction / np.linalg.norm(scene.direction)
    lifted = scene.point + scene.rise * angle * axis
    return Rotation.from_rotvec(angle * axis).apply(points - scene.point) + lifted


def posed(solid: Solid, scene: TurningScene, angle: float) -> Solid:
    """Return a moving solid as it stands at an angle."""
    return Solid(turned(solid.vertices, scene, angle), solid.faces)


def winding_numbers(points: Floats, solid: Solid) -> Floats:
    """Return how often the solid's surface winds about each point: 1 inside, 0 outside."""
    corners = solid.vertices[solid.faces]
    a, b, c = (corners[None, :, k] - points[:, None, :] for k in range(3))
    la, lb, lc = (np.linalg.norm(v, axis=2) for v in (a, b, c))
    top = np.einsum("pfk,pfk->pf", a, np.cross(b, c))
    bottom = la * lb * lc
    bottom += np.einsum("pfk,pfk->pf", a, b) * lc
    bottom += np.einsum("pfk,pfk->pf", b, c) * la
    bottom += np.einsum("pfk,pfk->pf", c, a) * lb
    return np.asarray(np.arctan2(top, bottom).sum(axis=1) / (2 * np.pi))


def first_corners(solid: Solid) -> Floats:
    """Return one corner (k, 3) of each connected piece of the surface."""
    piece = np.arange(len(solid.vertices))
    while True:
        lowest = piece.copy()
        np.minimum.at(lowest, solid.faces, piece[solid.faces].min(axis=1, keepdims=True))
        if np.array_equal(lowest, piece):
            break
        piece = lowest
    used = np.unique(solid.faces)
    return solid.vertices[np.unique(piece[used])]


def span(solid: Solid) -> float:
    """Return the distance between the two corners that are farthest apart."""
    return float(pdist(solid.vertices).max())


def thickness(solid: Solid) -> float:
    """Return the extent across the direction in which the corners spread least."""
    away = solid.vertices - solid.vertices.mean(axis=0)
    least = np.linalg.svd(away, full_matrices=False)[2][-1]
    return float(np.ptp(away @ least))


def mesh_model(solid: Solid) -> fcl.BVHModel:
    model = fcl.BVHModel()
    model.beginModel(len(solid.vertices), len(solid.faces))
    model.addSubModel(np.array(solid.vertices), np.array(solid.faces))
    model.endModel()
    return model


class Peer:
    """A scene handed over to the collision library."""

    def __init__(self, scene: TurningScene) -> None:
        self.scene = scene
        self.axis = scene.direction / np.linalg.norm(scene.direction)
        self._fixed = [fcl.CollisionObject(mesh_model(s), fcl.Transform()) for s in scene.fixed]
        self._moving = [fcl.CollisionObject(mesh_model(s), fcl.Transform()) for s in scene.moving]
        self._request = fcl.CollisionRequest()
        self._pairs = [(i, j) for i in range(len(self._moving)) for j in range(len(self._fixed))]

    def touching_pair(
        self, angle: float, nestable: Sequence[tuple[int, int]]
    ) -> tuple[int, int] | None:
        """Return the first (moving, fixed) pair that overlaps or touches at an angle."""
        self._pose(angle)
        return self._colliding_pair() or self._nestings(np.array([angle]), nestable).get(0)

    def touching_fixed(self, angle: float) -> set[int]:
        """Return every fixed part that overlaps or touches a moving one at an angle."""
        self._pose(angle)
        found = {
            j
            for i, j in self._pairs
            if fcl.collide(self._moving[i], self._fixed[j], self._request, fcl.CollisionResult())
        }
        rest = [pair for pair in self._pairs if pair[1] not in found]
        nested = {j for i, j in rest if self._nestings(np.array([angle]), [(i, j)])}
        return found | nested

    def distance(self, angle: float) -> float:
        """Return the least distance between the surfaces at an angle, 0 where they meet."""
        self._pose(angle)
        return min(self._gap(i, j) for i, j in self._pairs)

    def stepped(self, step: float) -> Bracket | None:
        """Return the first step that ends in a touch, or ``None``; the start is not looked at."""
        scene = self.scene
        count = max(1, int(np.ceil(abs(scene.stop - scene.start) / step - 1e-9)))
        angles = scene.start + scene.sense * step * np.arange(count + 1)
        angles[-1] = scene.stop
        nestable = self._swallowable(step)
        nested = self._nestings(angles, nestable)
        turns = Rotation.from_rotvec(angles[:, None] * self.axis).as_matrix()
        shifts = scene.point - turns @ scene.point + scene.rise * angles[:, None] * self.axis
        for k in range(1, count + 1):
            self._move_to(turns[k], shifts[k])
            pair = self._colliding_pair() or nested.get(k)
            if pair is not None:
                return Bracket(
                    free=float(angles[k - 1]),
                    touching=float(angles[k]),
                    pair=pair,
                    nestable=nestable,
                )
        return None

    def bisected(self, bracket: Bracket, width: float = 1e-12) -> Bracket:
        """Return the bracket narrowed to a width in radians."""
        free, touching, pair = bracket.free, bracket.touching, bracket.pair
        while abs(touching - free) > width:
            middle = (free + touching) / 2
            found = self.touching_pair(middle, bracket.nestable)
            if found is None:
                free = middle
            else:
                touching, pair = middle, found
        return replace(bracket, free=free, touching=touching, pair=pair)

    def refined(self, start: float, stop: float, steps: int = 400) -> Bracket | None:
        """Return the first touch over a short window, stepped finely and then bisected."""
        window = Peer.__new__(Peer)
        window.__dict__.update(self.__dict__)
        window.scene = self.scene.over(start, stop)
        found = window.stepped(abs(stop - start) / steps)
        return None if found is None else window.bisected(found)

    def advanced(self, near: float = 1e-9) -> float | None:
        """Return an angle up to which every pair is certainly apart, within ``near`` of a touch.

        ``None`` where no pair comes so near before the end of the turn.
        """
        found: float | None = None
        for i, moving in enumerate(self.scene.moving):
            for j, fixed in enumerate(self.scene.fixed):
                reach = hypot(min(self._farthest(moving), self._farthest(fixed)), self.scene.rise)
                turn = self._advanced_turn(i, j, reach, near, found)
                if turn is not None:
                    found = turn
        return None if found is None else self.scene.start + self.scene.sense * found

    def _advanced_turn(
        self, i: int, j: int, reach: float, near: float, best: float | None
    ) -> float | None:
        end = abs(self.scene.stop - self.scene.start) if best is None else best
        turn = 0.0
        while turn < end:
            self._pose(self.scene.start + self.scene.sense * turn)
            gap = self._gap(i, j)
            if gap <= near:
                return turn
            turn += gap / reach
        return None

    def _farthest(self, solid: Solid) -> float:
        offsets = solid.vertices - self.scene.point
        return float(np.linalg.norm(np.cross(offsets, self.axis), axis=1).max())

    def _gap(self, i: int, j: int) -> float:
        result = fcl.DistanceResult()
        gap = fcl.distance(self._moving[i], self._fixed[j], fcl.DistanceRequest(), result)
        return max(0.0, float(gap))

    def _pose(self, angle: float) -> None:
        turn = Rotation.from_rotvec(angle * self.axis).as_matrix()
        lift = self.scene.rise * angle * self.axis
        self._move_to(turn, self.scene.point - turn @ self.scene.point + lift)

    def _move_to(self, turn: Floats, shift: Floats) -> None:
        pose = fcl.Transform(turn, shift)
        for moving in self._moving:
            moving.setTransform(pose)

    def _colliding_pair(self) -> tuple[int, int] | None:
        for i, j in self._pairs:
            if fcl.collide(self._moving[i], self._fixed[j], self._request, fcl.CollisionResult()):
                return i, j
        return None

    def _swallowable(self, step: float) -> list[tuple[int, int]]:
        """Return the pairs of which a step may carry one part from outside the other to inside.

        A part thicker than twice the way it travels in a step is seen half-way in.
        """
        found = []
        for i, j in self._pairs:
            moving, fixed = self.scene.moving[i], self.scene.fixed[j]
            reach = min(self._farthest(moving), self._farthest(fixed))
            travel = step * hypot(reach, self.scene.rise)
            if min(thickness(moving), thickness(fixed)) < 2 * travel:
                found.append((i, j))
        return found

    def _nestings(
        self, angles: Floats, pairs: Sequence[tuple[int, int]]
    ) -> dict[int, tuple[int, int]]:
        """Return the places in ``angles`` at which one part stands inside another, and which."""
        found: dict[int, tuple[int, int]] = {}
        for i, j in pairs:
            moving, fixed = self.scene.moving[i], self.scene.fixed[j]
            if span(moving) < span(fixed):
                inside = self._inside(first_corners(moving), angles, fixed)
            else:
                inside = self._inside(first_corners(fixed), -angles, moving)
            found.update(dict.fromkeys(np.flatnonzero(inside).tolist(), (i, j)))
        return found

    def _inside(self, corners: Floats, angles: Floats, outer: Solid) -> NDArray[np.bool_]:
        """Return at which angles any of the corners, turned, is inside a solid."""
        turns = Rotation.from_rotvec(angles[:, None] * self.axis).as_matrix()
        places = np.einsum("aij,cj->aci", turns, corners - self.scene.point) + self.scene.point
        places += self.scene.rise * angles[:, None, None] * self.axis
        near = ((places > outer.bounds[0]) & (places < outer.bounds[1])).all(axis=2)
        inside = np.zeros(near.shape, dtype=bool)
        if near.any():
            inside[near] = winding_numbers(places[near], outer) > 0.5
        return inside.any(axis=1)


def _edges(solid: Solid) -> Floats:
    pairs = np.sort(solid.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    return solid.vertices[np.unique(pairs, axis=0)]


def _corner_face_distance(triangles: Floats, points: Floats) -> float:
    """Return the least distance from points to the insides of triangles, infinite if none."""
    a, b, c = (triangles[:, k] for k in range(3))
    normal = np.cross(b - a, c - a)
    normal = normal / np.linalg.norm(normal, axis=1, keepdims=True)
    height = np.einsum("pfk,fk->pf", points[:, None] - a[None], normal)
    inside = np.ones_like(height, dtype=bool)
    for p, q in ((a, b), (b, c), (c, a)):
        inward = np.cross(normal, q - p)
        inside &= np.einsum("pfk,fk->pf", points[:, None] - p[None], inward) >= 0
    return float(np.abs(height[inside]).min(initial=np.inf))


def surface_distance(point: Floats, solids: Sequence[Solid]) -> float:
    """Return the distance from a point (3,) to the nearest surface among solids."""
    gaps = []
    for solid in solids:
        gaps.append(_corner_face_distance(solid.vertices[solid.faces], point[None]))
        edges = _edges(solid)
        along = edges[:, 1] - edges[:, 0]
        place = ((point - edges[:, 0]) * along).sum(axis=1) / (along**2).sum(axis=1)
        feet = edges[:, 0] + np.clip(place, 0, 1)[:, None] * along
        gaps.append(float(np.linalg.norm(feet - point, axis=1).min()))
    return min(gaps)
