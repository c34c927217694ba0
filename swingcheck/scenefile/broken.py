"""A limit that a measurement breaks, before it is put in words for its file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from swingcheck.model import Scene
from swingcheck.units import length_text

SLACK_IN = 1e-9  # under what any tape reads
_STEP = re.compile(r"(\w+)(?:\[(\d+)\])?")

Rule = tuple[Any, ...]
"""What a length must be: the arguments of `beyond` from ``must`` on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A limit that a measurement breaks.

    ``key`` and ``value`` are the measurement; ``others`` the keys that the
    limit comes from. ``follows`` is the key that the measurement is taken from
    where it is left out: what that one breaks already is not told twice.
    """

    key: str
    value: str
    expected: str
    others: tuple[str, ...] = ()
    hint: str = ""
    follows: str = ""


def beyond(
    scene: Scene,
    key: str,
    must: str,
    limit: float,
    words: str,
    *others: str,
    value: float | None = None,
    hint: str = "",
    follows: str = "",
) -> Iterator[Broken]:
    """Yield the limit that a length breaks, where it breaks it.

    The length is at ``key``, or ``value`` (inches) where that is no plain one; it ``must``
    be ``<``, ``<=``, ``>`` or ``>=`` the ``limit`` (inches), in words that have ``{}`` for
    it; ``others`` are the keys that the limit comes from.
    """
    own = float(value_of(scene, key) if value is None else value)
    over = limit - own if must[0] == ">" else own - limit
    if over >= (SLACK_IN if must.endswith("=") else -SLACK_IN):
        yield Broken(
            key=key,
            value=length_text(own, scene.unit),
            expected=words.format(length_text(limit, scene.unit)),
            others=others,
            hint=hint,
            follows=follows,
        )


def left_out(key: str, why: str, *others: str, value: str = "there") -> Broken:
    """Return that something cannot be there beside another."""
    return Broken(key=key, value=value, expected=f"left out: {why}", others=others)


def value_of(scene: Scene, key: str) -> Any:
    """Return what a scene has for a key of its file.

    A list of values by hinge has a name in the plural there.
    """
    node: Any = scene
    for name, place in _STEP.findall(key):
        node = getattr(node, name if hasattr(node, name) else f"{name}s")
        node = node[int(place)] if place else node
    return node
