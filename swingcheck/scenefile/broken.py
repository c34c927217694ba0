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
    limit: float | str,
    words: str,
    *others: str,
    value: float | None = None,
    hint: str = "",
    follows: str = "",
) -> Iterator[Broken]:
    """Yield the limit that a length breaks, where it breaks it; none of what is not there.

    The length is at ``key``, or ``value`` (inches) where that is no plain one; it ``must``
    be ``<``, ``<=``, ``>`` or ``>=`` the ``limit`` (inches), in words that have ``{}`` for
    it; ``others`` are the keys that the limit comes from, one of itself where that is a key.
    """
    own = value_of(scene, key) if value is None else value
    most = value_of(scene, limit) if isinstance(limit, str) else limit
    if own is None or most is None:
        return
    over = most - own if must[0] == ">" else own - most
    if over >= (SLACK_IN if must.endswith("=") else -SLACK_IN):
        yield Broken(
            key=key,
            value=length_text(own, scene.unit),
            expected=words.format(length_text(most, scene.unit)),
            others=(limit, *others) if isinstance(limit, str) else others,
            hint=hint,
            follows=follows,
        )


def left_out(key: str, why: str, *others: str, value: str = "there") -> Broken:
    """Return that something cannot be there beside another."""
    return Broken(key=key, value=value, expected=f"left out: {why}", others=others)


def value_of(scene: Scene, key: str) -> Any:
    """Return what a scene has for a key of its file; ``None`` where that is not there.

    A list of values by hinge has a name in the plural there.
    """
    node: Any = scene
    for name, place in _STEP.findall(key):
        if node is None:
            break
        node = getattr(node, name if hasattr(node, name) else f"{name}s")
        node = node[int(place)] if place else node
    return node
