"""Loads, balance and hinge rules, held to statics and to another library's mass properties."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.advice.open_width import CLOSE_IN, open_width_needed
from swingcheck.assembly import bare_assembly
from swingcheck.bench.hinges import adjusted_mass, hanging, hinge_grade, hinge_loads, trim_stand_out
from swingcheck.bench.materials import panel_density, wood_density
from swingcheck.bench.weight import (
    centre_of_gravity,
    centroid,
    glass_added,
    shaped_slab,
    slab_weight,
)
from swingcheck.model import Closer, Glass
from swingcheck.model.hinge import usual_leaf_length
from swingcheck.scenefile import read_scene
from swingcheck.scenefile.tables.hinge import usual_tops
from tests.factory import CASING, SQUARE, bevel, plain_scene, square_scene
from tests.openings import random_opening

seeds = st.integers(0, 10_000)


@given(seeds)
def test_balance_is_another_librarys_centre_of_mass(seed: int) -> None:
    scene = random_opening(seed)
    blank = shaped_slab(scene.slab)
    mesh = trimesh.Trimesh(blank.vertices, blank.faces, process=False)
    assert centroid(blank) == pytest.approx(mesh.center_mass, abs=1e-9)
    assert centre_of_gravity(scene) == pytest.approx(mesh.center_mass, abs=1e-9)


def test_balance_of_a_stile_and_rail_slab_with_glass_by_hand() -> None:
    glass = Glass(width=18.0, height=30.0, thickness=0.25, across=5.0, up=44.0)
    scene = square_scene(
        slab__width=(30.0,),
        slab__height=(80.0, 80.0),
        slab__construction="stile and rail",
        slab__glass=glass,
        opening__height=(80.625, 80.625),
    )
    density = wood_density(0.63) / 1728
    # Stiles and rails 4 1/2, 4 1/2, 8 and 9 1/2 in; the lock rail's middle is
    # 36 in over the floor, and the slab's bottom 1/2 in over it.
    wide = 30.0 - 9.0
    lower, upper = (35.5 - 4.0) - 9.5, (80.0 - 4.5) - (35.5 + 4.0)
    hollow = [wide * high * 1.375 / 2 * density for high in (lower, upper)]
    middles = [9.5 + lower / 2, 80.0 - 4.5 - upper / 2]
    pane = 18.0 * 30.0 * (0.25 / 1728 * panel_density("glass") - 1.375 / 2 * density)
    masses = [30.0 * 80.0 * 1.375 * density, -hollow[0], -hollow[1], pane]
    ups = [40.0, *middles, 44.0 + 15.0]
    acrosses = [15.0, 15.0, 15.0, 5.0 + 9.0]
    assert slab_weight(scene) == pytest.approx(sum(masses))
    found = centre_of_gravity(scene)
    assert found[2] == pytest.approx(np.dot(masses, ups) / sum(masses))
    assert found[0] == pytest.approx(np.dot(masses, acrosses) / sum(masses))


def test_glass_weighs_more_than_a_panel_and_less_than_solid_oak() -> None:
    glass = Glass(width=20.0, height=36.0, thickness=0.25, across=5.0, up=40.0)
    panel = plain_scene(slab__construction="stile and rail", slab__glass=glass)
    solid = plain_scene(slab__construction="solid", slab__glass=glass)
    unknown = plain_scene(slab__material="unobtainium", slab__glass=glass)
    # 5 ft2; 3.25 lb/ft2 of glass against 2.52 of a panel and 5.04 of oak.
    assert glass_added(panel.slab) == pytest.approx(5 * (3.25 - 44.0294 * 1.375 / 24), abs=1e-3)
    assert glass_added(solid.slab) == pytest.approx(5 * (3.25 - 44.0294 * 1.375 / 12), abs=1e-3)
    assert glass_added(unknown.slab) is None
    assert slab_weight(unknown) is None


@given(seeds, st.floats(10.0, 200.0))
def test_loads_are_in_balance(seed: int, weight: float) -> None:
    scene = random_opening(seed)
    balance = centre_of_gravity(scene)
    loads = hinge_loads(scene, weight, balance)
    heights = -np.array(scene.hinge.slab.tops)
    pull = np.array(loads.pull)
    assert pull.sum() == pytest.approx(0.0, abs=1e-9 * weight)
    assert pull @ heights == pytest.approx(weight * loads.reach)
    assert loads.upright * scene.hinge.count == pytest.approx(weight)
    # Of all loads that balance, equal springs on a rigid slab give the least squares.
    equations = np.vstack([np.ones_like(heights), heights])
    springs = np.linalg.lstsq(equations, [0.0, weight * loads.reach], rcond=None)[0]
    assert pull == pytest.approx(springs)


def test_couple_of_two_and_of_three_hinges_or_no_known_weight() -> None:
    scene = square_scene()
    loads = hinge_loads(scene, 60.0, centre_of_gravity(scene))
    # The pin is 1/32 in off the hinge edge and 5/8 in proud of the wide face.
    reach = hypot(29.875 / 2 + 1 / 32, 0.625 + 1.375 / 2)
    assert loads.reach == pytest.approx(reach)
    assert loads.pull == pytest.approx((60 * reach / 61.5, 0.0, -60 * reach / 61.5))
    assert loads.worst == pytest.approx(hypot(60.0, 60 * reach / 61.5))
    lay = replace(scene.hinge.slab, tops=(7.0, 68.5), setbacks=(0.25,) * 2, depths=(0.097,) * 2)
    two = replace(scene, hinge=replace(scene.hinge, jamb=lay, slab=lay))
    assert hinge_loads(two, 60.0, centre_of_gravity(two)).pull == pytest.approx(
        (60 * reach / 61.5, -60 * reach / 61.5)
    )
    held = hanging(plain_scene(slab__material="unobtainium"))
    assert held.weight is None
    assert held.loads is None
    assert held.rules.grade is None
    assert held.balance[2] == pytest.approx(79.75 / 2)


def test_a_scene_takes_the_recommended_leaf_and_keeps_its_row() -> None:
    for thickness in (1.375, 35 / 25.4, 1.4375, 45 / 25.4, 1.75, 1.8125, 2.0, 2.25, 2.5, 3.0):
        for width in (18.0, 32.0, 32.5, 36.0, 37.5, 48.0, 60.0):
            found, is_recommended = usual_leaf_length(thickness, width)
            assert is_recommended is (thickness <= 2.5 and (thickness > 1.5 or width <= 37))
            text = f"[opening]\nwidth = 80\nheight = 84\n[slab]\nwidth = {width}\n"
            scene = read_scene(f"{text}thickness = {thickness}\n")
            rules = hanging(scene).rules
            assert scene.hinge.leaf_length == found
            assert rules.leaf_length == (found if is_recommended else None)
    scene = plain_scene(casing=CASING, slab__hinge_edge=SQUARE)
    # The wide face is flush with the jamb's edge.
    assert trim_stand_out(bare_assembly(scene)) == pytest.approx(CASING.thickness)
    shy = plain_scene(casing=CASING, slab__hinge_edge=SQUARE, hinge__slab__setbacks=(0.3125,) * 3)
    assert trim_stand_out(bare_assembly(shy)) == pytest.approx(CASING.thickness + 1 / 16)
    assert trim_stand_out(bare_assembly(plain_scene())) == 0.0


@pytest.mark.parametrize(
    ("nominal", "thickest"), [(1.375, 1 + 31 / 64), (1.75, 1 + 55 / 64), (2.5, 2.5)]
)
def test_a_slab_a_little_over_its_nominal_thickness_keeps_its_row(
    nominal: float, thickest: float
) -> None:
    for width in (30.0, 36.0, 43.0):
        assert usual_leaf_length(thickest, width) == usual_leaf_length(nominal, width)
    assert usual_leaf_length(1.5, 30.0) == usual_leaf_length(1.75, 30.0)


@pytest.mark.parametrize("degrees", [0.0, 2.0, 3.0])
@pytest.mark.parametrize("thickness", [2.0, 4.0])
def test_bench_and_check_tell_one_open_width(degrees: float, thickness: float) -> None:
    """Where no leaf is caught behind the casing: one swings the slab, the other works it out."""
    casing = replace(CASING, thickness=thickness, reveal=0.75)
    scene = plain_scene(casing=casing, slab__hinge_edge=bevel(degrees), slab__width=(29.0,))
    needed = open_width_needed(scene, pi)
    rules = hanging(scene).rules
    assert needed is not None and rules.open_width is not None
    assert 0 <= needed.least - rules.open_width < 2 * CLOSE_IN
    assert needed.stock == rules.stock_width


def test_leaves_of_a_closer_and_of_a_thick_slab_and_their_grade() -> None:
    thick = read_scene('[opening]\nwidth = 36\nheight = 84\n[slab]\nthickness = "2 1/2"\n')
    assert set(thick.hinge.slab.setbacks) == {3 / 8} and set(thick.hinge.jamb.setbacks) == {7 / 16}
    assert thick.hinge.leaf_thickness == 0.190
    assert hanging(thick).rules.gauge == 0.190
    assert hanging(plain_scene()).rules.gauge is None
    # UK hinge suppliers' charts: the third hinge about 200 mm below the first carries more.
    tops = usual_tops(83.0, 4.5, 3, has_closer=True)
    assert tops == pytest.approx((7.0, 7.0 + 200 / 25.4, 67.5))
    closer = read_scene('[opening]\nwidth = 36\nheight = 84\n[site]\ncloser = "closer"\n')
    assert closer.hinge.slab.tops[1] == pytest.approx(7.0 + 200 / 25.4)
    # Where two leaves would not fit so near, they stand evenly.
    assert usual_tops(20.0, 6.0, 3, has_closer=True) == usual_tops(20.0, 6.0, 3)
    assert hinge_grade(adjusted_mass(50.0, 900.0, 2000.0, Closer.BACK_CHECK)) == 5
    held = hanging(plain_scene(site__closer=Closer.PLAIN))
    assert held.weight is not None
    assert held.rules.adjusted_mass == pytest.approx(held.weight * 0.45359237 * 1.2)
