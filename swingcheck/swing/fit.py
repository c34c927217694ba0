"""Whether a door that was checked should be hung so: good, tight or bad, and why not.

`bad` does not swing, or swings and cannot be meant; `tight` swings with less than
paint, a wanted margin, a rule of the site or the odds ask for. Limits without a
source of their own are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from swingcheck.assembly import (
    FITTED,
    GROUND,
    Assembly,
    PartKind,
    bare_assembly,
    barrel_parts,
)
from swingcheck.assembly.leaves import hinge_name
from swingcheck.geometry.booleans import in_common
from swingcheck.geometry.solid import Solid
from swingcheck.model import Finish, Relation, Scene, Stations, Wanted
from swingcheck.swing.decide import SLACK, TRIM, strip_laps, wanted_of
from swingcheck.swing.found import Code, Fit, Found, Margins, Reason, Verdict
from swingcheck.swing.latch import bolts, strike_place
from swingcheck.swing.margins import (
    HINGE,
    SIDES,
    STRIKE,
    closed_margins,
    head_gap,
    leg_gaps,
    pins_found,
    upright_points,
)
from swingcheck.swing.rules import broken_rules
from swingcheck.swing.trial import MOST, limits_read

PRACTICE = "common practice, no source"

WIDEST_IN = 1 / 2
"""The widest margin that can be meant; under a slab, over what is wanted there. Inches."""

SPARE_IN = 1 / 64
"""What is to be left of the least clearance under paint, inches."""

SURE = 0.95
"""The share of draws, as cut, painted and in the wettest month, that must swing."""

ALONG = tuple(k / 8 for k in range(9))
"""Where along an edge its lap on a stop is read, as shares of the way down."""

FEWEST_TOLD = 200
"""Of fewer draws no chance is told."""

BESIDE = (*TRIM, PartKind.WALL_RETURN, PartKind.OBSTACLE)
"""What no leaf and no barrel goes into."""

_SEATS = (PartKind.STRIKE_STOP, PartKind.HEAD_STOP)
_LAPPED = (PartKind.STRIKE_LEG, PartKind.HINGE_LEG, PartKind.HEAD, PartKind.INACTIVE)


def fit_of(assembly: Assembly, found: Found) -> Fit:
    """Return whether a checked slab should be hung so; its chance is not asked here."""
    reasons = [*_swinging(found), *_closed(assembly, found.margins), *_latch(found)]
    reasons += [*_buried(assembly), *_tight(found), *broken_rules(found)]
    for other in assembly.others:
        if other.relation is not Relation.NEIGHBOUR:
            hung = bare_assembly(other.assembly.scene)
            own = _closed(hung, closed_margins(hung), other.relation)
            reasons += [replace(each, place=f"{other.name}, {each.place}") for each in own]
    order = list(Code)
    return Fit(reasons=tuple(sorted(reasons, key=lambda each: order.index(each.code))))


def with_chance(fit: Fit, chance: float, drawn: int) -> Fit:
    """Return a fit that has the chance that the slab swings, of so many drawn."""
    reasons = fit.reasons
    if chance < SURE:
        reasons = (*reasons, Reason(Code.CHANCE, None, None, PRACTICE))
    return Fit(reasons=reasons, chance=chance, drawn=drawn)


def film_of(scene: Scene) -> float:
    """Return what the finish that goes on takes off a margin, inches: on both its faces."""
    finish = scene.finish or Finish()
    return finish.film * (finish.slab + finish.jamb)


def _swinging(found: Found) -> Iterator[Reason]:
    if found.verdict is Verdict.SWINGS:
        return
    touch = found.decided.touch
    short = None if touch is None else touch.opening_at_strike
    yield Reason(Code.DOES_NOT_SWING, short, found.scene.swing.seat, "swing.seat")


def _closed(
    assembly: Assembly, margins: Margins, relation: Relation | None = None
) -> Iterator[Reason]:
    """Yield what cannot be meant of a closed slab, of a further one what it does not share."""
    scene = assembly.scene
    wanted = wanted_of(scene)
    bottom = Wanted.USUAL_BOTTOM_IN if wanted.bottom is None else wanted.bottom
    sides = {
        "hinge margin": (margins.hinge, WIDEST_IN),
        "strike margin": (margins.strike, max(WIDEST_IN, wanted.strike or 0.0)),
        "head margin": (margins.head, WIDEST_IN),
        "bottom": (margins.bottom, WIDEST_IN + bottom),
    }
    if relation is Relation.INACTIVE:
        del sides["strike margin"]
    if relation is Relation.LOWER:
        del sides["head margin"]
    thick = scene.slab.thickness
    proud = max(margins.flush)
    if scene.slab.lip is None and not -scene.opening.depth < min(margins.flush) <= proud < thick:
        yield Reason(Code.OUTSIDE, proud, thick, PRACTICE)
    for place, cover in _covers(assembly, margins, relation).items():
        if cover <= 0.0:
            yield Reason(Code.NOT_COVERED, cover, 0.0, PRACTICE, place)
    for place, (gaps, most) in sides.items():
        if min(gaps) < -SLACK:
            yield Reason(Code.OVERLAPS, min(gaps), 0.0, PRACTICE, place)
        if max(gaps) > most + SLACK:
            yield Reason(Code.TOO_WIDE, max(gaps), most, PRACTICE, place)
    yield from _pins(assembly)


def _covers(assembly: Assembly, margins: Margins, relation: Relation | None) -> dict[str, float]:
    """Return how far the slab laps each stop that it rests on, at the least, inches.

    Of a lipped slab how far its lip laps the frame.
    """
    scene, slab = assembly.scene, assembly.scene.slab
    lip, stop = slab.lip, scene.stop
    if lip is not None:
        own: dict[str, tuple[float, Stations]]
        own = {"hinge leg": (lip.hinge, margins.hinge), "strike leg": (lip.strike, margins.strike)}
        own["head"] = (lip.head, margins.head)
        return {name: wide - max(gaps) for name, (wide, gaps) in own.items() if wide > 0}
    if stop is None:
        return {}
    out = stop.projection
    found = {"hinge stop": out - _most_edge_gap(assembly, HINGE)}
    if scene.inactive is None and relation is not Relation.INACTIVE:
        found["strike stop"] = out - _most_edge_gap(assembly, STRIKE)
    if relation is not Relation.LOWER:
        found["head stop"] = out - _most_head_gap(assembly)
    return found


def _most_edge_gap(assembly: Assembly, side: int) -> float:
    """Return the most that an edge's arris on the stop side stands off its leg's face."""
    slab = assembly.scene.slab
    edge = (slab.hinge_edge, slab.strike_edge)[side]
    points = upright_points(slab, side, ALONG, -slab.thickness)
    points[:, 0] += (1, -1)[side] * edge.narrow_inset(slab.thickness)
    return float(leg_gaps(assembly.scene, side, assembly.placed(points)).max())


def _most_head_gap(assembly: Assembly) -> float:
    slab = assembly.scene.slab
    inset = slab.head_edge.narrow_inset(slab.thickness)
    tops = []
    for side in SIDES:
        (x, y, z), *_ = upright_points(slab, side, (0.0,), -slab.thickness)
        tops.append(assembly.placed(np.array([x, y, z - inset])))
    return max(head_gap(assembly.scene, top) for top in tops)


def _pins(assembly: Assembly) -> Iterator[Reason]:
    """Yield what of each hinge does not go together, or binds."""
    scene, axis = assembly.scene, pins_found(assembly)
    limit = scene.shop.pin_tolerance
    for k, (off, apart, up) in enumerate(zip(axis.off_line, axis.apart, axis.up_down, strict=True)):
        name = hinge_name(scene, k) if scene.pivot is None else f"pivot {k + 1}"
        way = "high" if up > 0 else "low"
        read = {"off the pin line": off, "leaves apart": apart, f"slab leaf too {way}": abs(up)}
        for what, by in read.items():
            if by > limit + SLACK:
                yield Reason(Code.PINS, by, limit, "shop.tolerance.pins", f"{name}: {what}")


def _latch(found: Found) -> Iterator[Reason]:
    scene = found.scene
    for name, bolt in bolts(scene).items():
        gap = strike_place(scene, bolt).gap
        if scene.inactive is not None:
            gap = max(found.margins.strike)
        if gap >= bolt.throw:
            yield Reason(Code.LATCH, gap, bolt.throw, "lock.throw", name)


def _buried(assembly: Assembly) -> Iterator[Reason]:
    """Yield the barrels and leaves that stand in casing, moulding or wall.

    A barrel stands on the pin line: what it is buried in closed it is buried in
    all along the swing. What turns past what stands still is the swing's to find.
    """
    fixed = [part for part in assembly.fixed if part.kind in BESIDE]
    fitted = [part for part in assembly.moving if part.kind in FITTED]
    barrels = barrel_parts(assembly)
    leaves = [part for part in assembly.fixed if part.kind is PartKind.JAMB_LEAF]
    own = [part for part in assembly.moving if part.kind is PartKind.SLAB_LEAF]
    pairs = [(part, body) for part in (*barrels, *leaves) for body in fixed]
    pairs += [(part, body) for part in (*barrels, *own) for body in fitted]
    found = ((_shared_depth(part.solid, body.solid), part, body) for part, body in pairs)
    depth, part, body = max(found, key=lambda each: each[0], default=(0.0, None, None))
    limit = assembly.scene.shop.measuring_tolerance
    if part is not None and body is not None and depth > limit:
        place = f"the {part.name} in the {body.name}"
        yield Reason(Code.BURIED, depth, limit, "shop.tolerance.measuring", place)


def _shared_depth(first: Solid, second: Solid) -> float:
    """Return how deep two solids stand in each other: the least side of the box about it."""
    low = np.maximum(first.bounds[0], second.bounds[0])
    if not (low < np.minimum(first.bounds[1], second.bounds[1])).all():
        return 0.0
    return float(np.ptp(in_common(first, second)[1], axis=0).min())


def _tight(found: Found) -> Iterator[Reason]:
    """Yield what is kept too little: paint's room, wanted margins, the wide face flush."""
    scene, wanted = found.scene, wanted_of(found.scene)
    least = SPARE_IN + film_of(scene)
    seats = _SEATS + (_LAPPED if scene.slab.lip or strip_laps(scene) else ())
    if found.verdict is Verdict.SWINGS:
        free = [each for each in found.clearances if each.against_kind not in seats]
        near = min(free, key=lambda each: each.least, default=None)
        if near is not None and near.least < least - SLACK:
            source = "finish, and 1/64 in"
            yield Reason(Code.CLEARANCE, near.least, least, source, near.against, near.angle)
    kept = "wanted" if scene.wanted else "usual"
    for limit, (read, most) in limits_read(found.margins, wanted).items():
        if (read - most if limit in MOST else most - read) > SLACK:
            code = Code.FLUSH if limit in MOST else Code.MARGIN
            yield Reason(code, read, most, kept, limit.value)
    yield from _told_margins(found, wanted)


def _told_margins(found: Found, wanted: Wanted) -> Iterator[Reason]:
    """Yield the margins told to be cut for that are missed by more than a saw is held to."""
    under = [each.least for each in found.clearances if each.against_kind in GROUND]
    told = (
        ("strike", wanted.strike, min(found.margins.strike)),
        ("bottom", wanted.bottom, min(under, default=min(found.margins.bottom))),
    )
    for name, margin, read in told:
        if margin is not None and read < margin - found.scene.shop.rip_tolerance - SLACK:
            yield Reason(Code.MARGIN, read, margin, f"wanted.{name}", f"{name} margin")
