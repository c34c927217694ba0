"""What the trade calls usual: the values taken for what a scene leaves out.

Where no source is named, a value is common practice without one. Lengths are
inches.
"""

from __future__ import annotations

from math import atan

THICKNESS = 1.375  # interior slab; US Navy NAVEDTRA 14069, p. 6-41
HINGE_MARGIN = 1 / 16
STRIKE_MARGIN = 1 / 8  # with the hinge margin the 3/16 in of The Building Trades Pocketbook, 1899
HEAD_MARGIN = 1 / 8
BOTTOM_MARGIN = 1 / 2

STOP_CLEARANCE = 1 / 16  # slab face to stop; what 5/16 in less 1/4 in of setback leaves
JAMB_DEPTH = 4.5625
JAMB_THICKNESS = 0.75
STOP_PROJECTION = 7 / 16
STOP_WIDTH = 1.25

CLOSED_GAP = 1 / 16  # swaged leaves, closed and parallel
BARREL = 0.44
PIN = 0.25
SLAB_SETBACK = 1 / 4  # "kept 1/4 in. back from the face": The Building Trades Pocketbook, 1899
JAMB_SETBACK = 5 / 16

# A pivot: common practice, no source. Centre: the pin 2 3/4 in from the hinge edge, as a
# floor spring sets it; offset: 3/4 in from the edge and 3/4 in proud of the wide face.
PIVOT_EDGE, PIVOT_OFFSET, PIVOT_MARGIN, PIVOT_PIN = 2.75, 0.75, 1 / 8, 1 / 2

MEETING_GAP = 1 / 8  # between a pair's meeting edges; common practice, no source
SHELF = {"thickness": 3 / 4, "pull": 1.0, "push": 1.0}  # of a Dutch door: no source
SHELF_SHORT = 1 / 4  # of the stops, at both ends

TOP_OF_FIRST_LEAF = 7.0
BOTTOM_OF_LAST_LEAF = 11.0
_TALL_ENOUGH = 48.0  # inches of slab, under which the 7 and the 11 shrink with it

# The bored lock's usual preparation: 2-1/8 in bore, 2-3/8 in backset, 1 in edge
# bore, face 1 x 2-1/4 in (ALOA dictionary, "160 prep").
LOCK = {
    "backset": 2.375,
    "bore": 2.125,
    "edge_bore": 1.0,
    "height": 36.0,
    "face_length": 2.25,
    "face_width": 1.0,
    "face_depth": 1 / 8,
    "throw": 1 / 2,
}
DEADBOLT_ABOVE = 5.5  # centre to centre
DEADBOLT_THROW = 1.0
CASING = {"thickness": 11 / 16, "width": 2.25, "reveal": 1 / 4}  # US Navy, Builder: 2-1/4 x 11/16

GLASS_THICKNESS = 1 / 4
BEAD = {"width": 1 / 2, "proud": 1 / 4}

# A lipped leaf's rebate, 13 x 25.5 mm: DIN 18101, where a leaf 860 mm wide goes
# into the frame with 834 mm (an encyclopaedia's table); the 25.5 mm from memory.
LIP = {"width": 13 / 25.4, "depth": 25.5 / 25.4}
LIP_TO_CASING = 1 / 8

ASTRAGAL = {"width": 1.75, "thickness": 1 / 2, "overlap": 7 / 8}
KNOB = {"projection": 2.5, "diameter": 2.125, "rose": 2.5}
LEVER = {"projection": 2.5, "diameter": 3 / 4, "rose": 2.5, "length": 4.5}

# A pressed steel frame's profile, from memory of the Steel Door Institute's details: 2 in
# faces, 5/8 in stop, a rabbet 3/16 in over the slab (1 15/16 in for 1 3/4 in).
STEEL = {"face": 2.0, "backbend": 1 / 2}
STEEL_DEPTH, STEEL_THICKNESS = 5.75, 1 / 4
STEEL_STOP, STEEL_OVER_SLAB = 5 / 8, 3 / 16

THRESHOLD_HEIGHT = 1 / 2  # the most that 2010 ADA Standards 404.2.5 allow
THRESHOLD_SLOPE = atan(1 / 2)  # the steepest of the same
THRESHOLD_MARGIN = 3 / 32  # over a saddle: The Building Trades Pocketbook, 1899
CARPET = 1 / 2
BASEBOARD = {"thickness": 9 / 16, "height": 3.5}
COATS = 2
FILM = 0.0015  # dry, a coat of waterborne paint: MIL-HDBK-1110, 4.4.1.2

MATERIAL = "ponderosa pine"
CONSTRUCTION = "solid"


def leaf_thickness(length: float) -> float:
    """Return a leaf's thickness by its length: standard gauge, residential up to 3 1/2 in.

    From memory: ANSI/BHMA A156.7 for 4 in and above.

    Examples
    --------
    >>> leaf_thickness(3.5), leaf_thickness(4.5)
    (0.097, 0.134)
    """
    for longest, thickness in ((3.5, 0.097), (4.0, 0.130), (4.5, 0.134), (5.0, 0.146)):
        if length <= longest:
            return thickness
    return 0.160


def barrel(thickness: float) -> float:
    """Return the barrel's diameter: two leaves wrapped round a pin of about 1/4 in."""
    return BARREL if thickness <= 0.1 else PIN + 2 * thickness


def corner_radius(length: float, reach: float) -> float:
    """Return the leaf's corner radius: 5/8 in on residential sizes, 1/4 in above 4 in.

    A leaf too short or too narrow for that is as round as it can be.
    """
    return min(5 / 8 if length <= 4 else 1 / 4, length / 2, reach)


def hinge_tops(height: float, length: float, count: int) -> tuple[float, ...]:
    """Return the tops of the leaves, from the slab's top down.

    7 in down to the top of the first, 11 in up to the bottom of the last, the
    rest evenly between; on a slab under 48 in both shrink with its height.

    Examples
    --------
    >>> hinge_tops(79.75, 3.5, 3)
    (7.0, 36.125, 65.25)
    """
    scale = min(1.0, height / _TALL_ENOUGH)
    first = TOP_OF_FIRST_LEAF * scale
    last = height - BOTTOM_OF_LAST_LEAF * scale - length
    return tuple(first + (last - first) * k / (count - 1) for k in range(count))
