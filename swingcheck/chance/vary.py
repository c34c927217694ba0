"""What a scene comes to over a whole range of one or two of its dimensions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from math import floor

import numpy as np

from swingcheck.chance.availability import why_missing
from swingcheck.chance.measurements import Along, Dimension, dimensions
from swingcheck.chance.outcomes import Outcomes, change_order, in_plan, joined, outcome_batches
from swingcheck.chance.workers import HERE, Spread
from swingcheck.errors import Problem, SceneError
from swingcheck.geometry.solid import Floats
from swingcheck.model import Scene

MOST_IN_PLAN, MOST_IN_FULL = 250_000, 20_000
"""Variants that one map may have: in plan, and where each is swung in full."""

_READ: dict[str, tuple[str, bool]] = {
    "opening.width": ("width of the opening", False),
    "opening.hinge_leg.twist": ("twist of the hinge leg", True),
    "opening.strike_leg.twist": ("twist of the strike leg", True),
    "hinge.leaf_thickness": ("thickness of the leaves", False),
}
"""What is read off rather than set, and can be varied all the same: its words, and if an angle."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Over:
    """A dimension and the values (k,) that it takes, rising, inches or radians."""

    dimension: Dimension
    values: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Varied:
    """What the variants of a scene come to.

    ``outcomes`` run through the last dimension's values for each of the one
    before it.
    """

    scene: Scene
    overs: tuple[Over, ...]
    outcomes: Outcomes
    in_plan: bool

    @property
    def shape(self) -> tuple[int, ...]:
        """Number of values of each dimension."""
        return tuple(len(over.values) for over in self.overs)

    @property
    def values(self) -> Floats:
        """Each variant's value of each dimension (n, d)."""
        return grid(self.overs)


def varied_dimension(scene: Scene, key: str) -> Dimension:
    """Return a dimension of a scene that can be varied.

    Raises
    ------
    SceneError
        When there is no such dimension in the scene.
    """
    known = {each.key: each for each in dimensions(scene)}
    for name, (words, is_angle) in _READ.items():
        known[name] = Dimension(
            key=name, words=words, along=(Along(path=name),), more="", less="", is_angle=is_angle
        )
    if key in known:
        return known[key]
    near = get_close_matches(key, known, n=1, cutoff=0.6)
    hint = f"did you mean {near[0]}?" if near else ""
    expected = why_missing(scene, key) or "no dimension of this scene that can be varied"
    raise SceneError(scene.title, [Problem(key=key, value="", expected=expected, hint=hint)])


EVEN = 0.02
"""Of a step: a range that is a whole number of steps to within this ends at its end."""


def steps_between(low: float, high: float, step: float) -> int:
    """Return how many values there are from ``low`` up to ``high`` in steps.

    Examples
    --------
    >>> steps_between(0.125, 0.375, 1 / 64), steps_between(0.0, 1.0, 0.3)
    (17, 4)
    """
    return floor((high - low) / step + EVEN) + 1


def over(dimension: Dimension, low: float, high: float, step: float) -> Over:
    """Return a dimension with its values from ``low`` up to ``high`` in steps.

    Four steps of 1 in 64 are a little more than 1 in 16 as an angle: where it
    comes out even but for that, the last value is ``high`` and the steps give.
    """
    count = steps_between(low, high, step)
    steps = (high - low) / step
    last = high if abs(steps - round(steps)) <= EVEN else low + step * (count - 1)
    return Over(dimension=dimension, values=np.linspace(low, last, count, dtype=np.float64))


def grid(overs: Sequence[Over]) -> Floats:
    """Return every combination (n, d) of the values, the last dimension's running first."""
    return np.stack(np.meshgrid(*(own.values for own in overs), indexing="ij"), axis=-1).reshape(
        -1, len(overs)
    )


def corner_scenes(scene: Scene, overs: Sequence[Over]) -> list[tuple[Scene, Floats]]:
    """Return the scenes at the ends of the ranges, and their values (d,).

    Limits of what can be built are even in every measurement: what keeps
    within them here does so everywhere between.

    Raises
    ------
    SceneError
        Where two dimensions change the same measurement.
    """
    order = change_order(scene, [own.dimension for own in overs])
    ends = [replace(own, values=own.values[[0, -1]]) for own in overs]
    found = []
    for values in grid(ends):
        corner = scene
        for k in order:
            corner = overs[k].dimension.changed(corner, float(values[k]))
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
    """Return what a scene comes to over ranges of its dimensions, all else staying as it is.

    Parameters
    ----------
    scene : Scene
        What is varied.
    overs : sequence of Over
        One or more dimensions and their values.
    spread : Spread
        Where the work is done; the answer does not depend on it.
    full : bool
        Swing every variant in full, even where the plan would do.
    watch : callable
        Told how far it is.

    Raises
    ------
    SceneError
        Where there are too many variants, or two dimensions that change the
        same measurement.
    WorkError
        Where a variant cannot be built, or the work cannot be shared out.
    """
    own = [each.dimension for each in overs]
    planned = not full and in_plan(scene, own)
    _refuse_too_many(scene, overs, MOST_IN_PLAN if planned else MOST_IN_FULL)
    values = grid(overs)
    parts, done = [], 0
    for part in outcome_batches(scene, own, values, spread=spread, full=full):
        parts.append(part)
        done += len(part.angle)
        watch("swinging", done / len(values))
    return Varied(scene=scene, overs=tuple(overs), outcomes=joined(parts), in_plan=planned)


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
        raise SceneError(scene.title, [problem])
