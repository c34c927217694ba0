"""From measurements to a whole scene."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from swingcheck.model import (
    NO_HINGES,
    Closer,
    Floor,
    Grain,
    Leg,
    Lip,
    Opening,
    PivotKind,
    PivotSet,
    Rabbet,
    Scene,
    Shop,
    Site,
    Slab,
    Stations,
    SteelFrame,
    Stop,
    Swing,
    Threshold,
    seen_from_strike,
    station_value,
)
from swingcheck.scenefile import usual
from swingcheck.scenefile.edges import slab_edge
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.fitted import (
    applied_boxes,
    arched_heights,
    completed_astragal,
    head_edge,
    slab_arch,
    slab_lip,
    slab_warp,
)
from swingcheck.scenefile.hinges import completed_hinges
from swingcheck.scenefile.job import (
    completed_lock,
    delivered,
    finish,
    season,
    slab_glass,
    wanted_margins,
)
from swingcheck.scenefile.pivots import completed_pivots
from swingcheck.scenefile.second_slab import (
    active_width,
    completed_inactive,
    completed_lower,
    is_pair,
    under_upper,
)
from swingcheck.scenefile.surroundings import (
    completed_baseboard,
    completed_carpet,
    completed_casing,
    completed_floor,
    completed_obstacles,
    completed_return,
    completed_threshold,
    steel_frame,
)
from swingcheck.units import angle_text

_SHOP = Shop()
_SWING = Swing()


def completed_scene(filling: Filling, name: str) -> Scene:
    """Return the scene, with what was left out filled up and noted in ``filling``.

    Parameters
    ----------
    filling : Filling
        What the scene says.
    name : str
        The title of a scene without one.
    """
    measured = filling.measured
    if measured.words.get("unit") is None:
        filling.assume("unit", "in", "bare numbers are usually inches")
    hinges_on = filling.words("hinges_on", "left", "nothing said; the fit is the same either way")
    width = filling.required("opening.width", (_likely_width(filling),), "leg to leg")
    height = _pair(filling.required("opening.height", (80.5,), "floor to head"))
    thickness = filling.number("slab.thickness", usual.THICKNESS, "usual for an interior slab")
    lip = slab_lip(filling)
    opening = _opening(filling, width, height, thickness, lip)
    stop = _stop(filling, opening)
    floor = completed_floor(filling)
    threshold = completed_threshold(filling, opening)
    under = _under_slab(floor, threshold)
    slab = _slab(filling, opening, thickness, under)
    glass, uncut = slab_glass(filling, slab), delivered(filling, slab)
    slab = replace(slab, lip=lip, glass=glass, delivered=uncut)
    pivot = completed_pivots(filling, opening, stop, slab)
    hinge = NO_HINGES if pivot else completed_hinges(filling, opening, slab)
    lock = completed_lock(filling, slab)
    casing = completed_casing(filling, lip)
    obstacles = completed_obstacles(filling)
    scene = Scene(
        title=measured.words.get("title", name),
        unit=measured.unit,
        hinges_on=hinges_on,
        opening=opening,
        stop=stop,
        slab=slab,
        hinge=hinge,
        lock=lock,
        floor=floor,
        casing=casing,
        obstacles=obstacles,
        swing=_swing(filling, pivot, stop),
        shop=_shop(filling),
        site=_site(filling),
        threshold=threshold,
        pivot=pivot,
    )
    return _with_the_rest(filling, scene, sum(under))


def _with_the_rest(filling: Filling, scene: Scene, under: float) -> Scene:
    """Return the scene with what stands about it, further slabs, and what is wanted of it."""
    opening, stop, slab, hinge = scene.opening, scene.stop, scene.slab, scene.hinge
    seen, _ = seen_from_strike(opening)
    whole = replace(
        scene,
        wanted=wanted_margins(filling),
        season=season(filling),
        finish=finish(filling),
        carpet=completed_carpet(filling, opening),
        baseboard=completed_baseboard(filling),
        wall_return=completed_return(filling, slab),
        inactive=completed_inactive(filling, seen, stop, slab, hinge),
        lower=completed_lower(filling, opening, stop, slab, hinge, under),
    )
    return replace(whole, assumed=filling.in_order())


def clear_width(opening: Opening, fraction: float) -> float:
    """Return leg to leg at a fraction of the way from the head to the floor."""
    width = station_value(opening.width, fraction)
    if len(opening.width) > 1:
        return width
    legs = (opening.hinge_leg, opening.strike_leg)
    return width - sum(station_value(leg.plumb, fraction) for leg in legs)


def _likely_width(filling: Filling) -> float:
    """Return a width to go on with where there is none, so that the rest can be looked at."""
    slab = filling.measured.numbers.get("slab.width", (29.875,))
    return max(slab) + usual.HINGE_MARGIN + usual.STRIKE_MARGIN


def _pair(values: Stations) -> tuple[float, float]:
    return values[0], values[-1]


def _opening(
    filling: Filling,
    width: Stations,
    height: tuple[float, float],
    thickness: float,
    lip: Lip | None,
) -> Opening:
    steel = steel_frame(filling)
    depth, why = usual.JAMB_DEPTH, "usual jamb of a partition wall"
    stock, of = usual.JAMB_THICKNESS, "usual jamb stock"
    if steel is not None:
        depth, why = usual.STEEL_DEPTH, "usual steel frame"
        stock, of = usual.STEEL_THICKNESS, "pressed steel and what backs it at a hinge"
    return Opening(
        width=width,
        height=height,
        rabbet=_rabbet(filling, *_usual_rabbet(filling, thickness, lip, steel)),
        depth=filling.number("opening.depth", depth, why),
        thickness=filling.number("opening.thickness", stock, of),
        hinge_leg=_leg(filling, "opening.hinge_leg"),
        strike_leg=_leg(filling, "opening.strike_leg"),
        arch=filling.said("opening.arch") or 0.0,
        steel=steel,
    )


def _usual_rabbet(
    filling: Filling, thickness: float, lip: Lip | None, steel: SteelFrame | None
) -> tuple[float, str]:
    if lip is not None:
        return lip.depth, "the slab's own rebate: as far from lip to frame as from face to stop"
    if steel is not None:
        return thickness + usual.STEEL_OVER_SLAB, "usual steel frame for this thickness"
    room = filling.length(usual.STOP_CLEARANCE)
    return thickness + usual.STOP_CLEARANCE, f"room for the slab and {room} to the stop"


def _rabbet(filling: Filling, usual_depth: float, why: str) -> Rabbet:
    depth: Stations = (usual_depth,)
    if not filling.has_table("opening.rabbet"):
        legs = filling.numbers("opening.rabbet", depth, why)
        return Rabbet(hinge=legs, strike=legs, head=legs[:1])
    given = filling.measured.numbers
    other = "as on the other leg"
    if (strike := given.get("opening.rabbet.strike")) is not None:
        depth, why = strike, other
    hinge = filling.numbers("opening.rabbet.hinge", depth, why)
    strike = filling.numbers("opening.rabbet.strike", hinge, other)
    tops = hinge[:1] if hinge[0] == strike[0] else (hinge[0], strike[0])
    head = filling.numbers("opening.rabbet.head", tops, "as at the tops of the legs")
    return Rabbet(hinge=hinge, strike=strike, head=head)


def _leg(filling: Filling, path: str) -> Leg:
    if not filling.has_table(path):
        filling.assume(path, "plumb, straight and square", "no readings of it")
        return Leg()
    why = "no reading of it"
    return Leg(
        plumb=filling.numbers(f"{path}.plumb", (0.0,), why),
        cross=filling.numbers(f"{path}.cross", (0.0,), why),
        twist=filling.numbers(f"{path}.twist", (0.0,), why),
    )


def _stop(filling: Filling, opening: Opening) -> Stop | None:
    if "stop" in filling.measured.words:
        return None
    why, projection, width = "usual stop stock", usual.STOP_PROJECTION, usual.STOP_WIDTH
    if opening.steel is not None:
        why, projection = "usual steel frame", usual.STEEL_STOP
        between = opening.depth - 2 * max(opening.rabbet.hinge)
        width = between if between > 0 else min(width, opening.depth - max(opening.rabbet.hinge))
    return Stop(
        projection=filling.number("stop.projection", projection, why),
        width=filling.number("stop.width", width, why),
    )


def _under_slab(floor: Floor, threshold: Threshold | None) -> tuple[float, float]:
    """Return what lies under the closed slab, above the finished floor, and the usual gap to it."""
    if threshold is None:
        return floor.covering, usual.BOTTOM_MARGIN
    return floor.covering + threshold.height, usual.THRESHOLD_MARGIN


def _slab(filling: Filling, opening: Opening, thickness: float, under: tuple[float, float]) -> Slab:
    head_margin = _head_margin(filling)
    fractions = [
        k / (len(stations) - 1)
        for stations in (opening.width, opening.hinge_leg.plumb, opening.strike_leg.plumb)
        for k in range(len(stations))
        if len(stations) > 1
    ]
    narrowest = min(clear_width(opening, fraction) for fraction in [0.0, *fractions])
    hinge, strike = usual.HINGE_MARGIN, usual.STRIKE_MARGIN
    width_why = (
        f"the opening at its narrowest less {filling.length(hinge)} at the hinges"
        f" and {filling.length(strike)} at the strike"
    )
    usual_width = narrowest - hinge - strike
    if is_pair(filling):
        usual_width, width_why = active_width(filling, narrowest)
    width = filling.numbers("slab.width", (usual_width,), width_why)
    height = _slab_height(filling, opening, width[0], head_margin, sum(under))
    return Slab(
        width=width,
        height=height,
        arch=slab_arch(filling, opening, width[0], height, head_margin),
        thickness=thickness,
        hinge_edge=slab_edge(filling, "slab.hinge_edge", thickness),
        strike_edge=slab_edge(filling, "slab.strike_edge", thickness),
        head_edge=head_edge(filling),
        warp=slab_warp(filling),
        astragal=completed_astragal(filling),
        applied=applied_boxes(filling),
        head_margin=head_margin,
        material=filling.words("slab.material", usual.MATERIAL, "a common wood for a slab"),
        construction=filling.words("slab.construction", usual.CONSTRUCTION, "the heaviest kind"),
        grain=Grain(filling.words("slab.grain", "flat", "the common way to saw")),
    )


def _slab_height(
    filling: Filling, opening: Opening, width: float, head_margin: float, bottom: float
) -> tuple[float, float]:
    arched = arched_heights(filling, opening, width, head_margin, bottom)
    if arched is not None:
        return _pair(filling.numbers("slab.height", *arched))
    bottom += under_upper(filling, opening.height[0] - head_margin - bottom)
    off = head_margin + bottom
    heights = tuple(dict.fromkeys(height - off for height in opening.height))
    why = (
        f"the opening less {filling.length(head_margin)} at the head"
        f" and {filling.length(bottom)} above the finished floor"
    )
    return _pair(filling.numbers("slab.height", heights, why))


def _head_margin(filling: Filling) -> float:
    numbers = filling.measured.numbers
    if numbers.get("opening.arch"):
        return filling.number("slab.head_margin", usual.HEAD_MARGIN, "usual at the crown")
    jamb, slab = numbers.get("hinge.jamb.tops", ()), numbers.get("hinge.slab.tops", ())
    if jamb and len(jamb) == len(slab):
        between = (sum(jamb) - sum(slab)) / len(jamb)
        why = "what the leaves' tops on the jamb and on the slab leave"
        return filling.number("slab.head_margin", between, why)
    return filling.number("slab.head_margin", usual.HEAD_MARGIN, "usual at the head")


def _swing(filling: Filling, pivot: PivotSet | None, stop: Stop | None) -> Swing:
    both_ways = filling.measured.flags.get("swing.both_ways")
    if both_ways is None:
        both_ways = stop is None and pivot is not None and pivot.kind is PivotKind.CENTRE
        if both_ways:
            filling.assume("swing.both_ways", "yes", "on centre pivots, and nothing to stop it")
    limit = filling.number("swing.limit", pi, "flat back against the wall")
    square = min(pi / 2, limit)
    return Swing(
        start=filling.number("swing.start", square, "closing is looked at from there"),
        wanted=filling.number("swing.wanted", square, "enough for most rooms"),
        limit=limit,
        seat=filling.number("swing.seat", _SWING.seat, "a rest this near the seat is closed"),
        both_ways=both_ways,
    )


def _shop(filling: Filling) -> Shop:
    tolerances = {
        "setback": _SHOP.setback_tolerance,
        "depth": _SHOP.depth_tolerance,
        "bevel": _SHOP.bevel_tolerance,
        "rip": _SHOP.rip_tolerance,
        "measuring": _SHOP.measuring_tolerance,
        "pins": _SHOP.pin_tolerance,
    }
    why = "good bench work, plus or minus"
    if filling.has_table("shop.tolerance"):
        tolerances = filling.each_of("shop.tolerance", tolerances, why)
    else:
        texts = [
            f"{name} {angle_text(value) if name == 'bevel' else filling.length(value)}"
            for name, value in tolerances.items()
        ]
        filling.assume("shop.tolerance", ", ".join(texts), why)
    return Shop(
        jig_setback=filling.said("shop.jig_setback"),
        bit=filling.said("shop.bit"),
        bushing=filling.said("shop.bushing"),
        template_corner=filling.said("shop.template_corner"),
        setback_tolerance=tolerances["setback"],
        depth_tolerance=tolerances["depth"],
        bevel_tolerance=tolerances["bevel"],
        rip_tolerance=tolerances["rip"],
        measuring_tolerance=tolerances["measuring"],
        pin_tolerance=tolerances["pins"],
    )


def _site(filling: Filling) -> Site:
    if not filling.has_table("site"):
        text = "no fire rating, no exit, no old paint, no glass, no closer"
        filling.assume("site", text, "nothing said of the site")
        return Site()
    return Site(
        fire_rated=filling.flag("site.fire_rated"),
        exit=filling.flag("site.exit"),
        old_paint=filling.flag("site.old_paint"),
        glass=filling.flag("site.glass"),
        closer=Closer(filling.words("site.closer", "none", "nothing said")),
    )
