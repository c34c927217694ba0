"""From measurements to a whole scene."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from swingcheck.model import (
    Casing,
    Closer,
    Edge,
    EdgeShape,
    Floor,
    Grain,
    Leg,
    Obstacle,
    Opening,
    Rabbet,
    Scene,
    Shop,
    Site,
    Slab,
    Stations,
    Stop,
    Swing,
    station_value,
)
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.hinges import completed_hinges
from swingcheck.scenefile.job import (
    completed_lock,
    delivered,
    finish,
    season,
    slab_glass,
    wanted_margins,
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
    opening = _opening(filling, width, height, thickness)
    stop = _stop(filling)
    floor = _floor(filling)
    slab = _slab(filling, opening, thickness, floor.covering)
    slab = replace(slab, glass=slab_glass(filling, slab), delivered=delivered(filling, slab))
    hinge = completed_hinges(filling, slab)
    lock = completed_lock(filling)
    casing = _casing(filling)
    obstacles = _obstacles(filling)
    swing, shop, site = _swing(filling), _shop(filling), _site(filling)
    return Scene(
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
        swing=swing,
        shop=shop,
        site=site,
        wanted=wanted_margins(filling),
        season=season(filling),
        finish=finish(filling),
        assumed=filling.in_order(),
    )


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
    filling: Filling, width: Stations, height: tuple[float, float], thickness: float
) -> Opening:
    return Opening(
        width=width,
        height=height,
        rabbet=_rabbet(filling, thickness),
        depth=filling.number("opening.depth", usual.JAMB_DEPTH, "usual jamb of a partition wall"),
        thickness=filling.number("opening.thickness", usual.JAMB_THICKNESS, "usual jamb stock"),
        hinge_leg=_leg(filling, "opening.hinge_leg"),
        strike_leg=_leg(filling, "opening.strike_leg"),
    )


def _rabbet(filling: Filling, thickness: float) -> Rabbet:
    depth: Stations = (thickness + usual.STOP_CLEARANCE,)
    why = f"room for the slab and {filling.length(usual.STOP_CLEARANCE)} to the stop"
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


def _stop(filling: Filling) -> Stop | None:
    if "stop" in filling.measured.words:
        return None
    why = "usual stop stock"
    return Stop(
        projection=filling.number("stop.projection", usual.STOP_PROJECTION, why),
        width=filling.number("stop.width", usual.STOP_WIDTH, why),
    )


def _slab(filling: Filling, opening: Opening, thickness: float, covering: float) -> Slab:
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
    off = head_margin + usual.BOTTOM_MARGIN + covering
    heights = tuple(dict.fromkeys(height - off for height in opening.height))
    height_why = (
        f"the opening less {filling.length(head_margin)} at the head"
        f" and {filling.length(off - head_margin)} above the finished floor"
    )
    return Slab(
        width=filling.numbers("slab.width", (narrowest - hinge - strike,), width_why),
        height=_pair(filling.numbers("slab.height", heights, height_why)),
        thickness=thickness,
        hinge_edge=_edge(filling, "slab.hinge_edge", thickness),
        strike_edge=_edge(filling, "slab.strike_edge", thickness),
        head_margin=head_margin,
        material=filling.words("slab.material", usual.MATERIAL, "a common wood for a slab"),
        construction=filling.words("slab.construction", usual.CONSTRUCTION, "the heaviest kind"),
        grain=Grain(filling.words("slab.grain", "flat", "the common way to saw")),
    )


def _head_margin(filling: Filling) -> float:
    numbers = filling.measured.numbers
    jamb, slab = numbers.get("hinge.jamb.tops", ()), numbers.get("hinge.slab.tops", ())
    if jamb and len(jamb) == len(slab):
        between = (sum(jamb) - sum(slab)) / len(jamb)
        why = "what the leaves' tops on the jamb and on the slab leave"
        return filling.number("slab.head_margin", between, why)
    return filling.number("slab.head_margin", usual.HEAD_MARGIN, "usual at the head")


def _edge(filling: Filling, path: str, thickness: float) -> Edge:
    measured = filling.measured
    radius = measured.numbers.get(f"{path}.radius")
    bevel = measured.numbers.get(f"{path}.bevel")
    if measured.words.get(path) == "bullnose":
        radius = (thickness / 2,)
    if radius is not None:
        return Edge(shape=EdgeShape.RADIUS, radius=radius[0])
    if bevel is not None and bevel[0]:
        return Edge(shape=EdgeShape.BEVEL, bevel=bevel[0])
    if bevel is None and measured.words.get(path) is None:
        filling.assume(path, "square", "a slab comes square-edged")
    return Edge()


def _casing(filling: Filling) -> Casing | None:
    if not filling.has_table("casing"):
        return None
    return Casing(**filling.each_of("casing", usual.CASING, "usual casing"))


def _floor(filling: Filling) -> Floor:
    if not filling.has_table("floor"):
        filling.assume("floor", "level, with nothing laid on it", "no readings of it")
        return Floor()
    why = "no reading of it"
    apart = filling.measured.apart.get("floor.profile")
    profile = filling.measured.numbers.get("floor.profile", ())
    if apart:
        profile = filling.numbers("floor.profile", profile or (0.0,), why)
    return Floor(
        covering=filling.number("floor.covering", 0.0, "nothing said to be laid on it"),
        across=filling.number("floor.across", 0.0, why),
        out=filling.number("floor.out", 0.0, why),
        profile=profile,
    )


def _obstacles(filling: Filling) -> tuple[Obstacle, ...]:
    found = []
    for place in range(filling.measured.counts.get("obstacle", 0)):
        path = f"obstacle[{place}]"
        corner = filling.required(f"{path}.corner", (0.0, 60.0, 0.0), "its lowest corner [x, y, z]")
        size = filling.required(f"{path}.size", (1.0, 1.0, 1.0), "its size [across, out, up]")
        name = filling.measured.words.get(f"{path}.name", f"obstacle {place + 1}")
        corner_point = (corner[0], corner[1], corner[2])
        found.append(Obstacle(name=name, corner=corner_point, size=(size[0], size[1], size[2])))
    return tuple(found)


def _swing(filling: Filling) -> Swing:
    limit = filling.number("swing.limit", pi, "flat back against the wall")
    square = min(pi / 2, limit)
    return Swing(
        start=filling.number("swing.start", square, "closing is looked at from there"),
        wanted=filling.number("swing.wanted", square, "enough for most rooms"),
        limit=limit,
        seat=filling.number("swing.seat", _SWING.seat, "a rest this near the seat is closed"),
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
