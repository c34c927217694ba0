"""A hinge pulled apart: what is drawn goes together again, and the sizes are the scene's."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from swingcheck import palette
from swingcheck.assembly import PartKind
from swingcheck.geometry.booleans import clipped
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import box
from swingcheck.render.exploded.parts import Exploded, exploded_hinge
from swingcheck.render.exploded.sheet import shaded
from swingcheck.units import length_text
from tests.pictures import built, drawn, painted, scene_of


@cache
def apart(name: str, hinge: int = 1) -> Exploded:
    return exploded_hinge(built(name), hinge)


def piece(shown: Exploded, kind: PartKind) -> Solid:
    (found,) = [piece.solid for piece in shown.pieces if piece.kind is kind]
    return found


@pytest.mark.parametrize("name", ["plain", "plain, right, mm"])
def test_the_sizes_and_the_materials_are_the_scenes(name: str) -> None:
    scene, sheet = scene_of(name), drawn("hinge", name)
    hinge, unit = scene.hinge, scene.unit
    for size in (
        hinge.jamb.setbacks[1],
        hinge.slab.setbacks[1],
        hinge.jamb.depths[1],
        hinge.leaf_length,
        hinge.leaf_thickness,
        hinge.barrel,
        hinge.reach,
        hinge.jamb.tops[1],
        hinge.slab.tops[1],
    ):
        assert length_text(size, unit) in sheet.told
    assert ("corner radius" in sheet.boxes) == (hinge.corner_radius > 0)
    assert "the middle hinge pulled apart" in sheet.told
    drawing = drawn("hinge", name).picture[136:-82]
    for material in (palette.SLAB, palette.JAMB, palette.STOP, palette.METAL):
        tones = [shaded(material.fill, tone) for tone in (0.35, 0.55, 0.76)]
        assert sum(len(painted(drawing, tone)) for tone in tones) > 1200, material.label


@pytest.mark.parametrize("name", ["plain", "twisted, out of plumb", "round hinge edge"])
def test_a_leaf_put_back_fills_its_mortise(name: str) -> None:
    shown = apart(name)
    hinge = scene_of(name).hinge
    for leaf, kind in ((shown.jamb, PartKind.JAMB_LEAF), (shown.slab, PartKind.SLAB_LEAF)):
        back = piece(shown, kind).vertices - leaf.away
        local = (back - leaf.frame[:, 3]) @ leaf.frame[:, :3]
        low, high = local.min(axis=0), local.max(axis=0)
        # buried edge at 0, half the length to either side, the back on the mortise's floor
        half, knuckles = hinge.leaf_length / 2, hinge.reach - hinge.barrel / 2
        assert low == pytest.approx([0.0, -half, 0.0], abs=1e-9)
        assert high == pytest.approx([knuckles, half, hinge.leaf_thickness], abs=1e-9)
        assert leaf.away @ leaf.frame[:, 2] == pytest.approx(np.linalg.norm(leaf.away))


def test_a_plain_hinge_pulled_apart_goes_together_along_its_ways() -> None:
    shown = apart("plain")
    for leaf, kind in ((shown.jamb, PartKind.HINGE_LEG), (shown.slab, PartKind.SLAB)):
        wood = piece(shown, kind)
        local = (wood.vertices - leaf.frame[:, 3]) @ leaf.frame[:, :3]
        heights = np.unique(np.round(local[:, 2], 6))
        assert np.isclose(heights, 0.0).any()
        assert np.isclose(heights, leaf.depth).any()
        assert heights.max() == pytest.approx(leaf.depth)
    leaves = [(shown.jamb, shown.ways[:4]), (shown.slab, shown.ways[4:])]
    for leaf, ways in leaves:
        for start, end in ways[:2]:
            assert end - start == pytest.approx(leaf.away)
        for start, end in ways[2:]:
            along = (end - start) / np.linalg.norm(end - start)
            # square to the pin, from the leaf's knuckles to the pin's centre
            assert abs(along @ built("plain").axis.direction) < 1e-9
            assert end[:2] == pytest.approx(shown.barrel[:2])
    assert shown.pin.mean(axis=0) == pytest.approx(shown.barrel)
    lows = [piece.solid.bounds for piece in shown.pieces]
    names = [piece.kind for piece in shown.pieces]
    for k, one in enumerate(lows):
        for j in range(k):
            apart_by = max((one[0] - lows[j][1]).max(), (lows[j][0] - one[1]).max())
            if {names[k], names[j]} != {PartKind.HINGE_LEG, PartKind.HINGE_STOP}:
                assert apart_by > 0.1, (names[k], names[j])


@pytest.mark.parametrize("hinge", [0, 2])
def test_any_hinge_can_be_pulled_apart(hinge: int) -> None:
    shown = apart("plain", hinge)
    assert shown.name == ("the top hinge", None, "the bottom hinge")[hinge]
    top = 80.5 - scene_of("plain").hinge.jamb.tops[hinge]
    assert shown.jamb.at(0.0, 0.0)[2] == pytest.approx(top - 1.75)


def test_wood_is_clipped_to_a_box_and_closed() -> None:
    cube = box("cube", [0, 0, 0], [4, 4, 4])
    kept = clipped(cube, np.array([1.0, -9.0, 1.0]), np.array([3.0, 9.0, 9.0]))
    assert kept.bounds.tolist() == [[1.0, 0.0, 1.0], [3.0, 4.0, 4.0]]
    assert kept.volume == pytest.approx(2 * 4 * 3)
    assert clipped(cube, np.full(3, -1.0), np.full(3, 5.0)) is cube
