"""Parts with their trade names, the pin line, and the whole assembly."""

from __future__ import annotations

from dataclasses import dataclass
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

    def turned_point(self, point: Floats, angle: float) -> Floats:
        """Return a point (3,) turned by ``angle`` radians about the line."""
        turn, shift = self.move(angle)
        turned: Floats = turn @ point + shift
        return turned


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Assembly:
    """The scene as solids: ``moving`` closed, ``fixed``, and ``axis``.

    ``place`` is the (3, 4) matrix from the slab frame to the opening frame,
    closed. ``jamb_pins`` and ``slab_pins`` are (hinges, 3) pin centres at each
    leaf's mid-length, both in the opening frame. Barrels are drawn, and never
    collide: they are ``barrels``. ``others`` are further slabs; closed, they
    are among ``fixed``.
    """

    scene: Scene
    moving: tuple[Part, ...]
    fixed: tuple[Part, ...]
    barrels: tuple[Part, ...]
    axis: Axis
    place: Floats
    jamb_pins: Floats
    slab_pins: Floats
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
