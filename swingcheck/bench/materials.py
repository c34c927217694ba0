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

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np

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
class Wood:
    """A species: its specific gravity, and its movement for each percent of moisture content.

    ``None`` where it is not in that table. ``was_read``: its coefficients are
    not from memory.
    """

    species: str
    is_soft: bool
    was_read: bool
    gravity: float | None
    radial: float | None
    tangential: float | None

    def across(self, grain: Grain) -> float:
        """Return the coefficient across the face of a board sawn like this."""
        return (self.radial if grain is Grain.QUARTER else self.tangential) or 0.0

    def through(self, grain: Grain) -> float:
        """Return the coefficient through the thickness of a board sawn like this."""
        return (self.tangential if grain is Grain.QUARTER else self.radial) or 0.0


def plain_name(name: str) -> str:
    """Return a name in lower case, one space between words, ``oak, red`` as ``red oak``."""
    first, _, rest = name.partition(",")
    words = f"{rest} {first}".replace("-", " ").replace("_", " ").split()
    return " ".join(words).casefold()


def wood(material: str) -> Wood | None:
    """Return the species that somebody wrote, or ``None`` where it is not in the tables.

    Examples
    --------
    >>> wood("Oak, red").tangential, wood("cherry").species, wood("steel")
    (0.00369, 'black cherry', None)
    """
    return WOODS.get(_NAMES.get(plain_name(material), ""))


def movement(material: str) -> Wood | None:
    """Return a species whose movement is known, or ``None``."""
    found = wood(material)
    return None if found is None or found.radial is None else found


def wood_kind(material: str) -> str:
    """Return ``"softwood"`` or ``"hardwood"``; what is not known counts as hardwood.

    The wider pilot hole of a hardwood splits nothing.
    """
    found = wood(material)
    return "softwood" if found is not None and found.is_soft else "hardwood"


def wood_density(specific_gravity: float) -> float:
    """Return the density at 12 % moisture content, lb/ft3, ``62.4 * G12 * 1.12``.

    Examples
    --------
    >>> round(wood_density(0.48), 1)
    33.5
    """
    return 62.4 * specific_gravity * 1.12


def material_density(material: str) -> float | None:
    """Return a solid material's density, lb/ft3, or ``None`` where it is not known."""
    return _DENSITIES.get(_NAMES.get(plain_name(material), ""))


def known_material(material: str) -> str | None:
    """Return the tables' name for a material whose density is known, or ``None``.

    Examples
    --------
    >>> known_material("Oak, red"), known_material("douglas fir"), known_material("oak")
    ('red oak', 'Douglas-fir', None)
    """
    name = _NAMES.get(plain_name(material), "")
    return name if name in _DENSITIES else None


def nearest_materials(material: str) -> tuple[str, ...]:
    """Return the materials of known density that have such a word, or three that are spelled alike.

    Examples
    --------
    >>> nearest_materials("cherri"), nearest_materials("maple")[:2]
    (('black cherry',), ('bigleaf maple', 'black maple'))
    """
    plain = plain_name(material)
    named = {name: known for name, known in _NAMES.items() if known in _DENSITIES}
    words = {known for name, known in named.items() if plain and plain in name.split()}
    if words:
        return tuple(sorted(words))
    from difflib import get_close_matches

    close = [named[name] for name in get_close_matches(plain, named, n=3, cutoff=0.6)]
    return tuple(dict.fromkeys(close))


def _number(text: str) -> float | None:
    return float(text) if text else None


def table_rows(table: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table of facts, by its columns."""
    text = (Path(__file__).parent / "assets" / f"{table}.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _gravity_at_12(row: dict[str, str]) -> float | None:
    gravity = _number(row["gravity"])
    if gravity is None or row["basis"] != "green":
        return gravity
    return gravity / (1 - 0.159 * gravity)


_ROWS = table_rows("woods")

WOODS = {
    row["name"]: Wood(
        species=row["name"],
        is_soft=row["kind"] == "softwood",
        was_read=row["read"] == "read",
        gravity=_gravity_at_12(row),
        radial=_number(row["radial"]),
        tangential=_number(row["tangential"]),
    )
    for row in _ROWS
    if row["kind"] != "panel"
}

PANEL_DENSITY = {row["name"]: float(row["density"]) for row in _ROWS if row["kind"] == "panel"}
"""Density, lb/ft3: MDF 44-48, particleboard 40-50, glass 2.5 kg/m2 for each mm."""

_DENSITIES = {
    name: wood_density(each.gravity) for name, each in WOODS.items() if each.gravity is not None
} | PANEL_DENSITY

_NAMES = {plain_name(row["name"]): row["name"] for row in _ROWS} | {
    other: row["name"] for row in _ROWS for other in row["also"].split("; ") if other
}


SKIN = 0.125
"""Thickness of each face skin of a flush slab, inches."""

SKINS_LB = 2 * SKIN / 12 * PANEL_DENSITY["MDF"]
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
        core=_number(row["core"]),
        face=_number(row["face"]),
        panel=_number(row["panel"]) or 1.0,
        edge=_number(row["edge"]),
        end=_number(row["end"]),
        why=row["why"],
        to_core=row["to_core"] == "yes",
        strip=_number(row["strip"]),
        board=row["board"] == "yes",
    )
    for row in table_rows("constructions")
}

SOLID = CONSTRUCTIONS["solid"]

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
