"""Closed solids from plain sizes, against closed forms and trimesh."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin, sqrt

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.errors import GeometryError
from swingcheck.geometry.booleans import cut, joined, shared_volume
from swingcheck.geometry.features import features
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import (
    ROUND_SAGITTA,
    arc_facets,
    box,
    circle_outline,
    cylinder,
    loft,
    plate,
    prism,
    rounded_outline,
)
from tests.meshes import assert_closed, is_inside, trimesh_of

ELL = [(0, 0), (3, 0), (3, 1), (1, 1), (1, 3), (0, 3)]


def shoelace(outline: np.ndarray) -> float:
    x, y = np.asarray(outline, dtype=float).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def turn(seed: int) -> np.ndarray:
    """A random rotation: the orthogonal factor of a random matrix, made right-handed."""
    found = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))[0]
    return found * np.sign(np.linalg.det(found))


def test_boxes_circles_and_cylinders_end_where_they_should_mirrored_and_joined():
    solid = box("box", (1, 2, 3), (2, 4, 6))
    assert_closed(solid)
    assert solid.volume == 6.0
    assert solid.bounds.tolist() == [[1, 2, 3], [2, 4, 6]]
    solid = prism("ell", ELL, 0.0, 2.0)
    mirrored = solid.mirrored_in_x()
    assert_closed(mirrored)
    assert mirrored.volume == solid.volume
    assert is_inside(mirrored, (-0.5, 2.5, 1.0))
    made = joined("both", [box("a", (0, 0, 0), (2, 2, 2)), box("b", (1, 1, 1), (3, 3, 3))])
    assert_closed(made)
    assert made.volume == pytest.approx(8 + 8 - 1, rel=1e-14)
    outline = circle_outline("bore", 1.0625)
    assert np.abs(np.hypot(*outline.T) - 1.0625).max() < 1e-15
    assert {(1.0625, 0.0), (0.0, 1.0625), (-1.0625, 0.0), (0.0, -1.0625)} <= set(
        map(tuple, outline.tolist())
    )
    mids = (outline + np.roll(outline, -1, axis=0)) / 2
    assert np.hypot(*mids.T).min() >= 1.0625 - ROUND_SAGITTA
    assert shoelace(outline) > 0
    solid = cylinder("barrel", (0.1, 0.2, 0.3), (0.1, 0.2, 3.8), 0.22)
    assert set(solid.vertices[:, 2].tolist()) == {0.3, 3.8}


@pytest.mark.parametrize("outline", [ELL, ELL[::-1]])
@pytest.mark.parametrize("shift", range(6))
def test_a_concave_prism_is_outward_from_any_corner_and_winding(outline, shift):
    solid = prism("ell", np.roll(outline, shift, axis=0), 2.0, 4.0)
    assert_closed(solid)
    assert solid.volume == pytest.approx(10.0, abs=1e-12)
    assert is_inside(solid, (0.5, 2.5, 3.0))
    assert not is_inside(solid, (2.0, 2.0, 3.0))


@given(
    radii=st.lists(st.floats(0.3, 3.0), min_size=3, max_size=12),
    height=st.floats(0.01, 90.0),
    clockwise=st.booleans(),
)
def test_prisms_of_random_outlines(radii, height, clockwise):
    angles = 2 * pi * np.arange(len(radii)) / len(radii)
    outline = np.array(radii)[:, None] * np.column_stack([np.cos(angles), np.sin(angles)])
    solid = prism("star", outline[::-1] if clockwise else outline, -1.0, height)
    assert trimesh_of(solid).is_watertight
    assert trimesh_of(solid).is_winding_consistent
    assert solid.volume == pytest.approx(shoelace(outline) * (height + 1.0), rel=1e-12)


def test_frustums_and_waisted_lofts_have_their_volumes():
    low = np.array([(-2, -2), (2, -2), (2, 2), (-2, 2)], dtype=float)
    rings = np.array([np.column_stack([low * s, np.full(4, z)]) for s, z in ((1, 0), (0.5, 3))])
    for order in (1, -1):
        solid = loft("frustum", rings[::order])
        assert_closed(solid)
        assert solid.volume == pytest.approx(3 / 3 * (16 + 4 + sqrt(16 * 4)), rel=1e-14)
    square = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], dtype=float)
    rings = [np.column_stack([square * s, np.full(4, z)]) for s, z in ((1, 0), (0.2, 1), (1, 2))]
    solid = loft("waist", np.array(rings))
    assert_closed(solid)
    assert is_inside(solid, (0.15, 0.15, 1.0))
    assert not is_inside(solid, (0.25, 0.25, 1.0))


@pytest.mark.parametrize("seed", range(5))
def test_a_loft_with_concave_ends_can_stand_any_way(seed):
    rings = np.array([np.column_stack([ELL, np.full(6, z)]) for z in (0.0, 2.0)]) @ turn(seed).T
    solid = loft("ell", rings)
    assert_closed(solid)
    assert solid.volume == pytest.approx(10.0, rel=1e-12)


@given(radius=st.floats(0.01, 5.0), sagitta=st.floats(1e-5, 1e-2))
def test_facets_stay_within_the_sagitta_and_not_by_waste(radius, sagitta):
    facets = arc_facets(radius, pi / 2, sagitta)

    def fall(n: int) -> float:
        return radius * (1 - cos(pi / 4 / n))

    assert fall(facets) <= sagitta * (1 + 1e-6)
    assert facets == 1 or fall(facets - 1) > sagitta * (1 - 1e-6)


@pytest.mark.parametrize(
    "radii", [(0, 0, 0, 0), (0.625, 0, 0, 0.625), (0.25, 0.5, 0.75, 1.0), (1.75, 0, 0, 1.75)]
)
def test_a_rounded_outline_loses_what_its_corners_lose(radii):
    outline = rounded_outline("leaf", (1.0, -1.75), (3.0, 1.75), radii)
    lost = sum((1 - pi / 4) * radius**2 for radius in radii)
    arcs = sum(pi / 2 * radius for radius in radii)
    assert 7 - lost - arcs * ROUND_SAGITTA <= shoelace(outline) <= 7 - lost + 1e-12
    assert outline.min(axis=0).tolist() == [1.0, -1.75]
    assert outline.max(axis=0).tolist() == [3.0, 1.75]
    steps = np.linalg.norm(outline - np.roll(outline, 1, axis=0), axis=1)
    assert steps.min() > 1e-3


@pytest.mark.parametrize("end", [(0, 3, 0), (3, 0, 0), (0, 0, -3), (1, 2, 2), (-2, 2, -1)])
def test_a_cylinder_is_the_inscribed_prism(end):
    solid = cylinder("bore", (1, 1, 1), np.add((1, 1, 1), end), 1.0625)
    assert_closed(solid)
    sides = len(solid.vertices) // 2
    area = sides / 2 * 1.0625**2 * sin(2 * pi / sides)
    assert solid.volume == pytest.approx(3 * area, rel=1e-12)
    assert solid.volume == pytest.approx(
        trimesh.creation.cylinder(1.0625, 3.0, sections=sides).volume, rel=1e-12
    )
    assert is_inside(solid, np.add((1, 1, 1), np.multiply(end, 0.99)))
    assert not is_inside(solid, np.add((1, 1, 1), np.multiply(end, 1.01)))


@pytest.mark.parametrize("handed", [1.0, -1.0])
def test_a_plate_lies_in_its_frame(handed):
    axes = turn(3)
    axes[:, 2] *= handed
    frame = np.column_stack([axes, [5.0, 6.0, 7.0]])
    solid = plate("plate", ELL, frame, 0.25)
    assert_closed(solid)
    assert solid.volume == pytest.approx(5 * 0.25, rel=1e-12)
    local = (solid.vertices - frame[:, 3]) @ axes
    assert np.abs(np.sort(local[:, 2]) - ([0.0] * 6 + [0.25] * 6)).max() < 1e-14
    assert sorted(map(tuple, local[:6, :2].round(9).tolist())) == sorted(
        (float(x), float(y)) for x, y in ELL
    )


# ---------------------------------------------------------------- cutting


def uneven(seed: int) -> Solid:
    """A loft with no two coordinates alike, about 30 x 1.4 x 80."""
    rng = np.random.default_rng(seed)
    low = np.array([(0, 0), (0, -1.4), (30, -1.4), (30, 0)])
    rings = [
        np.column_stack([low + rng.uniform(-0.1, 0.1, (4, 2)), np.full(4, z)])
        for z in (rng.uniform(0, 1), 40 + rng.uniform(-1, 1), 80 + rng.uniform(-1, 1))
    ]
    return loft("slab", np.array(rings))


@pytest.mark.parametrize("seed", range(4))
def test_a_cut_leaves_the_other_corners_to_the_last_bit(seed):
    body = uneven(seed)
    tools = [
        cylinder("bore", (27.3, -3, 36.1), (27.3, 3, 36.1), 1.0625),
        box("mortise", (-1, -1.1, 7.1), (0.3, 3, 10.6)),
    ]
    made = cut("slab", body, tools)
    assert_closed(made)
    assert made.volume < body.volume
    corners = {vertex.tobytes() for vertex in made.vertices}
    assert all(vertex.tobytes() in corners for vertex in body.vertices)


def test_what_is_cut_away_is_gone_and_nothing_else():
    made = cut("block", box("block", (0, 0, 0), (4, 4, 4)), [box("bit", (1, 1, -1), (2, 3, 5))])
    assert made.volume == pytest.approx(64 - 8, rel=1e-14)
    assert not is_inside(made, (1.5, 2, 2))
    assert is_inside(made, (0.5, 2, 2))
    body = box("block", (0, 0, 0), (4, 4, 4))
    assert cut("block", body, []) is body
    assert cut("block", body, [box("bit", (5, 5, 5), (6, 6, 6))]).volume == 64.0
    made = cut("block", box("block", (0, 0, 0), (4, 4, 4)), [box("bit", (0, 0, 3), (2, 4, 4))])
    assert_closed(made)
    assert made.volume == pytest.approx(64 - 8, rel=1e-14)


UNIT = box("block", (0, 0, 0), (1, 1, 1))
TORN = Solid(UNIT.vertices, UNIT.faces[:-1])
SHEET = np.array([(0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)], dtype=float)
OVER = box("bit", (-1, -1, -1), (2, 2, 2))
NAN = float("nan")

REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: box("shelf", (1, 2, 3), (1, 4, 6)), "shelf: nothing is left"),
    (lambda: box("shelf", (1, 2, 3), (0, 4, 6)), "shelf: nothing is left"),
    (lambda: box("shelf", (1, 2, 3), (2, 4, 3)), "shelf: nothing is left"),
    (lambda: loft("sheet", np.array([SHEET, SHEET])), "nothing is left"),
    (lambda: prism("line", [(0, 0), (1, 0), (2, 0)], 0, 1), "nothing is left"),
    (lambda: prism("bad", [(0, 0), (1, 0), (NAN, 1)], 0, 1), "finite"),
    (lambda: rounded_outline("leaf", (0, 0), (2, 1), (0.6, 0, 0, 0.6)), "leaf: its corner radius"),
    (lambda: rounded_outline("leaf", (0, 0), (2, 1), (-0.1, 0, 0, 0)), "does not fit"),
    (lambda: rounded_outline("leaf", (0, 0), (0, 1), (0, 0, 0, 0)), "nothing is left"),
    (lambda: cylinder("bore", (0, 0, 0), (0, 0, 1), 0.0), "radius"),
    (lambda: cylinder("bore", (0, 0, 1), (0, 0, 1), 1.0), "ends"),
    (lambda: cut("block", UNIT, [OVER]), "block: nothing is left"),
    (lambda: cut("block", TORN, [OVER]), "not closed"),
    (lambda: shared_volume(TORN, UNIT), "not closed"),
]


@pytest.mark.parametrize(("make", "told"), REFUSED, ids=range(len(REFUSED)))
def test_what_is_no_solid_is_refused(make: Callable[[], object], told: str) -> None:
    with pytest.raises(GeometryError, match=told):
        make()


interval = st.tuples(st.floats(-5, 5), st.floats(0.01, 5))


@given(
    first=st.tuples(interval, interval, interval), second=st.tuples(interval, interval, interval)
)
def test_shared_volume_of_boxes(first, second):
    (low, high), (low2, high2) = (
        (np.array([a for a, _ in ends]), np.array([a + size for a, size in ends]))
        for ends in (first, second)
    )
    both = np.minimum(high, high2) - np.maximum(low, low2)
    expected = float(np.prod(both)) if (both > 0).all() else 0.0
    assert shared_volume(box("a", low, high), box("b", low2, high2)) == pytest.approx(
        expected, abs=1e-8
    )


def test_solids_that_only_touch_share_nothing_and_a_knife_edge_is_an_edge():
    body = box("block", (0, 0, 0), (1, 1, 1))
    assert shared_volume(body, box("beside", (1, 0, 0), (2, 1, 1))) == 0.0
    assert shared_volume(body, box("inside", (0.2, 0.2, 0.2), (0.5, 0.5, 0.5))) == pytest.approx(
        0.027, rel=1e-12
    )
    wedge = prism("wedge", [(0, 0), (1, 1), (0, 1)], 0, 1)
    other = prism("other", [(0.1, 0), (1, 0), (1, 0.9)], 0, 1)
    assert shared_volume(wedge, other) == 0.0
    outline = [(0.0, 0.0), (1.0, -5e-11), (1.0, 5e-11)]
    edges = features(prism("blade", outline, 0.0, 1.0)).edges
    assert (np.abs(edges[:, :, 0]).max(axis=1) == 0.0).any()
