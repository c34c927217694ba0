"""Further slabs beside the one that is looked at: what swings in the same room or opening."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from swingcheck.model.hinge import HingeSet, PivotSet
from swingcheck.model.slab import Slab

if TYPE_CHECKING:
    from swingcheck.model.scene import Scene


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
