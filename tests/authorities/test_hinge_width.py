"""Hinge open width against slab thickness and trim, through the whole simulation.

Source of the rule: The Building Trades Pocketbook (International Textbook
Co., c. 1899, public domain), "Doors": open width = twice the thickness, less
1/2 in (each leaf 1/4 in back from the face), plus the greatest projection of
the trim; worked there for a 2 in door with 1 7/8 in of trim: 5 3/8, use 5 1/2.
Source of the rows: the trade's published table of hinge widths, from memory;
its last five rows set the leaf 3/8 in back.
"""

from __future__ import annotations

from math import pi

import pytest

from swingcheck.assembly import assemble
from swingcheck.model import Casing
from swingcheck.swing.swung import swung
from tests.factory import SQUARE, plain_scene

# slab thickness, leaf setback, largest trim, hinge open width: inches, from memory
TABLE = [
    (1.375, 0.25, 1.25, 3.5),
    (1.375, 0.25, 1.75, 4.0),
    (1.75, 0.25, 1.0, 4.0),
    (1.75, 0.25, 1.5, 4.5),
    (1.75, 0.25, 2.0, 5.0),
    (1.75, 0.25, 3.0, 6.0),
    (2.0, 0.25, 1.0, 4.5),
    (2.0, 0.25, 1.5, 5.0),
    (2.0, 0.25, 2.5, 6.0),
    (2.25, 0.25, 1.0, 5.0),
    (2.25, 0.25, 2.0, 6.0),
    (2.5, 0.375, 0.75, 5.0),
    (2.5, 0.375, 1.75, 6.0),
    (3.0, 0.375, 0.75, 6.0),
    (3.0, 0.375, 2.75, 8.0),
    (3.0, 0.375, 4.75, 10.0),
]


def lies_back(thickness: float, setback: float, trim: float, open_width: float) -> bool:
    """Tell whether a slab with this trim on the hinge side turns all the way to 180 degrees."""
    gap = 1 / 16
    scene = plain_scene(
        slab__thickness=thickness,
        slab__hinge_edge=SQUARE,
        slab__strike_edge=SQUARE,
        opening__rabbet__hinge=(thickness + gap,),
        opening__rabbet__strike=(thickness + gap,),
        opening__rabbet__head=(thickness + gap,) * 2,
        opening__depth=thickness + 3.5,
        hinge__open_width=open_width,
        hinge__slab__setbacks=(setback,) * 3,
        hinge__jamb__setbacks=(setback + gap,) * 3,
        casing=Casing(thickness=trim, width=3.0, reveal=0.75),
    )
    return swung(assemble(scene)).contact(pi / 2, pi) is None


@pytest.mark.parametrize(("thickness", "setback", "trim", "open_width"), TABLE)
def test_largest_trim_of_the_table_just_lets_the_slab_lie_back(
    thickness: float, setback: float, trim: float, open_width: float
) -> None:
    assert lies_back(thickness, setback, trim - 1e-4, open_width)
    assert not lies_back(thickness, setback, trim + 1e-4, open_width)


def test_worked_example_of_the_pocketbook() -> None:
    """2 in door, trim projecting 1 7/8 in: 5 3/8 is the least, 5 1/2 is used."""
    assert lies_back(2.0, 0.25, 1.875, 5.5)
    assert lies_back(2.0, 0.25, 1.875, 5.375 + 1e-4)
    assert not lies_back(2.0, 0.25, 1.875, 5.375 - 1e-4)
