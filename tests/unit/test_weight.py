"""Volumes against an outline summed point by point, weights against arithmetic by hand."""

from __future__ import annotations

from math import asin, radians, tan

import pytest

from swingcheck.bench.cautions import cautions
from swingcheck.bench.materials import CONSTRUCTIONS, material, nearest_materials, wood_density
from swingcheck.bench.weight import slab_weight, weight_basis
from swingcheck.model import Site
from tests.factory import SQUARE, bevel, plain_scene, square_scene


def test_solid_slab_is_volume_by_density() -> None:
    scene = square_scene(slab__width=(36.0,), slab__height=(80.0, 80.0), slab__thickness=1.5)
    # 3 ft by 6 2/3 ft by 1/8 ft is 2.5 cubic feet; red oak 62.4 x 0.63 x 1.12 lb each.
    assert slab_weight(scene) == pytest.approx(2.5 * 62.4 * 0.63 * 1.12)


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
        ("cherry", "black cherry"),
    ],
)
def test_a_material_is_known_however_it_is_written(written: str, meant: str) -> None:
    found = material(written)
    assert found is not None and found.name == meant


def test_a_weight_is_told_where_the_material_is_known_and_as_the_slab_is_shaped() -> None:
    for written, near in (("red oka", "red oak"), ("oak", "white oak")):
        # Red and white oak differ by 8 %: which one is the carpenter's to say.
        scene = plain_scene(slab__material=written)
        assert slab_weight(scene) is None and material(written) is None
        assert near in nearest_materials(written)
        assert f"'{written}'" in weight_basis(scene) and near in weight_basis(scene)
    assert "known are woods" in weight_basis(plain_scene(slab__material="unobtainium"))
    scene = plain_scene(slab__construction="papier mache")
    assert slab_weight(scene) is None
    assert all(name in weight_basis(scene) for name in CONSTRUCTIONS)
    for construction, row in CONSTRUCTIONS.items():
        flush = plain_scene(slab__construction=construction, slab__material="printed film")
        assert (slab_weight(flush) is not None) is bool(row.core or row.face)
    steel = plain_scene(slab__material="steel", slab__construction="solid")
    assert slab_weight(steel) == slab_weight(plain_scene(slab__construction="hollow metal"))
    assert "hollow metal, 5.0 lb a square foot" in weight_basis(steel)
    assert f"{wood_density(0.63):.0f} lb a cubic foot" in weight_basis(plain_scene())
    # A 5 degree bevel takes a wedge off, an arch 3 in high over 30 in a segment of its circle.
    sizes = {"slab__hinge_edge": SQUARE, "slab__strike_edge": SQUARE, "slab__width": (30.0,)}
    square = slab_weight(plain_scene(**sizes))
    bevelled = slab_weight(plain_scene(**(sizes | {"slab__hinge_edge": bevel(5)})))
    arched = slab_weight(plain_scene(**sizes, slab__arch=3.0, opening__arch=3.0))
    assert square is not None and bevelled is not None and arched is not None
    pound = wood_density(0.63) / 1728
    wedge = 1.375**2 * tan(radians(5)) / 2 * 79.75
    assert square - bevelled == pytest.approx(wedge * pound)
    radius = (15.0**2 + 3.0**2) / 6.0
    segment = radius**2 * asin(15.0 / radius) - 15.0 * (radius - 3.0)
    assert arched - square == pytest.approx(segment * 1.375 * pound, rel=1e-3)


@pytest.mark.parametrize(
    ("changes", "weight", "word"),
    [
        ({}, 30.0, ""),
        ({"site": Site(fire_rated=True)}, 20.0, "authority having jurisdiction"),
        ({"site": Site(exit=True)}, 20.0, "local code"),
        ({"site": Site(old_paint=True)}, 20.0, "lead"),
        ({"site": Site(glass=True)}, 20.0, "safety glazing"),
        ({"slab__construction": "mineral-core"}, 20.0, "silica"),
        ({}, 50.0, "one fit person"),
        ({}, 51.0, "alone"),
        ({}, 214.0, "does not say how many"),
        ({}, None, "not known"),
    ],
)
def test_a_caution_is_told_where_it_applies_and_no_other(
    changes: dict[str, object], weight: float | None, word: str
) -> None:
    *found, always = cautions(plain_scene(**changes), weight)
    assert "guards" in always and "unplugged" in always
    assert [word in caution for caution in found] == [True] * bool(word)
