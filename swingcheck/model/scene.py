"""One opening with its slab, and what is asked of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from math import pi, radians
from pathlib import Path
from typing import ClassVar

from swingcheck.errors import Problem, SceneError
from swingcheck.model.hinge import HingeSet, PivotSet
from swingcheck.model.opening import (
    Baseboard,
    Carpet,
    Casing,
    Floor,
    Obstacle,
    Opening,
    Stop,
    Threshold,
    WallReturn,
)
from swingcheck.model.second_slab import Inactive, Lower, seen_from_strike
from swingcheck.model.slab import Edge, Lock, Slab
from swingcheck.model.stations import Stations


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """What is asked of the swing.

    ``start`` is where closing starts from, ``wanted`` how far it must open,
    ``limit`` where opening is no longer looked at (all radians), and ``seat``
    the opening at the strike edge within which resting on a stop is closed.
    ``both_ways`` is a double-acting slab, which swings as far to the push side.
    """

    start: float = pi / 2
    wanted: float = pi / 2
    limit: float = pi
    seat: float = 1 / 32
    both_ways: bool = False


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


class Access(Enum):
    """By whose rules a clear width is told, for somebody in a wheelchair.

    They are the USA (2010 ADA Standards 404.2.3, quoted), England (Approved
    Document M, quoted) and Austria (OIB guideline 2.5.1, its own questions and
    answers read). ``definition`` says which width that is.
    """

    NONE = "none"
    US = "us"
    UK = "uk"
    AUSTRIA = "austria"

    @property
    def definition(self) -> str:
        """Between what the clear width is told."""
        return _CLEAR_WIDTHS[self]


_CLEAR_WIDTHS = {
    Access.NONE: "stop to face",
    Access.US: "stop to face",
    Access.UK: "stop to whatever stands out, handles too",
    Access.AUSTRIA: "the frame alone",
}


class Closer(Enum):
    """What shuts the slab by itself."""

    NONE = "none"
    PLAIN = "closer"
    BACK_CHECK = "back-check"


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """What calls for a caution: a rated opening, an exit, a way for wheelchairs, old paint, glass.

    And what the hinges have to hold besides the slab: a closer.
    """

    fire_rated: bool = False
    exit: bool = False
    access: Access = Access.NONE
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
    hinge leg's edge. Where neither a margin nor the slab's size is told, the
    usual one stands in.
    """

    # With a hinge margin of 1/16 in that is the 3/16 in of The Building Trades
    # Pocketbook, 1899; the bottom's is common practice, no source.
    USUAL_STRIKE_IN: ClassVar[float] = 1 / 8
    USUAL_BOTTOM_IN: ClassVar[float] = 1 / 2

    strike: float | None = None
    bottom: float | None = None
    least_margin: float = 1 / 32
    hinge_stop: float = 1 / 32
    flush: float = 1 / 16


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

    ``slab`` and ``jamb`` count the coats on each face of a margin: usually a
    first one and a second, of waterborne paint (MIL-HDBK-1110, 4.4.1.2).
    """

    slab: int = 2
    jamb: int = 2
    film: float = 0.0015


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """A measurement that the scene left out, and the usual value taken for it."""

    key: str
    value: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """What a scene was read from, and what reads it anew.

    ``called`` is what messages call it, ``title`` that of a scene without one,
    ``folder`` where the files that it names are looked for, ``settings`` what
    was laid over its text, as typed; with ``alone`` the openings beside it are
    left out. ``read`` is a function of a module, so that a scene can be pickled.
    """

    text: str
    called: str
    title: str
    folder: Path
    read: Callable[[Source], Scene]
    settings: tuple[tuple[str, str], ...] = ()
    alone: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbour:
    """Another opening with its slab, where it stands beside this one.

    ``across`` and ``out`` are where its hinge leg's face meets its jamb's
    pull-side edge, in this opening's frame, and ``turn`` (radians) is the way
    from its hinge leg to its strike leg, 0 along this opening's and a quarter
    turn toward this one's pull side.
    """

    name: str
    scene: Scene
    across: float
    out: float
    turn: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One opening with its slab, complete: nothing is left to default.

    ``source`` is what it was read from; None for one made by hand, or made of
    another by `dataclasses.replace`. Scenes alike are equal, wherever from.
    """

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
    threshold: Threshold | None = None
    carpet: Carpet | None = None
    baseboard: Baseboard | None = None
    wall_return: WallReturn | None = None
    pivot: PivotSet | None = None
    inactive: Inactive | None = None
    lower: Lower | None = None
    neighbours: tuple[Neighbour, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    source: Source | None = field(default=None, init=False, repr=False, compare=False)

    @property
    def called(self) -> str:
        """What messages call it: its file; its title where it was made by hand."""
        return self.title if self.source is None else self.source.called

    def with_(self, settings: Mapping[str, str]) -> Scene:
        """Return the scene read anew with measurements changed, what follows from them as well.

        ``settings`` are values by their keys in a scene file, as typed:
        ``{"hinge.slab.setback": "1/4"}``. Raises SceneError with every fault, as for a
        setting on the command line; and for a scene that was not read.
        """
        if self.source is None:
            expected = "made by hand, not read: it has no text in which a key can be set"
            raise SceneError(self.title, [Problem(key="", value="", expected=expected)])
        source = self.source
        return source.read(replace(source, settings=(*source.settings, *settings.items())))


def with_source(scene: Scene, source: Source) -> Scene:
    """Return a copy of the scene that knows what it was read from."""
    known = replace(scene)
    object.__setattr__(known, "source", source)
    return known


def inactive_scene(scene: Scene) -> tuple[Scene, float]:
    """Return a pair's opening as its inactive slab hangs in it, and where it is mirrored.

    Raises ValueError where the scene is no pair.
    """
    own = scene.inactive
    if own is None:
        raise ValueError("there is no inactive slab")
    seen, mirror = seen_from_strike(scene.opening)
    hung = _alone(scene, own)
    if own.rebate is not None:
        hung = replace(hung, slab=replace(own.slab, strike_edge=Edge()))
    on = {"left": "right", "right": "left"}[scene.hinges_on]
    return replace(hung, opening=seen, hinges_on=on), mirror


def lower_scene(scene: Scene) -> Scene:
    """Return a Dutch door's opening with its lower slab alone.

    Raises ValueError where the scene is no Dutch door.
    """
    own = scene.lower
    if own is None:
        raise ValueError("there is no lower slab")
    return _alone(scene, own)


def _alone(scene: Scene, own: Inactive | Lower) -> Scene:
    hung = replace(scene, slab=own.slab, hinge=own.hinge, pivot=own.pivot)
    return replace(hung, lock=None, inactive=None, lower=None, neighbours=())
