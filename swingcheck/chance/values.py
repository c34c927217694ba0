"""Measurements of a scene by name: read, shifted, put back, and written as a setting.

A name is the way through the model, ``hinge.slab.setbacks``, with a place
where there are several, ``hinge.slab.setbacks[1]``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from math import degrees
from typing import Any

from swingcheck.model import Edge, EdgeShape, Scene, Stations
from swingcheck.model.hinge import IN_FILE
from swingcheck.units import MM_PER_INCH, fraction_text

#: How many places one value stands for where one of them is set apart.
_SPREAD = {"slab.width": 3, "opening.width": 3, "slab.height": 2}


class Lean(Enum):
    """How a shift is spread over places: alike, or running out from one end to the other."""

    NONE = "all"
    TOP = "top"
    BOTTOM = "bottom"


def measured(scene: Scene, path: str) -> Stations:
    """Return a measurement's values, one or several; with a place in the name that one alone."""
    values, index = _all_values(scene, path)
    return values if index is None else values[index : index + 1]


def place_count(scene: Scene, path: str) -> int:
    """Return how many places a measurement was taken at."""
    return len(_all_values(scene, path)[0])


def shifted(scene: Scene, path: str, by: float, lean: Lean = Lean.NONE) -> Stations:
    """Return a measurement's values, each shifted.

    A lean shifts the first (top) or last (bottom) by the whole amount and runs
    out to nothing at the other end: by the leaves' heights on hinges, else
    evenly; one value becomes two.
    """
    values = measured(scene, path)
    if lean is Lean.NONE:
        return tuple(value + by for value in values)
    if len(values) == 1:
        values *= 2
    shares = _shares(scene, path, len(values))
    if lean is Lean.TOP:
        shares = tuple(1 - share for share in shares)
    return tuple(value + by * share for value, share in zip(values, shares, strict=True))


def _shares(scene: Scene, path: str, count: int) -> Stations:
    """Return how far down each place is, 0 at the first and 1 at the last."""
    if path.startswith("hinge."):
        tops = scene.hinge.jamb.tops
        return tuple((top - tops[0]) / (tops[-1] - tops[0]) for top in tops)
    return tuple(place / (count - 1) for place in range(count))


def with_values(scene: Scene, path: str, values: Sequence[float]) -> Scene:
    """Return the scene with a measurement's values put in place of what was there."""
    whole, index = _all_values(scene, path)
    put = tuple(values) if index is None else (*whole[:index], *values, *whole[index + 1 :])
    changed: Scene = _put(scene, path.split("[")[0].split("."), put)
    return changed


def _put(node: Any, names: Sequence[str], values: Stations) -> Any:
    name, rest = names[0], names[1:]
    if isinstance(node, Edge):
        return Edge(shape=EdgeShape.BEVEL, bevel=values[0])
    if rest:
        return replace(node, **{name: _put(getattr(node, name), rest, values)})
    several = isinstance(getattr(node, name), tuple)
    return replace(node, **{name: values if several else values[0]})


def _all_values(scene: Scene, path: str) -> tuple[Stations, int | None]:
    base, _, index = path.rstrip("]").partition("[")
    node: Any = scene
    for name in base.split("."):
        node = getattr(node, name)
    values: Stations = node if isinstance(node, tuple) else (node,)
    if not index:
        return values, None
    if len(values) == 1:
        values *= _SPREAD.get(base, int(index) + 1)
    return values, int(index)


def numbers_under(scene: Scene, path: str) -> tuple[str, ...]:
    """Return the measurements that a name stands for: itself, or those of a table."""
    node: Any = scene
    for name in path.split("."):
        node = getattr(node, name)
    if is_dataclass(node):
        return tuple(f"{path}.{each.name}" for each in fields(node))
    return (path,)


def setting_text(scene: Scene, path: str) -> tuple[str, str]:
    """Return the key and the value that ``--set`` takes for a measurement as it is."""
    if path.endswith("hinge.count"):
        return path, f"{measured(scene, path)[0]:.0f}"
    write = _angle_setting if path.endswith(".bevel") else length_setting
    texts = [write(value, scene.unit) for value in measured(scene, path)]
    if len(set(texts)) == 1 and not path.endswith(".tops"):
        return in_file(path), texts[0]
    return in_file(path), "[" + ", ".join(f'"{text}"' for text in texts) + "]"


def following_paths(scene: Scene, paths: Sequence[str]) -> Iterator[str]:
    """Yield the other slab's measurements that a scene file leaves to follow from these."""
    left_out = {item.key for item in scene.assumed}
    ends = "lower.shelf.ends"
    if ends in left_out and "stop.projection" in paths:
        yield ends
    for table in ("inactive", "lower"):
        if getattr(scene, table) is None:
            continue
        for path in paths:
            key = f"{table}.{in_file(path).removesuffix('.bevel').split('[')[0]}"
            names = key.split(".")
            tables = {".".join(names[: k + 1]) for k in range(1, len(names))}
            if tables & left_out and not _is_round(scene, table, path):
                yield f"{table}.{path.split('[')[0]}"


def held_settings(after: Scene, paths: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield settings that hold a slab on pivots where it hangs though its stops are moved."""
    out = "pivot.jamb.out"
    if after.pivot is None or out not in {item.key for item in after.assumed}:
        return
    if any(path.startswith("opening.rabbet") for path in paths):
        texts = [f'"{length_setting(value, after.unit)}"' for value in after.pivot.out]
        yield out, f"[{', '.join(texts)}]"


def _is_round(scene: Scene, table: str, path: str) -> bool:
    if not path.endswith("_edge.bevel"):
        return False
    edge = getattr(getattr(scene, table).slab, path.split(".")[1])
    return bool(edge.is_round)


def in_file(path: str) -> str:
    """Return what a scene file calls a measurement.

    Examples
    --------
    >>> in_file("hinge.slab.setbacks[1]"), in_file("slab.width")
    ('hinge.slab.setback[1]', 'slab.width')
    """
    *above, name = path.split(".")
    base, bracket, place = name.partition("[")
    return ".".join([*above, IN_FILE.get(base, base) + bracket + place])


def length_setting(value: float, unit: str) -> str:
    """Return a length as a scene file takes it, with all its digits.

    Examples
    --------
    >>> length_setting(0.28125, "in"), length_setting(0.097, "in"), length_setting(0.51, "mm")
    ('9/32 in', '0.097 in', '12.954 mm')
    """
    if abs(value * 64 - round(value * 64)) < 1e-11:
        return f"{fraction_text(value)} in"
    if unit == "mm":
        return f"{_digits(value * MM_PER_INCH)} mm"
    return f"{_digits(value)} in"


def _angle_setting(angle: float, unit: str) -> str:
    return f"{_digits(degrees(angle))} deg"


def _digits(value: float) -> str:
    """Return a number with all the digits that mean anything, and no exponent."""
    return f"{value:.12f}".rstrip("0").rstrip(".")
