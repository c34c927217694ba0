"""The clearance chart: its lines are the clearances, its figures the check's, its words apart."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from math import degrees, radians, sqrt

import numpy as np
import pytest

from swingcheck import palette
from swingcheck.assembly import Assembly, PartKind, assemble
from swingcheck.geometry.booleans import gap_between
from swingcheck.model import Floor, Obstacle, Scene
from swingcheck.render.chart.draw import chart_figure, contact_sentences
from swingcheck.render.chart.lines import LEAVES, ChartData, angle_at_opening, chart_data
from swingcheck.render.pen.page import figure_bytes
from swingcheck.swing.check import check
from swingcheck.swing.found import Found
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units import length_text
from tests.factory import CASING, SQUARE, plain_scene
from tests.openings import random_opening
from tests.pictures import TIGHT, misplaced, painted, pixels, shown, words_on

SOFA = Obstacle(name="sofa", corner=(-20.0, 15.0, 0.0), size=(30.0, 30.0, 30.0))

SCENES: dict[str, Scene] = {
    "swings": plain_scene(casing=CASING),
    "rests": plain_scene(
        slab__hinge_edge=SQUARE, slab__strike_edge=SQUARE, hinge__jamb__setbacks=(0.25,) * 3
    ),
    "pinches": plain_scene(**TIGHT),
    "strikes, mm": plain_scene(unit="mm", slab__width=(30.0,), slab__strike_edge=SQUARE),
    "drags": plain_scene(floor=Floor(across=-0.0195)),
    "blocked": plain_scene(floor=Floor(covering=0.75)),
    "fouls": plain_scene(swing__start=radians(45.0), obstacles=(SOFA,)),
    "no stop": plain_scene(stop=None, hinges_on="right"),
}


@cache
def charted(name: str) -> tuple[Assembly, Found, ChartData]:
    assembly, result = assemble(SCENES[name]), check(SCENES[name])
    return assembly, result, chart_data(shown(SCENES[name]))


@pytest.mark.parametrize("name", SCENES)
def test_no_word_leaves_the_chart_or_covers_another(name: str) -> None:
    figure = chart_figure(charted(name)[2], f"{name}: the caption")
    assert len(words_on(figure)) > 25
    assert misplaced(figure) == []


@pytest.mark.parametrize("seed", range(2))
def test_no_word_is_lost_on_any_opening(seed: int) -> None:
    scene = random_opening(seed)
    data = chart_data(shown(scene))
    assert misplaced(chart_figure(data, scene.title)) == []


@pytest.mark.parametrize("name", SCENES)
def test_the_loud_colour_is_on_the_chart_where_something_touches_and_only_there(name: str) -> None:
    _, _, data = charted(name)
    picture = pixels(chart_figure(data, "caption"))
    assert picture.shape[1] == 1000
    assert tuple(picture[0, 0]) == (255, 255, 255)
    assert 0.02 < (picture.sum(axis=2) < 700).mean() < 0.6
    loud = len(painted(picture, palette.CONTACT))
    touching = data.pose.at is not None and not data.pose.seated
    assert loud > 200 if touching else loud == 0
    assert len(painted(picture, palette.SEAT)) > 200 or not data.pose.seated


def test_the_contact_is_ringed_on_the_axis_at_its_angle() -> None:
    _, result, data = charted("pinches")
    assert result.closing is not None
    picture = pixels(chart_figure(data, "caption"), 1500)
    figure = chart_figure(data, "caption")
    written = words_on(figure)
    boxes = dict(written)
    scale = 1500 / figure.bbox.width
    # the scale's title starts where the scale does, and 90 is at its end
    closed = boxes["open, degrees"].x0 * scale
    wide = (boxes["90"].x0 + boxes["90"].x1) / 2 * scale
    wanted = closed + (wide - closed) * sqrt(degrees(result.closing.angle) / 90)
    zero = max((box for words, box in written if words == "0"), key=lambda box: box.y0)
    level = picture.shape[0] - (zero.y0 + zero.y1) / 2 * scale
    rows, columns = painted(picture, palette.CONTACT).T
    ring = np.hypot(columns - wanted, rows - level) < 22
    assert ring.sum() > 60
    assert columns[ring].mean() == pytest.approx(wanted, abs=2.0)
    assert rows[ring].mean() == pytest.approx(level, abs=4.0)  # a figure sits a little low


@pytest.mark.parametrize("name", ["swings", "drags"])
def test_a_line_is_the_distance_of_the_solids(name: str) -> None:
    assembly, _, data = charted(name)
    fixed = {part.name: part.solid for part in assembly.fixed}
    for k in (3, len(data.angles) // 2, len(data.angles) - 2):
        movers = [assembly.axis.turned(p.solid, float(data.angles[k])) for p in assembly.moving]
        for line in data.lines:
            if line.name == LEAVES or line.distances[k] > 0.6:
                continue
            distance = min(gap_between(m, fixed[line.name], within=1.0) for m in movers)
            assert line.distances[k] == pytest.approx(distance, abs=1e-9), line.name


@pytest.mark.parametrize("name", ["swings", "pinches", "strikes, mm", "fouls"])
def test_the_figures_are_the_checks(name: str) -> None:
    _, result, data = charted(name)
    told = [line for line, _ in words_on(chart_figure(data, "caption"))]
    for line in data.lines:
        names = (
            [line.name]
            if line.name != LEAVES
            else [f"jamb leaf of the {k} hinge" for k in ("top", "middle", "bottom")]
        )
        least = min(c.least for c in result.clearances if c.against in names)
        if line.touches:
            assert "touches" in told
            continue
        assert line.least is not None and line.least.least == least
        assert length_text(least, data.unit) in told
        reached = line.distances[data.inside]
        assert reached.min() >= least - 1e-3


def test_the_nearest_part_is_the_one_whose_line_is_lowest() -> None:
    for name in ("swings", "pinches", "drags"):
        _, _, data = charted(name)
        stretches = data.nearest
        assert stretches[0].low == data.reached[0]
        assert stretches[-1].high == data.reached[1]
        for one, after in pairwise(stretches):
            assert one.high == after.low and one.line != after.line
        for stretch in stretches:
            middle = (stretch.low + stretch.high) / 2
            gaps = [np.interp(middle, data.angles, line.distances) for line in data.lines]
            assert gaps[stretch.line] <= min(gaps) + 2e-3


def test_the_second_scale_is_the_opening_at_the_strike_edge() -> None:
    assembly, _, data = charted("swings")
    for angle in (0.02, 0.3, 1.2):
        opening = opening_at_strike(assembly, angle)
        assert angle_at_opening(data, opening) == pytest.approx(angle, abs=2e-3)


def test_a_slab_is_charted_as_far_as_it_goes() -> None:
    assert charted("swings")[2].reached == (0.0, pytest.approx(radians(90.0)))
    result, data = charted("pinches")[1:]
    assert result.closing is not None
    assert data.reached[0] == result.closing.angle
    result, data = charted("fouls")[1:]
    assert result.opening is not None
    assert data.reached == (0.0, result.opening.angle)
    assert data.pose.touch == result.opening
    assert len(charted("blocked")[2].inside) == 1


def test_the_contact_is_told_in_a_line_and_in_a_shorter_one() -> None:
    sentences, angle = contact_sentences(charted("pinches")[2])
    assert sentences[0].startswith("Touches the hinge stop: ")
    assert len(sentences[0]) > len(sentences[1]) > len(sentences[2])
    assert angle == charted("pinches")[2].reached[0]
    assert contact_sentences(charted("swings")[2])[0] == ()
    assert "Rests on" in contact_sentences(charted("rests")[2])[0][0]
    assert "Overlaps the floor" in contact_sentences(charted("blocked")[2])[0][0]


def test_parts_of_one_material_are_told_apart_by_their_dashes() -> None:
    for kinds in (
        (PartKind.HINGE_LEG, PartKind.STRIKE_LEG, PartKind.HEAD),
        (PartKind.HINGE_STOP, PartKind.STRIKE_STOP, PartKind.HEAD_STOP),
    ):
        assert len({palette.LINES[kind][1] for kind in kinds}) == 3
        assert len({palette.LINES[kind][0] for kind in kinds}) == 1
    assert palette.CONTACT not in {color for color, _ in palette.LINES.values()}


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_equal_charts_give_equal_files(kind: str) -> None:
    data = charted("pinches")[2]
    first = figure_bytes(chart_figure(data, "caption"), kind, 900)
    assert first == figure_bytes(chart_figure(data, "caption"), kind, 900)
