"""The hinges a wanted swing needs past its trim, and what a slab too thick for its frame needs."""

from __future__ import annotations

import re
from dataclasses import replace
from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt, tan

import pytest

from swingcheck.advice.answer import answered, is_too_thick
from swingcheck.advice.cure import thick_set
from swingcheck.advice.open_width import open_width_needed
from swingcheck.model import Casing, LeafLayout, Obstacle, Rabbet, Scene, Swing
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.swing.trial import trial
from tests.factory import SQUARE, bevel, changed, plain_scene, square_scene
from tests.scene_files import SCENES

GAP = 1 / 16


def trimmed(thickness: float, setback: float, trim: float, open_width: float) -> Scene:
    """A slab flush in its frame, its hinge edge square, with so much trim; wanted flat back."""
    return plain_scene(
        slab__thickness=thickness,
        slab__hinge_edge=SQUARE,
        slab__strike_edge=bevel(5.0),
        opening__rabbet=Rabbet(
            hinge=(thickness + GAP,), strike=(thickness + GAP,), head=(thickness + GAP,) * 2
        ),
        opening__depth=thickness + 3.5,
        hinge__open_width=open_width,
        hinge__slab__setbacks=(setback,) * 3,
        hinge__jamb__setbacks=(setback + GAP,) * 3,
        casing=Casing(thickness=trim, width=3.0, reveal=0.75),
        swing=Swing(wanted=pi),
    )


# ---------------------------------------------------------------- open width

# Thickness, setback, trim. The width is 2 (T - setback) + trim, which for a setback of 1/4 in is
# the rule of The Building Trades Pocketbook (c. 1899, read) and the second row its own example.
ROWS = [(1.375, 0.25, 1.75), (2.0, 0.25, 1.875), (2.5, 0.375, 1.75)]


@pytest.mark.parametrize(("thickness", "setback", "trim"), ROWS)
def test_flat_back_takes_twice_the_slab_before_the_leaf_and_the_trim(
    thickness: float, setback: float, trim: float
) -> None:
    expected = 2 * (thickness - setback) + trim
    scene = trimmed(thickness, setback, trim, open_width=3.5)
    found = open_width_needed(scene, close=1e-7)
    assert found is not None
    assert found.least == pytest.approx(expected, abs=1e-5)
    assert found.wanted == pi and found.swings
    # Wide-throw hinges come in whole inches: common practice, no source.
    assert found.stock == (4.0 if thickness < 2 else 6.0)


def test_a_swing_short_of_flat_back_takes_what_the_angle_asks() -> None:
    """The wide face, ``a`` behind the pin, passes the casing's outer corner."""
    wanted = 155.0
    scene = replace(trimmed(1.75, 0.25, 2.0, 3.5), swing=Swing(wanted=radians(wanted)))
    found = open_width_needed(scene, close=1e-7)
    assert found is not None
    narrower = changed(scene, hinge__open_width=found.least - 1e-5)
    at = check(narrower).opening
    assert at is not None and at.against == "hinge casing"
    assert degrees(at.angle) == pytest.approx(wanted, abs=0.05)
    # Turned t, the wide face lies on points with -(x - px) sin t + (y - a) cos t = -a.
    t, pin_x, proud = radians(wanted), 1 / 32, found.least / 2 - 1.5
    corners = [(-0.75 - 3.0, 2.0), (-0.75, 2.0)]
    passes = [-(x - pin_x) * sin(t) + (y - proud) * cos(t) + proud for x, y in corners]
    assert min(abs(each) for each in passes) < 1e-4


def test_hinges_are_left_where_wide_enough_and_told_by_the_check_where_not() -> None:
    scene = trimmed(1.75, 0.25, 1.0, 4.5)
    found = open_width_needed(scene)
    assert found is not None
    assert found.least == found.stock == 4.5
    wall = Obstacle(name="chimney", corner=(-40.0, 10.0, 0.0), size=(36.0, 30.0, 90.0))
    assert open_width_needed(replace(scene, obstacles=(wall,))) is None
    assert open_width_needed(changed(scene, hinge__slab__width=3.0)) is None
    answer = answered(read_scene(SCENES / "den.toml"))
    assert answer.found.verdict is Verdict.FOULS
    assert answer.hinges is not None
    assert answer.hinges.stock == 5.0 and answer.hinges.swings
    wider = check(read_scene(SCENES / "den.toml", settings=[("hinge.open_width", "5")]))
    assert wider.verdict is Verdict.SWINGS


# ---------------------------------------------------------------- thick slabs


def made_for(thinner: float, thickness: float, margin: float = 1 / 16) -> Scene:
    """A slab in a frame that was made for a thinner one, 4 1/2 in hinges."""
    rabbet = thinner + GAP
    return square_scene(
        slab__thickness=thickness,
        slab__width=(30.125 - 1 / 16 - margin,),
        opening__rabbet=Rabbet(hinge=(rabbet,), strike=(rabbet,), head=(rabbet, rabbet)),
        opening__depth=5.25,
        hinge__open_width=4.5,
        hinge__leaf_length=4.5,
        hinge__jamb=LeafLayout(
            tops=(7.0, 37.75, 68.5), setbacks=(0.3125,) * 3, depths=(0.097,) * 3
        ),
    )


def test_a_thick_slab_cannot_close_flush_and_one_that_swings_proud_is_offered_the_set() -> None:
    assert is_too_thick(made_for(1.75, 2.25))
    assert not is_too_thick(made_for(1.75, 1.75))
    assert not is_too_thick(made_for(1.75, 1.875))  # flush with its face on the stop
    assert not is_too_thick(replace(made_for(1.75, 2.25), stop=None))
    shallow = changed(made_for(1.75, 2.25), opening__depth=3.3)
    assert is_too_thick(shallow) and thick_set(shallow) == (), "no room to move its stops in"
    scene = made_for(1.75, 2.25, margin=3 / 16)
    answer = answered(scene)
    assert answer.found.verdict is Verdict.SWINGS
    assert answer.found.margins.flush == pytest.approx([0.5] * 3)
    assert len(answer.cures) == 1


@pytest.mark.parametrize(("thinner", "thickness"), [(1.75, 2.25), (1.375, 2.25)])
def test_the_set_closes_a_thick_slab_flush_with_the_pins_where_they_were(
    thinner: float, thickness: float
) -> None:
    scene = made_for(thinner, thickness)
    before = answered(scene)
    assert before.found.verdict is not Verdict.SWINGS
    (cure,) = before.cures
    assert cure.words.startswith("All together")
    settings = dict(cure.settings)
    by = thickness - thinner
    text = _as_number(settings["opening.rabbet.hinge"])
    assert text == pytest.approx(thickness + GAP)
    assert _as_number(settings["hinge.jamb.setback"]) == pytest.approx(0.3125 + by)
    assert _as_number(settings["hinge.slab.setback"]) == pytest.approx(0.25 + by)
    assert "hinge.open_width" not in settings  # nothing in the way as far as wanted
    after = changed(
        scene,
        opening__rabbet=Rabbet(hinge=(text,), strike=(text,), head=(text, text)),
        hinge__jamb__setbacks=(0.3125 + by,) * 3,
        hinge__slab__setbacks=(0.25 + by,) * 3,
    )
    flat = trial(after)
    assert flat.margins.flush == pytest.approx([0.0] * 3, abs=1e-12)
    bevel = _as_number(settings["slab.strike_edge.bevel"])
    assert bevel * 2 == pytest.approx(round(bevel * 2), abs=1e-9)
    # The least lean whose narrow-face arris, hypot(L - T tan b, T + a), stays within L + margin
    # while it is deeper than the jamb's edge, which the pin stands a off.
    proud, along, margin = 2.25 + 0.25 - thinner, 30.125 - 1 / 16 - 1 / 16 + 1 / 32, 1 / 16
    reach = sqrt((along + margin) ** 2 + proud**2)
    short = along - sqrt(reach**2 - (thickness + proud) ** 2)
    least = degrees(atan2(short, thickness))
    assert least < bevel <= least + 1.0
    assert hypot(along - thickness * tan(radians(bevel)), thickness + proud) < reach


def test_the_set_swings_when_the_scene_is_read_with_its_settings() -> None:
    path = SCENES / "old_parlor.toml"
    (cure,) = answered(read_scene(path)).cures
    said = cure.said_in("mm")
    assert " mm thick in this frame" in said and not re.search(r"\d in\b", said)
    keys = [key for key, _ in cure.settings]
    wanted = {
        "opening.rabbet.hinge",
        "hinge.jamb.setback",
        "hinge.slab.setback",
        "hinge.open_width",
        "slab.strike_edge.bevel",
    }
    assert wanted <= set(keys)
    after = check(read_scene(path, settings=cure.settings))
    assert after.verdict is Verdict.SWINGS
    assert after.opening is None
    assert after.margins.flush == pytest.approx([0.0] * 3, abs=1e-9)
    assert min(after.margins.hinge_stop or ()) == pytest.approx(1 / 16, abs=1e-9)


def _as_number(text: str) -> float:
    """A setting's inches or degrees."""
    amount = text.removesuffix(" in").removesuffix(" deg")
    whole, _, fraction = amount.rpartition(" ")
    top, _, bottom = fraction.partition("/")
    part = float(top) / float(bottom) if bottom else float(top)
    return part + (float(whole) if whole else 0.0)
