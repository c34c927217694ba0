"""How closely a person works, and the errors that come of it.

Every plus-or-minus of the bench is taken for a limit that is kept, with errors
near it less likely than small ones: a symmetric triangular distribution on
``[-a, a]``, whose standard deviation is ``a / sqrt(6)``. That is how the Guide
to the Expression of Uncertainty in Measurement (JCGM 100:2008, 4.3.9; from
memory) has it where only bounds are known and values near the middle are the
likelier; and as no draw goes past a tolerance, the worst case at the tolerance
corners and the chance speak of the same slab. Whoever overruns a tolerance one
time in twenty should state a wider one.

Errors are independent of each other. One is the same at every station and
every hinge that it goes for: a jig that is set off is off three times. What
has no tolerance (twist, plumb, the heights of the leaves) is as measured.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.chance.measurements import Measurement, rows, why_missing
from swingcheck.chance.values import measured
from swingcheck.geometry.solid import Floats
from swingcheck.model import EdgeShape, Scene

SETTING = "hinge.slab.setback"
"""The measurement that the jig sets."""

LOT = 4096
"""Draws that come from one generator: any of them is drawn without those of other lots."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """A plus-or-minus (inches or radians) that one measurement of the scene is held to.

    ``words`` is what the measurement is called at the bench.
    """

    words: str
    measurement: Measurement
    amount: float


def tolerances(scene: Scene) -> tuple[Tolerance, ...]:
    """Return what each measurement of a scene is held to; those held exactly are left out.

    An edge that is planed square is held exactly.
    """
    edges = {"hinge": scene.slab.hinge_edge, "strike": scene.slab.strike_edge}
    exact = {f"slab.{k}_edge.bevel" for k, v in edges.items() if v.shape is EdgeShape.SQUARE}
    found = []
    for each in rows(scene):
        words, name = each.held
        amount = getattr(scene.shop, name) if name else 0.0
        if amount > 0 and each.key not in exact and not why_missing(scene, each.key):
            found.append(Tolerance(words=words, measurement=each, amount=amount))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draws:
    """Slabs drawn at random, told by how: the same ones wherever they are drawn.

    ``first`` is how many are drawn before these ``count``.
    """

    scene: Scene
    held: tuple[Tolerance, ...]
    seed: int
    count: int
    first: int = 0

    def part(self, first: int, count: int) -> Draws:
        """Return some of these draws, no more than there are."""
        return replace(self, first=self.first + first, count=min(count, self.count - first))

    @property
    def errors(self) -> Floats:
        """What each draw is off by (count, held), inches and radians.

        A setback or a depth that would come out under 0 is 0.
        """
        lots = range(self.first // LOT, (self.first + self.count - 1) // LOT + 1)
        shares = np.concatenate([self._shares(lot) for lot in lots])
        begin = self.first - lots[0] * LOT
        amounts = np.array([each.amount for each in self.held])
        shares = shares[begin : begin + self.count]
        return kept_above_nothing(self.scene, self.held, shares * amounts)

    def _shares(self, lot: int) -> Floats:
        """Return a lot's errors as shares of the tolerances; each lot has its own generator."""
        last = min(LOT, self.first + self.count - lot * LOT)
        random = np.random.default_rng([self.seed, lot])
        shares: Floats = random.uniform(-0.5, 0.5, (last, len(self.held), 2)).sum(axis=2)
        return shares

    @property
    def values(self) -> Floats:
        """What is held, as each draw has it (count, held)."""
        return self.errors + [each.measurement.value(self.scene) for each in self.held]


def kept_above_nothing(scene: Scene, held: Sequence[Tolerance], errors: Floats) -> Floats:
    """Return errors (n, d), those of setbacks and depths no greater than they are themselves."""
    kept = errors.copy()
    for k, each in enumerate(held):
        path = each.measurement.along[0].path
        if path.startswith("hinge."):
            kept[:, k] = np.maximum(kept[:, k], -min(measured(scene, path)))
    return kept
