"""An assembly ready to be turned, and what it touches, in trade words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import hypot, sin

import numpy as np

from swingcheck.assembly import FITTED, Assembly, PartKind
from swingcheck.assembly.slab import width_at
from swingcheck.geometry.booleans import shared_volume
from swingcheck.geometry.clearance import least_distances_of
from swingcheck.geometry.contact import Contact, first_contact_of
from swingcheck.geometry.features import Features, features_of
from swingcheck.geometry.turning import Turning, turning_about
from swingcheck.model import Scene
from swingcheck.swing.decide import STOPS, VERDICTS, laps_frame
from swingcheck.swing.found import Clearance, Side, Touch, Verdict
from swingcheck.swing.slab_part import slab_feature

OVERLAP_CUBIC_IN = 1e-6
"""Less than this in common is touching."""

ALIKE_PLACES = 9
"""Clearances that differ beyond these decimals of an inch are alike."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Swung:
    """An assembly with its features found once, ready to be turned."""

    assembly: Assembly
    moving: tuple[Features, ...]
    fixed: tuple[Features, ...]
    _turnings: dict[float, Turning] = field(default_factory=dict, init=False, repr=False)

    def contact(self, start: float, stop: float) -> Contact | None:
        """Return the first contact on the way from one swing angle to another, radians."""
        if not self.moving or not self.fixed:
            return None
        return first_contact_of(self._turning(start), stop)

    def _turning(self, start: float) -> Turning:
        """Return the features about the pin line where a turn starts, kept for turns to come."""
        if start not in self._turnings:
            axis = self.assembly.axis
            self._turnings[start] = turning_about(
                self.moving,
                self.fixed,
                point=axis.point,
                direction=axis.direction,
                start=start,
                rise=axis.rise,
            )
        return self._turnings[start]

    def unfitted(self) -> Swung:
        """Return the same without what is fitted to the slab."""
        parts = enumerate(self.assembly.moving)
        own = [k for k, part in parts if part.kind not in FITTED]
        return replace(
            self,
            assembly=replace(self.assembly, moving=tuple(self.assembly.moving[k] for k in own)),
            moving=tuple(self.moving[k] for k in own),
        )

    def clearances(self, start: float, stop: float, skip: frozenset[str]) -> tuple[Clearance, ...]:
        """Return the least distance to each fixed part not in ``skip``, nearest first."""
        parts = [k for k, part in enumerate(self.assembly.fixed) if part.name not in skip]
        nearest = least_distances_of(self._turning(start), stop, parts)
        found = [
            Clearance(
                against=self.assembly.fixed[k].name,
                against_kind=self.assembly.fixed[k].kind,
                least=near.distance,
                angle=near.angle,
            )
            for k, near in zip(parts, nearest, strict=True)
        ]
        return nearest_first(found)


def nearest_first(clearances: Iterable[Clearance]) -> tuple[Clearance, ...]:
    """Return clearances by how near they come; those alike stay in the order of the parts."""
    return tuple(sorted(clearances, key=lambda found: round(found.least, ALIKE_PLACES)))


def swung(assembly: Assembly) -> Swung:
    """Return the assembly with the features of its parts."""
    own = features_of([part.solid for part in (*assembly.moving, *assembly.fixed)])
    count = len(assembly.moving)
    return Swung(assembly=assembly, moving=own[:count], fixed=own[count:])


def overlapped(assembly: Assembly, angle: float) -> tuple[str, ...]:
    """Return the names of the fixed parts that the slab or a leaf overlaps at a swing angle."""
    found = []
    movers = [assembly.axis.turned(part.solid, angle) for part in assembly.moving]
    for part in assembly.fixed:
        low, high = part.solid.bounds
        for mover in movers:
            near = mover.bounds
            apart = (near[0] >= high).any() or (near[1] <= low).any()
            if not apart and shared_volume(mover, part.solid) > OVERLAP_CUBIC_IN:
                found.append(part.name)
                break
    return tuple(found)


def touch(assembly: Assembly, contact: Contact | None) -> Touch | None:
    """Return a contact in trade words, or None for none."""
    if contact is None:
        return None
    mover, part = assembly.moving[contact.moving], assembly.fixed[contact.fixed]
    points = contact.points[np.argsort(contact.points[:, 2], kind="stable")]
    low, high = points[0], points[-1]
    upright = np.hypot(*(high - low)[:2]) <= 0.2 * (high[2] - low[2])
    middle = (low + high) / 2 if upright else high
    span = (float(low[2]), float(high[2])) if upright else (float(high[2]),) * 2
    x, y, z = (float(v) for v in middle)
    feature = mover.name
    if mover.kind is PartKind.SLAB:
        back = assembly.in_slab(assembly.axis.turned_points(middle, -contact.angle))
        feature = slab_feature(assembly.scene.slab, back, span[1] - span[0])
    return Touch(
        angle=contact.angle,
        opening_at_strike=opening_at_strike(assembly, contact.angle),
        against=part.name,
        against_kind=part.kind,
        by=mover.name,
        by_kind=mover.kind,
        feature=feature,
        point=(x, y, z),
        span=span,
        also=tuple(assembly.fixed[k].name for k in contact.others),
        hinge_half=hypot(*(middle - assembly.axis.at(z))[:2]) < max(assembly.scene.slab.width) / 2,
    )


def opening_at_strike(assembly: Assembly, angle: float) -> float:
    """Return the opening at the strike edge, inches: ``2 r sin(angle / 2)``.

    ``r`` is the plan distance from the axis to the strike edge's wide-face
    arris at the slab's mid-height.
    """
    slab = assembly.scene.slab
    middle = slab.height[1] / 2
    arris = np.array([width_at(slab, middle), 0.0, middle])
    placed = assembly.placed(arris)
    return 2 * hypot(*(placed - assembly.axis.at(float(placed[2])))[:2]) * sin(abs(angle) / 2)


def is_seat(scene: Scene, closing: Touch) -> bool:
    """Tell whether a contact is the slab coming to rest on its stops, or a lip on the frame."""
    rests = closing.against_kind in STOPS or laps_frame(scene, closing)
    return rests and closing.opening_at_strike <= scene.swing.seat


def swung_sides(swing: Swung, *, decisive: bool = False) -> tuple[Side, Side | None]:
    """Return what a slab does, and what on the push side where it swings both ways.

    ``decisive`` leaves out all that decides no verdict: opening beyond what is
    wanted, or at all where it is blocked or does not close.
    """
    asked = swing.assembly.scene.swing
    limit = asked.wanted if decisive else asked.limit
    side = _swung_side(swing, asked.start, limit, decisive=decisive)
    if not asked.both_ways:
        return side, None
    return side, _swung_side(swing, -asked.start, -limit, decisive=decisive)


def _swung_side(swing: Swung, begin: float, limit: float, *, decisive: bool) -> Side:
    """Return what a slab does on one side, closing from ``begin`` and opening to ``limit``.

    One that overlaps something where its closing starts is opened from closed; so is
    one that would have to come past something in the room.
    """
    assembly = swing.assembly
    blocked = overlapped(assembly, begin)
    closing = None if blocked else touch(assembly, swing.contact(begin, 0.0))
    past = closing is not None and VERDICTS[closing.against_kind] is Verdict.FOULS
    if past and not overlapped(assembly, 0.0):
        opening = touch(assembly, swing.contact(0.0, limit))
        return Side(blocked_by=(), closing=None, opening=opening)
    seated = closing is not None and is_seat(assembly.scene, closing)
    opening = None
    if not (decisive and (blocked or (closing and not seated))):
        origin = 0.0 if blocked else begin
        if abs(limit) > abs(origin) and not (blocked and overlapped(assembly, 0.0)):
            opening = touch(assembly, swing.contact(origin, limit))
    return Side(blocked_by=blocked, closing=closing, opening=opening, seated=seated)
