"""The Building Trades Pocketbook (International Textbook Company, Scranton, 1899), on hanging.

Of butts that are not in one plumb line it says that with the pin of the lower butt slightly in
advance of the upper one the door rises at the toe as it is opened. The toe is the strike edge's
foot; "in advance" is toward the side that the slab opens to.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from swingcheck.assembly import Assembly, assemble
from swingcheck.assembly.slab import width_at
from swingcheck.model import LeafLayout
from tests.factory import plain_scene


def hung(advance: float) -> Assembly:
    """Return the closet with its lower pins so much in advance of the upper, in both layouts."""
    scene = plain_scene()

    def advanced(layout: LeafLayout) -> LeafLayout:
        tops = np.array(layout.tops)
        shares = (tops - tops[0]) / (tops[-1] - tops[0])
        setbacks = tuple(float(s) for s in np.array(layout.setbacks) + advance * shares)
        return replace(layout, setbacks=setbacks)

    hinge = scene.hinge
    return assemble(
        replace(scene, hinge=replace(hinge, jamb=advanced(hinge.jamb), slab=advanced(hinge.slab)))
    )


def toe(assembly: Assembly, degrees: float) -> float:
    """Return the height of the strike edge's foot on the wide face at a swing angle."""
    foot = assembly.place[:, :3] @ [width_at(assembly.scene.slab, 0.0), 0.0, 0.0]
    return float(assembly.axis.turned_points(foot + assembly.place[:, 3], np.radians(degrees))[2])


@pytest.mark.parametrize("advance", [1 / 16, 1 / 8, 1 / 4])
def test_a_lower_butt_in_advance_lifts_the_toe_and_one_behind_lets_it_down(advance: float) -> None:
    assembly = hung(advance)
    heights = [toe(assembly, angle) for angle in (0, 15, 30, 60, 90)]
    assert all(low < high for low, high in pairwise(heights))
    assembly = hung(-advance)
    assert toe(assembly, 90) < toe(assembly, 0)


def test_butts_in_line_keep_the_toe_level() -> None:
    assembly = hung(0.0)
    assert toe(assembly, 90) == pytest.approx(toe(assembly, 0), abs=1e-12)


def test_by_how_much() -> None:
    """At 90 degrees the toe has come ``L`` out, over a line that leans ``advance / between`` back.

    The turn is square to the line, so for a lean ``s`` the toe, ``L`` across from the pin, is
    ``L s`` higher there, to first order.
    """
    advance = 1 / 8
    assembly = hung(advance)
    jamb = assembly.scene.hinge.jamb
    lean = advance / (jamb.tops[-1] - jamb.tops[0])
    across = 29.875 - 1 / 32
    rise = toe(assembly, 90) - toe(assembly, 0)
    assert rise == pytest.approx(across * lean, rel=0.05)
