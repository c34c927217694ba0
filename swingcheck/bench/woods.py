"""Woods and panels: what they weigh, and how much they move across the grain.

A row each in ``assets/woods.csv``: "read" where its coefficients are not from
memory, and under "also" the other names that the trade uses.

Sources: USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010).

- Specific gravity ``G12`` (ovendry mass over volume at 12 % moisture content),
  chapter 5: the western softwoods were read in Oregon State University's table
  of physical properties, which cites the handbook; every other one is from
  memory. Density at 12 % is ``62.4 * G12 * 1.12`` lb/ft3, the handbook's own
  definition (ovendry mass, plus 12 % of it in water, over the volume at 12 %).
- Coefficients for dimensional change, table 13-5: the fraction of its size that
  a piece swells for each percent of moisture content, radially (quarter-sawn,
  across the rings) and tangentially (flat-sawn, along them), for 6 to 14 %. The
  hardwoods of North America were read; every other row is from memory. A
  flooring list that gives red oak the white oak's 0.00365 was found and is wrong.
- MDF and particleboard: chapter 11 and ANSI A208.1, from memory, as ranges; the
  middle of each range is taken.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

from swingcheck.model import Grain

VALID_PERCENT = (6.0, 14.0)
"""Moisture contents between which the coefficients hold."""


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
    """Return up to three materials of known density whose names are nearest, nearest first.

    Examples
    --------
    >>> nearest_materials("oak")
    ('red oak', 'white oak')
    """
    plain = plain_name(material)
    named = {name: known for name, known in _NAMES.items() if known in _DENSITIES}
    words = {known for name, known in named.items() if plain and plain in name.split()}
    from difflib import get_close_matches

    close = [named[name] for name in get_close_matches(plain, named, n=3, cutoff=0.6)]
    return tuple(dict.fromkeys([*sorted(words), *close]))[:3]


def _number(text: str) -> float | None:
    return float(text) if text else None


_TABLE = (Path(__file__).parent / "assets" / "woods.csv").read_text("utf-8")
_ROWS = tuple(csv.DictReader(_TABLE.splitlines()))

WOODS = {
    row["name"]: Wood(
        species=row["name"],
        is_soft=row["kind"] == "softwood",
        was_read=row["read"] == "read",
        gravity=_number(row["gravity"]),
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
