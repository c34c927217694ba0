"""A starter scene: a commented file to fill in at the opening, rule in hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import degrees
from typing import Any

from swingcheck.errors import Problem, SceneError
from swingcheck.model import Edge, EdgeShape, Rabbet, Scene
from swingcheck.scenefile.broken import value_of
from swingcheck.scenefile.reading import read_scene
from swingcheck.scenefile.registry import NAMES
from swingcheck.scenefile.settings import typed_value
from swingcheck.scenefile.spec import Key, Kind, Table
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

_REST = "\n# What follows is left out until the # before its lines is taken away.\n"


def starter_scene(values: Mapping[str, str]) -> str:
    r"""Return a commented scene with the given measurements, the usual ones shown beside.

    ``values`` are what was typed for dotted keys, ``opening.width`` and
    ``opening.height`` at the least. Raises SceneError when a measurement is missing,
    cannot be read or cannot be built, or a key has no line in a starter.

    Examples
    --------
    >>> text = starter_scene({"opening.width": '30 1/8"', "opening.height": "80 1/2"})
    >>> [line.split("#")[0].rstrip() for line in text.splitlines() if line.startswith("width")]
    ['width            = \'30 1/8"\'']
    """
    unknown = [
        Problem(key=key, value=value, expected="has no line in a starter scene")
        for key, value in values.items()
        if key not in dict(_asked("", NAMES.root))
    ]
    if unknown:
        raise SceneError("starter scene", unknown)
    given = {key: _literal(key, value) for key, value in values.items()}
    plain = "\n".join(f"{key} = {value}" for key, value in given.items())
    scene = read_scene(plain, name="starter scene")
    rest = "".join(_left_out(path, table, scene) for path, table in _samples("", NAMES.root))
    return _INTRO + "\n" + "\n".join(_main_lines(scene, given)) + "\n" + _REST + rest


def _asked(path: str, table: Table) -> Iterator[tuple[str, str]]:
    """Yield the keys that have a line in a starter, and how each is taken."""
    for name, node in table.keys.items():
        key = f"{path}{name}"
        if isinstance(node, Table) and not (node.plain or node.one):
            if node.ask and node.sample is None:
                yield from _asked(f"{key}.", node)
        else:
            ask = node.plain.ask if isinstance(node, Table) and node.plain else node.ask
            if ask is not None:
                yield key, ask


def _samples(path: str, table: Table) -> Iterator[tuple[str, Table]]:
    """Yield the tables that are shown whole, and left out."""
    for name, node in table.keys.items():
        if isinstance(node, Table) and node.ask:
            if node.sample is not None:
                yield f"{path}{name}", node
            yield from _samples(f"{path}{name}.", node)


def _main_lines(scene: Scene, given: Mapping[str, str]) -> Iterator[str]:
    """Yield the lines of what every opening has, those not given left out."""
    table = ""
    for key, says in _asked("", NAMES.root):
        path, _, name = key.rpartition(".")
        if path != table:
            table, heading = path, NAMES.keys[path].ask
            yield from ("", f"# {heading}", f"[{path}]")
        value = given.get(key)
        if value is None:
            value = _toml(value_of(scene, key), scene.unit)
        mark = "" if key in given else "#"
        line = f"{mark}{name:<{17 - len(mark)}}= {value}"
        yield f"{line:<42} # {says}" if says else line


def _left_out(path: str, table: Table, scene: Scene) -> str:
    """Return a table that not every opening has, all of it left out."""
    sample: Mapping[str, Any] = table.sample or {
        name: node.usual
        for name, node in table.keys.items()
        if isinstance(node, Key) and node.usual is not None
    }
    says = "".join(f"# {line}\n" for line in (table.ask or "").split("\n"))
    heading = f"[[{path}]]" if table.many else f"[{path}]"
    lines = []
    for name, value in sample.items():
        own = value(scene) if callable(value) else value
        text = value if isinstance(value, str) else _toml(own, scene.unit)
        lines.append(f"#{name} = {text}\n")
    return f"\n{says}#{heading}\n{''.join(lines)}"


def _toml(value: object, unit: str) -> str:
    """Return a value of a scene as TOML."""
    if isinstance(value, Rabbet):
        value = value.hinge
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
    raise TypeError(f"no TOML for {value!r}")


def _length(value: float, unit: str) -> str:
    """Return a length as TOML: a fraction where that is exact, else a number of the unit."""
    if unit == "in" and (value * 64).is_integer():
        return _quoted(fraction_text(value))
    return f"{in_unit(value, unit):.{3 if unit == 'in' else 1}f}".rstrip("0").rstrip(".")


def _literal(key: str, typed: str) -> str:
    """Return what was typed for a key as TOML: its own TOML where it is that, else in quotes."""
    spec = NAMES.keys[key]
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
