"""Variants answered together come to what each comes to swung by itself."""

from __future__ import annotations

from dataclasses import fields, replace
from math import radians

import numpy as np
import pytest

from swingcheck.chance.batches import FEW_ALONE, outcome_batches
from swingcheck.chance.full import Job, full_job, why_one_at_a_time
from swingcheck.chance.measurements import Measurement, measurement
from swingcheck.chance.outcomes import Outcomes, joined
from swingcheck.chance.vary import grid, over
from swingcheck.geometry.solid import Floats
from swingcheck.model import Scene
from tests.crooked import SCENES, drawn
from tests.factory import plain_scene

DRAWS = 12
"""The benchmark tests/benchmarks/batch.py holds 3,000 of each scene."""


def held_alike(batch: Outcomes, alone: Outcomes) -> None:
    """Hold what a batch tells for sure against the same variants swung one at a time."""
    sure = ~batch.alone
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


def job_of(scene: Scene, values: Floats, held: tuple[Measurement, ...]) -> Job:
    assert not why_one_at_a_time(scene)
    job = full_job(scene, held, tuple(values.min(axis=0)), tuple(values.max(axis=0)))
    assert job is not None
    return job


@pytest.mark.parametrize("name", SCENES)
def test_a_batch_comes_to_what_each_variant_comes_to_by_itself(name: str) -> None:
    held, values = drawn(SCENES[name], 500)
    job = job_of(SCENES[name], values, held)
    for tier in job.tiers:
        some, every = (own.built(values[:60]).corners for own in (tier.builder, job.builder))
        assert np.abs(some - every[tier.ready.corners]).max() < 1e-12
    together = job.outcomes(values)
    assert 0.3 < together.swings.mean() < 0.7
    assert together.alone.mean() < 0.02
    few = values[:DRAWS]
    held_alike(first(together, DRAWS), one_at_a_time(SCENES[name], held, few))


def test_variants_of_another_shape_are_answered_together_too() -> None:
    """A bore meets the latch face's mortise otherwise in some: they are one at a time the same."""
    scene = SCENES["a lock and casing"]
    held, values = drawn(scene, 2000)
    job = job_of(scene, values, held)
    odd = np.flatnonzero(job.builder.built(values).odd)
    found = job.outcomes(values)
    assert len(odd) > 10 and len(job.others) == 1 and not found.alone[odd].any()
    few = odd[:DRAWS]
    held_alike(joined([found], few), one_at_a_time(scene, held, values[few]))


def test_far_variants_are_parted_and_come_to_the_same() -> None:
    scene = SCENES["strike leg crossed"]
    keys = ("hinge.slab.setback", "slab.width")
    held = tuple(measurement(scene, key) for key in keys)
    overs = [over(held[0], 0.15, 0.4, 1 / 128), over(held[1], 28.5, 30.0, 1 / 32)]
    values = grid(overs)
    job = job_of(scene, values, held)
    found, whole = job.outcomes(values), job._of_box(values, job.middle, job.tiers)
    assert 0.2 < found.swings.mean() < 0.8
    held_alike(found, whole)
    assert len({*found.against}) > 2 and found.alone.mean() < 0.05


def first(found: Outcomes, count: int) -> Outcomes:
    """Return the outcomes of the first variants."""
    return joined([found], np.arange(count))


@pytest.mark.parametrize("name", ["a lock and casing", "bound on a twisted leg", "legs bowed"])
def test_no_corner_of_a_door_leaves_its_bounds(name: str) -> None:
    held, values = drawn(SCENES[name], 1500, seed=8)
    job = job_of(SCENES[name], values, held)
    half = job.bound.half
    ends = np.random.default_rng(1).choice([-1.0, 1.0], size=(200, len(half))) * half
    off = np.concatenate([values - job.middle, ends])
    for bound, least in ((job.bound, 0.0), (replace(job.bound, rest=0 * job.bound.rest), 0.9)):
        beyond = []
        for rows in np.array_split(off, 17):
            corners = job.builder.built(job.middle + rows).corners
            away = np.abs(corners - bound.middle[:, :, None]).reshape(-1, len(rows)).T
            beyond.append((away - np.abs(rows @ bound.slopes) - bound.rest).max(axis=1))
        assert (np.concatenate(beyond) > 1e-9).mean() >= least
        if not least:
            assert np.concatenate(beyond).max() <= 1e-9


def test_what_a_batch_does_not_build_is_refused_by_name() -> None:
    assert why_one_at_a_time(plain_scene(hinge__screw_proud=0.03)) == "screw heads"
    assert "farther" in why_one_at_a_time(plain_scene(swing__wanted=radians(120)))
