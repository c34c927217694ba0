"""Hinge screws: which size, where they go, and the pilot holes.

Sources of the figures:

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

from swingcheck.assembly.leaves import SCREW_FROM_EDGE, SCREW_FROM_END
from swingcheck.model import HingeSet
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
        """Return the drill, in 64ths, that is nearest to the lead hole.

        Parameters
        ----------
        wood : {"softwood", "hardwood"}
            What is drilled.

        Examples
        --------
        >>> Screw(number=9, length=0.75).pilot("hardwood") * 64
        7.0
        """
        return rounded_nearest(self.diameter * ROOT_SHARE * LEAD_SHARE[wood], DRILL_STEP)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A screw hole's centre: ``down`` from the leaf's top, ``out`` from its buried edge."""

    down: float
    out: float


def screw_for(hinge: HingeSet) -> Screw:
    """Return the screw that is usual for a hinge."""
    is_light = hinge.leaf_thickness < LIGHT_LEAF_IN
    return next(
        Screw(number=number, length=length)
        for light, longest, number, length in _SIZES
        if light <= is_light and hinge.leaf_length <= longest
    )


def screw_holes(hinge: HingeSet) -> tuple[Hole, ...]:
    """Return where a leaf's screw holes usually are, top to bottom."""
    count = 3 if hinge.leaf_length <= 4.0 else 4 if hinge.leaf_length <= 5.0 else 5
    visible = hinge.reach - hinge.barrel / 2
    near = min(SCREW_FROM_EDGE, visible / 2)
    end = min(SCREW_FROM_END, hinge.leaf_length / 4)
    step = (hinge.leaf_length - 2 * end) / (count - 1)
    outs = [visible / 2 if min(k, count - 1 - k) % 2 else near for k in range(count)]
    return tuple(Hole(down=end + k * step, out=out) for k, out in enumerate(outs))
