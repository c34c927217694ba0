"""The hinges and where they are let in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafLayout:
    """Where one side's leaves are let in, one value a hinge, top hinge first.

    ``tops`` run from the head (jamb) or the slab's top (slab), at the hinge
    side, down to the top of each leaf; ``setbacks`` from the stop's face
    (jamb) or the stop-side face (slab) to the buried edge, along the surface
    the leaf is let into; ``depths`` square to that surface.
    """

    tops: tuple[float, ...]
    setbacks: tuple[float, ...]
    depths: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeSet:
    """The hinges, all alike, and how each is let in.

    ``open_width`` is across both leaves laid flat, ``closed_gap`` between the
    leaves closed and parallel, ``barrel`` the knuckles' diameter, and
    ``screw_proud`` how far screw heads stand above the leaves.
    """

    leaf_length: float
    open_width: float
    leaf_thickness: float
    closed_gap: float
    barrel: float
    corner_radius: float
    screw_proud: float
    jamb: LeafLayout
    slab: LeafLayout

    @property
    def count(self) -> int:
        """Number of hinges."""
        return len(self.jamb.tops)

    @property
    def reach(self) -> float:
        """Buried edge of a leaf to the pin's centre: half the open width."""
        return self.open_width / 2
