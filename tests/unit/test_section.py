"""A solid's horizontal section against closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from swingcheck.geometry.section import horizontal_section
from swingcheck.geometry.solid import Solid
from tests.shapes import box, enclosed_area, less, loft, prism

BEVELLED = np.array([(0, 0), (0.05, -1.375), (29.8, -1.375), (29.875, 0)])
# trapezoid: (29.875 + 29.75) / 2 x 1.375
PLAN = 29.8125 * 1.375


def test_a_prism_and_a_taper_are_cut_to_their_plans() -> None:
    solid = prism(BEVELLED, 0.0, 80.0)
    for height in (1e-9, 17.0, 40.0, 79.999):
        (outline,) = horizontal_section(solid, height)
        assert len(outline) == 4
        assert {tuple(p) for p in (outline.round(7) + 0.0)} == {tuple(p) for p in BEVELLED}
        assert enclosed_area([outline]) == pytest.approx(PLAN)
    assert enclosed_area(horizontal_section(solid, 0.0)) == pytest.approx(PLAN)
    for height in (80.0, 80.0001, -3.0):
        assert horizontal_section(solid, height) == ()
    # frustum of a square: side 4 at the bottom, 2 at the top, so 3 half-way
    low = np.array([(-2.0, -2), (2, -2), (2, 2), (-2, 2)])
    assert enclosed_area(horizontal_section(loft([low, low / 2], [0, 5]), 2.5)) == pytest.approx(9)


@pytest.mark.parametrize(
    ("cutter", "areas"),
    [
        # a bore: outlines run counter-clockwise and holes clockwise
        (box([4.0, 0.5, -5.0], [5.0, 1.5, 15.0]), [-1.0, 20.0]),
        # a slot through: two outlines
        (box([4.0, -1.0, 4.0], [5.0, 3.0, 6.0]), [8.0, 10.0]),
        # nothing at that height
        (box([4.0, -1.0, 6.0], [5.0, 3.0, 8.0]), [20.0]),
    ],
)
def test_each_outline_encloses_its_own_area(cutter: Solid, areas: list[float]) -> None:
    cut = horizontal_section(less(box([0, 0, 0], [10, 2, 10]), cutter), 5.0)
    assert sorted(enclosed_area([outline]) for outline in cut) == pytest.approx(areas)
    assert enclosed_area(cut) == pytest.approx(sum(areas))
