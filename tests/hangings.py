"""Random openings whose slab hangs otherwise than on plain butts, each from a seed.

========== ==================================================================================
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
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, assemble
from swingcheck.model import (
    NO_HINGES,
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
)
from tests.factory import SQUARE, bevel, changed, rounded
from tests.openings import random_opening

Rng = np.random.Generator
KINDS = ("wide", "cranked", "rising", "centre", "offset", "pair", "dutch")


def random_hanging(kind: str, seed: int) -> Scene:
    """Return a random opening of a kind."""
    rng = np.random.default_rng([KINDS.index(kind), seed])
    scene = replace(random_opening(seed), title=f"{kind} {seed}")
    return _MAKES[kind](scene, rng)


@cache
def assembled(kind: str, seed: int) -> Assembly:
    """Return the solids of a random opening of a kind; built once a test run."""
    return assemble(random_hanging(kind, seed))


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
    offset = Offset(across=float(rng.uniform(-1.0, 2.0)), out=float(rng.uniform(0.2, 0.6)))
    return changed(scene, hinge__offset=offset, slab__hinge_edge=SQUARE)


def _rising(scene: Scene, rng: Rng) -> Scene:
    rise = float(rng.choice([-0.25, 0.25, 0.5]))
    return changed(scene, hinge__rise=rise, slab__head_margin=float(rng.uniform(0.05, 0.5)))


def _centre(scene: Scene, rng: Rng) -> Scene:
    thickness = scene.slab.thickness
    edge = float(rng.uniform(1.0, 3.0))
    edges: Any = [SQUARE, bevel(float(rng.uniform(0, 3))), rounded(float(rng.uniform(1, 3)))]
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
        slab__hinge_edge=bevel(float(rng.uniform(0, 5))),
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
    meeting = float(rng.uniform(0.04, 0.2))
    lapped = rng.random() < 0.4
    slab = replace(
        scene.slab,
        width=(30.0,),
        strike_edge=SQUARE if lapped else bevel(float(rng.uniform(0, 3))),
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
    gap = float(rng.uniform(0.02, 0.15))
    upper = replace(scene.slab, width=(29.9,), height=(38.0, 38.0), head_margin=0.125)
    shelf = Shelf(thickness=0.75, pull=1.0, push=0.75, ends=float(rng.uniform(0.6, 1.0)))
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


_MAKES = {
    "wide": _wide,
    "cranked": _cranked,
    "rising": _rising,
    "centre": _centre,
    "offset": _offset,
    "pair": _pair,
    "dutch": _dutch,
}
