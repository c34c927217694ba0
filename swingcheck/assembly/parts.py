"""Parts with their trade names, the pin line, and the whole assembly.

The opening frame is right-handed, with the pull side toward +y and up +z: to
somebody on the pull side, +x points to the left, and the hinge leg at x = 0
stands on the right. An opening with its hinges on the left, seen from the pull
side, is its mirror image in x. Numbers are the same for both; meshes and
pictures pass through :func:`as_hung` as they leave.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum

from swingcheck.geometry.frames import turning
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.model import Relation, Scene


class PartKind(Enum):
    """What a part is, in the trade's words."""

    SLAB = "slab"
    SLAB_LEAF = "slab leaf"
    JAMB_LEAF = "jamb leaf"
    BARREL = "barrel"
    HINGE_LEG = "hinge leg"
    STRIKE_LEG = "strike leg"
    HEAD = "head"
    HINGE_STOP = "hinge stop"
    STRIKE_STOP = "strike stop"
    HEAD_STOP = "head stop"
    FLOOR = "floor"
    CASING = "casing"
    WALL = "wall"
    OBSTACLE = "obstacle"
    THRESHOLD = "threshold"
    CARPET = "carpet"
    BASEBOARD = "baseboard"
    WALL_RETURN = "wall return"
    ASTRAGAL = "astragal"
    APPLIED = "applied panel"
    HANDLE = "handle"
    INACTIVE = "inactive slab"
    ACTIVE = "active slab"
    LOWER = "lower slab"
    UPPER = "upper slab"
    SHELF = "shelf"
    NEIGHBOUR = "neighbour's slab"
    OTHER_LEAF = "another slab's leaf"


#: What the slab sweeps over.
GROUND = (PartKind.FLOOR, PartKind.CARPET, PartKind.THRESHOLD)

#: What is fitted to the slab and turns with it.
FITTED = (PartKind.ASTRAGAL, PartKind.APPLIED, PartKind.HANDLE)

#: Parts of further slabs, that stand closed beside this one.
BESIDE = (
    PartKind.INACTIVE,
    PartKind.ACTIVE,
    PartKind.LOWER,
    PartKind.UPPER,
    PartKind.SHELF,
    PartKind.NEIGHBOUR,
    PartKind.OTHER_LEAF,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """A named solid in the opening frame; a moving part stands closed."""

    name: str
    kind: PartKind
    solid: Solid
    hinge: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Axis:
    """The pin line: ``point`` (3,) on it, the unit ``direction`` (3,), and the climb.

    The slab opens right-handed about the direction, which is up but for a slab
    hung on the strike leg. ``rise`` is how far it climbs along the direction
    as it opens, inches a radian: nothing but on rising hinges.
    """

    point: Floats
    direction: Floats
    rise: float = 0.0

    def at(self, height: float) -> Floats:
        """Return the line's point (3,) at a height, opening frame."""
        on_line: Floats = self.point + self.direction * (
            (height - self.point[2]) / self.direction[2]
        )
        return on_line

    def move(self, angle: float) -> tuple[Floats, Floats]:
        """Return the rotation (3, 3) and shift (3,) of opening by ``angle`` radians."""
        turn = turning(self.direction, angle)
        return turn, self.point - turn @ self.point + self.rise * angle * self.direction

    def turned(self, solid: Solid, angle: float) -> Solid:
        """Return the solid turned by ``angle`` radians about the line, positive opening."""
        return solid.moved(*self.move(angle))

    def turned_points(self, points: Floats, angle: float) -> Floats:
        """Return points (..., 3) turned by ``angle`` radians about the line."""
        turn, shift = self.move(angle)
        return points @ turn.T + shift


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hang:
    """The pin line, and ``place`` (3, 4) from the slab frame to the opening frame, closed.

    ``jamb_pins`` and ``slab_pins`` (pins, 3) are the pins that each side
    carries, top first, both in the opening frame: a hinge's at its leaves'
    mid-length, pivots' at the slab's top and bottom.
    """

    axis: Axis
    place: Floats
    jamb_pins: Floats
    slab_pins: Floats

    def placed(self, points: Floats) -> Floats:
        """Return points (..., 3) of the slab frame on the closed slab, opening frame."""
        return points @ self.place[:, :3].T + self.place[:, 3]

    def in_slab(self, points: Floats) -> Floats:
        """Return points (..., 3) of the opening frame in the closed slab's frame."""
        return (points - self.place[:, 3]) @ self.place[:, :3]

    def closed(self, parts: Iterable[Part]) -> tuple[Part, ...]:
        """Return the slab's parts, built in its own frame, as they stand closed."""
        rotation, shift = self.place[:, :3], self.place[:, 3]
        return tuple(replace(part, solid=part.solid.moved(rotation, shift)) for part in parts)

    def assembly(
        self,
        scene: Scene,
        *,
        moving: tuple[Part, ...] = (),
        fixed: tuple[Part, ...] = (),
        others: tuple[Other, ...] = (),
    ) -> Assembly:
        """Return the assembly of a scene whose slab hangs so."""
        return Assembly(
            scene=scene,
            moving=moving,
            fixed=fixed,
            others=others,
            axis=self.axis,
            place=self.place,
            jamb_pins=self.jamb_pins,
            slab_pins=self.slab_pins,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Assembly(Hang):
    """The scene as solids: ``moving`` closed, ``fixed``, and where the slab hangs.

    ``others`` are further slabs; closed, they are among ``fixed``.
    """

    scene: Scene
    moving: tuple[Part, ...]
    fixed: tuple[Part, ...]
    others: tuple[Other, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Other:
    """Another slab that swings beside this one.

    ``assembly`` is in this opening's frame: ``moving`` its slab closed, with
    what is fitted to it, ``fixed`` its jamb leaves (and a neighbour's casing);
    its axis opens it, pointing down where the other is this one's mirror
    image. Its scene's own frame is taken here by ``frame`` (3, 4).
    """

    name: str
    relation: Relation
    frame: Floats
    assembly: Assembly


def is_mirrored(scene: Scene) -> bool:
    """Return whether the opening as built is the mirror image in x of the opening frame."""
    return scene.hinges_on == "left"


def as_hung(scene: Scene, solid: Solid) -> Solid:
    """Return a solid of the opening frame on the hand that the scene's hinges are on."""
    return solid.mirrored_in_x() if is_mirrored(scene) else solid
