"""A slab in a pressed steel frame of published sizes.

Sources, both from memory or relayed, no text read: the Steel Door Institute's
frame details (2 in faces, 5/8 in stops, a rabbet of 1 15/16 in for 1 3/4 in
slabs and 1 9/16 in for 1 3/8 in); ANSI/SDI A250.8 and A156.115 for the leaves
(1/4 in back on the slab, 5/16 in on the frame, which leave 1/16 in from slab
to stop), and the net width of a 3-0 slab bevelled on both edges, 35 13/16 in.
"""

from __future__ import annotations

from math import atan

import pytest

from swingcheck.assembly import assemble
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Verdict


def frame(thickness: str, rabbet: str) -> str:
    bevel = "{ bevel = '1/8 in 2' }"
    return (
        f"[opening]\nwidth = 36\nheight = 84\nrabbet = '{rabbet}'\n[opening.steel]\n"
        f"[slab]\nwidth = '35 13/16'\nthickness = '{thickness}'\n"
        f"hinge_edge = {bevel}\nstrike_edge = {bevel}\nmaterial = 'steel'\n"
    )


@pytest.mark.parametrize(
    ("thickness", "rabbet", "shy"), [("1 3/4", "1 15/16", 1 / 8), ("1 3/8", "1 9/16", 1 / 8)]
)
def test_a_slab_swings_in_its_frame_an_eighth_shy_of_the_face(
    thickness: str, rabbet: str, shy: float
) -> None:
    """Rabbet less slab less the 1/16 in to the stop: 1/8 in."""
    scene = read_scene(frame(thickness, rabbet))
    found = check(scene)
    assert found.verdict is Verdict.SWINGS
    # The leaves lean with the bevel, which carries the slab less than a mark of the tape.
    assert found.margins.flush == pytest.approx([-shy] * 3, abs=1 / 128)
    assert found.margins.hinge_stop == pytest.approx([1 / 16] * 3, abs=1 / 128)
    # 3/16 in over both sides: what the net width leaves of 36 in.
    sides = found.margins.hinge[1] + found.margins.strike[1]
    assert sides == pytest.approx(3 / 16, abs=1e-9)
    assert scene.slab.hinge_edge.bevel == pytest.approx(atan(1 / 16))


def test_the_profile_has_the_published_faces_stops_and_rabbets() -> None:
    scene = read_scene(frame("1 3/4", "1 15/16"))
    assembly = assemble(scene)
    parts = {part.name: part.solid.bounds for part in assembly.fixed}
    leg, stop = parts["strike leg"], parts["strike stop"]
    assert leg[1, 0] - 36.0 == 2.0  # the face, over the wall
    assert 36.0 - stop[0, 0] == 0.625  # the stop
    assert stop[1, 1] == -1.9375 and leg[1, 1] == 0.0  # the rabbet
    assert leg[0, 1] == -5.75 and stop[0, 1] - leg[0, 1] == pytest.approx(1.9375)  # and its other
