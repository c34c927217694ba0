"""What each kind of opening cannot have: a plan, some free dimensions, bench numbers."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace

import pytest

from swingcheck.bench.door import bench_numbers, why_no_numbers
from swingcheck.chance.measurements import measurement, measurements
from swingcheck.chance.plan_sizes import why_not_prismatic
from swingcheck.errors import GeometryError, SceneError
from swingcheck.model import Neighbour, Offset
from swingcheck.scenefile import read_scene
from tests.factory import changed, plain_scene
from tests.scene_files import SCENES
from tests.unusual import HANGINGS, random_kind

REASONS = {
    "wide": "leaves are not half the open width",
    "cranked": "leaves are not half the open width",
    "rising": "rises as it opens",
    "centre": "hangs on pivots",
    "offset": "hangs on pivots",
    "pair": "it is a pair",
    "dutch": "it is a Dutch door",
}


@pytest.mark.parametrize("kind", HANGINGS)
def test_a_plan_says_what_it_cannot_show(kind: str) -> None:
    assert REASONS[kind] in why_not_prismatic(random_kind(kind, 0))


def test_a_plan_shows_no_neighbour_and_a_dutch_doors_heights_hang_together() -> None:
    plain = plain_scene()
    assert why_not_prismatic(plain) == ""
    beside = Neighbour(name="bath", scene=plain, across=40.0, out=6.0, turn=1.0)
    assert "same room" in why_not_prismatic(replace(plain, neighbours=(beside,)))
    assert why_not_prismatic(changed(plain, hinge__offset=Offset(out=0.1))) != ""
    assert why_not_prismatic(changed(plain, hinge__jamb__width=1.9)) != ""
    scene = random_kind("dutch", 0)
    with pytest.raises(SceneError, match="the lower slab hangs by it"):
        measurement(scene, "slab.height")


@pytest.mark.parametrize("kind", ["centre", "offset"])
def test_a_slab_on_pivots_has_no_free_leaves(kind: str) -> None:
    scene = random_kind(kind, 0)
    keys = [each.key for each in measurements(scene)]
    assert not [key for key in keys if key.startswith("hinge.")]
    assert "slab.width" in keys
    with pytest.raises(SceneError, match="hangs on pivots"):
        measurement(scene, "hinge.slab.setback")


@pytest.mark.parametrize("kind", ["centre", "offset", "pair", "dutch"])
def test_bench_numbers_are_refused_with_a_reason(kind: str) -> None:
    scene = random_kind(kind, 0)
    assert why_no_numbers(scene)
    with pytest.raises(GeometryError):
        bench_numbers(scene)


@pytest.mark.parametrize("kind", ["wide", "cranked", "rising"])
def test_bench_numbers_are_given_on_leaves(kind: str) -> None:
    scene = random_kind(kind, 1)
    assert not why_no_numbers(scene)
    assert bench_numbers(scene).leaves.hinges


@pytest.mark.parametrize("name", ["dining_room", "back_kitchen", "garden_door", "front_parlor"])
def test_a_changed_dimension_comes_to_the_same_through_its_file(name: str) -> None:
    """What the other slab or the pivots take from this one stays where it was."""
    path = SCENES / f"{name}.toml"
    scene = read_scene(path)
    for free in measurements(scene):
        low, high = free.span(scene)
        now = free.value(scene)
        value = min(now + 1 / 32, high) if high > now else max(now - 1 / 32, low)
        if free.is_angle or abs(value - now) < 1e-9:
            continue
        after = free.changed(scene, value)
        read = read_scene(path, settings=free.settings(scene, value))
        for part in ("slab", "hinge", "pivot", "inactive", "lower"):
            own = (getattr(read, part), getattr(after, part))
            assert _rounded(own[0]) == _rounded(own[1]), (free.key, part)


def _rounded(value: object) -> object:
    """Return a frozen value's fields, numbers but for the last digits."""
    if is_dataclass(value):
        return tuple(_rounded(getattr(value, each.name)) for each in fields(value))
    if isinstance(value, tuple):
        return tuple(_rounded(each) for each in value)
    return round(value, 9) if isinstance(value, float) else value
