"""Many variants at once meet what each meets by itself, and no corner leaves its bounds."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from swingcheck.geometry.many.reach import Bounds, bounds, convex_edges, probes, reached, within
from swingcheck.geometry.many.search import Met, first_met
from swingcheck.geometry.many.tiers import tier
from swingcheck.geometry.solid import Floats
from tests.shapes import box
from tests.variants import QUARTER, Door, drawn, made_up_door

SEEDS = (0, 2, 4)
ROOM = 1e-9


def met(door: Door, off: Floats, bound: Bounds, delta: Floats) -> Met:
    skins = door.skins(off[:40])
    ready = tier(skins, reached(skins, bound.middle, delta, QUARTER, ROOM))
    return first_met(ready, door.corners_at(off)[ready.corners], QUARTER, ROOM)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_batch_meets_what_each_variant_meets_in_either_tier(seed: int) -> None:
    door = made_up_door(seed)
    off = drawn(door, 60, seed)
    bound = bounds(door.corners_at(probes(door.half)), door.half)
    found = met(door, off, bound, bound.wide)
    assert not found.doubtful.any()
    assert len(set(found.fixed.tolist())) > 1
    for row, turn, fixed in zip(off, found.turn, found.fixed, strict=True):
        alone = door.one_at_a_time(row)
        assert fixed == (-1 if alone is None else alone.fixed + 2)
        assert alone is None or abs(alone.angle - turn) < 1e-12
    off = drawn(door, 700, seed)
    delta = bound.tight
    sure = within(bound, delta).holds(off)
    assert sure.mean() > 0.98
    tight, wide = (met(door, off[sure], bound, each) for each in (delta, bound.wide))
    np.testing.assert_array_equal(tight.turn, wide.turn)
    np.testing.assert_array_equal(tight.fixed, wide.fixed)


def beyond(door: Door, bound: Bounds, off: Floats) -> Floats:
    """Return how far (n,) the farthest corner stands beyond its bounds, inches."""
    away = np.abs(door.corners_at(off) - bound.middle[:, :, None]).reshape(-1, len(off)).T
    return (away - np.abs(off @ bound.slopes) - bound.rest).max(axis=1)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_corner_leaves_its_bounds_and_what_is_certified_is_within_its_delta(seed: int) -> None:
    door = made_up_door(seed)
    bound = bounds(door.corners_at(probes(door.half)), door.half)
    corners = np.array(list(product((-1.0, 1.0), repeat=door.count)))
    off = np.concatenate([drawn(door, 1500, seed), corners])
    assert beyond(door, bound, off).max() <= 1e-12
    without_rest = replace(bound, rest=np.zeros_like(bound.rest))
    assert (beyond(door, without_rest, off) > 1e-6).mean() > 0.9
    off = drawn(door, 2000, seed)
    delta = 0.7 * (bound.tight - bound.rest) + bound.rest
    sure = within(bound, delta).holds(off)
    every = (np.abs(off @ bound.slopes) + bound.rest <= delta).all(axis=1)
    assert 0.5 < sure.mean() < 1.0
    assert not (sure & ~every).any()
    assert (every & ~sure).mean() < 0.05


def test_a_variant_outside_the_box_or_past_its_tier_is_not_certified() -> None:
    door = made_up_door(1)
    bound = bounds(door.corners_at(probes(door.half)), door.half)
    off = np.zeros((2, door.count))
    off[1, 3] = 1.01
    assert within(bound, bound.wide + 1.0).holds(off).tolist() == [True, False]
    off = np.stack([np.full(door.count, 0.2), np.ones(door.count)])
    assert within(bound, bound.tight).holds(off).tolist() == [True, False]
    assert within(bound, bound.wide).holds(off).all()


def test_edges_that_are_convex_in_one_variant_alone_are_kept() -> None:
    solid = box((0, 0, 0), (1, 1, 1))
    flat = np.repeat(solid.vertices[:, :, None], 2, axis=2)
    assert len(convex_edges(solid.faces, flat)) == 12
    bent = flat.copy()
    bent[7, 0, 1] += 0.01
    assert len(convex_edges(solid.faces, bent)) > 12


def boxes(**ends: tuple[tuple[float, float, float], tuple[float, float, float]]) -> Door:
    """Return a door of plain boxes, the first two moving."""
    solids = [box(*each) for each in ends.values()]
    nothing = np.zeros((1, len(solids), 3))
    return Door(
        solids=solids,
        lean=np.zeros((1, len(solids), 3, 3)),
        shift=nothing,
        bend=np.zeros((1, 1, len(solids), 3)),
    )


Ends = tuple[tuple[float, float, float], tuple[float, float, float]]


def plain_door(**changes: Ends) -> Door:
    parts = {
        "slab": ((0.3, -1.8, 0.6), (29.9, -0.4, 80.0)),
        "leaf": ((0.5, -0.5, 30.0), (1.0, -0.4, 33.0)),
        "stop": ((20, -3, 0), (25, -2.5, 40)),
        "upper stop": ((20, -3, 41), (25, -2.5, 81)),
        "sill": ((0, -8, -1), (40, 20, 0.0)),
    }
    return boxes(**(parts | changes))


def met_alike(**changes: Ends) -> Met:
    """Return what a slab of plain boxes meets, in three variants that are alike."""
    door = plain_door(**changes)
    bound = bounds(door.corners_at(probes(np.zeros(1))), np.zeros(1))
    return met(door, np.zeros((3, 1)), bound, bound.wide + 1e-6)


def test_a_corner_that_slides_into_a_face_meets_it_at_its_border() -> None:
    sill: Ends = ((20, -3, -1), (25, -1.7, 0.6))
    alone = plain_door(sill=sill).one_at_a_time(np.zeros(1))
    found = met_alike(sill=sill)
    assert alone is not None
    assert found.fixed.tolist() == [alone.fixed + 2] * 3
    assert not found.doubtful.any()
    np.testing.assert_allclose(found.turn, alone.angle, rtol=0, atol=1e-12)


def test_what_is_clear_is_met_nowhere_and_of_two_met_at_once_the_first() -> None:
    found = met_alike()
    assert found.fixed.tolist() == [-1] * 3
    assert not found.doubtful.any()
    stops = {"upper stop": ((20, -3, 0), (25, -1.7, 40)), "stop": ((20, -3, 41), (25, -1.7, 81))}
    found = met_alike(**stops)
    assert found.fixed.tolist() == [2] * 3
    assert not found.doubtful.any()


@pytest.mark.parametrize(
    "changes",
    [
        {"stop": ((20, -3, 0), (25, -1.8, 40))},  # met just as the slab is closed
        {
            "stop": ((20, -3, 0), (25, -1.7, 40)),
            "upper stop": ((20, -3, 41), (25, -1.7 - 4e-8, 81)),
        },
        {"sill": ((0, -8, -1), (40, 20, 0.6))},  # the slab's bottom slides on it
    ],
    ids=["at the seat", "two within a hair", "sliding"],
)
def test_what_a_batch_cannot_tell_is_doubtful(changes: dict[str, Ends]) -> None:
    assert met_alike(**changes).doubtful.all()
