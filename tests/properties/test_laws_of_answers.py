"""Laws that no answer may break, over crooked openings: none of them is about one door."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from swingcheck.advice.answer import Answer
from swingcheck.model import Floor
from swingcheck.report.shapes import data_of
from swingcheck.swing.check import check
from swingcheck.swing.found import Found, Verdict
from tests.factory import changed
from tests.openings import random_opening

SEEDS = range(24)
ANGLES = ("bevel", "twist", "turn", "slope", "bevel_tolerance", "start", "wanted", "limit")
HAIR_IN = 1 / 64


@cache
def found(seed: int) -> Found:
    return check(random_opening(seed))


def doubled(value: Any, name: str = "", owner: Any = None) -> Any:
    """Return a part of a scene with every length twice as long, and the angles as they are."""
    if is_dataclass(value) and not isinstance(value, type):
        changes = {
            each.name: doubled(getattr(value, each.name), each.name, value)
            for each in fields(value)
            if each.init
        }
        return replace(value, **changes)
    if isinstance(value, tuple):
        return tuple(doubled(each, name, owner) for each in value)
    is_slope = isinstance(owner, Floor) and name in ("across", "out")
    if isinstance(value, float) and name not in ANGLES and not is_slope:
        return 2 * value
    return value


def numbers(value: Any) -> list[float]:
    """Return all the numbers of a part of an answer, in order."""
    if is_dataclass(value):
        return [n for each in fields(value) for n in numbers(getattr(value, each.name))]
    if isinstance(value, (tuple, list)):
        return [n for each in value for n in numbers(each)]
    return [value] if isinstance(value, float) else []


def test_the_openings_end_in_more_than_one_way() -> None:
    assert len({found(seed).verdict for seed in SEEDS}) > 2


@pytest.mark.parametrize("seed", SEEDS)
def test_twice_the_size_is_twice_every_length_and_no_other_angle(seed: int) -> None:
    scene = random_opening(seed)
    one, two = found(seed), check(doubled(scene))
    assert two.verdict is one.verdict
    assert np.array(numbers(two.margins)) == pytest.approx(
        2 * np.array(numbers(one.margins)), abs=1e-9
    )
    for side in ("closing", "opening"):
        small, large = getattr(one, side), getattr(two, side)
        assert (small is None) is (large is None)
        if small is not None:
            # A twisted leg's faces are facets within 1/10000 in, whatever its size.
            assert large.angle == pytest.approx(small.angle, abs=2e-5)
            assert large.against == small.against
            assert large.point == pytest.approx(2 * np.array(small.point), abs=1e-2)
    clear = one.clear_width
    assert two.clear_width == (None if clear is None else pytest.approx(2 * clear, abs=1e-9))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_margin_is_larger_than_the_opening_and_nothing_is_no_number(seed: int) -> None:
    result, scene = found(seed), random_opening(seed)
    largest = max(*scene.opening.width, *scene.opening.height)
    assert all(abs(each) < largest for each in numbers(result.margins))
    text = json.dumps(data_of(Answer(found=result)), allow_nan=False)
    assert "nan" not in text.lower() and "Infinity" not in text


@pytest.mark.parametrize("seed", SEEDS)
def test_a_hair_off_the_strike_edge_never_brings_a_strike(seed: int) -> None:
    scene, result = random_opening(seed), found(seed)
    narrower = check(changed(scene, slab__width=tuple(w - HAIR_IN for w in scene.slab.width)))
    if result.verdict is not Verdict.STRIKES:
        assert narrower.verdict is not Verdict.STRIKES
    gained = np.array(narrower.margins.strike) - np.array(result.margins.strike)
    assert np.all(gained > HAIR_IN / 2) and np.all(gained < 2 * HAIR_IN)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_hand_changes_no_number(seed: int) -> None:
    scene = random_opening(seed)
    hand = "left" if scene.hinges_on == "right" else "right"
    other = check(changed(scene, hinges_on=hand))

    def told(result: Found) -> Any:
        return data_of(Answer(found=result))

    assert told(replace(other, scene=scene)) == told(found(seed))
