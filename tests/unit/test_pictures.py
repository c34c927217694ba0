"""What the plan shows: the section, the numbers, the words, the moment; and every colour."""

from __future__ import annotations

from math import cos, radians, sin, tan

import numpy as np
import pytest

from swingcheck import palette
from swingcheck.assembly import PartKind, assemble
from swingcheck.render.pen.page import PIXELS, WIDTH
from swingcheck.render.pen.section import cut_height, plan_cut
from swingcheck.render.pen.subject import Pose, Subject
from swingcheck.render.plan.measures import hinge_corner, strike_corner
from swingcheck.swing.check import check
from swingcheck.units import length_text
from tests.factory import SQUARE, plain_scene
from tests.openings import random_opening
from tests.pictures import (
    built,
    colour_of,
    contrast,
    drawn,
    found,
    painted,
    pixels,
    scene_of,
    subject,
)
from tests.shapes import enclosed_area

CLOSED = Pose(angle=0.0)
PAPER = colour_of(palette.PAPER)


def test_the_pull_side_is_below_and_words_are_twelve_pixels_high_at_half_size() -> None:
    boxes = drawn("plan", "pinches").boxes
    assert boxes["pull side"].y1 < boxes["push side"].y0
    from swingcheck.render.pen.lettering import SIZE

    assert SIZE / 72 * PIXELS / WIDTH / 2 >= 12


@pytest.mark.parametrize(("name", "on_left"), [("plain", True), ("plain, right, mm", False)])
def test_the_hinges_are_on_the_hand_that_the_scene_says(name: str, on_left: bool) -> None:
    """In the whole opening, by its ring; the close-up's place; and jamb before slab in that."""
    sheet = drawn("plan", name)
    ring, title = (sheet.boxes[words] for words in ("A", "A   Hinge corner"))
    assert [box.x0 < 0.45 * sheet.width for box in (ring, title)] == [on_left] * 2
    picture = pixels(sheet.figure)
    tall, wide = picture.shape[:2]
    below = picture[round(tall * (1 - title.y0 / sheet.figure.bbox.height)) :]
    closeup = below[:, : wide // 2] if on_left else below[:, wide // 2 :]
    jamb, slab = (
        np.median(painted(closeup, part.fill)[:, 1]) for part in (palette.JAMB, palette.SLAB)
    )
    assert (jamb < slab) == on_left


def test_the_section_of_the_slab_has_the_area_of_its_plan() -> None:
    scene = plain_scene()
    slab, hinge = scene.slab, scene.hinge
    assembly = assemble(scene)
    lean = radians(2.0)
    plan = slab.thickness * (slab.width[0] - slab.thickness * tan(lean))
    # a leaf's mortise: depth times its run along the edge, from the buried edge to the
    # wide-face arris; its floor meets the wide face sooner by depth tan(lean), since the
    # way in, square to the leaning edge, leads toward the wide face
    run = slab.thickness / cos(lean) - hinge.slab.setbacks[0]
    depth = hinge.slab.depths[0]
    mortise = depth * run - depth**2 * tan(lean) / 2
    for angle in (0.0, 0.3):
        for height, area in ((20.0, plan), (assembly.jamb_pins[1, 2], plan - mortise)):
            cut = plan_cut(
                Subject(assembly=assembly, pose=CLOSED), Pose(angle=angle), float(height)
            )
            (outlines,) = [part.outlines for part in cut.moving if part.kind is PartKind.SLAB]
            assert enclosed_area(outlines) == pytest.approx(area, abs=1e-6)


def test_the_ghost_is_the_slab_closed_and_the_plane_shows_the_hinge_or_what_is_beyond() -> None:
    asked = Subject(assembly=built("plain"), pose=CLOSED)
    cut = plan_cut(asked, Pose(angle=0.4), 20.0)
    closed = plan_cut(asked, CLOSED, 20.0)
    (slab,) = [part for part in closed.moving if part.kind is PartKind.SLAB]
    assert np.allclose(cut.ghost[0].outlines[0], slab.outlines[0], atol=0)
    assembly = built("plain")
    kinds = {PartKind.JAMB_LEAF, PartKind.SLAB_LEAF, PartKind.BARREL}
    asked = Subject(assembly=assembly, pose=CLOSED)
    missed = plan_cut(asked, Pose(angle=0.1), 20.0)
    assert {part.kind for part in missed.beyond} == kinds
    assert not kinds & {part.kind for part in (*missed.fixed, *missed.moving)}
    met = plan_cut(asked, Pose(angle=0.1), float(assembly.jamb_pins[1, 2]))
    assert met.beyond == ()
    assert kinds <= {part.kind for part in (*met.fixed, *met.moving)}
    along = subject("pinches")
    assert along.pose.touch is not None
    assert along.pose.touch.span[0] < 1 < 80 < along.pose.touch.span[1]
    assert cut_height(along.assembly, along.pose) in along.assembly.jamb_pins[:, 2]
    corner = subject("cross-legged")
    assert corner.pose.touch is not None
    assert cut_height(corner.assembly, corner.pose) == pytest.approx(
        corner.pose.touch.point[2], abs=1 / 16
    )


def test_a_square_slab_measures_as_the_closed_forms_say() -> None:
    # hinge margin 2t + q - dj - ds, clearance to the hinge stop sj - ss
    scene = plain_scene(
        slab__hinge_edge=SQUARE,
        hinge__closed_gap=0.08,
        hinge__jamb__depths=(0.11,) * 3,
        hinge__jamb__setbacks=(0.33,) * 3,
    )
    found = hinge_corner(assemble(scene), Pose(angle=0.0), 40.0, 1)
    assert found.margin.length == pytest.approx(2 * 0.097 + 0.08 - 0.11 - 0.097)
    assert found.clearance is not None
    assert found.clearance.length == pytest.approx(0.33 - 0.25)


@pytest.mark.parametrize("seed", range(5))
def test_the_close_ups_measure_what_the_check_does(seed: int) -> None:
    scene = random_opening(seed)
    assembly, result = assemble(scene), check(scene)
    foot = assembly.place[:, 3] + assembly.place[:, 2] * scene.slab.height[0] / 2
    hinge = hinge_corner(assembly, Pose(angle=0.0), float(foot[2]), 1)
    at_pin = hinge_corner(assembly, Pose(angle=0.0), result.axis.point[2], 1)
    strike = strike_corner(assembly, Pose(angle=0.0), float(foot[2]))
    # read level here and square to the slab there: a leaning slab makes a hair's difference
    assert hinge.margin.length == pytest.approx(result.margins.hinge[1], abs=2e-4)
    assert at_pin.proud == pytest.approx(result.axis.proud, abs=1e-5)
    assert strike.margin.length == pytest.approx(result.margins.strike[1], abs=1e-3)
    if result.margins.strike_stop is not None:
        assert strike.stop_gap is not None
        gap = result.margins.strike_stop[1]
        assert strike.stop_gap.length == pytest.approx(gap, abs=1e-3)


def test_the_opening_and_a_bowed_slabs_stops_are_the_checks() -> None:
    pinched = subject("pinches")
    corner = strike_corner(
        pinched.assembly, pinched.pose, cut_height(pinched.assembly, pinched.pose)
    )
    assert pinched.pose.touch is not None
    assert corner.opening.length == pytest.approx(pinched.pose.touch.opening_at_strike)
    middle = corner.opening.start - hinge_corner(pinched.assembly, pinched.pose, 40.0, 1).pin
    chord = 2 * np.hypot(*middle) * sin(pinched.pose.angle / 2)
    assert corner.opening.length == pytest.approx(chord)
    # The corners are measured on the slab as it is bowed, not on a flat one.
    assembly, margins = built("wash_house"), found("wash_house").margins
    height = float(assembly.place[2, 3]) + scene_of("wash_house").slab.height[0] / 2
    gap = hinge_corner(assembly, CLOSED, height, 1).clearance
    assert gap is not None and margins.hinge_stop is not None
    assert gap.length == pytest.approx(margins.hinge_stop[1], abs=1e-3)


def test_the_sheet_says_what_it_measured_in_trade_words() -> None:
    pinched, sheet = subject("pinches"), drawn("plan", "pinches")
    for name in (
        "hinge margin",
        "hinge-stop clearance",
        "setback, jamb",
        "setback, slab",
        "mortise, jamb",
        "strike margin",
        "stop gap",
        "bevel 2 deg",
        "pin, proud of the wide face",
        "Narrow-face arris of the hinge edge touches the hinge stop here",
    ):
        assert name in sheet.told, name
    assert length_text(0.28125) in sheet.boxes
    assert pinched.pose.touch is not None
    assert length_text(pinched.pose.touch.opening_at_strike) in sheet.told


def test_the_moment_shown_is_the_one_the_verdict_speaks_of_and_dollars_are_no_formulas() -> None:
    assert "The $5 door" in drawn("plan", "long title").told
    assert subject("fouls").pose.touch == found("fouls").opening is not None
    assert subject("blocked").pose.overlaps == ("floor",)
    assert subject("swings").pose.closed
    assert subject("rests").pose.seated
    asked = subject("pinches", 30.0).pose
    assert asked.angle == radians(30.0)
    assert asked.touch is None


def test_what_is_drawn_stands_out_from_what_is_under_it() -> None:
    # WCAG 2.1, 1.4.3: at least 4.5 to 1 for text
    for code in (palette.INK, palette.QUIET, palette.CONTACT, palette.SEAT):
        assert contrast(colour_of(code), PAPER) >= 4.5
    # and 1.4.11: at least 3 to 1 for lines that carry meaning
    for color, _ in (*palette.LINES.values(), palette.OTHER_LINE):
        assert contrast(colour_of(color), PAPER) >= 3.0
    hatched = [palette.SLAB, palette.JAMB, palette.STOP]
    for material in hatched:
        assert contrast(colour_of(material.line), colour_of(material.fill)) >= 3.0
    # told apart without colour
    assert len({material.hatch for material in hatched}) == 3
    for kinds in (
        (PartKind.HINGE_LEG, PartKind.STRIKE_LEG, PartKind.HEAD),
        (PartKind.HINGE_STOP, PartKind.STRIKE_STOP, PartKind.HEAD_STOP),
    ):
        assert len({palette.LINES[kind][1] for kind in kinds}) == 3
        assert len({palette.LINES[kind][0] for kind in kinds}) == 1


# Machado, Oliveira and Fernandes (2009), "A physiologically-based model for simulation of
# color vision deficiency", severity 1.0, on linear RGB; from memory (each row sums to 1)
BLIND = {
    "full sight": [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    "no red": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "no green": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "no blue": [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
}


def seen(code: str, sight: str) -> np.ndarray:
    """Return a colour as L*, a*, b* (CIE 1976, D65) to an eye of a kind."""
    part = colour_of(code) / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    ) @ np.clip(np.array(BLIND[sight]) @ linear, 0.0, 1.0)
    share = xyz / [0.9505, 1.0, 1.089]
    bent = np.where(share > (6 / 29) ** 3, np.cbrt(share), share * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.array([116 * bent[1] - 16, 500 * (bent[0] - bent[1]), 200 * (bent[1] - bent[2])])


@pytest.mark.parametrize("sight", BLIND)
def test_the_contact_stands_out_to_every_eye(sight: str) -> None:
    assert np.array(BLIND[sight]).sum(axis=1) == pytest.approx([1.0] * 3, abs=2e-6)
    others = [palette.PAPER, palette.INK, palette.QUIET, palette.GHOST, palette.SEAT]
    others += [material.fill for material in palette.MATERIALS.values()]
    others += [color for color, _ in (*palette.LINES.values(), palette.OTHER_LINE)]
    for code in others:
        away = np.linalg.norm(seen(code, sight) - seen(palette.CONTACT, sight))
        # 2.3 is just noticed (Mahy and others, 1994); ten times that is told at a glance
        assert away > 23, code
