"""The finished frame and what stands about it."""

from __future__ import annotations

from dataclasses import dataclass

from swingcheck.model.stations import Stations


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """How a jamb leg departs from plumb and square, at stations top to bottom.

    ``plumb`` is out of plumb across the opening, positive into it; ``cross``
    out of the wall's plane, positive to the pull side; ``twist`` (radians) the
    jamb face out of square with the wall, positive narrowing the stop side.
    """

    plumb: Stations = (0.0,)
    cross: Stations = (0.0,)
    twist: Stations = (0.0,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rabbet:
    """Jamb's pull-side edge to the stop's face; legs top to bottom, head hinge to strike."""

    hinge: Stations
    strike: Stations
    head: Stations


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelFrame:
    """A pressed steel frame's profile beyond the jamb's faces.

    ``face`` is how far its flat lies over the wall on both sides, from the
    jamb's face; ``backbend`` how far the flats stand off the wall, which is
    held between them.
    """

    face: float
    backbend: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The hole in the finished frame.

    ``width`` is leg to leg. With one value it is read where both legs' plumb
    reads 0; with several, the strike leg stands that far from the hinge leg at
    each station and has no plumb of its own. ``height`` is floor to head at
    the hinge side and the strike side, both above the finished floor under the
    hinge leg. ``depth`` is the jamb's, ``thickness`` the jamb stock's. With an
    ``arch`` the head is an arc over the two heights, that much higher than the
    straight line between them at its middle.
    """

    width: Stations
    height: tuple[float, float]
    rabbet: Rabbet
    depth: float
    thickness: float
    hinge_leg: Leg
    strike_leg: Leg
    arch: float = 0.0
    steel: SteelFrame | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """The strip the closed slab rests against: its stand-out from the jamb, and its width."""

    projection: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The floor that the slab sweeps over.

    ``covering`` is laid on the finished floor; ``across`` and ``out`` are
    slopes (rise over run), positive rising toward the strike leg and toward
    the pull side. ``profile``, when not empty, is the rise of the floor under
    the strike edge's sweep at even angles from closed to 90 degrees, over the
    height that the slopes give.
    """

    covering: float = 0.0
    across: float = 0.0
    out: float = 0.0
    profile: Stations = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Casing:
    """Flat trim on the pull side: ``reveal`` is jamb face to casing edge."""

    thickness: float
    width: float
    reveal: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """A box that the slab may meet: lowest corner and size in the opening frame."""

    name: str
    corner: tuple[float, float, float]
    size: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Threshold:
    """A saddle between the legs.

    ``edge`` is its pull-side edge, off the jamb's, + to the pull side;
    ``slope`` how steeply both its sides rise from the floor, radians.
    """

    width: float
    height: float
    slope: float
    edge: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Carpet:
    """A covering that begins at a line along the wall, and how far into the room it reaches.

    ``edge`` is off the jamb's pull-side edge, + to the pull side.
    """

    thickness: float
    edge: float
    reach: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Baseboard:
    """The board along the foot of the wall, on the pull side, up to the casing or the jamb."""

    thickness: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallReturn:
    """A wall that comes out on the pull side beside the opening.

    ``hinge`` and ``strike`` are how far it stands from that leg's face, away
    from the opening, ``None`` where there is none; ``reach`` how far out it
    comes.
    """

    hinge: float | None
    strike: float | None
    reach: float
