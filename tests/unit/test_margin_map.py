"""The margin map: its figures are the check's, its colours mean gaps, its words stand apart."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck import palette
from swingcheck.assembly import assemble
from swingcheck.model import Floor, Leg, Scene
from swingcheck.render.margins.bands import (
    CLASSES,
    STEPS,
    TINTS,
    MapData,
    class_words,
    gap_class,
    map_data,
    runs,
)
from swingcheck.render.margins.draw import map_scale, told_places
from swingcheck.render.margins.sheet import margin_figure, told_lines
from swingcheck.render.pen.page import figure_bytes
from swingcheck.render.pen.panel import Box
from swingcheck.render.pen.words import gap_words
from swingcheck.swing.check import check
from swingcheck.units import length_text
from tests.factory import LOCK, plain_scene
from tests.openings import random_opening
from tests.pictures import colour_of, misplaced, painted, pixels, words_on

SCENES: dict[str, Scene] = {
    "even": plain_scene(lock=LOCK),
    "uneven": plain_scene(
        opening__width=(30.06, 30.125, 30.2),
        opening__hinge_leg=Leg(plumb=(0.0, 0.05, -0.02)),
        opening__height=(80.5, 80.6),
        floor=Floor(across=0.01),
    ),
    "overlaps": plain_scene(opening__strike_leg=Leg(plumb=(0.0, 0.3, 0.0))),
    "right, mm": plain_scene(hinges_on="right", unit="mm", opening__width=(30.1, 30.2)),
    "no stop": plain_scene(stop=None),
    "arched": plain_scene(
        opening__arch=4.0, slab__arch=4.0, opening__height=(76.5, 76.5), slab__height=(75.75, 75.75)
    ),
    "undercut": plain_scene(slab__height=(78.0, 78.0)),
}


@cache
def mapped(name: str) -> MapData:
    return map_data(assemble(SCENES[name]))


@cache
def drawn(name: str) -> np.ndarray:
    return pixels(margin_figure(mapped(name), "caption"), 1100)


@pytest.mark.parametrize("name", SCENES)
def test_no_word_leaves_the_map_or_covers_another(name: str) -> None:
    figure = margin_figure(mapped(name), f"{name}: the caption")
    assert len(words_on(figure)) > 25
    assert misplaced(figure) == []


@settings(max_examples=6)
@given(st.integers(0, 10**6), st.sampled_from(["left", "right"]), st.sampled_from(["in", "mm"]))
def test_no_word_is_lost_on_any_opening(seed: int, hand: str, unit: str) -> None:
    scene = replace(random_opening(seed), hinges_on=hand, unit=unit)
    assert misplaced(margin_figure(map_data(assemble(scene)), scene.title)) == []


@pytest.mark.parametrize("name", SCENES)
def test_the_loud_colour_is_on_the_slab_where_it_overlaps_and_only_there(name: str) -> None:
    data, picture = mapped(name), drawn(name)
    assert picture.shape[1] == 1100
    assert tuple(picture[0, 0]) == (255, 255, 255)
    assert len(painted(picture, palette.SLAB.fill)) > 20_000
    # left of the colour scale, whose own swatch is always there
    loud = painted(picture[:, :600], palette.CONTACT)
    least = min(float(band.line.gaps.min()) for band in data.bands)
    assert len(loud) > 100 if least < 0 else len(loud) == 0


@pytest.mark.parametrize("name", SCENES)
def test_the_figures_are_the_checks(name: str) -> None:
    data = mapped(name)
    margins = check(SCENES[name]).margins
    told = " ".join(words for words, _ in words_on(margin_figure(data, "caption")))
    for band, gaps in zip(
        data.bands, (margins.hinge, margins.strike, margins.head, margins.bottom), strict=True
    ):
        assert band.line.gaps[list(band.told)].tolist() == list(gaps)
        for k, _ in told_places(band):
            assert length_text(abs(float(band.line.gaps[k])), data.unit) in told
        if not band.is_even:
            assert set(band.told) <= {k for k, _ in told_places(band)}


def test_the_least_and_the_most_are_called_out_wherever_they_are() -> None:
    band = mapped("uneven").hinge
    named = dict(told_places(band))
    assert "least" in named[band.least] and "most" in named[band.most]
    assert band.line.gaps[band.least] <= band.line.gaps.min() + 5e-4
    strike = mapped("overlaps").strike
    assert strike.least == STEPS // 2
    assert named != dict(told_places(strike))
    assert told_places(mapped("even").hinge)[0][1].endswith("all along")


def test_the_side_tells_the_least_of_all() -> None:
    data = mapped("uneven")
    told = dict(told_lines(data))
    sides = (data.hinge, data.strike, data.head)
    least = min(float(band.line.gaps.min()) for band in sides)
    assert told["least beside and over the slab"].startswith(gap_words(least, "in"))
    assert dict(told_lines(mapped("even")))["wide face, at the hinge leg's edge"] == "flush"
    stops = [name for name, _ in told_lines(mapped("no stop")) if "stop" in name]
    assert stops == []
    proud = map_data(assemble(plain_scene(hinge__slab__setbacks=(0.15,) * 3)))
    assert "proud" in dict(told_lines(proud))["wide face, at the hinge leg's edge"]


def test_an_overlap_is_told_as_one() -> None:
    assert gap_words(-1 / 32, "in") == "overlaps 1/32 in"
    data = mapped("overlaps")
    assert data.strike.line.gaps.min() < 0
    words = " ".join(line for line, _ in words_on(margin_figure(data, "caption")))
    assert "overlaps" in words and "strike margin, middle: least" in words


def test_dark_means_tight_so_that_no_hue_has_to_be_told_apart() -> None:
    light = [colour_of(code) @ [0.2126, 0.7152, 0.0722] for code in TINTS]
    assert (np.diff(light) > 15).all()
    for unit in ("in", "mm"):
        assert len(CLASSES[unit]) == len(TINTS)
        assert len(class_words(unit)) == len(TINTS) + 1
        starts = [gap_class(start, unit) for start in CLASSES[unit]]
        assert starts == list(range(len(TINTS)))
        assert gap_class(-1e-6, unit) == -1


def test_a_band_is_coloured_by_its_gap() -> None:
    gaps = np.array([0.01, 0.02, 0.05, 0.05, -0.1, -0.1])
    assert runs(gaps, "in") == [(0, 0, 1), (1, 1, 3), (-1, 3, 5)]
    data, picture = mapped("uneven"), drawn("uneven")
    shown = {kind for band in data.bands for kind, _, _ in runs(band.line.gaps, "in")}
    for kind, tint in enumerate(TINTS):
        found = len(painted(picture[:, :600], tint))
        assert found > 30 if kind in shown else found == 0, tint


def test_gaps_are_drawn_wide_and_alike() -> None:
    box = Box(x=0.0, y=0.0, width=6.0, height=9.0)
    for name in SCENES:
        scale = map_scale([mapped(name)], box)
        assert 3 < scale.times < 40
    both = map_scale([mapped("even"), mapped("undercut")], box)
    assert both.gap == map_scale([mapped("undercut")], box).gap


def test_the_hinges_are_on_their_own_side() -> None:
    for name, hand in (("even", 1), ("right, mm", -1)):
        boxes = words_on(margin_figure(mapped(name), "caption"))
        middle = {
            side: np.mean([box.x0 for words, box in boxes if words.startswith(f"{side} margin")])
            for side in ("hinge", "strike")
        }
        assert (middle["strike"] - middle["hinge"]) * hand > 0


@pytest.mark.parametrize("kind", ["pdf"])
def test_equal_maps_give_equal_files(kind: str) -> None:
    first = figure_bytes(margin_figure(mapped("uneven"), "caption"), kind, 900)
    assert first == figure_bytes(margin_figure(mapped("uneven"), "caption"), kind, 900)
