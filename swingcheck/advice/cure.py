"""A change that cures a fault, as plain values."""

from __future__ import annotations

from dataclasses import dataclass

from swingcheck.units import length_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """A change that cures the fault: bench words, and the same as ``--set`` would take it.

    ``words`` are in the scene's unit; ``frame`` is the same with a ``{}`` for
    each of ``lengths``, inches.
    """

    words: str
    settings: tuple[tuple[str, str], ...]
    frame: str = ""
    lengths: tuple[float, ...] = ()

    def said_in(self, unit: str) -> str:
        """Return the words with their lengths in ``"in"`` or ``"mm"``."""
        if not self.lengths:
            return self.words
        return self.frame.format(*(length_text(length, unit) for length in self.lengths))
