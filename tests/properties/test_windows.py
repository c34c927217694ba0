"""Inverse, then forward: every end of a window is where the slab stops swinging.

The scenes are drawn from seeds: openings true, out of plumb, cross-legged and
twisted, with something wrong in most of them. They hang on two square-cornered
hinges, which leaves the solids few faces and the question the same.
"""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from swingcheck.advice.judge import Judge
from swingcheck.advice.window import END_IN, Interval, Window, window_of
from swingcheck.assembly import assemble
from swingcheck.chance.measurements import Measurement, measurement
from swingcheck.model import Floor, LeafLayout, Leg, Rabbet, Scene, Wanted
from swingcheck.swing.margins import closed_margins, pins_found
from swingcheck.swing.swung import is_seat, overlapped, swung, touch
from swingcheck.swing.trial import limit_spares, wanted_of, within
from tests.factory import bevel, plain_scene

OUTSIDE = 1e-5  # inches, or as much at the narrow face's far side for a bevel

IN_PLAN = (
    "hinge.slab.setback",
    "hinge.jamb.setback",
    "hinge.slab.depth",
    "hinge.jamb.depth",
    "slab.hinge_edge.bevel",
    "slab.strike_edge.bevel",
    "slab.width",
    "opening.rabbet.hinge",
    "opening.rabbet.strike",
    "hinge.open_width",
    "hinge.closed_gap",
)
ON_SOLIDS = (
    "hinge.jamb.depth",
    "slab.width",
    "slab.width.top",
    "slab.height",
    "slab.top",
    "slab.head_margin",
    "opening.rabbet",
    "opening.rabbet.head",
    "hinge.slab.setback.top",
    "hinge.jamb.depth.bottom",
)

ANYTHING = Wanted(least_margin=-9.0, hinge_stop=-9.0, flush=9.0)


def random_scene(seed: int) -> Scene:
    """Return a scene; two of three are prismatic."""
    rng = np.random.default_rng([77, seed])

    def about(middle: float, spread: float) -> float:
        return float(middle + spread * rng.uniform(-1, 1))

    rabbet = about(1.4375, 0.03)
    true = seed % 3 != 2
    legs = [Leg(twist=(radians(about(0.0, 1.0)),)) if true else _leg(rng) for _ in range(2)]
    jamb_setback, top = about(0.31, 0.03), about(7.0, 0.5)
    margin = about(0.12, 0.08)
    return plain_scene(
        opening__width=(about(30.06, 0.05),),
        opening__rabbet=Rabbet(
            hinge=(rabbet,), strike=(rabbet + about(0.0, 0.01),), head=(rabbet, rabbet)
        ),
        opening__hinge_leg=legs[0],
        opening__strike_leg=legs[1],
        slab__width=(about(29.9, 0.04),),
        slab__head_margin=margin,
        slab__hinge_edge=bevel(about(1.5, 1.5)),
        slab__strike_edge=bevel(about(1.5, 1.5)),
        hinge__corner_radius=0.0,
        hinge__jamb=_layout((top, 68.5), jamb_setback, about(0.1, 0.015)),
        hinge__slab=_layout((top - margin, 68.5 - margin), about(0.26, 0.05), about(0.1, 0.015)),
        floor=Floor() if true else Floor(covering=about(0.3, 0.2), out=about(0.005, 0.005)),
    )


def _leg(rng: np.random.Generator) -> Leg:
    return Leg(
        plumb=tuple(rng.uniform(-0.06, 0.06, 3).tolist()),
        cross=tuple(rng.uniform(-0.05, 0.05, 2).tolist()),
        twist=tuple(np.radians(rng.uniform(-1, 1, 2)).tolist()),
    )


def _layout(tops: tuple[float, float], setback: float, depth: float) -> LeafLayout:
    return LeafLayout(tops=tops, setbacks=(setback,) * 2, depths=(depth,) * 2)


def swings(scene: Scene) -> bool:
    """Tell whether a scene swings, assembled afresh."""
    swing = swung(assemble(scene))
    start = scene.swing.start
    if overlapped(swing.assembly, start):
        return False
    closing = touch(swing.assembly, swing.contact(start, 0.0))
    return closing is None or is_seat(scene, closing)


def keeps_limits(scene: Scene, most_off: float) -> bool:
    """Tell whether a scene keeps what is wanted, and its pins no farther off their line."""
    assembly = assemble(scene)
    off = max(pins_found(assembly).off_line)
    kept = within(limit_spares(closed_margins(assembly), wanted_of(scene)))
    return kept and off <= most_off + 1e-9


def ends(found: Window, intervals: tuple[Interval, ...]) -> list[tuple[float, float]]:
    """Return every end that is one, with the place just outside it."""
    step = OUTSIDE / (1.375 if found.measurement.is_angle else 1.0)
    return [
        (end.value, end.value + sense * step)
        for each in intervals
        for sense, end in ((-1, each.low), (1, each.high))
        if end.beyond is not None
    ]


def drawn(seed: int) -> tuple[Scene, Measurement]:
    """Return a scene and the dimension of it that is free, one after the other of its kind's."""
    scene = random_scene(seed)
    keys = ON_SOLIDS if seed % 3 == 2 else IN_PLAN
    return scene, measurement(scene, keys[(seed // 3) % len(keys)])


@pytest.mark.parametrize("seeds", [range(0, 33, 3), range(2, 32, 3)], ids=["in plan", "on solids"])
def test_every_end_is_a_contact_boundary(seeds: range) -> None:
    """Of every dimension once, on prismatic scenes and on crooked ones."""
    count = 0
    for seed in seeds:
        scene, free = drawn(seed)
        scene = replace(scene, wanted=ANYTHING, shop=replace(scene.shop, pin_tolerance=9.0))
        found = window_of(Judge(scene, free))
        assert found.works == found.swings, (seed, free.key)
        if found.works_now or not found.works:
            assert swings(scene) == found.works_now, (seed, free.key)
        for inside, outside in ends(found, found.works):
            count += 1
            assert swings(free.changed(scene, inside)), (seed, free.key, inside)
            assert not swings(free.changed(scene, outside)), (seed, free.key, outside)
    assert count >= len(seeds) / 2


def test_every_end_within_limits_is_where_one_of_them_breaks_or_it_touches() -> None:
    count = 0
    for seed in range(1000, 1009):
        scene, free = drawn(seed)
        found = window_of(Judge(scene, free))
        most_off = max(scene.shop.pin_tolerance, *pins_found(assemble(scene)).off_line)
        for inside, outside in ends(found, found.works):
            count += 1
            last, first = free.changed(scene, inside), free.changed(scene, outside)
            assert keeps_limits(last, most_off) and swings(last), (seed, free.key, inside)
            assert not (keeps_limits(first, most_off) and swings(first)), (seed, free.key)
    assert count > 4


def test_ends_are_solved_to_a_millionth_of_an_inch() -> None:
    assert END_IN <= 1e-6
    scene = replace(random_scene(1), wanted=ANYTHING)
    free = measurement(scene, "hinge.slab.setback")
    ((end, _),) = ends(found := window_of(Judge(scene, free)), found.works)
    assert swings(free.changed(scene, end))
    assert not swings(free.changed(scene, end + 1e-6))
