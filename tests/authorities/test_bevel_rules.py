"""How much bevel a strike edge needs, against handbooks and the circle of its arris.

Sources
-------
- The Building Trades Pocketbook (International Textbook Co., about 1899), "Doors (continued)":
  the lock edge of a door is bevelled "1/8 in. in 2 1/4 in."; narrow doors may need up to
  "1/4 in. in 2" or more.
- ANSI/SDI A250.8 (as quoted by others; the standard itself was not read): a standard steel door
  edge is bevelled 1/8 in in 2 in, and hung with a nominal 1/8 in at the jambs.
- Ira S. Griffith, Carpentry (1916), section 68: the back arris of the lock edge is planed lower
  than the front.

Derived: the narrow-face arris of a strike edge, ``L - T tan b`` across from the pin and ``T + p``
behind it, turns on a circle; where the wide face closes flush with the jamb's edge the pin stands
``p`` off that too, so the arris passes the edge at ``sqrt((L - T tan b)^2 + T^2 + 2 p T)`` across.
What that is more than ``L`` the strike margin has to give.
"""

from __future__ import annotations

from math import atan, degrees, radians, sqrt, tan

import pytest

from swingcheck.advice.bevel import (
    least_bevels,
    least_strike_margin,
    margin_tables,
    strike_leg_features,
    true_opening,
)
from swingcheck.assembly import bare_assembly
from swingcheck.model import Leg, Scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from tests.factory import SQUARE, bevel, changed, plain_scene

OLD_STANDARD = atan((1 / 8) / 2.25)
STANDARD = atan((1 / 8) / 2)
NARROW = atan((1 / 4) / 2)
MARGIN = 1 / 8
SOLVED = 1e-6


def flush_scene(thickness: float, proud: float) -> Scene:
    """Return a scene whose wide face closes flush, the pin so far proud of it."""
    reach = thickness - 0.25 + proud
    return plain_scene(
        slab__hinge_edge=SQUARE,
        slab__thickness=thickness,
        opening__rabbet__hinge=(thickness + 1 / 16,),
        opening__rabbet__strike=(thickness + 1 / 16,),
        opening__rabbet__head=(thickness + 1 / 16,) * 2,
        hinge__open_width=2 * reach,
        hinge__corner_radius=0.0,
    )


def run_out(across: float, thickness: float, proud: float, lean: float) -> float:
    """Return what the arris passes the jamb's edge at, less the wide-face arris, by its circle."""
    near = across - thickness * tan(lean)
    return max(sqrt(near**2 + thickness**2 + 2 * proud * thickness) - across, 0.0)


@pytest.mark.parametrize("thickness", [1.375, 1.75, 2.25])
@pytest.mark.parametrize("proud", [0.25, 0.375, 0.625])
def test_the_table_is_the_arris_circle(thickness: float, proud: float) -> None:
    widths, bevels = (10.0, 18.0, 24.0, 30.0, 36.0), (0.0, radians(2), OLD_STANDARD, STANDARD)
    scene = flush_scene(thickness, proud)
    (table,) = margin_tables(scene, widths=widths, thicknesses=(thickness,), bevels=bevels)
    assert table.proud == pytest.approx(proud)
    for row in table.rows:
        across = row.width + 1 / 32  # the pin stands half a gap in from the hinge edge
        expected = [run_out(across, thickness, proud, lean) for lean in bevels]
        assert row.margins == pytest.approx(expected, abs=SOLVED)


def test_the_least_margin_is_where_the_check_turns() -> None:
    scene = true_opening(flush_scene(1.75, 0.375), 1.75)
    least = least_strike_margin(scene, 24.0, radians(1), strike_leg_features(scene))
    for room, word in ((least + 1e-5, Verdict.SWINGS), (least - 1e-5, Verdict.STRIKES)):
        hung = changed(
            scene,
            slab__width=(24.0,),
            slab__strike_edge=bevel(1.0),
            opening__width=(24.0 + 1 / 16 + room,),
        )
        assert check(hung).verdict is word


def test_a_thicker_slab_keeps_its_pin_and_its_face_where_they_were() -> None:
    scene = flush_scene(1.375, 0.375)
    thin, thick = (bare_assembly(true_opening(scene, size)) for size in (1.375, 1.75))
    assert thin.axis.point == pytest.approx(thick.axis.point)
    assert thin.place[:, 3] == pytest.approx(thick.place[:, 3])


def test_1_in_16_takes_the_run_out_from_20_in_up_and_a_narrow_door_needs_1_in_8() -> None:
    # A250.8's bevel on a 1 3/4 in slab, the pin 3/8 in proud: (T + 2p) / 2L = 1/16 at L = 20. The
    # Pocketbook's "1/4 in. in 2" does for slabs half as wide.
    (table,) = margin_tables(
        flush_scene(1.75, 0.375),
        widths=(11.0, 16.0, 21.0, 36.0),
        thicknesses=(1.75,),
        bevels=(STANDARD, NARROW),
    )
    standard, narrow = zip(*(row.margins for row in table.rows), strict=True)
    assert standard[0] > 1 / 16 and standard[1] > 0.0
    assert standard[2:] == (0.0, 0.0) and narrow == (0.0,) * 4


@pytest.mark.parametrize("lean", [OLD_STANDARD, STANDARD], ids=["1/8 in 2 1/4", "1/8 in 2"])
@pytest.mark.parametrize("width", [24.0, 28.0, 30.0, 32.0, 36.0])
def test_the_handbooks_bevels_swing_every_common_width_at_an_eighth(
    lean: float, width: float
) -> None:
    for thickness in (1.375, 1.75):
        scene = flush_scene(thickness, 0.375)
        assert least_strike_margin(true_opening(scene, thickness), width, lean) < MARGIN / 2


def test_2_degrees_do_for_a_hand_rule_and_the_wrong_way_asks_for_more() -> None:
    # Common practice, no source: about 2 degrees on an interior slab hung with 1/8 in.
    scene = true_opening(flush_scene(1.375, 0.625), 1.375)
    assert least_strike_margin(scene, 24.0, radians(2)) < MARGIN
    assert least_strike_margin(scene, 12.0, 0.0) > MARGIN
    # Griffith: the back arris is the one that is planed lower.
    square, wrong = (least_strike_margin(scene, 30.0, lean) for lean in (0.0, radians(-2)))
    assert wrong > square + 1.375 * tan(radians(2)) - 1e-3


def test_the_least_bevel_of_a_tight_square_edge_is_the_circles() -> None:
    scene = flush_scene(1.375, 0.625)
    scene = changed(scene, slab__strike_edge=SQUARE, opening__width=(29.875 + 1 / 16 + 1 / 32,))
    edges = {each.edge: each for each in least_bevels(scene)}
    across = 29.875 + 1 / 32
    room = across + 1 / 32
    taken = across - sqrt(room**2 - 1.375**2 - 2 * 0.625 * 1.375)
    least = edges["strike"].least
    assert least is not None
    assert 1.375 * tan(least) == pytest.approx(taken, abs=SOLVED)
    setting = edges["strike"].setting
    assert setting is not None
    assert setting.fit.swings
    assert degrees(setting.value) * 2 == pytest.approx(round(degrees(setting.value) * 2))
    assert 0 <= setting.value - least < radians(0.5)


def test_a_twisted_leg_is_what_the_hinge_edges_bevel_is_for() -> None:
    # The leaves lean in with the leg: a square hinge edge is hinge-bound, a bevel frees it.
    twisted = plain_scene(
        opening__hinge_leg=Leg(twist=(radians(3),)),
        slab__hinge_edge=SQUARE,
        opening__width=(30.3,),
        hinge__corner_radius=0.0,
    )
    assert check(twisted).verdict is Verdict.HINGE_BOUND
    edges = {each.edge: each for each in least_bevels(twisted)}
    least = edges["hinge"].least
    assert least is not None and 0 < least < radians(3)
    assert edges["strike"].least is None
