"""A limit that a measurement breaks, before it is put in words for its file."""

from __future__ import annotations

from dataclasses import dataclass

SLACK = 1e-9  # inches: under what any tape reads


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
