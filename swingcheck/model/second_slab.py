"""Further slabs beside the one that is looked at: what swings in the same room or opening."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from math import lcm

from swingcheck.model.hinge import HingeSet, PivotSet
from swingcheck.model.opening import Opening, Rabbet
from swingcheck.model.slab import Slab
from swingcheck.model.stations import Stations, station_value


class Relation(Enum):
    """What another slab is to the one that is looked at."""

    INACTIVE = "inactive"
    LOWER = "lower"
    NEIGHBOUR = "neighbour"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetingRebate:
    """A rebate along the inactive slab's strike edge, in its wide face: ``width`` by ``depth``."""

    width: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Inactive:
    """The inactive slab of a pair: hung on the strike leg, its strike edge to the active one's.

    ``rebate`` takes the lip of an active slab that has one on its strike edge.
    """

    slab: Slab
    hinge: HingeSet
    pivot: PivotSet | None = None
    rebate: MeetingRebate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """A board on the top of a Dutch door's lower slab.

    ``pull`` and ``push`` are how far it stands beyond either face, ``ends``
    how far short of the slab's edges it stops.
    """

    thickness: float
    pull: float
    push: float
    ends: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lower:
    """The lower slab of a Dutch door: hung below the upper one on the same leg.

    Its own head margin runs from the head to its top; ``gap`` is from the
    upper slab's bottom to the shelf, or to the lower slab where there is none.
    """

    slab: Slab
    hinge: HingeSet
    gap: float
    pivot: PivotSet | None = None
    shelf: Shelf | None = None


def seen_from_strike(opening: Opening) -> tuple[Opening, float]:
    """Return the opening as it is for a slab hung on its strike leg, and where it is mirrored.

    A point at ``x`` stands at ``mirror - x`` there.
    """
    plumb, widths = opening.hinge_leg.plumb, opening.width
    mirror, strike = widths[0], opening.strike_leg.plumb
    if len(widths) > 1:
        mirror = plumb[0] + widths[0]
        strike = tuple(mirror - edge for edge in added(plumb, widths))
    rabbet = opening.rabbet
    seen = replace(
        opening,
        width=(mirror,),
        height=opening.height[::-1],
        rabbet=Rabbet(hinge=rabbet.strike, strike=rabbet.hinge, head=rabbet.head[::-1]),
        hinge_leg=replace(opening.strike_leg, plumb=strike),
        strike_leg=opening.hinge_leg,
    )
    return seen, mirror


def added(first: Stations, second: Stations) -> Stations:
    """Return the sum of two measurements, at stations enough for both.

    Examples
    --------
    >>> tuple(map(float, added((0.0, 1.0), (1.0, 2.0, 0.0))))
    (1.0, 2.5, 1.0)
    """
    steps = lcm(max(len(first) - 1, 1), max(len(second) - 1, 1))
    return tuple(
        station_value(first, k / steps) + station_value(second, k / steps) for k in range(steps + 1)
    )
