"""A change that cures a fault: what to do at the bench, and the same for a scene's file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import tan

from swingcheck.chance.measurements import Measurement
from swingcheck.chance.values import measured
from swingcheck.model import Scene
from swingcheck.units import angle_text, length_text

Said = tuple[str, tuple[float, ...]]
"""Words with a ``{}`` for each of some lengths, and those, inches."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One measurement of a scene set to another value, inches or radians."""

    measurement: Measurement
    before: Scene
    value: float

    @property
    def by(self) -> float:
        """How much more it is than it was."""
        return self.value - self.measurement.value(self.before)

    @property
    def size(self) -> float:
        """How big it is, inches: of a bevel, across the slab's thickness."""
        angle = self.measurement.is_angle
        return self.before.slab.thickness * tan(abs(self.by)) if angle else abs(self.by)

    @property
    def after(self) -> Scene:
        """The scene with the change."""
        return self.measurement.changed(self.before, self.value)

    def said(self) -> Said:
        """Return what to do at the bench."""
        own, by = self.measurement, abs(self.by)
        act = own.more if self.by > 0 else own.less
        if own.is_angle:
            return act.format(by=angle_text(by), to=f", to {angle_text(self.value)}"), ()
        if len(set(measured(self.after, own.along[0].path))) > 1:
            return act.format(by="{}", to=""), (by,)
        return act.format(by="{}", to=", to {}"), (by, self.value)


def cure_of(
    changes: Sequence[Change],
    said: Sequence[Said],
    *,
    lead: Said = ("", ()),
    tail: Said = ("", ()),
    joint: str = "; ",
) -> Cure:
    """Return changes, one after another, as one cure.

    Parameters
    ----------
    changes : sequence of Change
        Each of the scene that the one before it comes to.
    said : sequence of Said
        What to do, joined by ``joint``; ``lead`` goes before and ``tail`` after it.
    """
    first, *rest = (frame for frame, _ in said)
    joined = first + "".join(f"{joint}{frame[0].lower()}{frame[1:]}" for frame in rest)
    frame = lead[0] + joined + tail[0]
    lengths = tuple(length for _, own in (lead, *said, tail) for length in own)
    settings: dict[str, str] = {}
    for change in changes:
        settings |= dict(change.measurement.settings(change.before, change.value))
    unit = changes[0].before.unit
    words = frame.format(*(length_text(length, unit) for length in lengths))
    return Cure(words=words, settings=tuple(settings.items()), frame=frame, lengths=lengths)
