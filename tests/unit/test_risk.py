"""The chance that a slab swings, and what decides it."""

from __future__ import annotations

from functools import reduce
from itertools import product
from math import radians, sqrt
from typing import Any

import numpy as np
import pytest
from scipy.stats import binomtest, kstest, triang

from swingcheck.chance.batches import BATCH, How
from swingcheck.chance.in_plan import in_plan
from swingcheck.chance.odds import blamed, first_order, wilson_interval
from swingcheck.chance.plan_sizes import plan_sizes
from swingcheck.chance.risk import Risk, risk
from swingcheck.chance.tolerances import Draws, tolerances
from swingcheck.chance.workers import Spread
from swingcheck.geometry.solid import Floats
from swingcheck.model import Scene, Shop
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from tests.factory import EXACT, SQUARE, changed, linen_closet, plain_scene

TIGHT = plain_scene(hinge__slab__setbacks=(19 / 64,) * 3)
"""Within a mark of pinching."""


SIZES = {
    "slab width": ("width", "slab__width"),
    "opening width": ("opening_width", "opening__width"),
    "slab setback": ("slab_setback", "hinge__slab__setbacks"),
    "slab depth": ("slab_depth", "hinge__slab__depths"),
    "jamb setback": ("jamb_setback", "hinge__jamb__setbacks"),
    "jamb depth": ("jamb_depth", "hinge__jamb__depths"),
    "hinge edge bevel": ("hinge_bevel", "slab__hinge_edge__bevel"),
    "strike edge bevel": ("strike_bevel", "slab__strike_edge__bevel"),
    "hinge rabbet": ("hinge_rabbet", "opening__rabbet__hinge"),
    "strike rabbet": ("strike_rabbet", "opening__rabbet__strike"),
}
"""Each error by the bench's words: its name in plan, and where it is in a scene."""
WORDS = tuple(SIZES)


def drawn_errors(scene: Scene, count: int, seed: int) -> Floats:
    return Draws(scene=scene, held=tolerances(scene), seed=seed, count=count).errors


def shifted(scene: Scene, errors: dict[str, float]) -> Scene:
    """Return the scene with these errors, by the bench's words, put in by hand."""
    for words, error in errors.items():
        place = SIZES[words][1]
        now: Any = reduce(getattr, place.split("__"), scene)
        moved = tuple(each + error for each in now) if isinstance(now, tuple) else now + error
        scene = changed(scene, **{place: moved})
    head, off = scene.opening.rabbet.head, errors.get
    ends = (head[0] + off("hinge rabbet", 0.0), head[-1] + off("strike rabbet", 0.0))
    return changed(scene, opening__rabbet__head=ends)


def test_every_dimension_has_its_own_tolerance_and_what_is_held_exactly_is_not_off() -> None:
    shop = Shop(
        setback_tolerance=0.01,
        depth_tolerance=0.02,
        bevel_tolerance=0.03,
        rip_tolerance=0.04,
        measuring_tolerance=0.05,
    )
    held = {each.words: each.amount for each in tolerances(plain_scene(shop=shop))}
    assert held == dict(
        zip(WORDS, (0.04, 0.05, 0.01, 0.02, 0.05, 0.02, 0.03, 0.03, 0.05, 0.05), strict=True)
    )
    words = [each.words for each in tolerances(plain_scene(slab__hinge_edge=SQUARE, stop=None))]
    assert words == [*WORDS[:6], "strike edge bevel"]
    assert tolerances(plain_scene(shop=EXACT)) == ()


def test_errors_are_triangular_within_the_tolerance_and_no_mortise_less_than_none() -> None:
    """A symmetric triangle on [-a, a] has the standard deviation a / sqrt(6): JCGM 100:2008,
    4.3.9 (from memory); its distribution is scipy's."""
    held = tolerances(plain_scene())
    errors = drawn_errors(plain_scene(), 20_000, seed=3)
    for column, each in zip(errors.T, held, strict=True):
        a = each.amount
        assert np.abs(column).max() <= a
        assert column.std() == pytest.approx(a / sqrt(6), rel=0.02)
        assert kstest(column, triang(0.5, loc=-a, scale=2 * a).cdf).pvalue > 1e-4
    between = np.corrcoef(errors.T)
    assert np.abs(between - np.eye(len(held))).max() < 0.03
    scene = plain_scene(hinge__slab__depths=(0.004, 0.097, 0.097))
    held = tolerances(scene)
    errors = drawn_errors(scene, 2_000, seed=1)
    depth = [each.words for each in held].index("slab depth")
    assert errors[:, depth].min() == -0.004
    shop = changed(EXACT, bevel_tolerance=radians(0.5))
    held = tolerances(plain_scene(shop=shop))
    assert [each.measurement.is_angle for each in held] == [True, True]
    errors = drawn_errors(plain_scene(shop=shop), 1_000, seed=0)
    assert radians(0.45) < errors.max() <= radians(0.5)


def test_the_same_seed_draws_the_same_wherever_and_however_many() -> None:
    scene = plain_scene()
    few, many = (drawn_errors(scene, count, seed=5) for count in (50, 400))
    assert np.array_equal(few, many[:50])
    assert not np.array_equal(few, drawn_errors(scene, 50, seed=6))
    draws = Draws(scene=scene, held=tolerances(scene), seed=7, count=9_000)
    parts = [draws.part(low, 1_000).errors for low in range(0, 9_000, 1_000)]
    assert np.array_equal(np.concatenate(parts), draws.errors)
    assert [len(part) for part in parts] == [1_000] * 9
    assert np.array_equal(draws.part(8_500, 1_000).values, draws.values[8_500:])


@pytest.mark.parametrize(
    ("hits", "count", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611)],
)
def test_the_interval_is_wilsons(hits: int, count: int, low: float, high: float) -> None:
    """R. G. Newcombe, Statist. Med. 17 (1998) 857, table I, method 3 (from memory); and scipy."""
    assert wilson_interval(hits, count) == pytest.approx((low, high), abs=5e-5)
    peer = binomtest(hits, count).proportion_ci(0.95, method="wilson")
    assert wilson_interval(hits, count) == pytest.approx((peer.low, peer.high), abs=1e-5)


def test_the_chance_is_that_of_the_triangle_beyond_the_contact_boundary() -> None:
    """With only the setback off, it fails past one value, found here on the solids by halving."""
    shop = changed(EXACT, setback_tolerance=1 / 32)
    scene = changed(TIGHT, shop=shop)
    good, bad = -1 / 32, 1 / 32
    while bad - good > 1e-4:
        middle = (good + bad) / 2
        swings = check(shifted(scene, {"slab setback": middle})).verdict is Verdict.SWINGS
        good, bad = (middle, bad) if swings else (good, middle)
    exact = triang(0.5, loc=-1 / 32, scale=1 / 16).cdf(good)
    assert 0.05 < exact < 0.95
    found = risk(scene, draws=20_000, seed=2)
    assert found.chance == pytest.approx(exact, abs=4 * sqrt(exact * (1 - exact) / 20_000))


def test_in_plan_in_full_and_over_cores_come_to_the_same() -> None:
    scene = plain_scene(hinge__slab__setbacks=(5 / 16,) * 3)
    plan, full = (
        risk(scene, draws=60, seed=4, full=full, spread=Spread()) for full in (False, True)
    )
    assert plan.answered.in_plan and not full.answered.in_plan
    assert 20 <= plan.swinging == full.swinging <= 40
    assert plan.verdicts == full.verdicts
    assert plan.blame == full.blame and plan.blame
    assert plan.worst is not None and full.worst is not None
    assert plan.worst.short - 1 / 32 < full.worst.short <= plan.worst.short + 1e-9
    scene = changed(linen_closet(), hinge__slab__setbacks=(19 / 64,) * 3, shop=Shop())
    one, two = (risk(scene, draws=16, seed=9, spread=Spread(cores=cores)) for cores in (1, 2))
    assert not one.answered.in_plan
    assert one == two


def test_shares_and_what_is_held_are_those_of_closed_forms() -> None:
    """Y = [a + b > 0] of two uniform on [-1, 1]: E[Y | a] = (1 + a) / 2, of variance 1/12, and
    Y's is 1/4: a third each, and a third to both together. Alone, all of it to the one."""
    random = np.random.default_rng(1)
    first, second = random.uniform(-1, 1, (2, 400_000))
    for error in (first, second):
        assert first_order(error, first + second > 0) == pytest.approx(1 / 3, abs=0.008)
    assert first_order(first, first > 0.0) == pytest.approx(1.0, abs=0.01)
    assert first_order(second, first > 0.0) == pytest.approx(0.0, abs=0.002)
    # Of errors even on [-1, 1], those under -0.3 fail and those over 0.6.
    (tolerance, *_) = tolerances(plain_scene())
    errors = np.linspace(-1, 1, 2001) * tolerance.amount
    share = errors / tolerance.amount
    (blame,) = blamed([tolerance], errors[:, None], (share > -0.3) & (share < 0.6))
    assert (blame.held, blame.over) == (1.0, False)
    (blame,) = blamed([tolerance], errors[:, None], share < 0.2)
    assert blame.held == pytest.approx(0.45 / 0.5, abs=0.01) and blame.over


def test_the_setback_is_to_blame_and_the_errors_said_to_be_enough_are_so() -> None:
    found = risk(TIGHT, draws=5_000, seed=1)
    shares = {blame.tolerance.words: blame for blame in found.blame}
    assert [blame.tolerance.words for blame in found.blame[:2]] == ["jamb setback", "slab setback"]
    assert shares["slab setback"].over and not shares["jamb setback"].over
    assert shares["jamb setback"].held > found.chance + 0.05
    assert shares["strike rabbet"].share < 0.02
    base = plain_scene(hinge__slab__setbacks=(9 / 32,) * 3)
    found = risk(base, draws=500, seed=1)
    assert found.nominal is Verdict.SWINGS and found.worst is not None and found.worst.off
    errors = {held.words: amount for held, amount in found.worst.off}
    assert check(shifted(base, errors)).verdict is not Verdict.SWINGS
    for left_out in errors:
        rest = {name: amount for name, amount in errors.items() if name != left_out}
        assert check(shifted(base, rest)).verdict is Verdict.SWINGS, left_out


def test_the_worst_corner_is_the_worst_of_all_of_them() -> None:
    found = risk(TIGHT, draws=500, seed=1)
    worst = found.worst
    assert worst is not None and worst.corners == 2 ** len(WORDS)
    signs = np.array(list(product((-1.0, 1.0), repeat=len(WORDS))))
    amounts = np.array([each.amount for each in found.tolerances])
    base = plan_sizes(TIGHT)
    values = {
        name: getattr(base, name) + column
        for (name, _), column in zip(SIZES.values(), (signs * amounts).T, strict=True)
    }
    values |= {"head_rabbet": values["hinge_rabbet"], "head_rabbet_strike": values["strike_rabbet"]}
    plan = in_plan(TIGHT, base.with_values(values, len(signs)))
    assert worst.swinging == plan.swings.sum()
    assert worst.short == pytest.approx(plan.short.max(), abs=1e-9)


def test_every_draw_swings_where_the_worst_does() -> None:
    found = risk(plain_scene(hinge__slab__setbacks=(3 / 16,) * 3), draws=2_000, seed=7)
    assert found.worst is not None and found.worst.swinging == found.worst.corners
    assert found.worst.off == () and found.chance == 1.0
    assert found.interval[0] > 0.998 and found.interval[1] == 1.0


@pytest.mark.parametrize("twist", [0.0, 0.01])
def test_nothing_off_is_certain(twist: float) -> None:
    scene = plain_scene(shop=EXACT, opening__hinge_leg__twist=(twist,) * 3)
    found = risk(scene, draws=100)
    assert (found.chance, found.drawn, found.tolerances, found.blame) == (1.0, 100, (), ())


def stopped_after(batches: int) -> Risk:
    """Return the risk of a run that Ctrl-C ends after some batches of draws."""
    told = []

    def watch(what: str, share: float) -> None:
        told.append(share)
        if len(told) == 4 + batches:  # after the nominal's two, and the draws' first
            raise KeyboardInterrupt

    return risk(TIGHT, draws=50, seed=2, full=True, watch=watch)


def test_ctrl_c_leaves_what_was_drawn_and_is_no_answer_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(BATCH, How.TOGETHER, 20)
    found = stopped_after(1)
    assert found.stopped and 0 < found.drawn < found.asked == 50
    again = risk(TIGHT, draws=found.drawn, seed=2)
    assert (found.swinging, found.verdicts) == (again.swinging, again.verdicts)
    assert found.worst is None and not again.stopped
    with pytest.raises(KeyboardInterrupt):
        stopped_after(-1)  # before anything is drawn
