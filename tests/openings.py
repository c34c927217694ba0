"""Random openings with their slabs, each from a seed, and what they come to as turning solids."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import pi, radians
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, assemble
from swingcheck.model import Floor, LeafLayout, Leg, Obstacle, Scene
from tests.factory import CASING, SQUARE, bevel, plain_scene, rounded
from tests.peers import TurningScene
from tests.strategies import apart_at_start

Rng = np.random.Generator


def random_opening(seed: int) -> Scene:
    """Return an opening out of plumb, cross-legged and twisted, with a slab that nearly fits it.

    The hinges are let in a little unevenly, so the axis leans and the pins do
    not line up. Leaves have square corners on most, for speed.
    """
    rng = np.random.default_rng([11, seed])
    changes: dict[str, Any] = {
        "opening__width": _stations(rng, 30.125, 0.06),
        "opening__height": (80.5, 80.5 + float(rng.uniform(-0.1, 0.1))),
        "opening__hinge_leg": _leg(rng),
        "opening__strike_leg": _leg(rng),
        "opening__rabbet__hinge": _stations(rng, 1.4375, 0.03),
        "opening__rabbet__strike": _stations(rng, 1.4375, 0.03),
        "slab__width": _stations(rng, 29.9, 0.1),
        "slab__hinge_edge": _edge(rng),
        "slab__strike_edge": _edge(rng),
        "hinge__corner_radius": 0.625 if rng.random() < 0.15 else 0.0,
        "hinge__jamb": _layout(rng, (7.0, 37.75, 68.5), 0.3125),
        "hinge__slab": _layout(rng, (6.875, 37.625, 68.375), 0.25),
        "floor": Floor(
            covering=float(rng.choice([0.0, 0.375])),
            across=float(rng.uniform(-0.01, 0.01)),
            out=float(rng.uniform(-0.01, 0.01)),
        ),
    }
    if rng.random() < 0.15:
        changes["stop"] = None
    if rng.random() < 0.4:
        changes["casing"] = CASING
    if rng.random() < 0.4:
        corner = (float(rng.uniform(-20, 20)), float(rng.uniform(5, 30)), float(rng.uniform(0, 60)))
        changes["obstacles"] = (Obstacle(name="shelf", corner=corner, size=(8.0, 8.0, 8.0)),)
    return plain_scene(title=f"Opening {seed}", **changes)


@cache
def assembled(seed: int) -> Assembly:
    """Return the solids of a random opening; built once a test run."""
    return assemble(random_opening(seed))


def turning_of(assembly: Assembly, start: float, stop: float) -> TurningScene:
    """Return a turn of an assembly, without the parts that overlap at its start."""
    return apart_at_start(
        TurningScene(
            label=assembly.scene.title,
            moving=tuple(part.solid for part in assembly.moving),
            fixed=tuple(part.solid for part in assembly.fixed),
            point=assembly.axis.point,
            direction=assembly.axis.direction,
            start=start,
            stop=stop,
            rise=assembly.axis.rise,
        )
    )


def closing(assembly: Assembly) -> TurningScene:
    """Return the closing of an assembly from square."""
    return turning_of(assembly, pi / 2, 0.0)


def _stations(rng: Rng, middle: float, spread: float) -> tuple[float, ...]:
    count = int(rng.choice([1, 2, 3, 5]))
    return tuple(float(middle + d) for d in rng.uniform(-spread, spread, count))


def _leg(rng: Rng) -> Leg:
    if rng.random() < 0.2:
        return Leg()
    return Leg(
        plumb=_stations(rng, 0.0, 0.06),
        cross=_stations(rng, 0.0, 0.06),
        twist=_stations(rng, 0.0, radians(2.5)),
    )


def _edge(rng: Rng) -> Any:
    kind = rng.integers(4)
    if kind == 0:
        return SQUARE
    if kind == 1:
        return rounded(float(rng.uniform(1.0, 4.0)))
    return bevel(float(rng.uniform(-1, 5)))


def _layout(rng: Rng, tops: tuple[float, ...], setback: float) -> LeafLayout:
    return LeafLayout(
        tops=tops,
        setbacks=tuple(float(setback + d) for d in rng.uniform(-0.04, 0.04, 3)),
        depths=tuple(float(0.097 + d) for d in rng.uniform(-0.03, 0.02, 3)),
    )


def without_leaves(assembly: Assembly) -> Assembly:
    """Return the assembly with its leaves left out, so that wood meets wood."""
    return replace(
        assembly,
        moving=tuple(p for p in assembly.moving if "leaf" not in p.kind.value),
        fixed=tuple(p for p in assembly.fixed if "leaf" not in p.kind.value),
    )
