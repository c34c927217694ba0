"""Many variants of one scene: in plan where that will do, else each swung in full."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields

import numpy as np

from swingcheck.chance.in_plan import in_plan
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import KINDS, VERDICTS, Outcomes
from swingcheck.chance.plan_sizes import SIZES_OF, plan_sizes, why_not_prismatic
from swingcheck.chance.values import Lean
from swingcheck.chance.workers import HERE, Spread, answers
from swingcheck.errors import GeometryError, Problem, SceneError, WorkError
from swingcheck.geometry.pairs import SAME_TURN_RAD
from swingcheck.geometry.solid import Floats
from swingcheck.model import Scene
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import trial

BATCH_IN_PLAN, BATCH_IN_FULL = 16384, 8
"""How many variants a worker takes at a time."""

FEW_IN_PLAN = 65536
"""So many variants in plan are done sooner here than processes are started for them."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Batch:
    """Variants of a scene: ``values`` (n, d), a column for each measurement."""

    scene: Scene
    measurements: tuple[Measurement, ...]
    values: Floats


def outcome_batches(
    scene: Scene,
    measurements: Sequence[Measurement],
    values: Floats,
    *,
    spread: Spread = HERE,
    full: bool = False,
) -> Iterator[Outcomes]:
    """Yield what variants of a scene come to, in their order, some at a time.

    Parameters
    ----------
    scene : Scene
        What the variants change.
    measurements : sequence of Measurement
        What varies.
    values : (n, d) float64
        Each variant's value of each measurement, inches or radians.
    spread : Spread
        Where the work is done.
    full : bool
        Swing every variant in full, even where the plan would do.

    Raises
    ------
    SceneError
        Where two of them change the same one.
    WorkError
        Where a variant cannot be built, or the work cannot be shared out.
    """
    order = change_order(scene, measurements)
    placed, columns = tuple(measurements[k] for k in order), values[:, order]
    flat = not full and can_plan(scene, measurements)
    size = BATCH_IN_PLAN if flat else BATCH_IN_FULL
    if flat and len(values) <= FEW_IN_PLAN and not spread.cluster:
        spread = HERE
    batches = [
        _Batch(scene=scene, measurements=placed, values=columns[low : low + size])
        for low in range(0, len(columns), size)
    ]
    work: Callable[[_Batch], Outcomes] = _in_plan if flat else _in_full
    return iter(answers(work, batches, spread))


def can_plan(scene: Scene, measurements: Sequence[Measurement]) -> bool:
    """Tell whether variants can be answered in plan: prismatic, and so at any value."""
    alongs = (one for each in measurements for one in each.along if one.factor)
    return not why_not_prismatic(scene) and all((one.path, one.lean) in SIZES_OF for one in alongs)


def planned(scene: Scene, measurements: Sequence[Measurement], values: Floats) -> Outcomes:
    """Return what variants come to in plan, changed in the order that is given."""
    base = plan_sizes(scene)
    sizes = {own.name: getattr(base, own.name) for own in fields(base)}
    for measurement, column in zip(measurements, values.T, strict=True):
        own = measurement.along[0]
        by = column - sizes[SIZES_OF[own.path, own.lean][0]]
        for one in measurement.along:
            for name in SIZES_OF[one.path, one.lean] if one.factor else ():
                sizes[name] = column if one is own else sizes[name] + by * one.factor
    return in_plan(scene, base.with_values(sizes, len(values)))


def change_order(scene: Scene, measurements: Sequence[Measurement]) -> list[int]:
    """Return the order to change measurements in, so that each ends at its value.

    One that takes another's own measurement along goes before it.
    """
    takes = [{one.path for one in each.along[1:]} for each in measurements]
    own = [each.along[0].path for each in measurements]
    for j, second in enumerate(measurements):
        for i, first in enumerate(measurements[:j]):
            both = own[j] in takes[i] and own[i] in takes[j]
            if both or _same_places(first, second):
                expected = f"another measurement than {first.key}"
                raise SceneError(
                    scene.title, [Problem(key=second.key, value="", expected=expected)]
                )
    ahead = {
        j: sum(own[j] in taken for i, taken in enumerate(takes) if i != j)
        for j in range(len(measurements))
    }
    return sorted(range(len(measurements)), key=ahead.__getitem__)


def _same_places(first: Measurement, second: Measurement) -> bool:
    """Tell whether two measurements are of one measurement, and not of two ends or places of it."""
    a, b = first.along[0], second.along[0]
    if a.path.split("[")[0] != b.path.split("[")[0]:
        return False
    two_ends = {a.lean, b.lean} == {Lean.TOP, Lean.BOTTOM}
    return not (two_ends or ("[" in a.path and "[" in b.path and a.path != b.path))


def _in_plan(batch: _Batch) -> Outcomes:
    """Return a batch's outcomes from its sizes in plan."""
    return planned(batch.scene, batch.measurements, batch.values)


def _in_full(batch: _Batch) -> Outcomes:
    """Return a batch's outcomes, every variant built and swung."""
    kept = Variants()
    rows = [_swung(batch, row, kept) for row in batch.values]
    columns = np.array(rows, dtype=np.float64).T
    angle, short, verdict, against, *margins = columns
    return Outcomes(
        angle=angle,
        short=short,
        verdict=verdict.astype(np.int64),
        against=against.astype(np.int64),
        hinge_margin=margins[0],
        strike_margin=margins[1],
        hinge_stop=margins[2],
    )


def _swung(batch: _Batch, row: Floats, kept: Variants) -> tuple[float, ...]:
    scene = batch.scene
    for each, value in zip(batch.measurements, row, strict=True):
        scene = each.changed(scene, float(value))
    try:
        found = trial(scene, kept)
    except GeometryError as error:
        pairs = zip(batch.measurements, row.tolist(), strict=True)
        what = ", ".join(f"{each.key} = {each.text(value, scene.unit)}" for each, value in pairs)
        raise WorkError(what, str(error)) from error
    margins, touch = found.margins, found.touch
    closing = touch if touch and abs(touch.angle) <= scene.swing.start + SAME_TURN_RAD else None
    never = closing is None and not found.swings
    return (
        closing.angle if closing else np.nan,
        np.nan if never else closing.opening_at_strike if closing else 0.0,
        VERDICTS.index(found.verdict),
        KINDS.index(touch.against_kind) if touch else -1,
        min(margins.hinge),
        min(margins.strike),
        min(margins.hinge_stop) if margins.hinge_stop else np.nan,
    )
