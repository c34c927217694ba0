"""Naming things in a sentence: parts, places, touches."""

from __future__ import annotations

from collections.abc import Sequence

from swingcheck.report.lengths import Lengths
from swingcheck.swing.found import Touch
from swingcheck.units import angle_text

STATIONS = ("top", "middle", "bottom")
SIDES = ("hinge side", "strike side")

SAME_EVERYWHERE = 1 / 128
"""Margins that differ by less than this read alike on a tape, inches."""


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


def sentence(words: str) -> str:
    """Return words with a capital first letter and a full stop."""
    return f"{words[0].upper()}{words[1:]}."


def least_place(values: Sequence[float], places: Sequence[str]) -> tuple[float, str]:
    """Return the least value, and `` at the <place>`` unless it is the same everywhere.

    Examples
    --------
    >>> least_place((0.0, 0.0625, 0.125), STATIONS), least_place((0.1, 0.1, 0.1), STATIONS)
    ((0.0, ' at the top'), (0.1, ''))
    """
    least = min(values)
    alike = max(values) - least < SAME_EVERYWHERE
    return least, "" if alike else f" at the {places[list(values).index(least)]}"


def leaves_as_one(names: Sequence[str]) -> list[str]:
    """Return part names with the jamb leaves of several hinges as one, where the first stood.

    Examples
    --------
    >>> leaves_as_one(["jamb leaf of the top hinge", "jamb leaf of the bottom hinge", "head"])
    ['jamb leaves', 'head']
    """
    leaves = [name for name in names if name.startswith("jamb leaf")]
    if len(leaves) < 2:
        return list(names)
    kept = [name for name in names if name not in leaves[1:]]
    return ["jamb leaves" if name == leaves[0] else name for name in kept]


def moving_part(touch: Touch) -> str:
    """Return what touches, as the subject of a sentence."""
    return the(touch.feature or touch.by)


def heights(touch: Touch, lengths: Lengths) -> str:
    """Return where up the opening the parts touch."""
    low, high = touch.span
    if high - low < 0.25:
        return f"{lengths.rough(touch.point[2])} above the floor"
    return f"{lengths.rough(low)} to {lengths.rough(high)} above the floor"


def turned(angle: float) -> str:
    """Return a swing angle, and that it is to the push side where it is.

    Examples
    --------
    >>> turned(0.05), turned(-0.05)
    ('2.86 deg', '2.86 deg to the push side')
    """
    words = angle_text(abs(angle))
    return f"{words} to the push side" if angle < 0 else words


def meeting(touch: Touch, lengths: Lengths) -> str:
    """Return the sentence that says what touches what, at which angle and where."""
    met = listed([the(name) for name in leaves_as_one((touch.against, *touch.also))])
    return sentence(
        f"{moving_part(touch)} meets {met} at {turned(touch.angle)}, {heights(touch, lengths)}"
    )


def short_of_closed(touch: Touch, lengths: Lengths) -> str:
    """Return how far the strike edge is from its closed place."""
    return f"strike edge {lengths.full(touch.opening_at_strike)} short of closed"
