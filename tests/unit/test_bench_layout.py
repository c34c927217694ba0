"""Leaf marks, held to the pins that a check finds once the leaves are where the marks say."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.assembly import assemble
from swingcheck.assembly.drafts import Pattern, made
from swingcheck.assembly.leaves import slab_leaf_drafts
from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.pins import jamb_leaf_frame, slab_leaf_frame
from swingcheck.bench.layout import Screw, layout, screw_for, screw_holes
from swingcheck.model import Scene
from swingcheck.swing.margins import pins_found
from tests.factory import SQUARE, changed, plain_scene
from tests.openings import random_opening

seeds = st.integers(0, 10_000)


def relaid(scene: Scene) -> Scene:
    """Return the scene with its slab's leaves where the marks say."""
    tops = tuple(hinge.slab.top for hinge in layout(scene).hinges)
    return changed(scene, hinge__slab__tops=tops)


def test_marks_are_the_jambs_less_the_head_margin_when_all_is_plumb() -> None:
    scene = plain_scene(slab__head_margin=3 / 32)
    for hinge, top in zip(layout(scene).hinges, scene.hinge.jamb.tops, strict=True):
        assert hinge.jamb.top == top
        assert hinge.slab.top == pytest.approx(top - 3 / 32)
        assert hinge.slab.bottom == pytest.approx(top - 3 / 32 + 3.5)
        assert hinge.too_low == pytest.approx(3 / 32 - 1 / 8)


@given(seeds)
def test_marks_meet_the_jambs_run_to_the_buried_edge_and_tell_pins_off_line(seed: int) -> None:
    scene = random_opening(seed)
    axis = pins_found(assemble(scene))
    hinges = layout(scene).hinges
    assert [hinge.off_line for hinge in hinges] == pytest.approx(axis.off_line, abs=1e-12)
    assert [hinge.apart for hinge in hinges] == pytest.approx(axis.apart, abs=1e-12)
    assert np.sign([-hinge.too_low for hinge in hinges]) == pytest.approx(np.sign(axis.up_down))
    limit = scene.shop.pin_tolerance
    for hinge in hinges:
        within = max(abs(hinge.too_low), hinge.apart, hinge.off_line) <= limit
        assert hinge.lines_up is within
    axis = pins_found(assemble(relaid(scene)))
    # The slab's own pin line turns a little once its leaves move: second order.
    assert axis.up_down == pytest.approx((0.0,) * scene.hinge.count, abs=2e-4)
    for k, hinge in enumerate(layout(scene).hinges):
        frame = slab_leaf_frame(scene, k)
        origin, normal = frame[:, 3], frame[:, 2]
        on_surface = origin + scene.hinge.slab.depths[k] * normal
        if hinge.slab.run != pytest.approx(scene.slab.thickness - hinge.slab.setback):
            # Bevelled: from the wide-face arris at x = 0, y = 0.
            assert np.hypot(*on_surface[:2]) == pytest.approx(hinge.slab.run)
        # On the leg as the opening's own rabbet runs: from its pull-side edge, which a leg out of
        # plumb or crossed moves.
        frame = jamb_leaf_frame(scene, k)
        on_face = frame[:, 3] + scene.hinge.jamb.depths[k] * frame[:, 2]
        edge = hinge_leg_plan(scene.opening, float(on_face[2])).edge
        assert np.hypot(*(on_face[:2] - edge)) == pytest.approx(hinge.jamb.run)
        for mark, laid in ((hinge.slab, scene.hinge.slab), (hinge.jamb, scene.hinge.jamb)):
            assert (mark.setback, mark.depth) == (laid.setbacks[k], laid.depths[k])


def test_a_pin_out_of_line_is_called_out_by_its_amount() -> None:
    # The middle leaf is let in 1/16 too deep on the slab: against the line of
    # three, the middle pin is off by two thirds of it, the others by one third.
    depths = (0.097, 0.097 + 1 / 16, 0.097)
    scene = plain_scene(hinge__slab__depths=depths, slab__hinge_edge=SQUARE)
    top, middle, bottom = layout(scene).hinges
    # 7, 37.75 and 68.5 are evenly spaced.
    assert middle.off_line == pytest.approx(2 / 3 / 16, abs=1e-9)
    assert top.off_line == pytest.approx(1 / 3 / 16, abs=1e-9)
    assert middle.apart == pytest.approx(2 / 3 / 16, abs=1e-9)
    assert not middle.lines_up
    assert bottom.lines_up


# ---------------------------------------------------------------- screws


@pytest.mark.parametrize(
    ("length", "thickness", "number", "long", "count"),
    [
        (3.0, 0.085, 9, 0.75, 3),
        (3.5, 0.097, 9, 0.75, 3),
        (3.5, 0.123, 10, 1.0, 3),
        (4.0, 0.130, 12, 1.25, 3),
        (4.5, 0.134, 12, 1.25, 4),
        (5.0, 0.146, 12, 1.25, 4),
        (6.0, 0.160, 14, 1.5, 5),
    ],
)
def test_screws_by_hinge(
    length: float, thickness: float, number: int, long: float, count: int
) -> None:
    hinge = changed(
        plain_scene().hinge, leaf_length=length, open_width=length, leaf_thickness=thickness
    )
    assert screw_for(hinge) == Screw(number=number, length=long)
    assert len(screw_holes(hinge)) == count


@pytest.mark.parametrize(
    ("length", "downs", "outs"),
    [
        # Common practice, no source: 5/8 in from the ends and 3/8 in from the buried edge, every
        # other one half way to the barrel of 0.44 in.
        (3.5, (0.625, 1.75, 2.875), (0.375, 0.765, 0.375)),
        (4.5, (0.625, 1.70833, 2.79167, 3.875), (0.375, 1.015, 1.015, 0.375)),
        (2.0, (0.5, 1.0, 1.5), (0.375, 0.39, 0.375)),
    ],
)
def test_holes_where_leaves_have_them(
    length: float, downs: tuple[float, ...], outs: tuple[float, ...]
) -> None:
    holes = screw_holes(changed(plain_scene().hinge, leaf_length=length, open_width=length))
    assert [down for down, _ in holes] == pytest.approx(downs, abs=1e-5)
    assert [out for _, out in holes] == pytest.approx(outs, abs=1e-5)


def test_holes_are_marked_under_the_heads_and_piloted_by_the_wood() -> None:
    scene = plain_scene(hinge__screw_proud=0.05)
    hinge, frame = scene.hinge, slab_leaf_frame(scene, 0)
    leaf = made(slab_leaf_drafts(scene, Pattern()))[0].solid
    local = (leaf.vertices - frame[:, 3]) @ frame[:, :3]
    proud = local[local[:, 2] > hinge.leaf_thickness + 0.01]
    holes = screw_holes(hinge)
    assert len(holes) == 3
    for from_top, out in holes:
        down = from_top - hinge.leaf_length / 2
        near = proud[np.abs(proud[:, 1] - down) < 0.2]
        middle = (near.min(axis=0) + near.max(axis=0)) / 2
        assert middle[:2] == pytest.approx([out, down], abs=2e-3)
    slab = layout(plain_scene(slab__hinge_edge=SQUARE)).hinges[0].slab
    # The buried edge is 1 3/8 less 1/4 in from the arris, the first hole 3/8 in nearer to it.
    assert [hole.from_arris for hole in slab.holes] == pytest.approx([0.75, 0.36, 0.75])
    assert [hole.down for hole in slab.holes] == pytest.approx([7.5, 8.625, 9.75])
    assert layout(plain_scene(slab__material="ponderosa pine")).wood == "softwood"
    hard = layout(plain_scene(slab__material="white oak"))
    assert hard.wood == "hardwood"
    # Root 2/3 of 0.177, and 90 % of that: 0.106; the nearest 64th is 7/64.
    assert hard.pilot == 7 / 64
    assert hard.screw.pilot("softwood") == 5 / 64
