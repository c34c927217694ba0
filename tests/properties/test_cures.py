"""A cure cures: each remedy that is named makes the scene swing, and spoils no margin of it.

Scenes are a closet with numbers drawn from seeds, and every remedy is laid over it as ``--set``
would take it.
"""

from __future__ import annotations

import numpy as np
import pytest

from swingcheck.advice.answer import Answer, answered
from swingcheck.advice.cures import MOST_CURES, OFF_FLUSH_IN
from swingcheck.model import Wanted
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Found, Verdict
from tests.commands import CLOSET

SCENES = 24
Settings = list[tuple[str, str]]
Faulty = list[tuple[Settings, Answer]]


def drawn(seed: int) -> Settings:
    """Return the closet's measurements with something wrong in most of its kinds."""
    rng = np.random.default_rng([55, seed])
    unit = "mm" if seed % 4 == 3 else "in"
    fault = seed % 6

    def about(middle: float, spread: float = 0.0, wrong: tuple[int, float] = (-1, 0.0)) -> str:
        shift = wrong[1] if wrong[0] == fault else 0.0
        value = middle + shift + spread * rng.uniform(-1, 1)
        return f"{value * (25.4 if unit == 'mm' else 1.0):.6f}"

    plumb, depth = about(0.0, 0.02, (3, 0.25)), about(0.097)
    values = {
        "title": f"Drawn {seed}",
        "unit": unit,
        "opening.width": about(30.125, 0.02, (1, -0.14)),
        "opening.height": about(80.5),
        "opening.rabbet.hinge": about(1.4375, 0.01),
        "opening.rabbet.strike": about(1.4375, 0.01),
        "opening.rabbet.head": about(1.4375, 0.01, (4, -0.1)),
        "opening.hinge_leg.plumb": f"[0, {plumb}]",
        "opening.hinge_leg.twist": f"{rng.uniform(-0.5, 0.5) + (3.0 if fault == 2 else 0.0):.4f}",
        "slab.width": about(29.88, 0.02, (3, -0.3)),
        "slab.height": about(79.75),
        "slab.thickness": about(1.375),
        "slab.head_margin": about(0.125, 0.01, (3, -0.06)),
        "slab.hinge_edge.bevel": f"{rng.uniform(0, 2) if fault != 2 else 0:.2f}",
        "slab.strike_edge.bevel": f"{rng.uniform(0, 1):.2f}",
        "hinge.count": "2",
        "hinge.corner_radius": "0",
        "hinge.jamb.setback": about(0.3125, 0.01, (0, -0.09)),
        "hinge.slab.setback": about(0.25, 0.01),
        "hinge.jamb.depth": depth,
        "hinge.slab.depth": depth,
        "floor.out": f"{rng.uniform(0, 0.2) + (1.1 if fault == 5 else 0.0):.3f}",
        "floor.covering": about(0.1),
    }
    return list(values.items())


def least_margins(result: Found) -> dict[str, float]:
    margins = result.margins
    assert margins.hinge_stop is not None
    return {
        "hinge": min(margins.hinge),
        "strike": min(margins.strike),
        "head": min(margins.head),
        "hinge stop": min(margins.hinge_stop),
    }


@pytest.fixture(scope="module")
def faulty() -> Faulty:
    """Return every drawn scene that does not swing, as it was set and as it was answered."""
    pairs = [
        (each, answered(read_scene(CLOSET, settings=each))) for each in map(drawn, range(SCENES))
    ]
    return [(each, answer) for each, answer in pairs if answer.found.verdict is not Verdict.SWINGS]


def test_the_scenes_go_wrong_in_many_ways_and_most_have_a_cure(faulty: Faulty) -> None:
    words = {answer.found.verdict for _, answer in faulty}
    assert words >= {Verdict.PINCHES, Verdict.STRIKES, Verdict.HINGE_BOUND}
    assert words & {Verdict.DRAGS, Verdict.BLOCKED}
    assert len(faulty) > SCENES / 2
    assert sum(bool(answer.cures) for _, answer in faulty) >= 0.9 * len(faulty)
    assert all(len(answer.cures) <= MOST_CURES for _, answer in faulty)


def test_every_cure_cures_and_spoils_no_margin(faulty: Faulty) -> None:
    applied = 0
    for settings, answer in faulty:
        before = answer.found
        for cure in answer.cures:
            applied += 1
            after = check(read_scene(CLOSET, settings=[*settings, *cure.settings]))
            where = (before.scene.title, cure)
            assert after.verdict is Verdict.SWINGS, where
            was = least_margins(before)
            for name, margin in least_margins(after).items():
                assert margin >= min(was[name], 0.0) - 1e-6, (where, name)
            most = Wanted().flush + OFF_FLUSH_IN
            worst = max(map(abs, before.margins.flush))
            assert max(map(abs, after.margins.flush)) <= max(most, worst) + 1e-6, where
    assert applied > SCENES


def test_two_things_wrong_are_cured_by_a_pair_where_no_single_change_does() -> None:
    wrong = [
        ("opening.width", "29.96"),
        ("slab.strike_edge.bevel", "0"),
        ("hinge.jamb.setback", "0.25"),
        ("hinge.slab.setback", "0.3"),
    ]
    before = answered(read_scene(CLOSET, settings=wrong))
    assert before.found.verdict is Verdict.PINCHES
    (pair,) = before.cures
    assert len(pair.settings) == 2 and "; and " in pair.words
    assert check(read_scene(CLOSET, settings=[*wrong, *pair.settings])).verdict is Verdict.SWINGS
    for alone in pair.settings:
        assert check(read_scene(CLOSET, settings=[*wrong, alone])).verdict is not Verdict.SWINGS
