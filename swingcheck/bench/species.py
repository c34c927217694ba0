"""How much each species of wood moves across the grain.

Source: USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010),
table 13-5, coefficients for dimensional change: the fraction of its size that
a piece swells for each percent of moisture content, radially (quarter-sawn,
across the rings) and tangentially (flat-sawn, along them). The handbook gives
them for 6 to 14 % moisture content. The hardwoods of North America were read;
every other row is from memory. A flooring list that gives red oak the white
oak's 0.00365 was found and is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

from swingcheck.bench.weight import ALIASES, known_material
from swingcheck.model import Grain

VALID = (6.0, 14.0)
"""Moisture contents between which the coefficients hold, percent."""

HARDWOODS = {
    "red alder": (0.00151, 0.00256),
    "apple": (0.00205, 0.00376),
    "black ash": (0.00172, 0.00274),
    "Oregon ash": (0.00141, 0.00285),
    "pumpkin ash": (0.00126, 0.00219),
    "white ash": (0.00169, 0.00274),
    "green ash": (0.00169, 0.00274),
    "quaking aspen": (0.00119, 0.00234),
    "American basswood": (0.00230, 0.00330),
    "American beech": (0.00190, 0.00431),
    "paper birch": (0.00219, 0.00304),
    "river birch": (0.00162, 0.00327),
    "yellow birch": (0.00256, 0.00338),
    "sweet birch": (0.00256, 0.00338),
    "yellow buckeye": (0.00123, 0.00285),
    "butternut": (0.00116, 0.00223),
    "northern catalpa": (0.00085, 0.00169),
    "black cherry": (0.00126, 0.00248),
    "American chestnut": (0.00116, 0.00234),
    "black cottonwood": (0.00123, 0.00304),
    "eastern cottonwood": (0.00133, 0.00327),
    "American elm": (0.00144, 0.00338),
    "rock elm": (0.00165, 0.00285),
    "slippery elm": (0.00169, 0.00315),
    "winged elm": (0.00183, 0.00419),
    "cedar elm": (0.00183, 0.00419),
    "hackberry": (0.00165, 0.00315),
    "pecan hickory": (0.00169, 0.00315),
    "honeylocust": (0.00144, 0.00230),
    "black locust": (0.00158, 0.00252),
    "Pacific madrone": (0.00194, 0.00451),
    "cucumbertree": (0.00180, 0.00312),
    "southern magnolia": (0.00187, 0.00230),
    "sweetbay magnolia": (0.00162, 0.00293),
    "bigleaf maple": (0.00126, 0.00248),
    "red maple": (0.00137, 0.00289),
    "silver maple": (0.00102, 0.00252),
    "black maple": (0.00165, 0.00353),
    "sugar maple": (0.00165, 0.00353),
    "black oak": (0.00123, 0.00230),
    "red oak": (0.00158, 0.00369),
    "California black oak": (0.00123, 0.00230),
    "water oak": (0.00151, 0.00350),
    "white oak": (0.00180, 0.00365),
    "live oak": (0.00230, 0.00338),
    "Oregon white oak": (0.00144, 0.00327),
    "overcup oak": (0.00183, 0.00462),
    "common persimmon": (0.00278, 0.00403),
    "sassafras": (0.00137, 0.00216),
    "sweetgum": (0.00183, 0.00365),
    "American sycamore": (0.00172, 0.00296),
    "tanoak": (0.00169, 0.00423),
    "black tupelo": (0.00176, 0.00308),
    "water tupelo": (0.00144, 0.00267),
    "black walnut": (0.00190, 0.00274),
}
"""Radial and tangential coefficient, as read in the handbook's table."""

OTHER_HARDWOODS = {
    "yellow-poplar": (0.00158, 0.00289),
    "black willow": (0.00112, 0.00308),
    "mahogany": (0.00172, 0.00238),
    "khaya": (0.00141, 0.00201),
    "dark red lauan": (0.00133, 0.00267),
    "light red lauan": (0.00126, 0.00241),
    "meranti": (0.00126, 0.00289),
    "Spanish-cedar": (0.00141, 0.00219),
    "teak": (0.00101, 0.00186),
    "iroko": (0.00153, 0.00205),
}
"""The same, from memory."""

SOFTWOODS = {
    "western redcedar": (0.00111, 0.00234),
    "northern white-cedar": (0.00101, 0.00229),
    "incense-cedar": (0.00112, 0.00180),
    "eastern redcedar": (0.00106, 0.00162),
    "Atlantic white-cedar": (0.00099, 0.00187),
    "Port-Orford-cedar": (0.00158, 0.00241),
    "yellow-cedar": (0.00095, 0.00208),
    "baldcypress": (0.00130, 0.00216),
    "Douglas-fir": (0.00165, 0.00267),
    "Douglas-fir, interior north": (0.00130, 0.00241),
    "Douglas-fir, interior west": (0.00165, 0.00263),
    "white fir": (0.00112, 0.00245),
    "eastern hemlock": (0.00102, 0.00237),
    "western hemlock": (0.00144, 0.00274),
    "western larch": (0.00155, 0.00323),
    "eastern white pine": (0.00071, 0.00212),
    "western white pine": (0.00141, 0.00259),
    "sugar pine": (0.00099, 0.00194),
    "ponderosa pine": (0.00133, 0.00216),
    "lodgepole pine": (0.00148, 0.00234),
    "red pine": (0.00130, 0.00252),
    "loblolly pine": (0.00165, 0.00259),
    "longleaf pine": (0.00176, 0.00263),
    "shortleaf pine": (0.00158, 0.00271),
    "slash pine": (0.00187, 0.00267),
    "redwood": (0.00120, 0.00205),
    "second-growth redwood": (0.00101, 0.00229),
    "Engelmann spruce": (0.00130, 0.00248),
    "Sitka spruce": (0.00148, 0.00263),
    "red spruce": (0.00130, 0.00274),
}
"""The same, from memory."""

_COEFFICIENTS = HARDWOODS | OTHER_HARDWOODS | SOFTWOODS

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
}
"""Other names the trade uses, for the ones in the tables."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """A species' movement for each percent of moisture content, and whether it was read."""

    species: str
    radial: float
    tangential: float
    was_read: bool

    def across(self, grain: Grain) -> float:
        """Return the coefficient across the face of a board sawn like this."""
        return self.radial if grain is Grain.QUARTER else self.tangential

    def through(self, grain: Grain) -> float:
        """Return the coefficient through the thickness of a board sawn like this."""
        return self.tangential if grain is Grain.QUARTER else self.radial


def movement(material: str) -> Movement | None:
    """Return how a species moves, or ``None`` where it is not in the tables.

    Examples
    --------
    >>> movement("Oak, red").tangential, movement("steel")
    (0.00369, None)
    """
    name = known_species(material)
    if name is None:
        return None
    radial, tangential = _COEFFICIENTS[name]
    return Movement(species=name, radial=radial, tangential=tangential, was_read=name in HARDWOODS)


def known_species(material: str) -> str | None:
    """Return the tables' name for a species as somebody wrote it, or ``None``."""
    weighed = known_material(material)
    if weighed in _COEFFICIENTS:
        return weighed
    plain = _plain(material)
    return _NAMES.get(plain) or _ALSO.get(plain)


def nearest_species(material: str) -> tuple[str, ...]:
    """Return up to three species in the tables whose names are nearest.

    Examples
    --------
    >>> nearest_species("wallnut")
    ('black walnut',)
    """
    plain = _plain(material)
    words = {name for key, name in _NAMES.items() if plain and plain in key.split()}
    known = {**_NAMES, **{name: _NAMES.get(_plain(to), to) for name, to in ALIASES.items()}}
    close = [known[key] for key in get_close_matches(plain, known, n=3, cutoff=0.6)]
    return tuple(dict.fromkeys([*sorted(words), *close]))[:3]


def wood_kind(material: str) -> str:
    """Return ``"softwood"`` or ``"hardwood"``; what is not known counts as hardwood.

    The wider pilot hole of a hardwood splits nothing.
    """
    return "softwood" if known_species(material) in SOFTWOODS else "hardwood"


def _plain(name: str) -> str:
    first, _, rest = name.partition(",")
    return " ".join(f"{rest} {first}".replace("-", " ").split()).casefold()


_NAMES = {_plain(name): name for name in _COEFFICIENTS}
