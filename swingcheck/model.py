"""What was measured: the opening, the slab and their hinges, as plain values.

Lengths are inches and angles radians. A measurement that was taken at several
places is a tuple of *stations*: evenly spaced from top to bottom for anything
upright, from the hinge side to the strike side for anything level; a tuple of
one is the same everywhere. Nothing here knows files, meshes or hands: every
number is the same for hinges on either side, and pictures and meshes take the
opening's hand as they leave the library.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import pi, radians

Stations = tuple[float, ...]


def station_value(stations: Sequence[float], fraction: float) -> float:
    """Return the value at a fraction of the way along evenly spaced stations.

    Parameters
    ----------
    stations : sequence of float
        At least one value, evenly spaced.
    fraction : float
        0 at the first station, 1 at the last; held at the ends outside.

    Examples
    --------
    >>> station_value((0.0, 1.0, 4.0), 0.75)
    2.5
    """
    last = len(stations) - 1
    place = min(max(fraction, 0.0), 1.0) * last
    low = min(int(place), max(last - 1, 0))
    high = min(low + 1, last)
    return stations[low] + (stations[high] - stations[low]) * (place - low)


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
class Opening:
    """The hole in the finished frame.

    ``width`` is leg to leg. With one value it is read where both legs' plumb
    reads 0; with several, the strike leg stands that far from the hinge leg at
    each station and has no plumb of its own. ``height`` is floor to head at
    the hinge side and the strike side, both above the finished floor under the
    hinge leg. ``depth`` is the jamb's, ``thickness`` the jamb stock's.
    """

    width: Stations
    height: tuple[float, float]
    rabbet: Rabbet
    depth: float
    thickness: float
    hinge_leg: Leg
    strike_leg: Leg


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """The strip the closed slab rests against: its stand-out from the jamb, and its width."""

    projection: float
    width: float


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """The slab as it will hang.

    ``width`` is on the wide face, at stations top to bottom (the hinge edge is
    straight, a taper is taken off the strike edge); on a round edge it is read
    at the crown. ``height`` is at the hinge edge and the strike edge, from a
    square bottom. ``head_margin`` is at the hinge side. ``delivered`` is what
    it is cut from.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafLayout:
    """Where one side's leaves are let in, one value a hinge, top hinge first.

    ``tops`` run from the head (jamb) or the slab's top (slab), at the hinge
    side, down to the top of each leaf; ``setbacks`` from the stop's face
    (jamb) or the stop-side face (slab) to the buried edge, along the surface
    the leaf is let into; ``depths`` square to that surface.
    """

    tops: tuple[float, ...]
    setbacks: tuple[float, ...]
    depths: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeSet:
    """The hinges, all alike, and how each is let in.

    ``open_width`` is across both leaves laid flat, ``closed_gap`` between the
    leaves closed and parallel, ``barrel`` the knuckles' diameter, and
    ``screw_proud`` how far screw heads stand above the leaves.
    """

    leaf_length: float
    open_width: float
    leaf_thickness: float
    closed_gap: float
    barrel: float
    corner_radius: float
    screw_proud: float
    jamb: LeafLayout
    slab: LeafLayout

    @property
    def count(self) -> int:
        """Number of hinges."""
        return len(self.jamb.tops)

    @property
    def reach(self) -> float:
        """Buried edge of a leaf to the pin's centre: half the open width."""
        return self.open_width / 2


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
class Swing:
    """What is asked of the swing.

    ``start`` is where closing starts from, ``wanted`` how far it must open,
    ``limit`` where opening is no longer looked at (all radians), and ``seat``
    the opening at the strike edge within which resting on a stop is closed.
    """

    start: float = pi / 2
    wanted: float = pi / 2
    limit: float = pi
    seat: float = 1 / 32


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The bench: what the jig is set to, and how closely this person works.

    ``bit`` and ``bushing`` are outside diameters, ``template_corner`` the
    radius of the template's inside corners (0: square). Every tolerance is a
    plus-or-minus; ``None`` where nothing was said.
    """

    jig_setback: float | None = None
    bit: float | None = None
    bushing: float | None = None
    template_corner: float | None = None
    setback_tolerance: float = 1 / 64
    depth_tolerance: float = 1 / 64
    bevel_tolerance: float = radians(0.5)
    rip_tolerance: float = 1 / 64
    measuring_tolerance: float = 1 / 32
    pin_tolerance: float = 1 / 32


class Closer(Enum):
    """What shuts the slab by itself."""

    NONE = "none"
    PLAIN = "closer"
    BACK_CHECK = "back-check"


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """What calls for a caution: a rated opening, an exit, paint of unknown age, glass.

    And what the hinges have to hold besides the slab: a closer.
    """

    fire_rated: bool = False
    exit: bool = False
    old_paint: bool = False
    glass: bool = False
    closer: Closer = Closer.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """The margins to cut for, on the wide face, and what a setting may not go past.

    ``strike`` is left along the strike leg, ``bottom`` over the floor and its
    covering all the way through the swing; ``None`` where nothing was said.
    Of the closed slab, ``least_margin`` is the least it may have along either
    leg and the head, ``hinge_stop`` the least from its face to the hinge stop,
    and ``flush`` the most that its wide face may stand proud or shy of the
    hinge leg's edge.
    """

    strike: float | None = None
    bottom: float | None = None
    least_margin: float = 1 / 32
    hinge_stop: float = 1 / 32
    flush: float = 1 / 32


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The air about the slab across the year, and the wood as it is now.

    ``temperatures`` (Fahrenheit) and ``humidities`` (percent, relative) are
    means of the twelve months from January, inside, ``None`` where nothing
    was said. ``moisture`` is what a meter reads in the slab, in percent;
    ``month`` (1 to 12) is the month it has come to rest in, where there is no
    reading. ``least`` is the least strike margin at any time.
    """

    temperatures: Stations | None = None
    humidities: Stations | None = None
    moisture: float | None = None
    month: int | None = None
    least: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """What the painters will put on, each coat ``film`` thick when dry.

    ``slab`` and ``jamb`` count the coats on each face of a margin.
    """

    slab: int
    jamb: int
    film: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """A measurement that the scene left out, and the usual value taken for it."""

    key: str
    value: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One opening with its slab, complete: nothing is left to default."""

    title: str
    unit: str
    hinges_on: str
    opening: Opening
    stop: Stop | None
    slab: Slab
    hinge: HingeSet
    lock: Lock | None
    floor: Floor
    casing: Casing | None
    obstacles: tuple[Obstacle, ...]
    swing: Swing
    shop: Shop
    site: Site
    wanted: Wanted | None = None
    season: Season | None = None
    finish: Finish | None = None
    assumed: tuple[Assumed, ...] = ()
