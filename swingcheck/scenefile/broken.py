"""A limit that a measurement breaks, before it is put in words for its file."""

from __future__ import annotations

from dataclasses import dataclass

SLACK = 1e-9  # inches: under what any tape reads


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A limit that a measurement breaks.

    ``key`` and ``value`` are the measurement; ``others`` the keys that the
    limit comes from.
    """

    key: str
    value: str
    expected: str
    others: tuple[str, ...] = ()
    hint: str = ""
