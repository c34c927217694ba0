"""The kernel in plan must give what the solids give, on prismatic scenes."""

from __future__ import annotations

from functools import reduce
from math import radians

import numpy as np
import pytest

from swingcheck.chance.in_plan import in_plan
from swingcheck.chance.outcomes import KINDS, VERDICTS, Outcomes
from swingcheck.chance.plan_sizes import SIZES_OF, plan_sizes, why_not_prismatic
from swingcheck.model import Obstacle, Offset, Scene
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from tests.factory import CASING, LOCK, SQUARE, bevel, changed, plain_scene
from tests.scene_files import SCENES

COUNT = 60
NOMINAL = {
    "opening_width": (30.125, 0.06, "opening__width"),
    "hinge_twist": (0.0, radians(1.2), "opening__hinge_leg__twist"),
    "strike_twist": (0.0, radians(1.0), "opening__strike_leg__twist"),
    "rabbet": (1.4375, 0.05, *(f"opening__rabbet__{stop}" for stop in ("hinge", "strike", "head"))),
    "projection": (0.4375, 0.05, "stop__projection"),
    "width": (29.95, 0.07, "slab__width"),
    "thickness": (1.375, 0.03, "slab__thickness"),
    "hinge_bevel": (radians(1.5), radians(1.0), "slab__hinge_edge__bevel"),
    "strike_bevel": (radians(1.5), radians(1.0), "slab__strike_edge__bevel"),
    "open_width": (3.5, 0.1, "hinge__open_width"),
    "closed_gap": (1 / 16, 0.01, "hinge__closed_gap"),
    "jamb_setback": (0.3125, 0.05, "hinge__jamb__setbacks"),
    "jamb_depth": (0.097, 0.02, "hinge__jamb__depths"),
    "slab_setback": (0.25, 0.05, "hinge__slab__setbacks"),
    "slab_depth": (0.097, 0.02, "hinge__slab__depths"),
}
"""Each size in plan: its middle, its spread, and where it is in a scene."""


#: A seat that no contact is within: every contact is told, where a slab comes to rest too.
TOLD = {"swing__seat": -1.0}


def planned(scene: Scene, values: dict[str, np.ndarray]) -> Outcomes:
    """Return what variants of a scene come to in plan; a rabbet is that of all three stops."""
    count = max((len(column) for column in values.values()), default=1)
    names = ("hinge_rabbet", "strike_rabbet", "head_rabbet", "head_rabbet_strike")
    rabbets = dict.fromkeys(names, values["rabbet"]) if "rabbet" in values else {}
    return in_plan(scene, plan_sizes(scene).with_values(values | rabbets, count))


def told_alike(plan: Outcomes, k: int, scene: Scene) -> None:
    """Hold one variant in plan to what the solids give for it."""
    solid = check(scene)
    assert VERDICTS[plan.verdict[k]] is solid.verdict, k
    if solid.closing is None:
        assert np.isnan(plan.angle[k]), k
        assert solid.verdict is not Verdict.SWINGS or plan.short[k] == 0.0
    else:
        assert plan.angle[k] == pytest.approx(solid.closing.angle, abs=1e-9), k
        assert plan.short[k] == pytest.approx(solid.closing.opening_at_strike, abs=1e-8), k
        told = KINDS[plan.against[k]] is solid.closing.against_kind
        assert told or solid.closing.also, k
    assert plan.hinge_margin[k] == pytest.approx(solid.margins.hinge[1], abs=1e-9)
    assert plan.strike_margin[k] == pytest.approx(solid.margins.strike[1], abs=1e-9)
    stop = solid.margins.hinge_stop or (np.nan, np.nan)
    assert plan.hinge_stop[k] == pytest.approx(stop[1], abs=1e-9, nan_ok=True)


def drawn(seed: int, count: int = COUNT) -> dict[str, np.ndarray]:
    """Return random values of every dimension, some enough off to touch anything."""
    random = np.random.default_rng(seed)
    return {
        key: middle + spread * random.standard_normal(count)
        for key, (middle, spread, *_) in NOMINAL.items()
    }


def solid_scene(values: dict[str, np.ndarray], k: int) -> Scene:
    """Return one variant as a whole scene."""
    scene = plain_scene(hinge__corner_radius=0.0)
    for name, (_, _, *places) in NOMINAL.items():
        for place in places:
            now, value = reduce(getattr, place.split("__"), scene), float(values[name][k])
            held = (value,) * len(now) if isinstance(now, tuple) else value
            scene = changed(scene, **{place: held})
    return scene


def test_plan_and_solids_agree_to_a_billionth_of_a_radian_and_on_the_seat() -> None:
    values = drawn(7)
    plan = planned(plain_scene(**TOLD), values)
    for k in range(COUNT):
        told_alike(plan, k, changed(solid_scene(values, k), **TOLD))
    seen = {VERDICTS[word] for word in plan.verdict}
    assert {Verdict.SWINGS, Verdict.PINCHES, Verdict.STRIKES, Verdict.HINGE_BOUND} <= seen
    values = drawn(8)
    plan = planned(plain_scene(), values)
    for k in range(0, COUNT, 4):
        assert VERDICTS[plan.verdict[k]] is check(solid_scene(values, k)).verdict, k


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
        plan_sizes(scene)


@pytest.mark.parametrize("names", SIZES_OF.values(), ids=lambda names: "+".join(names))
def test_every_size_changes_an_answer(names: tuple[str, ...]) -> None:
    """Bits of all answers together: an angle, a margin, a gap to the stop."""
    told = 0
    scenes = [
        plain_scene(opening__width=(30.0,), slab__strike_edge=SQUARE, **TOLD),
        plain_scene(hinge__jamb__setbacks=(0.24,) * 3, **TOLD),
        plain_scene(opening__hinge_leg__twist=(radians(2.0),), **TOLD),
        plain_scene(opening__rabbet__head=(1.36, 1.36), **TOLD),
    ]
    for scene in scenes:
        before = plan_sizes(scene)
        more = {name: getattr(before, name) + 0.02 for name in names}
        one, other = in_plan(scene, before), in_plan(scene, before.with_values(more, 1))
        told += not np.array_equal(one.angle, other.angle, equal_nan=True)
        told += not np.array_equal(one.hinge_stop, other.hinge_stop)
        told += not np.array_equal(one.strike_margin, other.strike_margin)
    assert told


def test_a_head_stop_is_met_where_it_reaches_and_every_planned_scene_comes_to_the_same() -> None:
    """The head stop's reach varies with the stops: the solids say where it is met first."""
    scene = plain_scene(opening__rabbet__head=(1.36, 1.36), slab__head_margin=0.125, **TOLD)
    reaches = np.array([0.1, 0.12, 0.13, 0.4375])
    plan = planned(scene, {"projection": reaches})
    for k, reach in enumerate(reaches):
        told_alike(plan, k, changed(scene, stop__projection=float(reach)))
    assert len({*plan.verdict}) > 1
    # With what else a scene has about it: a lock, casing, another thickness, no stop.
    scenes = [read_scene(path) for path in SCENES.glob("*.toml")]
    scenes += [plain_scene(lock=LOCK, casing=CASING), plain_scene(stop=None)]
    scenes += [plain_scene(opening__width=(29.9,))]
    prismatic = [scene for scene in scenes if not why_not_prismatic(scene)]
    assert len(prismatic) >= 5
    for scene in prismatic:
        told = changed(scene, **TOLD)
        told_alike(planned(told, {}), 0, told)
        assert VERDICTS[planned(scene, {}).verdict[0]] is check(scene).verdict, scene.title


@pytest.mark.parametrize("twist", [5.0, 6.0, 8.0])
def test_a_leg_that_narrows_behind_is_met_on_its_face(twist: float) -> None:
    """The narrow-face arris meets the twisted strike leg's face, away from its pull-side edge."""
    scene = plain_scene(
        opening__width=(30.05,),
        opening__strike_leg__twist=(radians(twist),),
        slab__strike_edge=bevel(0.5),
        **TOLD,
    )
    solid = check(scene)
    assert solid.closing is not None and solid.verdict is Verdict.STRIKES
    assert solid.closing.point[1] < -1 / 4
    told_alike(planned(scene, {}), 0, scene)
