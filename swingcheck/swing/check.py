"""The main job: swing the slab and say what happens."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from swingcheck.assembly import FITTED, Assembly, PartKind, assemble
from swingcheck.model import Access, Scene
from swingcheck.swing.decide import SAME_ANGLE_RAD, counted, decide
from swingcheck.swing.fit import fit_of
from swingcheck.swing.found import (
    Clearance,
    CurvePoint,
    Found,
    Opened,
    OtherFound,
    RoundEdge,
    Side,
    Touch,
)
from swingcheck.swing.margins import closed_margins, pins_found
from swingcheck.swing.swung import Swung, nearest_first, swung, swung_sides, touch


def check(scene: Scene, *, start: float | None = None, step: float | None = None) -> Found:
    """Return everything there is to say about how the slab hangs and swings.

    Closing starts at ``start`` radians, the scene's own when left out; with
    ``step`` the least distance is also given every so many radians. Raises
    GeometryError where the sizes leave nothing of a part.
    """
    if start is not None:
        scene = replace(scene, swing=replace(scene.swing, start=start))
    assembly = assemble(scene)
    swing, asked = swung(assembly), scene.swing
    side, push = swung_sides(swing)
    margins = closed_margins(assembly)
    blocked, closing, opening = bool(side.blocked_by), side.closing, side.opening
    begin = asked.start
    if opening is not None and 0 <= opening.angle < begin:
        begin = min(opening.angle, asked.wanted)
    short = opening is not None and abs(opening.angle) < pi / 2 - SAME_ANGLE_RAD
    others: tuple[OtherFound, ...] = ()
    if assembly.others:
        from swingcheck.swing.second_slab import others_found

        others = others_found(swing, opening)
    edges: tuple[RoundEdge, ...] = ()
    if asked.both_ways:
        from swingcheck.swing.round_edges import round_edges

        edges = round_edges(assembly, margins)
    found = Found(
        scene=scene,
        decided=decide(scene, side, push, map(counted, others)),
        blocked_by=side.blocked_by,
        closing=closing,
        seated=side.seated,
        opening=opening,
        margins=margins,
        clearances=() if blocked else _clearances(swing, begin, closing, push),
        axis=pins_found(assembly),
        clear_width=None if short else _clear_width_at(assembly, pi / 2),
        opened=_opened(swing, opening, blocked=blocked),
        push=push,
        edges=edges,
        others=others,
        curve=_curve(swing, begin, closing, step) if step and not blocked else (),
    )
    return replace(found, fit=fit_of(assembly, found))


def _clear_width_at(assembly: Assembly, angle: float) -> float:
    """Return the clear width straight through at a swing angle, inches.

    The narrowest between the strike side (its stop, or the leg without one) and
    whichever reaches farther in on the hinge side, the hinge stop or the slab:
    with what is fitted to it, or not at all once it is square to the wall, as
    the rules that ``site.access`` names have it. On a pair it is past the active
    slab alone, to the inactive one closed.
    """
    access, moving = assembly.scene.site.access, assembly.moving
    if access is Access.AUSTRIA and angle >= pi / 2 - SAME_ANGLE_RAD:
        moving = ()
    elif access is not Access.UK:
        moving = moving[:1]
    slab = [assembly.axis.turned(part.solid, angle).bounds[1, 0] for part in moving]
    kinds = {part.kind: part.solid.bounds for part in assembly.fixed}
    strike = kinds.get(PartKind.STRIKE_STOP, kinds[PartKind.STRIKE_LEG])[0, 0]
    hinge = kinds.get(PartKind.HINGE_STOP, kinds[PartKind.HINGE_LEG])[1, 0]
    if PartKind.INACTIVE in kinds:
        strike = kinds[PartKind.INACTIVE][0, 0]
    return float(strike - max([hinge, *slab]))


def _opened(swing: Swung, opening: Touch | None, *, blocked: bool) -> Opened | None:
    """Return how the slab stands where it stops opening; None where that is not known."""
    assembly, limit = swing.assembly, swing.assembly.scene.swing.limit
    if blocked and opening is None:
        return None
    width = _clear_width_at(assembly, opening.angle if opening else limit)
    if opening is None or opening.by_kind not in FITTED:
        return Opened(clear_width=width, by_slab=True)
    alone = touch(assembly, swing.unfitted().contact(opening.angle, limit))
    return Opened(clear_width=width, by_slab=False, slab=alone)


def _clearances(
    swing: Swung, begin: float, closing: Touch | None, push: Side | None
) -> tuple[Clearance, ...]:
    """Return the clearances of the closing, least first; of a double-acting slab both ways."""
    found = _closing_clearances(swing, begin, closing)
    if push is None or push.blocked_by:
        return found
    other = {each.against: each for each in _closing_clearances(swing, -begin, push.closing)}
    nearer = [min(each, other[each.against], key=lambda c: c.least) for each in found]
    return nearest_first(nearer)


def _closing_clearances(swing: Swung, begin: float, closing: Touch | None) -> tuple[Clearance, ...]:
    """Return the clearances of the closing, least first; nothing is left at the contact itself."""
    if closing is None:
        return swing.clearances(begin, 0.0, frozenset())
    touched = {closing.against, *closing.also}
    kinds = {part.name: part.kind for part in swing.assembly.fixed}
    none_left = [
        Clearance(against=name, against_kind=kinds[name], least=0.0, angle=closing.angle)
        for name in sorted(touched)
    ]
    return (*none_left, *swing.clearances(begin, closing.angle, frozenset(touched)))


def _curve(
    swing: Swung, begin: float, closing: Touch | None, step: float
) -> tuple[CurvePoint, ...]:
    """Return the least distance at every step from the start down to the contact, or closed."""
    count = int((begin - (closing.angle if closing else 0.0)) / step + 1e-9)
    points = []
    for k in range(count + 1):
        angle = begin - k * step
        nearest = swing.clearances(angle, angle, frozenset())[0]
        points.append(CurvePoint(angle=angle, distance=nearest.least, against=nearest.against))
    return tuple(points)
