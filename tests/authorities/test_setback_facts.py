"""What a sixteenth of setback does: the trade's rule, from measured numbers alone.

Common practice, no source: a slab that comes up 3 to 4 in short of closed and pinches on the
hinge stop is cured by about 1/16 in of setback. And: with leaves set 1/4 in back on the slab and
5/16 in from the stop, "difference 1/16 = operating clearance" (trade, agreeing with ANSI/BHMA
A156.115; the standard itself was not read). "The edge of the butt is kept 1/4 in. back from the
face": The Building Trades Pocketbook (International Textbook Co., about 1899).

The rule in numbers, derived: with the slab's leaf set e farther back than the jamb's, its
narrow-face arris, h across from the pin and l + ss behind it, comes to the stop's face where
(l + ss) cos t - h sin t = l + ss - e, which for a small h is about t = sqrt(2 e / (l + ss)).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from swingcheck.advice.setback import setback
from swingcheck.model import Scene
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict

SIXTEENTH = 1 / 16

# A linen closet's old jamb, its mortises as measured, and a jig set by habit.
MEASURED = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
rabbet = "{rabbet}"
[slab]
width = "29 15/16"
thickness = "1 3/8"
hinge_edge = {{ bevel = 2 }}
strike_edge = {{ bevel = 2 }}
construction = "hollow metal"   # which no month moves: the rule is of the setback alone
[hinge]
jamb = {{ tops = ["7", "36 1/4", "65 1/2"], setback = "{jamb}" }}
slab = {{ setback = "{jig}" }}
[shop]
jig_setback = "{jig}"
"""


def closet(*, rabbet: str = "1 7/16", jamb: str, jig: str) -> Scene:
    return read_scene(MEASURED.format(rabbet=rabbet, jamb=jamb, jig=jig))


@pytest.mark.parametrize(
    ("jamb", "jig"), [("9/32", "5/16"), ("1/4", "9/32"), ("7/32", "1/4"), ("1/4", "0.278")]
)
def test_three_to_four_inches_short_is_cured_by_a_sixteenth(jamb: str, jig: str) -> None:
    scene = closet(jamb=jamb, jig=jig)
    short = check(scene)
    assert short.verdict is Verdict.PINCHES
    assert short.closing is not None
    assert short.closing.against == "hinge stop"
    assert 3.0 <= short.closing.opening_at_strike <= 4.0
    found = setback(scene)
    assert found.setting is not None and found.least is not None
    assert found.setting.fit.verdict is Verdict.SWINGS
    assert found.now - found.least == pytest.approx(SIXTEENTH, abs=1 / 64)
    assert found.now - found.setting.value == pytest.approx(SIXTEENTH, abs=1 / 32)
    # And a sixteenth itself does it, on the whole check.
    hinge = scene.hinge
    moved = tuple(value - SIXTEENTH for value in hinge.slab.setbacks)
    cured = replace(scene, hinge=replace(hinge, slab=replace(hinge.slab, setbacks=moved)))
    assert check(cured).verdict is Verdict.SWINGS


def test_the_usual_pair_of_setbacks_is_what_comes_out_and_is_left_alone() -> None:
    # Jamb 5/16 from the stop, rabbet a sixteenth over the slab: the slab's leaf goes 1/4 back.
    found = setback(closet(jamb="5/16", jig="5/16"))
    assert found.setting is not None
    assert found.setting.value == 1 / 4
    assert min(found.setting.fit.margins.hinge_stop or ()) == pytest.approx(SIXTEENTH, abs=3e-3)
    assert max(map(abs, found.setting.fit.margins.flush)) < 3e-3
    found = setback(closet(jamb="5/16", jig="1/4"))
    assert found.setting is not None
    assert found.setting.value == found.now == found.least == 1 / 4
    assert found.at_now.fits


def test_the_jambs_own_jig_answers_the_other_way_round() -> None:
    found = setback(closet(jamb="9/32", jig="5/16"), side="jamb")
    assert found.setting is not None
    assert found.now == 9 / 32
    assert found.setting.value - found.now == pytest.approx(SIXTEENTH, abs=1 / 32)
    assert not found.has_jig
