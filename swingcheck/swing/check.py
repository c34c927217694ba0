"""The main job: swing the slab and say what happens."""

from __future__ import annotations

from dataclasses import replace

from swingcheck.assembly import FITTED, assemble
from swingcheck.model import Scene
from swingcheck.swing.found import (
    Clearance,
    CurvePoint,
    Found,
    Opened,
    OtherFound,
    PushSide,
    Touch,
    Verdict,
)
from swingcheck.swing.margins import closed_margins, pins_found
from swingcheck.swing.opened import clear_width, clear_width_at
from swingcheck.swing.round_edges import round_edges
from swingcheck.swing.second_slab import others_found, verdict_with
from swingcheck.swing.swung import (
    Swung,
    is_seat,
    overlapped,
    push_side,
    swung,
    touch,
    verdict,
)


def check(scene: Scene, *, start: float | None = None, step: float | None = None) -> Found:
    """Return everything there is to say about how the slab hangs and swings.

    Closing starts at ``start`` radians, the scene's own when left out; with
    ``step`` the least distance is also given every so many radians. Raises
    GeometryError where the sizes leave nothing of a part.
    """
    if start is not None:
        scene = replace(scene, swing=replace(scene.swing, start=start))
    assembly = assemble(scene)
    swing = swung(assembly)
    begin = scene.swing.start
    blocked = overlapped(assembly, begin)
    closing = None if blocked else touch(assembly, swing.contact(begin, 0.0))
    seated = closing is not None and is_seat(scene, closing)
    opening = _opening(swing, begin, blocked=bool(blocked))
    push = push_side(swing, begin) if scene.swing.both_ways else None
    margins = closed_margins(assembly)
    word = verdict(scene, margins, blocked, None if seated else closing, opening)
    if word is Verdict.SWINGS and push is not None:
        word = verdict(scene, margins, push.blocked_by, push.closing, push.opening)
    others, word, decided_by = _with_others(swing, opening, word)
    return Found(
        scene=scene,
        verdict=word,
        blocked_by=blocked,
        closing=closing,
        seated=seated,
        opening=opening,
        margins=margins,
        clearances=() if blocked else _clearances(swing, begin, closing, push),
        axis=pins_found(assembly),
        clear_width=clear_width(assembly, opening),
        opened=_opened(swing, opening, blocked=bool(blocked)),
        push=push,
        edges=round_edges(assembly, margins),
        others=others,
        decided_by=decided_by,
        curve=_curve(swing, begin, closing, step) if step and not blocked else (),
    )


def _with_others(
    swing: Swung, opening: Touch | None, word: Verdict
) -> tuple[tuple[OtherFound, ...], Verdict, str]:
    """Return what is found of further slabs, the verdict with them, and whom it is about."""
    if not swing.assembly.others:
        return (), word, ""
    others = others_found(swing, opening)
    return others, *verdict_with(word, others)


def _opening(swing: Swung, begin: float, *, blocked: bool) -> Touch | None:
    limit = swing.assembly.scene.swing.limit
    if not blocked:
        return touch(swing.assembly, swing.contact(begin, limit))
    if overlapped(swing.assembly, 0.0):
        return None
    return touch(swing.assembly, swing.contact(0.0, limit))


def _opened(swing: Swung, opening: Touch | None, *, blocked: bool) -> Opened | None:
    """Return how the slab stands where it stops opening; None where that is not known."""
    assembly, asked = swing.assembly, swing.assembly.scene.swing
    if blocked and opening is None:
        return None
    width = clear_width_at(assembly, opening.angle if opening else asked.limit)
    if opening is None:
        return Opened(clear_width=width, by_slab=True)
    alone = None
    if opening.by_kind in FITTED:
        alone = touch(assembly, swing.unfitted().contact(opening.angle, asked.limit))
    by_slab = opening.by_kind not in FITTED
    return Opened(clear_width=width, by_slab=by_slab, slab=alone)


def _clearances(
    swing: Swung, begin: float, closing: Touch | None, push: PushSide | None
) -> tuple[Clearance, ...]:
    """Return the clearances of the closing, least first; of a double-acting slab both ways."""
    found = _closing_clearances(swing, begin, closing)
    if push is None or push.blocked_by:
        return found
    other = {each.against: each for each in _closing_clearances(swing, -begin, push.closing)}
    nearer = [min(each, other[each.against], key=lambda c: c.least) for each in found]
    return tuple(sorted(nearer, key=lambda c: c.least))


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
