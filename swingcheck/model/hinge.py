"""The hinges or pivots, where they are let in, and which the trade's tables give a slab.

The tables are what a scene takes for hinges that it leaves out, and what the
bench holds the hinges that are there against.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import ceil, inf, pi

IN_FILE = {"setbacks": "setback", "depths": "depth"}
"""What a scene file calls the lists that a `LeafLayout` names in the plural."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafLayout:
    """Where one side's leaves are let in, one value a hinge, top hinge first.

    ``tops`` run from the head (jamb) or the slab's top (slab), at the hinge
    side, down to the top of each leaf; ``setbacks`` from the stop's face
    (jamb) or the stop-side face (slab) to the buried edge, along the surface
    the leaf is let into; ``depths`` square to that surface. ``width`` is the
    leaf's own, buried edge to the pin's centre, where the two leaves differ or
    together are not the open width.
    """

    tops: tuple[float, ...]
    setbacks: tuple[float, ...]
    depths: tuple[float, ...]
    width: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Offset:
    """How far the pin is cranked off the place that flat leaves put it, closed.

    ``across`` is away from the slab, over the hinge leg; ``out`` along the
    leaves to the pull side.
    """

    across: float = 0.0
    out: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeSet:
    """The hinges, all alike, and how each is let in.

    ``open_width`` is across both leaves laid flat, ``closed_gap`` between the
    leaves closed and parallel, ``barrel`` the knuckles' diameter, and
    ``screw_proud`` how far screw heads stand above the leaves. ``offset``
    displaces the knuckles (offset and swing-clear hinges); ``rise`` is how far
    the slab has climbed at 90 degrees (helical knuckles). A slab on pivots has
    hinges without a place: ``count`` is 0.
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
    offset: Offset = Offset()
    rise: float = 0.0

    @property
    def count(self) -> int:
        """Number of hinges."""
        return len(self.jamb.tops)

    @property
    def reach(self) -> float:
        """Buried edge of a leaf to the pin's centre: half the open width."""
        return self.open_width / 2

    @property
    def jamb_reach(self) -> float:
        """Buried edge of a jamb's leaf to the pin's centre, along the leaf."""
        return self._reach(self.jamb)

    @property
    def slab_reach(self) -> float:
        """Buried edge of a slab's leaf to the pin's centre, along the leaf."""
        return self._reach(self.slab)

    @property
    def jamb_lift(self) -> float:
        """Mortise's floor to the pin's centre, out of the hinge leg's face."""
        return self.leaf_thickness + self.closed_gap / 2 - self.offset.across

    @property
    def slab_lift(self) -> float:
        """Mortise's floor to the pin's centre, out of the hinge edge."""
        return self.leaf_thickness + self.closed_gap / 2 + self.offset.across

    def _reach(self, layout: LeafLayout) -> float:
        return (self.reach if layout.width is None else layout.width) + self.offset.out

    @property
    def rise_rate(self) -> float:
        """How far the slab climbs as it opens, inches a radian."""
        return self.rise / (pi / 2)

    @property
    def is_flat(self) -> bool:
        """Whether both leaves are flat and half the open width: what a plain butt is."""
        own = (self.jamb.width, self.slab.width)
        return self.offset == Offset() and all(w is None or w == self.reach for w in own)


class PivotKind(Enum):
    """Where a pivot stands: within the slab's thickness, or proud of its wide face."""

    CENTRE = "centre"
    OFFSET = "offset"


@dataclass(frozen=True, slots=True, kw_only=True)
class PivotSet:
    """A pin at the slab's top and one at its bottom; each value is (top, bottom).

    ``edge`` runs from the hinge edge's wide-face arris (the crown of a round
    edge) along the slab to the pin's centre, ``face`` from the wide face into
    the slab (negative: proud of it). ``leg`` runs from the hinge leg's face,
    ``out`` from the jamb's pull-side edge, positive beyond it. ``pin`` is the
    diameter that is drawn.
    """

    kind: PivotKind
    edge: tuple[float, float]
    face: tuple[float, float]
    leg: tuple[float, float]
    out: tuple[float, float]
    pin: float = 0.5


#: The hinges of a slab that hangs on pivots: none.
NO_HINGES = HingeSet(
    leaf_length=0.0,
    open_width=0.0,
    leaf_thickness=0.0,
    closed_gap=0.0,
    barrel=0.5,
    corner_radius=0.0,
    screw_proud=0.0,
    jamb=LeafLayout(tops=(), setbacks=(), depths=()),
    slab=LeafLayout(tops=(), setbacks=(), depths=()),
)


_Row = tuple[tuple[float, float], ...]

_LEAF_LENGTHS: tuple[tuple[float, bool, _Row], ...] = (
    (1.375, False, ((32.0, 3.5), (37.0, 4.0))),
    (1.75, False, ((36.0, 4.5), (48.0, 5.0), (inf, 6.0))),
    (2.5, True, ((42.0, 5.0), (inf, 6.0))),
)
"""Nominal thickness, whether the leaf is of heavy gauge, and its length up to each width: the
Door and Hardware Institute's recommendation, read in secondary text only."""

_GAUGES_IN = (
    (3.5, 0.097, 0.097),
    (4.0, 0.130, 0.130),
    (4.5, 0.134, 0.180),
    (5.0, 0.146, 0.190),
    (inf, 0.160, 0.203),
)
"""Standard and heavy gauge up to each leaf length, residential up to 3 1/2 in: ANSI/BHMA A156.7,
from memory; a frame maker's recesses, read in quotation, are within 0.012 in of them."""

_STOCK_STEPS_IN = ((5.0, 1 / 2), (inf, 1.0))
"""Steps in which hinges are sold up to each open width: half inches, and wide-throw ones whole
inches. Common practice, no source."""

_SETBACKS_IN = ((2.25, 1 / 4), (inf, 3 / 8))
"""Setback on the slab up to each nominal thickness: 1/4 in is The Building Trades Pocketbook's
(1899, read), 3/8 in is what the trade's table of open widths implies, from memory."""

_JAMB_MORE_IN = 1 / 16
"""What the jamb's setback is more: 5/16 in against 1/4 in, the trade, agreeing with ANSI/BHMA
A156.115; read in secondary text."""

_OVER_NOMINAL_IN = 1 / 8
"""How far over its nominal thickness a slab comes under the next one."""

_SAME_IN = 1e-6


def hinge_count(height: float) -> int:
    """Return how many hinges a slab of this height takes.

    Two up to 60 in, and one more for "each additional 30 inches of height or
    fraction thereof" (NFPA 80).

    Examples
    --------
    >>> [hinge_count(height) for height in (60, 60.5, 80, 90, 91, 120)]
    [2, 3, 3, 3, 4, 4]
    """
    return 2 + ceil(max(0.0, height - 60.0) / 30.0 - 1e-9)


def stock_open_width(least: float) -> float:
    """Return the open width of the narrowest hinge sold that is at least so wide.

    Examples
    --------
    >>> [stock_open_width(width) for width in (3.7, 4.5, 5.001, 7.004)]
    [4.0, 4.5, 6.0, 8.0]
    """
    step = next(step for widest, step in _STOCK_STEPS_IN if least <= widest + _SAME_IN)
    return ceil((least - _SAME_IN) / step) * step


def usual_setbacks(thickness: float) -> tuple[float, float]:
    """Return the usual setbacks on the jamb and on a slab of this thickness, inches.

    Examples
    --------
    >>> usual_setbacks(1.375), usual_setbacks(2.5)
    ((0.3125, 0.25), (0.4375, 0.375))
    """
    slab = next(own for most, own in _SETBACKS_IN if thickness < most + _OVER_NOMINAL_IN)
    return slab + _JAMB_MORE_IN, slab


def usual_gauge(thickness: float, length: float) -> tuple[float, bool]:
    """Return how thick a leaf usually is, inches, by the slab's thickness, and whether it is heavy.

    Examples
    --------
    >>> usual_gauge(1.375, 3.5), usual_gauge(1.75, 4.5), usual_gauge(2.25, 5.0)
    ((0.097, False), (0.134, False), (0.19, True))
    """
    gauges = next(own for longest, *own in _GAUGES_IN if length <= longest)
    is_heavy = _row(thickness)[1]
    return gauges[is_heavy], is_heavy


def usual_leaf_length(thickness: float, width: float) -> tuple[float, bool]:
    """Return the leaf length usual on a slab, inches, and whether it is recommended for its size.

    Past the table it is the longest of its row.

    Examples
    --------
    >>> usual_leaf_length(1.375, 29.875), usual_leaf_length(1.375, 38.0)
    ((3.5, True), (4.0, False))
    """
    row, last = _row(thickness)[2], _LEAF_LENGTHS[-1][0]
    found = next((long for widest, long in row if width <= widest + _SAME_IN), None)
    return found or row[-1][1], found is not None and thickness <= last + _SAME_IN


def _row(thickness: float) -> tuple[float, bool, _Row]:
    rows = (row for row in _LEAF_LENGTHS if thickness < row[0] + _OVER_NOMINAL_IN)
    return next(rows, _LEAF_LENGTHS[-1])
