"""Figures cut into runs, so that a fraction is set as one and not as 13 over a slash."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

_FRACTION = re.compile(r"(?:(?P<whole>\d+) )?(?P<over>\d+)/(?P<under>\d+)")
_ASIDE = re.compile(r"(\([^)]*\))")


class Set(Enum):
    """How a run of a figure is set."""

    PLAIN = "plain"
    OVER = "over"
    UNDER = "under"
    SMALL = "small"


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a figure and how it is set."""

    text: str
    set: Set = Set.PLAIN


def runs(value: str) -> list[Run]:
    """Return a figure's runs: fractions raised and lowered, what is in brackets small.

    Examples
    --------
    >>> [(run.text, run.set.value) for run in runs("3/32 (0.097)")]
    [('3', 'over'), ('\u2044', 'plain'), ('32', 'under'), (' (0.097)', 'small')]
    >>> [run.text for run in runs("29 7/8 x 80")]
    ['29', '\u2009', '7', '\u2044', '8', ' x 80']
    """
    found: list[Run] = []
    for piece in _ASIDE.split(value.replace(" deg", "\u00b0")):
        if _ASIDE.fullmatch(piece):
            found.append(Run(f" {piece}", Set.SMALL))
        else:
            found += _plain_runs(piece.rstrip(" ") if found or "(" in value else piece)
    return [run for run in found if run.text]


def _plain_runs(text: str) -> list[Run]:
    found = []
    end = 0
    for match in _FRACTION.finditer(text):
        found.append(Run(text[end : match.start()]))
        if match["whole"]:
            found += [Run(match["whole"]), Run("\u2009", Set.SMALL)]
        found += [Run(match["over"], Set.OVER), Run("\u2044"), Run(match["under"], Set.UNDER)]
        end = match.end()
    return [*found, Run(text[end:])]
