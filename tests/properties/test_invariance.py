"""What must not change the contact, how it must change when the scene does, and clearances."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from swingcheck.geometry.clearance import ACCURACY_IN
from swingcheck.geometry.contact import Contact
from swingcheck.geometry.features import features
from swingcheck.geometry.solid import Solid
from tests import openings
from tests.peers import Peer, TurningScene, posed
from tests.shapes import hull, random_turn
from tests.strategies import FAMILIES, moved, scene
from tests.turning import assert_least, least_of
from tests.turning import contact_of as contact

SAME = 1e-9  # radians
STEADY = [name for name in FAMILIES if name not in ("glancing", "resting")]


@st.composite
def turning_scenes(draw: st.DrawFn, families: tuple[str, ...] = tuple(STEADY)) -> TurningScene:
    """Draw a seeded scene of any family."""
    return scene(draw(st.sampled_from(families)), draw(st.integers(0, 400)))


shifts = st.tuples(*[st.floats(-100, 100)] * 3).map(np.array)
seeds = st.integers(0, 2**32 - 1)


def assert_same(first: Contact | None, second: Contact | None, sense: float = 1.0) -> None:
    """Check that two contacts are between the same parts at the same angle."""
    if first is None or second is None:
        assert first is second
        return
    assert second.angle == pytest.approx(sense * first.angle, abs=SAME)
    assert (second.moving, second.fixed) == (first.moving, first.fixed)
    assert second.others == first.others


def reshaped(turning: TurningScene, change) -> TurningScene:
    """Return the scene with every solid changed."""
    return replace(
        turning,
        moving=tuple(change(s) for s in turning.moving),
        fixed=tuple(change(s) for s in turning.fixed),
    )


# What the answer must not depend on.


@given(
    turning_scenes(),
    seeds,
    shifts,
    st.floats(-50, 50),
    st.sampled_from([25.4, 1 / 12, 1.0, 0.0254, 3.7]),
    st.floats(0.1, 0.9),
)
def test_how_a_scene_is_put(turning, seed, shift, along, scale, share):
    """Moved as a whole, about any point of its axis, in any unit, from anywhere on the free way."""
    rng = np.random.default_rng(seed)
    turn, first = random_turn(rng), contact(turning)
    second = contact(moved(turning, turn, shift))
    assert_same(first, second)
    if first is not None and second is not None:
        carried = turn.apply(first.points) + shift
        away = np.linalg.norm(carried[:, None] - second.points[None], axis=2)
        assert max(away.min(axis=0).max(), away.min(axis=1).max()) < 1e-6
    axis = turning.direction / np.linalg.norm(turning.direction)
    assert_same(first, contact(replace(turning, point=turning.point + along * axis)))
    scaled = reshaped(turning, lambda s: Solid(s.vertices * scale, s.faces))
    assert_same(first, contact(replace(scaled, point=turning.point * scale)))
    end = turning.stop if first is None else first.angle
    nearer = turning.over(turning.start + share * (end - turning.start), turning.stop)
    assert_same(first, contact(nearer))


@given(turning_scenes())
def test_mirror_images_and_axes_turned_over_turn_the_other_way(turning):
    """Mirrored in x, the turn and the axis' own sense both reverse."""
    first, flip = contact(turning), np.array([-1.0, 1.0, 1.0])
    back = {"start": -turning.start, "stop": -turning.stop}
    image = reshaped(turning, Solid.mirrored_in_x)
    turned = {"point": turning.point * flip, "direction": turning.direction * flip}
    assert_same(first, contact(replace(image, **turned, **back)), sense=-1.0)
    turned_over = replace(turning, direction=-turning.direction, **back)
    assert_same(first, contact(turned_over), sense=-1.0)


@given(turning_scenes(), seeds)
def test_how_a_mesh_is_written(turning, seed):
    """In any order, unwelded as a file of triangles gives it, or with features found beforehand."""
    rng = np.random.default_rng(seed)

    def shuffled(solid: Solid) -> Solid:
        order = rng.permutation(len(solid.vertices))
        place = np.argsort(order)
        faces = place[solid.faces][rng.permutation(len(solid.faces))]
        return Solid(solid.vertices[order], np.roll(faces, rng.integers(3), axis=1))

    def unwelded(solid: Solid) -> Solid:
        corners = solid.vertices[solid.faces].reshape(-1, 3)
        return Solid(corners, np.arange(len(corners)).reshape(-1, 3))

    first = contact(turning)
    for written in (shuffled, unwelded, features):
        assert_same(first, contact(reshaped(turning, written)))


def split_in_four(solid: Solid) -> Solid:
    """Return the solid with every triangle cut at the middles of its sides."""
    corners = solid.vertices[solid.faces]
    middles = (corners + np.roll(corners, -1, axis=1)) / 2
    a, b, c = (corners[:, k] for k in range(3))
    ab, bc, ca = (middles[:, k] for k in range(3))
    pieces = [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]]
    soup = np.concatenate([np.stack(piece, axis=1) for piece in pieces]).reshape(-1, 3)
    vertices, faces = np.unique(soup, axis=0, return_inverse=True)
    return Solid(vertices, faces.reshape(-1, 3))


def split_at_middles(solid: Solid) -> Solid:
    """Return the solid with every triangle cut in three at its centre."""
    count = len(solid.vertices)
    centres = solid.vertices[solid.faces].mean(axis=1)
    middle = count + np.arange(len(solid.faces))
    faces = np.concatenate(
        [np.column_stack([solid.faces[:, k], solid.faces[:, k - 2], middle]) for k in range(3)]
    )
    return Solid(np.concatenate([solid.vertices, centres]), faces)


@pytest.mark.parametrize("split", [split_in_four, split_at_middles])
@given(turning=turning_scenes())
def test_splitting_faces(split, turning):
    """More triangles, same surface: the flat edges and corners in between begin no contact."""
    finer = reshaped(turning, split)
    for before, after in zip(turning.moving, finer.moving, strict=True):
        assert after.volume == pytest.approx(before.volume)
    assert_same(contact(turning), contact(finer))


@given(turning_scenes())
def test_the_first_of_all_is_the_first_of_each(turning):
    """Each pair alone, and the least of them."""
    turns = []
    for mover in turning.moving:
        for part in turning.fixed:
            one = contact(replace(turning, moving=(mover,), fixed=(part,)))
            if one is not None:
                turns.append(abs(one.angle - turning.start))
    every = contact(turning)
    if every is None:
        assert not turns
        return
    assert abs(every.angle - turning.start) == pytest.approx(min(turns), abs=SAME)


@given(turning_scenes())
def test_which_of_the_two_turns_does_not_matter(turning):
    """Turning the fixed parts the other way meets at the opposite angle."""
    start = turning.start
    standing = tuple(posed(s, turning, start) for s in turning.moving)
    turning = replace(turning, moving=standing, start=0.0, stop=turning.stop - start)
    other = replace(turning, moving=turning.fixed, fixed=standing, stop=-turning.stop)
    first, second = contact(turning), contact(other)
    assert (first is None) == (second is None)
    if first is not None and second is not None:
        assert second.angle == pytest.approx(-first.angle, abs=SAME)


# What must come no later.


def grown(solid: Solid, by: float) -> Solid:
    """Return a convex solid's hull with a small octahedron about every corner: it grows all round.

    Of a solid that is not convex this would be another thing; it is given none.
    """
    reach = by * np.concatenate([np.eye(3), -np.eye(3)])
    return hull((solid.vertices[:, None] + reach[None]).reshape(-1, 3))


@pytest.mark.parametrize("side", ["fixed", "moving"])
@given(
    turning=turning_scenes(families=("convex", "plumb")),
    by=st.sampled_from([1e-4, 1e-3, 1e-2, 0.05]),
)
def test_less_room_never_comes_later(side, turning, by):
    """Frame or slab grown toward the other: what was touched is touched no later."""
    tight = replace(turning, **{side: tuple(grown(s, by) for s in getattr(turning, side))})
    assume(not Peer(tight).touching_fixed(tight.start))
    assert_no_later(turning, tight)


@given(turning_scenes(), seeds)
def test_one_more_part_never_comes_later(turning, seed):
    fewer = replace(turning, fixed=turning.fixed[: 1 + seed % max(1, len(turning.fixed))])
    assert_no_later(fewer, turning)


def assert_no_later(loose: TurningScene, tight: TurningScene) -> None:
    first, second = contact(loose), contact(tight)
    if first is None:
        return
    assert second is not None
    assert loose.sense * (second.angle - first.angle) <= SAME


# Clearance.


def clearances(turning: TurningScene, angle: float) -> list[float]:
    return [near.distance for near in least_of(turning, angle, start=angle)]


def assert_least_of_each(turning: TurningScene, stop: float, count: int) -> None:
    for part, near in zip(turning.fixed, least_of(turning, stop), strict=True):
        peer = Peer(replace(turning, fixed=(part,)))
        assert_least(near, peer, np.linspace(turning.start, stop, count), ACCURACY_IN)


@given(turning_scenes(), st.floats(0.0, 0.98))
def test_clear_before_the_contact(turning, share):
    """The collision library and swingcheck agree on the distance, and it is more than nothing."""
    assume(turning.fixed)
    first = contact(turning)
    end = turning.stop if first is None else first.angle
    angle = turning.start + share * (end - turning.start)
    ours, peers = min(clearances(turning, angle)), Peer(turning).distance(angle)
    assert ours > 0
    assert peers - 1e-9 <= ours <= peers + ACCURACY_IN


@given(turning_scenes())
def test_nothing_clear_at_the_contact(turning):
    first = contact(turning)
    assume(first is not None)
    assert first is not None
    assert Peer(turning).distance(first.angle) <= 1e-9
    ours = clearances(turning, first.angle)
    assert ours[first.fixed] <= ACCURACY_IN


@given(turning_scenes(), st.floats(0.3, 0.95))
@example(turning=scene("plumb", 3), share=0.9)
def test_least_clearance_over_the_free_way(turning, share):
    """No sampled distance is below the certified least, which is within 1e-4 in of a true one."""
    assume(turning.fixed)
    first = contact(turning)
    end = turning.stop if first is None else first.angle
    stop = turning.start + share * (end - turning.start)
    assert_least_of_each(turning, stop, 60)


@pytest.mark.parametrize("seed", range(4))
def test_least_clearance_of_whole_openings(seed):
    turning = openings.closing(openings.assembled(seed))
    first = contact(turning)
    stop = 0.0 if first is None else first.angle + 0.02
    assert_least_of_each(turning, stop, 30)
