"""The corners at true scale: an inch on the drawing is an inch of paper."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from swingcheck.render.pen.ink import page
from swingcheck.render.pen.page import figure_bytes
from swingcheck.render.pen.panel import Box
from swingcheck.render.plan.corners import corners_of
from swingcheck.render.plan.true_sheet import PAPERS
from swingcheck.units import length_text
from tests.pictures import drawn, scene_of, subject

DOTS = 600
WINDOW = Box(x=0.0, y=0.0, width=3.0, height=4.0)


@pytest.mark.parametrize("name", ["pinches", "thick"])
def test_an_inch_drawn_is_an_inch_of_paper(name: str) -> None:
    figure = drawn("corners", name).figure
    inches = figure.get_size_inches()
    assert tuple(inches) in {(paper.width, paper.height) for paper in PAPERS["letter"]}
    for axes in figure.axes:  # the heading, the key and the ruler too
        ends = axes.transData.transform([[0.0, 0.0], [1.0, 1.0]])
        assert np.abs(ends[1] - ends[0]) / figure.dpi == pytest.approx([1.0, 1.0], abs=1e-9)


def test_paper_is_as_large_as_needed_and_corners_measure_as_the_magnified_ones() -> None:
    small, large = PAPERS["letter"]
    assert drawn("corners", "pinches").figure.get_size_inches()[0] == small.width
    assert drawn("corners", "thick").figure.get_size_inches()[0] == large.width
    # ISO 216: A4 is 210 by 297 mm, A3 297 by 420
    sizes = [(paper.height * 25.4, paper.width * 25.4) for paper in PAPERS["a4"]]
    assert sizes == [pytest.approx((210.0, 297.0)), pytest.approx((297.0, 420.0))]
    png = figure_bytes(drawn("corners", "pinches").figure, "png", 1100)
    assert Image.open(io.BytesIO(png)).info["dpi"] == pytest.approx((100, 100), abs=0.1)
    for name, closed in (("pinches", True), ("strikes, right", False)):
        words = drawn("corners", name).told
        assert ("Strike corner, slab closed" in words) == closed
        assert words.count("True scale.") == 1
    for name in ("pinches", "swings, mm"):
        found, words = corners_of(subject(name), WINDOW), drawn("corners", name).told
        for gap in (found.hinge.margin.length, found.strike.margin.length):
            for part in length_text(gap, scene_of(name).unit).split(" ("):
                assert part in words


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no pdftoppm: install poppler-utils")
def test_the_printed_ruler_and_setback_measure_true(tmp_path: Path) -> None:
    # an independent renderer's dots, 600 to the inch (poppler's pdftoppm)
    file = tmp_path / "corners.pdf"
    pdf = figure_bytes(drawn("corners", "pinches").figure, "pdf")
    assert b"/MediaBox [ 0 0 792 612 ]" in pdf  # 11 by 8 1/2 in, 72 units to the inch
    file.write_bytes(pdf)
    foot = ["-y", str(round(7.3 * DOTS)), "-H", str(round(1.2 * DOTS)), "-W", str(11 * DOTS)]
    run = ["pdftoppm", "-r", str(DOTS), "-gray", *foot, str(file)]
    printed = subprocess.run(run, check=True, capture_output=True, timeout=60).stdout
    dots = np.asarray(Image.open(io.BytesIO(printed))) < 128
    lengths = [longest_run(row) for row in dots]
    # the ruler's line ends in the middle of its end ticks, 0.6 points wide
    assert max(lengths) / DOTS == pytest.approx(6.0 + 0.6 / 72, abs=2 / DOTS)


def longest_run(dark: np.ndarray) -> int:
    """Return how many dots of a row are dark in one run at most."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], dark, [False]]).astype(int)))
    return int((edges[1::2] - edges[::2]).max()) if len(edges) else 0


def test_the_pin_is_where_it_is_off_the_jamb() -> None:
    figure = drawn("corners", "pinches").figure
    found = corners_of(subject("pinches"), WINDOW)
    window = next(axes for axes in figure.axes if axes.get_xlim()[0] < -1.0)
    pin, edge = (
        window.transData.transform(page(point))
        for point in (found.hinge.pin, found.hinge.margin.start)
    )
    across, out = (pin - edge) / figure.dpi
    # closed form: x = -dj + t + q/2 from the leg's face, y = -D + sj + l from the jamb's edge
    assert across == pytest.approx(-0.097 + 0.097 + 0.0625 / 2, abs=1e-9)
    assert -out == pytest.approx(found.hinge.pin[1] - found.hinge.margin.start[1], abs=1e-9)
    assert found.hinge.pin[1] == pytest.approx(-1.4375 + 0.28125 + 1.75, abs=1e-9)
