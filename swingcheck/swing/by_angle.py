"""The clearance to every fixed part at every angle of the swing, as a table to look up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians

import numpy as np

from swingcheck.assembly import Assembly, Part
from swingcheck.geometry.gaps import TurningGaps
from swingcheck.geometry.solid import Bools, Floats
from swingcheck.swing.found import Touch

WITHIN_IN = 1.0
"""Clearances are looked for up to this."""

OFF_LINE_IN = 0.001
"""How near a straight line between two angles is to keep to the clearance."""

NARROWEST_RAD = radians(0.02)
"""Angles nearer to each other than this are not parted further."""

_FINE_RAD, _COARSE_RAD, _ROUNDS = radians(0.25), radians(2.0), 7


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClearanceByAngle:
    """Exact least distances at chosen angles, between which a straight line is near enough.

    ``angles`` (n,) radians, rising; ``parts`` the fixed parts' names;
    ``distances`` (n, parts) inches, 0 where the slab or a leaf touches or
    overlaps the part, ``within`` where nothing is nearer; ``between`` is the
    farthest that a straight line between neighbours was found off, inches.
    """

    angles: Floats
    parts: tuple[str, ...]
    distances: Floats
    within: float
    between: float


def clearance_by_angle(
    assembly: Assembly,
    *,
    high: float,
    touches: Sequence[Touch] = (),
    close: float = OFF_LINE_IN,
) -> ClearanceByAngle:
    """Return the clearances from closed to an angle, measured densest where they bend.

    ``high`` is the widest angle, radians. ``touches`` are first contacts: their angles
    are in the table, and what they touch is at distance 0 there. Between two angles the
    table is parted until its middle is within ``close`` (inches) of the straight line,
    or the two are within :data:`NARROWEST_RAD`; that accuracy is found by measuring at
    the middle of every interval, it is not a bound.
    """
    gaps = turning_gaps(assembly, assembly.fixed, WITHIN_IN)
    # Fine where the slab nears closed, coarse beyond.
    fine = np.arange(0.0, min(high, radians(6.0)), _FINE_RAD)
    coarse = np.arange(radians(6.0), high, _COARSE_RAD)
    met = [touch.angle for touch in touches if 0.0 <= touch.angle <= high]
    first = np.unique(np.concatenate([fine, coarse, met, [high]]))
    angles, distances, between = _measured(gaps, first, close)
    names = tuple(part.name for part in assembly.fixed)
    for touch in touches:
        for name in (touch.against, *touch.also):
            distances[angles == touch.angle, names.index(name)] = 0.0
    return ClearanceByAngle(
        angles=angles,
        parts=names,
        distances=distances,
        within=WITHIN_IN,
        between=between,
    )


def turning_gaps(assembly: Assembly, fixed: Sequence[Part], within: float) -> TurningGaps:
    """Return what measures the slab's distances to fixed parts as it turns, up to ``within``."""
    axis = assembly.axis
    return TurningGaps(
        [part.solid for part in assembly.moving],
        [part.solid for part in fixed],
        point=axis.point,
        direction=axis.direction,
        rise=axis.rise,
        within=within,
    )


def _measured(gaps: TurningGaps, angles: Floats, close: float) -> tuple[Floats, Floats, float]:
    """Return a table parted until it is near enough, and how far off a line in it was found."""
    distances = gaps.at(angles)
    open_ = np.ones(len(angles) - 1, dtype=bool)
    between = 0.0
    for _ in range(_ROUNDS):
        angles, distances, open_, worst = _parted(gaps, angles, distances, open_, close)
        between = max(between, worst)
        if not open_.any():
            break
    return angles, distances, between


def _parted(
    gaps: TurningGaps, angles: Floats, distances: Floats, open_: Bools, close: float
) -> tuple[Floats, Floats, Bools, float]:
    """Return the table with the middles of its open intervals, which halves stay open, how far off.

    That is half the farthest that a middle was off the line where parting has ended.
    """
    left = np.flatnonzero(open_)
    middles = (angles[left] + angles[left + 1]) / 2
    found = gaps.at(middles)
    off = np.abs(found - (distances[left] + distances[left + 1]) / 2).max(axis=1)
    narrow = angles[left + 1] - angles[left] < 2 * NARROWEST_RAD
    again = (off > close) & ~narrow
    ended = off[~again]
    halves = np.insert(np.zeros(len(angles) - 1, dtype=bool), left + 1, again)
    # An interval's own place is its left half's; its right half was put in behind it.
    place = left + np.arange(len(left))
    halves[place] = again
    return (
        np.insert(angles, left + 1, middles),
        np.insert(distances, left + 1, found, axis=0),
        halves,
        float(ended.max()) / 2 if len(ended) else 0.0,
    )
