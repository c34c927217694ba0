"""The clearance chart: its lines are the clearances, its figures the check's."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, radians, sqrt

import numpy as np
import pytest

from swingcheck import palette
from swingcheck.geometry.booleans import gap_between
from swingcheck.render.chart.draw import contact_sentences
from swingcheck.render.chart.lines import LEAVES, angle_at_opening
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units import length_text
from tests.pictures import built, charted, drawn, found, painted, pixels


def test_the_contact_is_ringed_on_the_axis_at_its_angle() -> None:
    sheet, result = drawn("clearance", "pinches"), found("pinches")
    assert result.closing is not None
    picture, boxes = pixels(sheet.figure, 1500), sheet.boxes
    scale = 1500 / sheet.width
    # the scale's title starts where the scale does, and 90 is at its end
    closed = boxes["open, degrees"].x0 * scale
    wide = (boxes["90"].x0 + boxes["90"].x1) / 2 * scale
    wanted = closed + (wide - closed) * sqrt(degrees(result.closing.angle) / 90)
    zero = max((box for words, box in sheet.words if words == "0"), key=lambda box: box.y0)
    level = picture.shape[0] - (zero.y0 + zero.y1) / 2 * scale
    rows, columns = painted(picture, palette.CONTACT).T
    ring = np.hypot(columns - wanted, rows - level) < 22
    assert ring.sum() > 60
    assert columns[ring].mean() == pytest.approx(wanted, abs=2.0)
    assert rows[ring].mean() == pytest.approx(level, abs=4.0)  # a figure sits a little low


@pytest.mark.parametrize("name", ["swings", "drags"])
def test_a_line_is_the_distance_of_the_solids(name: str) -> None:
    assembly, data = built(name), charted(name)
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
    data, told = charted(name), drawn("clearance", name).boxes
    for line in data.lines:
        names = (
            [line.name]
            if line.name != LEAVES
            else [f"jamb leaf of the {k} hinge" for k in ("top", "middle", "bottom")]
        )
        least = min(c.least for c in found(name).clearances if c.against in names)
        if line.touches:
            assert "touches" in told
            continue
        assert line.least is not None and line.least.least == least
        assert length_text(least, data.unit) in told
        reached = line.distances[data.inside]
        assert reached.min() >= least - 1e-3


def test_a_chart_goes_as_far_as_the_slab_its_nearest_lowest_its_contact_told() -> None:
    for angle in (0.02, 0.3, 1.2):
        opening = opening_at_strike(built("swings"), angle)
        assert angle_at_opening(charted("swings"), opening) == pytest.approx(angle, abs=2e-3)
    assert charted("swings").reached == (0.0, pytest.approx(radians(90.0)))
    pinching, fouling = found("pinches").closing, found("fouls").opening
    assert pinching is not None and fouling is not None
    assert charted("pinches").reached[0] == pinching.angle
    assert charted("fouls").reached == (0.0, fouling.angle)
    assert charted("fouls").pose.touch == fouling
    assert len(charted("blocked").inside) == 1
    for name in ("swings", "pinches", "drags"):
        data = charted(name)
        stretches = data.nearest
        assert stretches[0].low == data.reached[0]
        assert stretches[-1].high == data.reached[1]
        for one, after in pairwise(stretches):
            assert one.high == after.low and one.line != after.line
        for stretch in stretches:
            middle = (stretch.low + stretch.high) / 2
            gaps = [np.interp(middle, data.angles, line.distances) for line in data.lines]
            assert gaps[stretch.line] <= min(gaps) + 2e-3
    sentences, angle = contact_sentences(charted("pinches"))
    assert sentences[0].startswith("Touches the hinge stop: ")
    assert len(sentences[0]) > len(sentences[1]) > len(sentences[2])
    assert angle == charted("pinches").reached[0]
    assert contact_sentences(charted("swings"))[0] == ()
    assert "Rests on" in contact_sentences(charted("rests"))[0][0]
    assert "Overlaps the floor" in contact_sentences(charted("blocked"))[0][0]
