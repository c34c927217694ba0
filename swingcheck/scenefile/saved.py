"""A scene's file with settings in it, as it was typed otherwise, that reads as the scene is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from math import degrees, isclose
from typing import Any

from swingcheck.errors import Problem, SceneError
from swingcheck.model import Scene
from swingcheck.model.hinge import IN_FILE
from swingcheck.scenefile.registry import NAMES
from swingcheck.scenefile.settings import Apart, lay_over
from swingcheck.scenefile.spec import Key, Kind, Table

_IN_MODEL = {one: many for many, one in IN_FILE.items()}


def saved_text(scene: Scene) -> str:
    """Return the TOML text of a scene that was read, what was set over it put in, comments kept.

    It was read back and found the same. Raises SceneError where a file would
    not say the same.
    """
    source = scene.source
    assert source is not None
    text = set_text(source.text, source.settings, scene)
    try:
        found = source.read(replace(source, text=text, settings=()))
        is_same = is_alike(replace(found, assumed=()), replace(scene, assumed=()))
    except SceneError:
        is_same = False
    if not is_same:
        expected = "cannot be written so that the file says what is set"
        told = [Problem(key=key, value=value, expected=expected) for key, value in source.settings]
        raise SceneError(source.called, told)
    return text


def set_text(text: str, settings: Sequence[tuple[str, str]], shown: Scene) -> str:
    """Return a scene's TOML text with settings laid over it as the reader does, comments kept.

    A list of which one place was set is written as in the scene that is ``shown``.
    """
    import tomllib

    import tomlkit

    tree, document = tomllib.loads(text), tomlkit.parse(text)
    lay_over(tree, settings, NAMES)
    _put_in(document, _spelled(tree, shown, ""))
    return tomlkit.dumps(document)


def is_alike(one: Any, other: Any) -> bool:
    """Return whether two values of a model are the same, its numbers to the last digits."""
    if is_dataclass(one) and type(one) is type(other):
        named = (each.name for each in fields(one) if each.compare)
        return all(is_alike(getattr(one, name), getattr(other, name)) for name in named)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(is_alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-12, abs_tol=1e-12)
    return bool(one == other)


def _spelled(found: Any, shown: Scene, key: str) -> Any:
    """Return what a tree holds, every list written out."""
    if isinstance(found, dict):
        return {
            name: _spelled(each, shown, f"{key}.{name}" if key else name)
            for name, each in found.items()
        }
    if not isinstance(found, Apart):
        return found
    node = NAMES.keys[key]
    spec = node.plain if isinstance(node, Table) else node
    if spec is None:
        return found.base
    texts = _texts(shown, key, spec)
    if isinstance(node, Table):
        texts = [found.base or ""] * spec.spread
    return [found.places.get(place, each) for place, each in enumerate(texts)]


def _texts(shown: Scene, key: str, spec: Key) -> list[str]:
    """Return the values of a list of the scene's, with all their digits."""
    values: Any = shown
    for name in key.split("."):
        within = getattr(values, _IN_MODEL.get(name, name), None)
        values = getattr(values, name, values) if within is None else within
    if not isinstance(values, tuple):
        return []
    if spec.kind is Kind.ANGLE:
        return [f"{degrees(each)!r} deg" for each in values]
    return [f"{each!r} in" if spec.kind is Kind.LENGTH else repr(each) for each in values]


def _put_in(table: Any, tree: Mapping[str, Any]) -> None:
    """Put into a document's table what a tree has otherwise, and take out what it has not."""
    import tomlkit

    for name in [name for name in table if name not in tree]:
        del table[name]
    for name, value in tree.items():
        found = table.get(name)
        if isinstance(value, dict) and not isinstance(found, dict):
            inline = found is not None or isinstance(table, tomlkit.items.InlineTable)
            table[name] = tomlkit.inline_table() if inline else tomlkit.table()
            _put_in(table[name], value)
        elif isinstance(value, dict):
            _put_in(found, value)
        elif isinstance(value, list) and isinstance(found, list) and len(value) == len(found):
            for place, each in enumerate(value):
                if isinstance(each, dict):
                    _put_in(found[place], each)
                elif found[place] != each:
                    found[place] = each
        elif found != value:
            table[name] = value
