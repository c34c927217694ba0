"""Variants answered together come to what each comes to swung by itself."""

from __future__ import annotations

from dataclasses import fields
from math import radians
from typing import Any

import numpy as np
import pytest

from swingcheck.chance.batches import FEW_ALONE, outcome_batches
from swingcheck.chance.full import full_job, why_one_at_a_time
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import Outcomes, joined
from swingcheck.chance.tolerances import Draws, tolerances
from swingcheck.geometry.solid import Floats
from swingcheck.model import Leg, Scene, Shop
from tests.factory import plain_scene

SHOP = Shop(
    setback_tolerance=1 / 32,
    depth_tolerance=0.0,
    bevel_tolerance=radians(1.0),
    rip_tolerance=1 / 16,
    measuring_tolerance=1 / 16,
)
BARE: dict[str, Any] = {
    "hinge__jamb__depths": (0.0,) * 3,
    "hinge__slab__depths": (0.0,) * 3,
    "hinge__closed_gap": 0.05,
    "shop": SHOP,
}
SCENES = {
    "leaning": plain_scene(
        **BARE,
        opening__hinge_leg=Leg(cross=(0, 0.06, 0.1), plumb=(0.0, 0.03, 0.0)),
        opening__strike_leg=Leg(cross=(0, 0.0, 0.05), plumb=(0.03, 0.0, 0.02)),
        slab__width=(29.78, 29.8, 29.75),
    ),
    "crossed": plain_scene(
        **BARE,
        opening__hinge_leg=Leg(cross=(0, 0.05), twist=(radians(-0.4),)),
        opening__strike_leg=Leg(cross=(0.05, -0.01)),
        slab__width=(29.7, 29.8),
    ),
}


def drawn(scene: Scene, count: int) -> tuple[tuple[Measurement, ...], Floats]:
    """Return what is held at the bench, and random values (count, d) of it."""
    draws = Draws(scene=scene, held=tolerances(scene), seed=3, count=count)
    return tuple(each.measurement for each in draws.held), draws.values


def held_alike(batch: Outcomes, alone: Outcomes) -> None:
    """Hold what a batch tells for sure against the same variants swung one at a time."""
    sure = ~batch.alone
    assert sure.mean() > 0.9
    for name in ("verdict", "against"):
        np.testing.assert_array_equal(getattr(batch, name)[sure], getattr(alone, name)[sure])
    for name in (each.name for each in fields(Outcomes)):
        one, other = getattr(batch, name)[sure], getattr(alone, name)[sure]
        if one.dtype == np.float64:
            np.testing.assert_allclose(one, other, rtol=0, atol=1e-9, equal_nan=True)


def one_at_a_time(scene: Scene, held: tuple[Measurement, ...], values: Floats) -> Outcomes:
    """Return what variants come to, each swung by itself."""
    rows = [values[k : k + FEW_ALONE] for k in range(0, len(values), FEW_ALONE)]
    found = joined(
        [part for some in rows for part in outcome_batches(scene, held, some, full=True)]
    )
    assert found.alone.all()
    return found


@pytest.mark.parametrize("name", SCENES)
def test_a_batch_comes_to_what_each_variant_comes_to_by_itself(name: str) -> None:
    scene = SCENES[name]
    assert not why_one_at_a_time(scene)
    held, values = drawn(scene, 30)
    job = full_job(scene, held, tuple(values.min(axis=0)), tuple(values.max(axis=0)))
    assert job is not None
    alone = one_at_a_time(scene, held, values)
    assert 0.2 < alone.swings.mean() < 0.9
    held_alike(job.outcomes(values), alone)


def test_what_a_batch_does_not_build_is_refused_by_name() -> None:
    assert why_one_at_a_time(plain_scene(hinge__screw_proud=0.03)) == "screw heads"
    assert "farther" in why_one_at_a_time(plain_scene(swing__wanted=radians(120)))
