"""The slab: its edges, its lock, what is worked on it or fitted to it, how it was delivered."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import sqrt, tan

from swingcheck.model.stations import Stations


class Face(Enum):
    """Which face of a slab something is on."""

    PULL = "pull"
    PUSH = "push"
    BOTH = "both"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lip:
    """A lipped (rebated) slab's overlap on the pull side.

    ``hinge``, ``strike`` and ``head`` are how far it stands beyond those edges
    (0: no lip there), ``depth`` is its rebate's: stop-side face to the lip's
    back.
    """

    hinge: float
    strike: float
    head: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Warp:
    """How far a slab is out of flat, positive to the pull side.

    ``bow`` is at mid-height, off the straight line from top to bottom; ``cup``
    at mid-width, off the straight line from edge to edge; ``twist`` is how far
    the strike edge's top corner stands off the plane of the other three.
    """

    bow: float = 0.0
    cup: float = 0.0
    twist: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Astragal:
    """A strip on a face along the strike edge, from the slab's bottom to its top.

    ``overlap`` is how far it stands beyond the strike edge, and ``stem`` how
    thick the part of a T-moulding that lies on the edge itself is (0: flat).
    """

    face: Face
    width: float
    thickness: float
    overlap: float
    stem: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Applied:
    """A box that stands proud of a face: a panel, a moulding, a kick plate.

    ``corner`` is its lowest hinge-side corner, across from the hinge edge's
    wide-face arris and up from the slab's bottom; ``size`` across, up, and out
    of the face.
    """

    name: str
    face: Face
    corner: tuple[float, float]
    size: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bead:
    """The bead about a pane: how wide it is, how far it stands proud of the face, and which."""

    width: float
    proud: float
    face: Face


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """A knob or a lever on the lock's cross bore.

    ``projection`` is from the face to its outermost, ``diameter`` the knob's,
    or the bar's of a lever, ``length`` how far a lever reaches from the bore's
    centre toward the hinge edge (0: a knob), and ``rose`` the diameter of the
    plate behind it.
    """

    face: Face
    projection: float
    diameter: float
    length: float
    rose: float


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
