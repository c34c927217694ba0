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
from dataclasses import dataclass

import numpy as np

from swingcheck.chance.measurements import Measurement, rows, why_missing
from swingcheck.chance.values import measured
from swingcheck.geometry.solid import Floats
from swingcheck.model import EdgeShape, Scene

SETTING = "hinge.slab.setback"
"""The measurement that the jig sets."""


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


def drawn_errors(scene: Scene, held: Sequence[Tolerance], count: int, seed: int) -> Floats:
    """Return random errors (count, len(held)), inches and radians.

    A setback or a depth that would come out under 0 is 0. The first draws are
    the same however many there are.
    """
    random = np.random.default_rng(seed)
    amounts = np.array([each.amount for each in held])
    shares = random.uniform(-0.5, 0.5, (count, len(held), 2)).sum(axis=2)
    return kept_above_nothing(scene, held, shares * amounts)


def kept_above_nothing(scene: Scene, held: Sequence[Tolerance], errors: Floats) -> Floats:
    """Return errors (n, d), those of setbacks and depths no greater than they are themselves."""
    kept = errors.copy()
    for k, each in enumerate(held):
        path = each.measurement.along[0].path
        if path.startswith("hinge."):
            kept[:, k] = np.maximum(kept[:, k], -min(measured(scene, path)))
    return kept
