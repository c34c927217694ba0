"""What a slab weighs, from its sizes, its material and how it is built.

Sources of the figures, with what was read and what was not:

- Specific gravity ``G12`` (ovendry mass over volume at 12 % moisture content):
  USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010), chapter 5.
  The western softwoods were read in Oregon State University's table of physical
  properties, which cites the handbook; every other species is from memory.
- Density at 12 %: ``62.4 * G12 * 1.12`` lb/ft3, the handbook's own definition
  (ovendry mass, plus 12 % of it in water, over the volume at 12 %).
- MDF, particleboard, core and hollow metal: from memory of the handbook's
  chapter 11 and of ANSI A208.1, as ranges; the middle of each range is taken.
- How much of a slab is frame, panel or skin: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches
from functools import partial
from math import asin, atan2, dist, sqrt, tan

from swingcheck.model import Edge, EdgeShape, Scene, Slab, Stations, slab_arc

CUBIC_INCHES = 1728.0
"""Cubic inches in a cubic foot."""

SQUARE_INCHES = 144.0
"""Square inches in a square foot."""

SPECIFIC_GRAVITY = {
    "Douglas-fir": 0.48,
    "western larch": 0.52,
    "western hemlock": 0.45,
    "Engelmann spruce": 0.35,
    "noble fir": 0.39,
    "grand fir": 0.39,
    "Pacific silver fir": 0.43,
    "California red fir": 0.38,
    "subalpine fir": 0.32,
    "red oak": 0.63,
    "white oak": 0.68,
    "sugar maple": 0.63,
    "red maple": 0.54,
    "black cherry": 0.50,
    "black walnut": 0.55,
    "white ash": 0.60,
    "yellow birch": 0.62,
    "yellow-poplar": 0.42,
    "red alder": 0.41,
    "mahogany": 0.50,
    "ponderosa pine": 0.40,
    "eastern white pine": 0.35,
    "western white pine": 0.38,
    "sugar pine": 0.36,
    "loblolly pine": 0.51,
    "longleaf pine": 0.59,
    "western redcedar": 0.32,
    "Sitka spruce": 0.40,
    "redwood": 0.40,
}
"""Ovendry mass over volume at 12 % moisture content, relative to water."""

PANEL_DENSITY = {"MDF": 46.0, "particleboard": 45.0, "glass": 156.0}
"""Density, lb/ft3: MDF 44-48, particleboard 40-50, glass 2.5 kg/m2 for each mm."""

ALIASES = {
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

SKIN = 0.125
"""Thickness of each face skin of a flush slab, inches. Common practice, no source."""

HOLLOW_FILL = 1.5 - 2 * SKIN / 12 * PANEL_DENSITY["MDF"]
"""Frame and fill of a 1 3/8 in hollow core slab, lb/ft2: 1.5 in all (from memory) less skins."""

CORE_DENSITY = {"particleboard core": 30.0, "mineral core": 32.0}
"""Core density, lb/ft3, from memory: low-density particleboard 28-32, mineral about 32."""

HOLLOW_METAL = 5.0
"""A hollow metal slab with 18 gauge faces, lb/ft2. From memory."""

STILE = 4.5
TOP_RAIL = 4.5
LOCK_RAIL = 8.0
BOTTOM_RAIL = 9.5
PANEL_SHARE = 0.5
"""A stile and rail slab: its frame, inches, and its panels' mean thickness as a share of
the slab's. Common practice, no source."""


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
    name = known_material(material)
    if name is None:
        return None
    if name in PANEL_DENSITY:
        return PANEL_DENSITY[name]
    return wood_density(SPECIFIC_GRAVITY[name])


def known_material(material: str) -> str | None:
    """Return the table's name for a material as somebody wrote it, or ``None``.

    Examples
    --------
    >>> known_material("Oak, red"), known_material("douglas fir"), known_material("oak")
    ('red oak', 'Douglas-fir', None)
    """
    return _NAMES.get(_plain(material))


def nearest_materials(material: str) -> tuple[str, ...]:
    """Return up to three known materials whose names are nearest, nearest first.

    Examples
    --------
    >>> nearest_materials("oak")
    ('red oak', 'white oak')
    """
    plain = _plain(material)
    words = {known for name, known in _NAMES.items() if plain and plain in name.split()}
    close = [_NAMES[name] for name in get_close_matches(plain, _NAMES, n=3, cutoff=0.6)]
    return tuple(dict.fromkeys([*sorted(words), *close]))[:3]


def slab_volume(slab: Slab) -> float:
    """Return the slab's volume before it is mortised or bored, cubic inches.

    Mean width on the wide face by mean height by thickness, less what the
    edges take off: half of ``T tan(bevel)`` of the width at a bevel, and at an
    edge of radius ``r`` the rectangle of the sagitta less the round segment.
    With the segment over an arched top, less what a bevelled top takes off,
    and with a lip.
    """
    width = _mean(slab.width)
    height = (slab.height[0] + slab.height[1]) / 2
    taken = _edge_area(slab.hinge_edge, slab.thickness)
    taken += _edge_area(slab.strike_edge, slab.thickness)
    return (width * slab.thickness - taken) * height + _over_top(slab, width) + _lip(slab, width)


def _over_top(slab: Slab, width: float) -> float:
    """Return what an arch adds to a slab, less what a bevelled top takes off, cubic inches."""
    over = -width * slab.thickness**2 * tan(slab.head_edge.bevel) / 2
    arc = slab_arc(slab)
    if arc is not None:
        half = dist(arc.start, arc.end) / 2
        flat = arc.radius - slab.arch
        over += slab.thickness * (arc.radius**2 * atan2(half, flat) - half * flat)
    return over


def _lip(slab: Slab, width: float) -> float:
    """Return what a lip adds, cubic inches: over both edges and the head, as thick as it is."""
    lip = slab.lip
    if lip is None:
        return 0.0
    height = (slab.height[0] + slab.height[1]) / 2
    sides = lip.hinge + lip.strike
    area = sides * height + lip.head * (width + sides)
    return area * (slab.thickness - lip.depth)


def slab_weight(scene: Scene) -> float | None:
    """Return the slab's weight in pounds, without hardware; ``None`` where it is not known.

    With its glass, where it has any.
    """
    bare = weight_without_glass(scene)
    return None if bare is None else bare + (glass_added(scene) or 0.0)


def weight_without_glass(scene: Scene) -> float | None:
    """Return what the slab would weigh with its glass filled in, pounds, or ``None``."""
    construction = known_construction(scene)
    return None if construction is None else _BUILT[construction](scene.slab)


def glass_added(scene: Scene) -> float | None:
    """Return what the slab's glass weighs more than what it replaces, pounds.

    In a stile and rail slab it stands in place of a panel. ``None`` where what
    it replaces is not known.
    """
    glass = scene.slab.glass
    if glass is None:
        return 0.0
    replaced = _face_weight(scene)
    if replaced is None:
        return None
    pane = glass.thickness / 12 * PANEL_DENSITY["glass"]
    return (pane - replaced) * glass.width * glass.height / SQUARE_INCHES


def hollowed_by_panels(slab: Slab) -> float:
    """Return how much thinner panels take from a stile and rail slab, cubic inches."""
    high = sum(slab.height) / 2 - TOP_RAIL - LOCK_RAIL - BOTTOM_RAIL
    wide = _mean(slab.width) - 2 * STILE
    return max(high, 0.0) * max(wide, 0.0) * slab.thickness * (1 - PANEL_SHARE)


def weight_per_square_foot(construction: str, thickness: float) -> float:
    """Return what a flush slab weighs, lb/ft2 of face: its skins, and what is between them.

    Parameters
    ----------
    construction : str
        ``"hollow core"``, ``"particleboard core"``, ``"mineral core"`` or ``"hollow metal"``.
    thickness : float
        Of the slab, inches.
    """
    if construction == "hollow metal":
        return HOLLOW_METAL
    skins = 2 * SKIN / 12 * PANEL_DENSITY["MDF"]
    inside = max(thickness - 2 * SKIN, 0.0)
    if construction == "hollow core":
        return skins + HOLLOW_FILL * inside / (1.375 - 2 * SKIN)
    return skins + CORE_DENSITY[construction] * inside / 12


def weight_basis(scene: Scene) -> str:
    """Return in a few words what the weight was worked out from, or why there is none."""
    slab = scene.slab
    construction = known_construction(scene)
    if construction is None:
        return f"no weight known for {slab.construction!r}; known are {', '.join(_BUILT)}"
    if construction not in ("solid", "stile and rail"):
        per_square_foot = weight_per_square_foot(construction, slab.thickness)
        return f"{construction}, {per_square_foot:.1f} lb a square foot"
    density = material_density(slab.material)
    if density is None:
        near = nearest_materials(slab.material)
        hint = f"; nearest known: {', '.join(near)}" if near else ""
        return f"no density known for {slab.material!r}{hint}"
    return f"{known_material(slab.material)}, {construction}, {density:.0f} lb a cubic foot"


def known_construction(scene: Scene) -> str | None:
    """Return how the slab is built, in this module's words, or ``None`` where it is not known.

    ``solid core`` is a particleboard core. A solid slab of steel is a hollow
    metal one: nobody hangs steel plate on butts.

    Examples
    --------
    >>> sorted(CONSTRUCTIONS)[:3]
    ['hollow core', 'hollow metal', 'mineral core']
    """
    said = _plain(scene.slab.construction)
    said = {"solid core": "particleboard core", "solid wood": "solid"}.get(said, said)
    if said == "solid" and _plain(scene.slab.material) in ("steel", "hollow metal"):
        return "hollow metal"
    return said if said in _BUILT else None


def _solid(slab: Slab) -> float | None:
    density = material_density(slab.material)
    return None if density is None else slab_volume(slab) / CUBIC_INCHES * density


def _stile_and_rail(slab: Slab) -> float | None:
    density = material_density(slab.material)
    if density is None:
        return None
    return (slab_volume(slab) - hollowed_by_panels(slab)) / CUBIC_INCHES * density


def _face_weight(scene: Scene) -> float | None:
    """Return what a square foot of the slab weighs where glass may go, pounds, or ``None``."""
    construction, slab = known_construction(scene), scene.slab
    if construction in ("solid", "stile and rail"):
        density = material_density(slab.material)
        share = PANEL_SHARE if construction == "stile and rail" else 1.0
        return None if density is None else slab.thickness / 12 * share * density
    return weight_per_square_foot(construction, slab.thickness) if construction else None


def _flush(construction: str, slab: Slab) -> float | None:
    area = slab_volume(slab) / slab.thickness
    return weight_per_square_foot(construction, slab.thickness) * area / SQUARE_INCHES


_BUILT: dict[str, Callable[[Slab], float | None]] = {
    "solid": _solid,
    "stile and rail": _stile_and_rail,
    "hollow core": partial(_flush, "hollow core"),
    "particleboard core": partial(_flush, "particleboard core"),
    "mineral core": partial(_flush, "mineral core"),
    "hollow metal": partial(_flush, "hollow metal"),
}

CONSTRUCTIONS = tuple(_BUILT)
"""How a slab can be built, for its weight to be known."""


def _edge_area(edge: Edge, thickness: float) -> float:
    """Return the plan area that an edge takes off the square slab, square inches."""
    if edge.shape is EdgeShape.BEVEL:
        return thickness**2 * tan(edge.bevel) / 2
    if edge.is_round:
        half = thickness / 2
        flat = sqrt(edge.radius**2 - half**2)
        segment = edge.radius**2 * asin(half / edge.radius) - half * flat
        return (edge.radius - flat) * thickness - segment
    return 0.0


def _mean(stations: Stations) -> float:
    """Return the mean along evenly spaced stations, straight from one to the next."""
    if len(stations) == 1:
        return stations[0]
    inner = sum(stations) - (stations[0] + stations[-1]) / 2
    return inner / (len(stations) - 1)


def _plain(name: str) -> str:
    """Return a name in lower case, one space between words, ``oak, red`` as ``red oak``."""
    first, _, rest = name.partition(",")
    words = f"{rest} {first}".replace("-", " ").replace("_", " ").split()
    return " ".join(words).casefold()


_NAMES = {_plain(name): name for name in (*SPECIFIC_GRAVITY, *PANEL_DENSITY)} | ALIASES
