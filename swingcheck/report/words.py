"""How a report writes lengths, parts, places and touches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor

from swingcheck.chance.measurements import Measurement
from swingcheck.model import Assumed
from swingcheck.swing.found import Touch
from swingcheck.units import MM_PER_INCH, angle_text, fraction_text, length_text, rough_length
from swingcheck.units.words import listed_parts, sentence, the

STATIONS = ("top", "middle", "bottom")
SIDES = ("hinge side", "strike side")

ALIKE_IN = 1 / 128
"""Lengths that differ by less than this read alike on a tape."""

CLOSED_RAD = 1e-3
"""A slab no farther open than this is closed for reading."""

SPOT_IN = 1 / 4
"""Contacts no higher than this are told as one height, not as a span."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """The unit that a report's lengths are written in, ``"in"`` or ``"mm"``."""

    unit: str

    def full(self, value: float) -> str:
        """Return a length with its unit.

        Examples
        --------
        >>> Lengths(unit="in").full(3.497), Lengths(unit="mm").full(3.497)
        ('3 1/2 in (3.497)', '88.8 mm')
        """
        return length_text(value, self.unit)

    def bare(self, value: float) -> str:
        """Return a length without its unit, for a table that names it once.

        Examples
        --------
        >>> Lengths(unit="in").bare(3.497), Lengths(unit="mm").bare(3.497)
        ('3 1/2 (3.497)', '88.8')
        """
        return length_text(value, self.unit).replace(f" {self.unit}", "", 1)

    def cells(self, values: Iterable[float]) -> tuple[str, ...]:
        """Return lengths without their unit, side by side in a table."""
        return tuple(map(self.bare, values))

    def size(self, value: float) -> str:
        """Return a size to be read off a tape: the nearest 64th, or tenth of a millimetre, bare.

        Examples
        --------
        >>> Lengths(unit="in").size(29.889), Lengths(unit="mm").size(29.889)
        ('29 57/64', '759.2')
        >>> Lengths(unit="mm").size(850 / 25.4)
        '850'
        """
        return fraction_text(value) if self.unit == "in" else self.bare(value).removesuffix(".0")

    def by(self, *sizes: float) -> str:
        """Return sizes as one by the other."""
        return " x ".join(map(self.size, sizes))

    def fine(self, value: float) -> str:
        """Return a small length in thousandths of an inch, or in hundredths of a millimetre.

        Examples
        --------
        >>> Lengths(unit="in").fine(0.006), Lengths(unit="mm").fine(0.006)
        ('0.006 in', '0.15 mm')
        """
        return f"{value * MM_PER_INCH:.2f} mm" if self.unit == "mm" else f"{value:.3f} in"

    def of(self, free: Measurement, value: float) -> str:
        """Return a value of a dimension: an angle (radians), or a length."""
        return angle_text(value) if free.is_angle else self.full(value)

    def flush(self, proud: float) -> str:
        """Return how far the wide face stands proud of the jamb's edge or shy of it, no unit."""
        if abs(proud) < ALIKE_IN:
            return "flush"
        return f"{self.bare(abs(proud))} {'proud' if proud > 0 else 'shy'}"

    def rough(self, value: float) -> str:
        """Return a length that says where, not how much."""
        return rough_length(value, self.unit)


def assumed_text(items: Iterable[Assumed]) -> str:
    """Return what was assumed, each key with the value taken for it."""
    return "; ".join(f"{item.key} {item.value}" for item in items)


def of_hundred(share: float, *, fine: bool = False) -> str:
    """Return a share as so many of a hundred, that claims neither all nor none.

    Whole where it is between 1 and 99, unless it is to be ``fine``, and never more than
    there are: 94.9 is not 95.

    Examples
    --------
    >>> of_hundred(0.9712), of_hundred(0.9991), of_hundred(0.99999), of_hundred(1.0)
    ('97', '99.9', '99.9', '100')
    >>> of_hundred(0.0), of_hundred(0.00001), of_hundred(0.887), of_hundred(0.887, fine=True)
    ('0', '0.1', '88', '88.7')
    """
    if share in (0.0, 1.0) or (not fine and 0.01 <= share <= 0.99):
        return f"{floor(share * 100 + 1e-9)}"
    return f"{min(max(share * 100, 0.1), 99.9):.1f}".removesuffix(".0")


def numbered(words: Sequence[str]) -> tuple[str, ...]:
    """Return words with their numbers, as ``--cure`` takes them.

    Examples
    --------
    >>> numbered(["Move the stops", "Plane the head"]), numbered(["Move the stops"])
    (('1  Move the stops', '2  Plane the head'), ('Move the stops',))
    """
    if len(words) < 2:
        return tuple(words)
    return tuple(f"{number}  {each}" for number, each in enumerate(words, 1))


def least_place(values: Sequence[float], places: Sequence[str]) -> tuple[float, str]:
    """Return the least value, and `` at the <place>`` unless it is the same everywhere.

    Examples
    --------
    >>> least_place((0.0, 0.0625, 0.125), STATIONS), least_place((0.1, 0.1, 0.1), STATIONS)
    ((0.0, ' at the top'), (0.1, ''))
    """
    least = min(values)
    alike = max(values) - least < ALIKE_IN
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
    if high - low < SPOT_IN:
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
    met = listed_parts(leaves_as_one((touch.against, *touch.also)))
    return sentence(
        f"{moving_part(touch)} meets {met} at {turned(touch.angle)}, {heights(touch, lengths)}"
    )


def short_of_closed(touch: Touch, lengths: Lengths) -> str:
    """Return how far the strike edge is from its closed place."""
    return f"strike edge {lengths.full(touch.opening_at_strike)} short of closed"


def place_in_swing(angle: float) -> str:
    """Return where in the swing: closed, or at an angle.

    Examples
    --------
    >>> place_in_swing(0.0), place_in_swing(0.05)
    ('when closed', 'at 2.86 deg')
    """
    return "when closed" if abs(angle) < CLOSED_RAD else f"at {turned(angle)}"
