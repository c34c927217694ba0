"""Lips, warps, arches, steel profiles and what is fitted or laid: solids against closed forms."""

from __future__ import annotations

from dataclasses import replace
from math import acos, asin, atan2, cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from swingcheck.assembly import assemble
from swingcheck.assembly.arches import arc_points
from swingcheck.assembly.fitted import HANDLE_SAGITTA, KNOB, NECK, ROSE, fitted_parts
from swingcheck.assembly.frame import jamb_parts, stop_parts
from swingcheck.assembly.ground import FLOOR_THICKNESS, ground_height, ground_parts
from swingcheck.assembly.legs import FACE_SAGITTA
from swingcheck.assembly.pins import (
    slab_leaf_frame,
)
from swingcheck.assembly.room import casing_parts, room_parts
from swingcheck.assembly.slab import LIP_NOTCH, slab_blank, slab_solid
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.solid import Solid
from swingcheck.model import (
    Applied,
    Astragal,
    Baseboard,
    Bead,
    Carpet,
    Face,
    Floor,
    Glass,
    Handle,
    Leg,
    Lip,
    Scene,
    SteelFrame,
    Threshold,
    WallReturn,
    Warp,
    arc_over,
    head_arc,
    hung_top,
    rise_of,
)
from tests.factory import CASING, LOCK, SQUARE, bevel, changed, plain_scene, rounded
from tests.meshes import assert_closed, is_inside

W, H, T = 29.875, 79.75, 1.375
SQUARES = {"slab__hinge_edge": SQUARE, "slab__strike_edge": SQUARE}
NO_MORTISE = {"hinge__slab__depths": (0.0, 0.0, 0.0)}


def part(parts, name: str) -> Solid:
    """The one solid of a name."""
    (found,) = [each.solid for each in parts if each.name == name]
    return found


# ---------------------------------------------------------------- lip


@pytest.mark.parametrize("edges", [(SQUARE, SQUARE), (bevel(2), bevel(3)), (bevel(-1), SQUARE)])
@pytest.mark.parametrize("widths", [(0.5, 0.5, 0.5), (0.0, 0.5, 0.25), (0.5, 0.0, 0.0)])
def test_volume_of_a_lipped_slab(edges, widths) -> None:
    lip = Lip(hinge=widths[0], strike=widths[1], head=widths[2], depth=1.0)
    scene = plain_scene(slab__hinge_edge=edges[0], slab__strike_edge=edges[1], slab__lip=lip)
    scene = changed(scene, **NO_MORTISE)
    solid = slab_solid(scene)
    assert_closed(solid)
    thin = T - lip.depth
    body = W * T * H
    for edge, width in zip(edges, widths[:2], strict=True):
        # A bevel takes a triangle off the edge; behind a lip only what is deeper than the lip.
        lean = tan(edge.bevel)
        body -= H * lean * (T**2 / 2 - (thin**2 / 2 if width else 0.0))
        body -= 0.0 if width else widths[2] * lean * thin**2 / 2
    lapped = (widths[0] + widths[1]) * H + widths[2] * (W + widths[0] + widths[1])
    leaf, notch = 3.5, 2 * LIP_NOTCH
    notches = 3 * (leaf + notch) * widths[0] * thin
    assert solid.volume == pytest.approx(body + lapped * thin - notches, rel=1e-12)
    low, high = solid.bounds
    assert low[0] == pytest.approx(min(-widths[0], T * tan(edges[0].bevel), 0.0), abs=1e-12)
    assert high[2] == pytest.approx(H + widths[2], abs=1e-12)


def test_a_lip_is_on_the_pull_side_alone() -> None:
    lip = Lip(hinge=0.5, strike=0.4, head=0.3, depth=1.0)
    solid = slab_solid(plain_scene(slab__lip=lip, **SQUARES, **NO_MORTISE))
    assert is_inside(solid, (W + 0.39, -0.37, 40.0))
    assert not is_inside(solid, (W + 0.39, -0.38, 40.0))
    assert is_inside(solid, (15.0, -0.37, H + 0.29))
    assert not is_inside(solid, (15.0, -0.38, H + 0.01))
    assert is_inside(solid, (-0.49, -0.2, 20.0))
    assert not is_inside(solid, (-0.49, -0.2, H - 6.875 - 1.75))  # notched for the top leaf


def test_a_lip_follows_a_taper_and_a_sloped_top() -> None:
    lip = Lip(hinge=0.5, strike=0.5, head=0.5, depth=1.0)
    scene = plain_scene(
        slab__lip=lip, slab__width=(29.0, 30.0, 29.5), slab__height=(79.75, 75.75), **NO_MORTISE
    )
    solid = slab_solid(scene)
    assert_closed(solid)
    for z, width in ((75.75 / 2, 30.0), (0.01, 29.5), (75.74, 29.0)):
        edge = width - 1.2 * tan(radians(2.0))
        assert is_inside(solid, (edge - 0.02, -1.2, z))
        assert not is_inside(solid, (edge + 0.02, -1.2, z))
        assert is_inside(solid, (width + 0.48, -0.3, z))


# ---------------------------------------------------------------- warp

WARPS = [
    Warp(bow=0.25),
    Warp(cup=-0.125),
    Warp(twist=0.25),
    Warp(bow=-0.2, cup=0.1, twist=0.3),
]


@pytest.mark.parametrize("warp", WARPS)
def test_a_warped_slab_keeps_its_volume_and_its_thickness(warp: Warp) -> None:
    flat = plain_scene(**SQUARES)
    scene = changed(flat, slab__warp=warp)
    blank = slab_blank(scene.slab)
    assert_closed(blank)
    assert blank.volume == pytest.approx(W * T * H, rel=1e-12)
    corners = {tuple(np.round(v, 9)) for v in blank.vertices}
    for x, y, z in blank.vertices:
        if y > warp_at(scene.slab, x, z) - T / 2:
            assert tuple(np.round((x, y - T, z), 9)) in corners


@pytest.mark.parametrize("warp", WARPS)
@pytest.mark.parametrize("edges", [(SQUARE, SQUARE), (bevel(2), bevel(3)), (rounded(2), SQUARE)])
def test_a_warped_face_strays_no_farther_than_its_skin(warp: Warp, edges) -> None:
    scene = plain_scene(slab__warp=warp, slab__hinge_edge=edges[0], slab__strike_edge=edges[1])
    blank = slab_blank(scene.slab)
    assert_closed(blank)
    rng = np.random.default_rng(5)
    for x, z in zip(rng.uniform(1, W - 1, 30), rng.uniform(0.5, H - 0.5, 30), strict=True):
        u, v = x / W, z / H
        off = 4 * warp.bow * v * (1 - v) + 4 * warp.cup * u * (1 - u) + warp.twist * u * v
        for face in (0.0, -T):
            assert is_inside(blank, (x, face + off - 1.5 * FACE_SAGITTA, z)) == (face == 0.0)
            assert is_inside(blank, (x, face + off + 1.5 * FACE_SAGITTA, z)) == (face != 0.0)


def test_the_corners_of_a_twist_and_the_middles_of_bow_and_cup() -> None:
    slab = plain_scene(slab__warp=Warp(bow=0.25, cup=0.1, twist=0.3)).slab
    assert [warp_at(slab, x, z) for x, z in ((0, 0), (W, 0), (0, H))] == [0.0, 0.0, 0.0]
    assert warp_at(slab, W, H) == pytest.approx(0.3)
    assert warp_at(slab, 0.0, H / 2) == pytest.approx(0.25)
    assert warp_at(slab, W / 2, 0.0) == pytest.approx(0.1)


def test_a_leaf_lies_on_the_floor_of_its_mortise_in_a_warped_slab() -> None:
    """Leaf and mortise share their facets: no corner of the leaf is off the mortise's floor."""
    scene = plain_scene(slab__warp=Warp(bow=0.25, twist=0.2), slab__hinge_edge=bevel(2.0))
    solid = slab_solid(scene)
    assert_closed(solid)
    for k in range(3):
        frame = slab_leaf_frame(scene, k)
        turn, origin = frame[:, :3], frame[:, 3]
        assert np.abs(turn.T @ turn - np.eye(3)).max() < 1e-14
        local = (solid.vertices - origin) @ turn
        on_floor = local[(np.abs(local[:, 2]) < 1e-9) & (np.abs(local[:, 1]) <= 1.75 + 1e-9)]
        # The two round corners of the buried edge, on the floor to the last bits.
        assert len(on_floor) >= 2 * 14
        assert np.abs(on_floor[:, 0]).min() < 1e-9
        assert np.abs(np.abs(on_floor[:, 1]).max() - 1.75) < 1e-9


def test_a_leaf_is_let_in_from_the_face_as_bowed_there() -> None:
    scene = plain_scene(slab__warp=Warp(bow=0.25), **SQUARES)
    for k, top in enumerate(scene.hinge.slab.tops):
        middle = H - top - 1.75
        origin = slab_leaf_frame(scene, k)[:, 3]
        v = middle / H
        assert origin[1] == pytest.approx(-T + 0.25 + 4 * 0.25 * v * (1 - v), abs=1e-3)


# ---------------------------------------------------------------- head edge and arch


@pytest.mark.parametrize("lean", [5.0, -3.0])
@pytest.mark.parametrize("heights", [(H, H), (79.75, 70.0), (70.0, 79.75)])
def test_volume_of_a_bevelled_top(lean: float, heights) -> None:
    scene = plain_scene(slab__head_edge=bevel(lean), slab__height=heights, **SQUARES)
    blank = slab_blank(scene.slab)
    assert_closed(blank)
    expected = W * T * sum(heights) / 2 - W * T**2 * tan(radians(lean)) / 2
    assert blank.volume == pytest.approx(expected, rel=1e-12)


def test_a_bevelled_top_meets_bevelled_edges_in_one_plane() -> None:
    scene = plain_scene(slab__head_edge=bevel(5.0), slab__width=(29.0, 30.0))
    blank = slab_blank(scene.slab)
    top = blank.vertices[blank.vertices[:, 2] > 60]
    fitted = top[:, 2] - top[:, 1] * tan(radians(5.0))
    assert np.abs(fitted - H).max() < 1e-12


def segment(radius: float, chord: float) -> float:
    """Area of a circle's segment, from its radius and chord (any textbook)."""
    half = asin(chord / 2 / radius)
    return radius**2 * (half - sin(half) * cos(half))


@pytest.mark.parametrize(("width", "rise"), [(30.0, 6.0), (30.0, 15.0), (36.0, 1.0)])
def test_an_arc_over_two_ends(width: float, rise: float) -> None:
    arc = arc_over((0.0, 80.0), (width, 80.0), rise)
    assert arc.crown == pytest.approx(80.0 + rise, abs=1e-12)
    points = arc_points(arc)
    assert points[0].tolist() == [0.0, 80.0] and points[-1].tolist() == [width, 80.0]
    off = np.hypot(points[:, 0] - arc.across, points[:, 1] - arc.up) - arc.radius
    assert np.abs(off).max() < 1e-12
    assert rise_of((0.0, 80.0), (width, 80.0), arc.radius) == pytest.approx(rise, rel=1e-9)


def test_volume_of_an_arched_head_its_stop_and_its_casing() -> None:
    scene = plain_scene(opening__arch=6.0, casing=CASING)
    opening, stop = scene.opening, scene.stop
    arc = head_arc(opening)
    chord = 30.125
    assert arc.radius == pytest.approx(chord**2 / 48 + 3.0)
    head = part(jamb_parts(scene), "head")
    assert_closed(head)
    area = chord * (6.0 + opening.thickness) - segment(arc.radius, chord)
    angle = 2 * asin(chord / 2 / arc.radius)
    # The facets are chords of the arc: no more than their skin of wood over the exact.
    over = head.volume - area * opening.depth
    assert 0 < over < FACE_SAGITTA * angle * arc.radius * opening.depth
    bands = {
        "head stop": (arc.radius, arc.radius - stop.projection, stop.width),
        "head casing": (
            arc.radius + CASING.reveal + CASING.width,
            arc.radius + CASING.reveal,
            CASING.thickness,
        ),
    }
    for name, (outer, inner, deep) in bands.items():
        band = part([*stop_parts(scene), *casing_parts(scene)], name)
        assert_closed(band)
        expected = angle / 2 * (outer**2 - inner**2) * deep
        assert band.volume == pytest.approx(expected, rel=3e-4)


def test_an_arched_slab_hangs_with_one_margin_all_along_its_arc() -> None:
    """On the head's centre, the head margin less radius; facets within the skin of both arcs."""
    margin, gap = 0.125, 1 / 16
    arc = arc_over((0.0, 80.5), (30.125, 80.5), 6.0)
    radius = arc.radius - margin
    sides = [arc.up + sqrt(radius**2 - (x - arc.across) ** 2) - 0.5 for x in (gap, gap + W)]
    scene = plain_scene(
        opening__arch=6.0,
        slab__height=(sides[0], sides[1]),
        slab__arch=rise_of((0.0, sides[0]), (W, sides[1]), radius),
        **SQUARES,
    )
    slab = assemble(scene).moving[0].solid
    assert_closed(slab)
    assert slab.bounds[0, 2] == pytest.approx(0.5, abs=1e-9)
    top = slab.vertices[slab.vertices[:, 2] > min(sides) + 0.4]
    away = np.hypot(top[:, 0] - arc.across, top[:, 2] - arc.up)
    assert np.abs(away - radius).max() < 1e-9
    assert slab.bounds[1, 2] == pytest.approx(arc.crown - margin, abs=1.5 * FACE_SAGITTA)
    assert hung_top(scene.opening, scene.slab) == pytest.approx(sides[0] + 0.5, abs=1e-9)


def test_volume_of_an_arched_slab() -> None:
    scene = plain_scene(opening__arch=15.0, slab__arch=W / 2, **SQUARES, **NO_MORTISE)
    slab = slab_solid(scene)
    assert_closed(slab)
    assert slab.volume == pytest.approx((W * H + pi * (W / 2) ** 2 / 2) * T, rel=3e-5)


# ---------------------------------------------------------------- steel, floor, room


def test_a_steel_leg_folds_over_the_wall() -> None:
    steel = SteelFrame(face=2.0, backbend=0.5)
    scene = plain_scene(opening__steel=steel, opening__thickness=0.25)
    leg = part(jamb_parts(scene), "strike leg")
    assert_closed(leg)
    depth = scene.opening.depth
    area = depth * 0.25 + 2 * 0.5 * (2.0 - 0.25)
    assert leg.volume == pytest.approx(area * (80.5 + 2.0), rel=1e-12)
    assert leg.bounds[1, 0] == 30.125 + 2.0
    head = part(jamb_parts(scene), "head")
    assert head.volume == pytest.approx(area * 30.125, rel=1e-12)
    wall = part(room_parts(scene), "wall")
    assert wall.bounds[:, 1].tolist() == [-depth + 0.5, -0.5]


def test_volume_of_a_threshold_and_a_carpet_on_a_level_floor() -> None:
    saddle = Threshold(width=5.0, height=0.5, slope=radians(45.0), edge=0.25)
    carpet = Carpet(thickness=0.375, edge=4.0, reach=20.0)
    scene = plain_scene(threshold=saddle, carpet=carpet)
    parts = ground_parts(scene)
    threshold = part(parts, "threshold")
    assert_closed(threshold)
    section = 5.0 * FLOOR_THICKNESS + (5.0 + 4.0) / 2 * 0.5
    assert threshold.volume == pytest.approx(section * 30.125, rel=1e-12)
    assert threshold.bounds[:, 1].tolist() == [-4.75, 0.25]
    laid = part(parts, "carpet")
    assert_closed(laid)
    assert laid.bounds[:, 1].tolist() == [4.0, 24.0] and laid.bounds[1, 2] == 0.375
    heights = [
        ground_height(scene, 10.0, y) for y in (-5.0, -4.5, -2.0, 0.0, 0.25, 4.0, 23.9, 24.1)
    ]
    expected = [0.0, 0.25, 0.5, 0.25, 0.0, 0.375, 0.375, 0.0]
    assert heights == pytest.approx(expected, abs=1e-12)


def test_what_is_laid_lies_on_a_sloping_floor() -> None:
    saddle = Threshold(width=5.0, height=0.5, slope=radians(45.0), edge=0.0)
    carpet = Carpet(thickness=0.375, edge=4.0, reach=20.0)
    floor = Floor(across=0.01, out=-0.02)
    scene = plain_scene(threshold=saddle, carpet=carpet, floor=floor)
    laid = part(ground_parts(scene), "carpet")
    over = laid.vertices[:, 2] - 0.01 * laid.vertices[:, 0] + 0.02 * laid.vertices[:, 1]
    assert sorted(over) == pytest.approx([0.375 - FLOOR_THICKNESS] * 4 + [0.375] * 4, abs=1e-12)
    threshold = part(ground_parts(scene), "threshold")
    assert_closed(threshold)
    crest = threshold.vertices[np.abs(threshold.vertices[:, 1] + 0.5) < 1e-9]
    assert len(crest) == 2
    for x, y, z in crest:
        assert z == pytest.approx(0.5 + 0.01 * x - 0.02 * y, abs=1e-12)


def test_a_baseboard_runs_up_to_the_casing_and_a_wall_return_stands_off_the_leg() -> None:
    scene = plain_scene(
        casing=CASING,
        baseboard=Baseboard(thickness=0.5, height=3.5),
        wall_return=WallReturn(hinge=4.0, strike=2.0, reach=30.0),
    )
    base = {each.name: each.solid.bounds for each in room_parts(scene)}
    lap = CASING.reveal + CASING.width
    assert base["baseboard"][1].tolist() == [-lap, 0.5, 3.5]
    assert base["strike baseboard"][0].tolist() == [30.125 + lap, 0.0, 0.0]
    assert base["wall return"][1, 0] == -4.0 and base["wall return"][1, 1] == 30.0
    assert base["strike wall return"][0, 0] == 30.125 + 2.0
    bare = replace(scene, casing=None)
    edges = {each.name: each.solid.bounds for each in room_parts(bare)}
    assert edges["baseboard"][1, 0] == -scene.opening.thickness
    pressed = replace(bare, opening=replace(bare.opening, steel=SteelFrame(face=2.0, backbend=0.5)))
    steel = {each.name: each.solid.bounds for each in room_parts(pressed)}
    assert steel["baseboard"][1].tolist() == [-2.0, 0.0, 3.5]
    assert steel["strike baseboard"][0].tolist() == [30.125 + 2.0, -0.5, 0.0]


# ---------------------------------------------------------------- fitted


def test_volume_of_an_astragal_flat_and_t() -> None:
    flat = Astragal(face=Face.PULL, width=1.75, thickness=0.5, overlap=0.75)
    (strip,) = fitted_parts(plain_scene(slab__astragal=flat, **SQUARES))
    assert_closed(strip.solid)
    assert strip.solid.volume == pytest.approx(1.75 * 0.5 * H, rel=1e-12)
    assert strip.solid.bounds[:, 0] == pytest.approx([W - 1.0, W + 0.75])
    assert strip.solid.bounds[:, 1].tolist() == [0.0, 0.5]
    for face, span in ((Face.PULL, [-T, 0.5]), (Face.PUSH, [-T - 0.5, 0.0])):
        tee = replace(flat, stem=0.0625, face=face)
        (strip,) = fitted_parts(plain_scene(slab__astragal=tee, **SQUARES))
        assert_closed(strip.solid)
        expected = (1.75 * 0.5 + 0.0625 * T) * H
        assert strip.solid.volume == pytest.approx(expected, rel=1e-12)
        assert strip.solid.bounds[:, 1].tolist() == span


def test_an_astragal_follows_a_taper_and_a_bow() -> None:
    strip = Astragal(face=Face.PUSH, width=1.0, thickness=0.25, overlap=0.5)
    scene = plain_scene(
        slab__astragal=strip, slab__width=(29.0, 30.0), slab__warp=Warp(bow=0.2), **SQUARES
    )
    (found,) = fitted_parts(scene)
    assert_closed(found.solid)
    for x, y, z in found.solid.vertices:
        v = z / H
        width = 30.0 - v
        assert x - width == pytest.approx(0.5, abs=1e-9) or x - width == pytest.approx(-0.5)
        off = y - 4 * 0.2 * v * (1 - v)
        assert off == pytest.approx(-T, abs=1e-9) or off == pytest.approx(-T - 0.25)


def test_applied_boxes_and_beads_stand_on_the_faces() -> None:
    box = Applied(name="panel", face=Face.BOTH, corner=(4.0, 10.0), size=(20.0, 30.0, 0.375))
    bead = Bead(width=0.5, proud=0.25, face=Face.PUSH)
    glass = Glass(width=18.0, height=24.0, thickness=0.25, across=6.0, up=50.0, bead=bead)
    scene = plain_scene(slab__applied=(box,), slab__glass=glass)
    parts = {p.name: p.solid for p in fitted_parts(scene)}
    assert set(parts) == {"panel", "push-side panel", "glass bead"}
    assert parts["panel"].bounds.tolist() == [[4.0, 0.0, 10.0], [24.0, 0.375, 40.0]]
    assert parts["push-side panel"].bounds[:, 1].tolist() == [-T - 0.375, -T]
    frame = 19.0 * 25.0 - 18.0 * 24.0
    assert_closed(parts["glass bead"])
    assert parts["glass bead"].volume == pytest.approx(frame * 0.25, rel=1e-12)


def test_volume_of_a_knob() -> None:
    knob = Handle(face=Face.BOTH, projection=2.5, diameter=2.125, length=0.0, rose=2.5)
    parts = fitted_parts(plain_scene(lock=changed(LOCK, handle=knob)))
    assert [p.name for p in parts] == ["handle", "push-side handle"]
    head = (2.5 - ROSE) * 2 / 3
    turns = ((1.25, ROSE), (NECK / 2, 2.5 - min(KNOB, head) - ROSE), (2.125 / 2, min(KNOB, head)))
    exact = sum(pi * radius**2 * along for radius, along in turns)
    for each in parts:
        assert_closed(each.solid)
        # A polygon in a circle: short by at most its sagitta all round.
        assert exact * (1 - 4 * HANDLE_SAGITTA) < each.solid.volume < exact
    low, high = parts[0].solid.bounds
    assert (low[1], high[1]) == (0.0, 2.5)
    low, high = parts[1].solid.bounds
    assert (low[1], high[1]) == (-T - 2.5, -T)


def test_a_lever_reaches_toward_the_hinge_edge() -> None:
    lever = Handle(face=Face.PULL, projection=2.5, diameter=0.75, length=4.5, rose=2.0)
    (found,) = fitted_parts(plain_scene(lock=changed(LOCK, handle=lever), **SQUARES))
    assert_closed(found.solid)
    centre = W - LOCK.backset
    assert found.solid.bounds[0, 0] == pytest.approx(centre - 4.5)
    assert found.solid.bounds[1] == pytest.approx([centre + 1.0, 2.5, 36.0 - 0.625 + 1.0], abs=5e-3)


def test_a_leg_that_leans_and_twists_carries_an_arch_along() -> None:
    scene: Scene = plain_scene(
        opening__arch=6.0,
        opening__hinge_leg=Leg(plumb=(0.1, -0.1), twist=(radians(1.0),)),
        opening__strike_leg=Leg(plumb=(-0.05, 0.1), cross=(0.1, 0.0)),
    )
    for each in (*jamb_parts(scene), *stop_parts(scene)):
        assert_closed(each.solid)
    arc = head_arc(scene.opening)
    assert arc.start == (0.1, 80.5) and arc.end == (30.125 + 0.05, 80.5)
    front = part(jamb_parts(scene), "head").vertices
    near = front[np.hypot(front[:, 0] - 0.1, front[:, 2] - 80.5) < 1e-9]
    assert len(near) == 1


def test_arc_helpers_agree_with_trigonometry() -> None:
    arc = arc_over((0.0, 0.0), (10.0, 4.0), 2.0)
    half = hypot(10.0, 4.0) / 2
    assert arc.radius == pytest.approx((half**2 + 4.0) / 4.0)
    turn = atan2(half, arc.radius - 2.0)
    assert acos((arc.radius - 2.0) / arc.radius) == pytest.approx(turn)
    assert hypot(arc.across, arc.up) == pytest.approx(arc.radius)
    assert arc.gap(arc.across, arc.up) == pytest.approx(arc.radius)
    assert arc.height(arc.across) == pytest.approx(arc.up + arc.radius)
    assert sqrt(max(arc.radius**2 - (0.0 - arc.across) ** 2, 0)) + arc.up == pytest.approx(0.0)
