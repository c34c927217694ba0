"""Woods and panels, a row each: what they weigh, and how much they move across the grain.

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

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from swingcheck.model import Grain

VALID_PERCENT = (6.0, 14.0)
"""Moisture contents between which the coefficients hold."""

_Row = tuple[float | None, float | None, float | None]

_READ_HARDWOODS: Mapping[str, _Row] = {
    "red alder": (0.41, 0.00151, 0.00256),
    "apple": (None, 0.00205, 0.00376),
    "black ash": (None, 0.00172, 0.00274),
    "Oregon ash": (None, 0.00141, 0.00285),
    "pumpkin ash": (None, 0.00126, 0.00219),
    "white ash": (0.60, 0.00169, 0.00274),
    "green ash": (None, 0.00169, 0.00274),
    "quaking aspen": (None, 0.00119, 0.00234),
    "American basswood": (None, 0.00230, 0.00330),
    "American beech": (None, 0.00190, 0.00431),
    "paper birch": (None, 0.00219, 0.00304),
    "river birch": (None, 0.00162, 0.00327),
    "yellow birch": (0.62, 0.00256, 0.00338),
    "sweet birch": (None, 0.00256, 0.00338),
    "yellow buckeye": (None, 0.00123, 0.00285),
    "butternut": (None, 0.00116, 0.00223),
    "northern catalpa": (None, 0.00085, 0.00169),
    "black cherry": (0.50, 0.00126, 0.00248),
    "American chestnut": (None, 0.00116, 0.00234),
    "black cottonwood": (None, 0.00123, 0.00304),
    "eastern cottonwood": (None, 0.00133, 0.00327),
    "American elm": (None, 0.00144, 0.00338),
    "rock elm": (None, 0.00165, 0.00285),
    "slippery elm": (None, 0.00169, 0.00315),
    "winged elm": (None, 0.00183, 0.00419),
    "cedar elm": (None, 0.00183, 0.00419),
    "hackberry": (None, 0.00165, 0.00315),
    "pecan hickory": (None, 0.00169, 0.00315),
    "honeylocust": (None, 0.00144, 0.00230),
    "black locust": (None, 0.00158, 0.00252),
    "Pacific madrone": (None, 0.00194, 0.00451),
    "cucumbertree": (None, 0.00180, 0.00312),
    "southern magnolia": (None, 0.00187, 0.00230),
    "sweetbay magnolia": (None, 0.00162, 0.00293),
    "bigleaf maple": (None, 0.00126, 0.00248),
    "red maple": (0.54, 0.00137, 0.00289),
    "silver maple": (None, 0.00102, 0.00252),
    "black maple": (None, 0.00165, 0.00353),
    "sugar maple": (0.63, 0.00165, 0.00353),
    "black oak": (None, 0.00123, 0.00230),
    "red oak": (0.63, 0.00158, 0.00369),
    "California black oak": (None, 0.00123, 0.00230),
    "water oak": (None, 0.00151, 0.00350),
    "white oak": (0.68, 0.00180, 0.00365),
    "live oak": (None, 0.00230, 0.00338),
    "Oregon white oak": (None, 0.00144, 0.00327),
    "overcup oak": (None, 0.00183, 0.00462),
    "common persimmon": (None, 0.00278, 0.00403),
    "sassafras": (None, 0.00137, 0.00216),
    "sweetgum": (None, 0.00183, 0.00365),
    "American sycamore": (None, 0.00172, 0.00296),
    "tanoak": (None, 0.00169, 0.00423),
    "black tupelo": (None, 0.00176, 0.00308),
    "water tupelo": (None, 0.00144, 0.00267),
    "black walnut": (0.55, 0.00190, 0.00274),
}
"""Specific gravity, radial and tangential coefficient; the coefficients as read."""

_OTHER_HARDWOODS: Mapping[str, _Row] = {
    "yellow-poplar": (0.42, 0.00158, 0.00289),
    "black willow": (None, 0.00112, 0.00308),
    "mahogany": (0.50, 0.00172, 0.00238),
    "khaya": (None, 0.00141, 0.00201),
    "dark red lauan": (None, 0.00133, 0.00267),
    "light red lauan": (None, 0.00126, 0.00241),
    "meranti": (None, 0.00126, 0.00289),
    "Spanish-cedar": (None, 0.00141, 0.00219),
    "teak": (None, 0.00101, 0.00186),
    "iroko": (None, 0.00153, 0.00205),
}
"""The same, from memory."""

_SOFTWOODS: Mapping[str, _Row] = {
    "western redcedar": (0.32, 0.00111, 0.00234),
    "northern white-cedar": (None, 0.00101, 0.00229),
    "incense-cedar": (None, 0.00112, 0.00180),
    "eastern redcedar": (None, 0.00106, 0.00162),
    "Atlantic white-cedar": (None, 0.00099, 0.00187),
    "Port-Orford-cedar": (None, 0.00158, 0.00241),
    "yellow-cedar": (None, 0.00095, 0.00208),
    "baldcypress": (None, 0.00130, 0.00216),
    "Douglas-fir": (0.48, 0.00165, 0.00267),
    "Douglas-fir, interior north": (None, 0.00130, 0.00241),
    "Douglas-fir, interior west": (None, 0.00165, 0.00263),
    "white fir": (None, 0.00112, 0.00245),
    "eastern hemlock": (None, 0.00102, 0.00237),
    "western hemlock": (0.45, 0.00144, 0.00274),
    "western larch": (0.52, 0.00155, 0.00323),
    "eastern white pine": (0.35, 0.00071, 0.00212),
    "western white pine": (0.38, 0.00141, 0.00259),
    "sugar pine": (0.36, 0.00099, 0.00194),
    "ponderosa pine": (0.40, 0.00133, 0.00216),
    "lodgepole pine": (None, 0.00148, 0.00234),
    "red pine": (None, 0.00130, 0.00252),
    "loblolly pine": (0.51, 0.00165, 0.00259),
    "longleaf pine": (0.59, 0.00176, 0.00263),
    "shortleaf pine": (None, 0.00158, 0.00271),
    "slash pine": (None, 0.00187, 0.00267),
    "redwood": (0.40, 0.00120, 0.00205),
    "second-growth redwood": (None, 0.00101, 0.00229),
    "Engelmann spruce": (0.35, 0.00130, 0.00248),
    "Sitka spruce": (0.40, 0.00148, 0.00263),
    "red spruce": (None, 0.00130, 0.00274),
    "noble fir": (0.39, None, None),
    "grand fir": (0.39, None, None),
    "Pacific silver fir": (0.43, None, None),
    "California red fir": (0.38, None, None),
    "subalpine fir": (0.32, None, None),
}
"""The same, from memory; the true firs are weighed and not in the table of movement."""

PANEL_DENSITY = {"MDF": 46.0, "particleboard": 45.0, "glass": 156.0}
"""Density, lb/ft3: MDF 44-48, particleboard 40-50, glass 2.5 kg/m2 for each mm."""

_ALSO = {
    "african mahogany": "khaya",
    "hickory": "pecan hickory",
    "pecan": "pecan hickory",
    "aspen": "quaking aspen",
    "basswood": "American basswood",
    "beech": "American beech",
    "chestnut": "American chestnut",
    "sycamore": "American sycamore",
    "persimmon": "common persimmon",
    "cypress": "baldcypress",
    "alaska cedar": "yellow-cedar",
    "white spruce": "red spruce",
    "hem fir": "western hemlock",
    "lauan": "dark red lauan",
    "northern red oak": "red oak",
    "hard maple": "sugar maple",
    "soft maple": "red maple",
    "cherry": "black cherry",
    "walnut": "black walnut",
    "ash": "white ash",
    "birch": "yellow birch",
    "poplar": "yellow-poplar",
    "tulip poplar": "yellow-poplar",
    "alder": "red alder",
    "true mahogany": "mahogany",
    "white pine": "eastern white pine",
    "western red cedar": "western redcedar",
    "larch": "western larch",
    "hemlock": "western hemlock",
    "heart pine": "longleaf pine",
    "fir": "Douglas-fir",
    "medium density fiberboard": "MDF",
    "chipboard": "particleboard",
}
"""Other names the trade uses, for the ones in the tables."""


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


WOODS = {
    name: Wood(
        species=name,
        is_soft=rows is _SOFTWOODS,
        was_read=rows is _READ_HARDWOODS,
        gravity=gravity,
        radial=radial,
        tangential=tangential,
    )
    for rows in (_READ_HARDWOODS, _OTHER_HARDWOODS, _SOFTWOODS)
    for name, (gravity, radial, tangential) in rows.items()
}


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
    close = [named[name] for name in get_close_matches(plain, named, n=3, cutoff=0.6)]
    return tuple(dict.fromkeys([*sorted(words), *close]))[:3]


_DENSITIES = {
    name: wood_density(each.gravity) for name, each in WOODS.items() if each.gravity is not None
} | PANEL_DENSITY

_NAMES = {plain_name(name): name for name in (*WOODS, *PANEL_DENSITY)} | _ALSO
