"""Why the slab does not swing: the measurement that makes it so, in a sentence."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, sin, sqrt, tan

from swingcheck.assembly import FITTED, GROUND, PartKind
from swingcheck.model import Edge, EdgeShape, HingeSet, Leg, Scene, station_value
from swingcheck.report.fitted_causes import fitted_cause, laid_reasons
from swingcheck.report.headline import decisive_touch
from swingcheck.report.hung_causes import pivot_cause, rise_reasons
from swingcheck.report.lengths import Lengths
from swingcheck.report.second_slab import decided_cause
from swingcheck.report.words import (
    SIDES,
    STATIONS,
    least_place,
    listed,
    meeting,
    sentence,
    turned,
)
from swingcheck.swing.found import Found, Touch, Verdict
from swingcheck.units import angle_text

WORTH_SAYING = 1 / 64
"""A rise, fall or run-out under this is not the reason for anything, inches."""

ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


def why(result: Found, lengths: Lengths) -> str:
    """Return what touches what and where, and the measurement that makes it so."""
    if result.verdict is Verdict.SWINGS:
        return ""
    if result.decided_by:
        return decided_cause(result)
    if result.verdict is Verdict.BLOCKED:
        return blocked_cause(result, lengths)
    touch = decisive_touch(result)
    if touch is None:
        return ""
    cause = fitted_cause(result, touch, lengths)
    if not cause or result.verdict is Verdict.FOULS:
        cause = f"{_CAUSES[result.verdict](result, touch, lengths)} {cause}"
    return f"{meeting(touch, lengths)} {cause}".strip()


def blocked_cause(result: Found, lengths: Lengths) -> str:
    """Return what a start pose that overlaps means, and what to do about it."""
    words = (
        f"The slab cannot stand {angle_text(result.scene.swing.start)} open, so its closing was"
        " not looked at: check that measurement, or start from a smaller angle."
    )
    underfoot = {kind.value for kind in GROUND} & set(result.blocked_by)
    return f"{words} {_floor_gaps(result, lengths)}" if underfoot else words


def pinch_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return the setbacks, and what they leave between the slab and the hinge stop."""
    if result.scene.pivot is not None:
        return pivot_cause(result, touch, lengths)
    hinge = result.scene.hinge
    pairs = list(zip(hinge.jamb.setbacks, hinge.slab.setbacks, strict=True))
    worst = min(range(len(pairs)), key=lambda k: pairs[k][0] - pairs[k][1])
    where = "" if len(set(pairs)) == 1 else f" at the {ORDINALS[worst]} hinge"
    jamb, slab = (lengths.full(setback) for setback in pairs[worst])
    leaves = f"the leaves are set back {jamb} on the jamb and {slab} on the slab{where}"
    if result.margins.hinge_stop is None:
        return sentence(leaves)
    gap, place = least_place(result.margins.hinge_stop, STATIONS)
    if gap < 0:
        return f"Closed, it would stand {lengths.full(-gap)} into the hinge stop{place}: {leaves}."
    return f"Closed, it would stand only {lengths.full(gap)} off the hinge stop{place}: {leaves}."


def strike_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return the strike margin against how far the strike edge swings out."""
    scene = result.scene
    margin, place = least_place(result.margins.strike, STATIONS)
    if margin < 0:
        return (
            f"Closed, the strike margin would be {lengths.full(margin)}{place}:"
            " the slab is that much too wide."
        )
    fraction = list(result.margins.strike).index(margin) / 2
    is_pair = scene.inactive is not None
    leg = Leg() if is_pair else scene.opening.strike_leg
    off_jamb = result.axis.point[1] - station_value(leg.cross, fraction)
    if is_pair:
        off_jamb = result.axis.proud
    run_out = strike_run_out(scene, fraction, result.axis.proud, off_jamb)
    twist = station_value(leg.twist, fraction)
    lean = scene.slab.thickness * tan(twist)
    reasons = []
    if run_out > 0:
        reasons.append(
            f"{edge_words(scene.slab.strike_edge, 'strike edge')}, and its narrow-face arris"
            f" swings {lengths.full(run_out)} past where the wide-face arris closes"
        )
    if lean > WORTH_SAYING:
        reasons.append(
            f"the strike leg is twisted {angle_text(twist)}, which brings it"
            f" {lengths.full(lean)} nearer at the narrow face"
        )
    between = "margin between the slabs" if is_pair else "strike margin"
    reasons.append(f"the {between} is {lengths.full(margin)}{place}")
    return sentence("; ".join(reasons))


def hinge_bound_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return the leaves' turn past parallel against their gap, or the hinge margin."""
    if PartKind.JAMB_LEAF in (touch.by_kind, touch.against_kind):
        return _leaves_meet(result.scene, touch, lengths)
    if result.scene.pivot is not None:
        return pivot_cause(result, touch, lengths)
    margin, place = least_place(result.margins.hinge, STATIONS)
    closed = f"closed, the hinge margin would be {lengths.full(margin)}{place}"
    past = _past_parallel(result.scene, touch)
    if past > 0 and margin > 0:
        nearer = result.scene.slab.thickness * tan(past)
        return (
            f"{_leg_and_edge(result.scene, touch)}, so the narrow face comes"
            f" {lengths.full(nearer)} nearer the leg than the wide face; {closed}."
        )
    hinge = result.scene.hinge
    jamb, slab = max(zip(hinge.jamb.depths, hinge.slab.depths, strict=True), key=sum)
    left = 2 * hinge.leaf_thickness + hinge.closed_gap - jamb - slab
    return sentence(
        f"{closed}: leaves {lengths.full(hinge.leaf_thickness)} thick with"
        f" {lengths.full(hinge.closed_gap)} between them, let in {lengths.full(jamb)} on the jamb"
        f" and {lengths.full(slab)} on the slab, leave {lengths.full(left)} where both are square"
    )


def drag_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return the closed gap, and what takes it up on the way."""
    if touch.against_kind in GROUND:
        return _floor_gaps(result, lengths, touch)
    if touch.against_kind in (PartKind.LOWER, PartKind.SHELF, PartKind.OTHER_LEAF):
        return _gaps(touch.against, result.margins.bottom, [], lengths)
    reasons = _lean_reasons(result, lengths, rising=True)
    reasons += rise_reasons(result, touch, lengths)
    hinge, strike = result.scene.opening.height
    if abs(hinge - strike) > WORTH_SAYING:
        way = "falls" if hinge > strike else "rises"
        reasons.append(f"the head {way} {lengths.full(abs(hinge - strike))} to the strike side")
    return _gaps("head", result.margins.head, reasons, lengths)


def _floor_gaps(result: Found, lengths: Lengths, touch: Touch | None = None) -> str:
    laid = laid_reasons(result.scene, touch, lengths) if touch else []
    name = "threshold" if touch and touch.against_kind is PartKind.THRESHOLD else "floor"
    reasons = laid + _floor_reasons(result, lengths)
    return _gaps(name, result.margins.bottom, reasons, lengths)


def _gaps(name: str, gap: tuple[float, float], reasons: list[str], lengths: Lengths) -> str:
    sides = " and ".join(
        f"{lengths.full(value)} at the {side}" for value, side in zip(gap, SIDES, strict=True)
    )
    taken = f"; {listed(reasons)}" if reasons else ""
    return f"Closed, the slab's gap to the {name} is {sides}{taken}."


def stand_off_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return how the stops are out of plane with each other."""
    margins = result.margins
    if margins.hinge_stop is None or margins.strike_stop is None:
        return ""
    if min(margins.hinge_stop) < 0:
        return pinch_cause(result, touch, lengths)
    if result.scene.pivot is not None:
        return pivot_cause(result, touch, lengths)
    hinge, at_hinge = least_place(margins.hinge_stop, STATIONS)
    strike, at_strike = least_place(margins.strike_stop, STATIONS)
    return (
        f"Closed, the slab would stand {_off_or_into(hinge, lengths)} the hinge stop{at_hinge}"
        f" and {_off_or_into(strike, lengths)} the strike stop{at_strike}:"
        " the stops are not in one plane with the slab."
    )


def foul_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return how far it opens against what is wanted, and the pin's part in it."""
    scene = result.scene
    words = f"It opens {turned(touch.angle)} of the {angle_text(scene.swing.wanted)} wanted."
    by_slab = touch.by_kind not in FITTED
    if by_slab and touch.against_kind is PartKind.CASING and scene.casing is not None:
        words += (
            f" The pin stands {lengths.full(result.axis.proud)} proud of the wide face, so at 180"
            f" deg the slab stands {lengths.full(2 * result.axis.proud)} off its closed face;"
            f" the casing is {lengths.full(scene.casing.thickness)} thick."
        )
    return words


def strike_run_out(scene: Scene, fraction: float, proud: float, off_jamb: float) -> float:
    """Return how far past the wide-face arris's closed place the narrow-face arris reaches.

    With ``L`` along the slab from the pin to the strike edge's wide-face
    arris, ``T`` the thickness, ``p`` how far the pin stands proud of the wide
    face and ``i`` how far the narrow-face arris stands in from the wide-face
    one, the narrow-face arris sweeps the radius ``hypot(L - i, T + p)``. It
    meets the strike leg no sooner than at the leg's pull-side edge, which the
    pin stands off by ``o``: it reaches ``sqrt(radius^2 - o^2)`` across, and
    the run-out is that less ``L``; ``sqrt(L^2 + T^2 + 2 p T) - L`` for a
    square edge that closes flush. Negative where the edge leans enough.

    Parameters
    ----------
    scene : Scene
        The slab and its hinges.
    fraction : float
        Where on the slab's height its width is read, 0 at the top.
    proud, off_jamb : float
        ``p`` and ``o``, inches.
    """
    slab = scene.slab
    along = station_value(slab.width, fraction) - pin_from_hinge_edge(scene)
    narrow = along - slab.strike_edge.narrow_inset(slab.thickness)
    radius = hypot(narrow, slab.thickness + proud)
    return sqrt(radius**2 - max(off_jamb, 0.0) ** 2) - along


def pin_from_hinge_edge(scene: Scene) -> float:
    """Return how far the pin stands along the slab from the hinge edge's wide-face arris.

    ``e = (sin b, -cos b)`` runs down the bevelled edge and ``n = (-cos b, -sin b)``
    out of it: the leaf's buried edge is ``ss`` up from the narrow face, and the
    pin ``l`` further up and ``t + q/2 - ds`` out (and by as much as its
    knuckles are cranked away from the slab).
    """
    if scene.pivot is not None:
        return scene.pivot.edge[0]
    hinge: HingeSet = scene.hinge
    thickness = scene.slab.thickness
    edge = scene.slab.hinge_edge
    lean = edge.lean
    up = hinge.slab.setbacks[0] + hinge.slab_reach
    out = hinge.leaf_thickness + hinge.closed_gap / 2 + hinge.offset.across - hinge.slab.depths[0]
    return thickness * tan(lean) - up * sin(lean) - out * cos(lean)


def edge_words(edge: Edge, name: str) -> str:
    """Return how an edge is shaped, as a clause."""
    if edge.shape is EdgeShape.BEVEL:
        return f"the {name} has {angle_text(edge.bevel)} of bevel"
    if edge.is_round:
        return f"the {name} is round"
    return f"the {name} is square"


def _leaves_meet(scene: Scene, touch: Touch, lengths: Lengths) -> str:
    hinge = scene.hinge
    gap = f"{lengths.full(hinge.closed_gap)} between them over {lengths.full(hinge.reach)}"
    heads = ""
    if hinge.screw_proud > 0:
        heads = f", less what screw heads {lengths.full(hinge.screw_proud)} proud take"
    past = _past_parallel(scene, touch)
    if past <= 0:
        return f"The leaves have {gap}{heads}."
    return (
        f"{_leg_and_edge(scene, touch)}, so closed the leaves turn {angle_text(past)} past"
        f" parallel; {gap} lets them turn {angle_text(hinge.closed_gap / hinge.reach)}{heads}."
    )


def _leg_and_edge(scene: Scene, touch: Touch) -> str:
    twist = angle_text(_twist_at(scene, touch))
    edge = edge_words(scene.slab.hinge_edge, "hinge edge")
    return f"The hinge leg is twisted {twist} there and {edge}"


def _past_parallel(scene: Scene, touch: Touch) -> float:
    edge = scene.slab.hinge_edge
    return _twist_at(scene, touch) - edge.lean


def _twist_at(scene: Scene, touch: Touch) -> float:
    height = scene.opening.height[0]
    return station_value(scene.opening.hinge_leg.twist, (height - touch.point[2]) / height)


def _floor_reasons(result: Found, lengths: Lengths) -> list[str]:
    floor = result.scene.floor
    reach = max(result.scene.slab.width)
    reasons = []
    if floor.covering > 0:
        reasons.append(f"the covering is {lengths.full(floor.covering)} thick")
    if floor.out * reach > WORTH_SAYING:
        reasons.append(
            f"the floor rises {lengths.full(floor.out * reach)} to the strike edge at 90 deg"
        )
    if floor.across * reach > WORTH_SAYING:
        reasons.append(
            f"it rises {lengths.full(floor.across * reach)} across the opening to the strike leg"
        )
    if floor.profile and max(floor.profile) > WORTH_SAYING:
        reasons.append(f"under the sweep it rises {lengths.full(max(floor.profile))} more")
    return reasons + _lean_reasons(result, lengths, rising=False)


def _lean_reasons(result: Found, lengths: Lengths, *, rising: bool) -> list[str]:
    """Return the strike edge's rise or fall from closed to 90 degrees, where it matters.

    The plan displacement of the strike edge from closed to 90 degrees is
    ``W (-1, 1)``, and stays square to the pin line, so with the line's plan
    lean ``(dx, dy)`` the strike edge rises by ``W (dx - dy)``.
    """
    dx, dy, dz = result.axis.direction
    rise = max(result.scene.slab.width) * (dx - dy) / dz
    if abs(rise) < WORTH_SAYING or (rise > 0) is not rising:
        return []
    way = "rises" if rise > 0 else "drops"
    return [f"the pins lean, so the strike edge {way} {lengths.full(abs(rise))} by 90 deg"]


def _off_or_into(gap: float, lengths: Lengths) -> str:
    return f"{lengths.full(gap)} off" if gap >= 0 else f"{lengths.full(-gap)} into"


_CAUSES: dict[Verdict, Callable[[Found, Touch, Lengths], str]] = {
    Verdict.PINCHES: pinch_cause,
    Verdict.STRIKES: strike_cause,
    Verdict.HINGE_BOUND: hinge_bound_cause,
    Verdict.DRAGS: drag_cause,
    Verdict.STANDS_OFF: stand_off_cause,
    Verdict.FOULS: foul_cause,
}
