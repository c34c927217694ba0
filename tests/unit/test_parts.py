"""The slab, leaves and frame as solids, against closed forms and probes."""

from __future__ import annotations

from dataclasses import replace
from math import asin, cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from swingcheck.assembly import assemble, bare_assembly, barrel_parts
from swingcheck.assembly.parts import as_hung
from swingcheck.errors import GeometryError
from swingcheck.geometry.booleans import shared_volume
from swingcheck.model import Edge, EdgeShape, Floor, LeafLayout, Leg, Obstacle, Rabbet, Scene
from tests.built import (
    EDGE_SKIN,
    SKIN,
    assert_face,
    built,
    corners,
    off_line,
    on_leg,
    part,
    station,
    taken_by,
    turned,
)
from tests.factory import CASING, LOCK, SQUARE, bevel, changed, linen_closet, plain_scene, rounded
from tests.meshes import assert_closed, is_inside
from tests.openings import random_opening

W, H, T = 29.875, 79.75, 1.375
X, Y, Z = np.eye(3)
NO_MORTISE = {"hinge__slab__depths": (0.0,) * 3}
HINGES = ("top", "middle", "bottom")
LEAF, GAP, LONG, BARREL = 0.097, 0.0625, 3.5, 0.44
SCREW_HEAD = 0.36


# ---------------------------------------------------------------- slab

EDGES = [SQUARE, bevel(2.0), rounded(2.125), bevel(3.576), bevel(-1.0), rounded(T / 2)]


@pytest.mark.parametrize(
    ("hinge", "strike"), [*zip(EDGES, [*EDGES[2:], *EDGES[:2]], strict=True)], ids=range(6)
)
def test_a_slab_by_its_edges(hinge: Edge, strike: Edge) -> None:
    slab = part(plain_scene(slab__hinge_edge=hinge, slab__strike_edge=strike, **NO_MORTISE), "slab")
    area = W * T - taken_by(hinge, T) - taken_by(strike, T)
    arcs = sum(2 * e.radius * asin(T / 2 / e.radius) for e in (hinge, strike) if e.radius)
    assert area * H - arcs * EDGE_SKIN * H - 1e-9 <= slab.volume <= area * H + 1e-9
    low, high = min(0.0, T * tan(hinge.bevel)), max(W, W - T * tan(strike.bevel))
    assert slab.bounds == pytest.approx(np.array([[low, -T, 0.0], [high, 0.0, H]]), abs=1e-12)
    x, y = slab.vertices[:, 0], slab.vertices[:, 1] + T / 2
    for edge, back in ((hinge, x), (strike, W - x)):
        if edge.radius:
            near = back < 1
            off = np.hypot(back[near] - edge.radius, y[near]) - edge.radius
            assert np.abs(off).max() < 1e-12
            inset = edge.radius - sqrt(edge.radius**2 - T**2 / 4)
            assert back[near & (y > T / 2 - 1e-9)] == pytest.approx(inset, abs=1e-12)


@pytest.mark.parametrize(
    ("widths", "heights", "leans"),
    [
        ((W,), (H, H), (2, 2)),
        ((30.0, 29.5), (H, H), (2, 3)),
        ((29.5, 29.7, 29.6), (H, H), (2, 3)),
        ((29.0, 29.5, 29.25, 30.0), (H, H), (2, 3)),
        ((W,), (79.75, 80.25), (0, 0)),
        ((W,), (80.25, 79.75), (0, 0)),
        ((29.5, 30.0), (79.75, 80.25), (0, 0)),
        ((29.5, 30.0), (80.25, 79.75), (0, 0)),
    ],
)
def test_a_slab_between_its_two_faces(widths, heights, leans) -> None:
    """A taper comes off the strike edge, and the top runs straight between its two heights."""
    scene = plain_scene(
        slab__width=widths,
        slab__height=heights,
        slab__hinge_edge=bevel(leans[0]),
        slab__strike_edge=bevel(leans[1]),
        **NO_MORTISE,
    )
    slab = part(scene, "slab")
    shares = np.linspace(0.0, 1.0, max(len(widths), 2))
    strike = [(station(widths, share), heights[1] * (1 - share)) for share in shares]
    faces = []
    for y, lean in ((0.0, 0.0), (-T, T)):
        near, far = (lean * tan(radians(each)) for each in leans)
        outline = [(near, heights[0]), (near, 0.0), *((x - far, z) for x, z in strike[::-1])]
        x, z = np.array(outline).T
        faces.append(abs(float(x @ np.roll(z, -1) - z @ np.roll(x, -1))) / 2)
        wanted = np.column_stack([x, np.full(len(x), y), z])
        assert set(map(tuple, wanted.round(6).tolist())) <= corners(slab)
    assert slab.volume == pytest.approx(sum(faces) / 2 * T, rel=1e-12)
    assert {x for x, y, _ in corners(slab) if y == 0.0 and x < 1} == {0.0}
    if len(widths) == 1:
        assert len(slab.vertices) == 8


def test_a_sloped_top_is_one_plane_on_shaped_edges() -> None:
    scene = plain_scene(
        slab__height=(79.75, 80.25),
        slab__width=(29.5, 30.0),
        slab__hinge_edge=rounded(2.125),
        slab__strike_edge=bevel(3.0),
        **NO_MORTISE,
    )
    x, y, z = part(scene, "slab").vertices.T
    top, strike = z > 1, (x > 1) & (y < 1e-9 - T)
    assert z[top] == pytest.approx(79.75 + 0.5 / 29.5 * x[top], abs=1e-12)
    drift = 30.0 - T * tan(radians(3.0)) - 0.5 * z[strike] / 80.25
    assert x[strike] == pytest.approx(drift, abs=1e-12)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"slab__strike_edge": rounded(0.6)}, "radius"),
        ({"slab__height": (10.0, 80.0), "slab__width": (30.0,) * 3}, "slopes down past"),
        ({"hinge__barrel": 3.5}, "barrel"),
    ],
)
def test_what_leaves_nothing_of_a_part_is_refused(changes, told: str) -> None:
    with pytest.raises(GeometryError, match=told):
        assemble(plain_scene(**changes))


@pytest.mark.parametrize(
    ("lean", "corner"), [(0.0, 0.25), (2.0, 0.625), (5.0, 0.0), (-1.0, 0.625), (0.0, 0.0)]
)
def test_mortises_take_out_the_leafs_outline(lean: float, corner: float) -> None:
    """In slab and hinge leg; a bevelled edge's opens out at the wide face by its lean."""
    depths, setbacks = (0.097, 0.1, 0.125), (0.25, 0.3, 0.1875)
    cut = plain_scene(
        slab__hinge_edge=bevel(lean),
        hinge__corner_radius=corner,
        hinge__slab__depths=depths,
        hinge__slab__setbacks=setbacks,
        hinge__jamb__depths=depths,
        hinge__jamb__setbacks=setbacks,
    )
    whole = changed(cut, hinge__slab__depths=(0.0,) * 3, hinge__jamb__depths=(0.0,) * 3)
    arcs = pi * corner * SKIN * sum(depths)
    for name, reach, lean_at in (
        ("slab", T / cos(radians(lean)), tan(radians(lean))),
        ("hinge leg", 1.4375, 0.0),
    ):
        taken = sum(
            (LONG * (reach - setback) - 2 * (1 - pi / 4) * corner**2) * depth
            - LONG * lean_at * depth**2 / 2
            for depth, setback in zip(depths, setbacks, strict=True)
        )
        lost = part(whole, name).volume - part(cut, name).volume
        assert taken - arcs - 1e-9 <= lost <= taken + 1e-9


@pytest.mark.parametrize("edge", [SQUARE, rounded(2.125)])
def test_a_mortise_stands_where_it_was_laid_out(edge: Edge) -> None:
    """Square to the crown of a round edge, as to a square one."""
    slab = part(plain_scene(slab__hinge_edge=edge, hinge__corner_radius=0.0), "slab")
    top, buried = H - 6.875, 0.25 - T
    assert_face(slab, -Z, [(0.05, -0.5, top)], 1e-6)
    assert_face(slab, Z, [(0.05, -0.5, top - LONG)], 1e-6)
    assert_face(slab, Y, [(0.09, buried, top - 1)], 1e-6)
    assert_face(slab, -X, [(0.097, y, top - 1) for y in (-0.1, -0.5, -T / 2)], 1e-6)
    assert not is_inside(slab, (0.09, -1e-6, top - 1))


@pytest.mark.parametrize("strike_edge", [SQUARE, bevel(3.0)])
def test_bores_take_out_what_a_drill_would(strike_edge: Edge) -> None:
    """Cross bore, edge bore up to its middle, less what both take (by quadrature)."""
    lock = replace(LOCK, face_depth=0.0)
    scene = plain_scene(lock=lock, slab__strike_edge=strike_edge, **NO_MORTISE)
    big, small = 2.125 / 2, 0.5
    both, _ = quad(lambda z: 2 * sqrt(small**2 - z**2) * sqrt(big**2 - z**2), -small, small)
    taken = pi * big**2 * T + pi * small**2 * 2.375 - both
    lost = part(replace(scene, lock=None), "slab").volume - part(scene, "slab").volume
    bound = SKIN * (2 * pi * big * T + 2 * pi * small * 2.375)
    assert lost == pytest.approx(taken, abs=bound)


def test_a_latch_face_is_let_in_square_to_the_strike_edge() -> None:
    slab = part(plain_scene(lock=LOCK, slab__strike_edge=bevel(3.0), **NO_MORTISE), "slab")
    lean = radians(3.0)
    out, across = np.array([cos(lean), -sin(lean), 0.0]), np.array([sin(lean), cos(lean), 0.0])
    middle = np.array([W - T / 2 * tan(lean), -T / 2, 36.0 - 0.625]) - 0.125 * out
    floor = [middle + side * across + up * Z for side in (-0.49, 0.49) for up in (-1.12, 1.12)]
    assert_face(slab, out, floor, 1e-6)
    for beyond in (0.51 * across, 1.13 * Z):
        assert is_inside(slab, middle + 0.06 * out + beyond)


@pytest.mark.parametrize("widths", [(W,), (29.0, 30.0)])
def test_a_bore_is_drilled_at_its_backset_and_height(widths) -> None:
    """From the edge as wide as the slab is there; 36 in off the floor, the slab 5/8 in."""
    scene = plain_scene(lock=LOCK, slab__width=widths, opening__height=(80.5, 81.0))
    slab = part(scene, "slab")
    z = 36.0 - 0.625
    edge = station(widths, 1 - z / H) - T / 2 * tan(radians(2.0))
    centre = np.array([edge - 2.375, -T / 2, z])
    assert not is_inside(slab, centre + 1.06 * X)
    for way in (Z, -Z, -X):
        assert_face(slab, -way, [centre + 2.125 / 2 * way], 1e-5)


# ---------------------------------------------------------------- leaves and pins


def test_pins_of_square_surfaces_in_closed_form() -> None:
    """x = -dj + t + q/2, y = -D + sj + l; from the slab x = ds - t - q/2, y = -T + ss + l."""
    jamb = LeafLayout(tops=(7.0, 68.5), setbacks=(0.3125, 0.25), depths=(0.097, 0.0625))
    slab = LeafLayout(tops=(6.875, 68.375), setbacks=(0.25, 0.3), depths=(0.08, 0.125))
    heights = {"opening__height": (80.5, 79.5), "slab__height": (H, 78.75)}
    hung = bare_assembly(
        plain_scene(slab__hinge_edge=SQUARE, hinge__jamb=jamb, hinge__slab=slab, **heights)
    )
    off, reach = LEAF + GAP / 2, LONG / 2
    on_jamb = [
        (off - d, -1.4375 + s + reach, 80.5 - top - LONG / 2)
        for d, s, top in zip(jamb.depths, jamb.setbacks, jamb.tops, strict=True)
    ]
    on_slab = [
        (d - off, -T + s + reach, H - top - LONG / 2)
        for d, s, top in zip(slab.depths, slab.setbacks, slab.tops, strict=True)
    ]
    assert hung.jamb_pins == pytest.approx(np.array(on_jamb), abs=1e-14)
    assert hung.in_slab(hung.slab_pins) == pytest.approx(np.array(on_slab), abs=1e-12)


def slab_pin(scene: Scene) -> np.ndarray:
    hung = bare_assembly(scene)
    return hung.in_slab(hung.slab_pins)[1]


@given(lean=st.floats(-3, 8))
def test_a_bevel_turns_the_slabs_pin_about_the_narrow_arris(lean: float) -> None:
    x, y, _ = slab_pin(plain_scene(slab__hinge_edge=SQUARE))
    b = radians(lean)
    found = slab_pin(plain_scene(slab__hinge_edge=bevel(lean)))[:2]
    assert found - [T * tan(b), -T] == pytest.approx(turned(b, x, y + T), abs=1e-12)


@given(twist=st.floats(-3, 3), plumb=st.floats(-0.2, 0.2), cross=st.floats(-0.2, 0.2))
def test_a_twist_turns_the_jambs_pin_about_the_legs_edge(twist, plumb, cross) -> None:
    x, y, z = bare_assembly(plain_scene()).jamb_pins[1]
    leg = Leg(plumb=(plumb,), cross=(cross,), twist=(radians(twist),))
    found = bare_assembly(plain_scene(opening__hinge_leg=leg)).jamb_pins[1]
    expected = [*turned(radians(twist), x, y), z]
    assert found - [plumb, cross, 0.0] == pytest.approx(expected, abs=1e-14)


@pytest.mark.parametrize("edge", [SQUARE, bevel(2.0), bevel(5.0), rounded(2.125)])
def test_a_slab_leaf_fills_its_mortise_and_reaches_for_its_pin(edge: Edge) -> None:
    scene = plain_scene(slab__hinge_edge=edge)
    parts, hung = built(scene), bare_assembly(scene)
    b = edge.bevel
    e, n = np.array([sin(b), -cos(b), 0]), np.array([-cos(b), -sin(b), 0])
    reach = T / cos(b) - 0.25
    if edge.radius:
        reach = T / 2 + sqrt(edge.radius**2 - (edge.radius - 0.097) ** 2) - 0.25
    let_in = LONG * reach - 2 * (1 - pi / 4) * 0.625**2
    for name, pin in zip(HINGES, hung.in_slab(hung.slab_pins), strict=True):
        leaf = parts[f"slab leaf of the {name} hinge"]
        assert_closed(leaf)
        local = (leaf.vertices - pin) @ np.array([n, e, Z]).T
        low, high = local.min(axis=0), local.max(axis=0)
        assert low == pytest.approx([-GAP / 2 - LEAF, BARREL / 2, -1.75], abs=1e-12)
        assert high == pytest.approx([-GAP / 2, 1.75, 1.75], abs=1e-12)
        assert shared_volume(parts["slab"], leaf) < 1e-9
        below = leaf.moved(np.eye(3), -1e-3 * n)
        assert shared_volume(parts["slab"], below) == pytest.approx(1e-3 * let_in, rel=0.02)


LEGS = [
    Leg(),
    Leg(plumb=(0.25, 0.0)),
    Leg(cross=(0.0, 0.0625, 0.125), twist=(radians(0.5),)),
    Leg(plumb=(0.0, 0.1, -0.1), cross=(-0.1, 0.2), twist=(0.0, 0.02)),
]


@pytest.mark.parametrize("leg", LEGS, ids=range(4))
def test_a_jamb_leaf_lies_in_its_mortise(leg: Leg) -> None:
    scene = plain_scene(opening__hinge_leg=leg)
    parts = built(scene)
    tilt = 2.0 * 0.45 / 80.5
    for name, pin in zip(HINGES, assemble(scene).jamb_pins, strict=True):
        leaf = parts[f"jamb leaf of the {name} hinge"]
        assert_closed(leaf)
        assert shared_volume(parts["hinge leg"], leaf) < 1e-9
        foot = on_leg(scene, 0, pin[2], 0.0, 0.0)
        along, normal = (on_leg(scene, 0, pin[2], *way) - foot for way in ((1, 0), (0, 1)))
        run, rise = ((leaf.vertices - pin)[:, :2] @ way for way in (along, normal))
        assert [run.min(), run.max()] == pytest.approx([BARREL / 2, 1.75], abs=tilt)
        assert rise.max() == pytest.approx(-GAP / 2, abs=tilt)


def test_a_jamb_leaf_stands_and_leans_with_its_leg_and_lies_on_an_unmortised_edge() -> None:
    """Exactly upright on a plumb leg; its face on the leg's, its length along the leg's edge."""
    name, slope = "jamb leaf of the top hinge", 0.8 / 80.5
    plain = part(plain_scene(), name)
    assert set(plain.vertices[:, 0].tolist()) == {-LEAF, 0.0}
    assert plain.bounds[0, 1] == -1.4375 + 0.3125
    twisted = part(plain_scene(opening__hinge_leg=Leg(twist=(0.01,))), name)
    assert set(twisted.vertices[:, 2].tolist()) >= {80.5 - 7 - LONG, 80.5 - 7}
    leaf = part(plain_scene(opening__hinge_leg=Leg(plumb=(0.8, 0.0))), name)
    face = leaf.vertices[:, 0] - slope * leaf.vertices[:, 2]
    on_face = np.abs(face) < 1e-12
    assert on_face.sum() == len(face) / 2
    assert face[~on_face] == pytest.approx(-LEAF, abs=1e-5)
    assert np.ptp(leaf.vertices[on_face, 0]) == pytest.approx(LONG * slope, rel=1e-4)
    parts = built(plain_scene(**NO_MORTISE, hinge__jamb__depths=(0.0,) * 3))
    for wood, leaf in (("slab", "slab leaf"), ("hinge leg", "jamb leaf")):
        assert shared_volume(parts[wood], parts[f"{leaf} of the top hinge"]) < 1e-9


@pytest.mark.parametrize("side", ["slab", "jamb"])
def test_proud_screw_heads_stand_by_the_ends_of_the_buried_edge_and_in_the_middle(side) -> None:
    """Two 3/8 from the buried edge and 5/8 from the leaf's ends, and one at its middle."""
    name = f"{side} leaf of the middle hinge"
    flush, proud = (plain_scene(slab__hinge_edge=SQUARE, hinge__screw_proud=p) for p in (0.0, 0.02))
    leaf, hung = part(proud, name), bare_assembly(proud)
    added = leaf.volume - part(flush, name).volume
    assert added == pytest.approx(3 * pi * (SCREW_HEAD / 2) ** 2 * 0.02, rel=0.02)
    pin, way = (
        (hung.jamb_pins[1], 1.0) if side == "jamb" else (hung.in_slab(hung.slab_pins)[1], -1.0)
    )
    away, along, up = ((leaf.vertices - pin) * [way, -1.0, 1.0]).T
    tops = away > -GAP / 2 + 0.01
    assert away[tops] == pytest.approx(-GAP / 2 + 0.02, abs=1e-12)
    flat = 1.75 - BARREL / 2  # buried edge to barrel
    places = np.array([(0.375, 1.75 - 0.625), (flat / 2, 0.0), (0.375, 0.625 - 1.75)])
    heads = np.column_stack([1.75 - along[tops], up[tops]])
    far = np.linalg.norm(heads[:, None] - places, axis=2)
    assert far.min(axis=1) == pytest.approx(SCREW_HEAD / 2, abs=1e-12)
    for k, place in enumerate(places):
        assert heads[far.argmin(axis=1) == k].mean(axis=0) == pytest.approx(place, abs=1e-9)


def test_leaves_face_each_other_across_the_gap_about_their_barrel() -> None:
    """Closed and parallel; a barrel stands about its pin, as long as its leaves."""
    scene = plain_scene(slab__hinge_edge=SQUARE, hinge__slab__tops=(7.0, 37.75, 68.5))
    assembly = assemble(scene)
    leaves = {each.name: each.solid.bounds for each in (*assembly.moving, *assembly.fixed)}
    for name, pin, barrel in zip(HINGES, assembly.jamb_pins, barrel_parts(assembly), strict=True):
        jamb, slab = (leaves[f"{side} leaf of the {name} hinge"] for side in ("jamb", "slab"))
        assert slab[0, 0] - jamb[1, 0] == pytest.approx(GAP, abs=1e-12)
        assert slab[:, 1] - jamb[:, 1] == pytest.approx(0.0, abs=1e-12)
        assert_closed(barrel.solid)
        half = np.array([BARREL / 2, BARREL / 2, LONG / 2])
        assert barrel.solid.bounds == pytest.approx(np.array([pin - half, pin + half]), abs=1e-9)


# ---------------------------------------------------------------- frame


def test_a_plumb_frame_has_exact_faces() -> None:
    chair = Obstacle(name="chair", corner=(1.0, 2.0, 0.0), size=(18.0, 20.0, 32.0))
    scene = plain_scene(hinge__jamb__depths=(0.0,) * 3, casing=CASING, obstacles=(chair,))
    solids = {name: each for name, each in built(scene).items() if "leaf" not in name}
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
        "chair": [(1.0, 2.0, 0.0), (19.0, 22.0, 32.0)],
    }
    for name, (low, high) in boxes.items():
        assert_closed(solids[name])
        assert len(solids[name].vertices) == 8
        assert solids[name].bounds.tolist() == [list(low), list(high)], name
        volume = float(np.prod(np.subtract(high, low)))
        assert solids[name].volume == pytest.approx(volume, rel=1e-13)
    assert solids["floor"].bounds[1, 2] == 0.0
    assert set(solids) == {*boxes, "floor", "slab"}


def test_legs_without_a_stop_stand_on_a_sloping_floor() -> None:
    """Stops and casing leave nothing behind; a wall keeps behind the jamb at its nearest."""
    solids = built(plain_scene(stop=None, opening__hinge_leg=Leg(plumb=(0.125, 0.0))))
    assert not [name for name in solids if "stop" in name or "casing" in name]
    assert solids["wall"].bounds[1].tolist() == [0.125 - 0.75, 0.0, 93.25]
    assert solids["strike wall"].bounds[0].tolist() == [30.875, -4.5625, 0.0]
    leg = part(plain_scene(floor=FLOORS["sloped"][0]), "strike leg")
    assert leg.bounds[0, 2] == pytest.approx(0.5 + 0.004 * 30.125, abs=1e-12)


CROOKED = {
    "opening__width": (30.0, 30.1, 30.2),
    "opening__height": (80.5, 80.75),
    "opening__rabbet": Rabbet(hinge=(1.4, 1.5, 1.45), strike=(1.5, 1.4), head=(1.4, 1.45, 1.5)),
    "opening__hinge_leg": Leg(
        plumb=(0.1, -0.05, 0.0), cross=(0.05, -0.1), twist=(0.02, -0.01, 0.015)
    ),
    "opening__strike_leg": Leg(cross=(-0.1, 0.1), twist=(0.0, 0.025)),
}
ONE_WIDTH = {"opening__width": (30.1,), "opening__strike_leg__plumb": (0.1, -0.05, 0.05)}
RABBETS = (CROOKED["opening__rabbet"].hinge, CROOKED["opening__rabbet"].strike)


@pytest.mark.parametrize("changes", [{}, ONE_WIDTH], ids=["widths", "one width"])
@pytest.mark.parametrize("side", [0, 1], ids=["hinge", "strike"])
def test_a_crooked_leg_its_stop_and_casing_follow_what_was_measured(side: int, changes) -> None:
    """Probes a skin's breadth either side of every face, between the stations too.

    Casing lies flat on the wall's plane as the leg's edge stands in it, and does not twist.
    """
    scene = changed(
        plain_scene(**CROOKED, casing=CASING, hinge__jamb__depths=(0.0,) * 3), **changes
    )
    solids, name, way = built(scene), ("hinge", "strike")[side], (1.0, -1.0)[side]
    leg, stop, casing = (solids[f"{name} {each}"] for each in ("leg", "stop", "casing"))
    for solid in (leg, stop, casing):
        assert_closed(solid)
    skin = 1.5 * SKIN
    for z in np.linspace(0.5, 80.0, 23):

        def at(along: float, out: float, z: float = z) -> np.ndarray:
            return np.array([*on_leg(scene, side, z, along, out), z])

        edge = at(0.0, 0.0)
        out, toward = at(0.0, 1.0) - edge, edge - at(1.0, 0.0)
        rabbet = station(RABBETS[side], 1 - z / scene.opening.height[side])
        assert_face(leg, out, [at(along, 0.0) for along in (0.3, 1.0, 2.0, 3.3, 4.2)], skin)
        assert_face(stop, toward, [at(rabbet, across) for across in (0.1, 0.4)], skin)
        assert_face(stop, out, [at(rabbet + 0.6, 0.4375)], skin)
        near, far = edge - way * (0.1875 + 0.01) * X, edge - way * (2.4375 - 0.01) * X
        assert_face(casing, way * X, [near + 0.01 * way * X + 0.01 * Y], skin)
        assert_face(casing, -Y, [near, far], skin)
        assert_face(casing, Y, [near + 0.75 * Y, far + 0.75 * Y], skin)


def test_the_measured_corners_are_in_the_mesh_and_a_stop_stands_on_the_floor() -> None:
    scene = plain_scene(**CROOKED)
    leg = part(scene, "strike leg").vertices
    for z in (0.0, 80.75 / 2, 80.75):
        edge = [*on_leg(scene, 1, z, 0.0, 0.0), z]
        assert np.abs(leg - edge).max(axis=1).min() < 1e-12
    solids = built(plain_scene(floor=Floor(out=0.01)))
    for name in ("hinge stop", "strike stop"):
        assert solids[name].bounds[0, 2] == pytest.approx(-0.01 * (1.4375 + 1.25), abs=1e-12)


def test_the_head_and_its_stop_run_between_the_measured_ends() -> None:
    scene = plain_scene(**CROOKED)
    head, stop = part(scene, "head"), part(scene, "head stop")
    for share, rabbet in ((0.01, 1.4), (0.5, 1.45), (0.99, 1.5)):

        def at(along: float, up: float, share: float = share) -> np.ndarray:
            ends = (on_leg(scene, k, scene.opening.height[k], along, 0.0) for k in (0, 1))
            near, far = ends
            return np.array([*(near * (1 - share) + far * share), 80.5 + 0.25 * share + up])

        assert_face(head, -Z, [at(2.0, 0.0)], 0.01)
        assert_face(stop, Y, [at(rabbet, 0.01 - 0.4375)], 0.01 * 0.99)
        assert_face(stop, -Z, [at(rabbet, -0.4375) - 0.01 * Y], 0.01 * 0.99)


def test_the_closed_slab_is_parallel_to_its_stops_and_a_pin_line_is_told_at_any_height() -> None:
    hinge, strike = (Leg(twist=(radians(twist),)) for twist in (1.5, -2.0))
    scene = plain_scene(opening__hinge_leg=hinge, opening__strike_leg=strike)
    middles = [on_leg(scene, side, 40.0, 1.4375, 0.4375 / 2) for side in (0, 1)]
    across = middles[1] - middles[0]
    found = bare_assembly(scene).place[:2, 0]
    assert found == pytest.approx(across / np.hypot(*across), abs=1e-14)
    axis = bare_assembly(plain_scene(opening__hinge_leg=Leg(plumb=(0.8, 0.0)))).axis
    assert axis.direction[2] < 1.0
    points = np.array([axis.at(height) for height in (-3.0, 17.0, 80.0)])
    assert points[:, 2] == pytest.approx([-3.0, 17.0, 80.0], abs=1e-12)
    assert off_line(points, axis.point, axis.direction) < 1e-12


@pytest.mark.parametrize("edge", [Edge(), Edge(shape=EdgeShape.RADIUS, radius=2.0)])
def test_an_edge_leans_by_its_bevel_only_where_it_is_bevelled(edge: Edge) -> None:
    stray = replace(edge, bevel=0.1)
    assert stray.lean == 0.0
    assert stray.narrow_inset(T) == stray.wide_inset(T) == edge.wide_inset(T)
    assert bevel(3.0).narrow_inset(T) == pytest.approx(T * tan(radians(3.0)), abs=1e-15)


# ---------------------------------------------------------------- floor

#: Each: a floor, and what its profile rises to at the slab's width, by the swing angle in degrees.
FLOORS = {
    "level": (Floor(), [0.0, 0.0]),
    "sloped": (Floor(covering=0.5, across=0.004, out=-0.01), [0.0, 0.0]),
    "read": (Floor(covering=0.25, out=0.002, profile=(0.0, 0.1, 0.3, 0.25)), [0.0, 0.1, 0.3, 0.25]),
    "two": (Floor(profile=(0.1, 0.3)), [0.1, 0.3]),
}


@pytest.mark.parametrize("name", FLOORS)
def test_a_floor_is_met_where_it_was_read(name: str) -> None:
    """A plane through the hinge leg's foot, and the profile's rise in proportion to how far out.

    Straight between readings by angle, and held past the last and before the first; the facets
    meet every 7 1/2 degrees. It reaches past everything the slab sweeps.
    """
    floor, rises = FLOORS[name]
    solid = part(plain_scene(floor=floor), "floor")
    for angle in np.arange(-37.5, 181.0, 7.5):
        rise = np.interp(angle, np.linspace(0, 90, len(rises)), rises)
        for radius in (5.0, 20.0, hypot(W + 1, T + 1)):
            x, y = radius * cos(radians(angle)), radius * sin(radians(angle))
            z = floor.covering + floor.across * x + floor.out * y + rise * radius / W
            assert_face(solid, Z, [(x, y, z)], 1e-6)


# ---------------------------------------------------------------- everything, at random


@pytest.mark.parametrize("seed", range(20))
def test_every_part_of_a_random_scene_is_closed(seed: int) -> None:
    scene = changed(
        random_opening(seed),
        slab__thickness=(1.375, 1.75)[seed % 2],
        slab__height=(79.5 + seed / 40, 79.9),
        opening__rabbet__head=(1.3, 1.6, 1.4)[: 1 + seed % 3],
        hinge__corner_radius=(0.0, 0.25, 0.625)[seed % 3],
        hinge__screw_proud=(0.0, 0.015)[seed // 2 % 2],
        hinge__slab__depths=((0.0, 0.0625, 0.125), (0.097,) * 3)[seed // 3 % 2],
        hinge__jamb__depths=((0.125, 0.0, 0.0), (0.097,) * 3)[seed // 2 % 2],
        lock=(None, LOCK)[seed // 3 % 2],
        floor__profile=((), (0.1, -0.3, 0.5))[seed // 5 % 2],
    )
    parts = built(scene)
    for solid in parts.values():
        assert_closed(solid)
    for name in HINGES:
        assert shared_volume(parts["slab"], parts[f"slab leaf of the {name} hinge"]) < 1e-9
    mirrored = parts["slab"].mirrored_in_x()
    assert_closed(mirrored)
    assert mirrored.volume == pytest.approx(parts["slab"].volume, rel=1e-12)


@pytest.mark.parametrize("hinges_on", ["left", "right"])
def test_from_the_pull_side_the_hinges_are_where_the_scene_says(hinges_on: str) -> None:
    """A person at +y who looks toward -y with +z up has forward x up to the right."""
    scene = linen_closet(hinges_on=hinges_on)
    solids, right = built(scene), np.cross(-Y, Z)
    hinge, strike = (
        as_hung(scene, solids[name]).vertices.mean(axis=0) @ right
        for name in ("hinge leg", "strike leg")
    )
    assert (hinge < strike) == (hinges_on == "left")
