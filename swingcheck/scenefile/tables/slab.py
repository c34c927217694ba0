"""``[slab]``: its sizes, its head margin and its wood; and the slab as it was delivered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from swingcheck.model import (
    Applied,
    Astragal,
    Delivered,
    Edge,
    Grain,
    Opening,
    Scene,
    Share,
    Slab,
    Stations,
    Wanted,
    station_value,
)
from swingcheck.scenefile.broken import SLACK_IN, Broken, beyond
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import (
    LEVEL,
    NONE,
    UPRIGHT,
    Table,
    from_0,
    one_of,
    over_0,
    words,
)
from swingcheck.scenefile.tables import arch, edge, fitted
from swingcheck.scenefile.tables.floor import under_slab
from swingcheck.scenefile.tables.opening import clear_width, measured_at, narrowest
from swingcheck.units import length_text

# Common practice, no source.
HINGE_MARGIN_IN = 1 / 16
STRIKE_MARGIN_IN = Wanted.USUAL_STRIKE_IN
HEAD_MARGIN_IN = 1 / 8
MEETING_GAP_IN = 1 / 8  # between a pair's meeting edges

TABLE = Table(
    ask="The slab. Pull side: the side that it swings toward.",
    keys={
        "width": over_0(**UPRIGHT, ask="on the pull-side face; or [top, middle, bottom]"),
        "height": over_0(
            **LEVEL | {"each": "hinge edge, strike edge"},
            ask="as it will hang; or [hinge edge, strike edge]",
        ),
        "arch": from_0(240.0),
        "thickness": over_0(
            12.0,
            usual=1.375,  # US Navy NAVEDTRA 14069, p. 6-41
            why="usual for an interior slab",
            ask="at the hinge edge",
        ),
        "hinge_edge": edge.HINGE_EDGE,
        "strike_edge": edge.STRIKE_EDGE,
        "head_edge": edge.HEAD_EDGE,
        "lip": fitted.LIP,
        "warp": fitted.WARP,
        "head_margin": from_0(
            12.0,
            usual=HEAD_MARGIN_IN,
            why="usual at the head",
            ask="head to the slab's top, at the hinge side",
        ),
        "material": words(usual="ponderosa pine", why="a common wood for a slab", ask="its wood"),
        "construction": words(
            usual="solid",
            why="the heaviest kind",
            ask='"solid", "hollow core", "stile and rail"',
        ),
        "grain": one_of(Grain, usual="flat", why="the common way to saw"),
        "glass": fitted.GLASS,
        "astragal": fitted.ASTRAGAL,
        "applied": fitted.APPLIED,
        "delivered": Table(
            keys={
                "width": over_0(),
                "height": over_0(),
                "edge_strip": from_0(48.0),
                "end_strip": from_0(48.0),
                "share": one_of(
                    Share, usual="even", why="the same off both edges keeps it balanced"
                ),
                "hinge_off": from_0(48.0),
            },
            words=NONE,
            ask="The slab as it was delivered, before any cut.",
            sample={
                "width": lambda scene: max(scene.slab.width),
                "height": lambda scene: max(scene.slab.height),
            },
        ),
    },
)


def read(filling: Filling, opening: Opening) -> Slab:
    """Return the slab with what is fitted to it, noting what is usual."""
    head_margin = _head_margin(filling)
    thickness = filling.number("slab.thickness")
    width = filling.numbers("slab.width", *_usual_width(filling, narrowest(opening)))
    height = filling.ends("slab.height", *_usual_height(filling, opening, width[0], head_margin))
    rise = arch.slab_rise(filling, opening, width[0], height, head_margin)
    sizes = {"width": width, "height": height, "arch": rise, "head_margin": head_margin}
    slab = Slab(
        **(filling.all_of("slab") | sizes),
        hinge_edge=edge.read(filling, "slab.hinge_edge", thickness),
        strike_edge=edge.read(filling, "slab.strike_edge", thickness),
        head_edge=edge.said(filling, "slab.head_edge", thickness) or Edge(),
        lip=fitted.read_lip(filling),
        warp=fitted.read_warp(filling),
        astragal=filling.made("slab.astragal", Astragal),
        applied=filling.each_made("slab.applied", Applied, "applied panel"),
    )
    why = "as it will hang, with nothing to cut"
    uncut = {"width": (max(width), why), "height": (max(height), why)}
    delivered = filling.made("slab.delivered", Delivered, uncut)
    return replace(slab, glass=fitted.read_glass(filling, slab), delivered=delivered)


def _usual_width(filling: Filling, between: float) -> tuple[tuple[float], str]:
    """Return the usual width, of so much between the legs, and why."""
    hinges, strike, gap = (
        filling.length(each) for each in (HINGE_MARGIN_IN, STRIKE_MARGIN_IN, MEETING_GAP_IN)
    )
    if not filling.has_table("inactive"):
        why = f"the opening at its narrowest less {hinges} at the hinges and {strike} at the strike"
        return (between - HINGE_MARGIN_IN - STRIKE_MARGIN_IN,), why
    room = between - 2 * HINGE_MARGIN_IN - MEETING_GAP_IN
    margins = f"{hinges} at the hinges and {gap} between the slabs"
    given = filling.values.get("inactive.slab.width")
    if given is None:
        return (room / 2,), f"half the opening less {margins}"
    return (room - max(given),), f"what the inactive slab leaves, less {margins}"


def _usual_height(
    filling: Filling, opening: Opening, width: float, head_margin: float
) -> tuple[Stations, str]:
    """Return the usual heights at the hinge edge and the strike edge, and why."""
    bottom = under_slab(filling, opening)
    at = (HINGE_MARGIN_IN, HINGE_MARGIN_IN + width)
    arched = arch.arched_heights(filling, opening, at, head_margin, bottom)
    if arched is not None:
        return arched
    bottom += _under_upper(filling, opening.height[0] - head_margin - bottom)
    margin, under = filling.length(head_margin), filling.length(bottom)
    why = f"the opening less {margin} at the head and {under} above the finished floor"
    off = head_margin + bottom
    return tuple(dict.fromkeys(height - off for height in opening.height)), why


def _under_upper(filling: Filling, between: float) -> float:
    """Return how high a lower slab, its shelf and its gap stand, of what both slabs share."""
    if not filling.has_table("lower"):
        return 0.0
    taken = filling.taken("lower.gap")
    if filling.has_table("lower.shelf"):
        taken += filling.taken("lower.shelf.thickness")
    height = filling.said("lower.slab.height")
    return taken + ((between - taken) / 2 if height is None else height)


def _head_margin(filling: Filling) -> float:
    numbers, key = filling.values, "slab.head_margin"
    if numbers.get("opening.arch"):
        return filling.number(key, HEAD_MARGIN_IN, "usual at the crown")
    jamb, slab = numbers.get("hinge.jamb.tops", ()), numbers.get("hinge.slab.tops", ())
    if jamb and len(jamb) == len(slab):
        between = (sum(jamb) - sum(slab)) / len(jamb)
        why = "what the leaves' tops on the jamb and on the slab leave"
        return filling.number(key, between, why)
    return filling.number(key)


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the slab."""
    yield from limits_in_opening(scene)
    yield from fitted.limits(scene)
    yield from arch.limits(scene)


def limits_in_opening(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of any slab in its opening: its sizes and its edges."""
    opening, slab = scene.opening, scene.slab
    for name in ("construction", "material"):
        if not any(letter.isalpha() for letter in getattr(slab, name)):
            word = getattr(slab, name)
            yield Broken(key=f"slab.{name}", value=word, expected="words, with letters in them")
    yield from _width_in_opening(scene)
    for side in (0, 1) if not opening.arch else ():
        held = ("<=", opening.height[side], "no higher than the opening, {}", "opening.height")
        yield from beyond(scene, f"slab.height[{side}]", *held)
    if slab.head_margin < -SLACK_IN:
        yield Broken(
            key="hinge.jamb.tops",
            value="",
            expected="lower than hinge.slab.tops: the head margin between them comes to"
            f" {length_text(slab.head_margin, scene.unit)}",
            others=("hinge.slab.tops",),
        )
    yield from edge.limits(scene)


def _width_in_opening(scene: Scene) -> Iterator[Broken]:
    opening, slab = scene.opening, scene.slab
    found = []
    for fraction in measured_at(opening, slab.width):
        down = slab.head_margin + fraction * slab.height[0]
        room = clear_width(opening, min(down / opening.height[0], 1.0))
        found.append((station_value(slab.width, fraction) - room, -fraction, room))
    over, place, room = max(found)
    station = round(-place * (len(slab.width) - 1))
    held = ("<=", room, "no wider than the opening there, {}", "opening.width")
    yield from beyond(scene, f"slab.width[{station}]", *held, value=over + room)
