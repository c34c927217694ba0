"""Further slabs that swing beside the one that is looked at: alone, against it, and with it.

A pair's inactive slab and a Dutch door's lower one are checked in the same
frame as this one; a neighbour in its own. Each is then swung with this slab
closed in its way, to say which of the two opens first; and both are swung
together, over all pairs of their angles.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from math import pi, radians

import numpy as np

from swingcheck.assembly import BESIDE, Assembly, Other, Part, PartKind, assemble
from swingcheck.assembly.hulls import Hulls, slab_hulls
from swingcheck.assembly.second_slab import placed
from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.features import Features, features_of
from swingcheck.geometry.two_turns import Body, Range, first_overlap, least_apart, overlap
from swingcheck.model import Relation, Scene
from swingcheck.swing.decide import SAME_ANGLE_RAD, SWINGS, decide, fouling
from swingcheck.swing.found import Decided, Foul, Order, OtherFound, Together, Touch
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.swung import Swung, overlapped, swung_sides, touch

PLAIN_IN, ROUND_IN, PLAIN_CORNERS = 1e-3, 5e-3, 24
"""How near the least distance of two slabs is looked for: of plain ones, and of ones with round
edges, which have more corners."""

FIRST_FOUL_RAD = radians(0.05)
"""How far past the truth the angles are at which two slabs begin to foul each other."""

STEP_RAD, STEPS, NEAR_RAD, GOLDEN = radians(0.25), 20, radians(1e-3), 0.382
"""The other slab's angle at which they first touch is looked for in so many steps either way,
and there by golden sections, as near as this."""

TOLD_EVERY_RAD = radians(5.0)
"""The fouling angles of the other slab are told at every so much of this one's."""

_ITSELF = {
    Relation.INACTIVE: (PartKind.ACTIVE, "active slab"),
    Relation.LOWER: (PartKind.UPPER, "upper slab"),
    Relation.NEIGHBOUR: (PartKind.NEIGHBOUR, "first slab"),
}

_FROM_STRIKE = {
    PartKind.HINGE_LEG: PartKind.STRIKE_LEG,
    PartKind.STRIKE_LEG: PartKind.HINGE_LEG,
    PartKind.HINGE_STOP: PartKind.STRIKE_STOP,
    PartKind.STRIKE_STOP: PartKind.HINGE_STOP,
}

_ORDERS = {
    (True, True): Order.EITHER,
    (True, False): Order.THIS,
    (False, True): Order.OTHER,
    (False, False): Order.NEITHER,
}
"""Which slab opens first, by whether this one opens past the other closed, and that past this."""

Angles = tuple[float, float]
"""This slab's and the other's, radians."""


def others_found(swing: Swung, opening: Touch | None) -> tuple[OtherFound, ...]:
    """Return what each further slab comes to; ``opening`` stops the first one, the others closed.

    Raises GeometryError where the sizes leave nothing of a part.
    """
    return tuple(_found(swing, other, opening) for other in swing.assembly.others)


def decided_beside(swing: Swung, kept: Variants) -> Iterator[Decided]:
    """Yield what each further slab adds to the verdict, and work out no more than that.

    ``kept`` made ``swing``: another slab that hangs in the same opening is swung once
    for all changes that do not reach it; of a neighbour, the angles at which the two
    fouled each other are looked at first. Raises GeometryError where the sizes leave
    nothing of a part.
    """
    for other in swing.assembly.others:
        if other.relation is Relation.NEIGHBOUR:
            met: list[Angles] = kept.once("fouls", (other, swing.assembly.scene.swing), list)
            yield fouling(other.name) if _foul_again(swing.assembly, other, met) else SWINGS
        else:
            around = [swing.fixed[k] for k in _around(swing, other)]
            yield kept.once("alone", (other, *around), partial(_decided_alone, swing, other))


def _found(swing: Swung, other: Other, opening: Touch | None) -> OtherFound:
    this, scene = swing.assembly, other.assembly.scene
    side, push = swung_sides(_alone(swing, other))
    against = _against(swing, other)
    held = touch(against.assembly, against.contact(0.0, scene.swing.limit))
    parts = other.assembly.moving
    features = features_of([part.solid for part in parts])
    kept = replace(swing, assembly=replace(this, fixed=parts), fixed=features)
    stops = touch(kept.assembly, kept.contact(0.0, this.scene.swing.limit))
    reaches = _reach(this.scene, opening), _reach(scene, side.opening)
    return OtherFound(
        name=other.name,
        relation=other.relation,
        decided=decide(scene, side, push, name=other.name),
        blocked_by=side.blocked_by,
        closing=side.closing,
        seated=side.seated,
        opening=side.opening,
        push=push,
        held=held,
        order=_ORDERS[_opens(kept, stops), _opens(against, held)],
        together=_together(this, other, reaches),
    )


def _decided_alone(swing: Swung, other: Other) -> Decided:
    scene = other.assembly.scene
    side, push = swung_sides(_alone(swing, other), decisive=True)
    return decide(scene, side, push, name=other.name)


def _alone(swing: Swung, other: Other) -> Swung:
    """Return the other slab, to be swung in its frame with nothing of this one in its way."""
    if other.relation is Relation.NEIGHBOUR:
        scene = replace(other.assembly.scene, inactive=None, lower=None, neighbours=())
        return _beside(other, placed(assemble(scene), other.frame).fixed)
    around = _around(swing, other)
    parts = [_seen(swing.assembly.fixed[k], other.relation) for k in around]
    return _beside(other, parts, tuple(swing.fixed[k] for k in around))


def _around(swing: Swung, other: Other) -> list[int]:
    """Return which of the fixed parts another slab in the same opening hangs among."""
    own = {id(part) for part in other.assembly.fixed}
    parts = enumerate(swing.assembly.fixed)
    return [k for k, part in parts if part.kind not in BESIDE or id(part) in own]


def _seen(part: Part, relation: Relation) -> Part:
    """Return a fixed part as the other slab meets it: an inactive one hangs on the strike leg."""
    kind = _FROM_STRIKE.get(part.kind, part.kind) if relation is Relation.INACTIVE else part.kind
    return replace(part, kind=PartKind.JAMB_LEAF if kind is PartKind.OTHER_LEAF else kind)


def _against(swing: Swung, other: Other) -> Swung:
    """Return the other slab, to be swung with only this one, closed, in its way."""
    kind, name = _ITSELF[other.relation]
    parts = [
        replace(part, kind=kind, name=name if k == 0 else f"{name}'s {part.name}")
        for k, part in enumerate(swing.assembly.moving)
    ]
    return _beside(other, parts, swing.moving)


def _beside(
    other: Other, parts: Sequence[Part], fixed: tuple[Features, ...] | None = None
) -> Swung:
    """Return the other slab, to be swung among parts, of which the features may be known."""
    own = other.assembly
    slab, *fitted = own.moving
    moving = (replace(slab, kind=PartKind.SLAB), *fitted)
    return Swung(
        assembly=replace(own, moving=moving, fixed=tuple(parts)),
        moving=features_of([part.solid for part in moving]),
        fixed=fixed or features_of([part.solid for part in parts]),
    )


def _opens(swing: Swung, held: Touch | None) -> bool:
    """Tell whether a slab opens as far as wanted past another that is closed."""
    if overlapped(swing.assembly, 0.0):
        return False
    return held is None or held.angle >= swing.assembly.scene.swing.wanted - SAME_ANGLE_RAD


def _reach(scene: Scene, opening: Touch | None) -> float:
    """Return how far a slab opens, whatever another slab does."""
    if opening is None or opening.against_kind in BESIDE:
        return scene.swing.limit
    return opening.angle


def _hulls(this: Assembly, other: Other) -> tuple[Hulls, Hulls]:
    """Return both slabs as convex pieces."""
    pair = this.scene.inactive if other.relation is Relation.INACTIVE else None
    return slab_hulls(this), slab_hulls(other.assembly, pair.rebate if pair else None)


def _together(this: Assembly, other: Other, reaches: Angles) -> Together:
    """Return how both slabs swing at once, over all pairs of their angles."""
    mine, own = _hulls(this, other)
    first, second = mine.body, own.body
    corners = max(len(piece.vertices) for piece in (*first.pieces, *second.pieces))
    spans = (0.0, reaches[0]), (0.0, reaches[1])
    accuracy = PLAIN_IN if corners <= PLAIN_CORNERS else ROUND_IN
    apart = least_apart(first, second, *spans, accuracy=accuracy)
    clear = apart.distance > 0
    return Together(
        least=apart.distance,
        certain=apart.certain,
        angles=apart.angles,
        reaches=reaches,
        fills=mine.fills or own.fills,
        within_wanted=clear or _first_foul(this, other, first, second) is None,
        fouls=() if clear else tuple(_fouls(first, second, *spans)),
    )


def _foul_again(this: Assembly, other: Other, met: list[Angles]) -> bool:
    """Tell whether two slabs foul each other, looking first at the angles where they last did."""
    first, second = (each.body for each in _hulls(this, other))
    if any(overlap(first, second, angles) for angles in met):
        return True
    found = _first_foul(this, other, first, second)
    if found is not None:
        met[:] = [found]
    return found is not None


def _first_foul(this: Assembly, other: Other, first: Body, second: Body) -> Angles | None:
    """Return where both slabs first foul each other short of what is wanted of each."""
    spans = (0.0, this.scene.swing.wanted), (0.0, other.assembly.scene.swing.wanted)
    return first_overlap(first, second, *spans, width=FIRST_FOUL_RAD)


def _fouls(first: Body, second: Body, turns: Range, others: Range) -> Iterator[Foul]:
    """Yield the other's angles that foul, at this slab's first such angle, every so many, its last.

    Where they begin is looked for over both angles at once: no foul goes unseen between two.
    """
    low = first_overlap(first, second, turns, others, width=FIRST_FOUL_RAD)
    high = first_overlap(first, second, turns[::-1], others, width=FIRST_FOUL_RAD)
    if low is None or high is None:
        return
    ends = (
        _first_touch(first, second, turns[0], others, low),
        _first_touch(first, second, turns[1], others, high),
    )
    ticks = TOLD_EVERY_RAD * np.arange(1, int(pi / TOLD_EVERY_RAD) + 1)
    inside = (ticks > low[0] + FIRST_FOUL_RAD) & (ticks < high[0] - FIRST_FOUL_RAD)
    for angle in (ends[0][0], *ticks[inside].tolist(), ends[1][0]):
        at = [other for end, other in ends if end == angle]
        told = list(_foul_at(first, second, angle, others))
        yield from told or (Foul(angle=angle, low=other, high=other) for other in at)


def _first_touch(first: Body, second: Body, begin: float, others: Range, found: Angles) -> Angles:
    """Return the angles at which two slabs first touch, near where they were found to foul.

    This slab comes from ``begin``; at each of the other's angles that is solved, and of
    those the soonest is looked for by golden sections.
    """
    sense = 1.0 if found[0] >= begin else -1.0
    start = sense * max(sense * begin, sense * found[0] - 2 * FIRST_FOUL_RAD)

    def gone(other: float) -> float:
        if overlap(first, second, (start, other)):
            return 0.0
        met = first_contact(
            first.pieces,
            second.posed(other),
            point=first.point,
            direction=first.direction,
            start=start,
            stop=found[0],
            rise=first.rise,
        )
        return sense * ((found[0] if met is None else met.angle) - start)

    least, most = sorted(others)
    tried = found[1] + STEP_RAD * np.arange(-STEPS, STEPS + 1)
    middle = min((min(max(other, least), most) for other in tried.tolist()), key=gone)
    best, low, high = gone(middle), max(least, middle - STEP_RAD), min(most, middle + STEP_RAD)
    while high - low > NEAR_RAD:
        further = high - middle > middle - low
        probe = middle + GOLDEN * ((high if further else low) - middle)
        if (value := gone(probe)) < best:
            low, high = (middle, high) if further else (low, middle)
            middle, best = probe, value
        elif further:
            high = probe
        else:
            low = probe
    return start + sense * best, middle


def _foul_at(first: Body, second: Body, angle: float, others: Range) -> Iterator[Foul]:
    """Yield the span of the other's angles that foul at one angle of this slab, ends exact."""
    posed = first.posed(angle)
    ends = []
    for begin, end in (others, others[::-1]):
        if overlap(first, second, (angle, begin)):
            ends.append(begin)
            continue
        found = first_contact(
            second.pieces,
            posed,
            point=second.point,
            direction=second.direction,
            start=begin,
            stop=end,
            rise=second.rise,
        )
        if found is None:
            return
        ends.append(found.angle)
    yield Foul(angle=angle, low=ends[0], high=ends[1])
