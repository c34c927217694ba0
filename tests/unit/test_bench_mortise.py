"""Router set-ups, held to the bit rolled about its template."""

from __future__ import annotations

from math import hypot, sqrt

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from swingcheck.bench.mortise import (
    Refusal,
    Tools,
    bit_for,
    mortising,
    refusals,
    template_corner_for,
)
from tests.factory import plain_scene


def corner_reach(tools: Tools) -> float:
    """Return how far from the template's corner point the cut begins, on the diagonal.

    By moving the bit: its centre keeps half a bushing from the template, whose
    corner is an arc or a point; the cut is the nearest to the corner that any
    place of the bit reaches.
    """
    half, radius = tools.bushing / 2, tools.template_corner
    span = 3 * (half + radius)
    centres = np.linspace(half, span, 6001)
    best = np.inf
    for a in centres:
        # The bushing touches one side (x = half) or both on the diagonal.
        for x, y in ((half, a), (a, half), (a, a)):
            clear = True
            if x < radius and y < radius:
                clear = hypot(radius - x, radius - y) <= radius - half + 1e-12
            if not clear:
                continue
            # Where the diagonal point (t, t) enters the bit's disc: least t.
            d = tools.bit / 2
            inside = d**2 - (x - y) ** 2 / 2
            if inside >= 0:
                best = min(best, (x + y) / 2 - sqrt(inside) / sqrt(2))
    return float(best)


@given(st.floats(0.25, 1.5), st.floats(0.03, 0.25), st.floats(0.0, 1.5))
def test_corner_that_is_left_is_where_the_bit_rolls(bit: float, wall: float, corner: float) -> None:
    tools = Tools(bit=bit, bushing=bit + 2 * wall, template_corner=corner)
    offset = tools.offset
    # A corner of radius r between lines at the offset meets the diagonal at
    # offset + r (1 - 1 / sqrt 2) along each axis.
    expected = offset + tools.corner * (1 - 1 / sqrt(2))
    assert corner_reach(tools) == pytest.approx(expected, abs=2e-3)


@given(st.floats(0.05, 1.0), st.floats(0.1, 1.9), st.floats(0.02, 0.3))
def test_template_corner_cuts_the_leafs_corner(radius: float, bit: float, wall: float) -> None:
    assume(bit < 2 * radius)
    bushing = bit + 2 * wall
    corner = template_corner_for(radius, bit, bushing)
    tools = Tools(bit=bit, bushing=bushing, template_corner=corner)
    assert tools.corner == pytest.approx(radius, abs=1e-3)
    assert not refusals(tools, radius, 10.0)
    # The bushing can follow it.
    assert corner == 0 or corner >= bushing / 2 - 1e-9


def test_a_set_up_of_a_plain_door_is_shared_by_hinges_let_in_alike() -> None:
    """A 5/8 in corner takes a 1 1/4 in bit; with a 1 3/8 in bushing the template is 1/8 in longer
    than the leaf: common practice, no source."""
    found = mortising(plain_scene(shop__bit=1.25, shop__bushing=1.375))
    assert [set_up.side for set_up in found.set_ups] == ["slab", "jamb"]
    jamb = found.set_ups[1]
    assert jamb.hinges == (0, 1, 2)
    assert (jamb.leaf.length, jamb.leaf.run) == (3.5, 1.125)
    assert (jamb.opening.length, jamb.opening.run) == (3.625, 1.1875)
    assert jamb.tools.offset == 1 / 16 and not jamb.refused
    assert [item.key for item in found.assumed] == ["shop.template_corner"]
    found = mortising(plain_scene(hinge__slab__setbacks=(0.25, 0.3125, 0.25)))
    slabs = [set_up for set_up in found.set_ups if set_up.side == "slab"]
    assert [set_up.hinges for set_up in slabs] == [(0, 2), (1,)]
    assert slabs[0].key != slabs[1].key
    again = mortising(plain_scene(title="Other")).set_ups
    assert again[0].key == slabs[0].key


@pytest.mark.parametrize(
    ("bit", "bushing", "corner", "refused"),
    [
        (1.375, 1.5, 0.0, Refusal.BIT_TOO_LARGE),
        (1.25, 1.25, 0.0, Refusal.BUSHING_TOO_SMALL),
        (0.5, 0.75, 1.0, Refusal.TEMPLATE_TOO_ROUND),
        (4.0, 4.25, 0.0, Refusal.BIT_TOO_LONG),
    ],
)
def test_impossible_sets_are_refused(
    bit: float, bushing: float, corner: float, refused: Refusal
) -> None:
    scene = plain_scene(shop__bit=bit, shop__bushing=bushing, shop__template_corner=corner)
    for set_up in mortising(scene).set_ups:
        assert refused in set_up.refused
        assert not set_up.is_squared_by_chisel


def test_corners_are_pared_and_what_was_not_told_is_chosen_to_fit() -> None:
    scene = plain_scene(hinge__corner_radius=0.0, shop__bit=0.75, shop__bushing=1.0)
    set_up = mortising(scene).set_ups[0]
    assert set_up.is_squared_by_chisel
    assert not set_up.refused
    assert set_up.tools.template_corner == 0.0
    scene = plain_scene(shop__bit=0.5, shop__bushing=0.75, shop__template_corner=0.0)
    set_up = mortising(scene).set_ups[0]
    assert not set_up.refused
    assert set_up.corner_gap == pytest.approx((0.625 - 0.25) * (sqrt(2) - 1))
    found = mortising(plain_scene())
    assert {item.key for item in found.assumed} == {
        "shop.bit",
        "shop.bushing",
        "shop.template_corner",
    }
    assert found.set_ups[0].tools == Tools(bit=1.25, bushing=1.375, template_corner=0.0)
    assert bit_for(0.0) == bit_for(0.25) == 0.5
    found = mortising(plain_scene(shop__jig_setback=0.25)).set_ups
    assert [set_up.jig_off for set_up in found] == pytest.approx([0.0, 1 / 16])
