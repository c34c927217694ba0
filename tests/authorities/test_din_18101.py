"""A flush leaf in a frame of DIN 18101 sizes, from a scene file in millimetres.

Source: DIN 18101 sizes as an architectural encyclopaedia prints them (leaves),
and the width chain of the trade (opening - 44 = frame rebate, - 51 = flush
leaf; relayed, the standard itself not read). Leaf to frame: 3.5 mm a side,
4 mm at the head; the standard's commentary gives 7 mm as the computed nominal
gap at the floor (relayed).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict

STUDY = Path(__file__).parents[2] / "scenes" / "study.toml"
MM = 25.4

# nominal opening, flush leaf, frame rebate: mm
WIDTHS = [(635, 584, 591), (760, 709, 716), (885, 834, 841), (1010, 959, 966), (1135, 1084, 1091)]
# flush leaf, frame rebate, both heights: mm
HEIGHTS = [(1972, 1983), (2097, 2108)]


@pytest.mark.parametrize(("nominal", "leaf", "rebate"), WIDTHS)
@pytest.mark.parametrize(("leaf_height", "rebate_height"), HEIGHTS)
def test_every_size_swings_with_the_margins_of_the_standard(
    nominal: int, leaf: int, rebate: int, leaf_height: int, rebate_height: int
) -> None:
    assert rebate == nominal - 44
    assert leaf == nominal - 51
    settings = [
        ("opening.width", str(rebate)),
        ("opening.height", str(rebate_height)),
        ("slab.width", str(leaf)),
        ("slab.height", str(leaf_height)),
    ]
    result = check(read_scene(STUDY, settings=settings))
    assert result.verdict is Verdict.SWINGS
    margins = result.margins
    assert [m * MM for m in margins.hinge] == pytest.approx([3.5] * 3, abs=1e-9)
    assert [m * MM for m in margins.strike] == pytest.approx([3.5] * 3, abs=1e-9)
    assert [m * MM for m in margins.head] == pytest.approx([4.0] * 2, abs=1e-9)
    assert [m * MM for m in margins.bottom] == pytest.approx([7.0] * 2, abs=1e-9)
