"""What many variants of one scene come to, as columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from swingcheck.assembly import PartKind
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.decide import STOPS, verdict_of
from swingcheck.swing.decide import VERDICTS as WORDS
from swingcheck.swing.found import Verdict

VERDICTS, KINDS = tuple(Verdict), tuple(PartKind)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Outcomes:
    """What n variants come to: (n,) each.

    ``angle`` is where closing ends short of the seat, radians, nan for
    nowhere; ``short`` the opening at the strike edge there, inches, 0 where it
    swings, nan where it never gets to close or is stopped as it opens;
    ``verdict`` indexes ``VERDICTS`` and ``against`` ``KINDS`` (-1 for
    nothing). ``hinge_margin``, ``strike_margin`` and ``hinge_stop`` are the
    closed slab's, at their least, inches (nan without a stop). ``alone`` tells
    which were swung one at a time.
    """

    angle: Floats
    short: Floats
    verdict: Ints
    against: Ints
    hinge_margin: Floats
    strike_margin: Floats
    hinge_stop: Floats
    alone: Bools

    @property
    def swings(self) -> Bools:
        """Tell (n,) which variants swing."""
        found: Bools = self.verdict == VERDICTS.index(Verdict.SWINGS)
        return found

    @property
    def margin(self) -> Floats:
        """Return the lesser margin (n,) of the two legs."""
        return np.minimum(self.hinge_margin, self.strike_margin)


def joined(parts: Sequence[Outcomes], order: Ints | None = None) -> Outcomes:
    """Return outcomes, at least one lot of them, as one; with ``order`` (n,) its rows so picked."""
    rows = slice(None) if order is None else order
    columns = {
        own.name: np.concatenate([getattr(part, own.name) for part in parts])[rows]
        for own in fields(Outcomes)
    }
    return Outcomes(**columns)


def replaced(found: Outcomes, rows: Ints, by: Outcomes) -> Outcomes:
    """Return outcomes with some rows (k,) as others have them."""
    order = np.arange(len(found.alone))
    order[rows] = len(order) + np.arange(len(rows))
    return joined([found, by], order)


def verdicts(scene: Scene, hinge_stop: Floats, against: Ints, opening: Floats) -> Ints:
    """Return the verdicts (n,) on what is met as closing: kinds (n,), at openings (n,).

    ``hinge_stop`` (n,) is the closed slab's face to the hinge stop at the top: where it
    would stand into the head stop there, it meets that in its hinge half.
    """
    rabbet = scene.opening.rabbet
    at_hinges = hinge_stop + (rabbet.head[0] - rabbet.hinge[0]) < 0
    verdict = np.full(len(opening), VERDICTS.index(Verdict.SWINGS), dtype=np.int64)
    for k, kind in enumerate(KINDS):
        if kind not in WORDS:
            continue
        hit = against == k
        if kind in STOPS:
            hit &= opening > scene.swing.seat
        for half in (False, True):
            verdict[hit & (at_hinges == half)] = VERDICTS.index(verdict_of(kind, half))
    return verdict
