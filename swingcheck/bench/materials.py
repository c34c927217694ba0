"""What slabs are made of: woods and panels, and constructions, a row each.

A construction is a row of ``assets/constructions.csv``, "taken" telling where
its core's density comes from; a wood or a panel one of ``assets/woods.csv``: "read" where its
coefficients are not from memory, "green" where its specific gravity is, and under "also" the
other names that the trade uses.

Sources: USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010).

- Specific gravity ``G12`` (ovendry mass over volume at 12 % moisture content),
  chapter 5: the western softwoods were read in Oregon State University's table
  of physical properties, which cites the handbook; every other one is from
  memory. Density at 12 % is ``62.4 * G12 * 1.12`` lb/ft3, the handbook's own
  definition (ovendry mass, plus 12 % of it in water, over the volume at 12 %).
  Imported woods are listed over the green volume, ``Gb``: ``G12 = Gb / (1 -
  0.159 Gb)``, chapter 4, from memory.
- Coefficients for dimensional change, table 13-5: the fraction of its size that
  a piece swells for each percent of moisture content, radially (quarter-sawn,
  across the rings) and tangentially (flat-sawn, along them), for 6 to 14 %. The
  hardwoods of North America were read; every other row is from memory. A
  flooring list that gives red oak the white oak's 0.00365 was found and is wrong.
  "Hickory" is the true one, not pecan: its tangential figure was read in two
  flooring lists, and table 4-3's shrinkage of three of its species agrees.
- Board (particleboard, MDF): 1 mm a metre from 9 to 12 % of moisture content and
  as much again from 12 to 16 %, and what it comes to by humidity, as an industry
  association's booklet has them (read).
- MDF and particleboard: chapter 11 and ANSI A208.1, from memory, as ranges; the
  middle of each range is taken.
- Cores and hollow metal from memory; NFPA 80, read in commentary only, allows
  job-site work of at most 3/4 in off the bottom of a rated wood or composite
  slab, and nothing off its other edges without its listing. How much of a slab
  is frame, panel or skin, and what the rest bears, is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.files import table_rows
from swingcheck.model import Grain, Slab

VALID_PERCENT = (6.0, 14.0)
"""Moisture contents between which the coefficients hold."""

BOARD_MOISTURE = ((30.0, 45.0, 65.0, 75.0, 90.0), (7.0, 8.0, 10.0, 11.0, 15.5))
"""Percent of humidity, and what board comes to in it: the middles of the booklet's ranges."""

BOARD_LENGTH = ((6.0, 9.0, 12.0, 16.0), (-0.001, 0.0, 0.001, 0.002))
"""A board's moisture content, percent, and what it is longer than at 9 % by its own length."""


def board_moisture(humidity: float) -> float:
    """Return what board comes to in air, percent, from percent of humidity."""
    return float(np.interp(humidity, *BOARD_MOISTURE))


def board_growth(before: float, after: float) -> float:
    """Return by what share of itself board is longer after than before, of its moisture contents.

    Examples
    --------
    >>> board_growth(9.0, 12.0)
    0.001
    """
    return float(np.subtract(*np.interp((after, before), *BOARD_LENGTH)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A wood or a panel: hardwood, softwood or panel is its ``kind``.

    Its density, lb/ft3, and its movement for each percent of moisture content,
    ``None`` where it is not in that table. ``was_read``: not from memory.
    """

    name: str
    kind: str
    was_read: bool
    density: float | None
    radial: float | None
    tangential: float | None

    def moves(self, grain: Grain) -> tuple[float, float]:
        """Return the coefficients across the face of a board sawn like this and through it."""
        found = (self.tangential or 0.0, self.radial or 0.0)
        return found[::-1] if grain is Grain.QUARTER else found


def plain_name(name: str) -> str:
    """Return a name in lower case, one space between words, ``oak, red`` as ``red oak``."""
    first, _, rest = name.partition(",")
    words = f"{rest} {first}".replace("-", " ").replace("_", " ").split()
    return " ".join(words).casefold()


def material(written: str) -> Material | None:
    """Return the wood or the panel that somebody wrote, or ``None`` where it is not in the tables.

    Examples
    --------
    >>> material("Oak, red").tangential, material("cherry").name, material("steel")
    (0.00369, 'black cherry', None)
    """
    return MATERIALS.get(_NAMES.get(plain_name(written), ""))


def wood_density(gravity: float) -> float:
    """Return the density at 12 % moisture content, lb/ft3, ``62.4 * G12 * 1.12``.

    Examples
    --------
    >>> round(wood_density(0.48), 1)
    33.5
    """
    return 62.4 * gravity * 1.12


def nearest_materials(written: str) -> tuple[str, ...]:
    """Return the materials of known density that have such a word, or three that are spelled alike.

    Examples
    --------
    >>> nearest_materials("cherri"), nearest_materials("maple")[:2]
    (('black cherry',), ('bigleaf maple', 'black maple'))
    """
    plain = plain_name(written)
    named = {name: own for name, own in _NAMES.items() if MATERIALS[own].density is not None}
    if words := {own for name, own in named.items() if plain and plain in name.split()}:
        return tuple(sorted(words))
    from difflib import get_close_matches

    close = get_close_matches(plain, named, n=3, cutoff=0.6)
    return tuple(dict.fromkeys(named[name] for name in close))


def _number(text: str) -> float | None:
    return float(text) if text else None


def _density(row: dict[str, str]) -> float | None:
    gravity = _number(row["gravity"])
    if gravity is None:
        return _number(row["density"])
    return wood_density(gravity / (1 - 0.159 * gravity) if row["basis"] == "green" else gravity)


_ROWS = table_rows(__package__, "woods")

MATERIALS = {
    row["name"]: Material(
        name=row["name"],
        kind=row["kind"],
        was_read=row["read"] == "read",
        density=_density(row),
        radial=_number(row["radial"]),
        tangential=_number(row["tangential"]),
    )
    for row in _ROWS
}

_NAMES = {plain_name(row["name"]): row["name"] for row in _ROWS} | {
    other: row["name"] for row in _ROWS for other in row["also"].split("; ") if other
}


def panel_density(name: str) -> float:
    """Return a panel's density, lb/ft3: MDF 44-48, particleboard 40-50, glass 2.5 kg/m2 a mm."""
    return MATERIALS[name].density or 0.0


SKIN = 0.125
"""Thickness of each face skin of a flush slab, inches."""

SKINS_LB = 2 * SKIN / 12 * panel_density("MDF")
"""What both skins of a square foot weigh."""

TOP_RAIL, LOCK_RAIL, BOTTOM_RAIL = 4.5, 8.0, 9.5
"""The rails of a stile and rail slab, inches."""

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
    usually is, inches; ``None``: its whole width. ``board``: between them its
    width is board.
    """

    name: str
    core: float | None
    face: float | None
    panel: float
    edge: float | None
    end: float | None
    why: str
    to_core: bool
    strip: float | None
    board: bool

    @property
    def is_framed(self) -> bool:
        """Whether it is panels between stiles and rails."""
        return self.panel < 1.0


CONSTRUCTIONS = {
    row["name"]: Construction(
        name=row["name"],
        why=row["why"],
        panel=_number(row["panel"]) or 1.0,
        **{key: _number(row[key]) for key in ("core", "face", "edge", "end", "strip")},
        to_core=row["to_core"] == "yes",
        board=row["board"] == "yes",
    )
    for row in table_rows(__package__, "constructions")
}

SOLID, COMMON = CONSTRUCTIONS["solid"], CONSTRUCTIONS["stile and rail"]

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
