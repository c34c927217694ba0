"""Where a slab hangs: the pins that each side carries, their line, and the closed slab's place."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from swingcheck.assembly.axis import closed_place, pin_line
from swingcheck.assembly.leaves import jamb_pin, slab_pin
from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.parts import Axis
from swingcheck.geometry.solid import Floats
from swingcheck.model import PivotSet, Scene


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hang:
    """The pin line, and ``place`` (3, 4) from the slab frame to the opening frame, closed.

    ``jamb_pins`` and ``slab_pins`` (pins, 3) are the pins that each side
    carries, top first, both in the opening frame; those of pivots are told at
    the slab's top and bottom.
    """

    axis: Axis
    place: Floats
    jamb_pins: Floats
    slab_pins: Floats


def hang(scene: Scene) -> Hang:
    """Return where a scene's slab hangs, on its hinges or its pivots."""
    jamb, slab = jamb_pins(scene), slab_pins(scene)
    axis = replace(pin_line(jamb), rise=scene.hinge.rise_rate)
    place = closed_place(scene, axis, pin_line(slab))
    placed = slab @ place[:, :3].T + place[:, 3]
    if scene.pivot is not None:
        jamb = np.array([axis.at(float(z)) for z in placed[:, 2]])
    return Hang(axis=axis, place=place, jamb_pins=jamb, slab_pins=placed)


def jamb_pins(scene: Scene) -> Floats:
    """Return the pins (n, 3) that the jamb carries, or head and floor, opening frame."""
    if scene.pivot is not None:
        return _pivots_in_opening(scene, scene.pivot)
    return np.array([jamb_pin(scene, k) for k in range(scene.hinge.count)])


def slab_pins(scene: Scene) -> Floats:
    """Return the pins (n, 3) that the slab carries, slab frame."""
    if scene.pivot is not None:
        heights = (scene.slab.height[0], 0.0)
        ends = zip(scene.pivot.edge, scene.pivot.face, heights, strict=True)
        return np.array([(edge, -face, z) for edge, face, z in ends])
    return np.array([slab_pin(scene, k) for k in range(scene.hinge.count)])


def _pivots_in_opening(scene: Scene, pivot: PivotSet) -> Floats:
    """Return the pins at the head and at the floor, off the hinge leg as it stands there."""
    heights = (scene.opening.height[0], 0.0)
    legs = [hinge_leg_plan(scene.opening, z) for z in heights]
    ends = zip(legs, pivot.leg, pivot.out, heights, strict=True)
    return np.array([[*leg.at(-out, off), z] for leg, off, out, z in ends])
