"""Clear width at 90 degrees, by three definitions.

Sources: 2010 ADA Standards, 404.2.3: "Clear openings of doorways with swinging
doors shall be measured between the face of the door and the stop, with the
door open 90 degrees" (read in quotation). The closed form is derived here:
with the legs plumb, the pin stands half the hinge margin from the leg and the
slab's stop-side face one thickness and the pin's stand-out beyond it.

Approved Document M (England), as an encyclopaedia of construction quotes it: from the stop to any
obstruction on the hinge side, a handle, a weatherboard or the door. OIB guideline 4, 2.5.1
(Austria), its institute's questions and answers (read): of the frame alone, neither leaf nor handle
counts, and the leaf opens 90 degrees at least.
"""

from __future__ import annotations

from math import pi

import pytest

from swingcheck.model import Access, Face, Handle, Obstacle, Site
from swingcheck.swing.check import check
from tests.factory import LOCK, SQUARE, changed, plain_scene


@pytest.mark.parametrize("width", [28.0, 32.0, 36.0])
@pytest.mark.parametrize("thickness", [1.375, 1.75])
@pytest.mark.parametrize("projection", [0.375, 0.5])
def test_clear_width_is_face_of_stop_to_face_of_slab(
    width: float, thickness: float, projection: float
) -> None:
    margin = 1 / 16
    scene = plain_scene(
        opening__width=(width + 3 / 16,),
        slab__width=(width,),
        slab__thickness=thickness,
        slab__hinge_edge=SQUARE,
        opening__rabbet__hinge=(thickness + 1 / 16,),
        opening__rabbet__strike=(thickness + 1 / 16,),
        stop__projection=projection,
    )
    proud = scene.hinge.reach + scene.hinge.slab.setbacks[0] - thickness
    expected = width + 3 / 16 - (margin / 2 + proud + thickness) - projection
    assert check(scene).clear_width == pytest.approx(expected, abs=1e-9)
    handle = Handle(face=Face.BOTH, projection=2.25, diameter=2.0, length=0.0, rose=2.5)
    lock = changed(LOCK, handle=handle)
    told = {Access.US: expected, Access.UK: expected - 2.25}
    told[Access.AUSTRIA] = width + 3 / 16 - 2 * projection
    for access, clear in told.items():
        found = check(changed(scene, lock=lock, site=Site(access=access))).clear_width
        assert found == pytest.approx(clear, abs=1e-9)


def test_a_slab_that_stops_short_of_90_has_no_clear_width_at_90() -> None:
    wall = Obstacle(name="cupboard", corner=(-1.0, 20.0, 0.0), size=(4.0, 10.0, 60.0))
    scene = plain_scene(obstacles=(wall,))
    result = check(scene, start=pi / 4)
    assert result.opening is not None
    assert result.opening.angle < pi / 2
    assert result.clear_width is None
    austria = check(changed(scene, site=Site(access=Access.AUSTRIA)), start=pi / 4)
    assert austria.clear_width is None and austria.opened == result.opened
