"""What each cause says: the measurement that keeps a slab from swinging, in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, tan

import numpy as np

from swingcheck.advice.bevel import strike_run_out
from swingcheck.assembly import GROUND, PartKind, assemble
from swingcheck.assembly.ground import floor_height
from swingcheck.assembly.slab import edge_profile
from swingcheck.model import Edge, EdgeShape, Leg, Scene, station_value
from swingcheck.report.words import SIDES, STATIONS, Lengths, least_place
from swingcheck.swing.found import Found, Margins, Point, Touch, Way
from swingcheck.units import angle_text
from swingcheck.units.words import listed, sentence

WORTH_SAYING_IN = 1 / 64
"""A rise, fall or run-out under this is not the reason for anything."""

ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


@dataclass(frozen=True, slots=True)
class Case:
    """A contact that decides, and what its cause may speak of."""

    found: Found
    touch: Touch
    lengths: Lengths

    @property
    def scene(self) -> Scene:
        """The opening and its slab."""
        return self.found.scene

    @property
    def margins(self) -> Margins:
        """Those of the closed slab."""
        return self.found.margins

    def full(self, value: float) -> str:
        """Return a length with its unit."""
        return self.lengths.full(value)

    def stands(self, gap: float) -> str:
        """Return how far off a part, or into it, something stands."""
        return f"{self.full(abs(gap))} {'off' if gap >= 0 else 'into'}"

    def least(self, gaps: Sequence[float] | None) -> str:
        """Return the least of a margin's three, and where that is."""
        gap, place = least_place(gaps or (0.0,), STATIONS)
        return f"{self.full(gap)}{place}"


def blocked(result: Found, lengths: Lengths) -> str:
    """Return what a start pose that overlaps means, and what to do about it."""
    words = (
        f"The slab cannot stand {angle_text(result.scene.swing.start)} open, so its closing was"
        " not looked at: check that measurement, or start from a smaller angle."
    )
    underfoot = {kind.value for kind in GROUND} & set(result.decided.blocked_by)
    if not underfoot:
        return words
    reasons = _floor_reasons(result, lengths, result.scene.swing.start)
    return f"{words} {_gaps('floor', result.margins.bottom, reasons, lengths)}"


def setbacks(case: Case) -> str:
    """Return the setbacks, and what they leave between the slab and the hinge stop."""
    hinge = case.scene.hinge
    pairs = list(zip(hinge.jamb.setbacks, hinge.slab.setbacks, strict=True))
    worst = min(range(len(pairs)), key=lambda k: pairs[k][0] - pairs[k][1])
    where = "" if len(set(pairs)) == 1 else f" at the {ORDINALS[worst]} hinge"
    jamb, slab = map(case.full, pairs[worst])
    leaves = f"the leaves are set back {jamb} on the jamb and {slab} on the slab{where}"
    if case.margins.hinge_stop is None:
        return sentence(leaves)
    gap, place = least_place(case.margins.hinge_stop, STATIONS)
    only = "" if gap < 0 else "only "
    return f"Closed, it would stand {only}{case.stands(gap)} the hinge stop{place}: {leaves}."


def too_wide(case: Case) -> str:
    """Return how much too wide the slab is."""
    margin = case.least(case.margins.strike)
    return f"Closed, the strike margin would be {margin}: the slab is that much too wide."


def run_out(case: Case) -> str:
    """Return the strike margin against how far the strike edge swings out."""
    scene, axis = case.scene, case.found.axis
    fraction = case.margins.strike.index(min(case.margins.strike)) / 2
    is_pair = scene.inactive is not None
    leg = Leg() if is_pair else scene.opening.strike_leg
    off_jamb = axis.proud if is_pair else axis.point[1] - station_value(leg.cross, fraction)
    past = strike_run_out(scene, fraction, axis.proud, off_jamb)
    twist = station_value(leg.twist, fraction)
    lean = scene.slab.thickness * tan(twist)
    edge = edge_words(scene.slab.strike_edge, "strike edge")
    between = "margin between the slabs" if is_pair else "strike margin"
    reasons = (
        f"{edge}, and its narrow-face arris swings {case.full(past)} past where the wide-face"
        " arris closes"
        if past > 0
        else "",
        f"the strike leg is twisted {angle_text(twist)}, which brings it {case.full(lean)} nearer"
        " at the narrow face"
        if lean > WORTH_SAYING_IN
        else "",
        f"the {between} is {case.least(case.margins.strike)}",
    )
    return sentence("; ".join(filter(None, reasons)))


def edge_words(edge: Edge, name: str) -> str:
    """Return how an edge is shaped, as a clause."""
    if edge.shape is EdgeShape.BEVEL:
        return f"the {name} has {angle_text(edge.bevel)} of bevel"
    return f"the {name} is {'round' if edge.is_round else 'square'}"


def leaves_meet(case: Case) -> str:
    """Return the leaves' turn past parallel against their gap."""
    hinge, past = case.scene.hinge, past_parallel(case)
    gap = f"{case.full(hinge.closed_gap)} between them over {case.full(hinge.reach)}"
    heads = ""
    if hinge.screw_proud > 0:
        heads = f", less what screw heads {case.full(hinge.screw_proud)} proud take"
    if past <= 0:
        return f"The leaves have {gap}{heads}."
    return (
        f"{_leg_and_edge(case)}, so closed the leaves turn {angle_text(past)} past"
        f" parallel; {gap} lets them turn {angle_text(hinge.closed_gap / hinge.reach)}{heads}."
    )


def twisted(case: Case) -> str:
    """Return the hinge leg's twist against the hinge edge's bevel."""
    nearer = case.scene.slab.thickness * tan(past_parallel(case))
    return (
        f"{_leg_and_edge(case)}, so the narrow face comes"
        f" {case.full(nearer)} nearer the leg than the wide face; {_hinge_margin(case)}."
    )


def leaf_depths(case: Case) -> str:
    """Return the hinge margin that the leaves leave, let in as they are."""
    hinge = case.scene.hinge
    jamb, slab = max(zip(hinge.jamb.depths, hinge.slab.depths, strict=True), key=sum)
    left = 2 * hinge.leaf_thickness + hinge.closed_gap - jamb - slab
    return sentence(
        f"{_hinge_margin(case)}: leaves {case.full(hinge.leaf_thickness)} thick with"
        f" {case.full(hinge.closed_gap)} between them, let in {case.full(jamb)} on the jamb"
        f" and {case.full(slab)} on the slab, leave {case.full(left)} where both are square"
    )


def _hinge_margin(case: Case) -> str:
    return f"closed, the hinge margin would be {case.least(case.margins.hinge)}"


def _leg_and_edge(case: Case) -> str:
    edge = edge_words(case.scene.slab.hinge_edge, "hinge edge")
    return f"The hinge leg is twisted {angle_text(_twist_there(case))} there and {edge}"


def past_parallel(case: Case) -> float:
    """Return how far past parallel the leaves turn where they touch, radians."""
    return _twist_there(case) - case.scene.slab.hinge_edge.lean


def _twist_there(case: Case) -> float:
    height = case.scene.opening.height[0]
    down = (height - case.touch.point[2]) / height
    return station_value(case.scene.opening.hinge_leg.twist, down)


def pivots(case: Case) -> str:
    """Return how far the hinge edge swings about its pivots, against the room it has."""
    pivot = case.scene.pivot
    assert pivot is not None
    points = [
        (edge - inset, y + face, face)
        for edge, face in zip(pivot.edge, pivot.face, strict=True)
        for inset, y in edge_profile(case.scene.slab.hinge_edge, case.scene.slab.thickness)
    ]
    if case.touch.against_kind is PartKind.HINGE_LEG:
        reach = max(hypot(x, y) for x, y, _ in points)
        return (
            f"The hinge edge reaches {case.full(reach)} about the pivots, and the hinge leg is"
            f" {case.full(min(pivot.leg))} from them: closed, the hinge margin is"
            f" {case.least(case.margins.hinge)}."
        )
    # What stands u beside the pin, away from the slab, and v behind it goes down to hypot(u, v).
    behind = case.scene.slab.thickness
    deeper = max(hypot(max(x, 0.0), y) - (behind - face) for x, y, face in points if y < 0)
    gap, at = least_place(case.margins.hinge_stop or (0.0, 0.0, 0.0), STATIONS)
    return (
        f"As it turns, the hinge edge swings {case.full(max(float(deeper), 0.0))} deeper than the"
        f" closed slab stands, and that is {case.full(gap)} off the hinge stop{at}."
    )


def floor(case: Case) -> str:
    """Return the gap to the floor or to what is laid on it, and what takes it up on the way."""
    scene, kind, name, reasons = case.scene, case.touch.against_kind, "floor", []
    if kind is PartKind.CARPET and scene.carpet is not None:
        edge = scene.carpet.edge
        where = f" from {case.full(edge)} out" if edge > 0 else ""
        reasons = [f"the carpet is {case.full(scene.carpet.thickness)} thick{where}"]
    if kind is PartKind.THRESHOLD and scene.threshold is not None:
        name = "threshold"
        reasons = [f"the threshold stands {case.full(scene.threshold.height)} over the floor"]
    reasons += _floor_reasons(case.found, case.lengths, case.touch.angle, case.touch.point)
    return _gaps(name, case.margins.bottom, reasons, case.lengths)


def below(case: Case) -> str:
    """Return the gap to a slab or a shelf underneath."""
    return _gaps(case.touch.against, case.margins.bottom, [], case.lengths)


def head(case: Case) -> str:
    """Return the gap to the head, and what takes it up on the way."""
    hinge, strike = case.scene.opening.height
    falls, lifted = hinge - strike, case.scene.hinge.rise_rate * case.touch.angle
    told = (
        (lifted, "its rising hinges have {} it {} there", "lifted", "let down"),
        (falls, "the head {} {} to the strike side", "falls", "rises"),
    )
    reasons = _lean_reasons(case.found, case.lengths, rising=True) + [
        words.format(up if by > 0 else down, case.full(abs(by)))
        for by, words, up, down in told
        if abs(by) > WORTH_SAYING_IN
    ]
    return _gaps("head", case.margins.head, reasons, case.lengths)


def _gaps(name: str, gap: tuple[float, float], reasons: Sequence[str], lengths: Lengths) -> str:
    sides = " and ".join(
        f"{lengths.full(value)} at the {side}" for value, side in zip(gap, SIDES, strict=True)
    )
    taken = f"; {listed(reasons)}" if reasons else ""
    return f"Closed, the slab's gap to the {name} is {sides}{taken}."


def _floor_reasons(
    result: Found, lengths: Lengths, angle: float, point: Point | None = None
) -> list[str]:
    """Return what takes up the gap by an angle, where a ``point`` of the slab meets the floor.

    Without a point it is the corner that is deepest in it there.
    """
    scene, covering = result.scene, result.scene.floor.covering
    hung = assemble(scene)
    turned = hung.axis.turned(hung.moving[0].solid, angle).vertices
    x, y, z = (turned if point is None else np.array([point])).T
    # Of two as deep, the one nearer the hinge leg: at 90 deg the wide face's.
    deepest = np.lexsort((x, (z - floor_height(scene, x, y)).round(9)))[0]
    met = np.array([x, y, z])[:, deepest]
    closed = hung.axis.turned_points(met, -angle)
    rise = float(floor_height(scene, *met[:2]) - floor_height(scene, *closed[:2]))
    over = float(closed[2] - floor_height(scene, *closed[:2]))
    reasons = [f"the covering is {lengths.full(covering)} thick"] if covering > 0 else []
    if rise > WORTH_SAYING_IN:
        reasons.append(
            f"the corner that meets it hangs {lengths.full(over)} over it when closed, and by"
            f" {angle_text(abs(angle))} the floor under that rises {lengths.full(rise)}"
        )
    return reasons + _lean_reasons(result, lengths, rising=False)


def _lean_reasons(result: Found, lengths: Lengths, *, rising: bool) -> list[str]:
    """Return the strike edge's rise or fall from closed to 90 degrees, where it matters.

    The plan displacement of the strike edge from closed to 90 degrees is
    ``W (-1, 1)``, and stays square to the pin line, so with the line's plan
    lean ``(dx, dy)`` the strike edge rises by ``W (dx - dy)``.
    """
    dx, dy, dz = result.axis.direction
    rise = max(result.scene.slab.width) * (dx - dy) / dz
    if abs(rise) < WORTH_SAYING_IN or (rise > 0) is not rising:
        return []
    way = "rises" if rise > 0 else "drops"
    return [f"the pins lean, so the strike edge {way} {lengths.full(abs(rise))} by 90 deg"]


def stops_out_of_plane(case: Case) -> str:
    """Return how the stops are out of plane with each other."""
    hinge, at_hinge = least_place(case.margins.hinge_stop or (0.0,), STATIONS)
    strike, at_strike = least_place(case.margins.strike_stop or (0.0,), STATIONS)
    return (
        f"Closed, the slab would stand {case.stands(hinge)} the hinge stop{at_hinge}"
        f" and {case.stands(strike)} the strike stop{at_strike}:"
        " the stops are not in one plane with the slab."
    )


def pin_and_casing(case: Case) -> str:
    """Return what the pin leaves at 180 degrees, against the casing."""
    proud, casing = case.found.axis.proud, case.scene.casing
    assert casing is not None
    return (
        f"The pin stands {case.full(proud)} proud of the wide face, so at 180"
        f" deg the slab stands {case.full(2 * proud)} off its closed face;"
        f" the casing is {case.full(casing.thickness)} thick."
    )


def lip_gaps(case: Case) -> tuple[str, Sequence[float] | None]:
    """Return the leg that a lip meets, and how far its back closes off that leg."""
    if case.touch.against_kind is PartKind.HINGE_LEG:
        return "hinge leg", case.margins.flush
    return "strike leg", case.margins.flush_strike


def lip(case: Case) -> str:
    """Return where the lip's back would close, against the frame that it laps."""
    leg, found = lip_gaps(case)
    lip = case.scene.slab.lip
    assert lip is not None and found is not None
    gap, place = least_place(found, STATIONS)
    return (
        f"Closed, the back of the lip would stand {case.stands(gap)} the {leg}{place};"
        f" the slab's rebate is {case.full(lip.depth)} deep."
    )


def fitted(case: Case) -> str:
    """Return how far what is fitted to the slab stands proud, and what the slab alone would do."""
    touch, margins, opened = case.touch, case.margins, case.found.opened
    words = f"The {touch.by} {_stands_out(case)}"
    name, gaps = {
        PartKind.HINGE_STOP: ("hinge stop", margins.hinge_stop),
        PartKind.STRIKE_STOP: ("strike stop", margins.strike_stop),
        PartKind.HEAD_STOP: ("stops", margins.hinge_stop),
    }.get(touch.against_kind, ("", None))
    if gaps is not None:
        return f"{words}; the closed slab's own face is {case.full(min(gaps))} from the {name}."
    if case.found.decided.way is not Way.OPENING or case.found.decided.push or opened is None:
        return f"{words}."
    if opened.slab is None:
        return f"{words}; the slab itself would clear it."
    return f"{words}; the slab itself would meet the {opened.slab.against} later."


def _stands_out(case: Case) -> str:
    slab, lock, kind = case.scene.slab, case.scene.lock, case.touch.by_kind
    if kind is PartKind.HANDLE and lock is not None and lock.handle is not None:
        return f"stands {case.full(lock.handle.projection)} out of the slab's face"
    if kind is PartKind.ASTRAGAL and slab.astragal is not None:
        strip = slab.astragal
        return (
            f"is {case.full(strip.thickness)} thick and stands {case.full(strip.overlap)}"
            " beyond the strike edge"
        )
    name = case.touch.by.removeprefix("push-side ")
    out = next((each.size[2] for each in slab.applied if each.name in (case.touch.by, name)), 0.0)
    if slab.glass is not None and slab.glass.bead is not None and name.endswith("glass bead"):
        out = slab.glass.bead.proud
    return f"stands {case.full(out)} proud of the slab's face" if out else "stands proud"
