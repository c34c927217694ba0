"""A leg twisted at a constant rate: its facets, its contact and its mortises in closed form."""

from __future__ import annotations

from math import atan2, hypot

import numpy as np
import pytest

from swingcheck.assembly import uprights
from swingcheck.assembly.drafts import Pattern
from swingcheck.assembly.frame import jamb_parts, leaf_mortises, stop_parts
from swingcheck.assembly.legs import hinge_leg_plan, leg_plan, rectangle
from swingcheck.assembly.uprights import TWIST_SAGITTA, carried
from swingcheck.geometry.booleans import cut, shared_volume
from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import loft
from swingcheck.model import Leg, Rabbet, Scene
from tests.factory import plain_scene
from tests.meshes import assert_closed

#: Where a tip turns about an upright axis, in plan: behind the leg's pull-side edge.
CENTRE = np.array([0.0, -1.2])


def twisted(turn: float) -> Scene:
    """An opening whose strike leg is twisted by nothing at the head and by a turn at the floor."""
    return plain_scene(opening__strike_leg=Leg(twist=(0.0, turn)))


def strike_leg(scene: Scene) -> Solid:
    (solid,) = (part.solid for part in jamb_parts(scene) if part.name == "strike leg")
    return solid


def tip(reach: float, height: float) -> Solid:
    """A pyramid that points across at a height, its tip so far from the axis."""
    base, point = (
        [(x, CENTRE[1] + wide * y, height + wide * z) for y, z in corners]
        for x, wide, corners in ((20.0, 1.0, SQUARE), (reach, 1e-9, SQUARE))
    )
    return loft("tip", np.array([base, point]))


SQUARE = ((-1, -1), (1, -1), (1, 1), (-1, 1))


@pytest.mark.parametrize("turn", [0.01, 0.03])
@pytest.mark.parametrize("finer", [1.0, 0.25, 1 / 16])
def test_a_tip_meets_a_twisted_leg_where_its_ruled_face_is(monkeypatch, turn, finer) -> None:
    """The face is ruled by level lines, so a tip is to meet the line at its height where it aims.

    Off by no more than the facets are told to be, at the rate at which the tip nears the face.
    """
    monkeypatch.setattr(uprights, "TWIST_SAGITTA", TWIST_SAGITTA * finer)
    scene = twisted(turn)
    leg = strike_leg(scene)
    for height, along in zip(np.linspace(3.0, 50.0, 13), np.linspace(0.2, 0.9, 13), strict=True):
        plan = leg_plan(scene.opening, 1, float(height))
        x, y = plan.at(float(along), 0.0) - CENTRE
        met = first_contact(
            [tip(hypot(x, y), float(height))], [leg], point=np.array([*CENTRE, 0.0]),
            direction=np.array([0.0, 0.0, 1.0]), start=0.2, stop=-0.2,
        )  # fmt: skip
        assert met is not None
        rate = abs(np.array([-y, x]) @ plan.normal)
        assert abs(met.angle - atan2(y, x)) * rate <= TWIST_SAGITTA * finer + 1e-8


def test_twice_the_counts_leave_a_quarter_and_a_stops_nose_stays_straight(monkeypatch) -> None:
    """Middles of facets against the ruled face, over all of it that the slab can reach."""
    scene = twisted(0.03)
    off = []
    for finer in (1.0, 0.25, 1 / 16):
        monkeypatch.setattr(uprights, "TWIST_SAGITTA", TWIST_SAGITTA * finer)
        off.append(_farthest(strike_leg(scene), scene))
    assert off[0] <= TWIST_SAGITTA
    assert off[1] <= 0.3 * off[0]
    assert off[2] <= 0.3 * off[1]
    stop = stop_parts(scene)[1].solid
    plan = leg_plan(scene.opening, 1, stop.vertices[:, 2])
    gap = plan.gap(stop.vertices[:, :2].T)
    assert np.abs(gap[gap > 0.4]).max() == pytest.approx(0.4375, abs=1e-12)


def _farthest(solid: Solid, scene: Scene) -> float:
    corners = solid.vertices[solid.faces]
    middles = np.concatenate([(corners[:, k] + corners[:, k - 1]) / 2 for k in range(3)])
    leg = leg_plan(scene.opening, 1, middles[:, 2])
    gap = leg.gap(middles[:, :2].T)
    along = ((middles[:, :2].T - leg.edge) * leg.along).sum(axis=0)
    on_face = (np.abs(gap) < 0.01) & (along < 1.4375) & (along > 1e-6)
    assert on_face.sum() > 10
    return float(np.abs(gap[on_face]).max())


CROOKED = Leg(plumb=(0.1, -0.05, 0.0), cross=(0.05, -0.1), twist=(0.02, -0.01, 0.015))


@pytest.mark.parametrize("corner", [0.0, 0.25, 0.625])
def test_mortises_of_a_crooked_leg_are_as_deep_as_they_are_let_in(corner) -> None:
    scene = plain_scene(opening__hinge_leg=CROOKED, hinge__corner_radius=corner)
    (leg,) = (part.solid for part in jamb_parts(scene) if part.name == "hinge leg")
    assert_closed(leg)
    plan = hinge_leg_plan(scene.opening, leg.vertices[:, 2])
    gap = plan.gap(leg.vertices[:, :2].T)
    along = ((leg.vertices[:, :2].T - plan.edge) * plan.along).sum(axis=0)
    gap = gap[(along > 1e-6) & (gap > -0.7)]
    floors = np.abs(gap + 0.097) < 0.02
    assert floors.sum() >= 3 * 2
    assert (np.abs(gap[~floors]) < 1e-12).all()


@pytest.mark.parametrize(
    "leg", [Leg(), Leg(twist=(0.01,)), Leg(plumb=(0.2, 0.0), cross=(0.0, 0.1))]
)
@pytest.mark.parametrize("corner", [0.0, 0.625])
def test_built_mortises_are_what_their_tools_cut(leg, corner) -> None:
    """On flat faces the leg built with its mortises is the leg with them cut out."""
    scene = plain_scene(opening__hinge_leg=leg, hinge__corner_radius=corner)
    (built,) = (part.solid for part in jamb_parts(scene) if part.name == "hinge leg")
    section = rectangle((0.0, 4.5625), (-0.75, 0.0))
    whole = carried("leg", scene, 0, section, 0.75, Pattern()).skin.solid()
    tools = [tool.solid() for tool in leaf_mortises(scene, Pattern())]
    made = cut("leg", whole, tools)
    assert built.volume == pytest.approx(made.volume, rel=1e-12)
    assert shared_volume(built, made) == pytest.approx(made.volume, rel=1e-9)


@pytest.mark.parametrize(
    "changes",
    [{"hinge__jamb__setbacks": (-0.1, 0.3, 0.3)}, {"hinge__jamb__tops": (7.0, 11.0, 68.5)},
     {"opening__rabbet": Rabbet(hinge=(1.4, 1.45, 1.4), strike=(1.4,), head=(1.4,)),
      "hinge__jamb__tops": (7.0, 40.2, 68.5)}],
)  # fmt: skip
def test_mortises_that_do_not_fit_a_face_are_cut(changes) -> None:
    scene = plain_scene(**changes)
    (leg,) = (part.solid for part in jamb_parts(scene) if part.name == "hinge leg")
    assert_closed(leg)
    assert leg.volume < 4.5625 * 0.75 * 81.25 - 0.5
