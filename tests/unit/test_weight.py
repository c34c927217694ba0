"""Volumes against an outline summed point by point, weights against arithmetic by hand."""

from __future__ import annotations

from math import cos, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.bench.cautions import cautions
from swingcheck.bench.constructions import CONSTRUCTIONS
from swingcheck.bench.weight import shaped_slab, slab_weight, weight_basis
from swingcheck.bench.woods import (
    known_material,
    material_density,
    nearest_materials,
    wood_density,
)
from swingcheck.model import Edge, EdgeShape, Site, Slab
from tests.factory import SQUARE, bevel, plain_scene, rounded


def slab_volume(slab: Slab) -> float:
    return shaped_slab(slab).volume


def outline_area(slab: Slab, width: float) -> float:
    """Return the plan area of a slab by the shoelace sum over its outline."""
    hinge = [(inset, y) for inset, y in edge_line(slab.hinge_edge, slab.thickness)]
    strike = [(width - inset, y) for inset, y in edge_line(slab.strike_edge, slab.thickness)]
    points = hinge + strike[::-1]
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2


def edge_line(edge: Edge, thickness: float, count: int = 4000) -> list[tuple[float, float]]:
    """Return an edge from wide face to narrow face, as (inset from the widest line, y)."""
    if edge.shape is EdgeShape.RADIUS:
        ys = [-thickness * k / count for k in range(count + 1)]
        return [(edge.radius - sqrt(edge.radius**2 - (y + thickness / 2) ** 2), y) for y in ys]
    run = sin(edge.bevel) / cos(edge.bevel) * thickness
    return [(0.0, 0.0), (run, -thickness)]


edges = st.one_of(
    st.just(SQUARE),
    st.floats(-5, 8).map(bevel),
    st.floats(0.8, 40).map(rounded),
)


@given(edges, edges, st.floats(12, 48), st.floats(12, 48))
def test_volume_is_the_outline_lofted_from_top_to_bottom(
    hinge: Edge, strike: Edge, top: float, bottom: float
) -> None:
    scene = plain_scene(slab__hinge_edge=hinge, slab__strike_edge=strike, slab__width=(top, bottom))
    slab = scene.slab
    lofted = (outline_area(slab, top) + outline_area(slab, bottom)) / 2 * 79.75
    assert slab_volume(slab) == pytest.approx(lofted, rel=1e-5)


def test_three_widths_are_joined_by_straight_lines() -> None:
    straight = plain_scene(slab__width=(30.0, 29.5, 29.0)).slab
    ends = plain_scene(slab__width=(30.0, 29.0)).slab
    bowed = plain_scene(slab__width=(30.0, 28.5, 29.0)).slab
    assert slab_volume(straight) == pytest.approx(slab_volume(ends))
    # 1 in less at the middle is 1/2 in less on the mean.
    assert slab_volume(straight) - slab_volume(bowed) == pytest.approx(0.5 * 1.375 * 79.75)


def test_out_of_square_slab_takes_the_mean_height() -> None:
    even = plain_scene(slab__height=(79.0, 79.0)).slab
    sloped = plain_scene(slab__height=(78.5, 79.5)).slab
    assert slab_volume(sloped) == pytest.approx(slab_volume(even))


def test_solid_slab_is_volume_by_density() -> None:
    scene = plain_scene(
        slab__width=(36.0,),
        slab__height=(80.0, 80.0),
        slab__thickness=1.5,
        slab__hinge_edge=SQUARE,
        slab__strike_edge=SQUARE,
    )
    # 3 ft by 6 2/3 ft by 1/8 ft is 2.5 cubic feet; red oak 62.4 x 0.63 x 1.12 lb each.
    assert slab_weight(scene) == pytest.approx(2.5 * 62.4 * 0.63 * 1.12)


def test_stile_and_rail_leaves_half_the_panels_out() -> None:
    sizes = {
        "slab__width": (30.0,),
        "slab__height": (80.0, 80.0),
        "slab__hinge_edge": SQUARE,
        "slab__strike_edge": SQUARE,
        "slab__material": "Douglas fir",
    }
    solid = slab_weight(plain_scene(**sizes))
    framed = slab_weight(plain_scene(**sizes, slab__construction="Stile and Rail"))
    # Panels between 4 1/2 in stiles and 4 1/2, 8 and 9 1/2 in rails: 21 by 58 in.
    left_out = 21 * 58 * 1.375 / 2 / 1728 * 62.4 * 0.48 * 1.12
    assert solid is not None and framed is not None
    assert solid - framed == pytest.approx(left_out)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_every_construction_weighs_more_when_it_is_wider(construction: str) -> None:
    narrow = slab_weight(plain_scene(slab__construction=construction, slab__width=(24.0,)))
    wide = slab_weight(plain_scene(slab__construction=construction, slab__width=(30.0,)))
    assert narrow is not None and wide is not None
    assert 0 < narrow < wide


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Red Oak", "red oak"),
        ("oak, red", "red oak"),
        ("douglas fir", "Douglas-fir"),
        ("western red cedar", "western redcedar"),
        ("mdf", "MDF"),
        ("hard maple", "sugar maple"),
        ("poplar", "yellow-poplar"),
    ],
)
def test_a_material_is_known_however_it_is_written(written: str, meant: str) -> None:
    assert known_material(written) == meant


def test_an_unknown_material_has_no_weight_and_names_the_nearest() -> None:
    scene = plain_scene(slab__material="red oka")
    assert slab_weight(scene) is None
    assert material_density("red oka") is None
    assert nearest_materials("red oka")[0] == "red oak"
    assert "'red oka'" in weight_basis(scene) and "red oak" in weight_basis(scene)


def test_plain_oak_is_not_guessed_at() -> None:
    # Red and white oak differ by 8 %: which one is the carpenter's to say.
    assert known_material("oak") is None
    assert set(nearest_materials("oak")) == {"red oak", "white oak"}


def test_an_unknown_construction_has_no_weight_and_lists_what_is_known() -> None:
    scene = plain_scene(slab__construction="papier mache")
    assert slab_weight(scene) is None
    assert all(name in weight_basis(scene) for name in CONSTRUCTIONS)


def test_a_flush_slab_needs_no_known_material() -> None:
    scene = plain_scene(slab__construction="hollow core", slab__material="printed film")
    assert slab_weight(scene) is not None
    assert "hollow core" in weight_basis(scene)


def test_a_steel_slab_is_hollow_metal() -> None:
    steel = plain_scene(slab__material="steel", slab__construction="solid")
    metal = plain_scene(slab__construction="hollow metal")
    assert slab_weight(steel) == slab_weight(metal)


def test_basis_carries_the_density_that_was_used() -> None:
    assert f"{wood_density(0.63):.0f} lb a cubic foot" in weight_basis(plain_scene())


@pytest.mark.parametrize("degrees", [0.5, 2.0, 5.0])
def test_bevel_takes_a_wedge_off(degrees: float) -> None:
    square = plain_scene(slab__hinge_edge=SQUARE, slab__strike_edge=SQUARE).slab
    one = plain_scene(slab__hinge_edge=bevel(degrees), slab__strike_edge=SQUARE).slab
    wedge = 1.375**2 * tan(radians(degrees)) / 2 * 79.75
    assert slab_volume(square) - slab_volume(one) == pytest.approx(wedge)


def test_router_and_saw_caution_always_stands() -> None:
    only = cautions(plain_scene(), 20.0)
    assert len(only) == 1
    assert "guards" in only[0] and "unplugged" in only[0]


@pytest.mark.parametrize(
    ("site", "word"),
    [
        (Site(fire_rated=True), "authority having jurisdiction"),
        (Site(exit=True), "local code"),
        (Site(old_paint=True), "lead"),
        (Site(glass=True), "safety glazing"),
    ],
)
def test_a_site_flag_brings_its_caution_and_no_other(site: Site, word: str) -> None:
    found = cautions(plain_scene(site=site), 20.0)
    assert len(found) == 2
    assert any(word in caution for caution in found)


def test_two_people_lift_what_is_over_fifty_pounds() -> None:
    assert not any("two people" in caution for caution in cautions(plain_scene(), 50.0))
    heavy = cautions(plain_scene(), 50.5)
    assert any("two people" in caution for caution in heavy)


def test_an_unknown_weight_is_a_caution() -> None:
    assert any("not known" in caution for caution in cautions(plain_scene(), None))


def test_mineral_core_warns_of_silica() -> None:
    scene = plain_scene(slab__construction="mineral-core")
    assert any("silica" in caution for caution in cautions(scene, 40.0))
