"""A starter scene: a commented file to fill in at the opening, rule in hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import degrees
from operator import attrgetter

from swingcheck.errors import Problem, SceneError
from swingcheck.model import Edge, EdgeShape, Scene, Wanted
from swingcheck.scenefile import usual
from swingcheck.scenefile.keys import known_keys
from swingcheck.scenefile.reading import read_scene
from swingcheck.scenefile.settings import typed_value
from swingcheck.scenefile.spec import Key, Kind
from swingcheck.units import fraction_text, in_unit

_INTRO = """\
# One opening and its slab, as measured. Before cutting: swingcheck check THIS-FILE
#
# Write a length as you read it off the tape, in quotes: "29 13/16", "1 7/16 in",
# "36.5 mm". A number without quotes is in the unit below. Where a measurement
# changes along the way, list it at even spaces: ["30 1/8", "30", "30 1/8"] is top,
# middle and bottom.
#
# A line such as #depth = "4 9/16" is left out: the value shown is taken as usual,
# and the report says so. To give your own, take the # away and write it in.
# Measure what you can: what is taken as usual may not be what is there.
"""

# Key, where its value is in a scene, and how to take it.
_LINES = (
    ("title", "title", "what to call it"),
    ("unit", "unit", 'of bare numbers: "in" or "mm"'),
    ("hinges_on", "hinges_on", '"left" or "right", seen from the pull side'),
    ("opening.width", "opening.width", "leg to leg; or [top, middle, bottom]"),
    ("opening.height", "opening.height", "floor to head; or [hinge side, strike side]"),
    ("opening.rabbet", "opening.rabbet.hinge", "jamb's pull-side edge to the face of the stop"),
    ("opening.depth", "opening.depth", "of the jamb, edge to edge"),
    ("stop.projection", "stop.projection", "from the face of the jamb into the opening"),
    ("stop.width", "stop.width", "along the jamb, face to back"),
    ("slab.width", "slab.width", "on the pull-side face; or [top, middle, bottom]"),
    ("slab.height", "slab.height", "as it will hang; or [hinge edge, strike edge]"),
    ("slab.thickness", "slab.thickness", "at the hinge edge"),
    ("slab.hinge_edge", "slab.hinge_edge", "or { bevel = 2 } (degrees), narrower on the stop side"),
    ("slab.strike_edge", "slab.strike_edge", "the same"),
    ("slab.head_margin", "slab.head_margin", "head to the slab's top, at the hinge side"),
    ("slab.material", "slab.material", "its wood"),
    ("slab.construction", "slab.construction", '"solid", "hollow core", "stile and rail"'),
    ("hinge.count", "hinge.count", ""),
    ("hinge.leaf_length", "hinge.leaf_length", "along the barrel"),
    ("hinge.open_width", "hinge.open_width", "across both leaves, laid flat"),
    ("hinge.leaf_thickness", "hinge.leaf_thickness", "of one leaf"),
    ("hinge.closed_gap", "hinge.closed_gap", "between the leaves, closed and parallel"),
    ("hinge.barrel", "hinge.barrel", "its diameter"),
    ("hinge.corner_radius", "hinge.corner_radius", "of a leaf's corners; 0 is square"),
    ("hinge.screw_proud", "hinge.screw_proud", "screw heads above the leaf"),
    ("hinge.jamb.tops", "hinge.jamb.tops", "head to the top of each leaf, top hinge first"),
    ("hinge.jamb.setback", "hinge.jamb.setbacks", "face of the stop to the leaf's buried edge"),
    ("hinge.jamb.depth", "hinge.jamb.depths", "how deep each leaf is let in"),
    ("hinge.slab.tops", "hinge.slab.tops", "slab's top to the top of each leaf"),
    ("hinge.slab.setback", "hinge.slab.setbacks", "stop-side face to the leaf's buried edge"),
    ("hinge.slab.depth", "hinge.slab.depths", "how deep each leaf is let in"),
)

_HEADS = {
    "opening": "The hole in the finished frame.",
    "stop": 'The strip that the closed slab rests against. For none: stop = "none" at the top'
    " instead.",
    "slab": "The slab. Pull side: the side that it swings toward.",
    "hinge": "The hinges, all alike.",
    "hinge.jamb": "Where the leaves are let into the jamb. One value for all, or one a hinge.",
    "hinge.slab": "Where the leaves are let into the slab.",
}

_LEGS = """\

# What follows is left out until the # before its lines is taken away.
#
# How the legs stand, read with a long level. Plumb: how far the leg leans into the
# opening (+) or out of it (-). Cross: how far it stands off the wall's plane, to the
# pull side (+) or the push side (-). Twist: degrees that its face is out of square with
# the wall, + narrows the stop side. One value, or top, middle, bottom.
# The same goes for [opening.strike_leg].
#[opening.hinge_leg]
#plumb = [0, 0, 0]
#cross = [0, 0, 0]
#twist = 0

# A bored lock. Backset: strike edge to the centre of the bore; height: finished floor to
# the centre of the bore; bores by their diameters; the face is the latch's plate.
#[lock]
"""

_FLOOR = """
# The floor under the swing: how thick the covering is that lies on it, and how it rises
# toward the strike leg (across) and toward the pull side (out).
#[floor]
#covering = 0
#across = "0 in 12"
#out = "0 in 12"

# Flat casing on the pull side. Reveal: face of the jamb to the edge of the casing.
#[casing]
"""

_OBSTACLE = """
# A wall, a baseboard, a shelf: a box, by its lowest corner (across from the face of the
# hinge leg, out from the jamb's pull-side edge, up from the floor) and its size.
#[[obstacle]]
#name = "side wall"
"""

_LAST = """
# How far it must open, and where opening is no longer looked at: degrees.
#[swing]
#wanted = 90
#limit = 180

# What calls for care on site.
#[site]
#fire_rated = false
#exit = false
#old_paint = false
#glass = false

# Coats of paint or varnish still to come, on each of the two faces of a margin.
#[finish]
#slab = 2
#jamb = 2

# The margins to cut for: along the strike leg, and over the floor through the swing. And what
# a setting may not go past: the least margin at the legs and head, the least to the hinge stop,
# and how far the wide face may stand proud or shy of the jamb's edge.
#[wanted]
"""

_SHOP = """
# What the jig is set to; bit and bushing by their outside diameters.
#[shop]
"""

_DELIVERED = """
# The slab as it was delivered, before any cut.
#[slab.delivered]
"""


def starter_scene(values: Mapping[str, str]) -> str:
    r"""Return a commented scene with the given measurements, the usual ones shown beside.

    Parameters
    ----------
    values : mapping of str to str
        Dotted keys and what was typed for them; ``opening.width`` and
        ``opening.height`` at the least.

    Raises
    ------
    SceneError
        When a measurement is missing, cannot be read or cannot be built, or
        a key has no line in a starter.

    Examples
    --------
    >>> text = starter_scene({"opening.width": '30 1/8"', "opening.height": "80 1/2"})
    >>> [line.split("#")[0].rstrip() for line in text.splitlines() if line.startswith("width")]
    ['width            = \'30 1/8"\'']
    """
    lines = {key for key, _, _ in _LINES}
    unknown = [
        Problem(key=key, value=value, expected="has no line in a starter scene")
        for key, value in values.items()
        if key not in lines
    ]
    if unknown:
        raise SceneError("starter scene", unknown)
    given = {key: _literal(key, value) for key, value in values.items()}
    plain = "\n".join(f"{key} = {value}" for key, value in given.items())
    scene = read_scene(plain, name="starter scene")
    text = _INTRO + "\n" + "\n".join(_main_lines(scene, given))
    return text + "\n" + _rest(scene)


def _main_lines(scene: Scene, given: Mapping[str, str]) -> Iterator[str]:
    """Yield the lines of what every opening has, those not given left out."""
    table = ""
    for key, attribute, says in _LINES:
        path, _, name = key.rpartition(".")
        if path != table:
            table = path
            yield from ("", f"# {_HEADS[path]}", f"[{path}]")
        value = given.get(key) or _usual_text(key, attrgetter(attribute)(scene), scene.unit)
        mark = "" if key in given else "#"
        line = f"{mark}{name:<{17 - len(mark)}}= {value}"
        yield f"{line:<42} # {says}" if says else line


def _rest(scene: Scene) -> str:
    """Return the parts that not every opening has, all of them left out."""
    unit, slab = scene.unit, scene.slab

    def lines(values: Mapping[str, float]) -> str:
        return "".join(f"#{key} = {_length(value, unit)}\n" for key, value in values.items())

    def point(*values: float) -> str:
        return f"[{', '.join(_length(value, unit) for value in values)}]"

    box = f"#corner = {point(-10.0, 40.0, 0.0)}\n#size = {point(0.5, 20.0, 80.0)}\n"
    least = Wanted()
    wanted = {
        "strike": usual.STRIKE_MARGIN,
        "bottom": usual.BOTTOM_MARGIN,
        "least_margin": least.least_margin,
        "hinge_stop": least.hinge_stop,
        "flush": least.flush,
    }
    shop = {"jig_setback": usual.SLAB_SETBACK, "bit": 1.25, "bushing": 1.375}
    delivered = {"width": max(slab.width), "height": max(slab.height)}
    parts = (
        (_LEGS, lines(usual.LOCK)),
        (_FLOOR, lines(usual.CASING)),
        (_OBSTACLE, box),
        (_LAST, lines(wanted)),
        (_SHOP, lines(shop)),
        (_DELIVERED, lines(delivered)),
    )
    return "".join(head + body for head, body in parts)


def _usual_text(key: str, value: object, unit: str) -> str:
    """Return a value of a scene as TOML."""
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, Edge):
        if value.shape is EdgeShape.BEVEL:
            return f"{{ bevel = {degrees(value.bevel):g} }}"
        return '"square"' if value.shape is EdgeShape.SQUARE else '"bullnose"'
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return _length(value, unit)
    if isinstance(value, tuple):
        same = len(set(value)) == 1
        texts = [_length(each, unit) for each in value]
        return texts[0] if same else f"[{', '.join(texts)}]"
    raise TypeError(f"{key}: no TOML for {value!r}")


def _length(value: float, unit: str) -> str:
    """Return a length as TOML: a fraction where that is exact, else a number of the unit."""
    if unit == "in" and (value * 64).is_integer():
        return _quoted(fraction_text(value))
    return f"{in_unit(value, unit):.{3 if unit == 'in' else 1}f}".rstrip("0").rstrip(".")


def _literal(key: str, typed: str) -> str:
    """Return what was typed for a key as TOML: its own TOML where it is that, else in quotes."""
    spec = known_keys()[key]
    if isinstance(spec, Key) and spec.kind is Kind.TEXT:
        return _quoted(typed)
    value = typed_value(typed)
    if isinstance(value, list):
        return f"[{', '.join(_quoted(v) if isinstance(v, str) else str(v) for v in value)}]"
    return _quoted(typed) if isinstance(value, str) else typed


def _quoted(text: str) -> str:
    if "'" not in text and '"' in text and text.isprintable():
        return f"'{text}'"
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else f"\\U{ord(c):08X}" for c in escaped) + '"'
