"""A solid's horizontal section against closed forms and against the boolean library's own slice."""

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck.geometry.section import enclosed_area, horizontal_section
from swingcheck.geometry.solid import Solid, closed_solid


def prism(plan, low, high):
    """A prism over a convex plan (n, 2), counter-clockwise."""
    n = len(plan)
    plan = np.asarray(plan, float)
    vertices = np.vstack([np.c_[plan, np.full(n, low)], np.c_[plan, np.full(n, high)]])
    faces = [[0, k + 1, k] for k in range(1, n - 1)]
    faces += [[n, n + k, n + k + 1] for k in range(1, n - 1)]
    for k in range(n):
        j = (k + 1) % n
        faces += [[k, j, n + j], [k, n + j, n + k]]
    return closed_solid("prism", vertices, faces)


def mesh_of(manifold):
    mesh = manifold.to_mesh64()
    return closed_solid("cut", mesh.vert_properties[:, :3], mesh.tri_verts)


BEVELLED = [(0, 0), (0.05, -1.375), (29.8, -1.375), (29.875, 0)]


def test_a_prism_is_cut_to_its_plan_whatever_the_height():
    solid = prism(BEVELLED, 0.0, 80.0)
    for height in (1e-9, 17.0, 40.0, 79.999):
        (outline,) = horizontal_section(solid, height)
        assert len(outline) == 4
        assert {tuple(p) for p in outline.round(12)} == {tuple(map(float, p)) for p in BEVELLED}
    # trapezoid: (29.875 + 29.75) / 2 x 1.375
    assert enclosed_area(horizontal_section(solid, 40.0)) == pytest.approx(29.8125 * 1.375)


def test_outlines_run_counter_clockwise_and_holes_clockwise():
    block = manifold3d.Manifold.cube((10.0, 2.0, 10.0))
    bore = manifold3d.Manifold.cube((1.0, 1.0, 20.0)).translate((4.0, 0.5, -5.0))
    outlines = horizontal_section(mesh_of(block - bore), 5.0)
    assert sorted(enclosed_area([o]) for o in outlines) == pytest.approx([-1.0, 20.0])
    assert enclosed_area(outlines) == pytest.approx(19.0)


def test_a_slot_through_makes_two_outlines():
    block = manifold3d.Manifold.cube((10.0, 2.0, 10.0))
    slot = manifold3d.Manifold.cube((1.0, 4.0, 2.0)).translate((4.0, -1.0, 4.0))
    solid = mesh_of(block - slot)
    assert len(horizontal_section(solid, 1.0)) == 1
    cut = horizontal_section(solid, 5.0)
    assert sorted(enclosed_area([o]) for o in cut) == pytest.approx([8.0, 10.0])


def test_a_plane_in_a_flat_end_cuts_just_inside_the_solid_or_misses():
    solid = prism(BEVELLED, 0.0, 80.0)
    assert enclosed_area(horizontal_section(solid, 80.0)) == pytest.approx(29.8125 * 1.375)
    assert horizontal_section(solid, 0.0) == ()
    assert horizontal_section(solid, 80.0001) == ()
    assert horizontal_section(solid, -3.0) == ()


def test_a_tapered_solid_is_cut_between_its_ends():
    # frustum of a square: side 4 at the bottom, 2 at the top, so 3 half-way
    low, high = np.array([(-2, -2), (2, -2), (2, 2), (-2, 2)]), 5.0
    vertices = np.vstack([np.c_[low, np.zeros(4)], np.c_[low / 2, np.full(4, high)]])
    faces = prism(low, 0.0, 1.0).faces
    assert enclosed_area(horizontal_section(Solid(vertices, faces), 2.5)) == pytest.approx(9.0)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**31 - 1), st.floats(-0.6, 0.6))
def test_the_area_is_the_boolean_librarys_own_slice(seed, height):
    rng = np.random.default_rng(seed)
    ball = manifold3d.Manifold.sphere(1.0, 12)
    box = manifold3d.Manifold.cube(rng.uniform(0.3, 1.0, 3), True)
    box = box.rotate(rng.uniform(-90, 90, 3)).translate(rng.uniform(-0.7, 0.7, 3))
    cut = ball - box
    found = enclosed_area(horizontal_section(mesh_of(cut), height))
    # the slice rounds its corners to a fixed grid of about 1e-8
    assert found == pytest.approx(cut.slice(height).area(), abs=1e-6)
