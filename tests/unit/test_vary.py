"""Whole ranges of one or two dimensions: their answers, where they are worked out, and tables."""

from __future__ import annotations

import csv
import json
import sys
from functools import cache
from io import StringIO
from itertools import combinations
from math import degrees, radians
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

import swingcheck as sc
from swingcheck.chance.batches import can_plan
from swingcheck.chance.measurements import measurement
from swingcheck.chance.outcomes import KINDS, VERDICTS
from swingcheck.chance.vary import Over, Varied, corner_scenes, over, vary
from swingcheck.errors import GeometryError, MissingExtraError, SceneError, WorkError
from swingcheck.model import Obstacle, Scene
from swingcheck.render.map.draw import AXES, variation_figure
from swingcheck.render.map.sheet import INKS
from swingcheck.render.pen.page import WIDTH
from swingcheck.report.chance import variants_csv, variants_data, write_parquet
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from tests.browser import looks_like
from tests.commands import CLOSET
from tests.factory import linen_closet, plain_scene
from tests.pictures import pixels

Floats = NDArray[np.float64]


def ranged(scene: Scene, key: str, low: float, high: float, step: float) -> Over:
    return over(measurement(scene, key, free=False), low, high, step)


@cache
def pinching_map(scene: Scene = plain_scene(opening__width=(30.02,))) -> Varied:  # noqa: B008
    """Return a map that swings, pinches, strikes and is hinge-bound."""
    setbacks = ranged(scene, "hinge.slab.setback", 3 / 16, 3 / 8, 1 / 64)
    twists = ranged(scene, "opening.hinge_leg.twist", radians(-3), radians(5), radians(0.5))
    return vary(scene, [setbacks, twists])


# The answers.


@pytest.mark.parametrize("full", [False, True])
def test_every_variant_is_what_check_says_of_the_same_setting(full: bool) -> None:
    scene = read_scene(CLOSET)
    overs = [
        ranged(scene, "hinge.slab.setback", 1 / 4, 3 / 8, 1 / 16),
        ranged(scene, "slab.width", 29.875, 30.125, 1 / 8),
    ]
    varied = vary(scene, overs, full=full)
    assert varied.answered.in_plan is not full and varied.shape == (3, 3)
    seen = set()
    for k, (setback, width) in enumerate(varied.values.tolist()):
        typed = [("hinge.slab.setback", f"{setback!r} in"), ("slab.width", f"{width!r} in")]
        alone = check(read_scene(CLOSET, settings=typed))
        word = VERDICTS[varied.outcomes.verdict[k]]
        seen.add(word)
        assert word is alone.verdict
        angle = alone.closing.angle if alone.closing and word is not Verdict.SWINGS else np.nan
        assert varied.outcomes.angle[k] == pytest.approx(angle, abs=1e-9, nan_ok=True)
        assert varied.outcomes.strike_margin[k] == pytest.approx(alone.margins.strike[1], abs=1e-9)
        if word is not Verdict.SWINGS and alone.closing is not None:
            assert KINDS[varied.outcomes.against[k]] is alone.closing.against_kind
            short = alone.closing.opening_at_strike
            assert varied.outcomes.short[k] == pytest.approx(short, abs=1e-9)
    assert {Verdict.SWINGS, Verdict.PINCHES, Verdict.STRIKES} <= seen


def test_what_a_plan_does_not_show_is_swung_in_full_as_is_a_measured_frame() -> None:
    scene = linen_closet()
    varied = vary(scene, [ranged(scene, "hinge.slab.setback", 1 / 4, 3 / 8, 1 / 8)])
    assert not varied.answered.in_plan
    for setback, verdict in zip(varied.values[:, 0], varied.outcomes.verdict, strict=True):
        alone = check(
            measurement(scene, "hinge.slab.setback", free=False).changed(scene, float(setback))
        )
        assert VERDICTS[verdict] is alone.verdict
    scene = plain_scene()
    for key in ("slab.head_margin", "slab.height", "hinge.slab.setback.top", "hinge.screw_proud"):
        assert not can_plan(scene, [measurement(scene, key, free=False)])
    for key in ("hinge.slab.setback", "opening.rabbet", "opening.width", "stop.projection"):
        assert can_plan(scene, [measurement(scene, key, free=False)])


def test_a_stop_that_is_moved_leaves_the_mortises_and_either_order_ends_alike() -> None:
    """The rabbet takes the jamb's setback along; varied together both end at their values."""
    scene = plain_scene()
    rabbet = ranged(scene, "opening.rabbet.hinge", 1.375, 1.5, 1 / 16)
    setback = ranged(scene, "hinge.jamb.setback", 1 / 4, 3 / 8, 1 / 16)
    one, other = vary(scene, [rabbet, setback]), vary(scene, [setback, rabbet])
    full = vary(scene, [setback, rabbet], full=True)
    for name in ("angle", "hinge_stop"):
        first = getattr(one.outcomes, name).reshape(3, 3)
        second = getattr(other.outcomes, name).reshape(3, 3)
        assert np.allclose(first, second.T, atol=1e-12, equal_nan=True)
        assert np.allclose(second.ravel(), getattr(full.outcomes, name), atol=1e-9, equal_nan=True)
    for corner, (sides, stop) in corner_scenes(scene, [setback, rabbet]):
        assert corner.opening.rabbet.hinge == (stop,)
        assert corner.hinge.jamb.setbacks == (sides,) * 3
    alone = vary(scene, [rabbet])
    assert np.allclose(np.diff(alone.outcomes.hinge_stop), 1 / 16, atol=1e-3)


def test_keys_and_ends_that_can_be_varied_and_those_that_cannot() -> None:
    scene = plain_scene()
    top, bottom = (
        ranged(scene, f"hinge.slab.setback.{end}", 0.25, 0.3125, 1 / 16)
        for end in ("top", "bottom")
    )
    assert vary(scene, [top, bottom]).shape == (2, 2)
    with pytest.raises(SceneError, match=r"another measurement than hinge\.slab\.setback\.top"):
        vary(scene, [top, ranged(scene, "hinge.slab.setback", 0.25, 0.3125, 1 / 16)])
    with pytest.raises(SceneError, match=r"did you mean hinge\.slab\.setback\?"):
        measurement(plain_scene(), "slab.setback", free=False)
    with pytest.raises(SceneError, match="there is no stop"):
        measurement(plain_scene(stop=None), "stop.projection", free=False)


def test_steps_end_where_they_should_and_too_many_are_refused() -> None:
    scene = plain_scene()
    fine = ranged(scene, "hinge.slab.setback", 0.2, 0.3, 1e-4)
    with pytest.raises(SceneError, match=r"1,001 by 1,001, 1,002,001 variants.*at most 250,000"):
        vary(scene, [fine, ranged(scene, "slab.width", 29.8, 29.9, 1e-4)])
    with pytest.raises(SceneError, match="at most 100,000 at a time"):
        vary(linen_closet(), [fine, ranged(scene, "slab.width", 29.8, 29.9, 9e-4)])
    with pytest.raises(SceneError, match="at most 20,000 at a time"):
        screwed = linen_closet(hinge__screw_proud=0.01)
        vary(screwed, [fine, ranged(scene, "slab.width", 29.8, 29.9, 2e-3)])
    values = ranged(scene, "hinge.slab.setback", 1 / 8, 3 / 8, 1 / 64).values
    assert values[0] == 1 / 8 and values[-1] == 3 / 8 and len(values) == 17
    assert ranged(scene, "hinge.slab.setback", 0.1, 0.2, 0.03).values[-1] == pytest.approx(0.19)
    corners = corner_scenes(scene, [ranged(scene, "slab.width", 29.5, 30.0, 0.25)])
    assert [corner.slab.width for corner, _ in corners] == [(29.5,), (30.0,)]


def test_a_variant_that_cannot_be_built_and_an_extra_that_is_missing_are_named(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def refuse(*args: object) -> None:
        raise GeometryError("jamb leaf", "nothing is left of it")

    monkeypatch.setattr("swingcheck.chance.batches.trial", refuse)
    scene = plain_scene()
    setbacks = ranged(scene, "hinge.slab.setback", 1 / 4, 3 / 4, 1 / 64)
    with pytest.raises(WorkError, match=r"hinge\.slab\.setback = 1/4 in: jamb leaf: nothing"):
        vary(scene, [setbacks], full=True)
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(MissingExtraError, match=r"pip install 'swingcheck\[table\]'"):
        write_parquet(pinching_map(), tmp_path / "map.parquet")


# Tables.


def test_the_table_and_the_data_have_a_row_a_variant_in_inches_and_degrees() -> None:
    varied = pinching_map()
    rows = list(csv.DictReader(StringIO(variants_csv(varied))))
    assert len(rows) == 13 * 17
    for row, values, k in zip(rows, varied.values, varied.outcomes.verdict, strict=True):
        assert float(row["hinge.slab.setback_in"]) == pytest.approx(values[0], abs=1e-9)
        twist = float(row["opening.hinge_leg.twist_deg"])
        assert twist == pytest.approx(degrees(values[1]), abs=1e-9)
        assert row["verdict"] == VERDICTS[k].value
        assert (row["angle_deg"] == "") == (row["verdict"] == "swings")
    pinch = next(row for row in rows if row["verdict"] == "pinches")
    assert pinch["against"] == "hinge stop" and float(pinch["opening_at_strike_in"]) > 0
    data = json.loads(json.dumps(variants_data(pinching_map()), allow_nan=False))
    assert data["schema"] == "swingcheck.vary/1" and data["in_plan"]
    assert [each["key"] for each in data["over"]] == [
        "hinge.slab.setback",
        "opening.hinge_leg.twist",
    ]
    assert data["over"][0]["now"] == 0.25 and data["over"][1]["now"] == 0.0
    assert {len(column) for column in data["columns"].values()} == {13 * 17}


def test_a_parquet_table_reads_back_as_the_csv(tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    varied = pinching_map(plain_scene(stop=None))
    write_parquet(varied, tmp_path / "map.parquet")
    table = parquet.read_table(tmp_path / "map.parquet")
    rows = list(csv.DictReader(StringIO(variants_csv(varied))))
    assert table.num_rows == len(rows) and table.column_names == list(rows[0])
    assert table.column("verdict").to_pylist() == [row["verdict"] for row in rows]
    margins = table.column("strike_margin_in").to_pylist()
    assert margins == pytest.approx([float(row["strike_margin_in"]) for row in rows])
    assert table.column("hinge_stop_in").to_pylist() == [None] * len(rows)
    assert table.schema.metadata[b"scene"] == b"Linen closet"


# Pictures.


def test_a_map_shows_each_verdict_as_large_as_it_is() -> None:
    varied = pinching_map()
    picture = pixels(sc.draw_map(varied))
    tall, wide = picture.shape[:2]
    assert wide == 2000
    ground = AXES[0] * AXES[1] / (WIDTH * WIDTH * tall / wide)
    for k, word in enumerate(VERDICTS):
        share = float((varied.outcomes.verdict == k).mean()) * ground
        shown = looks_like(picture, INKS[word.value].fill, 5).mean()
        # Words, lines and hatching cover some of it; the key shows a little more.
        assert 0.6 * share - 0.012 <= shown <= 1.02 * share + 0.004, word
    assert len(np.unique(varied.outcomes.verdict)) >= 3


def test_pictures_are_drawn_the_same_in_inks_that_differ() -> None:
    """Lightness by the luma of ITU-R BT.601 (from memory): what a grey print keeps."""
    lights = {}
    for word, ink in INKS.items():
        red, green, blue = (int(ink.fill[k : k + 2], 16) for k in (1, 3, 5))
        lights[word] = 0.299 * red + 0.587 * green + 0.114 * blue
        if word != Verdict.SWINGS.value:
            assert red > green > blue
    for one, other in combinations(INKS, 2):
        apart = abs(lights[one] - lights[other])
        assert apart > 20 or INKS[one].hatch != INKS[other].hatch, (one, other)
    scene = plain_scene(opening__width=(30.02,))
    curve = vary(scene, [ranged(scene, "hinge.slab.setback", 3 / 16, 3 / 8, 1 / 64)])
    found = pinching_map()
    drawn = [
        sc.draw_map(varied, show, "svg")
        for varied, show in zip((curve, found, found), ("short", "angle", "margin"), strict=True)
    ]
    assert all(svg.startswith(b"<?xml") for svg in drawn) and len(set(drawn)) == 3
    assert sc.draw_map(curve, "short", "svg") == drawn[0]


def words_of(varied: Varied, show: str, **more: str) -> str:
    """Return every text of a picture, one a line."""
    figure = variation_figure(varied, show, **more)
    axes = figure.axes
    texts = [text.get_text() for text in figure.texts]
    texts += [text.get_text() for each in axes for text in each.texts]
    for each in axes:
        texts += [tick.get_text() for tick in (*each.get_xticklabels(), *each.get_yticklabels())]
        texts += [each.get_xlabel(), each.get_ylabel(), each.get_title()]
    return "\n".join(texts)


def test_a_map_is_lettered_in_its_unit_with_the_verdicts_and_now() -> None:
    words = words_of(pinching_map(), "verdict").splitlines()
    assert {"3/16", "1/4", "5/16", "3/8", "now", "swings", "pinches", "hinge-bound"} <= set(words)
    assert "Setback of the slab's leaves, inches" in words
    assert "Twist of the hinge leg, degrees" in words
    title = "Linen closet: Where it swings, and what stops it elsewhere"
    assert title in " ".join(words)
    words = words_of(pinching_map(), "short", unit="mm").splitlines()
    assert "Setback of the slab's leaves, millimetres" in words and "millimetres" in words
    assert {"5", "6", "7", "8", "9"} <= set(words)


def test_a_map_with_nothing_in_the_way_or_nothing_that_swings_is_drawn() -> None:
    scene = plain_scene()
    free = vary(scene, [ranged(scene, "hinge.slab.setback", 1 / 8, 1 / 4, 1 / 64)])
    assert free.outcomes.swings.all()
    stuck = vary(scene, [ranged(scene, "hinge.slab.setback", 3 / 8, 1 / 2, 1 / 64)])
    assert not stuck.outcomes.swings.any()
    for varied in (free, stuck):
        for show in ("verdict", "angle", "short", "margin"):
            assert "Setback of the slab's leaves" in words_of(varied, show)
    wardrobe = Obstacle(name="wardrobe", corner=(-30.0, 20.0, 0.0), size=(28.0, 20.0, 60.0))
    crowded = plain_scene(obstacles=(wardrobe,), swing__wanted=radians(150))
    fouls = vary(crowded, [ranged(crowded, "hinge.slab.setback", 1 / 8, 1 / 4, 1 / 8)])
    assert {VERDICTS[k] for k in fouls.outcomes.verdict} == {Verdict.FOULS}
    assert np.isnan(fouls.outcomes.short).all()
    depths = ranged(crowded, "hinge.jamb.depth", 0.08, 0.1, 0.02)
    for varied in (fouls, vary(crowded, [fouls.overs[0], depths])):
        for show in ("angle", "short"):
            assert "fouls" in words_of(varied, show).splitlines()
    widths = ranged(scene, "slab.width", 29.8, 29.9, 1 / 64)
    for setbacks in (free.overs[0], stuck.overs[0]):
        assert "Width of the slab" in words_of(vary(scene, [setbacks, widths]), "short")
