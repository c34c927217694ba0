"""A lipped leaf in its rebated frame of DIN 18101 sizes, from a scene file in millimetres.

Source: DIN 18101 sizes as an architectural encyclopaedia prints them: leaf 610,
735, 860, 985, 1110 by 1985 and 2110 mm; the width chain of the trade (opening
- 44 = frame rebate, - 25 = lipped leaf, - 51 = the same leaf between its lips;
relayed, the standard itself not read). So each lip is 13 mm, and leaf to frame
3.5 mm a side and 4 mm at the head. The rebate's depth of 25.5 mm and the leaf's
thickness of about 40 mm are from memory.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from swingcheck.assembly import assemble
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict

SCENE = Path(__file__).parents[2] / "scenes" / "flat_bedroom.toml"
MM = 25.4

# nominal opening, lipped leaf, frame rebate: mm
WIDTHS = [(635, 610, 591), (760, 735, 716), (885, 860, 841), (1010, 985, 966), (1135, 1110, 1091)]
# lipped leaf, leaf under its lip, frame rebate, both heights: mm
HEIGHTS = [(1985, 1972, 1983), (2110, 2097, 2108)]
LIP, DEPTH = 13.0, 25.5


@pytest.mark.parametrize(("nominal", "leaf", "rebate"), WIDTHS)
@pytest.mark.parametrize(("leaf_height", "under_lip", "rebate_height"), HEIGHTS)
def test_every_size_swings_with_the_margins_of_the_standard(
    nominal: int, leaf: int, rebate: int, leaf_height: int, under_lip: int, rebate_height: int
) -> None:
    assert rebate == nominal - 44 and leaf == nominal - 25
    assert leaf_height - under_lip == LIP
    settings = [
        ("opening.width", str(rebate)),
        ("opening.height", str(rebate_height)),
        ("slab.width", str(leaf - 2 * LIP)),
        ("slab.height", str(under_lip)),
    ]
    scene = read_scene(SCENE, settings=settings)
    result = check(scene)
    assert result.verdict is Verdict.SWINGS
    assert result.closing is None and result.opening is None
    margins = result.margins
    assert [m * MM for m in margins.hinge] == pytest.approx([3.5] * 3, abs=1e-9)
    assert [m * MM for m in margins.strike] == pytest.approx([3.5] * 3, abs=1e-9)
    assert [m * MM for m in margins.head] == pytest.approx([4.0] * 2, abs=1e-9)
    # Lip to frame as face to stop: 8 - 6.5 mm of setback.
    assert [m * MM for m in margins.flush] == pytest.approx([1.5] * 3, abs=1e-9)
    assert [m * MM for m in margins.lip_strike or ()] == pytest.approx([1.5] * 3, abs=1e-9)
    slab = assemble(scene).moving[0].solid
    width, _, height = (slab.bounds[1] - slab.bounds[0]) * MM
    assert width == pytest.approx(leaf, abs=1e-9)
    assert height == pytest.approx(leaf_height, abs=1e-9)


def test_the_lip_laps_the_frame() -> None:
    """13 mm of lip over 3.5 mm of margin: 9.5 mm on either leg, 9 mm at the head."""
    scene = read_scene(SCENE)
    slab = assemble(scene).moving[0].solid.bounds * MM
    assert -slab[0, 0] == pytest.approx(LIP - 3.5, abs=1e-9)
    assert slab[1, 0] - 841 == pytest.approx(LIP - 3.5, abs=1e-9)
    assert slab[1, 2] - 1983 == pytest.approx(LIP - 4.0, abs=1e-9)


@pytest.mark.parametrize(("deeper", "verdict"), [(1.4, "swings"), (1.9, "swings"), (4.0, "")])
def test_a_frame_too_deep_lets_the_lip_down_on_it(deeper: float, verdict: str) -> None:
    """The leaf closes that much deeper: past 1.5 mm its lip meets the frame before it is shut."""
    settings = [("opening.rabbet", str(DEPTH + deeper))]
    result = check(read_scene(SCENE, settings=settings))
    lip = [m * MM for m in result.margins.flush]
    assert lip == pytest.approx([1.5 - deeper] * 3, abs=1e-9)
    assert (result.closing is None) is (deeper < 1.5)
    if not verdict:
        assert result.verdict is not Verdict.SWINGS
