"""What is found of further slabs beside the one that is looked at, as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from swingcheck.analysis.result import Touch, Verdict
from swingcheck.model import Relation


class Order(Enum):
    """Which of two slabs opens while the other is closed."""

    EITHER = "either"
    THIS = "this"
    OTHER = "other"
    NEITHER = "neither"


@dataclass(frozen=True, slots=True, kw_only=True)
class Foul:
    """At this slab's ``angle`` the other overlaps it from its angle ``low`` to ``high``."""

    angle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Two slabs over all pairs of their angles, from closed to ``reaches`` (this, other).

    ``least`` is the least distance and ``angles`` where it is; 0 where they
    foul each other. They are nowhere nearer than ``certain``. ``fills`` says
    that a hollow of a slab was taken as full, so that ``least`` may be more
    than is told. ``within_wanted`` says that they clear each other up to
    what is wanted of each; ``fouls`` which pairs of angles they do not.
    """

    least: float
    certain: float
    angles: tuple[float, float]
    reaches: tuple[float, float]
    fills: bool
    within_wanted: bool
    fouls: tuple[Foul, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherFound:
    """What another slab comes to.

    ``verdict``, ``blocked_by``, ``closing``, ``seated`` and ``opening`` are as
    for this slab, with this one out of its way; ``held`` is what of this slab,
    closed, stops it opening, and ``order`` which of the two opens first.
    """

    name: str
    relation: Relation
    verdict: Verdict
    blocked_by: tuple[str, ...]
    closing: Touch | None
    seated: bool
    opening: Touch | None
    held: Touch | None
    order: Order
    together: Together
