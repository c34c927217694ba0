"""Ways of hanging a slab against what pencil and paper give, square and plumb.

In the opening frame: ``T`` the slab's thickness, ``D`` the rabbet, ``t`` and ``q`` a leaf's
thickness and the closed gap, ``dj``, ``ds`` the mortises' depths, ``sj``, ``ss`` the setbacks.
"""

from __future__ import annotations

from dataclasses import replace
from math import acos, atan2, hypot, pi, radians, sqrt

import numpy as np
import pytest

from swingcheck.assembly import PartKind, assemble
from swingcheck.geometry.contact import first_contact
from swingcheck.model import NO_HINGES, Floor, Offset, PivotKind, PivotSet, Scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.swing.swung import swung
from tests.factory import SQUARE, bevel, plain_scene, square_scene

T, D = 1.375, 1.4375
LEAF, GAP = 0.097, 0.0625


@pytest.mark.parametrize("jamb, slab", [(1.75, 1.75), (2.5, 2.5), (3.0, 2.25), (2.0, 2.75)])
def test_leaves_of_their_own_width(jamb: float, slab: float) -> None:
    """The pin is at ``-D + sj + wj`` by the jamb and ``-T + ss + ws`` by the slab."""
    scene = square_scene(hinge__jamb__width=jamb, hinge__slab__width=slab)
    assembly = assemble(scene)
    x, y, _ = assembly.axis.point
    assert x == pytest.approx(-LEAF + LEAF + GAP / 2, abs=1e-12)
    assert y == pytest.approx(-D + 0.3125 + jamb, abs=1e-12)
    result = check(scene)
    assert result.axis.proud == pytest.approx(-T + 0.25 + slab, abs=1e-12)
    assert result.margins.hinge == pytest.approx((GAP,) * 3, abs=1e-12)
    assert result.margins.hinge_stop == pytest.approx((0.3125 - 0.25 + jamb - slab,) * 3, abs=1e-12)


def test_leaves_half_the_open_width_are_plain_hinges() -> None:
    plain = assemble(plain_scene())
    own = assemble(plain_scene(hinge__jamb__width=1.75, hinge__slab__width=1.75))
    for first, second in zip((*plain.moving, *plain.fixed), (*own.moving, *own.fixed), strict=True):
        assert np.array_equal(first.solid.vertices, second.solid.vertices)


@pytest.mark.parametrize("across, out", [(1.625, 0.0), (0.5, 0.25), (-0.75, 0.5)])
def test_cranked_knuckles_move_the_pin_and_leave_the_closed_slab(across: float, out: float) -> None:
    """The pin moves ``across`` over the leg and ``out``, for both leaves: the margins stay."""
    plain = check(square_scene())
    scene = square_scene(hinge__offset=Offset(across=across, out=out))
    found = check(scene)
    moved = np.array(found.axis.point) - plain.axis.point
    assert moved == pytest.approx([-across, out, 0.0], abs=1e-12)
    assert found.margins.hinge == pytest.approx(plain.margins.hinge, abs=1e-12)
    assert found.margins.hinge_stop == pytest.approx(plain.margins.hinge_stop, abs=1e-12)
    assert found.axis.proud == pytest.approx(plain.axis.proud + out, abs=1e-12)


@pytest.mark.parametrize("across", [0.25, 1.0, 1.6, 1.9])
def test_clear_width_of_swing_clear_hinges(across: float) -> None:
    """At 90 degrees the slab's stop-side face stands ``T + a`` past the pin, that ``c`` back.

    What is clear is from there, or from the hinge stop where that reaches farther in, to the
    strike stop.
    """
    scene = square_scene(hinge__offset=Offset(across=across))
    found = check(scene)
    pin = GAP / 2 - across
    face = pin + T + found.axis.proud
    assert found.clear_width == pytest.approx(30.125 - 0.4375 - max(face, 0.4375), abs=1e-9)


def test_the_arms_of_cranked_leaves_lie_on_each_other_closed_and_turn_free() -> None:
    """Closed the arms are the closed gap apart, and nothing touches from there to 180 degrees."""
    scene = square_scene(hinge__offset=Offset(across=1.625))
    swing = swung(assemble(scene))
    kinds = {part.name: part.kind for part in swing.assembly.fixed}
    at_rest = swing.clearances(0.0, 0.0, frozenset())
    leaves = [c.least for c in at_rest if kinds[c.against] is PartKind.JAMB_LEAF]
    assert min(leaves) == pytest.approx(GAP, abs=1e-9)
    assert swing.contact(0.0, pi) is None


@pytest.mark.parametrize("rise, margin", [(0.5, 0.125), (0.25, 0.1875), (1.0, 0.0625)])
def test_rising_hinges_meet_the_head_where_the_margin_is_used_up(
    rise: float, margin: float
) -> None:
    """A level top under a level head: ``margin / (rise / 90 deg)``, to the last digits."""
    scene = square_scene(
        hinge__rise=rise, slab__head_margin=margin, slab__height=(79.0, 79.0), slab__width=(29.0,)
    )
    swing = swung(assemble(scene))
    head = [k for k, part in enumerate(swing.assembly.fixed) if part.kind is PartKind.HEAD]
    axis = swing.assembly.axis
    found = first_contact(
        swing.moving[:1],
        [swing.fixed[head[0]]],
        point=axis.point,
        direction=axis.direction,
        start=0.0,
        stop=pi,
        rise=axis.rise,
    )
    assert found is not None
    assert found.angle == pytest.approx(margin / (rise / (pi / 2)), abs=1e-12)


def test_a_rising_slab_is_held_off_the_floor_by_what_it_climbs() -> None:
    """Over a floor that rises ``s`` out, a corner ``r`` from the pin gains
    ``rise t - s r sin t``.
    """
    scene = square_scene(
        hinge__rise=0.75, slab__head_margin=0.9, slab__height=(79.0, 79.0), floor=Floor(out=0.02)
    )
    swing = swung(assemble(scene))
    floor = [part.name for part in swing.assembly.fixed if part.kind is PartKind.FLOOR]
    angle = radians(50.0)
    gaps = {c.against: c.least for c in swing.clearances(angle, angle, frozenset())}
    pin = swing.assembly.axis.point
    corners = swing.assembly.moving[0].solid.vertices
    x, y = (corners[:, :2] - pin[:2]).T
    bottom = corners[:, 2] < 0.7
    out = pin[1] + x * np.sin(angle) + y * np.cos(angle)
    height = corners[:, 2] + 0.75 * angle / (pi / 2) - 0.02 * out
    assert gaps[floor[0]] == pytest.approx(height[bottom].min() / sqrt(1 + 0.02**2), abs=1e-9)


def pivot_scene(kind: PivotKind, edge: float, face: float, leg: float, out: float) -> Scene:
    places = {"edge": (edge,) * 2, "face": (face,) * 2, "leg": (leg,) * 2, "out": (out,) * 2}
    scene = plain_scene(
        hinge=NO_HINGES,
        pivot=PivotSet(kind=kind, **places),
        slab__hinge_edge=SQUARE,
        slab__strike_edge=bevel(6.0),
    )
    return scene if kind is PivotKind.OFFSET else replace(scene, stop=None)


def test_pivots_stand_lean_and_clear_their_stops_where_they_leave_it_room() -> None:
    """Hinge margin ``leg - edge``; the wide face at ``out + face`` beyond the jamb's edge."""
    scene = pivot_scene(PivotKind.CENTRE, 2.75, T / 2, 2.875, -1.5)
    found = check(scene)
    assert found.margins.hinge == pytest.approx((0.125,) * 3, abs=1e-12)
    assert found.margins.flush == pytest.approx((-1.5 + T / 2,) * 3, abs=1e-12)
    assert found.axis.proud == pytest.approx(-T / 2, abs=1e-12)
    assert found.axis.off_line == pytest.approx((0.0, 0.0), abs=1e-12)
    assert found.axis.up_down == pytest.approx((0.0, 0.0), abs=1e-9)
    # A pin set in by ``d`` at the bottom leans the line by ``d`` over the opening's height.
    assert scene.pivot is not None
    scene = replace(scene, pivot=replace(scene.pivot, leg=(2.875, 2.935)))
    direction = assemble(scene).axis.direction
    assert direction[0] / direction[2] == pytest.approx(-0.06 / 80.5, abs=1e-12)
    scene = pivot_scene(PivotKind.OFFSET, 0.75, -0.75, 0.875, T + 0.13 - D + 0.75)
    found = check(scene)
    assert found.closing is None
    assert found.verdict is Verdict.SWINGS
    stops = [c.least for c in found.clearances if c.against_kind is PartKind.HEAD_STOP]
    assert stops[0] == pytest.approx(0.13 - (hypot(0.75, T + 0.75) - T - 0.75), abs=2e-4)


@pytest.mark.parametrize("gap", [0.03, 0.06, 0.1])
def test_an_offset_pivot_swings_the_hinge_edge_deeper_than_it_closes(gap: float) -> None:
    """The hinge edge's narrow-face arris is ``u`` beside the pin and ``v`` behind it.

    It sweeps ``hypot(u, v)`` deep while the closed face is ``v`` deep and the stop ``gap`` behind
    that: closing, it comes to the stops at ``atan(u / v) + acos((v + gap) / hypot(u, v))``.
    """
    scene = pivot_scene(PivotKind.OFFSET, 0.75, -0.75, 0.875, T + gap - D + 0.75)
    u, v = 0.75, T + 0.75
    assert hypot(u, v) - v == pytest.approx(0.1285, abs=1e-4)
    found = check(scene)
    assert found.closing is not None
    assert found.closing.against_kind is PartKind.HEAD_STOP
    expected = atan2(u, v) + acos((v + gap) / hypot(u, v))
    assert found.closing.angle == pytest.approx(expected, abs=1e-9)
