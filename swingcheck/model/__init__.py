"""What was measured: the opening, the slab and their hinges, as plain values.

Lengths are inches and angles radians. A measurement that was taken at several
places is a tuple of *stations*: evenly spaced from top to bottom for anything
upright, from the hinge side to the strike side for anything level; a tuple of
one is the same everywhere. Nothing here knows files, meshes or hands: every
number is the same for hinges on either side, and pictures and meshes take the
opening's hand as they leave the library.
"""

from swingcheck.model.arch import Arc, arc_over, head_arc, hung_top, rise_of, slab_arc, top_drop
from swingcheck.model.hinge import NO_HINGES, HingeSet, LeafLayout, Offset, PivotKind, PivotSet
from swingcheck.model.opening import (
    Baseboard,
    Carpet,
    Casing,
    Floor,
    Leg,
    Obstacle,
    Opening,
    Rabbet,
    SteelFrame,
    Stop,
    Threshold,
    WallReturn,
)
from swingcheck.model.scene import (
    Access,
    Assumed,
    Closer,
    Finish,
    Neighbour,
    Scene,
    Season,
    Shop,
    Site,
    Source,
    Swing,
    Wanted,
    inactive_scene,
    lower_scene,
    with_source,
)
from swingcheck.model.second_slab import (
    Inactive,
    Lower,
    MeetingRebate,
    Relation,
    Shelf,
    seen_from_strike,
)
from swingcheck.model.slab import (
    Applied,
    Astragal,
    Bead,
    Deadbolt,
    Delivered,
    Edge,
    EdgeShape,
    Face,
    Glass,
    Grain,
    Handle,
    Lip,
    Lock,
    Share,
    Slab,
    Warp,
)
from swingcheck.model.stations import Stations, station_value
