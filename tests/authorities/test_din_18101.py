"""Flush and lipped leaves in frames of DIN 18101 sizes, from scene files in millimetres.

Sources: DIN 18101 sizes as an architectural encyclopaedia prints them (leaves: read); the width
chain of the trade (opening - 44 = frame rebate, - 51 = flush leaf, which is what a lipped leaf has
between its lips, - 25 = lipped leaf; relayed, the standard itself not read). So each lip is 13 mm.
Leaf to frame: 3.5 mm a side, 4 mm at the head; the standard's commentary gives 7 mm as the
computed nominal gap at the floor (relayed). The rebate's depth of 25.5 mm is the scene's own.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from swingcheck.assembly import assemble
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict
from tests.scene_files import SCENES

FLUSH, LIPPED = SCENES / "study.toml", SCENES / "flat_bedroom.toml"
MM = 25.4
LIP, DEPTH = 13.0, 25.5

# nominal opening, lipped leaf, flush leaf, frame rebate: mm
WIDTHS = [
    (635, 610, 584, 591),
    (760, 735, 709, 716),
    (885, 860, 834, 841),
    (1010, 985, 959, 966),
    (1135, 1110, 1084, 1091),
]
# lipped leaf, flush leaf, frame rebate: mm
HEIGHTS = [(1985, 1972, 1983), (2110, 2097, 2108)]
SIZES = [(width, HEIGHTS[k % 2]) for k, width in enumerate(WIDTHS)]


def mm(values: tuple[float, ...] | None) -> list[float]:
    return [value * MM for value in values or ()]


@pytest.mark.parametrize("path", [FLUSH, LIPPED], ids=["flush", "lipped"])
@pytest.mark.parametrize(("widths", "heights"), SIZES)
def test_every_size_swings_with_the_margins_of_the_standard(
    path: Path, widths: tuple[int, ...], heights: tuple[int, ...]
) -> None:
    nominal, lipped, leaf, rebate = widths
    high, under_lip, rebate_height = heights
    assert (rebate, leaf, lipped) == (nominal - 44, nominal - 51, nominal - 25)
    assert lipped - leaf == 2 * LIP and high - under_lip == LIP
    sizes = {"opening.width": rebate, "opening.height": rebate_height}
    sizes |= {"slab.width": leaf, "slab.height": under_lip}
    scene = read_scene(path, settings=[(key, str(value)) for key, value in sizes.items()])
    result = check(scene)
    assert result.verdict is Verdict.SWINGS
    margins = result.margins
    assert mm(margins.hinge) == pytest.approx([3.5] * 3, abs=1e-9)
    assert mm(margins.strike) == pytest.approx([3.5] * 3, abs=1e-9)
    assert mm(margins.head) == pytest.approx([4.0] * 2, abs=1e-9)
    if path == FLUSH:
        assert mm(margins.bottom) == pytest.approx([7.0] * 2, abs=1e-9)
        return
    assert result.closing is None and result.opening is None
    # Lip to frame as face to stop: 8 - 6.5 mm of setback.
    assert mm(margins.flush) == pytest.approx([1.5] * 3, abs=1e-9)
    assert mm(margins.flush_strike) == pytest.approx([1.5] * 3, abs=1e-9)
    low, top = assemble(scene).moving[0].solid.bounds * MM
    assert (top - low)[[0, 2]] == pytest.approx([lipped, high], abs=1e-9)
    # 13 mm of lip over 3.5 mm of margin: 9.5 mm on either leg, 9 mm at the head.
    laps = [-low[0], top[0] - rebate, top[2] - rebate_height]
    assert laps == pytest.approx([LIP - 3.5, LIP - 3.5, LIP - 4.0], abs=1e-9)


@pytest.mark.parametrize(("deeper", "shuts"), [(1.4, True), (1.9, False)])
def test_a_frame_too_deep_lets_the_lip_down_on_it(deeper: float, shuts: bool) -> None:
    """The leaf closes that much deeper: past 1.5 mm its lip meets the frame before it is shut."""
    result = check(read_scene(LIPPED, settings=[("opening.rabbet", str(DEPTH + deeper))]))
    assert mm(result.margins.flush) == pytest.approx([1.5 - deeper] * 3, abs=1e-9)
    assert (result.closing is None) is (result.verdict is Verdict.SWINGS) is shuts
