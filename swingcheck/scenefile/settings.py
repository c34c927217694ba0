"""Measurements changed from the command line, laid over a scene's tree."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from swingcheck.errors import Problem, UnfitError
from swingcheck.scenefile.spec import Kind, Names, Table

_PARTS = re.compile(r"[A-Za-z0-9_-]+(?:\[[0-9]{1,4}\])?(?:\.[A-Za-z0-9_-]+(?:\[[0-9]{1,4}\])?)*")
_A_KEY = "a key, such as slab.width or hinge.slab.setback[1]"
_NO_KEY = "no key of a scene"


@dataclass(slots=True)
class Apart:
    """One value for all places, or none, with some of the places set apart."""

    base: Any = None
    places: dict[int, Any] = field(default_factory=dict)


def lay_over(
    tree: dict[str, Any], settings: Sequence[tuple[str, str]], names: Names
) -> list[Problem]:
    """Change a scene's tree in place, one setting after the other.

    A value is read as TOML where it is TOML, else it is words. A list of which
    one place is set, where the tree has no list, becomes an `Apart`. Returned
    are the settings that name nothing in a scene.
    """
    return [
        problem
        for key, value in settings
        if (problem := _lay_one(tree, key.strip(), value.strip(), names)) is not None
    ]


def typed_value(text: str) -> Any:
    """Return what a typed value means: its TOML value if it is one, else the words.

    A list in brackets need not be TOML: each of its values is read by itself.

    Examples
    --------
    >>> typed_value("2"), typed_value("1 3/4"), typed_value('"1/8 in 2"')
    (2, '1 3/4', '1/8 in 2')
    >>> typed_value("[30, 30 1/8]")
    [30, '30 1/8']
    """
    import tomllib

    try:
        read = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):
        if re.fullmatch(r"\[[^\[\]{}]+\]", text):
            return [typed_value(each.strip()) for each in text[1:-1].split(",")]
        return text
    return read["value"] if read.keys() == {"value"} else text


def _lay_one(tree: dict[str, Any], key: str, text: str, names: Names) -> Problem | None:
    try:
        if not _PARTS.fullmatch(key):
            raise UnfitError(_A_KEY)
        split = [part.rstrip("]").partition("[") for part in key.split(".")]
        *path, last = [(name, int(at) if bracket else None) for name, bracket, at in split]
        here, node = tree, names.root
        for name, place in path:
            here, node = _table_within(here, node, name, place)
        _put(here, node, last, text)
    except UnfitError as unfit:
        told, is_key = unfit.expected, unfit.expected != _NO_KEY
        hint = "" if is_key else names.hint(re.sub(r"\[[0-9]+\]", "", key))
        return Problem(key=f"--set {key[:80]}", value=text[:60], expected=told, hint=hint)
    return None


def _table_within(
    here: dict[str, Any], node: Table, name: str, place: int | None
) -> tuple[dict[str, Any], Table]:
    """Return the table ``name`` of a table, made where it was left out, and its keys."""
    child = node.keys.get(name)
    if not isinstance(child, Table) or child.many is not (place is not None):
        raise UnfitError(_NO_KEY)
    found = here.get(name)
    if place is not None:
        each = [] if found is None else found
        if not isinstance(each, list):
            return {}, child  # the file's own fault, told with the others
        if place >= len(each):
            raise UnfitError(f"there is no {name}[{place}]: {_count_text(len(each))}")
        return each[place] if isinstance(each[place], dict) else {}, child
    if isinstance(found, dict):
        return found, child
    if child.plain is not None and found is not None:
        made = {"hinge": found, "strike": found}
    elif found is None or (child.words and isinstance(found, str)):
        made = {}
    else:
        return {}, child  # the file's own fault, told with the others
    here[name] = made
    return made, child


def _put(here: dict[str, Any], node: Table, last: tuple[str, int | None], text: str) -> None:
    name, place = last
    child = node.keys.get(name)
    if child is None:
        raise UnfitError(_NO_KEY)
    value = typed_value(text)
    inside = child.plain if isinstance(child, Table) else child
    if inside is not None and inside.kind is Kind.TEXT and not isinstance(value, str):
        value = text
    if place is None:
        if node.one:
            here.clear()
        here[name] = value
        return
    found = here.get(name)
    if isinstance(found, list):
        if place >= len(found):
            raise UnfitError(f"{name} has no [{place}]: {_count_text(len(found))}")
        found[place] = value
    elif inside is None or inside.most == 1 or isinstance(found, dict):
        raise UnfitError(_NO_KEY)
    elif inside.few == inside.most:
        raise UnfitError(f"there is no list {name} to set one value of")
    elif isinstance(found, Apart):
        found.places[place] = value
    else:
        here[name] = Apart(base=found, places={place: value})


def _count_text(count: int) -> str:
    return f"the scene has {count}, counted from [0]" if count else "the scene has none"
