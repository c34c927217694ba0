"""How slabs are built, a row each: what they weigh, what a cut they bear, how much of them moves.

Sources: cores and hollow metal from memory; NFPA 80, read in commentary only,
allows job-site work of at most 3/4 in off the bottom of a rated wood or
composite slab, and nothing off its other edges without its listing. How much of
a slab is frame, panel or skin, and what the rest bears, is common practice, no
source.
"""

from __future__ import annotations

from dataclasses import dataclass

from swingcheck.bench.woods import PANEL_DENSITY, plain_name
from swingcheck.model import Slab

SKIN = 0.125
"""Thickness of each face skin of a flush slab, inches."""

SKINS_LB = 2 * SKIN / 12 * PANEL_DENSITY["MDF"]
"""What both skins of a square foot weigh."""

STILE, TOP_RAIL, LOCK_RAIL, BOTTOM_RAIL = 4.5, 4.5, 8.0, 9.5
"""The frame of a stile and rail slab, inches."""

RATED_BOTTOM = 3 / 4
"""The most off the bottom of a rated slab, inches: NFPA 80."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """How a slab is built.

    ``core`` is the density between its skins, lb/ft3, ``face`` what a square
    foot weighs however thick it is; with neither it is of one wood, its panels
    ``panel`` times as thick as it is.

    ``edge`` and ``end`` are what it bears off an edge and off the bottom,
    inches, ``None`` anything, and ``why``. ``to_core``: what counts is how deep
    the cut goes on either face, and a solid strip whose width was told is the
    limit itself.

    ``strip`` is how wide the wood across the grain along each vertical edge
    usually is, inches; ``None``: its whole width.
    """

    name: str
    core: float | None = None
    face: float | None = None
    panel: float = 1.0
    edge: float | None = None
    end: float | None = None
    why: str = ""
    to_core: bool = False
    strip: float | None = None

    @property
    def is_framed(self) -> bool:
        """Whether it is panels between stiles and rails."""
        return self.panel < 1.0


SOLID = Construction(name="solid")

CONSTRUCTIONS = {
    row.name: row
    for row in (
        SOLID,
        Construction(
            name="stile and rail",
            panel=0.5,
            edge=1 / 4,
            why="its stiles and joints bear no more",
            strip=STILE,
        ),
        Construction(
            name="hollow core",
            # Frame and fill of a 1 3/8 in slab: 1.5 lb/ft2 in all, less its skins.
            core=(1.5 - SKINS_LB) * 12 / (1.375 - 2 * SKIN),
            edge=1 / 4,
            end=1.0,
            why="behind its frame it is hollow",
            to_core=True,
            strip=1.5,
        ),
        Construction(
            name="particleboard core",
            core=30.0,  # low-density particleboard, 28-32
            edge=1 / 4,
            end=1.0,
            why="behind its solid edge is the core",
            to_core=True,
            strip=1.5,
        ),
        Construction(
            name="mineral core",
            core=32.0,
            edge=0.0,
            end=RATED_BOTTOM,
            why="it is cut as its listing says",
            strip=1.5,
        ),
        Construction(
            name="hollow metal",
            face=5.0,  # 18 gauge faces
            edge=0.0,
            end=0.0,
            why="hollow metal is not cut",
            strip=0.0,
        ),
    )
}

_ALSO = {"solid core": "particleboard core", "solid wood": "solid"}


def construction_of(slab: Slab) -> Construction | None:
    """Return how a slab is built, or ``None`` where that is not known.

    A solid slab of steel is a hollow metal one: nobody hangs steel plate on butts.
    """
    said = plain_name(slab.construction)
    said = _ALSO.get(said, said)
    if said == "solid" and plain_name(slab.material) in ("steel", "hollow metal"):
        said = "hollow metal"
    return CONSTRUCTIONS.get(said)
