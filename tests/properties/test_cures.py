"""A cure cures: each remedy that is named makes the scene swing, and spoils no margin of it.

Scenes are written as files, with numbers drawn from seeds, and every remedy goes back
through the file as ``--set`` would take it.
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

SCENES = 24

TEMPLATE = """
title = "Drawn {seed}"
unit = "{unit}"
[opening]
width = {width}
height = {height}
rabbet = {{ hinge = {hinge_rabbet}, strike = {strike_rabbet}, head = {head_rabbet} }}
[opening.hinge_leg]
plumb = [0, {plumb}]
twist = {twist}
[slab]
width = {slab_width}
height = {slab_height}
thickness = {thickness}
head_margin = {head_margin}
hinge_edge = {{ bevel = {hinge_bevel} }}
strike_edge = {{ bevel = {strike_bevel} }}
[hinge]
count = 2
corner_radius = 0
screw_proud = {screws}
jamb = {{ setback = {jamb_setback}, depth = {depth} }}
slab = {{ setback = {slab_setback}, depth = {depth} }}
[floor]
out = {out}
covering = {covering}
"""


def drawn(seed: int) -> str:
    """Return a scene file with something wrong in most of its kinds."""
    rng = np.random.default_rng([55, seed])
    scale, unit = (25.4, "mm") if seed % 4 == 3 else (1.0, "in")
    fault = seed % 6

    def about(middle: float, spread: float = 0.0, wrong: tuple[int, float] = (-1, 0.0)) -> float:
        shift = wrong[1] if wrong[0] == fault else 0.0
        return round((middle + shift + spread * rng.uniform(-1, 1)) * scale, 6)

    return TEMPLATE.format(
        seed=seed,
        unit=unit,
        width=about(30.125, 0.02, (1, -0.14)),
        height=about(80.5),
        hinge_rabbet=about(1.4375, 0.01),
        strike_rabbet=about(1.4375, 0.01),
        head_rabbet=about(1.4375, 0.01, (4, -0.1)),
        plumb=about(0.0, 0.02, (3, 0.25)),
        twist=round(float(rng.uniform(-0.5, 0.5)) + (3.0 if fault == 2 else 0.0), 4),
        slab_width=about(29.88, 0.02, (3, -0.3)),
        slab_height=about(79.75),
        thickness=about(1.375),
        head_margin=about(0.125, 0.01, (3, -0.06)),
        hinge_bevel=round(float(rng.uniform(0, 2)), 2) if fault != 2 else 0,
        strike_bevel=round(float(rng.uniform(0, 1)), 2),
        screws=0,
        jamb_setback=about(0.3125, 0.01, (0, -0.09)),
        slab_setback=about(0.25, 0.01),
        depth=about(0.097),
        out=round(float(rng.uniform(0, 0.2)) + (1.1 if fault == 5 else 0.0), 3),
        covering=about(0.1),
    )


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
def faulty() -> list[tuple[str, Answer]]:
    """Return every drawn scene that does not swing, as a file and as it was answered."""
    texts = [drawn(seed) for seed in range(SCENES)]
    pairs = [(text, answered(read_scene(text))) for text in texts]
    return [(text, answer) for text, answer in pairs if answer.found.verdict is not Verdict.SWINGS]


def test_the_scenes_go_wrong_in_many_ways(faulty: list[tuple[str, Answer]]) -> None:
    words = {answer.found.verdict for _, answer in faulty}
    wrong = {Verdict.PINCHES, Verdict.STRIKES, Verdict.HINGE_BOUND, Verdict.STANDS_OFF}
    assert words >= wrong
    assert words & {Verdict.DRAGS, Verdict.BLOCKED}
    assert len(faulty) > SCENES / 2


def test_every_cure_cures_and_spoils_no_margin(faulty: list[tuple[str, Answer]]) -> None:
    applied = 0
    for text, answer in faulty:
        before = answer.found
        for cure in answer.cures:
            applied += 1
            after = check(read_scene(text, settings=cure.settings))
            where = (before.scene.title, cure)
            assert after.verdict is Verdict.SWINGS, where
            was = least_margins(before)
            for name, margin in least_margins(after).items():
                assert margin >= min(was[name], 0.0) - 1e-6, (where, name)
            most = Wanted().flush + OFF_FLUSH_IN
            worst = max(map(abs, before.margins.flush))
            assert max(map(abs, after.margins.flush)) <= max(most, worst) + 1e-6, where
    assert applied > SCENES


def test_most_of_them_have_a_cure(faulty: list[tuple[str, Answer]]) -> None:
    assert sum(bool(answer.cures) for _, answer in faulty) >= 0.9 * len(faulty)
    assert all(len(answer.cures) <= MOST_CURES for _, answer in faulty)


def test_two_things_wrong_are_cured_by_a_pair_where_no_single_change_does() -> None:
    text = TEMPLATE.format(
        seed="pair",
        unit="in",
        width=29.96,
        height=80.5,
        hinge_rabbet=1.4375,
        strike_rabbet=1.4375,
        head_rabbet=1.4375,
        plumb=0,
        twist=0,
        slab_width=29.875,
        slab_height=79.75,
        thickness=1.375,
        head_margin=0.125,
        hinge_bevel=2,
        strike_bevel=0,
        screws=0,
        jamb_setback=0.25,
        slab_setback=0.3,
        depth=0.097,
        out=0,
        covering=0,
    )
    before = answered(read_scene(text))
    assert before.found.verdict is Verdict.PINCHES
    (pair,) = before.cures
    assert len(pair.settings) == 2 and "; and " in pair.words
    assert check(read_scene(text, settings=pair.settings)).verdict is Verdict.SWINGS
    for alone in pair.settings:
        assert check(read_scene(text, settings=[alone])).verdict is not Verdict.SWINGS
