"""The margin map: its figures are the check's, its colours mean gaps."""

from __future__ import annotations

import numpy as np
import pytest

from swingcheck.assembly import assemble
from swingcheck.render.margins.bands import (
    CLASSES,
    STEPS,
    TINTS,
    class_words,
    gap_class,
    map_data,
    runs,
)
from swingcheck.render.margins.sheet import map_scale, told_lines, told_places
from swingcheck.render.pen.panel import Box
from swingcheck.render.pen.words import gap_words
from swingcheck.units import length_text
from tests.factory import plain_scene
from tests.pictures import colour_of, drawn, found, mapped, painted

SCENES = ("uneven", "overlaps", "right, mm", "no stop", "arched")


@pytest.mark.parametrize("name", SCENES)
def test_the_figures_are_the_checks(name: str) -> None:
    data, margins, told = mapped(name), found(name).margins, drawn("margins", name).told
    for band, gaps in zip(
        data.bands, (margins.hinge, margins.strike, margins.head, margins.bottom), strict=True
    ):
        assert band.line.gaps[list(band.told)].tolist() == list(gaps)
        for k, _ in told_places(band):
            assert length_text(abs(float(band.line.gaps[k])), data.unit) in told
        if not band.is_even:
            assert set(band.told) <= {k for k, _ in told_places(band)}


def test_the_least_the_most_and_overlaps_are_told_and_gaps_drawn_wide() -> None:
    band = mapped("uneven").hinge
    named = dict(told_places(band))
    assert "least" in named[band.least] and "most" in named[band.most]
    assert band.line.gaps[band.least] <= band.line.gaps.min() + 5e-4
    strike = mapped("overlaps").strike
    assert strike.least == STEPS // 2
    assert named != dict(told_places(strike))
    assert told_places(mapped("swings").hinge)[0][1].endswith("all along")
    box = Box(x=0.0, y=0.0, width=6.0, height=9.0)
    for name in SCENES:
        scale = map_scale([mapped(name)], box)
        assert 3 < scale.times < 40
    both = map_scale([mapped("swings"), mapped("undercut")], box)
    assert both.gap == map_scale([mapped("undercut")], box).gap
    data = mapped("uneven")
    told = dict(told_lines(data))
    sides = (data.hinge, data.strike, data.head)
    least = min(float(band.line.gaps.min()) for band in sides)
    assert told["least beside and over the slab"].startswith(gap_words(least, "in"))
    assert dict(told_lines(mapped("swings")))["wide face, at the hinge leg's edge"] == "flush"
    stops = [name for name, _ in told_lines(mapped("no stop")) if "stop" in name]
    assert stops == []
    proud = map_data(assemble(plain_scene(hinge__slab__setbacks=(0.15,) * 3)))
    assert "proud" in dict(told_lines(proud))["wide face, at the hinge leg's edge"]
    assert gap_words(-1 / 32, "in") == "overlaps 1/32 in"
    data = mapped("overlaps")
    assert data.strike.line.gaps.min() < 0
    words = drawn("margins", "overlaps").told
    assert "overlaps" in words and "strike margin, middle: least" in words


def test_a_band_is_coloured_by_its_gap_and_dark_means_tight() -> None:
    light = [colour_of(code) @ [0.2126, 0.7152, 0.0722] for code in TINTS]
    assert (np.diff(light) > 15).all()
    for unit in ("in", "mm"):
        assert len(CLASSES[unit]) == len(TINTS)
        assert len(class_words(unit)) == len(TINTS) + 1
        starts = [gap_class(start, unit) for start in CLASSES[unit]]
        assert starts == list(range(len(TINTS)))
        assert gap_class(-1e-6, unit) == -1
    gaps = np.array([0.01, 0.02, 0.05, 0.05, -0.1, -0.1])
    assert runs(gaps, "in") == [(0, 0, 1), (1, 1, 3), (-1, 3, 5)]
    data, picture = mapped("uneven"), drawn("margins", "uneven").picture
    shown = {kind for band in data.bands for kind, _, _ in runs(band.line.gaps, "in")}
    for kind, tint in enumerate(TINTS):
        found = len(painted(picture[:, :545], tint))
        assert found > 30 if kind in shown else found == 0, tint
