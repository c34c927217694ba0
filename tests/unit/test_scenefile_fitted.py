"""Lips, warps, arches, steel, what is fitted and what is laid, as a scene file says them."""

from __future__ import annotations

import pytest

from swingcheck.chance.plan_sizes import why_not_prismatic
from swingcheck.errors import SceneError
from swingcheck.model import Scene, head_arc, slab_arc
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from tests.scene_files import OPENING, assumed


def read(text: str) -> Scene:
    return read_scene(OPENING + text)


def test_a_slab_under_an_arch_takes_the_arc_less_the_margin_to_a_half_circle() -> None:
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
    scene = read("arch = '15 1/16'\n")
    assert scene.slab.arch == pytest.approx(scene.slab.width[0] / 2)
    found = check(scene)
    assert found.verdict.value == "swings"
    assert min(found.margins.head) > 0.03


def test_a_slab_over_a_saddle_clears_it_by_the_pocketbooks_3_32() -> None:
    """The Building Trades Pocketbook (c. 1899)."""
    found = check(read("[threshold]\n"))
    assert found.margins.bottom == pytest.approx((3 / 32, 3 / 32), abs=1e-9)


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


# ---------------------------------------------------------------- plans

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
