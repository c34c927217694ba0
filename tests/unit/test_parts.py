"""The slab, leaves and frame as solids, against closed forms and probes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import asin, cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from swingcheck.assembly import Part, assemble, barrel_parts
from swingcheck.assembly.frame import frame_parts, jamb_parts, stop_parts
from swingcheck.assembly.ground import floor_height, ground_parts
from swingcheck.assembly.leaves import (
    SCREW_HEAD,
    jamb_leaf_parts,
    slab_leaf_parts,
)
from swingcheck.assembly.legs import FACE_SAGITTA, hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.parts import as_hung
from swingcheck.assembly.pins import jamb_leaf_frame, jamb_pin, slab_leaf_frame, slab_pin
from swingcheck.assembly.room import casing_parts, room_parts
from swingcheck.assembly.slab import (
    EDGE_SAGITTA,
    bore_centre,
    slab_blank,
    slab_bottom,
    slab_solid,
)
from swingcheck.errors import GeometryError
from swingcheck.geometry.booleans import shared_volume
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import ROUND_SAGITTA
from swingcheck.model import Edge, EdgeShape, Floor, LeafLayout, Leg, Obstacle, Rabbet, Scene
from tests.factory import CASING, LOCK, SQUARE, bevel, linen_closet, plain_scene, rounded
from tests.meshes import assert_closed, is_inside

W, H, T = 29.875, 79.75, 1.375
NO_MORTISE = {"hinge__slab__depths": (0.0, 0.0, 0.0)}


def by_name(parts: tuple[Part, ...]) -> dict[str, Solid]:
    names = [part.name for part in parts]
    assert len(set(names)) == len(names)
    return {part.name: part.solid for part in parts}


def slab_leaf_solid(scene: Scene, k: int) -> Solid:
    return slab_leaf_parts(scene)[k].solid


def jamb_leaf_solid(scene: Scene, k: int) -> Solid:
    return jamb_leaf_parts(scene)[k].solid


def turned(angle: float, point: np.ndarray) -> np.ndarray:
    """A plan point turned about the origin."""
    c, s = cos(angle), sin(angle)
    return np.array([[c, -s], [s, c]]) @ point


# ---------------------------------------------------------------- slab


def edge_loss(edge, thickness: float) -> float:
    """What an edge takes off a square section (its area), from its definition."""
    if edge.radius:
        r, half = edge.radius, thickness / 2
        return thickness * r - (r**2 * asin(half / r) + half * sqrt(r**2 - half**2))
    return thickness**2 * tan(edge.bevel) / 2


EDGES = [SQUARE, bevel(2.0), bevel(3.576), bevel(-1.0), rounded(2.125), rounded(T / 2)]


@pytest.mark.parametrize("hinge_edge", EDGES)
@pytest.mark.parametrize("strike_edge", EDGES)
def test_volume_of_a_blank_by_its_edges(hinge_edge, strike_edge):
    blank = slab_blank(plain_scene(slab__hinge_edge=hinge_edge, slab__strike_edge=strike_edge).slab)
    assert_closed(blank)
    area = W * T - edge_loss(hinge_edge, T) - edge_loss(strike_edge, T)
    arcs = sum(2 * e.radius * asin(T / 2 / e.radius) for e in (hinge_edge, strike_edge) if e.radius)
    short = arcs * EDGE_SAGITTA * H
    assert area * H - short - 1e-9 <= blank.volume <= area * H + 1e-9
    assert blank.bounds[1].tolist() == [max(W, W - T * tan(strike_edge.bevel)), 0.0, H]


def test_a_plumb_slab_has_no_crooked_face():
    blank = slab_blank(plain_scene().slab)
    assert len(blank.vertices) == 8
    back = T * tan(radians(2.0))
    corners = {(x, y, z) for z in (0.0, H) for x, y in ((0, 0), (back, -T), (W - back, -T), (W, 0))}
    assert set(map(tuple, blank.vertices.tolist())) == corners


def test_a_round_edge_lies_on_its_radius_with_its_crown_where_the_width_is_read():
    scene = plain_scene(slab__hinge_edge=rounded(2.125), slab__strike_edge=rounded(3.0))
    blank = slab_blank(scene.slab)
    x, y = blank.vertices[:, 0], blank.vertices[:, 1]
    near = x < 1
    assert np.abs(np.hypot(x[near] - 2.125, y[near] + T / 2) - 2.125).max() < 1e-15 * 8
    assert np.abs(np.hypot(x[~near] - (W - 3), y[~near] + T / 2) - 3).max() < 1e-14
    assert blank.bounds[:, 0].tolist() == [0.0, W]
    on_face = near & (y == 0.0)
    assert x[on_face] == pytest.approx(scene.slab.hinge_edge.wide_inset(T), abs=1e-15)
    assert scene.slab.hinge_edge.wide_inset(T) == pytest.approx(
        2.125 - sqrt(2.125**2 - T**2 / 4), abs=1e-15
    )


def test_a_radius_under_half_the_thickness_is_refused():
    with pytest.raises(GeometryError, match="radius"):
        slab_blank(plain_scene(slab__strike_edge=rounded(0.6)).slab)


@pytest.mark.parametrize("widths", [(30.0, 29.5), (29.5, 29.7, 29.6), (29.0, 29.5, 29.25, 30.0)])
def test_a_taper_comes_off_the_strike_edge(widths):
    scene = plain_scene(slab__width=widths, slab__hinge_edge=bevel(2), slab__strike_edge=bevel(3))
    blank = slab_blank(scene.slab)
    assert_closed(blank)
    last = len(widths) - 1
    mean = sum((a + b) / 2 for a, b in pairwise(widths)) / last
    area = mean * T - edge_loss(bevel(2), T) - edge_loss(bevel(3), T)
    assert blank.volume == pytest.approx(area * H, rel=1e-13)
    corners = set(map(tuple, blank.vertices.tolist()))
    for k, width in enumerate(widths):
        assert (width, 0.0, H * (1 - k / last)) in corners
    assert {x for x, y, _ in corners if y == 0.0 and x < 1} == {0.0}


@pytest.mark.parametrize("heights", [(79.75, 80.25), (80.25, 79.75)])
@pytest.mark.parametrize("widths", [(W,), (29.5, 30.0)])
def test_a_sloped_top_runs_straight_between_its_two_heights(heights, widths):
    square = plain_scene(
        slab__height=heights, slab__width=widths, slab__hinge_edge=SQUARE, slab__strike_edge=SQUARE
    )
    blank = slab_blank(square.slab)
    assert_closed(blank)
    face = [(0, 0), (widths[-1], 0), (widths[0], heights[1]), (0, heights[0])]
    x, z = np.array(face, dtype=float).T
    area = float(x @ np.roll(z, -1) - z @ np.roll(x, -1)) / 2
    assert blank.volume == pytest.approx(area * T, rel=1e-13)
    corners = set(map(tuple, blank.vertices.tolist()))
    assert (0.0, 0.0, heights[0]) in corners
    assert (widths[0], 0.0, heights[1]) in corners


def test_a_sloped_top_is_one_plane_on_shaped_edges():
    scene = plain_scene(
        slab__height=(79.75, 80.25),
        slab__width=(29.5, 30.0),
        slab__hinge_edge=rounded(2.125),
        slab__strike_edge=bevel(3.0),
    )
    blank = slab_blank(scene.slab)
    assert_closed(blank)
    top = blank.vertices[blank.vertices[:, 2] > 1]
    assert np.abs(top[:, 2] - 79.75 - 0.5 / 29.5 * top[:, 0]).max() < 1e-13
    strike = blank.vertices[(blank.vertices[:, 0] > 1) & (blank.vertices[:, 1] == -T)]
    drift = 30.0 - T * tan(radians(3.0)) - 0.5 * strike[:, 2] / 80.25
    assert np.abs(strike[:, 0] - drift).max() < 1e-13


def test_a_top_that_slopes_past_a_width_station_is_refused():
    with pytest.raises(GeometryError, match="slopes down past"):
        slab_blank(plain_scene(slab__height=(10.0, 80.0), slab__width=(30.0, 30.0, 30.0)).slab)


@pytest.mark.parametrize("lean", [0.0, 2.0, 5.0, -1.0])
@pytest.mark.parametrize("corner", [0.0, 0.25, 0.625])
def test_mortises_take_out_the_leafs_outline(lean, corner):
    edge = bevel(lean)
    depths, setbacks = (0.097, 0.1, 0.125), (0.25, 0.3, 0.1875)
    scene = plain_scene(
        slab__hinge_edge=edge,
        hinge__corner_radius=corner,
        hinge__slab__depths=depths,
        hinge__slab__setbacks=setbacks,
    )
    made = slab_solid(scene)
    assert_closed(made)
    b, length = radians(lean), 3.5
    rounds = 2 * (1 - pi / 4) * corner**2
    taken, arcs = 0.0, 0.0
    for depth, setback in zip(depths, setbacks, strict=True):
        flat = length * (T / cos(b) - setback) - rounds
        taken += flat * depth - length * tan(b) * depth**2 / 2
        arcs += pi * corner * ROUND_SAGITTA * depth
    lost = slab_blank(scene.slab).volume - made.volume
    assert taken - 1e-9 <= lost + arcs
    assert lost <= taken + 1e-9


def test_a_mortise_of_no_depth_is_not_cut():
    scene = plain_scene(**NO_MORTISE)
    assert slab_solid(scene).volume == slab_blank(scene.slab).volume


def test_a_mortise_stands_where_it_was_laid_out():
    scene = plain_scene(slab__hinge_edge=SQUARE, hinge__corner_radius=0.0)
    made = slab_solid(scene)
    top, buried, floor = 79.75 - 6.875, -T + 0.25, 0.097
    for z, inward in ((top, -1), (top - 3.5, 1)):
        assert is_inside(made, (0.05, -0.5, z - inward * 1e-6))
        assert not is_inside(made, (0.05, -0.5, z + inward * 1e-6))
    assert is_inside(made, (0.05, buried - 1e-6, top - 1))
    assert not is_inside(made, (0.05, buried + 1e-6, top - 1))
    assert is_inside(made, (floor + 1e-6, -0.5, top - 1))
    assert not is_inside(made, (floor - 1e-6, -0.5, top - 1))
    assert not is_inside(made, (0.05, -1e-6, top - 1))


def test_a_mortise_in_a_round_edge_lies_square_to_the_crown():
    made = slab_solid(plain_scene(slab__hinge_edge=rounded(2.125), hinge__corner_radius=0.0))
    assert_closed(made)
    z = 79.75 - 6.875 - 1.0
    for y in (-T / 2, -0.1):
        assert is_inside(made, (0.097 + 1e-6, y, z))
        assert not is_inside(made, (0.097 - 1e-6, y, z))


@pytest.mark.parametrize("strike_edge", [SQUARE, bevel(3.0)])
def test_bores_take_out_what_a_drill_would(strike_edge):
    """Cross bore, edge bore up to its middle, less what both take (by quadrature)."""
    lock = LOCK.__class__(
        backset=2.375, bore=2.125, edge_bore=1.0, height=36.0,
        face_length=2.25, face_width=1.0, face_depth=0.0,
    )  # fmt: skip
    scene = plain_scene(lock=lock, slab__strike_edge=strike_edge, **NO_MORTISE)
    made = slab_solid(scene)
    assert_closed(made)
    big, small = 2.125 / 2, 0.5
    both, _ = quad(lambda z: 2 * sqrt(small**2 - z**2) * sqrt(big**2 - z**2), -small, small)
    taken = pi * big**2 * T + pi * small**2 * 2.375 - both
    lost = slab_blank(scene.slab).volume - made.volume
    bound = ROUND_SAGITTA * (2 * pi * big * T + 2 * pi * small * 2.375)
    assert taken - bound <= lost <= taken + bound


def test_a_latch_face_is_let_in_square_to_the_strike_edge():
    scene = plain_scene(lock=LOCK, slab__strike_edge=bevel(3.0), **NO_MORTISE)
    made = slab_solid(scene)
    assert_closed(made)
    lean = radians(3.0)
    out = np.array([cos(lean), -sin(lean), 0.0])
    across = np.array([sin(lean), cos(lean), 0.0])
    middle = np.array([W - T / 2 * tan(lean), -T / 2, 36.0 - 0.625])
    for side in (-0.49, 0.49):
        for up in (-1.12, 1.12):
            corner = middle + side * across + [0, 0, up]
            assert is_inside(made, corner - (0.125 + 1e-6) * out)
            assert not is_inside(made, corner - (0.125 - 1e-6) * out)
    for beyond in (middle + 0.51 * across, middle + np.array([0, 0, 1.13])):
        assert is_inside(made, beyond - 0.06 * out)


def test_a_bore_is_drilled_at_its_backset_and_height():
    scene = plain_scene(lock=LOCK)
    centre = bore_centre(scene, LOCK)
    assert slab_bottom(scene) == 0.625
    expected = [W - T / 2 * tan(radians(2.0)) - 2.375, -T / 2, 35.375]
    assert centre == pytest.approx(expected, abs=1e-12)
    made = slab_solid(scene)
    for step in ([1, 0, 0], [0, 0, 1], [0, 0, -1], [-1, 0, 0]):
        assert not is_inside(made, centre + 1.06 * np.array(step))
    for step in ([0, 0, 1], [0, 0, -1], [-1, 0, 0]):
        assert is_inside(made, centre + 1.064 * np.array(step))


def test_a_tapered_slab_is_bored_from_its_edge_at_that_height():
    scene = plain_scene(lock=LOCK, slab__width=(29.0, 30.0), slab__strike_edge=SQUARE)
    x, _, z = bore_centre(scene, LOCK)
    assert x == pytest.approx(30.0 - z / H - 2.375, abs=1e-12)


# ---------------------------------------------------------------- leaves and pins


def test_pins_of_square_surfaces_in_closed_form():
    """x = -dj + t + q/2, y = -D + sj + l; from the slab x = ds - t - q/2, y = -T + ss + l."""
    jamb = LeafLayout(tops=(7.0, 68.5), setbacks=(0.3125, 0.25), depths=(0.097, 0.0625))
    slab = LeafLayout(tops=(6.875, 68.375), setbacks=(0.25, 0.3), depths=(0.08, 0.125))
    scene = plain_scene(slab__hinge_edge=SQUARE, hinge__jamb=jamb, hinge__slab=slab)
    for k in range(2):
        assert jamb_pin(scene, k) == pytest.approx(
            [
                -jamb.depths[k] + 0.097 + 0.03125,
                -1.4375 + jamb.setbacks[k] + 1.75,
                80.5 - jamb.tops[k] - 1.75,
            ],
            abs=1e-15,
        )
        assert slab_pin(scene, k) == pytest.approx(
            [slab.depths[k] - 0.097 - 0.03125, -T + slab.setbacks[k] + 1.75,
             79.75 - slab.tops[k] - 1.75],
            abs=1e-15,
        )  # fmt: skip


@given(lean=st.floats(-3, 8))
def test_a_bevel_turns_the_slabs_pin_about_the_narrow_arris(lean):
    square = slab_pin(plain_scene(slab__hinge_edge=SQUARE), 1)
    leaning = slab_pin(plain_scene(slab__hinge_edge=bevel(lean)), 1)
    b = radians(lean)
    expected = np.array([T * tan(b), -T]) + turned(b, square[:2] - [0.0, -T])
    assert leaning[:2] == pytest.approx(expected, abs=1e-14)


@given(twist=st.floats(-3, 3), plumb=st.floats(-0.2, 0.2), cross=st.floats(-0.2, 0.2))
def test_a_twist_turns_the_jambs_pin_about_the_legs_edge(twist, plumb, cross):
    square = jamb_pin(plain_scene(), 1)
    leg = Leg(plumb=(plumb,), cross=(cross,), twist=(radians(twist),))
    found = jamb_pin(plain_scene(opening__hinge_leg=leg), 1)
    assert found[:2] == pytest.approx(
        np.array([plumb, cross]) + turned(radians(twist), square[:2]), abs=1e-14
    )
    assert found[2] == square[2]


LEGS = [
    Leg(),
    Leg(plumb=(0.25, 0.0)),
    Leg(cross=(0.0, 0.0625, 0.125), twist=(radians(0.5),)),
    Leg(plumb=(0.0, 0.1, -0.1), cross=(-0.1, 0.2), twist=(0.0, 0.02)),
]


@pytest.mark.parametrize("edge", [SQUARE, bevel(2.0), bevel(5.0), rounded(2.125)])
@pytest.mark.parametrize("k", range(3))
def test_a_slab_leaf_fills_its_mortise_and_reaches_for_its_pin(edge, k):
    scene = plain_scene(slab__hinge_edge=edge)
    leaf, pin = slab_leaf_solid(scene, k), slab_pin(scene, k)
    assert_closed(leaf)
    b = edge.bevel
    e, n = np.array([sin(b), -cos(b), 0]), np.array([-cos(b), -sin(b), 0])
    rise = (leaf.vertices - pin) @ n
    along = (leaf.vertices - pin) @ e
    up = leaf.vertices[:, 2] - pin[2]
    assert rise.max() == pytest.approx(-0.03125, abs=1e-13)
    assert rise.min() == pytest.approx(-0.03125 - 0.097, abs=1e-13)
    assert along.max() == pytest.approx(1.75, abs=1e-13)
    assert along.min() == pytest.approx(0.22, abs=1e-13)
    assert [up.min(), up.max()] == pytest.approx([-1.75, 1.75], abs=1e-13)
    body = slab_solid(scene)
    assert shared_volume(body, leaf) < 1e-9
    below = leaf.moved(np.eye(3), -1e-3 * n)
    reach = T / cos(b) - 0.25
    if edge.radius:
        reach = T / 2 + sqrt(edge.radius**2 - (edge.radius - 0.097) ** 2) - 0.25
    let_in = 3.5 * reach - 2 * (1 - pi / 4) * 0.625**2
    assert shared_volume(body, below) == pytest.approx(1e-3 * let_in, rel=0.02)


@pytest.mark.parametrize("leg", LEGS)
@pytest.mark.parametrize("k", range(3))
def test_a_jamb_leaf_lies_in_its_mortise(leg, k):
    scene = plain_scene(opening__hinge_leg=leg)
    leaf, pin = jamb_leaf_solid(scene, k), jamb_pin(scene, k)
    assert_closed(leaf)
    assert shared_volume(by_name(jamb_parts(scene))["hinge leg"], leaf) < 1e-9
    plan = hinge_leg_plan(scene.opening, pin[2])
    along = np.array([*plan.along, 0.0])
    normal = np.array([*plan.normal, 0.0])
    tilt = 0.45 / 80.5
    middle = (leaf.vertices - pin) @ along
    assert middle.max() == pytest.approx(1.75, abs=2.0 * tilt)
    assert middle.min() == pytest.approx(0.22, abs=2.0 * tilt)
    rise = (leaf.vertices - pin) @ normal
    assert rise.max() == pytest.approx(-0.03125, abs=2.0 * tilt)


def test_a_jamb_leaf_is_exactly_upright_on_a_plumb_leg():
    scene = plain_scene(opening__hinge_leg=Leg(twist=(0.01,)))
    leaf = jamb_leaf_solid(scene, 0)
    assert set(leaf.vertices[:, 2].tolist()) >= {80.5 - 7 - 3.5, 80.5 - 7}
    flat = jamb_leaf_solid(plain_scene(), 0).vertices
    assert set(flat[:, 0].tolist()) == {-0.097, 0.0}
    assert flat[:, 1].min() == -1.4375 + 0.3125


def test_a_jamb_leaf_leans_with_its_leg():
    leaf = jamb_leaf_solid(plain_scene(opening__hinge_leg=Leg(plumb=(0.8, 0.0))), 0)
    slope = 0.8 / 80.5
    face = leaf.vertices[:, 0] - slope * leaf.vertices[:, 2]
    on_face = np.abs(face) < 1e-12
    assert on_face.sum() == len(face) / 2
    assert face[~on_face] == pytest.approx(-0.097, abs=1e-5)
    assert np.ptp(leaf.vertices[on_face, 0]) == pytest.approx(3.5 * slope, rel=1e-4)


def test_a_leaf_on_an_unmortised_edge_lies_on_it():
    scene = plain_scene(**NO_MORTISE, hinge__jamb__depths=(0.0, 0.0, 0.0))
    assert shared_volume(slab_solid(scene), slab_leaf_solid(scene, 0)) < 1e-9
    leg = by_name(jamb_parts(scene))["hinge leg"]
    assert shared_volume(leg, jamb_leaf_solid(scene, 0)) < 1e-9
    assert leg.volume == pytest.approx(4.5625 * 0.75 * 81.25, rel=1e-13)


def test_proud_screws_stand_out_of_both_leaves():
    flush, proud = plain_scene(), plain_scene(hinge__screw_proud=0.02)
    for solid, axis, sign in ((jamb_leaf_solid, 0, 1), (slab_leaf_solid, None, 1)):
        plain, made = solid(flush, 0), solid(proud, 0)
        assert_closed(made)
        heads = 3 * pi * (SCREW_HEAD / 2) ** 2 * 0.02
        assert made.volume - plain.volume == pytest.approx(heads, rel=0.02)
        if axis is not None:
            assert made.bounds[sign, axis] - plain.bounds[sign, axis] == pytest.approx(0.02)


@pytest.mark.parametrize("on_slab", [False, True])
def test_proud_screw_heads_stand_by_the_ends_of_the_buried_edge_and_in_the_middle(on_slab):
    """Two 3/8 from the buried edge and 5/8 from the leaf's ends, and one at its middle."""
    scene = plain_scene(hinge__screw_proud=0.02)
    solid, frame = (
        (slab_leaf_solid(scene, 1), slab_leaf_frame(scene, 1))
        if on_slab
        else (jamb_leaf_solid(scene, 1), jamb_leaf_frame(scene, 1))
    )
    local = (solid.vertices - frame[:, 3]) @ frame[:, :3]
    flat = 1.75 - 0.44 / 2  # buried edge to barrel
    tops = local[local[:, 2] > 0.097 + 0.01]
    assert tops[:, 2] == pytest.approx(0.097 + 0.02, abs=1e-12)
    places = np.array([(0.375, 1.75 - 0.625), (flat / 2, 0.0), (0.375, 0.625 - 1.75)])
    away = np.linalg.norm(tops[:, None, :2] - places, axis=2)
    head = away.argmin(axis=1)
    assert set(head) == {0, 1, 2}
    assert away.min(axis=1) == pytest.approx(SCREW_HEAD / 2, abs=1e-12)
    for k, place in enumerate(places):
        assert tops[head == k, :2].mean(axis=0) == pytest.approx(place, abs=1e-9)


def test_leaves_without_screws_proud_face_each_other_across_the_gap():
    scene = plain_scene(slab__hinge_edge=SQUARE)
    shift = jamb_pin(scene, 0) - slab_pin(scene, 0)
    jamb, slab = jamb_leaf_solid(scene, 0), slab_leaf_solid(scene, 0).moved(np.eye(3), shift)
    assert slab.bounds[0, 0] - jamb.bounds[1, 0] == pytest.approx(0.0625, abs=1e-15)
    assert slab.bounds[:, 1] == pytest.approx(jamb.bounds[:, 1], abs=1e-15)


def test_a_barrel_as_wide_as_the_hinge_is_refused():
    with pytest.raises(GeometryError, match="barrel"):
        slab_leaf_solid(plain_scene(hinge__barrel=3.5), 0)


def test_a_barrel_stands_about_its_pin_as_long_as_its_leaves():
    assembly = assemble(plain_scene(hinge__slab__tops=(7.0, 38.125, 68.5)))
    for k, barrel in enumerate(barrel_parts(assembly)):
        assert_closed(barrel.solid)
        pin = assembly.jamb_pins[k]
        half = np.array([0.22, 0.22, 1.75])
        assert barrel.solid.bounds == pytest.approx(np.array([pin - half, pin + half]), abs=1e-9)


# ---------------------------------------------------------------- frame


def test_a_plumb_frame_has_exact_faces():
    scene = plain_scene(hinge__jamb__depths=(0.0, 0.0, 0.0), casing=CASING)
    solids = by_name(frame_parts(scene))
    boxes = {
        "hinge leg": [(-0.75, -4.5625, 0.0), (0.0, 0.0, 81.25)],
        "strike leg": [(30.125, -4.5625, 0.0), (30.875, 0.0, 81.25)],
        "head": [(0.0, -4.5625, 80.5), (30.125, 0.0, 81.25)],
        "hinge stop": [(0.0, -2.6875, 0.0), (0.4375, -1.4375, 80.5)],
        "strike stop": [(29.6875, -2.6875, 0.0), (30.125, -1.4375, 80.5)],
        "head stop": [(0.0, -2.6875, 80.0625), (30.125, -1.4375, 80.5)],
        "hinge casing": [(-2.4375, 0.0, 0.0), (-0.1875, 0.75, 82.9375)],
        "strike casing": [(30.3125, 0.0, 0.0), (32.5625, 0.75, 82.9375)],
        "head casing": [(-2.4375, 0.0, 80.6875), (32.5625, 0.75, 82.9375)],
        "wall": [(-48.75, -4.5625, 0.0), (-0.75, 0.0, 93.25)],
        "strike wall": [(30.875, -4.5625, 0.0), (78.875, 0.0, 93.25)],
    }
    for name, (low, high) in boxes.items():
        assert_closed(solids[name])
        assert len(solids[name].vertices) == 8
        assert solids[name].bounds.tolist() == [list(low), list(high)], name
        volume = float(np.prod(np.subtract(high, low)))
        assert solids[name].volume == pytest.approx(volume, rel=1e-13)
    assert solids["floor"].bounds[1, 2] == 0.0
    assert set(solids) == {*boxes, "floor"}


def test_the_hinge_leg_loses_its_mortises():
    leg = by_name(jamb_parts(plain_scene()))["hinge leg"]
    assert_closed(leg)
    flat = 3.5 * (1.4375 - 0.3125) - 2 * (1 - pi / 4) * 0.625**2
    lost = 4.5625 * 0.75 * 81.25 - leg.volume
    assert lost == pytest.approx(3 * 0.097 * flat, abs=3 * 0.097 * pi * 0.625 * ROUND_SAGITTA)


CROOKED = {
    "opening__width": (30.0, 30.1, 30.2),
    "opening__height": (80.5, 80.75),
    "opening__rabbet": Rabbet(hinge=(1.4, 1.5, 1.45), strike=(1.5, 1.4), head=(1.4, 1.45, 1.5)),
    "opening__hinge_leg": Leg(
        plumb=(0.1, -0.05, 0.0), cross=(0.05, -0.1), twist=(0.02, -0.01, 0.015)
    ),
    "opening__strike_leg": Leg(cross=(-0.1, 0.1), twist=(0.0, 0.025)),
}


@pytest.mark.parametrize("plan_at", [hinge_leg_plan, strike_leg_plan])
def test_a_crooked_leg_and_its_stop_follow_what_was_measured(plan_at):
    """Probes a skin's breadth either side of every face, between the stations too."""
    scene = plain_scene(**CROOKED, hinge__jamb__depths=(0.0, 0.0, 0.0))
    solids = by_name(frame_parts(scene))
    side = "hinge" if plan_at is hinge_leg_plan else "strike"
    leg, stop = solids[f"{side} leg"], solids[f"{side} stop"]
    assert_closed(leg)
    assert_closed(stop)
    for z in np.linspace(0.5, 80.0, 23):
        plan = plan_at(scene.opening, z)
        for along in (0.3, 1.0, 2.0, 3.3, 4.2):
            assert is_inside(leg, [*plan.at(along, -1.5 * FACE_SAGITTA), z])
            assert not is_inside(leg, [*plan.at(along, 1.5 * FACE_SAGITTA), z])
        for out in (0.1, 0.4):
            assert is_inside(stop, [*plan.at(plan.rabbet + 1.5 * FACE_SAGITTA, out), z])
            assert not is_inside(stop, [*plan.at(plan.rabbet - 1.5 * FACE_SAGITTA, out), z])
        nose = plan.rabbet + 0.6
        assert is_inside(stop, [*plan.at(nose, 0.4375 - 1.5 * FACE_SAGITTA), z])
        assert not is_inside(stop, [*plan.at(nose, 0.4375 + 1.5 * FACE_SAGITTA), z])


def test_the_measured_corners_are_in_the_mesh():
    scene = plain_scene(**CROOKED)
    corners = by_name(jamb_parts(scene))["strike leg"].vertices
    for z in (0.0, 80.75 / 2, 80.75):
        edge = strike_leg_plan(scene.opening, z).edge
        assert np.abs(corners - [*edge, z]).max(axis=1).min() < 1e-12


def test_the_head_and_its_stop_run_between_the_measured_ends():
    scene = plain_scene(**CROOKED)
    solids = by_name((*jamb_parts(scene), *stop_parts(scene)))
    hinge, strike = hinge_leg_plan(scene.opening, 80.5), strike_leg_plan(scene.opening, 80.75)
    for share, rabbet in ((0.01, 1.4), (0.5, 1.45), (0.99, 1.5)):
        z = 80.5 + 0.25 * share
        mid = hinge.at(2.0, 0.0) * (1 - share) + strike.at(2.0, 0.0) * share
        assert is_inside(solids["head"], [*mid, z + 0.01])
        assert not is_inside(solids["head"], [*mid, z - 0.01])
        face = hinge.at(rabbet, 0.0) * (1 - share) + strike.at(rabbet, 0.0) * share
        low = z - 0.4375
        assert is_inside(solids["head stop"], [face[0], face[1] - 0.01, low + 0.01])
        assert not is_inside(solids["head stop"], [face[0], face[1] + 0.01, low + 0.01])
        assert not is_inside(solids["head stop"], [face[0], face[1] - 0.01, low - 0.01])
    assert_closed(solids["head"])
    assert_closed(solids["head stop"])


def test_a_strike_leg_stands_its_width_off_the_hinge_leg_at_stations_of_its_own_height():
    """Plumb (0, 0.2) down 80, widths (30, 30.4) down 100: at 60 that is 0.05 + 30.16."""
    scene = plain_scene(
        opening__width=(30.0, 30.4),
        opening__height=(80.0, 100.0),
        opening__hinge_leg=Leg(plumb=(0.0, 0.2)),
    )
    assert strike_leg_plan(scene.opening, 60.0).edge == pytest.approx([30.21, 0.0], abs=1e-12)


def test_a_stop_stands_on_the_floor_under_itself():
    scene = plain_scene(floor=Floor(out=0.01))
    for stop in stop_parts(scene)[:2]:
        assert stop.solid.bounds[0, 2] == pytest.approx(-0.01 * (1.4375 + 1.25), abs=1e-12)


def test_the_closed_slab_is_parallel_to_the_line_across_the_middles_of_the_stops_faces():
    twists = radians(1.5), radians(-2.0)
    hinge, strike = (Leg(twist=(twist,)) for twist in twists)
    scene = plain_scene(opening__hinge_leg=hinge, opening__strike_leg=strike)
    middles = [
        np.array([x, 0.0])
        + turned(way * twist, np.array([0.0, -1.4375]))
        + turned(way * twist, np.array([way * 0.4375 / 2, 0.0]))
        for x, way, twist in zip((0.0, 30.125), (1.0, -1.0), twists, strict=True)
    ]
    across = middles[1] - middles[0]
    found = assemble(scene).place[:2, 0]
    assert found == pytest.approx(across / np.hypot(*across), abs=1e-14)


def test_a_leaning_pin_line_is_told_at_the_height_that_is_asked():
    axis = assemble(plain_scene(opening__hinge_leg=Leg(plumb=(0.8, 0.0)))).axis
    assert axis.direction[2] < 1.0
    for height in (-3.0, 17.0, 80.0):
        point = axis.at(height)
        assert point[2] == pytest.approx(height, abs=1e-12)
        assert np.cross(point - axis.point, axis.direction) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("edge", [Edge(), Edge(shape=EdgeShape.RADIUS, radius=2.0)])
def test_an_edge_leans_by_its_bevel_only_where_it_is_bevelled(edge):
    stray = replace(edge, bevel=0.1)
    assert stray.lean == 0.0
    assert stray.narrow_inset(T) == stray.wide_inset(T) == edge.wide_inset(T)
    assert bevel(3.0).narrow_inset(T) == pytest.approx(T * tan(radians(3.0)), abs=1e-15)


def test_no_stop_and_no_casing_leave_nothing_behind():
    scene = plain_scene(stop=None)
    assert stop_parts(scene) == ()
    assert casing_parts(scene) == ()


def test_casing_follows_each_legs_edge():
    solids = by_name(casing_parts(plain_scene(**CROOKED, casing=CASING)))
    scene = plain_scene(**CROOKED)
    for name, plan_at, into in (("hinge", hinge_leg_plan, 1), ("strike", strike_leg_plan, -1)):
        for z in (10.0, 60.0):
            x, y = plan_at(scene.opening, z).edge
            made = solids[f"{name} casing"]
            assert_closed(made)
            assert is_inside(made, [x - into * 0.1975, y + 0.01, z])
            assert not is_inside(made, [x - into * 0.1775, y + 0.01, z])
            assert not is_inside(made, [x - into * 0.1975, y - 0.01, z])
            assert is_inside(made, [x - into * 2.4275, y + 0.74, z])
            assert not is_inside(made, [x - into * 2.4275, y + 0.76, z])


def test_walls_stand_behind_the_jamb_on_both_sides():
    parts = room_parts(plain_scene(opening__hinge_leg=Leg(plumb=(0.125, 0.0))))
    solids = by_name(parts)
    assert solids["wall"].bounds[1].tolist() == [0.125 - 0.75, 0.0, 93.25]
    assert solids["strike wall"].bounds[0].tolist() == [30.875, -4.5625, 0.0]


def test_obstacles_keep_their_names_and_places():
    chair = Obstacle(name="chair", corner=(1.0, 2.0, 0.0), size=(18.0, 20.0, 32.0))
    (part,) = (part for part in room_parts(plain_scene(obstacles=(chair,))) if part.name == "chair")
    assert part.name == "chair"
    assert part.solid.bounds.tolist() == [[1.0, 2.0, 0.0], [19.0, 22.0, 32.0]]


def test_a_sloping_covered_floor_is_a_plane_through_the_hinge_legs_foot():
    scene = plain_scene(floor=Floor(covering=0.5, across=0.004, out=-0.01))
    assert floor_height(scene, 0.0, 0.0) == 0.5
    assert floor_height(scene, 30.0, 10.0) == pytest.approx(0.5 + 0.12 - 0.1)
    solid = ground_parts(scene)[0].solid
    assert_closed(solid)
    for x, y in ((0, 0), (30, 0), (-20, 25), (5, 30), (29, -3)):
        z = 0.5 + 0.004 * x - 0.01 * y
        assert is_inside(solid, (x, y, z - 1e-6))
        assert not is_inside(solid, (x, y, z + 1e-6))
    leg = by_name(jamb_parts(scene))["strike leg"]
    assert leg.bounds[0, 2] == pytest.approx(floor_height(scene, 30.125, 0.0))


def test_a_floors_profile_is_met_where_it_was_read():
    profile = (0.0, 0.1, 0.3, 0.25)
    scene = plain_scene(floor=Floor(covering=0.25, out=0.002, profile=profile))
    solid = ground_parts(scene)[0].solid
    assert_closed(solid)
    for k, rise in enumerate(profile):
        angle = radians(30 * k)
        for share in (0.25, 0.5, 1.0):
            x, y = W * share * cos(angle), W * share * sin(angle)
            z = 0.25 + 0.002 * y + rise * share
            assert floor_height(scene, x, y) == pytest.approx(z, abs=1e-12)
    between = floor_height(scene, W * cos(radians(45)), W * sin(radians(45)))
    assert between == pytest.approx(0.25 + 0.002 * W * sin(radians(45)) + 0.2, abs=1e-12)
    for angle in np.linspace(-3.1, 3.1, 17):
        for radius in (5.0, 20.0, 35.0):
            x, y = radius * cos(angle), radius * sin(angle)
            z = floor_height(scene, x, y)
            assert is_inside(solid, (x, y, z - 1e-6))
            assert not is_inside(solid, (x, y, z + 1e-6))


def test_a_profile_holds_past_its_last_reading_and_before_its_first():
    scene = plain_scene(floor=Floor(profile=(0.1, 0.3)))
    for angle, rise in ((135, 0.3), (180, 0.3), (-45, 0.1)):
        x, y = W * cos(radians(angle)), W * sin(radians(angle))
        assert floor_height(scene, x, y) == pytest.approx(rise, rel=3e-3)


def test_the_floor_reaches_past_everything_the_slab_sweeps():
    for floor in (Floor(), Floor(profile=(0.0, 0.2))):
        solid = ground_parts(plain_scene(floor=floor))[0].solid
        sweep = hypot(W + 1, T + 1)
        for angle in np.linspace(-0.1, pi + 0.1, 15):
            x, y = sweep * cos(angle), sweep * sin(angle)
            assert is_inside(solid, (x, y, floor_height(plain_scene(floor=floor), x, y) - 0.01))


# ---------------------------------------------------------------- everything, at random


def stations(low: float, high: float) -> st.SearchStrategy[tuple[float, ...]]:
    return st.lists(st.floats(low, high), min_size=1, max_size=3).map(tuple)


legs = st.builds(
    Leg, plumb=stations(-0.25, 0.25), cross=stations(-0.25, 0.25), twist=stations(-0.035, 0.035)
)
edges = st.one_of(st.just(SQUARE), st.floats(-1, 7).map(bevel), st.floats(1.0, 4.0).map(rounded))
depths = st.tuples(*[st.sampled_from([0.0, 0.0625, 0.097, 0.125])] * 3)
setbacks = st.tuples(*[st.floats(0.1, 0.4)] * 3)
scenes = st.builds(
    plain_scene,
    opening__hinge_leg=legs,
    opening__strike_leg=legs,
    opening__height=st.tuples(st.floats(80.3, 81.0), st.floats(80.3, 81.0)),
    opening__rabbet=st.builds(
        Rabbet, hinge=stations(1.3, 1.6), strike=stations(1.3, 1.6), head=stations(1.3, 1.6)
    ),
    slab__width=stations(29.0, 30.0),
    slab__height=st.tuples(st.floats(79.5, 80.0), st.floats(79.5, 80.0)),
    slab__thickness=st.sampled_from([1.375, 1.75]),
    slab__hinge_edge=edges,
    slab__strike_edge=edges,
    hinge__corner_radius=st.sampled_from([0.0, 0.25, 0.625]),
    hinge__screw_proud=st.sampled_from([0.0, 0.015]),
    hinge__jamb__depths=depths,
    hinge__slab__depths=depths,
    hinge__jamb__setbacks=setbacks,
    hinge__slab__setbacks=setbacks,
    lock=st.sampled_from([None, LOCK]),
    casing=st.sampled_from([None, CASING]),
    floor=st.builds(
        Floor,
        covering=st.floats(0, 0.75),
        across=st.floats(-0.01, 0.01),
        out=st.floats(-0.01, 0.01),
        profile=st.one_of(st.just(()), stations(-0.3, 0.5)),
    ),
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(scene=scenes)
def test_every_part_of_a_random_scene_is_closed(scene: Scene):
    solids = [slab_solid(scene), *by_name(frame_parts(scene)).values()]
    for k in range(scene.hinge.count):
        solids += [slab_leaf_solid(scene, k), jamb_leaf_solid(scene, k)]
        assert shared_volume(solids[0], slab_leaf_solid(scene, k)) < 1e-9
    for solid in solids:
        assert_closed(solid)
        mirrored = solid.mirrored_in_x()
        assert mirrored.volume == pytest.approx(solid.volume, rel=1e-12)
    assert_closed(solids[0].mirrored_in_x())


@pytest.mark.parametrize("hinges_on", ["left", "right"])
def test_from_the_pull_side_the_hinges_are_where_the_scene_says(hinges_on):
    """A person at +y who looks toward -y with +z up has forward x up to the right."""
    scene = linen_closet(hinges_on=hinges_on)
    solids = by_name(jamb_parts(scene))
    right = np.cross([0.0, -1.0, 0.0], [0.0, 0.0, 1.0])
    hinge, strike = (
        as_hung(scene, solids[name]).vertices.mean(axis=0) @ right
        for name in ("hinge leg", "strike leg")
    )
    assert (hinge < strike) == (hinges_on == "left")
