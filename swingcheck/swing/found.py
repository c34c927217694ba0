"""What a check finds, as plain values: inches and radians, opening frame."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from swingcheck.assembly import PartKind
from swingcheck.model import Relation, Scene, Stations

Point = tuple[float, float, float]


class Verdict(Enum):
    """The one word for how the slab hangs."""

    SWINGS = "swings"
    PINCHES = "pinches"
    STRIKES = "strikes"
    HINGE_BOUND = "hinge-bound"
    DRAGS = "drags"
    STANDS_OFF = "stands off"
    BLOCKED = "blocked"
    FOULS = "fouls"


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """A first contact.

    ``angle`` is the swing angle; ``opening_at_strike`` the same as a person
    sees it, strike edge to its closed place; ``against`` the fixed part;
    ``by`` the moving part; ``feature`` which part of the slab touches in trade
    words; ``point`` the middle of where they touch and ``span`` the lowest and
    highest touching height. ``also`` names other fixed parts met at the same
    angle; ``hinge_half`` tells that the point is nearer the pin than half the slab.
    """

    angle: float
    opening_at_strike: float
    against: str
    against_kind: PartKind
    by: str
    by_kind: PartKind
    feature: str
    point: Point
    span: tuple[float, float]
    also: tuple[str, ...] = ()
    hinge_half: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """Gaps of the closed slab, on the wide face; negative where it overlaps.

    ``hinge`` and ``strike``, and slab face to stop ``hinge_stop`` and
    ``strike_stop``: top, middle, bottom (the stops' are ``None`` without a
    stop). ``head`` and ``bottom``: hinge side, strike side. ``flush`` is how
    far the wide face stands proud of the hinge leg's pull-side edge, and
    ``flush_strike`` of the strike leg's (on a pair, of the inactive slab's
    wide face); of a lipped slab, the back of its lip.
    """

    hinge: Point
    strike: Point
    head: tuple[float, float]
    bottom: tuple[float, float]
    hinge_stop: Point | None
    strike_stop: Point | None
    flush: Point
    flush_strike: Point

    @property
    def flush_all(self) -> Stations:
        """How far the wide face stands proud at both edges, all stations."""
        return self.flush + self.flush_strike


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """The least distance to one fixed part along the swing, and the angle where it is."""

    against: str
    against_kind: PartKind
    least: float
    angle: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisFound:
    """The pin line: a point at mid-height, its direction (up), and how true the pins are.

    ``proud`` is the pin beyond the wide face, at mid-height. ``off_line`` is,
    for each hinge, the farther of its jamb pin and its slab pin from the line;
    ``apart`` how far the two leaves' pins are from each other across the line,
    and ``up_down`` how far the slab's leaf sits above (+) the jamb's.
    """

    point: Point
    direction: Point
    proud: float
    off_line: tuple[float, ...]
    apart: tuple[float, ...]
    up_down: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """Least distance at one stepped angle, and the fixed part it is to; 0 where they overlap."""

    angle: float
    distance: float
    against: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """What one slab does on one side of its opening; on the push side angles are negative.

    ``blocked_by`` names the fixed parts that the start pose overlaps.
    ``closing`` is ``None`` where the slab reaches closed without touching, and
    ``seated`` says that what it touched is its seat. ``opening`` is ``None``
    where it opens to the limit.
    """

    blocked_by: tuple[str, ...]
    closing: Touch | None
    opening: Touch | None
    seated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """The slab as far open as it goes.

    ``clear_width`` is straight through, as ``site.access`` defines it.
    ``slab`` is what the slab alone would meet, where something that is fitted
    to it is met first (``None`` too where it would meet nothing, which
    ``by_slab`` tells apart).
    """

    clear_width: float
    by_slab: bool
    slab: Touch | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundEdge:
    """What an edge sweeps, inches.

    ``along`` is from the axis to the crown, ``run_out`` how far past its
    closed place the edge reaches on the way, and ``left`` what that leaves of
    the margin. ``least`` and ``greatest`` are the radii that clear the margin
    (``greatest`` infinite: a square edge clears it too), ``None`` where none
    does; ``least_left`` is what the least of them leaves. ``at_faces`` is the
    gap that shows at the closed slab's faces.
    """

    edge: str
    radius: float
    along: float
    run_out: float
    left: float
    least: float | None
    greatest: float | None
    least_left: float
    at_faces: float


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


class FitWord(Enum):
    """Whether a carpenter would hang it so."""

    GOOD = "good"
    TIGHT = "tight"
    BAD = "bad"


class Code(Enum):
    """Why a door is not fit to be hung, the worst first."""

    DOES_NOT_SWING = "does_not_swing"
    OUTSIDE = "outside_opening"
    NOT_COVERED = "stop_not_covered"
    OVERLAPS = "margin_below_nothing"
    TOO_WIDE = "margin_too_wide"
    PINS = "pins_apart"
    BURIED = "buried"
    LATCH = "latch_short"
    CLEARANCE = "clearance_under_finish"
    MARGIN = "wanted_margin"
    FLUSH = "wanted_flush"
    RULE = "rule"
    CHANCE = "chance"

    @property
    def word(self) -> FitWord:
        """The word that it makes of a fit."""
        return FitWord.TIGHT if self in _TIGHT else FitWord.BAD


_TIGHT = {Code.CLEARANCE, Code.MARGIN, Code.FLUSH, Code.RULE, Code.CHANCE}


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason against a fit: what was ``measured``, the ``limit`` (inches), and its ``source``.

    ``place`` names the part or the margin, ``angle`` where in the swing it is.
    ``measured`` is ``None`` of what is no length.
    """

    code: Code
    measured: float | None
    limit: float | None
    source: str
    place: str = ""
    angle: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """Whether a carpenter would hang it so, and why not, the worst reason first.

    ``chance`` is that it swings as cut, painted and in its wettest month, of so many
    ``drawn``; ``None`` where it was not asked.
    """

    reasons: tuple[Reason, ...] = ()
    chance: float | None = None
    drawn: int = 0

    @property
    def word(self) -> FitWord:
        """The one word for the fit."""
        return self.reasons[0].code.word if self.reasons else FitWord.GOOD

    @property
    def deciding(self) -> tuple[Reason, ...]:
        """The reasons that make the word."""
        return tuple(each for each in self.reasons if each.code.word is self.word)


class Way(Enum):
    """On which way the verdict is decided."""

    START = "start"
    CLOSING = "closing"
    OPENING = "opening"
    TOGETHER = "together"


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """What the verdict speaks of: which contact decides, and whose.

    ``way`` is ``None`` where it swings. ``slab`` names the further slab that it
    is about, empty for this one; ``push`` says that it is on the push side of a
    double-acting slab. ``touch`` is the contact, in this slab's opening frame,
    ``None`` for :attr:`Way.START`, which has ``blocked_by``, and
    :attr:`Way.TOGETHER`, which has how both slabs swing ``together``.
    """

    verdict: Verdict
    way: Way | None = None
    slab: str = ""
    push: bool = False
    touch: Touch | None = None
    blocked_by: tuple[str, ...] = ()
    together: Together | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherFound(Side):
    """What another slab comes to, with this one out of its way.

    Its contacts are in this slab's opening frame. ``push`` is the other side of
    a double-acting one. ``held`` is what of this slab, closed, stops it
    opening, and ``order`` which of the two opens first.
    """

    name: str
    relation: Relation
    push: Side | None
    decided: Decided
    held: Touch | None
    order: Order
    together: Together

    @property
    def verdict(self) -> Verdict:
        """The one word for how it hangs."""
        return self.decided.verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Found(Side):
    """Everything that a check found.

    ``clear_width`` is at 90 degrees, as ``site.access`` defines it; ``None``
    where the slab does not open so far, and ``opened`` tells how it stands
    where it stops, ``None`` where that is not known. ``push`` is the other side
    of a double-acting slab's swing, and ``edges`` what its edges sweep.
    ``others`` are further slabs beside this one, and ``decided`` is what the
    verdict of them all speaks of; ``fit`` is whether it should be hung so.
    """

    scene: Scene
    decided: Decided
    margins: Margins
    clearances: tuple[Clearance, ...]
    axis: AxisFound
    clear_width: float | None
    curve: tuple[CurvePoint, ...] = field(default=())
    opened: Opened | None = None
    push: Side | None = None
    edges: tuple[RoundEdge, ...] = ()
    others: tuple[OtherFound, ...] = ()
    fit: Fit = Fit()

    @property
    def verdict(self) -> Verdict:
        """The one word for how the slab hangs, and whatever swings beside it."""
        return self.decided.verdict

    @property
    def decided_by(self) -> str:
        """The further slab that the verdict is about; empty for this one."""
        return self.decided.slab
