"""What is alike put together, in the order it comes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

_K = TypeVar("_K")
_T = TypeVar("_T")


def grouped(pairs: Iterable[tuple[_K, _T]]) -> dict[_K, list[_T]]:
    """Return what stands behind each key, both in the order they come.

    Examples
    --------
    >>> grouped([(2, "hinge"), (0, "strike"), (2, "head")])
    {2: ['hinge', 'head'], 0: ['strike']}
    """
    groups: dict[_K, list[_T]] = {}
    for key, each in pairs:
        groups.setdefault(key, []).append(each)
    return groups
