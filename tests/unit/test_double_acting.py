"""Round edges that swing both ways: radii and margins in closed form, swung from either side."""

from __future__ import annotations

from dataclasses import replace
from math import acos, asin, atan2, hypot, inf, pi, radians, sqrt

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from swingcheck.assembly import assemble
from swingcheck.assembly.slab import EDGE_SAGITTA
from swingcheck.model import NO_HINGES, Edge, Obstacle, PivotKind, PivotSet, Scene, Swing
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.swing.margins import closed_margins
from swingcheck.swing.round_edges import radii_that_clear, round_edges, sweep_radius
from swingcheck.swing.swung import swung
from tests.factory import SQUARE, plain_scene, rounded

T = 1.75
OUT = -1.0  # the pivots, off the jamb's pull-side edge: the middle of a slab 1 3/4 in thick


def double_acting(
    hinge: Edge, strike: Edge, *, along: float = 2.75, off: float = 0.0, margin: float = 1 / 8
) -> Scene:
    """A slab on centre pivots, the hinge edge's crown ``along`` from them, both margins alike.

    ``off`` is how far the slab's middle is off the pivots, positive to the pull side.
    """
    width = 30.0
    scene = plain_scene(
        stop=None,
        opening__width=(width + 2 * margin,),
        slab__width=(width,),
        slab__thickness=T,
        slab__hinge_edge=hinge,
        slab__strike_edge=strike,
        swing=Swing(both_ways=True, limit=radians(100.0)),
    )
    pivot = PivotSet(
        kind=PivotKind.CENTRE,
        edge=(along, along),
        face=(T / 2 + off, T / 2 + off),
        leg=(along + margin, along + margin),
        out=(OUT, OUT),
    )
    return replace(scene, hinge=NO_HINGES, pivot=pivot)


def farthest(radius: float, along: float, off: float) -> float:
    """The edge's farthest point from the axis, by looking at 20,001 of them."""
    half = asin(min(T / 2 / radius, 1.0))
    turn = np.linspace(-half, half, 20_001)
    across = off + radius * np.sin(turn)
    out = along - radius + radius * np.cos(turn)
    return float(np.hypot(out, across).max())


@given(radius=st.floats(T / 2, 40.0), along=st.floats(2.0, 40.0), off=st.floats(-0.8, 0.8))
def test_the_sweep_is_the_farthest_point_of_the_arc(radius, along, off) -> None:
    assert sweep_radius(radius, T, along, off) == pytest.approx(
        farthest(radius, along, off), abs=1e-6
    )


@example(along=30.0, off=0.5, margin=0.01)  # the arc reaches before its arris
@given(along=st.floats(2.0, 40.0), off=st.floats(-0.8, 0.8), margin=st.floats(0.001, 0.3))
def test_the_greatest_radius_just_reaches_and_the_sweep_grows_with_the_radius(
    along, off, margin
) -> None:
    found = radii_that_clear(T, along, off, margin)
    reach = along + margin
    if found is None:
        assert sweep_radius(T / 2, T, along, off) > reach
        return
    least, greatest = found
    assert least == T / 2
    if greatest == inf:
        assert hypot(along, abs(off) + T / 2) <= reach
    else:
        assert sweep_radius(greatest, T, along, off) == pytest.approx(reach, abs=1e-9)
    radii = np.linspace(T / 2, min(greatest, 100.0), 50)
    swept = [sweep_radius(float(r), T, along, off) for r in radii]
    assert (np.diff(swept) >= -1e-12).all()


def test_any_radius_up_to_the_axis_sweeps_no_farther_than_it_closes() -> None:
    """About a pivot in the slab's middle; the steel trade's 2 1/8 in on 1 3/4 in, from memory."""
    for along in (2.125, 2.75, 30.0):
        for radius in np.linspace(T / 2, along, 9):
            assert sweep_radius(float(radius), T, along, 0.0) == pytest.approx(along, abs=1e-12)
    assert rounded(2.125).wide_inset(T) == pytest.approx(2.125 - sqrt(2.125**2 - 0.875**2))


# ---------------------------------------------------------------- swung both ways

EDGES = [rounded(T / 2), rounded(2.125), rounded(2.75), SQUARE, rounded(4.0)]


@pytest.mark.parametrize("hinge", EDGES)
@pytest.mark.parametrize("off", [0.0, 0.2])
def test_what_the_closed_form_leaves_is_what_the_swing_leaves_both_ways(hinge, off) -> None:
    """The hinge edge near its pivot: the least distance to its leg, from either side."""
    scene = double_acting(hinge, rounded(2.125), off=off, margin=0.25)
    swing = swung(assemble(scene))
    hinge_edge = round_edges(swing.assembly, closed_margins(swing.assembly))[0]
    run_out = sweep_radius(hinge.radius or inf, T, 2.75, off) - 2.75
    assert hinge_edge.run_out == pytest.approx(run_out, abs=1e-9)
    assert hinge_edge.left == pytest.approx(0.25 - run_out, abs=1e-9)
    for begin in (pi / 2, -pi / 2):
        least = {c.against: c.least for c in swing.clearances(begin, 0.0, frozenset())}
        own = 0.25 - run_out
        if off:  # only one of the two ways carries the farther side past the leg
            assert least["hinge leg"] >= own - 2e-4
        else:
            assert least["hinge leg"] == pytest.approx(own, abs=EDGE_SAGITTA + 2e-4)
    both = min(
        c.least
        for begin in (pi / 2, -pi / 2)
        for c in swing.clearances(begin, 0.0, frozenset())
        if c.against == "hinge leg"
    )
    assert both == pytest.approx(0.25 - run_out, abs=EDGE_SAGITTA + 2e-4)


@pytest.mark.parametrize(("along", "off", "margin"), [(2.75, 0.0, 1 / 16), (2.5, 0.2, 0.15)])
def test_a_little_more_than_the_greatest_radius_strikes(along, off, margin) -> None:
    """The greatest that a check tells, against the arc's points looked at one by one."""
    place = {"along": along, "off": off, "margin": margin}
    greatest = check(double_acting(rounded(2.125), rounded(2.125), **place)).edges[0].greatest
    assert greatest is not None and greatest < inf
    assert farthest(greatest, along, off) == pytest.approx(along + margin, abs=1e-6)
    found = check(double_acting(rounded(greatest * 1.02), rounded(2.125), **place))
    assert found.verdict is Verdict.HINGE_BOUND
    assert found.decided.touch is not None and found.decided.touch.against == "hinge leg"
    good = check(double_acting(rounded(greatest * 0.98), rounded(2.125), **place))
    assert good.verdict is Verdict.SWINGS
    assert good.push is not None and good.push.closing is None and good.closing is None


@pytest.mark.parametrize("margin", [0.03, 0.1])
def test_an_edge_flatter_than_its_reach_meets_its_leg_both_ways_alike(margin: float) -> None:
    """A square hinge edge's arris is ``hypot(e, T / 2)`` from the pin, ``atan(T / 2 / e)`` off it.

    It meets the leg, ``e + m`` from the pin, closing from either side at that angle and
    ``acos((e + m) / reach)`` more.
    """
    edge = 1.5
    found = check(double_acting(SQUARE, rounded(2.125), along=edge, margin=margin))
    expected = atan2(T / 2, edge) + acos((edge + margin) / hypot(edge, T / 2))
    assert found.verdict is Verdict.HINGE_BOUND
    assert found.push is not None
    for side, sign in ((found, 1.0), (found.push, -1.0)):
        assert side.closing is not None
        assert side.closing.against == "hinge leg"
        assert side.closing.angle == pytest.approx(sign * expected, abs=1e-9)


@pytest.mark.parametrize("least", [T / 2, 2.125])
def test_the_least_radius_leaves_its_margin(least: float) -> None:
    found = check(double_acting(rounded(least), rounded(least)))
    assert found.verdict is Verdict.SWINGS
    for edge in found.edges:
        assert edge.least == T / 2
        assert edge.left == edge.least_left == pytest.approx(1 / 8, abs=1e-9)
        back = least - sqrt(least**2 - T**2 / 4)
        assert edge.at_faces == pytest.approx(1 / 8 + back, abs=1e-9)
    nearest = {each.against: each.least for each in found.clearances}
    assert nearest["strike leg"] == pytest.approx(1 / 8, abs=2e-4)
    assert nearest["hinge leg"] == pytest.approx(1 / 8, abs=2e-4)


def test_what_stands_on_the_push_side_stops_the_slab_or_is_as_near_as_it_swings_past() -> None:
    box = Obstacle(name="stove", corner=(-10.0, -30.0, 0.0), size=(25.0, 5.0, 40.0))
    scene = replace(double_acting(rounded(2.125), rounded(2.125)), obstacles=(box,))
    found = check(scene)
    assert found.verdict is Verdict.BLOCKED
    assert found.blocked_by == () and found.push is not None
    assert found.push.blocked_by == ("stove",)
    away = replace(box, corner=(0.5, -30.0, 0.0))
    start = Swing(both_ways=True, start=radians(30.0), wanted=radians(90.0), limit=radians(100.0))
    found = check(replace(scene, obstacles=(away,), swing=start))
    assert found.verdict is Verdict.FOULS
    assert found.push is not None and found.push.opening is not None
    assert found.push.opening.against == "stove"
    assert -radians(90.0) < found.push.opening.angle < -radians(30.0)
    assert found.push.opening.opening_at_strike > 0
    # A post half an inch beyond the crown, which stands 27 1/4 in from the axis.
    scene = double_acting(rounded(2.125), rounded(2.125))
    x, y, _ = check(scene).axis.point
    far = 30.0 - 2.75 + 0.5
    post = Obstacle(name="post", corner=(x - 1.0, y - far - 2.0, 20.0), size=(2.0, 2.0, 30.0))
    found = {each.against: each for each in check(replace(scene, obstacles=(post,))).clearances}
    assert found["post"].least == pytest.approx(0.5, abs=2e-3)
    assert found["post"].angle == pytest.approx(-pi / 2, abs=0.05)
