"""Further slabs that swing beside the one that is looked at: alone, against it, and with it.

A pair's inactive slab and a Dutch door's lower one are checked in the same
frame as this one; a neighbour in its own. Each is then swung with this slab
closed in its way, to say which of the two opens first; and both are swung
together, over all pairs of their angles.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import pi, radians

import numpy as np

from swingcheck.assembly import BESIDE, Assembly, Other, Part, PartKind, assemble
from swingcheck.assembly.hulls import other_pieces, slab_pieces
from swingcheck.assembly.second_slab import placed
from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.features import features
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.two_turns import Body, first_overlap, least_apart, overlap
from swingcheck.model import Relation, Scene
from swingcheck.swing.decide import SAME_ANGLE_RAD, decide
from swingcheck.swing.found import Foul, Order, OtherFound, Together, Touch
from swingcheck.swing.kept_parts import bare_assembly
from swingcheck.swing.margins import closed_margins
from swingcheck.swing.swung import Swung, overlapped, swung_side, touch

#: How near the least distance of two slabs is looked for, inches: of plain ones, and of ones
#: with round edges, which have more corners than ``PLAIN``.
ACCURACY, ROUND_ACCURACY, PLAIN = 1e-3, 5e-3, 24

#: How far past the truth the angles are at which two slabs begin to foul each other, radians.
WIDTH = radians(0.05)

#: The fouling angles of the other slab are told at every so much of this one's, radians.
EVERY = radians(5.0)

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


def others_found(swing: Swung, opening: Touch | None) -> tuple[OtherFound, ...]:
    """Return what each further slab comes to.

    Parameters
    ----------
    swing : Swung
        The slab that is looked at, the others closed.
    opening : Touch or None
        What stops it opening so.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of a part.
    """
    return tuple(_found(swing, other, opening) for other in swing.assembly.others)


def _found(swing: Swung, other: Other, opening: Touch | None) -> OtherFound:
    this, scene = swing.assembly, other.assembly.scene
    alone, asked = _alone(swing, other), scene.swing
    side = swung_side(alone, asked.start, asked.limit)
    push = swung_side(alone, -asked.start, -asked.limit) if asked.both_ways else None
    against = _against(swing, other)
    held = touch(against.assembly, against.contact(0.0, asked.limit))
    kept = _kept_closed(swing, other)
    stops = touch(kept.assembly, kept.contact(0.0, this.scene.swing.limit))
    reaches = _reach(this.scene, opening), _reach(scene, side.opening)
    return OtherFound(
        name=other.name,
        relation=other.relation,
        decided=decide(scene, closed_margins(bare_assembly(scene)), side, push),
        blocked_by=side.blocked_by,
        closing=side.closing,
        seated=side.seated,
        opening=side.opening,
        push=push,
        held=held,
        order=_order(this_opens=_opens(kept, stops), other_opens=_opens(against, held)),
        together=_together(this, other, *reaches),
    )


def _alone(swing: Swung, other: Other) -> Swung:
    """Return the other slab, to be swung in its frame with nothing of this one in its way."""
    this, own = swing.assembly, other.assembly
    if other.relation is Relation.NEIGHBOUR:
        parts = placed(assemble(_by_itself(own.scene)), other.frame).fixed
        return _swung(own, parts)
    kept = [k for k, part in enumerate(this.fixed) if part.kind not in BESIDE or part in own.fixed]
    parts = tuple(_seen(this.fixed[k], other.relation) for k in kept)
    return Swung(
        assembly=replace(own, moving=_as_slab(own), fixed=parts),
        moving=tuple(features(part.solid) for part in own.moving),
        fixed=tuple(swing.fixed[k] for k in kept),
    )


def _seen(part: Part, relation: Relation) -> Part:
    """Return a fixed part as the other slab meets it: an inactive one hangs on the strike leg."""
    kind = _FROM_STRIKE.get(part.kind, part.kind) if relation is Relation.INACTIVE else part.kind
    return replace(part, kind=PartKind.JAMB_LEAF if kind is PartKind.OTHER_LEAF else kind)


def _against(swing: Swung, other: Other) -> Swung:
    """Return the other slab, to be swung with only this one, closed, in its way."""
    kind, name = _ITSELF[other.relation]
    own = other.assembly
    parts = tuple(
        replace(part, kind=kind, name=name if k == 0 else f"{name}'s {part.name}")
        for k, part in enumerate(swing.assembly.moving)
    )
    return Swung(
        assembly=replace(own, moving=_as_slab(own), fixed=parts),
        moving=tuple(features(part.solid) for part in own.moving),
        fixed=swing.moving,
    )


def _kept_closed(swing: Swung, other: Other) -> Swung:
    """Return this slab, to be swung with only the other one, closed, in its way."""
    parts = other.assembly.moving
    return Swung(
        assembly=replace(swing.assembly, fixed=parts),
        moving=swing.moving,
        fixed=tuple(features(part.solid) for part in parts),
    )


def _swung(own: Assembly, parts: Sequence[Part]) -> Swung:
    return Swung(
        assembly=replace(own, moving=_as_slab(own), fixed=tuple(parts)),
        moving=tuple(features(part.solid) for part in own.moving),
        fixed=tuple(features(part.solid) for part in parts),
    )


def _as_slab(own: Assembly) -> tuple[Part, ...]:
    """Return the other's moving parts, its slab as what is swung."""
    first, *rest = own.moving
    return (replace(first, kind=PartKind.SLAB), *rest)


def _by_itself(scene: Scene) -> Scene:
    return replace(scene, inactive=None, lower=None, neighbours=())


def _opens(swing: Swung, held: Touch | None) -> bool:
    """Tell whether a slab opens as far as wanted past another that is closed."""
    if overlapped(swing.assembly, 0.0):
        return False
    return held is None or held.angle >= swing.assembly.scene.swing.wanted - SAME_ANGLE_RAD


def _order(*, this_opens: bool, other_opens: bool) -> Order:
    if this_opens and other_opens:
        return Order.EITHER
    if this_opens or other_opens:
        return Order.THIS if this_opens else Order.OTHER
    return Order.NEITHER


def _reach(scene: Scene, opening: Touch | None) -> float:
    """Return how far a slab opens, whatever another slab does."""
    if opening is None or opening.against_kind in BESIDE:
        return scene.swing.limit
    return opening.angle


def _together(this: Assembly, other: Other, reach: float, others_reach: float) -> Together:
    """Return how both slabs swing at once, over all pairs of their angles."""
    mine, own = slab_pieces(this), other_pieces(this.scene, other)
    first, second = _body(this, mine.solids), _body(other.assembly, own.solids)
    spans = (0.0, reach), (0.0, others_reach)
    corners = max(len(solid.vertices) for solid in (*mine.solids, *own.solids))
    accuracy = ACCURACY if corners <= PLAIN else ROUND_ACCURACY
    apart = least_apart(first, second, *spans, accuracy=accuracy)
    within = apart.distance > 0 or not _fouls_within(this, other, first, second)
    return Together(
        least=apart.distance,
        certain=apart.certain,
        angles=apart.angles,
        reaches=(reach, others_reach),
        fills=mine.fills or own.fills,
        within_wanted=within,
        fouls=() if apart.distance > 0 else tuple(_fouls(first, second, *spans)),
    )


def _body(assembly: Assembly, pieces: tuple[Solid, ...]) -> Body:
    axis = assembly.axis
    return Body(pieces=pieces, point=axis.point, direction=axis.direction, rise=axis.rise)


def _fouls_within(this: Assembly, other: Other, first: Body, second: Body) -> bool:
    """Tell whether both slabs foul each other short of what is wanted of each."""
    spans = (0.0, this.scene.swing.wanted), (0.0, other.assembly.scene.swing.wanted)
    return first_overlap(first, second, *spans, width=WIDTH) is not None


def _fouls(
    first: Body, second: Body, turns: tuple[float, float], others: tuple[float, float]
) -> Iterator[Foul]:
    """Yield the other's angles that foul, at this slab's first such angle, every so many, its last.

    Where they begin is looked for over both angles at once, so that no foul
    between two of the angles that are told goes unseen.
    """
    low = first_overlap(first, second, turns, others, width=WIDTH)
    high = first_overlap(first, second, turns[::-1], others, width=WIDTH)
    if low is None or high is None:
        return
    ticks = EVERY * np.arange(1, int(pi / EVERY) + 1)
    between = [float(t) for t in ticks if low[0] + WIDTH < t < high[0] - WIDTH]
    for angle in (low[0], *between, high[0]):
        yield from _foul_at(first, second, angle, others)


def _foul_at(
    first: Body, second: Body, angle: float, others: tuple[float, float]
) -> Iterator[Foul]:
    """Yield the span of the other's angles that foul at one angle of this slab, ends exact."""
    posed = _posed(first, angle)
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


def _posed(body: Body, angle: float) -> list[Solid]:
    from swingcheck.assembly.parts import Axis

    axis = Axis(point=body.point, direction=body.direction, rise=body.rise)
    return [axis.turned(piece, angle) for piece in body.pieces]
