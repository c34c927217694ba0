"""A limit that a measurement breaks, before it is put in words for its file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from swingcheck.units import length_text

SLACK_IN = 1e-9  # under what any tape reads


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
    unit: str,
    key: str,
    value: float,
    must: str,
    limit: float,
    words: str,
    *others: str,
    hint: str = "",
    follows: str = "",
) -> Iterator[Broken]:
    """Yield the limit that a length breaks, where it breaks it.

    Parameters
    ----------
    unit : str
        Of the scene, for the words.
    key, value : str, float
        The length, inches.
    must : str
        What it must be of the limit: ``<``, ``<=``, ``>`` or ``>=``.
    limit : float
        Inches.
    words : str
        What it must be, in words, ``{}`` for the limit.
    others : str
        The keys that the limit comes from.

    Examples
    --------
    >>> [each.expected for each in beyond("in", "stop.width", 2.0, "<", 2.0, "under {}")]
    ['under 2 in']
    >>> list(beyond("in", "stop.width", 2.0, "<=", 2.0, "at most {}"))
    []
    """
    over = limit - value if must[0] == ">" else value - limit
    if over < (SLACK_IN if must.endswith("=") else -SLACK_IN):
        return
    yield Broken(
        key=key,
        value=length_text(value, unit),
        expected=words.format(length_text(limit, unit)),
        others=others,
        hint=hint,
        follows=follows,
    )
