"""The check: one verdict for each way a slab can hang, and the facts of the trade behind them."""

from __future__ import annotations

from math import degrees, pi, radians

import numpy as np
import pytest

from swingcheck.assembly import PartKind, assemble
from swingcheck.model import Floor, Obstacle
from swingcheck.swing.check import check
from swingcheck.swing.decide import VERDICTS, verdict_of
from swingcheck.swing.found import Verdict
from swingcheck.swing.swung import swung
from tests.factory import SQUARE, bevel, changed, plain_scene


@pytest.mark.parametrize("twist", [2.5, 3.5])
def test_a_twisted_leg_binds_a_square_hinge_edge_and_a_bevel_cures_it(twist: float) -> None:
    leg = (radians(twist),)
    square = check(plain_scene(opening__hinge_leg__twist=leg, slab__hinge_edge=SQUARE))
    assert square.verdict is Verdict.HINGE_BOUND
    cured = check(plain_scene(opening__hinge_leg__twist=leg, slab__hinge_edge=bevel(2.0)))
    assert cured.verdict is Verdict.SWINGS


def test_leaves_meet_at_q_over_l_past_parallel() -> None:
    """Leaves proud of the wood meet first: their buried edges close ``q`` over the reach ``l``.

    Closed on a leg twisted by ``d`` the leaves stand ``d`` past parallel; opened by that much they
    are parallel and ``q`` apart. The buried edge's inner corner is at ``(q / 2, -l)`` from the pin,
    so it comes to the other leaf's plane where ``l sin(a) = q / 2 (1 + cos(a))``.
    """
    proud = 0.06
    scene = plain_scene(
        opening__hinge_leg__twist=(radians(4.0),),
        slab__hinge_edge=SQUARE,
        hinge__jamb__depths=(0.097 - proud,) * 3,
        hinge__slab__depths=(0.097 - proud,) * 3,
    )
    result = check(scene)
    assert result.verdict is Verdict.HINGE_BOUND
    assert result.closing is not None
    assert result.closing.against_kind is PartKind.JAMB_LEAF
    assert result.closing.by_kind is PartKind.SLAB_LEAF
    q, reach = scene.hinge.closed_gap, scene.hinge.reach
    past = 2 * np.arctan2(q / 2, reach)
    assert reach * np.sin(past) == pytest.approx(q / 2 * (1 + np.cos(past)))
    # The jamb leaf leans with the leg; the closed slab stands off square by its own small turn.
    place = assemble(scene).place[:, :3]
    closed = np.arctan2(place[1, 0], place[0, 0])
    assert result.closing.angle == pytest.approx(radians(4.0) - past - closed, abs=1e-9)


@pytest.mark.parametrize("start", [40, 60, 90, 120])
def test_the_whole_way_is_looked_at_wherever_closing_starts(start: float) -> None:
    """A post that the slab meets on its way out is met there, also from behind it."""
    post = Obstacle(name="post", corner=(15.0, 18.0, 0.0), size=(4.0, 2.0, 66.0))
    opened = check(plain_scene(slab__strike_edge=bevel(3), obstacles=(post,)), start=radians(start))
    # The wide face, 5/8 behind the pin, meets the post's nearest corner.
    x, y = 19.0 - 1 / 32, 18.0 - 0.625
    expected = np.arctan2(y, x) + np.arcsin(0.625 / np.hypot(x, y))
    assert opened.opening is not None and opened.closing is None
    assert (opened.verdict, opened.opening.against) == (Verdict.FOULS, "post")
    assert opened.opening.angle == pytest.approx(expected, abs=0.01)
    near = check(plain_scene(slab__strike_edge=bevel(3), obstacles=(post,), swing__wanted=0.7))
    assert near.verdict is Verdict.SWINGS


def test_screw_heads_bind_flush_leaves_and_a_flush_floor_drags() -> None:
    flush = plain_scene(slab__hinge_edge=SQUARE)
    assert check(flush).verdict is Verdict.SWINGS
    proud = plain_scene(slab__hinge_edge=SQUARE, hinge__screw_proud=0.04)
    result = check(proud)
    assert result.verdict is Verdict.HINGE_BOUND
    assert result.closing is not None
    assert result.closing.by_kind is PartKind.SLAB_LEAF
    scene = plain_scene(floor=Floor(covering=0.625))
    result = check(scene)
    assert result.margins.bottom == pytest.approx((0.0, 0.0), abs=1e-9)
    assert result.verdict is Verdict.DRAGS
    assert result.closing is not None
    assert result.closing.angle == pytest.approx(pi / 2)


def test_resting_on_a_stop_within_the_seat_is_closed() -> None:
    out_of_plane = plain_scene(
        slab__hinge_edge=SQUARE,
        opening__strike_leg__cross=(0.0, 0.0, 1 / 16),
        hinge__slab__setbacks=(0.3,) * 3,
    )
    short = check(out_of_plane).closing
    assert short is not None
    assert short.against_kind in (PartKind.STRIKE_STOP, PartKind.HEAD_STOP)
    for seat, seated in ((1e-9, True), (-1e-9, False)):
        found = check(changed(out_of_plane, swing__seat=short.opening_at_strike + seat))
        assert found.seated is seated
        assert found.verdict is (Verdict.SWINGS if seated else Verdict.STANDS_OFF)


@pytest.mark.parametrize("setback", [0.3121, 0.3125, 0.3129])
@pytest.mark.parametrize(
    ("head", "word"), [((1.33, 1.4375), "pinches"), ((1.4375, 1.33), "stands off")]
)
def test_where_the_head_stop_is_met_names_the_touch(
    head: tuple[float, float], word: str, setback: float
) -> None:
    """A head stop that stands proud at one end is met there, whatever the hinge stop leaves."""
    hung = {"hinge__slab__setbacks": (setback,) * 3, "slab__strike_edge": bevel(3)}
    found = check(plain_scene(opening__rabbet__head=head, **hung))
    assert found.verdict.value == word
    assert found.closing is not None and found.closing.against == "head stop"
    assert {verdict_of(kind, half) for kind in VERDICTS for half in (False, True)} >= {
        found.verdict
    }


def test_a_start_that_overlaps_or_swallows_a_part_is_blocked() -> None:
    box = Obstacle(name="chest", corner=(0.0, 10.0, 0.0), size=(6.0, 10.0, 30.0))
    result = check(plain_scene(obstacles=(box,)))
    assert result.verdict is Verdict.BLOCKED
    assert result.blocked_by == ("chest",)
    assert result.closing is None
    assert result.clearances == ()
    assert result.opening is not None
    assert result.opening.against == "chest"
    assert degrees(result.opening.angle) < 90
    # Surfaces that never meet: only the volume in common tells.
    assembly = assemble(plain_scene())
    inside = assembly.axis.turned(assembly.moving[0].solid, pi / 2).vertices.mean(axis=0)
    corner = tuple(float(v) - 0.1 for v in inside)
    speck = Obstacle(name="nail", corner=corner, size=(0.2, 0.2, 0.2))
    assert check(plain_scene(obstacles=(speck,))).blocked_by == ("nail",)


def test_the_opening_at_a_contact_is_a_chord_and_the_clearance_nothing() -> None:
    scene = plain_scene(hinge__slab__setbacks=(0.34,) * 3)
    result = check(scene, step=radians(5.0))
    assert result.closing is not None
    assert result.clearances[0].least == 0.0
    assert result.clearances[0].against in {result.closing.against, *result.closing.also}
    assert all(point.distance > 0 for point in result.curve)
    assert all(point.angle > result.closing.angle for point in result.curve)
    swing = swung(assemble(scene))
    near = swing.clearances(result.closing.angle, result.closing.angle, frozenset())
    assert near[0].least == pytest.approx(0.0, abs=1e-9)
    result = check(plain_scene(hinge__slab__setbacks=(0.34,) * 3, slab__hinge_edge=SQUARE))
    assert result.closing is not None
    pin_x, pin_y = 0.097 + 1 / 32 - 0.097, -1.4375 + 0.3125 + 1.75
    arris = np.array([0.0625 + 29.875, -1.4375 + 1.375 + 0.3125 - 0.34])
    radius = np.hypot(*(arris - [pin_x, pin_y]))
    chord = 2 * radius * np.sin(result.closing.angle / 2)
    assert result.closing.opening_at_strike == pytest.approx(chord, abs=1e-9)
