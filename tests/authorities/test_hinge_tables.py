"""Number, size and grade of hinges against the published rules.

Sources, and how each was reached:

- NFPA 80, number: two up to 60 in, one more for "each additional 30 inches of
  height or fraction thereof". Read in a quotation of its 1968 wording.
- Radford's Cyclopedia of Construction, vol. 12 (1909, public domain): three
  hinges over 7 ft high or 4 ft wide. Read.
- Leaf length by thickness and width, hardware trade's recommendation: read in
  secondary text; two of them differ on whether 1 3/8 in doors end at 36 or 37.
- The Building Trades Pocketbook (International Textbook Co., c. 1899, public
  domain), "Doors": open width = twice the thickness, less 1/2 in (each leaf
  1/4 in back from the face), plus the greatest projection of the trim; worked
  for a 2 in door with 1 7/8 in of trim: 5 3/8, "use 5 1/2". Read.
- EN 1935 door mass grades: read in three secondary texts that agree; one that
  does not (60 kg at grade 5) was left out. What a wide slab adds: read in three
  suppliers' tables that agree and name its annex; a closer's 20 and 75 %: same pages.
- Margin made by the hinge, ``2 t + q - dj - ds``: derived.
"""

from __future__ import annotations

from math import pi

import pytest

from swingcheck.assembly import assemble
from swingcheck.bench.hinges import GRADES, adjusted_mass, hanging, hinge_grade
from swingcheck.bench.ripping import ripping
from swingcheck.model import Casing, Closer
from swingcheck.model.hinge import hinge_count, usual_gauge, usual_leaf_length, usual_setbacks
from swingcheck.swing.swung import swung
from tests.factory import SQUARE, plain_scene

COUNTS = {48: 2, 60: 2, 60.25: 3, 80: 3, 84: 3, 90: 3, 90.5: 4, 96: 4, 120: 4, 121: 5}


@pytest.mark.parametrize(("height", "count"), COUNTS.items())
def test_number_by_nfpa_80(height: float, count: int) -> None:
    assert hinge_count(height) == count


@pytest.mark.parametrize(
    ("height", "width", "count"), [(84, 48, 2), (84.5, 36, 3), (80, 48.5, 3), (80, 30, 2)]
)
def test_number_by_radford(height: float, width: float, count: int) -> None:
    scene = plain_scene(slab__height=(height, height), slab__width=(width,))
    assert hanging(scene).rules.older_count == count


@pytest.mark.parametrize(
    ("thickness", "width", "length"),
    [
        (1.375, 32, 3.5),
        (1.375, 32.5, 4.0),
        (1.375, 36, 4.0),
        (1.75, 36, 4.5),
        (1.75, 36.5, 5.0),
        (1.75, 48, 5.0),
        (1.75, 48.5, 6.0),
        (2.0, 42, 5.0),
        (2.25, 42.5, 6.0),
        (2.5, 48, 6.0),
    ],
)
def test_leaf_length_by_the_trades_table(thickness: float, width: float, length: float) -> None:
    assert usual_leaf_length(thickness, width) == (length, True)


# Thickness, what the trim stands out, and the open width by the Pocketbook's rule. The last is its
# worked example, whose 5 1/2 in is no longer sold.
OPEN_WIDTHS = [
    *((1.375, 1.25, 3.5), (1.375, 1.75, 4.0), (1.75, 1.0, 4.0), (1.75, 1.5, 4.5)),
    *((1.75, 2.0, 5.0), (1.75, 3.0, 6.0), (2.0, 1.0, 4.5), (2.0, 2.5, 6.0), (2.25, 2.0, 6.0)),
    *((2.5, 0.75, 5.0), (2.5, 1.75, 6.0), (3.0, 0.75, 6.0), (3.0, 2.75, 8.0), (3.0, 4.75, 10.0)),
    (2.0, 1.875, 6.0),
]


@pytest.mark.parametrize(("thickness", "trim", "stock"), OPEN_WIDTHS)
def test_open_width_by_the_pocketbook(thickness: float, trim: float, stock: float) -> None:
    """By the rule, and through the whole simulation: with less, the slab does not lie back."""
    back = 3 / 8 if thickness >= 2.5 else 1 / 4
    assert usual_setbacks(thickness) == (back + 1 / 16, back)
    least, gap = 2 * (thickness - back) + trim, 1 / 16
    base = {
        "slab__thickness": thickness,
        "slab__hinge_edge": SQUARE,
        "slab__strike_edge": SQUARE,
        "opening__rabbet__hinge": (thickness + gap,),
        "opening__rabbet__strike": (thickness + gap,),
        "opening__rabbet__head": (thickness + gap,) * 2,
        "opening__depth": thickness + 3.5,
        "hinge__slab__setbacks": (back,) * 3,
        "hinge__jamb__setbacks": (back + gap,) * 3,
        "casing": Casing(thickness=trim, width=3.0, reveal=0.75),
    }
    rules = hanging(plain_scene(**base)).rules
    assert rules.trim == pytest.approx(trim)
    assert (rules.open_width, rules.stock_width) == (pytest.approx(least), stock)
    for width, lies_back in ((least + 1e-4, True), (least - 1e-4, False)):
        turned = swung(assemble(plain_scene(**base, hinge__open_width=width)))
        assert (turned.contact(pi / 2, pi) is None) is lies_back


def test_grades_by_mass() -> None:
    assert [mass for _, mass in GRADES] == [10, 20, 40, 60, 80, 100, 120, 160]
    assert [hinge_grade(mass) for mass in (10, 10.5, 20, 60, 61, 160)] == [0, 1, 1, 3, 4, 7]
    assert hinge_grade(161) is None


# A prefinished frame's recesses for leaves, standard and heavy, within 0.005 in: read in quotation.
RECESSES = {4.5: (0.135, 0.180), 5.0: (0.140, 0.190)}


@pytest.mark.parametrize(("length", "recesses"), RECESSES.items())
def test_gauge_by_a_frame_makers_recesses(length: float, recesses: tuple[float, float]) -> None:
    found = (usual_gauge(1.75, length)[0], usual_gauge(2.0, length)[0])
    assert found == pytest.approx(recesses, abs=0.006)


# Slab 2000 mm high: width, and the percent that the suppliers' tables add to its mass.
WIDE = {900: 0, 1000: 0, 1050: 10, 1100: 18, 1150: 26, 1200: 33, 1250: 40, 1300: 46}


@pytest.mark.parametrize(("width", "percent"), WIDE.items())
def test_mass_that_a_wide_slab_and_a_closer_add(width: float, percent: int) -> None:
    for closer, added in ((Closer.NONE, 0), (Closer.PLAIN, 20), (Closer.BACK_CHECK, 75)):
        found = adjusted_mass(100.0, width, 2000.0, closer)
        assert found == pytest.approx(100 + percent + added, abs=0.5)


@pytest.mark.parametrize("thickness", [0.097, 0.130])
@pytest.mark.parametrize("gap", [0.0625, 5 / 32])
@pytest.mark.parametrize(("jamb", "slab"), [(1.0, 1.0), (0.5, 1.0), (0.0, 1.0)])
def test_margin_is_made_by_the_hinge(
    thickness: float, gap: float, jamb: float, slab: float
) -> None:
    """Flush mortises leave the closed gap; a leaf left proud adds what it is proud."""
    scene = plain_scene(
        slab__hinge_edge=SQUARE,
        hinge__leaf_thickness=thickness,
        hinge__closed_gap=gap,
        hinge__jamb__depths=(thickness * jamb,) * 3,
        hinge__slab__depths=(thickness * slab,) * 3,
    )
    expected = 2 * thickness + gap - thickness * jamb - thickness * slab
    assert ripping(scene).margins.hinge == pytest.approx((expected,) * 3)
