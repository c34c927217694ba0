"""A measurement changes what it says, within what can be built, and says it to a scene file too."""

from __future__ import annotations

import re
from dataclasses import replace
from math import cos, radians

import pytest

from swingcheck.assembly import assemble
from swingcheck.chance.measurements import measurement, measurements
from swingcheck.chance.values import Lean, measured, shifted
from swingcheck.errors import SceneError
from swingcheck.model import Scene
from swingcheck.scenefile import read_scene
from tests.factory import plain_scene, rounded
from tests.scene_files import METRIC

SPARE = """
title = "Spare room"
[opening]
width = "30 1/8"
height = "80 1/2"
"""

FULL = """
title = "Box room"
hinges_on = "right"
[opening]
width = ["30 1/8", "30 1/16", "30 1/8"]
height = "80 1/2"
rabbet = { hinge = ["1 7/16", "1 1/2"], strike = "1 7/16", head = "1 15/32" }
[opening.hinge_leg]
twist = 0.5
[slab]
width = "29 7/8"
height = "79 3/4"
hinge_edge = "square"
strike_edge = { bevel = "1/8 in 2" }
[hinge]
jamb = { tops = ["7", "37 3/4", "68 1/2"], setback = ["5/16", "21/64", "5/16"], depth = 0.1 }
slab = { setback = "1/4" }
[lock]
backset = "2 3/8"
"""

SCENES = {"spare": SPARE, "full": FULL, "metric": METRIC}
KEYS = [
    (name, each.key)
    for name, text in SCENES.items()
    for each in measurements(read_scene(text, name=name))
]


def shown(scene: Scene) -> str:
    """Return all of a scene but the list of what it took as usual, to ten digits."""
    told = repr(replace(scene, assumed=()))
    return re.sub(r"-?\d+\.\d+(e-?\d+)?", lambda found: f"{float(found[0]):.10f}", told)


@pytest.mark.parametrize(("name", "key"), KEYS)
def test_what_set_is_given_makes_the_scene_and_both_ends_of_its_span_can_be_built(
    name: str, key: str
) -> None:
    scene = read_scene(SCENES[name], name=name)
    free = measurement(scene, key)
    low, high = free.span(scene)
    for share in (0.07, 0.5, 0.93):
        value = low + share * (high - low)
        changed = free.changed(scene, value)
        again = read_scene(SCENES[name], name=name, settings=free.settings(scene, value))
        assert shown(again) == shown(changed), (key, value)
    now = free.value(scene)
    assert low <= now <= high
    for value in (low, high):
        changed = free.changed(scene, value)
        assert free.value(changed) == pytest.approx(value, abs=1e-12)
        assert all(part.solid.volume > 0 for part in assemble(changed).moving)


# The wood, the leaf and the room that are there, by hand: inches.
SPANS = {
    "hinge.slab.depth": (0.0, 0.097 + 1 / 4),
    "hinge.jamb.depth": (0.0, 0.9 * 0.35),  # the stock is 0.35 thick
    "hinge.slab.setback": (0.0, 1.375 / cos(radians(2)) - 1 / 4),
    "hinge.jamb.setback": (0.0, 1.4375 - 1 / 4),
    "hinge.closed_gap": (0.0, 1 / 4),
    "hinge.screw_proud": (0.0, 1 / 8),
    "slab.width": (30.125 - 3, 30.125),
    "slab.head_margin": (0.0, 1.0),
    "slab.strike_edge.bevel": (0.0, radians(15)),
    "stop.projection": (1 / 8, 1.0),
}


@pytest.mark.parametrize("key", SPANS)
def test_a_span_is_what_the_wood_leaves(key: str) -> None:
    scene = plain_scene(opening__thickness=0.35, hinge__jamb__depths=(0.09,) * 3)
    assert measurement(scene, key).span(scene) == pytest.approx(SPANS[key], abs=1e-9)


def test_a_value_is_there_to_the_bit_and_what_hangs_on_it_is_kept() -> None:
    scene = plain_scene()
    for key in ("hinge.slab.setback", "slab.width", "slab.strike_edge.bevel", "stop.projection"):
        free = measurement(scene, key)
        low, high = free.span(scene)
        value = low + (high - low) / 3
        assert free.value(free.changed(scene, value)) == value
    top, middle, bottom = shifted(scene, "hinge.slab.depths", 0.1, Lean.TOP)
    share = (37.75 - 7.0) / (68.5 - 7.0)
    assert (top, middle, bottom) == pytest.approx((0.197, 0.097 + 0.1 * (1 - share), 0.097))
    assert measured(scene, "hinge.slab.depths[1]") == (0.097,)
    assert shifted(scene, "slab.width", -0.1, Lean.BOTTOM) == pytest.approx((29.875, 29.775))
    moved = measurement(scene, "opening.rabbet.hinge").changed(scene, 1.5)
    before, after = (
        [one.opening.rabbet.hinge[0] - setback for setback in one.hinge.jamb.setbacks]
        for one in (scene, moved)
    )
    assert after == pytest.approx(before, abs=1e-12)
    assert moved.opening.rabbet.strike == scene.opening.rabbet.strike
    lower = measurement(scene, "slab.head_margin").changed(scene, 0.25)
    pairs = zip(lower.hinge.jamb.tops, lower.hinge.slab.tops, strict=True)
    assert [jamb - slab for jamb, slab in pairs] == pytest.approx([0.25] * 3)
    planed = measurement(scene, "slab.top").changed(scene, scene.slab.height[0] - 1 / 16)
    bottoms = [
        one.opening.height[0] - one.slab.head_margin - one.slab.height[0] for one in (scene, planed)
    ]
    assert bottoms[0] == pytest.approx(bottoms[1])
    assert planed.slab.head_margin == pytest.approx(0.125 + 1 / 16)


@pytest.mark.parametrize(
    ("change", "key", "words"),
    [
        ({}, "slab.widht", "did you mean slab.width"),
        ({}, "nothing", "no measurement"),
        ({"stop": None}, "opening.rabbet", "there is no stop"),
        ({"slab__strike_edge": rounded(0.9)}, "slab.strike_edge.bevel", "round"),
    ],
)
def test_a_measurement_that_is_not_there_says_why(
    change: dict[str, object], key: str, words: str
) -> None:
    with pytest.raises(SceneError, match=words):
        measurement(plain_scene(**change), key)
