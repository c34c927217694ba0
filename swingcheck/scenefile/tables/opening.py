"""``[opening]``: the hole in the finished frame, its legs, its head and a steel frame's profile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from swingcheck.model import Leg, Opening, Rabbet, Scene, Stations, SteelFrame, station_value
from swingcheck.model.second_slab import added
from swingcheck.scenefile.broken import Broken, Rule, beyond, left_out
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import (
    LEVEL,
    MOST_STATIONS,
    NONE,
    UPRIGHT,
    Kind,
    Table,
    either_way,
    from_0,
    over_0,
)
from swingcheck.scenefile.tables import fitted
from swingcheck.units import lengths_text

STOP_CLEARANCE_IN = 1 / 16  # slab face to stop; what 5/16 in less 1/4 in of setback leaves

# A pressed steel frame's profile, from memory of the Steel Door Institute's details: 2 in
# faces, 5/8 in stop, a rabbet 3/16 in over the slab (1 15/16 in for 1 3/4 in).
_STEEL_DEPTH_IN, _STEEL_THICKNESS_IN, _STEEL_OVER_SLAB_IN = 5.75, 1 / 4, 3 / 16

_LIKELY_IN = (29.875,)  # a slab to go on with where no width is given

_RABBET = over_0(**UPRIGHT, ask="jamb's pull-side edge to the face of the stop")
_LEG = {
    "plumb": either_way(12.0, **UPRIGHT, usual=0.0),
    "cross": either_way(6.0, **UPRIGHT, usual=0.0),
    "twist": either_way(10.0, **UPRIGHT, usual=0.0, kind=Kind.ANGLE),
}
_NO_READINGS = ("plumb, straight and square", "no readings of it")

TABLE = Table(
    ask="The hole in the finished frame.",
    keys={
        "width": over_0(
            **UPRIGHT, needed="leg to leg", ask="leg to leg; [top, middle, bottom] if they differ"
        ),
        "height": over_0(
            **LEVEL,
            usual=80.5,
            needed="floor to head",
            ask="floor to head; or [hinge side, strike side]",
        ),
        "arch": from_0(240.0),
        "rabbet": Table(
            keys={
                "hinge": _RABBET,
                "strike": _RABBET,
                "head": over_0(**LEVEL | {"most": MOST_STATIONS}),
            },
            plain=_RABBET,
        ),
        "depth": over_0(
            48.0,
            usual=4.5625,
            why="usual jamb of a partition wall",
            ask="of the jamb, edge to edge",
        ),
        "thickness": over_0(12.0, usual=0.75, why="usual jamb stock"),
        "hinge_leg": Table(
            keys=_LEG,
            why="no reading of it",
            absent=_NO_READINGS,
            ask="How the legs stand, read with a long level. Plumb: how far the leg leans into\n"
            "the opening (+) or out of it (-). Cross: how far it stands off the wall's plane, to\n"
            "the pull side (+) or the push side (-). Twist: degrees that its face is out of\n"
            "square with the wall, + narrows the stop side. One value, or top, middle, bottom.\n"
            "The same goes for [opening.strike_leg].",
            sample={"plumb": "[0, 0, 0]", "cross": "[0, 0, 0]", "twist": "0"},
        ),
        "strike_leg": Table(keys=_LEG, why="no reading of it", absent=_NO_READINGS),
        "steel": Table(
            keys={"face": over_0(12.0, usual=2.0), "backbend": from_0(6.0, usual=1 / 2)},
            words=NONE,
            why="usual pressed steel frame",
        ),
    },
)


def read(filling: Filling) -> Opening:
    """Return the opening, noting what is usual."""
    steel = filling.made("opening.steel", SteelFrame)
    likely = max(filling.values.get("slab.width", _LIKELY_IN)) + 3 / 16
    usual: Taken = {"width": ((likely,), "")}
    if steel is not None:
        backed = "pressed steel and what backs it at a hinge"
        usual = {
            **usual,
            "depth": (_STEEL_DEPTH_IN, "usual steel frame"),
            "thickness": (_STEEL_THICKNESS_IN, backed),
        }
    legs = [filling.made_or_plain(f"opening.{side}_leg", Leg) for side in ("hinge", "strike")]
    opening = Opening(
        **filling.all_of("opening", usual),
        rabbet=_rabbet(filling, *_usual_rabbet(filling, steel)),
        hinge_leg=legs[0],
        strike_leg=legs[1],
        steel=steel,
    )
    return _stood(filling, opening)


def _stood(filling: Filling, opening: Opening) -> Opening:
    """Return the opening with its legs as far apart as its widths say, all the way up.

    One width is the width at every station. Of the leg that has no plumb of its own the
    other's and the widths say how it stands; both are held against the widths.
    """
    hinge, strike = opening.hinge_leg.plumb, opening.strike_leg.plumb
    if any(strike):
        across = added(opening.width, strike)
        follows = tuple(across[0] - each for each in across)
        if "opening.hinge_leg.plumb" not in filling.values:
            hinge = follows
        elif _part(filling, opening, follows):
            return opening
    if not (any(hinge) or any(strike)):
        return opening
    # In the model one width is between legs that each stand by their own plumb.
    by_width = tuple(-each for each in hinge) if len(opening.width) == 1 else (0.0,)
    return replace(
        opening,
        hinge_leg=replace(opening.hinge_leg, plumb=hinge),
        strike_leg=replace(opening.strike_leg, plumb=by_width),
    )


def _part(filling: Filling, opening: Opening, follows: Stations) -> bool:
    """Tell whether the widths and both legs' plumb cannot all be true, and note the fault."""
    off = added(opening.hinge_leg.plumb, tuple(-each for each in follows))
    apart = max(off) - min(off)
    if apart <= filling.usual_of("shop.tolerance.measuring")[0]:
        return False
    legs = added(opening.hinge_leg.plumb, opening.strike_leg.plumb)
    told = lengths_text(opening.width, filling.unit)
    by_legs = [filling.length(max(opening.width[0] + legs[0] - each, 0.0)) for each in legs]
    filling.fault(
        "opening.strike_leg.plumb",
        "",
        f"what the widths leave: they are {told}, and by both legs' plumb they would be"
        f" {', '.join(by_legs)}, {filling.length(apart)} apart; leave one leg's plumb out",
    )
    return True


def _usual_rabbet(filling: Filling, steel: SteelFrame | None) -> tuple[float, str]:
    lip, thickness = fitted.read_lip(filling), filling.number("slab.thickness")
    if lip is not None:
        return lip.depth, "the slab's own rebate: as far from lip to frame as from face to stop"
    if steel is not None:
        return thickness + _STEEL_OVER_SLAB_IN, "usual steel frame for this thickness"
    room = filling.length(STOP_CLEARANCE_IN)
    return thickness + STOP_CLEARANCE_IN, f"room for the slab and {room} to the stop"


def _rabbet(filling: Filling, usual_depth: float, why: str) -> Rabbet:
    depth: Stations = (usual_depth,)
    if not filling.has_table("opening.rabbet"):
        legs = filling.numbers("opening.rabbet", depth, why)
        return Rabbet(hinge=legs, strike=legs, head=legs[:1])
    other = "as on the other leg"
    if (strike := filling.values.get("opening.rabbet.strike")) is not None:
        depth, why = strike, other
    hinge = filling.numbers("opening.rabbet.hinge", depth, why)
    strike = filling.numbers("opening.rabbet.strike", hinge, other)
    tops = hinge[:1] if hinge[0] == strike[0] else (hinge[0], strike[0])
    head = filling.numbers("opening.rabbet.head", tops, "as at the tops of the legs")
    return Rabbet(hinge=hinge, strike=strike, head=head)


def clear_width(opening: Opening, fraction: float) -> float:
    """Return leg to leg at a fraction of the way from the head to the floor."""
    width = station_value(opening.width, fraction)
    if len(opening.width) > 1:
        return width
    legs = (opening.hinge_leg, opening.strike_leg)
    return width - sum(station_value(leg.plumb, fraction) for leg in legs)


def measured_at(opening: Opening, *more: Stations) -> list[float]:
    """Return where, from the head (0) to the floor (1), a width was measured."""
    measured = (opening.width, opening.hinge_leg.plumb, opening.strike_leg.plumb, *more)
    found = {k / (len(each) - 1) for each in measured if len(each) > 1 for k in range(len(each))}
    return sorted(found | {0.0, 1.0})


def narrowest(opening: Opening, *more: Stations) -> float:
    """Return the least that there is from leg to leg."""
    return min(clear_width(opening, fraction) for fraction in measured_at(opening, *more))


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the opening."""
    opening = scene.opening
    for side in ("hinge", "strike", "head"):
        held: Rule = ("<", "opening.depth", "under the depth of the jamb, {}")
        deepest = max(getattr(opening.rabbet, side))
        yield from beyond(scene, f"opening.rabbet.{side}", *held, value=deepest)
    held = ("<", opening.depth / 2, "under half the jamb's depth, {}", "opening.depth")
    yield from beyond(scene, "opening.steel.backbend", *held)
    held = (">", "opening.thickness", "above opening.thickness, {}")
    yield from beyond(scene, "opening.steel.face", *held)
    if opening.steel is not None and opening.arch:
        yield left_out("opening.arch", "an arched steel frame is not modelled", "opening.steel")
