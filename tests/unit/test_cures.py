"""Which changes a cure is looked for among, which way each goes, and what it is said to cost."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from swingcheck.advice import cures
from swingcheck.advice.answer import answered
from swingcheck.advice.cures import ways
from swingcheck.advice.judge import Judge
from swingcheck.advice.search import first_good
from swingcheck.chance.measurements import measurement
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.swing.trial import Spares, trial
from tests.factory import SQUARE, changed, plain_scene

SCENES = Path(__file__).parents[2] / "scenes"


def test_screw_heads_that_stand_proud_are_driven_deeper_or_given_room() -> None:
    found = answered(plain_scene(hinge__screw_proud=0.06)).cures
    values = {key: value for cure in found for key, value in cure.settings}
    assert values.keys() == {"hinge.screw_proud", "hinge.closed_gap", "slab.hinge_edge.bevel"}
    assert float(values["hinge.screw_proud"].removesuffix(" in")) < 0.06
    assert values["hinge.closed_gap"] == "3/32 in" and values["slab.hinge_edge.bevel"] == "4.5 deg"


@pytest.mark.parametrize(("widths", "end"), [((29.95, 30.1), "top"), ((30.1, 29.95), "bottom")])
def test_a_taper_is_planed_at_the_end_that_is_tight(widths: tuple[float, float], end: str) -> None:
    scene = plain_scene(opening__width=widths, slab__strike_edge=SQUARE)
    tried = trial(scene)
    assert tried.verdict is Verdict.STRIKES
    tapers = {way.key for way in ways(tried) if way.key.startswith("slab.width.")}
    assert tapers == {f"slab.width.{end}"}


def test_a_cure_says_what_it_costs_and_how_much() -> None:
    path = SCENES / "sewing_room.toml"
    found = answered(read_scene(path)).cures
    costly = [cure for cure in found if "then stands" in cure.words]
    assert costly
    for cure in costly:
        after = check(read_scene(path, settings=cure.settings)).margins.flush
        assert "proud" in cure.words
        assert cure.lengths[-1] == pytest.approx(max(after), abs=1e-9)
        said = cure.said_in("mm")
        assert " mm" in said and not re.search(r"\d in\b", said)


def test_a_cure_is_no_bigger_than_it_has_to_be() -> None:
    """One mark less than each cure of a plain pinch does not swing, or leaves less to the stop."""
    scene = changed(plain_scene(), hinge__jamb__setbacks=(0.24,) * 3)
    found = answered(scene).cures
    back = next(c for c in found if c.settings[0][0] == "hinge.slab.setback")
    (by, to) = back.lengths[:2]
    assert by == pytest.approx(0.25 - to)
    less = trial(changed(scene, hinge__slab__setbacks=(to + 1 / 64,) * 3))
    assert not less.fits
    assert trial(changed(scene, hinge__slab__setbacks=(to,) * 3)).swings


@pytest.mark.parametrize("first", [0, 1, 2, 5, 6, 18, 19])
def test_the_first_good_place_is_found_wherever_it_is(first: int) -> None:
    asked: list[int] = []

    def good(k: int) -> bool:
        asked.append(k)
        return k >= first

    assert first_good(good, 20) == first
    assert len(asked) <= 12
    assert first_good(good, first) is None
    assert first_good(good, 20, hopeless=lambda k: k >= 3) == (first if first <= 3 else None)


class Idle(Judge):
    """A judge of a change that comes no nearer to swinging before it swings, at ``swings_at``."""

    def __init__(self, swings_at: int) -> None:
        self.scene, self.swings_at = plain_scene(), swings_at
        self.measurement = measurement(self.scene, "hinge.slab.setback")
        self._has_plan = False

    def spares(self, value: float) -> Spares:
        return {}

    def swings(self, value: float) -> bool:
        return value >= self.swings_at

    def open_by(self, value: float) -> float:
        return 1.0

    def is_blocked(self, value: float) -> bool:
        return False


@pytest.mark.parametrize(("swings_at", "found"), [(2, 2.0), (3, 3.0), (4, None)])
def test_a_change_is_given_up_after_three_steps_that_come_no_nearer(
    swings_at: int, found: float | None
) -> None:
    """Of marks 0, 1, 3 and 7 that are looked at, the third idle one is the last."""
    values = [float(k) for k in range(20)]
    assert cures._first_good(Idle(swings_at), values, lambda spares: True) == found
