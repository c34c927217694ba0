"""What a chance is worth, and which of many errors decides it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from swingcheck.chance.tolerances import Tolerance
from swingcheck.geometry.solid import Bools, Floats

Z_95 = 1.96
"""Standard deviations either way that hold 95 in 100 of a normal distribution."""

FEWEST_OF_EACH = 20
"""Draws of either kind, that swing and that do not, to say which error decides."""

BANDS = 12
"""Bands of each error's range, equally full, over which the chance is compared."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blame:
    """How far one error decides whether the slab swings.

    ``share`` is its first-order share of the outcome's variance, 0 to 1;
    ``over`` whether the slab fails with the measurement over rather than under;
    ``held`` the chance where it is within a quarter of its tolerance.
    """

    tolerance: Tolerance
    share: float
    over: bool
    held: float


def wilson_interval(hits: int, count: int) -> tuple[float, float]:
    """Return the 95 percent interval of a share, by Wilson's score.

    ``(p + z^2/2n +- z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n)``: E. B. Wilson,
    J. Amer. Statist. Assoc. 22 (1927) 209.

    Examples
    --------
    >>> [round(end, 4) for end in wilson_interval(0, 10)]
    [0.0, 0.2775]
    """
    p, z = hits / count, Z_95
    middle = p + z * z / (2 * count)
    reach = z * sqrt(p * (1 - p) / count + z * z / (4 * count * count))
    low, high = ((middle + side * reach) / (1 + z * z / count) for side in (-1, 1))
    return 0.0 if hits == 0 else low, 1.0 if hits == count else high


def blamed(held: Sequence[Tolerance], errors: Floats, swings: Bools) -> tuple[Blame, ...]:
    """Return how far each error decides, the most decisive first; nothing where too few do.

    ``errors`` (n, len(held)) is what each draw was off by in what is ``held``, ``swings``
    (n,) which draws swing.
    """
    if min(swings.sum(), (~swings).sum()) < FEWEST_OF_EACH:
        return ()
    found = [
        Blame(
            tolerance=each,
            share=first_order(column, swings),
            over=bool(column[~swings].mean() > column[swings].mean()),
            held=float(swings[np.abs(column) <= each.amount / 4].mean()),
        )
        for each, column in zip(held, errors.T, strict=True)
    ]
    return tuple(sorted(found, key=lambda blame: -blame.share))


def first_order(error: Floats, swings: Bools) -> float:
    """Return the share of the outcome's variance that one error explains by itself, 0 to 1.

    ``Var(E[Y | X]) / Var(Y)`` (I. M. Sobol', Math. Comput. Simul. 55 (2001)
    271), the inner mean taken over bands of ``X`` that hold equally many
    draws, less what chance alone makes of them. Bands take a little away: an
    evenly rising chance comes to ``1 - 1 / BANDS**2`` of its share.
    """
    count = len(error)
    bands = min(BANDS, count // FEWEST_OF_EACH)
    spread = swings.mean() * (1 - swings.mean())
    parts = np.array_split(swings[np.argsort(error, kind="stable")], bands)
    means = np.array([part.mean() for part in parts])
    between = means.var() - spread * (bands - 1) / count
    return float(np.clip(between / spread, 0.0, 1.0))
