"""Words in a sentence and on lines: lists, articles, and where a line may break."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

NO_BREAK = "\u00a0"

_TOGETHER = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|mm|deg|lb|kg)\b)")


def together(text: str) -> str:
    r"""Return text in which no line parts a number from its fraction or its unit.

    Examples
    --------
    >>> together("cut 29 7/8 in off").split(" ")
    ['cut', '29\xa07/8\xa0in', 'off']
    """
    return _TOGETHER.sub(NO_BREAK, text)


def wrapped(text: str, width: float, width_of: Callable[[str], float]) -> tuple[str, ...]:
    """Break text into lines no wider than a width; a longer word is cut.

    A number stays with its fraction and its unit. ``width_of`` measures a line.

    Examples
    --------
    >>> wrapped("overlaps 1 1/32 in (1.029)", 12, len)
    ('overlaps', '1 1/32 in', '(1.029)')
    >>> wrapped("hinge-stop clearance", 8, len)
    ('hinge-st', 'op', 'clearanc', 'e')
    """
    lines = [""]
    for word in together(" ".join(text.split())).split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if width_of(longer) <= width:
            lines[-1] = longer
            continue
        lines.append("")
        for letter in word:
            if lines[-1] and width_of(lines[-1] + letter) > width:
                lines.append("")
            lines[-1] += letter
    return tuple(line.replace(NO_BREAK, " ") for line in lines if line)


def the(name: str) -> str:
    """Return a part's name with its article.

    Examples
    --------
    >>> the("hinge stop"), the("the sofa")
    ('the hinge stop', 'the sofa')
    """
    return name if name.startswith("the ") else f"the {name}"


def listed(words: Sequence[str]) -> str:
    """Return words as a list in a sentence.

    Examples
    --------
    >>> listed(["wall"]), listed(["wall", "casing"]), listed(["a", "b", "c"])
    ('wall', 'wall and casing', 'a, b and c')
    """
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def listed_parts(names: Iterable[str]) -> str:
    """Return parts' names as a list in a sentence, each with its article."""
    return listed([the(name) for name in names])


def upper(words: str) -> str:
    """Return words with their first letter large."""
    return f"{words[:1].upper()}{words[1:]}"


def sentence(words: str) -> str:
    """Return words with a capital first letter and a full stop."""
    return f"{upper(words)}."
