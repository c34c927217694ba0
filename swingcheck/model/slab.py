"""The slab: its edges, its lock, and how it was delivered."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import sqrt, tan

from swingcheck.model.fitted import Applied, Astragal, Bead, Handle, Lip, Warp
from swingcheck.model.stations import Stations


class EdgeShape(Enum):
    """How a slab's vertical edge is shaped in plan."""

    SQUARE = "square"
    BEVEL = "bevel"
    RADIUS = "radius"


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A slab's vertical edge.

    A lean from square (radians, positive narrows the stop side),
    or an outward round of one radius through the whole thickness.
    """

    shape: EdgeShape = EdgeShape.SQUARE
    bevel: float = 0.0
    radius: float = 0.0

    @property
    def is_round(self) -> bool:
        """Whether it is an outward round, whose width is read at its crown."""
        return self.shape is EdgeShape.RADIUS

    @property
    def lean(self) -> float:
        """Its bevel, radians: 0 for a square edge and for a round one."""
        return self.bevel if self.shape is EdgeShape.BEVEL else 0.0

    def crown(self, thickness: float) -> float:
        """Return how far behind the wide face its width is read: mid-thickness on a round edge."""
        return thickness / 2 if self.is_round else 0.0

    def wide_inset(self, thickness: float) -> float:
        """Return how far its wide-face arris stands back from where the width is read.

        Nothing, but for a round edge: ``r - sqrt(r^2 - T^2 / 4)``.
        """
        if not self.is_round:
            return 0.0
        return self.radius - sqrt(max(self.radius**2 - thickness**2 / 4, 0.0))

    def narrow_inset(self, thickness: float) -> float:
        """Return how far its narrow-face arris stands back from where the width is read."""
        return self.wide_inset(thickness) if self.is_round else thickness * tan(self.lean)


class Share(Enum):
    """Which edges of the slab as delivered a cut in its width comes off."""

    EVEN = "even"
    HINGE = "hinge"
    STRIKE = "strike"


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivered:
    """The slab as it was delivered, before a cut: square edges, square ends.

    ``edge_strip`` is how wide the solid strip or stile is along each vertical
    edge, ``end_strip`` the same along the bottom, ``None`` where nothing was
    said. ``share`` says which edges what is too wide comes off, and
    ``hinge_off``, where it is given, how much of it off the hinge edge.
    """

    width: float
    height: float
    edge_strip: float | None = None
    end_strip: float | None = None
    share: Share = Share.EVEN
    hinge_off: float | None = None


class Grain(Enum):
    """How the boards of a slab were sawn: which way the rings cross its faces."""

    FLAT = "flat"
    QUARTER = "quarter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Glass:
    """A pane in the slab, in place of the wood: its lowest hinge-side corner, and its size.

    ``across`` runs from the hinge edge's wide-face arris, ``up`` from the
    slab's bottom.
    """

    width: float
    height: float
    thickness: float
    across: float
    up: float
    bead: Bead | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """The slab as it will hang.

    ``width`` is on the wide face, at stations top to bottom (the hinge edge is
    straight, a taper is taken off the strike edge); on a round edge it is read
    at the crown. ``height`` is at the hinge edge and the strike edge, from a
    square bottom. ``head_margin`` is at the hinge side. ``delivered`` is what
    it is cut from.

    ``head_edge`` leans as the vertical edges do: a positive bevel lowers the
    stop side. With an ``arch`` the top is an arc over the two heights, that
    much higher than the straight line between them at its middle, and
    ``head_margin`` is at the crown. The sizes of a lipped slab are those
    between its lips, of what goes into the opening.
    """

    width: Stations
    height: tuple[float, float]
    thickness: float
    hinge_edge: Edge
    strike_edge: Edge
    head_margin: float
    material: str
    construction: str
    grain: Grain = Grain.FLAT
    glass: Glass | None = None
    delivered: Delivered | None = None
    head_edge: Edge = Edge()
    arch: float = 0.0
    lip: Lip | None = None
    warp: Warp | None = None
    astragal: Astragal | None = None
    applied: tuple[Applied, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Deadbolt:
    """A deadbolt over the lock: ``above`` is centre to centre, the rest as for a lock."""

    above: float
    backset: float
    bore: float
    edge_bore: float
    face_length: float
    face_width: float
    face_depth: float
    throw: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """A tubular lock: bores and where they go.

    ``backset`` runs from the strike edge at mid-thickness to the bore's
    centre, ``height`` from the finished floor to it; ``bore`` and
    ``edge_bore`` are diameters. ``face_length``, ``face_width`` and
    ``face_depth`` are the mortise for the latch's face (0 depth: none).
    ``throw`` is how far the latch stands out of its face.
    """

    backset: float
    bore: float
    edge_bore: float
    height: float
    face_length: float
    face_width: float
    face_depth: float
    throw: float = 0.5
    deadbolt: Deadbolt | None = None
    handle: Handle | None = None
