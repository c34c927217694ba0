"""Lips, warps, arches, steel, what is fitted and what is laid, as a scene file says them."""

from __future__ import annotations

from math import hypot, radians, tan
from pathlib import Path

import pytest

from swingcheck.chance.plan_sizes import why_not_prismatic
from swingcheck.errors import SceneError
from swingcheck.model import Lip, Offset, Scene, head_arc, slab_arc
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check

SCENES = Path(__file__).parents[2] / "scenes"
OPENING = '[opening]\nwidth = "30 1/8"\nheight = "80 1/2"\n'
MM = 25.4


def read(text: str) -> Scene:
    return read_scene(OPENING + text)


def assumed(scene: Scene) -> dict[str, str]:
    return {item.key: item.value for item in scene.assumed}


# ---------------------------------------------------------------- what is taken as usual


def test_a_lip_is_13_by_25_and_a_half_millimetres_and_its_knuckles_stand_beside_it() -> None:
    scene = read("[slab]\nthickness = '40 mm'\n[slab.lip]\n")
    width, depth = 13 / MM, 25.5 / MM
    assert scene.slab.lip == Lip(hinge=width, strike=width, head=width, depth=depth)
    assert scene.opening.rabbet.hinge == (depth,)
    assert scene.hinge.offset == Offset(across=width)


def test_a_lip_may_be_on_one_edge_alone() -> None:
    scene = read("[slab.lip]\nwidth = '1/2'\nhinge = 0\nhead = 0\ndepth = '7/8'\n")
    assert scene.slab.lip == Lip(hinge=0.0, strike=0.5, head=0.0, depth=0.875)
    assert scene.hinge.offset == Offset()
    assert "slab.lip.width" not in assumed(scene)


def test_casing_keeps_clear_of_a_lip_that_is_on_one_edge_alone() -> None:
    casing = read("[slab.lip]\nwidth = 0.5\nhinge = 0\ndepth = 0.875\n[casing]\n").casing
    assert casing is not None
    assert casing.reveal == 0.5 + 1 / 8


def test_a_shallow_saddle_is_wide_enough_for_its_two_sides() -> None:
    saddle = read("[threshold]\nslope = 5\n").threshold
    assert saddle is not None
    assert saddle.width == pytest.approx(2.5 * 0.5 / tan(radians(5)))


def test_a_lever_reaches_half_way_to_the_hinge_edge_of_a_narrow_slab() -> None:
    lock = read("[slab]\nwidth = 10\n[lock.handle]\nkind = 'lever'\n").lock
    assert lock is not None and lock.handle is not None
    assert lock.handle.length == (10 - 2.375) / 2


def test_a_slab_under_an_arch_takes_the_arc_less_the_margin() -> None:
    scene = read("arch = 6\n")
    head, top = head_arc(scene.opening), slab_arc(scene.slab)
    assert head is not None and top is not None
    assert top.radius == pytest.approx(head.radius - 1 / 8, abs=1e-9)
    bottom = 0.5
    assert top.up + bottom == pytest.approx(head.up, abs=1e-9)
    assert top.across + 1 / 16 == pytest.approx(head.across, abs=1e-9)
    assert {"slab.arch", "slab.height", "slab.head_margin"} <= set(assumed(scene))
    found = check(scene)
    assert found.margins.head == pytest.approx((1 / 8, 1 / 8), abs=1e-9)
    assert found.margins.bottom == pytest.approx((0.5, 0.5), abs=1e-9)


def test_a_slab_under_a_half_circle_is_a_half_circle_of_its_own() -> None:
    scene = read("arch = '15 1/16'\n")
    assert scene.slab.arch == pytest.approx(scene.slab.width[0] / 2)
    found = check(scene)
    assert found.verdict.value == "swings"
    assert min(found.margins.head) > 0.03


def test_a_steel_frames_stop_lies_between_its_two_rabbets() -> None:
    """From memory of the Steel Door Institute's details: 1 15/16 in for 1 3/4, on both sides."""
    scene = read("[opening.steel]\n[slab]\nthickness = '1 3/4'\n")
    assert scene.opening.rabbet.hinge == (1.9375,)
    assert scene.stop is not None
    assert scene.stop.width == pytest.approx(5.75 - 2 * 1.9375)


def test_a_slab_over_a_saddle_clears_it_by_the_pocketbooks_3_32() -> None:
    """The Building Trades Pocketbook (c. 1899)."""
    found = check(read("[threshold]\n"))
    assert found.margins.bottom == pytest.approx((3 / 32, 3 / 32), abs=1e-9)


def test_what_is_left_out_of_an_ordinary_scene_is_not_told() -> None:
    scene = read("")
    told = assumed(scene)
    words = ("lip", "warp", "arch", "astragal", "steel", "threshold", "carpet", "handle", "return")
    assert not [key for key in told if any(word in key.split(".")[-1] for word in words)]
    assert scene.slab.lip is scene.slab.warp is scene.threshold is scene.carpet is None


def test_readings_of_a_warp_that_are_all_nothing_are_a_flat_slab() -> None:
    assert read("[slab]\nwarp = { bow = 0 }\n").slab.warp is None
    warp = read("[slab]\nwarp = { bow = '-1/8', twist = '1/16' }\n").slab.warp
    assert warp is not None
    assert (warp.bow, warp.cup, warp.twist) == (-0.125, 0.0, 0.0625)


# ---------------------------------------------------------------- what cannot be built

LIP = "[slab.lip]\nwidth = '1/2'\ndepth = '7/8'\n"

FAULTS = [
    (LIP + "[slab.hinge_edge]\nradius=3\n", "slab.lip", "not modelled"),
    (LIP + "[slab.warp]\nbow=0.1\n", "slab.lip", "a warped slab is not modelled"),
    ("arch=3\n" + LIP, "slab.lip", "an arched slab is not modelled"),
    (LIP + "[slab.astragal]\n", "slab.lip", "astragal is not modelled"),
    ("[slab]\narch=3\n", "slab.arch", "the head is straight"),
    ("arch=3\n[slab.head_edge]\nbevel=2\n", "slab.head_edge", "a bevelled arch"),
    ("arch=3\n[opening.steel]\n", "opening.arch", "an arched steel frame"),
    ("[opening.steel]\n[casing]\n", "casing", "a steel frame's own faces"),
    ("[[slab.applied]]\nsize=[20,5,1]\n", "slab.applied[0].corner", "missing"),
    ("[lock.handle]\nkind='lever'\nface='up'\n", "lock.handle.face", "one of"),
    ("[lock.handle]\nkind='crank'\n", "lock.handle.kind", '"knob", "lever"'),
    ("[threshold]\nhieght=1\n", "threshold.hieght", "no key"),
    ("[carpet]\n[floor]\nprofile=[0,0.1,0]\n", "carpet", "read the floor's profile"),
    ("[wall_return]\nreach=30\n", "wall_return.hinge", "missing"),
    ("[swing]\nboth_ways=true\n", "swing.both_ways", 'stop = "none"'),
    ("[slab]\nhead_edge = { radius = 2 }\n", "slab.head_edge.radius", "no key"),
]


@pytest.mark.parametrize(("text", "key", "expected"), FAULTS, ids=[key for _, key, _ in FAULTS])
def test_what_cannot_be_built_is_told_under_its_key(text: str, key: str, expected: str) -> None:
    with pytest.raises(SceneError) as caught:
        read(text)
    (problem,) = caught.value.problems
    assert problem.key == key
    assert expected in problem.expected


# ---------------------------------------------------------------- plans, and every scene

NOT_IN_PLAN = [
    (LIP, "lip"),
    ("[slab.warp]\nbow=0.1\n", "warp"),
    ("arch=4\n", "not level"),
    ("[opening.steel]\n", "steel"),
    ("[slab.head_edge]\nbevel=2\n", "head edge"),
    ("[slab.astragal]\n", "astragal"),
    ("[[slab.applied]]\ncorner=[5,5]\nsize=[2,2,1]\n", "applied"),
    ("[lock]\n[lock.handle]\n", "handle"),
    ("[threshold]\n", "threshold"),
    ("[carpet]\n", "carpet"),
    ("[baseboard]\n", "baseboard"),
    ("[wall_return]\nhinge=4\n", "wall return"),
]


@pytest.mark.parametrize(("text", "word"), NOT_IN_PLAN, ids=[word for _, word in NOT_IN_PLAN])
def test_what_a_plan_does_not_show_is_refused_there(text: str, word: str) -> None:
    assert why_not_prismatic(read("")) == ""
    assert word in why_not_prismatic(read(text)) or "cranked" in why_not_prismatic(read(text))


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_scene_does_what_its_first_line_says(path: Path) -> None:
    first, second = path.read_text(encoding="utf-8").splitlines()[:2]
    assert second == "# An invented opening of an invented house."
    said = first.removeprefix("# ").split(":")[0].casefold()
    found = check(read_scene(path))
    assert said.startswith(found.verdict.value), (said, found.verdict)
    assert hypot(*found.axis.direction[:2]) < 0.1
