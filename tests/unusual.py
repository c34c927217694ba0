"""Random openings with a slab or a frame of an unusual kind, or hung otherwise, each from a seed.

========== ==================================================================================
lip        a lipped slab, its knuckles cranked beside the lip
bow        a slab bowed, cupped and twisted
bevelled   a bevelled top under a head out of level
raked      a head that rises or falls across the opening, and a slab cut to it
arched     an arched head, and a slab on the same centre
steel      a pressed steel frame with flats and backbends
threshold  a saddle, and a slab that nearly clears it
carpet     a carpet that begins past the jamb
astragal   a strip along the strike edge, flat or a T, on either face
applied    boxes and a glass bead on the faces
handle     knobs or levers, with a wall return and a baseboard
---------- ----------------------------------------------------------------------------------
wide       leaves wider than half the open width, and not alike
cranked    knuckles displaced over the hinge leg or over the slab, and out
rising     helical knuckles that lift the slab, or let it down
centre     a pin at top and bottom within the slab, no stops, round edges or square
offset     a pin at top and bottom proud of the wide face, a little out of line
pair       an inactive slab on the strike leg, square, bevelled or lapped by the active one
dutch      a lower slab with a shelf under the upper one
========== ==================================================================================
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import radians
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, assemble
from swingcheck.model import (
    NO_HINGES,
    Applied,
    Astragal,
    Baseboard,
    Bead,
    Carpet,
    Face,
    Floor,
    Glass,
    Handle,
    HingeSet,
    Inactive,
    LeafLayout,
    Lip,
    Lower,
    MeetingRebate,
    Offset,
    PivotKind,
    PivotSet,
    Scene,
    Shelf,
    Slab,
    SteelFrame,
    Threshold,
    WallReturn,
    Warp,
    rise_of,
)
from tests.factory import LOCK, SQUARE, bevel, changed, rounded
from tests.openings import random_opening

Rng = np.random.Generator


def random_kind(kind: str, seed: int) -> Scene:
    """Return a random opening of a kind."""
    scene = replace(random_opening(seed), title=f"{kind} {seed}")
    if kind in HANGINGS:
        return _HANGINGS[kind](scene, np.random.default_rng([HANGINGS.index(kind), seed]))
    rng = np.random.default_rng([101, UNUSUAL.index(kind), seed])
    return _UNUSUAL[kind](replace(scene, floor=Floor(), obstacles=()), rng)


@cache
def assembled(kind: str, seed: int) -> Assembly:
    """Return the solids of a random opening of a kind; built once a test run."""
    return assemble(random_kind(kind, seed))


def _between(rng: Rng, low: float, high: float) -> float:
    return float(rng.uniform(low, high))


def _straight(scene: Scene, rng: Rng) -> Scene:
    """Return the scene with straight edges, and what a lip or an arch cannot have left out."""
    edges = [bevel(_between(rng, -1, 4)) if rng.random() < 0.6 else SQUARE for _ in range(2)]
    return changed(scene, slab__hinge_edge=edges[0], slab__strike_edge=edges[1])


def _lip(scene: Scene, rng: Rng) -> Scene:
    width = _between(rng, 0.3, 0.7)
    strike, head = _between(rng, 0.3, 0.7), _between(rng, 0.2, 0.6)
    lip = Lip(hinge=width, strike=strike, head=head, depth=0.875)
    # The back of the lip stands a little off the frame, or a little into it.
    shift = 1.4375 - 0.875 - _between(rng, 0.0, 0.15)
    back = {
        f"opening__rabbet__{side}": tuple(r - shift for r in stations)
        for side, stations in (
            ("hinge", scene.opening.rabbet.hinge),
            ("strike", scene.opening.rabbet.strike),
            ("head", scene.opening.rabbet.head),
        )
    }
    return changed(
        _straight(scene, rng),
        **back,
        slab__lip=lip,
        hinge__offset=Offset(across=width + _between(rng, -0.1, 0.1)),
        casing=None,
    )


def _bow(scene: Scene, rng: Rng) -> Scene:
    warp = Warp(
        bow=_between(rng, -0.2, 0.2), cup=_between(rng, -0.1, 0.1), twist=_between(rng, -0.2, 0.2)
    )
    return changed(scene, slab__warp=warp)


def _bevelled(scene: Scene, rng: Rng) -> Scene:
    fall = _between(rng, -3, 3)
    low, high = 80.5, 80.5 - fall
    return changed(
        scene,
        opening__height=(low, high),
        slab__height=(79.75, 79.75 - fall),
        slab__head_edge=bevel(_between(rng, -4, 2)),
    )


def _raked(scene: Scene, rng: Rng) -> Scene:
    rise = _between(rng, -12, 12)
    return changed(
        scene,
        opening__height=(80.5, 80.5 + rise),
        slab__height=(79.75 - 0.02 * abs(rise), 79.75 - 0.02 * abs(rise) + rise * 29.9 / 30.1),
    )


def _arched(scene: Scene, rng: Rng) -> Scene:
    rise = _between(rng, 2, 10)
    radius = (30.125**2 / 4 + rise**2) / (2 * rise) - 0.125
    width = scene.slab.width[0]
    return changed(
        _straight(scene, rng),
        opening__height=(80.5, 80.5),
        opening__arch=rise,
        slab__height=(79.75, 79.75),
        slab__arch=rise_of((0.0, 0.0), (width, 0.0), radius),
        slab__head_margin=_between(rng, 0.06, 0.2),
    )


def _steel(scene: Scene, rng: Rng) -> Scene:
    return changed(
        scene,
        opening__steel=SteelFrame(face=_between(rng, 1, 3), backbend=_between(rng, 0.25, 0.75)),
        opening__thickness=0.25,
        casing=None,
        slab__applied=(_proud(rng, Face.PULL),),
    )


def _proud(rng: Rng, face: Face) -> Applied:
    """Return a box near the hinge edge that stands out farther than the pin."""
    return Applied(
        name="moulding",
        face=face,
        corner=(_between(rng, 0.2, 1.0), _between(rng, 5, 20)),
        size=(_between(rng, 0.5, 2), _between(rng, 20, 40), _between(rng, 0.7, 1.5)),
    )


def _threshold(scene: Scene, rng: Rng) -> Scene:
    height = _between(rng, 0.5, 0.9)
    return changed(
        scene,
        threshold=Threshold(
            width=_between(rng, 4, 8),
            height=height,
            slope=radians(_between(rng, 20, 80)),
            edge=_between(rng, -1, 2),
        ),
    )


def _carpet(scene: Scene, rng: Rng) -> Scene:
    # The floor rises to the strike leg, so that closing starts clear of the carpet.
    carpet = Carpet(thickness=_between(rng, 0.3, 0.5), edge=_between(rng, 1, 10), reach=60.0)
    return changed(scene, carpet=carpet, floor=Floor(across=0.02))


def _astragal(scene: Scene, rng: Rng) -> Scene:
    overlap = _between(rng, 0.2, 1.0)
    strip = Astragal(
        face=Face.PULL if rng.random() < 0.6 else Face.PUSH,
        width=overlap + _between(rng, 0.3, 1.0),
        thickness=_between(rng, 0.1, 0.6),
        overlap=overlap,
        stem=_between(rng, 0.02, 0.1) if rng.random() < 0.4 else 0.0,
    )
    return changed(scene, slab__astragal=strip, casing=None)


def _applied(scene: Scene, rng: Rng) -> Scene:
    boxes = tuple(
        Applied(
            name=f"panel {k}",
            face=Face.BOTH,
            corner=(_between(rng, 0, 4), _between(rng, 2, 40)),
            size=(_between(rng, 5, 25), _between(rng, 5, 35), _between(rng, 0.05, 0.7)),
        )
        for k in range(2)
    )
    bead = Bead(width=0.5, proud=_between(rng, 0.05, 0.5), face=Face.BOTH)
    glass = Glass(width=20.0, height=30.0, thickness=0.25, across=4.0, up=40.0, bead=bead)
    return changed(scene, slab__applied=boxes, slab__glass=glass)


def _handle(scene: Scene, rng: Rng) -> Scene:
    is_lever = rng.random() < 0.5
    handle = Handle(
        face=Face.BOTH,
        projection=_between(rng, 1.5, 3.5),
        diameter=0.75 if is_lever else _between(rng, 1.5, 2.5),
        length=_between(rng, 3, 5) if is_lever else 0.0,
        rose=2.5,
    )
    return changed(
        scene,
        lock=changed(LOCK, handle=handle, backset=_between(rng, 1.2, 2.75)),
        wall_return=WallReturn(hinge=_between(rng, 1, 12), strike=4.0, reach=30.0),
        baseboard=Baseboard(thickness=_between(rng, 0.4, 1.5), height=5.0),
        floor=Floor(),
    )


def _wide(scene: Scene, rng: Rng) -> Scene:
    jamb, slab = (float(w) for w in rng.uniform(1.75, 2.5, 2))
    return changed(
        scene,
        hinge__jamb__width=jamb,
        hinge__slab__width=slab,
        # Wider leaves stand the slab out; their setbacks keep it by its stops.
        hinge__jamb__setbacks=tuple(s + slab - jamb for s in scene.hinge.jamb.setbacks),
    )


def _cranked(scene: Scene, rng: Rng) -> Scene:
    offset = Offset(across=_between(rng, -1.0, 2.0), out=_between(rng, 0.2, 0.6))
    return changed(scene, hinge__offset=offset, slab__hinge_edge=SQUARE)


def _rising(scene: Scene, rng: Rng) -> Scene:
    rise = float(rng.choice([-0.25, 0.25, 0.5]))
    return changed(scene, hinge__rise=rise, slab__head_margin=_between(rng, 0.05, 0.5))


def _centre(scene: Scene, rng: Rng) -> Scene:
    thickness = scene.slab.thickness
    edge = _between(rng, 1.0, 3.0)
    edges: Any = [SQUARE, bevel(_between(rng, 0, 3)), rounded(_between(rng, 1, 3))]
    return changed(
        scene,
        stop=None,
        hinge=NO_HINGES,
        slab__hinge_edge=edges[int(rng.integers(3))],
        slab__strike_edge=edges[int(rng.integers(3))],
        pivot=PivotSet(
            kind=PivotKind.CENTRE,
            edge=_two(rng, edge),
            face=_two(rng, thickness / 2),
            leg=_two(rng, edge + 0.1),
            out=_two(rng, -1.5),
        ),
    )


def _offset(scene: Scene, rng: Rng) -> Scene:
    return changed(
        scene,
        hinge=NO_HINGES,
        slab__hinge_edge=bevel(_between(rng, 0, 5)),
        pivot=PivotSet(
            kind=PivotKind.OFFSET,
            edge=_two(rng, 0.75),
            face=_two(rng, -0.75),
            leg=_two(rng, 0.85),
            out=_two(rng, 0.75),
        ),
    )


def _two(rng: Rng, value: float) -> tuple[float, float]:
    off = rng.uniform(-0.01, 0.01, 2)
    return float(value + off[0]), float(value + off[1])


def _pair(scene: Scene, rng: Rng) -> Scene:
    meeting = _between(rng, 0.04, 0.2)
    lapped = rng.random() < 0.4
    slab = replace(
        scene.slab,
        width=(30.0,),
        strike_edge=SQUARE if lapped else bevel(_between(rng, 0, 3)),
        lip=Lip(hinge=0.0, strike=0.5, head=0.0, depth=0.7) if lapped else None,
    )
    own = Slab(
        width=(30.0,),
        height=scene.slab.height[::-1],
        thickness=slab.thickness,
        hinge_edge=bevel(2.0),
        strike_edge=slab.strike_edge,
        head_margin=0.125,
        material="red oak",
        construction="solid",
    )
    rebate = MeetingRebate(width=0.6, depth=0.75) if lapped else None
    pair = changed(
        scene,
        opening__width=(60.1875 + meeting,),
        slab=slab,
        inactive=Inactive(slab=own, hinge=scene.hinge, rebate=rebate),
    )
    return replace(pair, obstacles=())


def _dutch(scene: Scene, rng: Rng) -> Scene:
    gap = _between(rng, 0.02, 0.15)
    upper = replace(scene.slab, width=(29.9,), height=(38.0, 38.0), head_margin=0.125)
    shelf = Shelf(thickness=0.75, pull=1.0, push=0.75, ends=_between(rng, 0.6, 1.0))
    lower = replace(upper, height=(40.0, 40.0), head_margin=38.125 + gap + 0.75)
    return changed(
        scene,
        slab=upper,
        hinge=_hinges(scene.hinge, 0.125, (5.0, 28.0), rng),
        lower=Lower(
            slab=lower,
            hinge=_hinges(scene.hinge, lower.head_margin, (6.0, 28.0), rng),
            gap=gap,
            shelf=shelf,
        ),
    )


def _hinges(hinge: HingeSet, margin: float, tops: tuple[float, float], rng: Rng) -> HingeSet:
    def layout(setback: float, down: float) -> LeafLayout:
        return LeafLayout(
            tops=(tops[0] + down, tops[1] + down),
            setbacks=_two(rng, setback),
            depths=_two(rng, 0.1),
        )

    return replace(hinge, jamb=layout(0.3125, margin), slab=layout(0.25, 0.0))


def _by_name(*makes: Any) -> dict[str, Any]:
    return {make.__name__.removeprefix("_"): make for make in makes}


_UNUSUAL = _by_name(_lip, _bow, _bevelled, _raked, _arched, _steel)
_UNUSUAL |= _by_name(_threshold, _carpet, _astragal, _applied, _handle)
_HANGINGS = _by_name(_wide, _cranked, _rising, _centre, _offset, _pair, _dutch)
UNUSUAL, HANGINGS = tuple(_UNUSUAL), tuple(_HANGINGS)
