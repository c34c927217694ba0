"""Which changes a cure is looked for among, which way each goes, and what it is said to cost."""

from __future__ import annotations

import re
from math import radians, tan
from pathlib import Path

import pytest

from swingcheck.advice.answer import answered
from swingcheck.advice.search import first_good
from swingcheck.advice.what_frees import touched, ways
from swingcheck.bench.painted import in_its_wettest_month
from swingcheck.chance.odds import wilson_interval
from swingcheck.chance.risk import risk
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.fit import SURE
from swingcheck.swing.found import Code, FitWord, Verdict
from swingcheck.swing.trial import trial
from tests.factory import EXACT, SQUARE, changed, plain_scene
from tests.scene_files import SCENES


def test_cures_are_no_bigger_than_they_have_to_be_and_costly_ones_come_last(tmp_path: Path) -> None:
    still = plain_scene(slab__construction="hollow metal", shop=EXACT)
    found = answered(changed(still, hinge__screw_proud=0.06)).cures
    values = {key: value for cure in found for key, value in cure.settings}
    assert values.keys() == {"hinge.screw_proud", "hinge.closed_gap", "slab.hinge_edge.bevel"}
    assert float(values["hinge.screw_proud"].removesuffix(" in")) < 0.06
    assert values["hinge.closed_gap"] == "3/32 in" and values["slab.hinge_edge.bevel"] == "4.5 deg"
    # One mark less than each cure of a plain pinch does not swing, or leaves less to the stop.
    scene = changed(plain_scene(), hinge__jamb__setbacks=(0.24,) * 3)
    found = answered(scene).cures
    back = next(c for c in found if c.settings[0][0] == "hinge.slab.setback")
    (by, to) = back.lengths[:2]
    assert by == pytest.approx(0.25 - to)
    less = trial(changed(scene, hinge__slab__setbacks=(to + 1 / 64,) * 3))
    assert not less.fits
    assert trial(changed(scene, hinge__slab__setbacks=(to,) * 3)).swings
    file = door(tmp_path, "[hinge]\nslab = {setback = [0.25, 0.25, 0.33]}")
    found = answered(read_scene(file)).cures
    costly = [cure for cure in found if "then stands" in cure.words]
    assert costly and len(costly) < len(found) and costly == list(found[-len(costly) :])
    for cure in costly:
        after = check(read_scene(file, settings=cure.settings)).margins.flush_all
        assert "proud" in cure.words
        assert cure.lengths[-1] == pytest.approx(max(after), abs=1e-9)
        said = cure.said_in("mm")
        assert " mm" in said and not re.search(r"\d in\b", said)


@pytest.mark.parametrize(("widths", "end"), [((29.95, 30.1), "top"), ((30.1, 29.95), "bottom")])
def test_a_taper_is_planed_at_the_end_that_is_tight(widths: tuple[float, float], end: str) -> None:
    scene = plain_scene(opening__width=widths, slab__strike_edge=SQUARE)
    tried = trial(scene)
    assert tried.verdict is Verdict.STRIKES
    tapers = {way.key for way in ways(tried, touched(tried)) if way.key.startswith("slab.width.")}
    assert tapers == {f"slab.width.{end}"}


def door(folder: Path, more: str, size: tuple[str, str] = ("30", "79")) -> Path:
    """Return a file of an opening of a width, its slab of a height, and more of it."""
    file = folder / "door.toml"
    file.write_text(
        f"[opening]\nwidth = {size[0]}\nheight = 80\nrabbet = 1.46\n[slab]\nwidth = 29.75\n"
        f"height = {size[1]}\nhinge_edge = {{bevel = 2}}\nstrike_edge = {{bevel = 2}}\n{more}\n"
    )
    return file


@pytest.mark.parametrize("first", [0, 1, 2, 5, 6, 18, 19])
def test_the_first_good_place_is_found_wherever_it_is(first: int) -> None:
    asked: list[int] = []

    def good(k: int) -> bool:
        asked.append(k)
        return k >= first

    assert first_good(good, 20) == first
    assert len(asked) <= 12
    assert first_good(good, first) is None


@pytest.mark.parametrize(("leaf", "at"), [(0, 0.34), (2, 0.33)])
def test_a_leaf_that_was_routed_wrong_is_set_right_alone(leaf: int, at: float) -> None:
    setbacks = [0.25, 0.25, 0.25]
    setbacks[leaf] = at
    still = plain_scene(slab__construction="hollow metal", shop=EXACT)
    found = answered(changed(still, hinge__slab__setbacks=tuple(setbacks)))
    assert found.found.verdict is Verdict.PINCHES
    keys = {key for cure in found.cures for key, _ in cure.settings}
    assert f"hinge.slab.setback[{leaf}]" in keys


def test_a_thick_slab_is_bevelled_as_steeply_as_it_takes() -> None:
    """By more than a quarter of an inch across its thickness."""
    thick = plain_scene(
        slab__construction="hollow metal",
        slab__thickness=2.5,
        slab__strike_edge=SQUARE,
        slab__width=(14.0,),
        opening__width=(14.22,),
        opening__rabbet__hinge=(2.6,),
        opening__rabbet__strike=(2.6,),
        opening__rabbet__head=(2.6, 2.6),
        opening__depth=6.0,
        hinge__open_width=6.5,
    )
    (bevel,) = (c for c in answered(thick).cures if c.settings[0][0] == "slab.strike_edge.bevel")
    degrees = float(bevel.settings[0][1].removesuffix(" deg"))
    assert 2.5 * tan(radians(degrees)) > 1 / 4


@pytest.mark.parametrize(
    ("second", "whose"),
    [
        ("[lower]\nslab = {height = 40.75, width = 29.93}", "lower"),
        ("[inactive]\nhinge = {slab = {setback = 0.34}}", "inactive"),
    ],
)
def test_a_second_slab_is_cured_on_itself(second: str, whose: str, tmp_path: Path) -> None:
    file = door(tmp_path, second, ("59.7", "79") if whose == "inactive" else ("30", "38.25"))
    found = answered(read_scene(file))
    assert found.found.decided.slab == f"{whose} slab"
    assert found.cures
    for cure in found.cures:
        assert cure.words.startswith(f"On the {whose} slab: ")
        assert all(key.startswith(f"{whose}.") for key, _ in cure.settings)
        assert check(read_scene(file, settings=cure.settings)).verdict is Verdict.SWINGS


@pytest.mark.parametrize("name", ["guest_room", "pantry", "sewing_room"])
def test_what_is_said_of_a_cure_comes_true_of_other_doors(name: str) -> None:
    """Its settings typed in, painted, in the wettest month, drawn from another seed."""
    path = SCENES / f"{name}.toml"
    found = answered(read_scene(path)).cures
    assert found[0].chance is not None and found[0].chance >= SURE
    for cure in found:
        hung = in_its_wettest_month(read_scene(path, settings=cure.settings))
        low, high = risk(hung, draws=2_000, seed=11).interval
        told = wilson_interval(round((cure.chance or 0.0) * cure.drawn), cure.drawn)
        assert told[0] <= high and low <= told[1], (cure.words, cure.chance, low, high)


def test_a_door_that_swings_too_seldom_is_cured_until_it_does_often_enough(tmp_path: Path) -> None:
    file = door(tmp_path, "[hinge]\nslab = {setback = 0.29}")
    found = answered(read_scene(file))
    assert found.found.verdict is Verdict.SWINGS and found.found.fit.word is not FitWord.GOOD
    assert found.cures[0].chance is not None and found.cures[0].chance >= SURE
    after = answered(read_scene(file, settings=found.cures[0].settings)).found
    assert after.verdict is Verdict.SWINGS
    assert Code.CHANCE not in {reason.code for reason in after.fit.reasons}
