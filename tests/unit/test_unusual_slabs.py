"""What unusual slabs and frames meet, and at which angle, against plane trigonometry.

The plain closet with square edges: the pin stands at x = 1/32, y = 5/8, the
closed slab's wide face at y = 0, its hinge edge at x = 1/16. A point ``u``
along the slab from the pin and ``v`` out of it (the wide face is at -5/8, the
narrow one at -2) stands, ``t`` open, at ``pin + (u cos t - v sin t, u sin t + v cos t)``.
"""

from __future__ import annotations

from math import acos, asin, atan2, cos, degrees, hypot, radians, sin, tan

import pytest

from swingcheck.assembly import assemble
from swingcheck.model import (
    Applied,
    Astragal,
    Baseboard,
    Carpet,
    Face,
    Handle,
    Lip,
    Offset,
    Rabbet,
    Scene,
    SteelFrame,
    Swing,
    Threshold,
    WallReturn,
    Warp,
)
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from swingcheck.swing.margins import closed_margins
from swingcheck.swing.swung import swung
from tests.factory import CASING, LOCK, SQUARE, bevel, changed, under_arch
from tests.factory import square_scene as square

PIN_X, PIN_Y = 1 / 32, 5 / 8
EDGE = 1 / 32  # u of the hinge edge
WIDE, NARROW = -5 / 8, -2.0  # v of the faces
W, T, OPENING = 29.875, 1.375, 30.125
STRIKE = EDGE + W


def angle_on(x: float, y: float, v: float) -> float:
    """The opening at which the slab's plane at ``v`` passes through a plan point, closing.

    ``-(x - px) sin t + (y - py) cos t = v``.
    """
    dx, dy = x - PIN_X, y - PIN_Y
    return asin(-v / hypot(dx, dy)) + atan2(dy, dx)


def rabbet(depth: float) -> Rabbet:
    return Rabbet(hinge=(depth,), strike=(depth,), head=(depth, depth))


def entering(u: float, v: float, y: float) -> float:
    """The opening at which a point comes down to ``y``, closing: u sin t + v cos t = y - py."""
    return asin((y - PIN_Y) / hypot(u, v)) - atan2(v, u)


# ---------------------------------------------------------------- lips and strips that lap


@pytest.mark.parametrize("into", [0.02, 0.05, 0.2])
def test_a_lip_on_the_strike_edge_rests_on_the_leg(into: float) -> None:
    """Its back would close ``into`` the frame's face: it meets the leg's arris before."""
    depth = 1.0
    lip = Lip(hinge=0.0, strike=0.5, head=0.0, depth=depth)
    scene = square(slab__lip=lip, opening__rabbet=rabbet(depth + 1 / 16 + into))
    # The whole slab closes 7/16 farther in than flush, less what the rabbet shrank.
    shift = 1.4375 - (depth + 1 / 16 + into)
    back = T - depth
    found = check(scene)
    assert found.margins.flush_strike == pytest.approx([-into] * 3, abs=1e-12)
    touch = found.closing
    assert touch is not None and touch.against == "strike leg"
    assert touch.feature == "lip on the strike edge"
    dx, dy = OPENING - PIN_X, 0.0 - (PIN_Y + shift)
    expected = asin((-WIDE + back) / hypot(dx, dy)) + atan2(dy, dx)
    assert touch.angle == pytest.approx(expected, abs=1e-12)
    reach = hypot(STRIKE, WIDE)
    is_seat = 2 * reach * sin(expected / 2) <= scene.swing.seat
    assert found.seated is is_seat is (into < 0.03)
    assert found.verdict is (Verdict.SWINGS if is_seat else Verdict.STANDS_OFF)


def test_an_astragal_rests_on_the_leg_or_strikes_it() -> None:
    strip = Astragal(face=Face.PULL, width=1.5, thickness=0.375, overlap=0.75)
    scene = square(slab__astragal=strip, opening__rabbet=rabbet(1.4375 + 0.05))
    found = check(scene)
    touch = found.closing
    assert touch is not None and (touch.by, touch.against) == ("astragal", "strike leg")
    dy = -(PIN_Y - 0.05)
    expected = asin(-WIDE / hypot(OPENING - PIN_X, dy)) + atan2(dy, OPENING - PIN_X)
    assert touch.angle == pytest.approx(expected, abs=1e-12)
    assert found.verdict is Verdict.STANDS_OFF
    strip = Astragal(face=Face.PUSH, width=1.5, thickness=0.25, overlap=0.5)
    found = check(square(slab__astragal=strip, stop=None))
    touch = found.closing
    assert touch is not None and (touch.by, touch.against) == ("astragal", "strike leg")
    # Its outer face comes down on the leg's arris, long before the slab is closed.
    assert touch.angle == pytest.approx(angle_on(OPENING, 0.0, NARROW - 0.25), abs=1e-12)
    assert touch.angle > radians(3.0)
    assert found.verdict is Verdict.STRIKES


def test_a_lip_beside_plain_hinges_presses_on_the_frame_as_it_opens() -> None:
    """Why a lipped slab's knuckles stand beside its lip: else the lip turns into the frame."""
    lip = Lip(hinge=0.5, strike=0.5, head=0.5, depth=1.0)
    plain = square(slab__lip=lip, opening__rabbet=rabbet(1.0))
    found = check(plain)
    assert found.verdict in (Verdict.HINGE_BOUND, Verdict.DRAGS)
    assert found.closing is not None and found.closing.feature == "lip on the hinge edge"
    assert found.closing.angle > radians(30.0)
    beside = changed(plain, hinge__offset=Offset(across=0.5))
    free = check(beside)
    assert free.verdict is Verdict.SWINGS
    assert free.opening is None
    assert free.margins.flush == pytest.approx([1 / 16] * 3, abs=1e-12)


# ---------------------------------------------------------------- what stands proud


@pytest.mark.parametrize("proud", [0.125, 0.1875, 0.5])
def test_an_applied_box_meets_the_strike_stop_first(proud: float) -> None:
    box = Applied(name="panel", face=Face.PUSH, corner=(20.0, 10.0), size=(9.875, 50.0, proud))
    found = check(square(slab__applied=(box,)))
    touch = found.closing
    assert touch is not None and (touch.by, touch.against) == ("panel", "strike stop")
    expected = angle_on(OPENING - 0.4375, -1.4375, NARROW - proud)
    assert touch.angle == pytest.approx(expected, abs=1e-12)
    assert touch.span == pytest.approx((10.625, 60.625), abs=1e-9)
    assert found.verdict is Verdict.STANDS_OFF


@pytest.mark.parametrize("gap", [2.0, 3.5, 6.0])
def test_a_knob_meets_the_wall_return_before_the_slab_does(gap: float) -> None:
    knob = Handle(face=Face.BOTH, projection=2.5, diameter=2.125, length=0.0, rose=2.5)
    scene = square(
        lock=changed(LOCK, handle=knob), wall_return=WallReturn(hinge=gap, strike=None, reach=40.0)
    )
    found = check(scene)
    touch = found.opening
    assert touch is not None and (touch.by, touch.against) == ("handle", "wall return")
    u, v = STRIKE - LOCK.backset + 2.125 / 2, WIDE + 2.5
    # u cos t - v sin t = -gap - px
    expected = acos((-gap - PIN_X) / hypot(u, v)) - atan2(v, u)
    assert touch.angle == pytest.approx(expected, abs=1e-12)
    opened = found.opened
    assert opened is not None and not opened.by_slab and opened.slab is not None
    alone = acos((-gap - PIN_X) / hypot(STRIKE, WIDE)) - atan2(WIDE, STRIKE)
    assert opened.slab.by == "slab"
    assert opened.slab.angle == pytest.approx(alone, abs=1e-12)
    assert alone > expected


def test_flat_back_a_baseboard_or_a_steel_flat_is_met() -> None:
    """At 180 degrees the wide face stands 2 x 5/8 off the wall, and a thicker board stops it."""
    board = Baseboard(thickness=1.25 + 1e-6, height=3.5)
    assert check(square(baseboard=Baseboard(thickness=1.25 - 1e-6, height=3.5))).opening is None
    touch = check(square(baseboard=board)).opening
    assert touch is not None and touch.against == "baseboard"
    assert degrees(touch.angle) > 179.9
    # No casing: the pull-side flat is the frame's own, flush with the jamb's edge.
    steel = SteelFrame(face=2.0, backbend=0.5)
    box = Applied(name="panel", face=Face.PULL, corner=(0.25, 10.0), size=(1.0, 50.0, 1.5))
    scene = square(opening__steel=steel, opening__thickness=0.25, slab__applied=(box,))
    touch = check(scene).opening
    assert touch is not None and (touch.by, touch.against) == ("panel", "hinge leg")


# ---------------------------------------------------------------- underfoot


@pytest.mark.parametrize("slope", [45.0, 89.0])
def test_a_slab_drags_on_a_saddle_where_its_corner_comes_over_the_bevel(slope: float) -> None:
    saddle = Threshold(width=5.0, height=0.75, slope=radians(slope), edge=0.0)
    found = check(square(threshold=saddle))
    touch = found.closing
    assert touch is not None and touch.against == "threshold"
    assert found.verdict is Verdict.DRAGS
    bottom = 80.5 - 0.125 - 79.75
    line = 0.0 - bottom / tan(radians(slope))
    # The hinge edge's narrow-face corner comes over the line where the bevel is as high.
    assert touch.angle == pytest.approx(entering(EDGE, NARROW, line), abs=1e-9)
    assert found.margins.bottom == pytest.approx((bottom - 0.75,) * 2, abs=1e-12)


def test_a_slab_clears_a_low_saddle_and_is_blocked_by_a_carpet_under_it() -> None:
    saddle = Threshold(width=5.0, height=0.5, slope=radians(45.0), edge=0.0)
    found = check(square(threshold=saddle))
    assert found.verdict is Verdict.SWINGS
    assert found.margins.bottom == pytest.approx((0.125,) * 2, abs=1e-12)
    least = {each.against: each.least for each in found.clearances}
    assert least["threshold"] == pytest.approx(0.125, abs=1e-4)
    found = check(square(carpet=Carpet(thickness=0.75, edge=4.0, reach=40.0)))
    assert found.verdict is Verdict.BLOCKED and found.blocked_by == ("carpet",)
    assert found.opening is not None and found.opening.against == "carpet"


@pytest.mark.parametrize("edge", [4.0, 12.0, 25.0])
def test_a_carpet_that_begins_farther_out_is_met_as_the_slab_opens(edge: float) -> None:
    carpet = Carpet(thickness=0.75, edge=edge, reach=40.0)
    found = check(square(carpet=carpet, swing=Swing(start=radians(3.0))))
    touch = found.opening
    assert touch is not None and touch.against == "carpet"
    assert found.verdict is Verdict.DRAGS
    u, v = STRIKE, WIDE
    expected = asin((edge - PIN_Y) / hypot(u, v)) - atan2(v, u)
    assert touch.angle == pytest.approx(expected, abs=1e-12)
    assert found.margins.bottom == pytest.approx((0.625,) * 2)


# ---------------------------------------------------------------- heads


def fallen_head(fall: float, lean: float = 0.0) -> Scene:
    """A head that falls to the strike leg, over a slab cut along it."""
    slope = fall / OPENING
    return square(
        opening__height=(80.5, 80.5 - fall),
        slab__height=(79.75, 79.75 - slope * W),
        slab__head_edge=bevel(lean) if lean else SQUARE,
    )


def test_a_square_top_drags_under_a_falling_head_and_a_bevelled_one_turns_under_it() -> None:
    """The hinge edge's narrow-face corner turns in under a lower part of the head."""
    fall = 3.0
    found = check(fallen_head(fall))
    touch = found.closing
    assert found.verdict is Verdict.DRAGS
    assert touch is not None and touch.against == "head"
    u, v = EDGE, NARROW
    at = entering(u, v, 0.0)  # under the head's pull-side arris
    across = PIN_X + u * cos(at) - v * sin(at)
    head = 80.5 - fall / OPENING * across
    assert head < 80.375
    assert touch.angle == pytest.approx(at, abs=1e-9)
    # The bevel drops the narrow face by more than the head falls where it passes under.
    fall, u, v = 3.0, EDGE, NARROW
    at = entering(u, v, 0.0)
    across = PIN_X + u * cos(at) - v * sin(at)
    short = 80.375 - (80.5 - fall / OPENING * across)
    least = degrees(atan2(short, T))
    assert check(fallen_head(fall, least - 0.05)).verdict is Verdict.DRAGS
    # A little more than the corner alone asks: the edge behind it passes nearer.
    clear = [
        lean
        for lean in (least + 0.05, least + 1.0, least + 2.0)
        if check(fallen_head(fall, lean)).verdict is Verdict.SWINGS
    ]
    assert clear


def test_even_margins_under_a_raked_head_and_under_an_arch() -> None:
    rise = 12.0
    slope = rise / OPENING
    scene = square(
        opening__height=(68.5, 80.5),
        slab__height=(67.75, 67.75 + slope * W),
        slab__head_margin=0.125 - slope / 16,
    )
    found = closed_margins(assemble(scene))
    assert found.head == pytest.approx((0.125, 0.125), abs=1e-9)
    (scene, _), margin = under_arch(), 1 / 8
    swing = swung(assemble(scene))
    assert closed_margins(swing.assembly).head == pytest.approx((margin, margin), abs=1e-9)
    closed = {each.against: each.least for each in swing.clearances(0.0, 0.0, frozenset())}
    assert closed["head"] == pytest.approx(margin, abs=2.5e-3)  # both arcs are facets
    assert check(scene).verdict is Verdict.SWINGS


# ---------------------------------------------------------------- warp and stops


def bowed(bow: float, stations: int) -> Scene:
    """A bowed slab, its stops bent to it at so many stations, its leaves set from them."""
    heights = [80.5 * (1 - k / (stations - 1)) for k in range(stations)]
    shares = [(z - 0.625) / 79.75 for z in heights]
    bent = tuple(1.4375 - 4 * bow * v * (1 - v) for v in shares)
    return square(
        slab__warp=Warp(bow=bow),
        opening__rabbet=Rabbet(hinge=bent, strike=bent, head=(bent[0], bent[0])),
        opening__depth=6.0,
    )


def test_stops_bent_to_a_bowed_slab_are_even_and_straight_ones_met_at_its_ends() -> None:
    found = check(bowed(0.25, 25))
    assert found.verdict is Verdict.SWINGS
    # The pins are on the bow too, a little off one line: the slab hangs by their mean.
    gaps = [*found.margins.hinge_stop, *found.margins.strike_stop]
    assert gaps == pytest.approx([gaps[0]] * 6, abs=5e-3)
    straight = square(slab__warp=Warp(bow=0.25))
    found = check(straight)
    assert found.verdict in (Verdict.PINCHES, Verdict.STANDS_OFF)
    top, middle, bottom = found.margins.hinge_stop
    # The pins are on the bow too, and hang it a little out of plumb.
    assert middle - (top + bottom) / 2 == pytest.approx(0.25, abs=2e-3)
    assert top == pytest.approx(bottom, abs=0.02)


@pytest.mark.parametrize("twist", [0.25, 0.375])
def test_a_twisted_slab_meets_the_strike_stop_at_one_end(twist: float) -> None:
    """Twisted to the push side at the top, closed by its middle: half of it is into the stop."""
    found = check(square(slab__warp=Warp(twist=-twist)))
    strike = found.margins.strike_stop
    assert strike[0] - strike[2] == pytest.approx(-twist, abs=2e-3)
    assert found.verdict is Verdict.STANDS_OFF
    assert found.closing is not None and found.closing.point[2] > 70.0


# ---------------------------------------------------------------- clear width


@pytest.mark.parametrize("limit", [100.0, 150.0, 179.0, None])
def test_clear_width_as_far_as_it_opens(limit: float | None) -> None:
    """Straight through: from the strike stop to the slab's nearest corner, or the hinge stop."""
    scene = square(casing=changed(CASING, thickness=2.0))
    if limit is not None:
        scene = square(swing=Swing(limit=radians(limit)))
    found = check(scene)
    met = found.opening
    assert (met.against if met else None) == (None if limit else "hinge casing")
    t = met.angle if met else scene.swing.limit
    corners = [(u, v) for u in (EDGE, STRIKE) for v in (WIDE, NARROW)]
    slab = max(PIN_X + u * cos(t) - v * sin(t) for u, v in corners)
    assert found.opened is not None
    expected = OPENING - 0.4375 - max(slab, 0.4375)
    assert found.opened.clear_width == pytest.approx(expected, abs=1e-9)
