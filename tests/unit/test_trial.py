"""A variant comes to what a check of it finds, whoever decides; and all that is asked agrees."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest

from swingcheck.model import Floor, Leg, Obstacle, Swing
from swingcheck.swing.check import check
from swingcheck.swing.found import Decided, Verdict, Way
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import trial
from tests.factory import SQUARE, changed, plain_scene
from tests.pictures import found, scene_of
from tests.unit.test_second_slab import neighbour_scene, pair_scene
from tests.unusual import HANGINGS, random_kind

ALONE = {
    "swings": plain_scene(),
    "pinches": plain_scene(hinge__jamb__setbacks=(0.2,) * 3),
    "strikes": plain_scene(opening__width=(30.0,), slab__strike_edge=SQUARE),
    "hinge-bound": plain_scene(hinge__slab__depths=(0.2,) * 3),
    "drags": plain_scene(slab__head_margin=1 / 64, opening__hinge_leg=Leg(plumb=(0.0, 0.2))),
    "stands off": plain_scene(opening__rabbet__head=(1.4375, 1.3)),
    "blocked": plain_scene(floor=Floor(covering=1.0)),
    "fouls": plain_scene(
        obstacles=(Obstacle(name="chest", corner=(8, 12, 0), size=(9, 9, 9)),),
        swing=Swing(start=radians(20)),
    ),
}


# A scene in which something else than this slab's own closing decides, and what, how and whose.
BESIDE = {
    "upper_hall": (Verdict.FOULS, Way.TOGETHER, "study", False),
    "inactive slab": (Verdict.PINCHES, Way.CLOSING, "inactive slab", False),
    "inactive slab, right": (Verdict.PINCHES, Way.CLOSING, "inactive slab", False),
    "lower slab": (Verdict.PINCHES, Way.CLOSING, "lower slab", False),
    "push side blocked": (Verdict.BLOCKED, Way.START, "", True),
    "push side fouls": (Verdict.FOULS, Way.OPENING, "", True),
}


def told(decided: Decided) -> Decided:
    """Return what decides without how two slabs swing together, which a variant leaves out."""
    return replace(decided, together=None)


@pytest.mark.parametrize("name", BESIDE)
def test_a_check_and_a_variant_say_whose_contact_decides(name: str) -> None:
    word, way, slab, push = BESIDE[name]
    decided = found(name).decided
    assert (decided.verdict, decided.way, decided.slab, decided.push) == (word, way, slab, push)
    assert (decided.touch is None) is (way in (Way.START, Way.TOGETHER))
    assert bool(decided.blocked_by) is (way is Way.START)
    assert (decided.together is not None) is (way is Way.TOGETHER)
    kept = Variants()
    for _ in range(2):
        quick = trial(scene_of(name), kept)
        assert told(quick.decided) == told(found(name).decided)
        assert quick.open_by > 0


def test_what_cures_the_other_slab_lets_it_swing_and_what_is_beyond_decides_nothing() -> None:
    met, scene = found("push side fouls").decided.touch, scene_of("push side fouls")
    assert met is not None
    for more, word in ((0.01, Verdict.FOULS), (-0.01, Verdict.SWINGS)):
        asked = changed(scene, swing__wanted=abs(met.angle) + more)
        assert check(asked).verdict is trial(asked).verdict is word
    # The same kept parts, the fault there and gone again: nothing is taken for what it was.
    kept = Variants()
    for setback_in, swings in ((0.22, False), (0.3125, True), (0.22, False)):
        scene = changed(pair_scene(), inactive__hinge__jamb__setbacks=(setback_in,) * 3)
        assert trial(scene, kept).swings is swings
    for across, swings in ((40.0, False), (41.0, False), (120.0, True), (40.0, False)):
        assert trial(neighbour_scene(across, 6.0, 90.0), kept).swings is swings


@pytest.mark.parametrize("kind", HANGINGS)
@pytest.mark.parametrize("seed", range(2))
def test_a_random_variant_is_what_it_is_by_itself(kind: str, seed: int) -> None:
    """Assembled from kept parts or afresh, what decides and the margins are the same."""
    scene = random_kind(kind, seed)
    quick, fresh = trial(scene), check(scene)
    assert quick.margins == fresh.margins
    mine, own = quick.decided, fresh.decided
    assert (mine.verdict, mine.way, mine.slab, mine.push) == (
        own.verdict,
        own.way,
        own.slab,
        own.push,
    )
    if own.touch is not None:
        assert mine.touch is not None
        assert mine.touch.against == own.touch.against
        assert mine.touch.angle == pytest.approx(own.touch.angle, abs=1e-10)


@pytest.mark.parametrize("word", ALONE)
def test_a_variant_says_what_a_check_says(word: str) -> None:
    scene = ALONE[word]
    quick, full = trial(scene), check(scene)
    assert quick.verdict.value == word
    assert quick.decided.way is full.decided.way
    assert quick.decided.blocked_by == full.decided.blocked_by
    assert quick.margins == full.margins
    assert (quick.open_by > 0) is (quick.verdict is not Verdict.SWINGS)
    if full.decided.touch is not None:
        assert quick.touch is not None
        assert quick.touch.against == full.decided.touch.against
        assert quick.touch.angle == pytest.approx(full.decided.touch.angle, abs=1e-11)
