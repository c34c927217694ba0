"""The kernel in plan must give what the solids give, on prismatic scenes."""

from __future__ import annotations

from math import radians
from pathlib import Path

import numpy as np
import pytest

from swingcheck.chance.in_plan import PLAN_KEYS, plan_check, why_not_prismatic
from swingcheck.model import Obstacle, Offset, Scene
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from tests.factory import CASING, LOCK, SQUARE, bevel, changed, plain_scene

COUNT = 150
SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.toml"))
NOMINAL = {
    "opening.width": (30.125, 0.06),
    "opening.hinge_leg.twist": (0.0, radians(1.2)),
    "opening.strike_leg.twist": (0.0, radians(1.0)),
    "opening.rabbet": (1.4375, 0.05),
    "stop.projection": (0.4375, 0.05),
    "slab.width": (29.95, 0.07),
    "slab.thickness": (1.375, 0.03),
    "slab.hinge_edge.bevel": (radians(1.5), radians(1.0)),
    "slab.strike_edge.bevel": (radians(1.5), radians(1.0)),
    "hinge.open_width": (3.5, 0.1),
    "hinge.closed_gap": (1 / 16, 0.01),
    "hinge.jamb.setback": (0.3125, 0.05),
    "hinge.jamb.depth": (0.097, 0.02),
    "hinge.slab.setback": (0.25, 0.05),
    "hinge.slab.depth": (0.097, 0.02),
}


def drawn(seed: int) -> dict[str, np.ndarray]:
    """Return random values of every dimension, some enough off to touch anything."""
    random = np.random.default_rng(seed)
    return {
        key: middle + spread * random.standard_normal(COUNT)
        for key, (middle, spread) in NOMINAL.items()
    }


def solid_scene(values: dict[str, np.ndarray], k: int) -> Scene:
    """Return one variant as a whole scene."""
    v = {key: float(column[k]) for key, column in values.items()}
    return plain_scene(
        opening__width=(v["opening.width"],),
        opening__hinge_leg__twist=(v["opening.hinge_leg.twist"],),
        opening__strike_leg__twist=(v["opening.strike_leg.twist"],),
        opening__rabbet__hinge=(v["opening.rabbet"],),
        opening__rabbet__strike=(v["opening.rabbet"],),
        opening__rabbet__head=(v["opening.rabbet"],) * 2,
        stop__projection=v["stop.projection"],
        slab__width=(v["slab.width"],),
        slab__thickness=v["slab.thickness"],
        slab__hinge_edge=bevel(np.degrees(v["slab.hinge_edge.bevel"])),
        slab__strike_edge=bevel(np.degrees(v["slab.strike_edge.bevel"])),
        hinge__open_width=v["hinge.open_width"],
        hinge__closed_gap=v["hinge.closed_gap"],
        hinge__jamb__setbacks=(v["hinge.jamb.setback"],) * 3,
        hinge__jamb__depths=(v["hinge.jamb.depth"],) * 3,
        hinge__slab__setbacks=(v["hinge.slab.setback"],) * 3,
        hinge__slab__depths=(v["hinge.slab.depth"],) * 3,
    )


def test_plan_and_solids_agree_to_a_billionth_of_a_radian() -> None:
    values = drawn(7)
    plan = plan_check(plain_scene(), values)
    seen = set()
    for k in range(COUNT):
        solid = check(solid_scene(values, k))
        word = plan.verdicts[plan.verdict[k]]
        seen.add(word)
        assert word is solid.verdict, k
        if solid.closing is None:
            assert np.isnan(plan.angle[k]), k
        else:
            assert plan.angle[k] == pytest.approx(solid.closing.angle, abs=1e-9), k
            assert plan.kinds[plan.against[k]] is solid.closing.against_kind or (
                solid.closing.also
            ), k
        assert plan.hinge_margin[k] == pytest.approx(solid.margins.hinge[1], abs=1e-9)
        assert plan.strike_margin[k] == pytest.approx(solid.margins.strike[1], abs=1e-9)
        assert solid.margins.hinge_stop is not None
        assert plan.hinge_stop[k] == pytest.approx(solid.margins.hinge_stop[1], abs=1e-9)
    assert {Verdict.SWINGS, Verdict.PINCHES, Verdict.STRIKES, Verdict.HINGE_BOUND} <= seen


def test_one_variant_without_changes_is_the_scene_itself() -> None:
    scene = plain_scene(opening__width=(29.9,))
    plan = plan_check(scene, {})
    solid = check(scene)
    assert solid.closing is not None
    assert plan.angle[0] == pytest.approx(solid.closing.angle, abs=1e-9)
    assert plan.opening_at_strike[0] == pytest.approx(solid.closing.opening_at_strike, abs=1e-9)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"slab__width": (29.9, 29.8)}, "top to bottom"),
        ({"hinge__slab__setbacks": (0.25, 0.3, 0.25)}, "let in alike"),
        ({"slab__head_margin": 0.0}, "one height"),
        ({"floor__across": 0.01}, "floor"),
        ({"hinge__rise": 0.5}, "rises as it opens"),
        ({"hinge__offset": Offset(across=0.5)}, "cranked"),
        ({"slab__arch": 3.0}, "its arch"),
        ({"slab__head_edge": bevel(2.0)}, "its head edge"),
        ({"swing__start": radians(120)}, "beyond 90"),
        ({"obstacles": (Obstacle(name="box", corner=(40, 40, 0), size=(1, 1, 1)),)}, "room"),
    ],
)
def test_what_is_not_prismatic_says_why(change: dict[str, object], reason: str) -> None:
    scene = plain_scene(**change)
    assert reason in why_not_prismatic(scene)
    with pytest.raises(ValueError, match=reason):
        plan_check(scene, {})


@pytest.mark.parametrize("key", PLAN_KEYS)
def test_every_plan_key_changes_an_answer(key: str) -> None:
    strikes = plain_scene(
        opening__width=(30.0,),
        slab__strike_edge=SQUARE,
    )
    pinches = plain_scene(hinge__jamb__setbacks=(0.24,) * 3)
    moved = {
        "opening.strike_leg.twist": 0.05,
        "opening.width": 30.01,
        "slab.width": 29.8,
        "hinge.leaf_thickness": 0.12,
        "slab.strike_edge.bevel": radians(2.0),
    }.get(key, NOMINAL.get(key, (1.4, 0.0))[0] * 1.03 + 0.01)
    changed = 0
    twisted = plain_scene(opening__hinge_leg__twist=(radians(2.0),))
    for scene in (strikes, pinches, twisted):
        before, after = plan_check(scene, {}), plan_check(scene, {key: np.array([moved])})
        changed += not np.array_equal(before.angle, after.angle, equal_nan=True)
        changed += not np.array_equal(before.hinge_stop, after.hinge_stop)
    assert changed


def test_a_head_stop_is_met_only_where_it_reaches_below_the_slabs_top() -> None:
    """The head stop's reach varies with the stops: the solids say where it is met first."""
    scene = plain_scene(opening__rabbet__head=(1.36, 1.36), slab__head_margin=0.125)
    reaches = np.array([0.1, 0.12, 0.13, 0.4375])
    plan = plan_check(scene, {"stop.projection": reaches})
    for k, reach in enumerate(reaches):
        solid = check(changed(scene, stop__projection=float(reach)))
        assert plan.verdicts[plan.verdict[k]] is solid.verdict, reach
        angle = solid.closing.angle if solid.closing else np.nan
        assert plan.angle[k] == pytest.approx(angle, abs=1e-9, nan_ok=True), reach
    assert not plan.swings.all() and plan.swings.any()


def test_every_scene_that_has_a_plan_comes_to_the_same_in_plan() -> None:
    """With what else a scene has about it: a lock, casing, another thickness, no stop."""
    scenes = [read_scene(path) for path in SCENES]
    scenes += [plain_scene(lock=LOCK, casing=CASING), plain_scene(stop=None)]
    prismatic = [scene for scene in scenes if not why_not_prismatic(scene)]
    assert len(prismatic) >= 4
    for scene in prismatic:
        plan, solid = plan_check(scene, {}), check(scene)
        assert plan.verdicts[plan.verdict[0]] is solid.verdict, scene.title
        angle = solid.closing.angle if solid.closing else np.nan
        assert plan.angle[0] == pytest.approx(angle, abs=1e-9, nan_ok=True), scene.title
        assert plan.strike_margin[0] == pytest.approx(solid.margins.strike[1], abs=1e-9)
