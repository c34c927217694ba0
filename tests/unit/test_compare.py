"""Two scenes side by side: one scale, each its own verdict, the contact where it is."""

from __future__ import annotations

import numpy as np
import pytest

from swingcheck.geometry.booleans import gap_between
from swingcheck.render.compare import (
    MARGINS,
    clipped_outline,
    common_views,
    compare_figure,
    differing,
)
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.panel import Box, View
from swingcheck.render.plan.corners import corners_of
from swingcheck.units import length_text
from tests.pictures import compared, drawn, misplaced, words_on

WINDOW = Box(x=0.0, y=0.0, width=4.0, height=4.4)


def test_each_side_has_its_own_verdict_and_stands_at_its_own_contact() -> None:
    sheet = drawn("compare", "square, bevelled")
    middle, boxes = sheet.width / 2, sheet.boxes
    assert boxes["Linen closet: STRIKES"].x1 < middle
    assert boxes["Linen closet: SWINGS"].x0 > middle
    assert boxes["scene 0"].x1 < middle < boxes["scene 1"].x0
    first, second = compared("two that touch")
    assert first.subject.pose.angle == first.subject.ends.closing.angle  # type: ignore[union-attr]
    assert second.subject.pose.angle == second.subject.ends.closing.angle  # type: ignore[union-attr]
    asked = compared("two that touch", 0.4)
    assert [side.subject.pose.angle for side in asked] == [0.4, 0.4]


def test_a_slab_that_touches_nothing_stands_where_the_other_touches_if_that_is_there() -> None:
    first, second = compared("square, bevelled")
    assert first.subject.pose.touch is not None
    assert second.subject.pose.touch is None
    assert second.subject.pose.angle == first.subject.pose.angle
    assembly = second.subject.assembly
    (leg,) = [part.solid for part in assembly.fixed if part.name == "strike leg"]
    turned = [assembly.axis.turned(p.solid, first.subject.pose.angle) for p in assembly.moving]
    gap = min(gap_between(solid, leg, within=1.0) for solid in turned)
    assert f"it clears the strike leg by {length_text(gap)}" in second.moment
    assert "first contact" in first.moment
    first, second = compared("fouls")
    assert first.subject.pose.touch is not None and first.subject.pose.touch.against == "sofa"
    assert "there is no sofa to touch" in second.moment


@pytest.mark.parametrize("name", ["square, bevelled", "another opening"])
def test_both_sides_have_one_scale_and_the_jamb_at_one_place(name: str) -> None:
    sides = compared(name)
    both = [corners_of(side.subject, WINDOW) for side in sides]
    for letter, key in (("A", "hinge"), ("B", "strike")):
        views = common_views(both[0], both[1], letter, WINDOW)
        assert views[0].scale == views[1].scale
        edges = [page(getattr(corners, key).margin.start) for corners in both]
        assert views[0].low - edges[0] == pytest.approx(views[1].low - edges[1], abs=1e-9)
        for view, corners in zip(views, both, strict=True):
            own = corners.details["AB".index(letter)].view
            assert (view.low <= own.low + 1e-9).all() and (view.high >= own.high - 1e-9).all()


def test_charts_and_maps_have_one_scale_and_outlines_are_clipped() -> None:
    sheet = drawn("compare", "square, bevelled")
    half = sheet.width / 2
    ends = [(words, box) for words, box in sheet.words if words in ("90", "1/2 in", "45")]
    left = sorted((w, round(b.x0), round(b.y0)) for w, b in ends if b.x0 < half)
    right = sorted((w, round(b.x0), round(b.y0)) for w, b in ends if b.x0 > half)
    assert len(left) >= 2
    shift = {after[1] - before[1] for before, after in zip(left, right, strict=True)}
    assert max(shift) - min(shift) <= 1
    assert [each[::2] for each in left] == [each[::2] for each in right]
    figure = compare_figure(compared("another opening"), (MARGINS,))
    assert misplaced(figure) == []
    words = [line for line, _ in words_on(figure)]
    assert words.count("overlaps") == 1
    scales = {
        round(
            axes.transData.transform([[0, 0], [1, 0]])[1][0]
            - axes.transData.transform([[0, 0], [1, 0]])[0][0],
            6,
        )
        for axes in figure.axes
        if axes.get_xlim()[1] - axes.get_xlim()[0] > 30.0
    }
    assert len(scales) == 1
    for name, letters in (
        ("square, bevelled", ("B",)),
        ("two alike", ("A", "B")),
        ("two that touch", ("A", "B")),
        ("pinches, swings", ("A", "B")),
    ):
        sides = compared(name)
        first, second = (corners_of(side.subject, WINDOW) for side in sides)
        assert tuple(differing(first, second)) == letters
    view = View(low=np.array([0.0, 0.0]), high=np.array([2.0, 1.0]), scale=1.0)
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 3.0], [-1.0, 3.0]])
    kept = clipped_outline(square, view)
    assert kept.min(axis=0).tolist() == [0.0, 0.0]
    assert kept.max(axis=0).tolist() == [1.0, 1.0]
    assert len(clipped_outline(square + 9.0, view)) == 0
