"""What is worked on a slab or fitted to it: its lip, its warp, and what stands proud of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


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
