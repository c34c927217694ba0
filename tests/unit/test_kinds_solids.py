"""Lips, warps, arches, steel profiles and what is fitted or laid: solids against closed forms."""

from __future__ import annotations

from dataclasses import replace
from math import asin, cos, hypot, pi, radians, sin, tan

import numpy as np
import pytest

from swingcheck.assembly import bare_assembly
from swingcheck.geometry.booleans import shared_volume
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
from tests.built import SKIN, assert_face, built, corners, part
from tests.factory import (
    CASING,
    LOCK,
    SQUARE,
    bevel,
    changed,
    plain_scene,
    rounded,
    square_scene,
    under_arch,
)
from tests.meshes import assert_closed, is_inside

W, H, T, WIDE = 29.875, 79.75, 1.375, 30.125
X, Y, Z = np.eye(3)
NO_MORTISE = {"hinge__slab__depths": (0.0,) * 3}
LIP_NOTCH = 1 / 16


def square(**changes) -> Scene:
    """Return the closet with a slab of square edges that nothing is let into."""
    return square_scene(**NO_MORTISE | changes)


# ---------------------------------------------------------------- lip


@pytest.mark.parametrize(
    ("edges", "widths"),
    [
        ((SQUARE, SQUARE), (0.5, 0.5, 0.5)),
        ((SQUARE, SQUARE), (0.5, 0.0, 0.0)),
        ((bevel(2), bevel(3)), (0.5, 0.5, 0.5)),
        ((bevel(2), bevel(3)), (0.0, 0.5, 0.25)),
        ((bevel(-1), SQUARE), (0.0, 0.5, 0.25)),
        ((bevel(-1), SQUARE), (0.5, 0.0, 0.0)),
    ],
)
def test_volume_of_a_lipped_slab(edges, widths) -> None:
    lip = Lip(hinge=widths[0], strike=widths[1], head=widths[2], depth=1.0)
    scene = square(slab__hinge_edge=edges[0], slab__strike_edge=edges[1], slab__lip=lip)
    solid = part(scene, "slab")
    thin = T - lip.depth
    body = W * T * H
    for edge, width in zip(edges, widths[:2], strict=True):
        # A bevel takes a triangle off the edge; behind a lip only what is deeper than the lip.
        lean = tan(edge.bevel)
        body -= H * lean * (T**2 / 2 - (thin**2 / 2 if width else 0.0))
        body -= 0.0 if width else widths[2] * lean * thin**2 / 2
    lapped = (widths[0] + widths[1]) * H + widths[2] * (W + widths[0] + widths[1])
    notches = 3 * (3.5 + 2 * LIP_NOTCH) * widths[0] * thin
    assert solid.volume == pytest.approx(body + lapped * thin - notches, rel=1e-12)
    low, high = solid.bounds
    assert low[0] == pytest.approx(min(-widths[0], T * tan(edges[0].bevel), 0.0), abs=1e-12)
    assert high[2] == pytest.approx(H + widths[2], abs=1e-12)


def test_a_lip_is_on_the_pull_side_and_follows_a_taper_and_a_sloped_top() -> None:
    solid = part(square(slab__lip=Lip(hinge=0.5, strike=0.4, head=0.3, depth=1.0)), "slab")
    back = 1.0 - T
    assert_face(solid, -Y, [(W + 0.39, back, 40.0), (15.0, back, H + 0.01)], 1e-6)
    assert_face(solid, X, [(W + 0.4, -0.37, 40.0)], 1e-6)
    assert_face(solid, Z, [(15.0, -0.37, H + 0.3)], 1e-6)
    notch = H - 6.875 + LIP_NOTCH, H - 6.875 - 3.5 - LIP_NOTCH
    assert_face(solid, -Z, [(-0.49, -0.2, notch[0])], 1e-6)
    assert_face(solid, Z, [(-0.49, -0.2, notch[1])], 1e-6)
    lip = Lip(hinge=0.5, strike=0.5, head=0.5, depth=1.0)
    scene = plain_scene(
        slab__lip=lip, slab__width=(29.0, 30.0, 29.5), slab__height=(79.75, 75.75), **NO_MORTISE
    )
    solid = part(scene, "slab")
    for z, width in ((75.75 / 2, 30.0), (0.01, 29.5), (75.74, 29.0)):
        assert_face(solid, X, [(width - 1.2 * tan(radians(2.0)), -1.2, z)], 0.02)
        assert is_inside(solid, (width + 0.48, -0.3, z))


# ---------------------------------------------------------------- warp

WARPS = [Warp(bow=0.25), Warp(cup=-0.125), Warp(twist=0.25), Warp(bow=-0.2, cup=0.1, twist=0.3)]


def off_flat(warp: Warp, x: float, z: float) -> float:
    """How far the slab stands off flat: bow and cup most in the middle, twist at the top corner."""
    u, v = x / W, z / H
    return 4 * warp.bow * v * (1 - v) + 4 * warp.cup * u * (1 - u) + warp.twist * u * v


@pytest.mark.parametrize("warp", WARPS, ids=range(4))
def test_a_warped_slab_keeps_its_volume_and_its_thickness(warp: Warp) -> None:
    slab = part(square(slab__warp=warp), "slab")
    assert slab.volume == pytest.approx(W * T * H, rel=1e-12)
    found = corners(slab)
    for x, y, z in slab.vertices:
        if y > off_flat(warp, x, z) - T / 2:
            assert tuple(np.round((x, y - T, z), 6) + 0.0) in found


@pytest.mark.parametrize("warp", WARPS, ids=range(4))
@pytest.mark.parametrize("hinge", [SQUARE, bevel(2), rounded(2)], ids=["square", "bevel", "round"])
def test_a_warped_face_strays_no_farther_than_its_skin(warp: Warp, hinge) -> None:
    slab = part(square(slab__warp=warp, slab__hinge_edge=hinge, slab__strike_edge=bevel(3)), "slab")
    rng = np.random.default_rng(5)
    for x, z in zip(rng.uniform(1, W - 1, 20), rng.uniform(0.5, H - 0.5, 20), strict=True):
        off = off_flat(warp, x, z)
        assert_face(slab, Y, [(x, off, z)], 1.5 * SKIN)
        assert_face(slab, -Y, [(x, off - T, z)], 1.5 * SKIN)


def test_a_leaf_is_let_in_from_the_warped_face_and_lies_on_its_mortises_floor() -> None:
    """Leaf and mortise share their facets: both round corners, on the floor to the last bits."""
    parts = built(plain_scene(slab__warp=Warp(bow=0.25, twist=0.2)))
    slab = parts["slab"]
    assert_closed(slab)
    for name in ("top", "middle", "bottom"):
        leaf = parts[f"slab leaf of the {name} hinge"]
        assert shared_volume(slab, leaf) < 1e-9
        away = np.linalg.norm(leaf.vertices[:, None] - slab.vertices, axis=2).min(axis=1)
        assert np.count_nonzero(away < 1e-9) >= 2 * 14
    warp = Warp(bow=0.25)
    scene = square(slab__warp=warp)
    hung = bare_assembly(scene)
    for _, y, z in hung.in_slab(hung.slab_pins):
        assert y == pytest.approx(-T + 0.25 + 1.75 + off_flat(warp, 0.0, z), abs=1e-3)


# ---------------------------------------------------------------- head edge and arch


@pytest.mark.parametrize("lean", [5.0, -3.0])
@pytest.mark.parametrize("heights", [(H, H), (79.75, 70.0), (70.0, 79.75)])
def test_volume_of_a_bevelled_top(lean: float, heights) -> None:
    slab = part(square(slab__head_edge=bevel(lean), slab__height=heights), "slab")
    expected = W * T * sum(heights) / 2 - W * T**2 * tan(radians(lean)) / 2
    assert slab.volume == pytest.approx(expected, rel=1e-12)


def test_a_bevelled_top_and_an_astragal_follow_their_edges() -> None:
    scene = plain_scene(slab__head_edge=bevel(5.0), slab__width=(29.0, 30.0), **NO_MORTISE)
    _, y, z = part(scene, "slab").vertices.T
    assert (z - y * tan(radians(5.0)))[z > 60] == pytest.approx(H, abs=1e-12)
    strip = Astragal(face=Face.PUSH, width=1.0, thickness=0.25, overlap=0.5)
    scene = square(slab__astragal=strip, slab__width=(29.0, 30.0), slab__warp=Warp(bow=0.2))
    x, y, z = part(scene, "astragal").vertices.T
    v = z / H
    assert np.abs(x - (30.0 - v)) == pytest.approx(0.5, abs=1e-9)
    assert np.abs(y - 4 * 0.2 * v * (1 - v) + T + 0.125) == pytest.approx(0.125, abs=1e-9)


def segment(radius: float, chord: float) -> float:
    """Area of a circle's segment, from its radius and chord (any textbook)."""
    half = asin(chord / 2 / radius)
    return radius**2 * (half - sin(half) * cos(half))


@pytest.mark.parametrize(
    ("end", "rise"), [((30.0, 0.0), 6.0), ((30.0, 0.0), 15.0), ((36.0, 0.0), 1.0), ((10, 4), 2)]
)
def test_an_arc_over_two_ends(end: tuple[float, float], rise: float) -> None:
    """Its radius by the chord's theorem, both ends on it, and its crown over its centre."""
    arc = arc_over((0.0, 0.0), end, rise)
    half = hypot(*end) / 2
    assert arc.radius == pytest.approx((half**2 + rise**2) / (2 * rise))
    for x, y in ((0.0, 0.0), end):
        assert hypot(x - arc.across, y - arc.up) == pytest.approx(arc.radius)
        assert arc.height(x) == pytest.approx(y)
    assert arc.crown == arc.height(arc.across) == pytest.approx(arc.up + arc.radius)
    assert arc.gap(arc.across, arc.up) == pytest.approx(arc.radius)
    assert rise_of((0.0, 0.0), end, arc.radius) == pytest.approx(rise, rel=1e-9)


def test_volume_of_an_arched_head_its_stop_and_its_casing() -> None:
    scene = plain_scene(opening__arch=6.0, casing=CASING)
    parts, arc = built(scene), head_arc(scene.opening)
    assert arc is not None and scene.stop is not None
    depth, over = scene.opening.depth, CASING.reveal
    assert arc.radius == pytest.approx(WIDE**2 / 48 + 3.0)
    area = WIDE * (6.0 + scene.opening.thickness) - segment(arc.radius, WIDE)
    angle = 2 * asin(WIDE / 2 / arc.radius)
    # The facets are chords of the arc: no more than their skin of wood over the exact.
    assert 0 < parts["head"].volume - area * depth < SKIN * angle * arc.radius * depth
    bands = {
        "head": None,
        "head stop": (arc.radius, arc.radius - scene.stop.projection, scene.stop.width),
        "head casing": (arc.radius + over + CASING.width, arc.radius + over, CASING.thickness),
    }
    for name, band in bands.items():
        assert_closed(parts[name])
        if band is not None:
            outer, inner, deep = band
            expected = angle / 2 * (outer**2 - inner**2) * deep
            assert parts[name].volume == pytest.approx(expected, rel=3e-4)


def test_an_arched_slab_has_its_volume_and_one_margin_all_along_its_arc() -> None:
    """On the head's centre, the head margin less radius; facets within the skin of both arcs."""
    scene, arc = under_arch()
    margin, sides = 1 / 8, scene.slab.height
    slab, hung = part(scene, "slab"), bare_assembly(scene)
    places = hung.placed(slab.vertices)
    assert places[:, 2].min() == pytest.approx(0.5, abs=1e-9)
    top = places[places[:, 2] > min(sides) + 0.4]
    assert np.hypot(top[:, 0] - arc.across, top[:, 2] - arc.up) == pytest.approx(
        arc.radius - margin, abs=1e-9
    )
    assert places[:, 2].max() == pytest.approx(arc.crown - margin, abs=1.5 * SKIN)
    assert hung_top(scene.opening, scene.slab) == pytest.approx(sides[0] + 0.5, abs=1e-9)
    slab = part(square(opening__arch=15.0, slab__arch=W / 2), "slab")
    assert slab.volume == pytest.approx((W * H + pi * (W / 2) ** 2 / 2) * T, rel=3e-5)


def test_a_leg_that_leans_and_twists_carries_an_arch_along() -> None:
    scene = plain_scene(
        opening__arch=6.0,
        opening__hinge_leg=Leg(plumb=(0.1, -0.1), twist=(radians(1.0),)),
        opening__strike_leg=Leg(plumb=(-0.05, 0.1), cross=(0.1, 0.0)),
    )
    parts = built(scene)
    for name, solid in parts.items():
        if name.split()[-1] in ("leg", "head", "stop"):
            assert_closed(solid)
    arc = head_arc(scene.opening)
    assert arc is not None
    assert arc.start == (0.1, 80.5) and arc.end == (WIDE + 0.05, 80.5)
    front = parts["head"].vertices
    assert np.count_nonzero(np.hypot(front[:, 0] - 0.1, front[:, 2] - 80.5) < 1e-9) == 1


# ---------------------------------------------------------------- steel, floor, room


def test_a_steel_leg_folds_over_the_wall() -> None:
    steel = SteelFrame(face=2.0, backbend=0.5)
    scene = plain_scene(opening__steel=steel, opening__thickness=0.25)
    parts, depth = built(scene), scene.opening.depth
    area = depth * 0.25 + 2 * 0.5 * (2.0 - 0.25)
    for name, run in (("strike leg", 80.5 + 2.0), ("head", WIDE)):
        assert_closed(parts[name])
        assert parts[name].volume == pytest.approx(area * run, rel=1e-12)
    assert parts["strike leg"].bounds[1, 0] == WIDE + 2.0
    assert parts["wall"].bounds[:, 1].tolist() == [-depth + 0.5, -0.5]


SADDLE = Threshold(width=5.0, height=0.5, slope=radians(45.0), edge=0.25)
CARPET = Carpet(thickness=0.375, edge=4.0, reach=20.0)


@pytest.mark.parametrize("floor", [Floor(), Floor(across=0.01, out=-0.02)], ids=["level", "sloped"])
def test_a_threshold_and_a_carpet_lie_on_the_floor(floor: Floor) -> None:
    """Tops by plan, over the floor as it slopes; in section a saddle has two even slopes."""
    parts = built(plain_scene(threshold=SADDLE, carpet=CARPET, floor=floor))
    tops = {
        "threshold": [(-4.625, 0.125), (-4.25, 0.5), (-2.0, 0.5), (-0.25, 0.5), (0.125, 0.125)],
        "carpet": [(4.001, 0.375), (23.999, 0.375)],
    }
    for name, heights in tops.items():
        assert_closed(parts[name])
        for y, over in heights:
            place = (10.0, y, over + floor.across * 10.0 + floor.out * y)
            assert_face(parts[name], Z, [place], 1e-6)
    assert parts["threshold"].bounds[:, 1].tolist() == [-4.75, 0.25]
    assert parts["carpet"].bounds[:, 1].tolist() == [4.0, 24.0]
    assert np.ptp(parts["threshold"].vertices[:, 0]) == pytest.approx(WIDE, abs=1e-12)


def test_a_baseboard_runs_up_to_the_casing_and_a_wall_return_stands_off_the_leg() -> None:
    scene = plain_scene(
        casing=CASING,
        baseboard=Baseboard(thickness=0.5, height=3.5),
        wall_return=WallReturn(hinge=4.0, strike=2.0, reach=30.0),
    )
    base = {name: each.bounds for name, each in built(scene).items()}
    lap = CASING.reveal + CASING.width
    assert base["baseboard"][1].tolist() == [-lap, 0.5, 3.5]
    assert base["strike baseboard"][0].tolist() == [WIDE + lap, 0.0, 0.0]
    assert base["wall return"][1, :2].tolist() == [-4.0, 30.0]
    assert base["strike wall return"][0, 0] == WIDE + 2.0
    bare = replace(scene, casing=None)
    assert built(bare)["baseboard"].bounds[1, 0] == -scene.opening.thickness
    pressed = replace(bare, opening=replace(bare.opening, steel=SteelFrame(face=2.0, backbend=0.5)))
    steel = built(pressed)
    assert steel["baseboard"].bounds[1].tolist() == [-2.0, 0.0, 3.5]
    assert steel["strike baseboard"].bounds[0].tolist() == [WIDE + 2.0, -0.5, 0.0]


# ---------------------------------------------------------------- fitted


@pytest.mark.parametrize(
    ("face", "stem", "across"),
    [
        (Face.PULL, 0.0, (0.0, 0.5)),
        (Face.PULL, 0.0625, (-T, 0.5)),
        (Face.PUSH, 0.0625, (-T - 0.5, 0.0)),
    ],
)
def test_an_astragal_flat_and_t(face: Face, stem: float, across: tuple[float, float]) -> None:
    strip = Astragal(face=face, width=1.75, thickness=0.5, overlap=0.75, stem=stem)
    solid = part(square(slab__astragal=strip), "astragal")
    assert solid.volume == pytest.approx((1.75 * 0.5 + stem * T) * H, rel=1e-12)
    expected = np.array([[W - 1.0, across[0], 0.0], [W + 0.75, across[1], H]])
    assert solid.bounds == pytest.approx(expected, abs=1e-12)


def test_applied_boxes_and_beads_stand_on_the_faces() -> None:
    box = Applied(name="panel", face=Face.BOTH, corner=(4.0, 10.0), size=(20.0, 30.0, 0.375))
    bead = Bead(width=0.5, proud=0.25, face=Face.PUSH)
    glass = Glass(width=18.0, height=24.0, thickness=0.25, across=6.0, up=50.0, bead=bead)
    parts = built(square(slab__applied=(box,), slab__glass=glass))
    assert {name for name in parts if "panel" in name or "bead" in name} == {
        "panel",
        "push-side panel",
        "glass bead",
    }
    for name, ends in (("panel", (0.0, 0.375)), ("push-side panel", (-T - 0.375, -T))):
        expected = np.array([[4.0, ends[0], 10.0], [24.0, ends[1], 40.0]])
        assert parts[name].bounds == pytest.approx(expected, abs=1e-12)
    frame = 19.0 * 25.0 - 18.0 * 24.0
    assert_closed(parts["glass bead"])
    assert parts["glass bead"].volume == pytest.approx(frame * 0.25, rel=1e-12)


def test_a_knob_has_its_volume_and_a_lever_reaches_toward_the_hinge_edge() -> None:
    """A rose 3/8 in thick, a neck 1 in and a knob 2/3 of the rest deep, on both faces."""
    knob = Handle(face=Face.BOTH, projection=2.5, diameter=2.125, length=0.0, rose=2.5)
    parts = built(square(lock=changed(LOCK, handle=knob)))
    rose, head = 0.375, (2.5 - 0.375) * 2 / 3
    turns = ((1.25, rose), (0.5, 2.5 - head - rose), (2.125 / 2, head))
    exact = sum(pi * radius**2 * along for radius, along in turns)
    for name, ends in (("handle", (0.0, 2.5)), ("push-side handle", (-T - 2.5, -T))):
        assert_closed(parts[name])
        # A polygon in a circle: short by at most its sagitta all round.
        assert exact * (1 - 4 * 4e-3) < parts[name].volume < exact
        assert parts[name].bounds[:, 1] == pytest.approx(ends, abs=1e-12)
    lever = Handle(face=Face.PULL, projection=2.5, diameter=0.75, length=4.5, rose=2.0)
    found = part(square(lock=changed(LOCK, handle=lever)), "handle")
    centre = W - LOCK.backset
    assert found.bounds[0, 0] == pytest.approx(centre - 4.5)
    assert found.bounds[1] == pytest.approx([centre + 1.0, 2.5, 36.0 - 0.625 + 1.0], abs=5e-3)
