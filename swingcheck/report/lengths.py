"""How lengths are written in one report."""

from __future__ import annotations

from dataclasses import dataclass

from swingcheck.units import MM_PER_INCH, fraction_text, length_text


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

    def rough(self, value: float) -> str:
        """Return a length that says where, not how much: to 1/8 in or 1 mm.

        Examples
        --------
        >>> Lengths(unit="in").rough(79.76), Lengths(unit="mm").rough(79.76)
        ('79 3/4 in', '2026 mm')
        """
        if self.unit == "mm":
            return f"{value * MM_PER_INCH:.0f} mm"
        return f"{fraction_text(value, 8)} in"
