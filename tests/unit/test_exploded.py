"""A hinge pulled apart: what is drawn goes together again, and the sizes are the scene's."""

from __future__ import annotations

from functools import cache
from math import radians

import numpy as np
import pytest

from swingcheck import palette
from swingcheck.assembly import Assembly, PartKind, assemble
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import box
from swingcheck.model import Leg, Scene
from swingcheck.render.exploded.parts import Exploded, clipped, exploded_hinge
from swingcheck.render.exploded.sheet import exploded_figure, shaded
from swingcheck.render.pen.page import figure_bytes
from swingcheck.units import length_text
from tests.factory import SQUARE, plain_scene, rounded
from tests.openings import random_opening
from tests.pictures import misplaced, painted, pixels, words_on

SCENES: dict[str, Scene] = {
    "plain": plain_scene(),
    "right, mm": plain_scene(hinges_on="right", unit="mm", hinge__corner_radius=0.0),
    "twisted": plain_scene(opening__hinge_leg=Leg(twist=(radians(2.0),), plumb=(0.0, 0.1))),
    "no stop, square": plain_scene(stop=None, slab__hinge_edge=SQUARE),
    "round edge": plain_scene(slab__hinge_edge=rounded(3.0)),
    "proud screws": plain_scene(hinge__screw_proud=0.02),
    "thick": plain_scene(
        slab__thickness=2.25, opening__rabbet__hinge=(2.3125,), opening__depth=6.0
    ),
}


@cache
def apart(name: str, hinge: int = 1) -> tuple[Assembly, Exploded]:
    assembly = assemble(SCENES[name])
    return assembly, exploded_hinge(assembly, hinge)


def piece(shown: Exploded, kind: PartKind) -> Solid:
    (found,) = [piece.solid for piece in shown.pieces if piece.kind is kind]
    return found


@pytest.mark.parametrize("name", SCENES)
def test_no_word_leaves_the_drawing_or_covers_another(name: str) -> None:
    figure = exploded_figure(apart(name)[0], 1, f"{name}: the $5 title")
    assert len(words_on(figure)) > 20
    assert misplaced(figure) == []


@pytest.mark.parametrize("seed", range(2))
def test_no_word_is_lost_on_any_opening(seed: int) -> None:
    assert misplaced(exploded_figure(assemble(random_opening(seed)), 0, "any")) == []


@pytest.mark.parametrize("name", ["plain", "right, mm"])
def test_the_sizes_are_the_scenes(name: str) -> None:
    scene = SCENES[name]
    hinge, unit = scene.hinge, scene.unit
    told = [words for words, _ in words_on(exploded_figure(apart(name)[0], 1, "title"))]
    everything = " ".join(told)
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
        assert length_text(size, unit) in everything
    assert ("corner radius" in told) == (hinge.corner_radius > 0)
    assert "the middle hinge pulled apart" in everything


@pytest.mark.parametrize("name", ["plain", "twisted", "round edge"])
def test_a_leaf_put_back_fills_its_mortise(name: str) -> None:
    _, shown = apart(name)
    hinge = SCENES[name].hinge
    for leaf, kind in ((shown.jamb, PartKind.JAMB_LEAF), (shown.slab, PartKind.SLAB_LEAF)):
        back = piece(shown, kind).vertices - leaf.away
        local = (back - leaf.frame[:, 3]) @ leaf.frame[:, :3]
        low, high = local.min(axis=0), local.max(axis=0)
        # buried edge at 0, half the length to either side, the back on the mortise's floor
        half, knuckles = hinge.leaf_length / 2, hinge.reach - hinge.barrel / 2
        assert low == pytest.approx([0.0, -half, 0.0], abs=1e-9)
        assert high == pytest.approx([knuckles, half, hinge.leaf_thickness], abs=1e-9)
        assert leaf.away @ leaf.frame[:, 2] == pytest.approx(np.linalg.norm(leaf.away))


def test_the_floor_of_a_mortise_is_as_deep_as_it_says() -> None:
    _, shown = apart("plain")
    for leaf, kind in ((shown.jamb, PartKind.HINGE_LEG), (shown.slab, PartKind.SLAB)):
        wood = piece(shown, kind)
        local = (wood.vertices - leaf.frame[:, 3]) @ leaf.frame[:, :3]
        heights = np.unique(np.round(local[:, 2], 6))
        assert np.isclose(heights, 0.0).any()
        assert np.isclose(heights, leaf.depth).any()
        assert heights.max() == pytest.approx(leaf.depth)


def test_every_way_is_along_the_way_the_parts_go() -> None:
    assembly, shown = apart("plain")
    leaves = [(shown.jamb, shown.ways[:4]), (shown.slab, shown.ways[4:])]
    for leaf, ways in leaves:
        for start, end in ways[:2]:
            assert end - start == pytest.approx(leaf.away)
        for start, end in ways[2:]:
            along = (end - start) / np.linalg.norm(end - start)
            # square to the pin, from the leaf's knuckles to the pin's centre
            assert abs(along @ assembly.axis.direction) < 1e-9
            assert end[:2] == pytest.approx(shown.barrel[:2])
    assert shown.pin.mean(axis=0) == pytest.approx(shown.barrel)


def test_no_two_pieces_touch_but_the_stop_on_its_jamb() -> None:
    _, shown = apart("plain")
    lows = [piece.solid.bounds for piece in shown.pieces]
    names = [piece.kind for piece in shown.pieces]
    for k, one in enumerate(lows):
        for j in range(k):
            apart_by = max((one[0] - lows[j][1]).max(), (lows[j][0] - one[1]).max())
            if {names[k], names[j]} != {PartKind.HINGE_LEG, PartKind.HINGE_STOP}:
                assert apart_by > 0.1, (names[k], names[j])


@pytest.mark.parametrize("hinge", [0, 2])
def test_any_hinge_can_be_pulled_apart(hinge: int) -> None:
    _, shown = apart("plain", hinge)
    assert shown.name == ("the top hinge", None, "the bottom hinge")[hinge]
    top = 80.5 - SCENES["plain"].hinge.jamb.tops[hinge]
    assert shown.jamb.at(0.0, 0.0)[2] == pytest.approx(top - 1.75)


def test_wood_is_clipped_to_a_box_and_closed() -> None:
    cube = box("cube", [0, 0, 0], [4, 4, 4])
    kept = clipped(cube, np.array([1.0, -9.0, 1.0]), np.array([3.0, 9.0, 9.0]))
    assert kept.bounds.tolist() == [[1.0, 0.0, 1.0], [3.0, 4.0, 4.0]]
    assert kept.volume == pytest.approx(2 * 4 * 3)
    assert clipped(cube, np.full(3, -1.0), np.full(3, 5.0)) is cube


def test_the_drawing_shows_every_material_and_no_contact() -> None:
    for name in ("plain", "right, mm"):
        picture = pixels(exploded_figure(apart(name)[0], 1, "title"), 1100)
        assert picture.shape[1] == 1100
        assert tuple(picture[0, 0]) == (255, 255, 255)
        drawing = picture[150:-90]
        for material in (palette.SLAB, palette.JAMB, palette.STOP, palette.METAL):
            tones = [shaded(material.fill, tone) for tone in (0.35, 0.55, 0.76)]
            found = sum(len(painted(drawing, tone)) for tone in tones)
            assert found > 1500, material.label
        assert len(painted(picture, palette.CONTACT)) == 0


def test_hinges_on_the_other_hand_are_drawn_mirrored() -> None:
    found = {}
    for hand in ("left", "right"):
        assembly = assemble(plain_scene(hinges_on=hand))
        picture = pixels(exploded_figure(assembly, 1, "title"), 900)[150:-90]
        found[hand] = painted(picture, palette.STOP.fill)[:, 1].mean()
    assert found["right"] < 450 < found["left"]
    assert found["left"] == pytest.approx(900 - found["right"], abs=3)


@pytest.mark.parametrize("kind", ["svg"])
def test_equal_hinges_give_equal_files(kind: str) -> None:
    assembly = apart("plain")[0]
    first = figure_bytes(exploded_figure(assembly, 1, "title"), kind, 900)
    assert first == figure_bytes(exploded_figure(assembly, 1, "title"), kind, 900)
