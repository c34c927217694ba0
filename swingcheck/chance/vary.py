"""What a scene comes to over a whole range of one or two of its measurements."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import floor

import numpy as np

from swingcheck.chance.batches import (
    Answered,
    How,
    answered,
    change_order,
    how_answered,
    outcome_batches,
)
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import Outcomes, joined
from swingcheck.chance.workers import HERE, Spread
from swingcheck.errors import Problem, SceneError
from swingcheck.geometry.solid import Floats
from swingcheck.model import Scene

MOST = {How.IN_PLAN: 250_000, How.TOGETHER: 100_000, How.ALONE: 20_000}
"""Variants that one map may have."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Over:
    """A measurement and the values (k,) that it takes, rising, inches or radians."""

    measurement: Measurement
    values: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Varied:
    """What the variants of a scene come to.

    ``outcomes`` run through the last measurement's values for each of the one
    before it.
    """

    scene: Scene
    overs: tuple[Over, ...]
    outcomes: Outcomes
    answered: Answered

    @property
    def shape(self) -> tuple[int, ...]:
        """Number of values of each measurement."""
        return tuple(len(over.values) for over in self.overs)

    @property
    def values(self) -> Floats:
        """Each variant's value of each measurement (n, d)."""
        return grid(self.overs)


EVEN_SHARE = 0.02
"""Of a step: a range that is a whole number of steps to within this ends at its end."""


def steps_between(low: float, high: float, step: float) -> int:
    """Return how many values there are from ``low`` up to ``high`` in steps.

    Examples
    --------
    >>> steps_between(0.125, 0.375, 1 / 64), steps_between(0.0, 1.0, 0.3)
    (17, 4)
    """
    return floor((high - low) / step + EVEN_SHARE) + 1


def over(measurement: Measurement, low: float, high: float, step: float) -> Over:
    """Return a measurement with its values from ``low`` up to ``high`` in steps.

    Four steps of 1 in 64 are a little more than 1 in 16 as an angle: where it
    comes out even but for that, the last value is ``high`` and the steps give.
    """
    count = steps_between(low, high, step)
    steps = (high - low) / step
    last = high if abs(steps - round(steps)) <= EVEN_SHARE else low + step * (count - 1)
    return Over(measurement=measurement, values=np.linspace(low, last, count, dtype=np.float64))


def grid(overs: Sequence[Over]) -> Floats:
    """Return every combination (n, d) of the values, the last measurement's running first."""
    return np.stack(np.meshgrid(*(own.values for own in overs), indexing="ij"), axis=-1).reshape(
        -1, len(overs)
    )


def corner_scenes(scene: Scene, overs: Sequence[Over]) -> list[tuple[Scene, Floats]]:
    """Return the scenes at the ends of the ranges, and their values (d,).

    Limits of what can be built are even in every measurement: what keeps within
    them here does so everywhere between. Raises SceneError where two measurements
    change the same measurement.
    """
    order = change_order(scene, [own.measurement for own in overs])
    ends = [replace(own, values=own.values[[0, -1]]) for own in overs]
    found = []
    for values in grid(ends):
        corner = scene
        for k in order:
            corner = overs[k].measurement.changed(corner, float(values[k]))
        found.append((corner, values))
    return found


def vary(
    scene: Scene,
    overs: Sequence[Over],
    *,
    spread: Spread = HERE,
    full: bool = False,
    watch: Callable[[str, float], None] = lambda what, share: None,
) -> Varied:
    """Return what a scene comes to over ranges of its measurements, all else staying as it is.

    Raises SceneError where there are too many variants, or two measurements that change
    the same measurement; and WorkError where a variant cannot be built, or the work
    cannot be shared out.

    ``spread`` is where the work is done, and the answer does not depend on it; ``full``
    swings every variant in full, even where the plan would do; ``watch`` is told what is
    done and what share of it, 0 to 1.
    """
    own = [each.measurement for each in overs]
    how = how_answered(scene, own, full=full)
    _refuse_too_many(scene, overs, MOST[how])
    values = grid(overs)
    parts, done = [], 0
    for part in outcome_batches(scene, own, values, spread=spread, full=full):
        parts.append(part)
        done += len(part.angle)
        watch("swinging", done / len(values))
    found = joined(parts)
    return Varied(
        scene=scene,
        overs=tuple(overs),
        outcomes=found,
        answered=answered(scene, own, how, found),
    )


def _refuse_too_many(scene: Scene, overs: Sequence[Over], most: int) -> None:
    counts = [len(each.values) for each in overs]
    total = int(np.prod(counts))
    if total > most:
        named = " by ".join(f"{count:,}" for count in counts)
        problem = Problem(
            key="--over",
            value=f"{named} variants" if len(counts) == 1 else f"{named}, {total:,} variants",
            expected=f"at most {most:,} at a time",
            hint="take a wider STEP",
        )
        raise SceneError(scene.called, [problem])
