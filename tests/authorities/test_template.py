"""Bit, bushing and template against the trade's rules of thumb.

- A 5/8 in corner takes a 1 1/4 in bit; with a 1 3/8 in bushing the template is
  1/8 in longer than the leaf: common practice, no source.
- Offset of half the difference: common practice (in any text on template
  routing); the rows are derived from it.
- Corner radii of 1/4 and 5/8 in: common practice, no source.
"""

from __future__ import annotations

import pytest

from swingcheck.bench.mortise import Refusal, Tools, bit_for, mortising
from tests.factory import plain_scene

MM = 1 / 25.4


def test_five_eighths_corner() -> None:
    scene = plain_scene(hinge__corner_radius=5 / 8, shop__bushing=1 + 3 / 8)
    for set_up in mortising(scene).set_ups:
        assert set_up.tools.bit == 1.25
        assert set_up.opening.length - set_up.leaf.length == 1 / 8
        assert not set_up.refused


def test_quarter_corner() -> None:
    assert bit_for(1 / 4) == 1 / 2


@pytest.mark.parametrize(
    ("bushing", "bit", "offset"),
    [
        (5 / 8, 1 / 2, 1 / 16),
        (3 / 4, 1 / 2, 1 / 8),
        (30 * MM, 12 * MM, 9 * MM),
        (1.0, 3 / 4, 1 / 8),
    ],
)
def test_offset_is_half_the_difference(bushing: float, bit: float, offset: float) -> None:
    tools = Tools(bit=bit, bushing=bushing, template_corner=0.0)
    assert tools.offset == pytest.approx(offset)


@pytest.mark.parametrize(("radius", "bit"), [(1 / 4, 1 / 2), (5 / 8, 1.25)])
def test_the_next_bit_up_does_not_fit_the_corner(radius: float, bit: float) -> None:
    fits = plain_scene(hinge__corner_radius=radius, shop__bit=bit, shop__bushing=bit + 1 / 8)
    too_large = plain_scene(
        hinge__corner_radius=radius, shop__bit=bit + 1 / 8, shop__bushing=bit + 1 / 4
    )
    assert not mortising(fits).set_ups[0].refused
    assert mortising(too_large).set_ups[0].refused == (Refusal.BIT_TOO_LARGE,)
