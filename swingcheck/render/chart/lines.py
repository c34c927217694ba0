"""What a clearance chart shows: a line a fixed part, which is nearest, what is not reached."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.assembly import Part, PartKind
from swingcheck.geometry.solid import Floats, Ints
from swingcheck.palette import LINES, OTHER_LINE, Dash
from swingcheck.render.pen.subject import Pose, Subject
from swingcheck.swing.by_angle import clearance_by_angle
from swingcheck.swing.found import Clearance
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units import MM_PER_INCH

LINE_CLOSE_IN = 0.002
"""How near the lines are kept to the clearances, inches: thinner than they are drawn."""

HIGHEST = {"in": 0.5, "mm": 12.0 / MM_PER_INCH}
"""Clearances are charted up to this, inches."""

TIE_IN = 0.0005
"""Clearances that differ by less are equally near, inches."""

LEAVES = "jamb leaves"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartLine:
    """The clearance to one fixed part, or to the jamb's leaves together, at the chart's angles.

    ``distances`` (n,) inches; ``least`` the certified least on the way, as the
    check found it, ``None`` where the slab does not move at all or where it
    ``touches``.
    """

    name: str
    kind: PartKind
    distances: Floats
    least: Clearance | None
    touches: bool = False

    @property
    def ink(self) -> tuple[str, Dash | None]:
        """Its colour and its dashes, the part's own."""
        return LINES.get(self.kind, OTHER_LINE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A run of the swing, radians from ``low`` to ``high``, over which one line is nearest."""

    low: float
    high: float
    line: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ChartData:
    """Everything a chart draws, inches and radians.

    ``angles`` (n,) rise from closed to ``high``; ``openings`` (n,) are the
    openings at the strike edge there; the slab moves between ``reached``.
    ``pose`` is the contact that the verdict speaks of, or the seat. All angles
    are told as open, on the push side too where ``push`` says that it is.
    """

    unit: str
    angles: Floats
    openings: Floats
    lines: tuple[PartLine, ...]
    reached: tuple[float, float]
    pose: Pose
    push: bool

    @property
    def high(self) -> float:
        """The widest angle, radians."""
        return float(self.angles[-1])

    @property
    def highest(self) -> float:
        """The largest clearance that is charted, inches."""
        return HIGHEST[self.unit]

    @property
    def inside(self) -> Ints:
        """Which of the angles the slab comes to."""
        low, high = self.reached
        return np.flatnonzero((self.angles >= low - 1e-12) & (self.angles <= high + 1e-12))

    @property
    def nearest(self) -> tuple[Stretch, ...]:
        """Which line is nearest over which run of what the slab reaches."""
        inside = self.inside
        if not len(inside) or not self.lines:
            return ()
        least = _kept_nearest(np.array([line.distances[inside] for line in self.lines]))
        starts = [0, *(np.flatnonzero(np.diff(least)) + 1).tolist()]
        ends = [*starts[1:], len(inside) - 1]
        return tuple(
            Stretch(
                low=float(self.angles[inside[start]]),
                high=float(self.angles[inside[end]]),
                line=int(least[start]),
            )
            for start, end in zip(starts, ends, strict=True)
        )


def chart_data(subject: Subject) -> ChartData:
    """Return the clearances of a subject's swing by angle, a line for each part that comes near.

    The chart runs from closed to where closing starts from or how far the
    slab is to open, whichever is wider. A part that stays farther off than the
    chart is high has no line.
    """
    assembly, pose, ends = subject.assembly, subject.pose, subject.ends
    if subject.push:  # about the line turned over, what swings to the push side opens
        axis = replace(assembly.axis, direction=-assembly.axis.direction)
        assembly = replace(assembly, axis=axis)
    touches = [
        replace(touch, angle=abs(touch.angle))
        for touch in (ends.closing, ends.opening)
        if touch is not None
    ]
    high = max(assembly.scene.swing.start, assembly.scene.swing.wanted)
    table = clearance_by_angle(assembly, high=high, touches=touches, close=LINE_CLOSE_IN)
    found = ChartData(
        unit=subject.unit,
        angles=table.angles,
        openings=np.array([opening_at_strike(assembly, float(a)) for a in table.angles]),
        lines=_lines(subject, table.distances),
        reached=_reached(subject, high),
        pose=replace(pose, angle=abs(pose.angle)),
        push=subject.push,
    )
    inside = found.inside
    near = tuple(line for line in found.lines if line.distances[inside].min() < found.highest)
    return replace(found, lines=near)


def _lines(subject: Subject, distances: Floats) -> tuple[PartLine, ...]:
    """Return a line a part, the jamb's leaves as one, in the order of the parts."""
    fixed, pose = subject.assembly.fixed, subject.pose
    touched = {*pose.against, *(pose.touch.also if pose.touch else ())}
    on_side = [each for each in subject.clearances if (each.angle < 0) == subject.push]
    lines = []
    for name, members in line_groups(fixed).items():
        names = {fixed[k].name for k in members}
        own = [each for each in on_side if each.against in names and not names & touched]
        lines.append(
            PartLine(
                name=name,
                kind=fixed[members[0]].kind,
                distances=distances[:, members].min(axis=1),
                least=min(own, key=lambda clearance: clearance.least, default=None),
                touches=bool(names & touched),
            )
        )
    return tuple(lines)


def line_groups(fixed: Sequence[Part]) -> dict[str, list[int]]:
    """Return a chart's lines by name: the places of the fixed parts that each stands for.

    Each part is its own line, but that several leaves on the jamb share one.
    """
    leaves = sum(part.kind is PartKind.JAMB_LEAF for part in fixed)
    groups: dict[str, list[int]] = {}
    for k, part in enumerate(fixed):
        shared = leaves > 1 and part.kind is PartKind.JAMB_LEAF
        groups.setdefault(LEAVES if shared else part.name, []).append(k)
    return groups


def _reached(subject: Subject, high: float) -> tuple[float, float]:
    """Return the angles between which the slab moves, radians."""
    pose, ends = subject.pose, subject.ends
    if pose.overlaps or ends.blocked_by:
        return high, high
    low = abs(ends.closing.angle) if ends.closing is not None else 0.0
    far = abs(ends.opening.angle) if ends.opening is not None else high
    return low, min(high, far)


def _kept_nearest(distances: Floats) -> Ints:
    """Return which row of (lines, angles) is nearest at each angle, the last one while it ties."""
    nearest = distances.argmin(axis=0)
    for k in range(1, len(nearest)):
        held = distances[nearest[k - 1], k]
        if held <= distances[nearest[k], k] + TIE_IN:
            nearest[k] = nearest[k - 1]
    return nearest


def angle_at_opening(data: ChartData, opening: float) -> float:
    """Return the swing angle at an opening at the strike edge, inches; it grows with the angle."""
    return float(np.interp(opening, data.openings, data.angles))
