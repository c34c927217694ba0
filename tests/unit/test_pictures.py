"""What the pictures show: the section, the numbers, the words, the contact."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import cos, radians, sin, tan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck import palette
from swingcheck.assembly import PartKind, assemble
from swingcheck.geometry.section import enclosed_area
from swingcheck.model import Casing, Floor, Leg, Obstacle, Scene
from swingcheck.render.pen.page import PIXELS, WIDTH, figure_bytes
from swingcheck.render.pen.section import cut_height, plan_cut
from swingcheck.render.pen.subject import Pose, Subject
from swingcheck.render.plan.measures import hinge_corner, strike_corner
from swingcheck.render.plan.sheet import plan_figure
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.units import length_text
from tests.factory import CASING, LOCK, SQUARE, plain_scene, rounded
from tests.openings import random_opening
from tests.pictures import TIGHT, colour_of, misplaced, painted, pixels, shown, words_on

CLOSED = Pose(angle=0.0)
SCENES: dict[str, Scene] = {
    "swings": plain_scene(lock=LOCK, casing=CASING),
    "rests": plain_scene(
        slab__hinge_edge=SQUARE, slab__strike_edge=SQUARE, hinge__jamb__setbacks=(0.25,) * 3
    ),
    "pinches": plain_scene(**TIGHT),
    "pinches, right, mm": plain_scene(hinges_on="right", unit="mm", **TIGHT),
    "strikes": plain_scene(slab__width=(30.0,), slab__strike_edge=SQUARE),
    "twisted leg": plain_scene(
        slab__hinge_edge=SQUARE, opening__hinge_leg=Leg(twist=(radians(3.0),))
    ),
    "cross-legged": plain_scene(opening__hinge_leg=Leg(cross=(0.0, 0.25, 0.5))),
    "drags": plain_scene(floor=Floor(across=-0.0195)),
    "blocked": plain_scene(floor=Floor(covering=0.75)),
    "fouls": plain_scene(
        swing__start=radians(45.0),
        obstacles=(Obstacle(name="sofa", corner=(-20.0, 15.0, 0.0), size=(30.0, 30.0, 30.0)),),
    ),
    "wide casing": plain_scene(casing=Casing(thickness=1.5, width=4.0, reveal=0.1)),
    "no stop": plain_scene(stop=None, hinges_on="right"),
    "round edges": plain_scene(slab__hinge_edge=rounded(6.0), slab__strike_edge=rounded(6.0)),
    "narrow": plain_scene(slab__width=(11.875,), opening__width=(12.125,)),
    "long title": plain_scene(title="The $5 door that nobody could shut in August; " * 6),
}


@cache
def subject(name: str, angle: float | None = None) -> Subject:
    return shown(SCENES[name], angle)


@cache
def drawn(name: str) -> np.ndarray:
    return pixels(plan_figure(subject(name)), 1200)


@pytest.mark.parametrize("name", SCENES)
def test_no_label_leaves_the_sheet_or_covers_another(name: str) -> None:
    figure = plan_figure(subject(name))
    assert len(words_on(figure)) > 20
    assert misplaced(figure) == []


@pytest.mark.parametrize("degrees", [2.0, 20.0, 45.0, 90.0, 135.0, 180.0])
def test_no_label_is_lost_at_any_angle_asked_for(degrees: float) -> None:
    name = "no stop" if degrees in (45.0, 180.0) else "swings"
    assert misplaced(plan_figure(subject(name, radians(degrees)))) == []


@settings(max_examples=8)
@given(st.integers(0, 10**6), st.sampled_from(["left", "right"]), st.sampled_from(["in", "mm"]))
def test_no_label_is_lost_on_any_opening(seed: int, hand: str, unit: str) -> None:
    scene = replace(random_opening(seed), hinges_on=hand, unit=unit)
    assert misplaced(plan_figure(shown(scene))) == []


def test_the_overlap_check_sees_an_overlap() -> None:
    figure = plan_figure(subject("pinches"))
    figure.text(0.5, 0.5, "one")
    figure.text(0.5, 0.5, "two")
    figure.text(0.999, 0.2, "off the sheet")
    assert "'two' covers 'one'" in misplaced(figure)
    assert "'off the sheet' leaves the sheet" in misplaced(figure)


@pytest.mark.parametrize("name", SCENES)
def test_a_sheet_is_as_wide_as_asked_and_not_blank(name: str) -> None:
    picture = drawn(name)
    assert picture.shape[1] == 1200
    assert 600 < picture.shape[0] < 2400
    assert tuple(picture[0, 0]) == (255, 255, 255)
    assert 0.02 < (picture.sum(axis=2) < 700).mean() < 0.9
    assert len(painted(picture, palette.SLAB.fill)) > 5000


@pytest.mark.parametrize("name", SCENES)
def test_the_loud_colour_is_there_where_something_touches_and_only_there(name: str) -> None:
    pose = subject(name).pose
    loud = len(painted(drawn(name), palette.CONTACT))
    if pose.at is not None and not pose.seated:
        assert loud > 300
    else:
        assert loud == 0


def test_a_slab_at_rest_on_its_stop_is_marked_in_the_calm_colour() -> None:
    assert subject("rests").pose.seated
    assert len(painted(drawn("rests"), palette.SEAT)) > 300


def test_the_contact_is_ringed_where_it_is() -> None:
    pinched = subject("pinches")
    figure = plan_figure(pinched)
    assert pinched.pose.touch is not None
    x, y, _ = pinched.pose.touch.point
    overview = max(figure.axes, key=lambda axes: float(np.ptp(axes.get_xlim())))
    column, up = overview.transData.transform([x, -y]) * 1200 / WIDTH / figure.dpi
    picture = drawn("pinches")
    rows, columns = painted(picture, palette.CONTACT).T
    near = np.hypot(columns - column, picture.shape[0] - rows - up) < 30
    assert near.sum() > 60
    assert abs(columns[near].mean() - column) < 1.5
    assert abs(picture.shape[0] - rows[near].mean() - up) < 1.5


def test_the_pull_side_is_below_and_the_hinges_on_their_own_side() -> None:
    for name, hand in (("pinches", 1), ("pinches, right, mm", -1)):
        boxes = dict(words_on(plan_figure(subject(name))))
        assert boxes["pull side"].y1 < boxes["push side"].y0
        assert (boxes["B"].x0 - boxes["A"].x0) * hand > 0
        middle = drawn(name).shape[1] / 2
        loud = painted(drawn(name)[: drawn(name).shape[0] // 3], palette.CONTACT)
        assert (middle - loud[:, 1].mean()) * hand > 0


def test_a_right_hand_opening_is_the_left_hand_one_mirrored() -> None:
    left = dict(words_on(plan_figure(subject("pinches"))))
    other = replace(SCENES["pinches"], hinges_on="right")
    turned = Subject(
        assembly=assemble(other), pose=subject("pinches").pose, caption=subject("pinches").caption
    )
    figure = plan_figure(turned)
    right = dict(words_on(figure))
    moved = ["setback, jamb", "hinge margin", "strike margin", "strike edge", "stop gap", "A", "B"]
    for words in moved:
        mirrored = figure.bbox.width - right[words].x0
        assert left[words].x1 == pytest.approx(mirrored, abs=1.5)
        assert left[words].y0 == pytest.approx(right[words].y0, abs=1.5)


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
            assert enclosed_area(outlines) == pytest.approx(area, abs=1e-9)


def test_the_ghost_is_the_slab_closed() -> None:
    assembly = assemble(plain_scene())
    subject = Subject(assembly=assembly, pose=CLOSED)
    cut = plan_cut(subject, Pose(angle=0.4), 20.0)
    closed = plan_cut(subject, CLOSED, 20.0)
    (slab,) = [part for part in closed.moving if part.kind is PartKind.SLAB]
    assert np.allclose(cut.ghost[0].outlines[0], slab.outlines[0], atol=0)


def test_the_hinge_shows_beyond_where_the_plane_misses_its_leaves() -> None:
    assembly = assemble(plain_scene())
    kinds = {PartKind.JAMB_LEAF, PartKind.SLAB_LEAF, PartKind.BARREL}
    subject = Subject(assembly=assembly, pose=CLOSED)
    missed = plan_cut(subject, Pose(angle=0.1), 20.0)
    assert {part.kind for part in missed.beyond} == kinds
    assert not kinds & {part.kind for part in (*missed.fixed, *missed.moving)}
    met = plan_cut(subject, Pose(angle=0.1), float(assembly.jamb_pins[1, 2]))
    assert met.beyond == ()
    assert kinds <= {part.kind for part in (*met.fixed, *met.moving)}


def test_the_plane_is_at_the_contact_and_through_a_hinge_where_that_is_in_reach() -> None:
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


@pytest.mark.parametrize("seed", range(8))
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


def test_the_opening_at_the_strike_edge_is_the_checks() -> None:
    pinched = subject("pinches")
    found = strike_corner(
        pinched.assembly, pinched.pose, cut_height(pinched.assembly, pinched.pose)
    )
    assert pinched.pose.touch is not None
    assert found.opening.length == pytest.approx(pinched.pose.touch.opening_at_strike)
    middle = found.opening.start - hinge_corner(pinched.assembly, pinched.pose, 40.0, 1).pin
    chord = 2 * np.hypot(*middle) * sin(pinched.pose.angle / 2)
    assert found.opening.length == pytest.approx(chord)


def test_the_sheet_says_what_it_measured_in_trade_words() -> None:
    pinched = subject("pinches")
    words = [line for line, _ in words_on(plan_figure(pinched))]
    everything = " ".join(words)
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
        assert name in everything, name
    assert length_text(0.28125) in words
    assert pinched.pose.touch is not None
    assert length_text(pinched.pose.touch.opening_at_strike) in everything


def test_dollar_signs_are_not_taken_for_formulas() -> None:
    words = " ".join(line for line, _ in words_on(plan_figure(subject("long title"))))
    assert "The $5 door" in words


def test_the_moment_shown_is_the_one_the_verdict_speaks_of() -> None:
    verdicts = {name: check(SCENES[name]).verdict for name in SCENES}
    assert verdicts["fouls"] is Verdict.FOULS
    assert subject("fouls").pose.touch == check(SCENES["fouls"]).opening
    assert verdicts["blocked"] is Verdict.BLOCKED
    assert subject("blocked").pose.overlaps == ("floor",)
    assert subject("swings").pose.closed
    asked = subject("pinches", 0.5).pose
    assert asked.angle == 0.5
    assert asked.touch is None


@pytest.mark.parametrize("kind", ["svg", "pdf", "png"])
def test_equal_checks_give_equal_files(kind: str) -> None:
    starts = {"svg": b"<?xml", "pdf": b"%PDF", "png": b"\x89PNG"}
    first = figure_bytes(plan_figure(subject("pinches")), kind)
    assert first.startswith(starts[kind])
    assert first == figure_bytes(plan_figure(subject("pinches")), kind)
    if kind == "svg":
        assert palette.CONTACT.encode() in first


def contrast(code: str, paper: str = palette.PAPER) -> float:
    """Return the contrast ratio of two colours, WCAG 2.1 (w3.org/TR/WCAG21), section 1.4.3."""

    def luminance(rgb: np.ndarray) -> float:
        part = rgb / 255
        linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
        return float(linear @ [0.2126, 0.7152, 0.0722])

    low, high = sorted((luminance(colour_of(code)), luminance(colour_of(paper))))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("code", [palette.INK, palette.QUIET, palette.CONTACT, palette.SEAT])
def test_words_stand_out_from_the_paper(code: str) -> None:
    # WCAG 2.1, 1.4.3: at least 4.5 to 1 for text
    assert contrast(code) >= 4.5


def test_materials_are_told_apart_without_colour() -> None:
    hatched = [palette.SLAB, palette.JAMB, palette.STOP]
    assert len({material.hatch for material in hatched}) == 3
    for material in hatched:
        # WCAG 2.1, 1.4.11: at least 3 to 1 for lines that carry meaning
        assert contrast(material.line, material.fill) >= 3.0


def test_words_are_twelve_pixels_high_at_half_size() -> None:
    from swingcheck.render.pen.lettering import SIZE

    assert SIZE / 72 * PIXELS / WIDTH / 2 >= 12


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


def test_a_charts_lines_stand_out_from_the_paper() -> None:
    for color, _ in (*palette.LINES.values(), palette.OTHER_LINE):
        # WCAG 2.1, 1.4.11: at least 3 to 1 for lines that carry meaning
        assert contrast(color) >= 3.0


def test_a_bowed_slab_stands_off_its_stops_by_what_the_check_says() -> None:
    """The corners are measured on the slab as it is bowed, not on a flat one."""
    scene = read_scene(Path(__file__).parents[2] / "scenes" / "wash_house.toml")
    assembly, result = assemble(scene), check(scene)
    margins = result.margins
    height = float(assembly.place[2, 3]) + scene.slab.height[0] / 2
    gap = hinge_corner(assembly, CLOSED, height, 1).clearance
    assert gap is not None and margins.hinge_stop is not None
    assert gap.length == pytest.approx(margins.hinge_stop[1], abs=1e-3)
