"""Slanted views without GL: what hides what, held against rays shot one at a time."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck.geometry.features import creased
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import box, cylinder
from swingcheck.render.exploded.axonometry import (
    ISOMETRIC,
    LIFTED_IN,
    Piece,
    facing,
    painted,
    strokes,
)
from swingcheck.render.pen.eye import SHARP_RAD, Eye, eye_from

eyes = st.builds(eye_from, st.floats(3.0, 87.0), st.floats(3.0, 87.0))


@st.composite
def boxes(draw: st.DrawFn) -> list[Solid]:
    """Return a few boxes that may stand through one another."""
    part = st.integers(-20, 20)
    size = st.integers(1, 20)
    found = []
    for k in range(draw(st.integers(2, 4))):
        low = np.array([draw(part) for _ in range(3)]) / 10
        found.append(box(f"{k}", low, low + [draw(size) / 10 for _ in range(3)]))
    return found


def nearest_hit(solids: list[Solid], eye: Eye, at: np.ndarray) -> tuple[float, int]:
    """Return the depth and owner of the nearest triangle on a ray to the eye, by Cramer's rule.

    Moller and Trumbore (1997), "Fast, minimum storage ray-triangle intersection".
    """
    best = (-np.inf, -1)
    start = at[0] * eye.right + at[1] * eye.up
    for owner, solid in enumerate(solids):
        a, b, c = (solid.vertices[solid.faces[:, k]] for k in range(3))
        u, v, w = b - a, c - a, start - a
        across = np.cross(eye.toward, v)
        scale = np.einsum("ij,ij->i", u, across)
        with np.errstate(divide="ignore", invalid="ignore"):
            s = np.einsum("ij,ij->i", w, across) / scale
            q = np.cross(w, u)
            t = q @ eye.toward / scale
            depth = np.einsum("ij,ij->i", v, q) / scale
        hit = (np.abs(scale) > 1e-12) & (s >= 0) & (t >= 0) & (s + t <= 1)
        if hit.any() and depth[hit].max() > best[0]:
            best = (float(depth[hit].max()), owner)
    return best


def edges(solid: Solid, eye: Eye) -> np.ndarray:
    """Return the edges (n, 2, 3) that are drawn of a solid."""
    points, _, ends = creased(solid, SHARP_RAD, eye.toward)
    return points[ends]


def drawn(lines: np.ndarray, shares: np.ndarray, solids: list[Solid], eye: Eye) -> np.ndarray:
    """Return whether lines (n, 2, 3) are seen at shares (k,) of their lengths, (n, k)."""
    own = [strokes(line[None], k, eye) for k, line in enumerate(lines)]
    order = painted([*facing(solids, eye), *(stroke for each in own for stroke in each)])
    seen = np.zeros((len(lines), len(shares)), dtype=bool)
    for place, stroke in enumerate(order):
        if stroke.normal is not None:
            continue
        start, end = lines[stroke.owner] + LIFTED_IN * eye.toward
        ends = np.sort((stroke.corners - start) @ (end - start) / ((end - start) @ (end - start)))
        over = [piece for piece in order[place:] if piece.normal is not None]
        for k in np.flatnonzero((ends[0] <= shares) & (shares <= ends[1])):
            at = eye.seen(start + shares[k] * (end - start))
            seen[stroke.owner, k] |= not any(covers(facet, eye, at) for facet in over)
    return seen


def covers(facet: Piece, eye: Eye, at: np.ndarray) -> bool:
    """Return whether a painted piece covers a point of the drawing."""
    flat = eye.seen(facet.corners)
    sides = np.roll(flat, -1, axis=0) - flat
    away = at - flat
    return bool((sides[:, 0] * away[:, 1] - sides[:, 1] * away[:, 0] >= 0).all())


def test_isometric_shows_three_directions_at_one_scale_and_no_facets() -> None:
    # ISO 5456-3: the axes are foreshortened alike, by sqrt(2/3), 120 degrees apart
    seen = ISOMETRIC.seen(np.eye(3))
    assert np.linalg.norm(seen, axis=1) == pytest.approx([sqrt(2 / 3)] * 3)
    turns = np.sort(np.degrees(np.arctan2(seen[:, 1], seen[:, 0])))
    assert np.diff(turns) == pytest.approx([120.0, 120.0])
    assert seen[2] == pytest.approx([0.0, sqrt(2 / 3)])
    cube = box("cube", [0, 0, 0], [1, 2, 3])
    lines = edges(cube, ISOMETRIC)
    assert len(lines) == 9
    assert drawn(lines, np.linspace(0.01, 0.99, 5), [cube], ISOMETRIC).all()
    normals = {tuple(np.round(facet.normal)) for facet in facing([cube], ISOMETRIC)}
    assert normals == {(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)}
    barrel = cylinder("barrel", [0, 0, 0], [0, 0, 3], 0.25)
    lines = edges(barrel, ISOMETRIC)
    upright = [line for line in lines if abs(line[1, 2] - line[0, 2]) > 2.9]
    assert len(upright) == 2
    assert abs(ISOMETRIC.seen(np.array(upright))[:, :, 0]) == pytest.approx(0.25, abs=2e-3)


@given(eyes)
def test_an_eye_is_square_and_keeps_what_is_up_up(eye: Eye) -> None:
    frame = np.stack([eye.right, eye.up, eye.toward])
    assert frame @ frame.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(frame) == pytest.approx(1.0)
    assert eye.seen(np.array([0.0, 0.0, 1.0]))[1] > 0


@settings(max_examples=20)
@given(boxes(), eyes, st.integers(0, 10**6))
def test_what_is_painted_last_is_what_a_ray_meets_first(
    solids: list[Solid], eye: Eye, seed: int
) -> None:
    order = painted(facing(solids, eye))
    corners = np.concatenate([eye.seen(solid.vertices) for solid in solids])
    rng = np.random.default_rng(seed)
    met = 0
    points = rng.uniform(corners.min(axis=0), corners.max(axis=0), (25, 2))
    middles = [eye.seen(solid.bounds.mean(axis=0)) for solid in solids]
    for at in [*points, *middles]:
        depth, _ = nearest_hit(solids, eye, at)
        over = [facet for facet in order if covers(facet, eye, at)]
        if not over:
            continue
        top = over[-1]
        away = top.normal @ (top.corners[0] - at[0] * eye.right - at[1] * eye.up)
        assert away / (top.normal @ eye.toward) == pytest.approx(depth, abs=1e-6)
        met += 1
    assert met >= len(solids)


@settings(max_examples=20)
@given(boxes(), eyes)
def test_lines_are_seen_where_nothing_is_before_them_and_only_there(
    solids: list[Solid], eye: Eye
) -> None:
    lines = np.concatenate([edges(solid, eye) for solid in solids])
    shares = np.linspace(0.013, 0.987, 9)
    for line, seen in zip(lines, drawn(lines, shares, solids, eye), strict=True):
        for share, shown in zip(shares, seen, strict=True):
            point = line[0] + share * (line[1] - line[0])
            depth, _ = nearest_hit(solids, eye, eye.seen(point))
            behind = depth - float(point @ eye.toward)
            assert behind < LIFTED_IN + 1e-6 if shown else behind > -1e-6


def test_a_line_is_hidden_on_a_seam_and_keeps_its_two_ends_behind_a_box() -> None:
    # a pin line through a barrel is seen exactly along the edge between two facets
    barrel = cylinder("barrel", [0, 0, 0], [0, 0, 2], 0.5)
    line = np.array([[[0.0, 0.0, -1.0], [0.0, 0.0, 3.0]]])
    seen = drawn(line, np.array([0.4, 0.6, 0.7, 0.9]), [barrel], ISOMETRIC)
    assert seen.tolist() == [[False, False, False, True]]
    wall = box("wall", [0.0, -1.0, -1.0], [0.1, 1.0, 1.0])
    lines = np.array([[[x, -3.0, 0.0], [x, 3.0, 0.0]] for x in (-5.0, 4.0)])
    seen = drawn(lines, np.array([0.32, 0.34, 0.5, 0.66, 0.68]), [wall], eye_from(0.0, 0.0))
    assert seen.tolist() == [[True, False, False, False, True], [True] * 5]
