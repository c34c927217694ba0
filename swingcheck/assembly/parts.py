"""Parts with their trade names, the pin line, and the whole assembly."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from swingcheck.geometry.frames import turning
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.model import Scene


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """A named solid in the opening frame; a moving part stands closed."""

    name: str
    kind: PartKind
    solid: Solid
    hinge: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Axis:
    """The pin line: ``point`` (3,) on it and the unit ``direction`` (3,), up."""

    point: Floats
    direction: Floats

    def turned(self, solid: Solid, angle: float) -> Solid:
        """Return the solid turned by ``angle`` radians about the line, positive opening."""
        turn = turning(self.direction, angle)
        return solid.moved(turn, self.point - turn @ self.point)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Assembly:
    """The scene as solids: ``moving`` closed, ``fixed``, and ``axis``.

    ``place`` is the (3, 4) matrix from the slab frame to the opening frame,
    closed. ``jamb_pins`` and ``slab_pins`` are (hinges, 3) pin centres at each
    leaf's mid-length, both in the opening frame. Barrels are drawn, and never
    collide: they are ``barrels``.
    """

    scene: Scene
    moving: tuple[Part, ...]
    fixed: tuple[Part, ...]
    barrels: tuple[Part, ...]
    axis: Axis
    place: Floats
    jamb_pins: Floats
    slab_pins: Floats
