"""Corners of many variants at once against every variant assembled alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swingcheck.assembly import Corners, Shape, assemble, corners_of, hinges_alike, shape_of
from swingcheck.chance.values import measured, with_values
from swingcheck.errors import GeometryError
from swingcheck.model import Baseboard, Floor, Leg, Lip, Obstacle, Rabbet, Scene, WallReturn, Warp
from tests.factory import CASING, LOCK, plain_scene

VARIANTS = 40

#: By how much either way, inches, radians or rise over run, and what is varied so.
SPANS = {
    1.0: "wall_return.reach",
    0.5: "lock.height",
    0.05: "opening.width opening.height opening.depth",
    0.03: "opening.rabbet.hinge opening.rabbet.strike opening.rabbet.head"
    " opening.hinge_leg.plumb opening.hinge_leg.cross opening.strike_leg.cross slab.width"
    " slab.height slab.head_margin hinge.jamb.tops hinge.jamb.setbacks hinge.slab.tops"
    " hinge.slab.setbacks lock.backset",
    0.02: "opening.thickness stop.projection stop.width slab.thickness casing.reveal"
    " casing.width baseboard.thickness",
    0.01: "hinge.leaf_length hinge.open_width hinge.leaf_thickness hinge.closed_gap"
    " hinge.jamb.depths hinge.slab.depths",
    0.004: "opening.hinge_leg.twist opening.strike_leg.twist slab.hinge_edge.bevel"
    " slab.strike_edge.bevel slab.head_edge.bevel",
    0.001: "floor.across",
}

PLUMB = plain_scene(casing=CASING, slab__width=(29.9, 29.8), slab__height=(79.75, 79.9))
CROOKED = {
    "opening__width": (30.1, 30.15, 30.2),
    "opening__height": (80.5, 80.75),
    "opening__rabbet": Rabbet(hinge=(1.4, 1.5, 1.45), strike=(1.5, 1.4), head=(1.4, 1.45, 1.5)),
    "opening__hinge_leg": Leg(plumb=(0.1, -0.05, 0.0), cross=(0.05, -0.1)),
    "opening__strike_leg": Leg(cross=(-0.1, 0.1), twist=(0.025,)),
    "floor": Floor(covering=0.25, across=0.004, out=-0.002),
}
TWISTED = Leg(plumb=(0.1, -0.05, 0.0), cross=(0.05, -0.1), twist=(0.02, -0.01, 0.015))
SCENES = {
    "plumb": PLUMB,
    "crooked": plain_scene(**CROOKED, hinge__jamb__depths=(0.0, 0.0, 0.0)),
    "let in": plain_scene(**CROOKED),
    "twisted": plain_scene(**{**CROOKED, "opening__hinge_leg": TWISTED}),
    "furnished": plain_scene(
        **CROOKED,
        casing=CASING,
        baseboard=Baseboard(thickness=0.5, height=3.5),
        wall_return=WallReturn(hinge=4.0, strike=2.0, reach=30.0),
        obstacles=(Obstacle(name="chair", corner=(40.0, 2.0, 0.0), size=(18.0, 20.0, 32.0)),),
    ),
    "locked": replace(PLUMB, lock=replace(LOCK, face_width=1.1)),
}


def drawn(scene: Scene, seed: int) -> tuple[Scene, list[Scene]]:
    """A scene with every number drawn VARIANTS times, and each draw as a scene of its own."""
    rng = np.random.default_rng(seed)
    together, alone = scene, [scene] * VARIANTS
    for path, span in ((path, span) for span, paths in SPANS.items() for path in paths.split()):
        if getattr(scene, path.split(".")[0]) is None:
            continue
        if path.endswith("depths") and not all(measured(scene, path)):
            continue
        values = [value + rng.uniform(-span, span, VARIANTS) for value in measured(scene, path)]
        together = with_values(together, path, tuple(values))
        alone = [
            with_values(one, path, tuple(float(value[k]) for value in values))
            for k, one in enumerate(alone)
        ]
    return together, alone


def farthest(first: np.ndarray, second: np.ndarray) -> float:
    """The farthest that any corner of either is from the nearest of the other."""
    between = np.linalg.norm(first[:, None] - second, axis=2)
    return float(max(between.min(axis=0).max(), between.min(axis=1).max()))


def assert_same(shape: Shape, many: Corners, k: int, scene: Scene) -> None:
    """One variant's corners are those that it is assembled with, and the slab hangs there."""
    alone = assemble(scene, shape.pattern)
    parts = (*alone.moving, *alone.fixed)
    assert [part.name for part in parts] == [part.own.name for part in shape.parts]
    assert np.abs(many.place[..., k] - alone.place).max() < 1e-12
    assert np.abs(many.line[..., k] - [alone.axis.point, alone.axis.direction]).max() < 1e-12
    for part, own in zip(parts, shape.parts, strict=True):
        assert farthest(many.points[own.corners, :, k], part.solid.vertices) < 1e-12, part.name


@pytest.mark.parametrize("name", SCENES)
def test_corners_of_many_variants_are_those_of_each_alone(name: str) -> None:
    scene = SCENES[name]
    shape = shape_of(scene)
    together, alone = drawn(scene, 11)
    many = corners_of(shape, together)
    assert many.built.mean() > 0.9
    for k in np.flatnonzero(many.built):
        assert_same(shape, many, int(k), alone[k])


def test_a_shapes_own_scene_and_variants_of_another_are_told_apart() -> None:
    shape = shape_of(SCENES["locked"])
    corners = corners_of(shape, shape.scene)
    assert corners.built.tolist() == [True]
    assert_same(shape, corners, 0, shape.scene)
    points = corners.points[..., 0]
    for number, part in enumerate(assemble(shape.scene).moving):
        own = points[shape.triangles[shape.corner_part[shape.triangles[:, 0]] == number]]
        volume = np.einsum("ij,ij->", own[:, 0], np.cross(own[:, 1], own[:, 2])) / 6
        assert volume == pytest.approx(part.solid.volume, rel=1e-12)
    # A leaf let in past the slab's top, and one of no depth, among those that are built.
    scene = SCENES["plumb"]
    shape = shape_of(scene)
    tops = np.array([6.875, -3.0, 6.9])
    depths = np.array([0.097, 0.097, 0.0])
    together = with_values(scene, "hinge.slab.tops[0]", (tops,))
    together = with_values(together, "hinge.slab.depths[1]", (depths,))
    many = corners_of(shape, together)
    assert many.built.tolist() == [True, False, False]
    assert np.isfinite(many.points).all()


def test_hinges_are_alike_only_where_no_height_is_another() -> None:
    assert hinges_alike(
        plain_scene(slab__width=(29.9, 29.8), opening__strike_leg=Leg(cross=(0, 1)))
    )
    apart = with_values(plain_scene(), "hinge.slab.setbacks[1]", (np.array([0.28125, 0.3]),))
    others: list[dict[str, object]] = [
        {"opening__hinge_leg": Leg(plumb=(0.0, 0.01))},
        {"opening__rabbet__hinge": (1.4, 1.41)},
        {"hinge__jamb__depths": (0.097, 0.097, 0.1)},
        {"hinge__slab__tops": (0.25, 36.0, 68.0), "hinge__jamb__tops": (0.375, 36.125, 68.125)},
        {"baseboard": Baseboard(thickness=0.5, height=3.5)},
    ]
    assert not any(hinges_alike(each) for each in (apart, *(plain_scene(**own) for own in others)))


@pytest.mark.parametrize(
    ("change", "name"),
    [({"slab__lip": Lip(hinge=0.5, strike=0.5, head=0.5, depth=1.0)}, "a lip"),
     ({"slab__warp": Warp(bow=0.1)}, "a warp"),
     ({"hinge__screw_proud": 0.02}, "screw heads"),
     ({"floor__profile": (0.0, 0.1)}, "a floor profile")],
)  # fmt: skip
def test_what_is_not_built_for_many_is_refused_by_name(change: dict, name: str) -> None:
    with pytest.raises(GeometryError, match=name):
        shape_of(plain_scene(**change))
