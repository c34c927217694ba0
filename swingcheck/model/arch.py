"""Arched heads and arched slab tops: arcs over two ends, in the wall's plane."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, sqrt

from swingcheck.model.opening import Opening
from swingcheck.model.slab import Slab

End = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """An arc that rises from ``start`` to its crown and falls to ``end``.

    Points are (across, up), inches; the centre is (``across``, ``up``).
    """

    across: float
    up: float
    radius: float
    start: End
    end: End

    @property
    def crown(self) -> float:
        """Its highest point: between its ends, or the higher end where it only climbs."""
        if self.start[0] <= self.across <= self.end[0]:
            return self.up + self.radius
        return max(self.start[1], self.end[1])

    def height(self, across: float) -> float:
        """Return how high it stands at a place across; at its side where that is beyond it."""
        return self.up + sqrt(max(self.radius**2 - (across - self.across) ** 2, 0.0))

    def gap(self, across: float, up: float) -> float:
        """Return how far a point is under it, square to it."""
        return self.radius - hypot(across - self.across, up - self.up)


def arc_over(start: End, end: End, rise: float) -> Arc:
    """Return the arc over two ends that stands ``rise`` over the middle of its chord.

    With the chord ``c``, the radius is ``(c^2 / 4 + rise^2) / (2 rise)``
    (intersecting chords, Euclid III.35).

    Examples
    --------
    >>> arc_over((0.0, 80.0), (30.0, 80.0), 15.0).radius
    15.0
    >>> arc_over((0.0, 80.0), (8.0, 80.0), 2.0).height(4.0)
    82.0
    """
    across, up = end[0] - start[0], end[1] - start[1]
    chord = hypot(across, up)
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    down = (rise - radius) / chord
    return Arc(
        across=(start[0] + end[0]) / 2 - up * down,
        up=(start[1] + end[1]) / 2 + across * down,
        radius=radius,
        start=start,
        end=end,
    )


def rise_of(start: End, end: End, radius: float) -> float:
    """Return how much an arc of this radius stands over the middle of its chord."""
    half = hypot(end[0] - start[0], end[1] - start[1]) / 2
    return radius - sqrt(max(radius * radius - half * half, 0.0))


def head_ends(opening: Opening) -> tuple[End, End]:
    """Return where the head meets the hinge leg and the strike leg on the pull side."""
    hinge = opening.hinge_leg.plumb[0]
    if len(opening.width) == 1:
        strike = opening.width[0] - opening.strike_leg.plumb[0]
    else:
        strike = hinge + opening.width[0]
    return (hinge, opening.height[0]), (strike, opening.height[1])


def head_arc(opening: Opening) -> Arc | None:
    """Return the head's arc, opening frame, or None for a straight head."""
    return arc_over(*head_ends(opening), opening.arch) if opening.arch else None


def slab_arc(slab: Slab) -> Arc | None:
    """Return the arc of the slab's top on the wide face, slab frame, or None for a straight top."""
    ends = (0.0, slab.height[0]), (slab.width[0], slab.height[1])
    return arc_over(*ends, slab.arch) if slab.arch else None


def top_drop(opening: Opening, slab: Slab) -> float:
    """Return how far the closed slab's top hangs below the head at the hinge side.

    The head margin; where both are arched that is at the crown, and this the
    drop from the head's end to the end of the slab's arc.
    """
    head, top = head_arc(opening), slab_arc(slab)
    if head is None or top is None:
        return slab.head_margin
    return opening.height[0] - head.crown + slab.head_margin + top.crown - slab.height[0]


def hung_top(opening: Opening, slab: Slab) -> float:
    """Return how high the closed slab's top stands at the hinge edge, opening frame."""
    return opening.height[0] - top_drop(opening, slab)
