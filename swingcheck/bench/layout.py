"""Marks for the leaves on the slab, transferred from the jamb, and on the jamb; and their screws.

The slab's marks are where its leaves meet the jamb's with the slab hung at its
head margin: with everything plumb that is the jamb's mark less the head
margin. Marks run from one end, the slab's top at the hinge edge and the head
at the hinge leg, so that no error is carried from one hinge to the next.

Sources of the screws' figures:

- Where a leaf's holes are: common practice, no source; a leaf in the hand
  stands over it. Three holes up to 4 in of leaf, four up to 5 in, five beyond:
  the end ones near the buried edge, and every other one nearer the barrel.
- Diameter over the thread, ``0.060 + 0.013 N`` for screw number ``N``: ANSI
  B18.6.1, from memory.
- Root about two thirds of that, and lead holes of 70 % of the root in softwood
  and 90 % in hardwood: USDA Forest Products Laboratory, Wood Handbook, chapter
  on fastenings, from memory.
- Pilot holes a little toward the back of the hole, so that the screw draws the
  leaf tight to its shoulder: Ira S. Griffith, Carpentry (1916), section 69 (read).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np

from swingcheck.assembly import bare_assembly, hinge_name
from swingcheck.assembly.leaves import SCREW_FROM_EDGE, SCREW_FROM_END
from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.pins import jamb_leaf_plan, slab_leaf_plan
from swingcheck.bench.materials import material
from swingcheck.geometry.solid import Floats
from swingcheck.model import HingeSet, LeafLayout, Scene
from swingcheck.swing.found import AxisFound
from swingcheck.swing.margins import pins_found
from swingcheck.units import rounded_nearest

ROOT_SHARE = 2 / 3
LEAD_SHARE = {"softwood": 0.70, "hardwood": 0.90}
DRILL_STEP = 1 / 64

LIGHT_LEAF_IN = 0.11
"""Leaves thinner than this are light ones. Common practice, no source."""

_SIZES = (
    # light leaves alone, longest leaf, number, length
    (True, 3.75, 9, 0.75),
    (True, 4.25, 12, 1.25),
    (False, 3.25, 9, 0.75),
    (False, 3.75, 10, 1.0),
    (False, 5.25, 12, 1.25),
    (False, inf, 14, 1.5),
)
"""Common practice for wood frames, from memory; the first row that a hinge is within."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """A wood screw by its number, ``length`` in inches."""

    number: int
    length: float

    @property
    def diameter(self) -> float:
        """Diameter over the thread, inches."""
        return 0.060 + 0.013 * self.number

    def pilot(self, wood: str) -> float:
        """Return the drill, in 64ths, nearest to the lead hole in ``softwood`` or ``hardwood``.

        Examples
        --------
        >>> Screw(number=9, length=0.75).pilot("hardwood") * 64
        7.0
        """
        return rounded_nearest(self.diameter * ROOT_SHARE * LEAD_SHARE[wood], DRILL_STEP)


def screw_for(hinge: HingeSet) -> Screw:
    """Return the screw that is usual for a hinge."""
    is_light = hinge.leaf_thickness < LIGHT_LEAF_IN
    return next(
        Screw(number=number, length=length)
        for light, longest, number, length in _SIZES
        if light <= is_light and hinge.leaf_length <= longest
    )


def screw_holes(hinge: HingeSet) -> tuple[tuple[float, float], ...]:
    """Return a leaf's usual screw holes: down from its top, and out from its buried edge."""
    count = 3 if hinge.leaf_length <= 4.0 else 4 if hinge.leaf_length <= 5.0 else 5
    visible = hinge.reach - hinge.barrel / 2
    near = min(SCREW_FROM_EDGE, visible / 2)
    end = min(SCREW_FROM_END, hinge.leaf_length / 4)
    step = (hinge.leaf_length - 2 * end) / (count - 1)
    outs = [visible / 2 if min(k, count - 1 - k) % 2 else near for k in range(count)]
    return tuple((end + k * step, out) for k, out in enumerate(outs))


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleMark:
    """A pilot hole's centre: ``down`` as its leaf is marked, and from the arris."""

    down: float
    from_arris: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafMark:
    """One leaf on one side.

    ``top`` and ``bottom`` run down from the slab's top or the head;
    ``setback`` is from the stop side to the buried edge, and ``run`` from the
    wide-face arris (the jamb's pull-side edge) to it, both along the surface;
    ``depth`` is square to that.
    """

    top: float
    bottom: float
    setback: float
    run: float
    depth: float
    holes: tuple[HoleMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeMarks:
    """One hinge: its leaf on the jamb, its leaf on the slab, and how true its pin is.

    ``told`` is the slab's mark in the scene and ``too_low`` how far that
    stands below the transferred one; ``apart`` how far the pins of the two
    leaves are from each other across the pin line, and ``off_line`` the
    farther of them from it. ``lines_up``: all three are within the tolerance.
    """

    name: str
    jamb: LeafMark
    slab: LeafMark
    told: float
    too_low: float
    apart: float
    off_line: float
    lines_up: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Every hinge from the top, the screw for its holes, and the drill.

    ``wood`` says for which the ``pilot`` is.
    """

    hinges: tuple[HingeMarks, ...]
    screw: Screw
    wood: str
    pilot: float

    @property
    def lines_up(self) -> bool:
        """Whether every hinge does."""
        return all(hinge.lines_up for hinge in self.hinges)


def layout(scene: Scene) -> Layout:
    """Return the marks for every leaf of a scene."""
    hung = bare_assembly(scene)
    pins = pins_found(hung)
    # A mark farther down the slab lowers its pin by the cosine between slab and pin line.
    cosine = float(hung.place[:, 2] @ hung.axis.direction)
    screw, own = screw_for(scene.hinge), material(scene.slab.material)
    # What is not known counts as hardwood: its wider pilot hole splits nothing.
    wood = "softwood" if own is not None and own.kind == "softwood" else "hardwood"
    return Layout(
        hinges=tuple(
            _hinge_marks(scene, pins, k, scene.hinge.slab.tops[k] + pins.up_down[k] / cosine)
            for k in range(scene.hinge.count)
        ),
        screw=screw,
        wood=wood,
        pilot=screw.pilot(wood),
    )


def _hinge_marks(scene: Scene, pins: AxisFound, k: int, top: float) -> HingeMarks:
    """Return a hinge's marks; ``top`` is where its leaf on the slab meets the jamb's."""
    slab, hinge = scene.slab, scene.hinge
    middle = scene.opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
    leg = hinge_leg_plan(scene.opening, middle)
    on_jamb = jamb_leaf_plan(leg, hinge.jamb.setbacks[k], hinge.jamb.depths[k]).surface
    lean, laid = slab.hinge_edge.lean, hinge.slab
    on_slab = slab_leaf_plan(slab.thickness, lean, laid.setbacks[k], laid.depths[k]).surface
    too_low, apart, off = laid.tops[k] - top, pins.apart[k], pins.off_line[k]
    return HingeMarks(
        name=hinge_name(scene, k),
        jamb=_leaf_mark(hinge, hinge.jamb, k, hinge.jamb.tops[k], on_jamb - leg.edge),
        slab=_leaf_mark(hinge, laid, k, top, on_slab),
        told=laid.tops[k],
        too_low=too_low,
        apart=apart,
        off_line=off,
        lines_up=max(abs(too_low), apart, off) <= scene.shop.pin_tolerance,
    )


def _leaf_mark(hinge: HingeSet, laid: LeafLayout, k: int, top: float, away: Floats) -> LeafMark:
    """Return a leaf's marks; ``away`` (2,) is from the arris to its buried edge, in plan."""
    run = float(np.hypot(*away))
    return LeafMark(
        top=top,
        bottom=top + hinge.leaf_length,
        setback=laid.setbacks[k],
        run=run,
        depth=laid.depths[k],
        holes=tuple(
            HoleMark(down=top + down, from_arris=run - out) for down, out in screw_holes(hinge)
        ),
    )
