"""A slab in a pressed steel frame of published sizes.

Sources, all relayed, no standard read: SDI 111 frame details, faces of 2 in and stops of 5/8 in;
ANSI/SDI A250.8, leaves 1/4 in back on the slab and 5/16 in on the frame, which leave 1/16 to
3/32 in from slab to stop, and a bevel of 1/8 in in 2; SDI 117 in discussion, a net width of
35 13/16 in for a 3-0 slab bevelled on both edges. The rabbets are what the two frames have.
"""

from __future__ import annotations

from math import atan

import pytest

from swingcheck.assembly import assemble
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict

FRAME = """
[opening]
width = 36
height = 84
rabbet = '{rabbet}'
[opening.steel]
[slab]
width = '35 13/16'
thickness = '{thickness}'
hinge_edge = {{ bevel = '1/8 in 2' }}
strike_edge = {{ bevel = '1/8 in 2' }}
material = 'steel'
"""


@pytest.mark.parametrize(("thickness", "rabbet"), [("1 3/4", "1 15/16"), ("1 3/8", "1 9/16")])
def test_a_slab_swings_in_its_frame_with_the_published_gaps(thickness: str, rabbet: str) -> None:
    scene = read_scene(FRAME.format(thickness=thickness, rabbet=rabbet))
    found = check(scene)
    assert found.verdict is Verdict.SWINGS
    # The leaves lean with the bevel, which carries the slab less than a mark of the tape.
    assert found.margins.hinge_stop == pytest.approx([1 / 16] * 3, abs=1 / 128)
    # Rabbet less slab less the 1/16 in to the stop.
    assert found.margins.flush == pytest.approx([-1 / 8] * 3, abs=1 / 128)
    # 3/16 in over both sides: what the net width leaves of 36 in.
    sides = found.margins.hinge[1] + found.margins.strike[1]
    assert sides == pytest.approx(3 / 16, abs=1e-9)
    assert scene.slab.hinge_edge.bevel == pytest.approx(atan(1 / 16))


def test_the_profile_has_the_published_faces_and_stops() -> None:
    assembly = assemble(read_scene(FRAME.format(thickness="1 3/4", rabbet="1 15/16")))
    parts = {part.name: part.solid.bounds for part in assembly.fixed}
    leg, stop = parts["strike leg"], parts["strike stop"]
    assert leg[1, 0] - 36.0 == 2.0  # the face, over the wall
    assert 36.0 - stop[0, 0] == 0.625  # the stop
    assert stop[1, 1] == -1.9375 and leg[1, 1] == 0.0  # the rabbet
    assert leg[0, 1] == -5.75 and stop[0, 1] - leg[0, 1] == pytest.approx(1.9375)  # and its other
