"""The columns of a schedule: what the trade calls a measurement, and its key in a scene."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from swingcheck.scenefile import Key, Table, known_keys, nearest_key
from swingcheck.units import UNITS

DOOR = "title"
REQUIRED = ("door", "opening width", "opening height")

NAMES = {
    "door": DOOR,
    "hinges on": "hinges_on",
    "unit": "unit",
    "opening width": "opening.width",
    "opening height": "opening.height",
    "rabbet": "opening.rabbet",
    "jamb depth": "opening.depth",
    "jamb thickness": "opening.thickness",
    "hinge leg plumb": "opening.hinge_leg.plumb",
    "hinge leg cross": "opening.hinge_leg.cross",
    "hinge leg twist": "opening.hinge_leg.twist",
    "strike leg plumb": "opening.strike_leg.plumb",
    "strike leg cross": "opening.strike_leg.cross",
    "strike leg twist": "opening.strike_leg.twist",
    "stop": "stop",
    "stop projection": "stop.projection",
    "stop width": "stop.width",
    "slab width": "slab.width",
    "slab height": "slab.height",
    "thickness": "slab.thickness",
    "hinge edge": "slab.hinge_edge",
    "strike edge": "slab.strike_edge",
    "head margin": "slab.head_margin",
    "wood": "slab.material",
    "construction": "slab.construction",
    "delivered width": "slab.delivered.width",
    "delivered height": "slab.delivered.height",
    "edge strip": "slab.delivered.edge_strip",
    "strike margin": "wanted.strike",
    "bottom margin": "wanted.bottom",
    "hinges": "hinge.count",
    "leaf length": "hinge.leaf_length",
    "open width": "hinge.open_width",
    "leaf thickness": "hinge.leaf_thickness",
    "closed gap": "hinge.closed_gap",
    "barrel": "hinge.barrel",
    "corner radius": "hinge.corner_radius",
    "jamb tops": "hinge.jamb.tops",
    "slab tops": "hinge.slab.tops",
    "jamb setback": "hinge.jamb.setback",
    "slab setback": "hinge.slab.setback",
    "jamb mortise depth": "hinge.jamb.depth",
    "slab mortise depth": "hinge.slab.depth",
    "lock": "lock",
    "backset": "lock.backset",
    "lock height": "lock.height",
    "bore": "lock.bore",
    "edge bore": "lock.edge_bore",
    "deadbolt": "lock.deadbolt",
    "casing": "casing",
    "casing thickness": "casing.thickness",
    "casing width": "casing.width",
    "reveal": "casing.reveal",
    "floor covering": "floor.covering",
    "floor across": "floor.across",
    "floor out": "floor.out",
    "fire rated": "site.fire_rated",
    "exit": "site.exit",
    "old paint": "site.old_paint",
    "glass": "site.glass",
    "closer": "site.closer",
    "coats on slab": "finish.slab",
    "coats on jamb": "finish.jamb",
    "jig setback": "shop.jig_setback",
    "bit": "shop.bit",
    "bushing": "shop.bushing",
    "opens to": "swing.wanted",
}
"""Every column name in the trade's words, and the key of a scene that it gives."""

ALSO = {
    "name": "door",
    "mark": "door",
    "opening": "door",
    "room": "door",
    "hinge side": "hinges on",
    "slab thickness": "thickness",
    "material": "wood",
    "hinge count": "hinges",
    "number of hinges": "hinges",
    "hinge leaf length": "leaf length",
    "hinge open width": "open width",
}
"""Other names that a person may give a column."""

_HEAD = re.compile(r"(?P<name>.*?)\s*(?:[\[(](?P<unit>[a-z]+)[\])])?")
_PLACE = re.compile(r"\[[0-9]{1,4}\]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its place from 0, its name as typed, its key, and the unit of bare numbers.

    ``unit`` is empty where the name says nothing of it.
    """

    place: int
    name: str
    key: str
    spec: Key | Table
    unit: str = ""


def column(place: int, typed: str) -> Column | None:
    """Return the column of a name in a header, or ``None`` for a name that is none.

    Examples
    --------
    >>> found = column(0, "Opening width (mm)")
    >>> found.key, found.unit
    ('opening.width', 'mm')
    >>> column(0, "hinge.slab.setback[1]").key
    'hinge.slab.setback[1]'
    """
    plain = " ".join(typed.replace("_", " ").casefold().split())
    told = _HEAD.fullmatch(plain)
    name, unit = (plain, "") if told is None else (told["name"], told["unit"] or "")
    key = NAMES.get(ALSO.get(name, name))
    if unit not in ("", *UNITS):
        key = None
    if key is None:
        key, unit = "".join(typed.split()), ""
    spec = known_keys().get(_PLACE.sub("", key))
    if spec is None or not _takes_a_cell(spec):
        return None
    return Column(place=place, name=typed, key=key, spec=spec, unit=unit)


def likely_name(typed: str) -> str:
    """Return the column name that a misspelled one most likely means, or nothing.

    Examples
    --------
    >>> likely_name("openning width"), likely_name("slab.widht"), likely_name("zzz")
    ('opening width', 'slab width', '')
    """
    plain = " ".join(typed.replace("_", " ").casefold().split())
    found = get_close_matches(plain, [*NAMES, *ALSO], n=1, cutoff=0.75)
    if found:
        return ALSO.get(found[0], found[0])
    key = nearest_key("".join(typed.split()))
    return key if key and _takes_a_cell(known_keys()[key]) else ""


def _takes_a_cell(spec: Key | Table) -> bool:
    return isinstance(spec, Key) or bool(spec.words) or spec.plain is not None
