"""Many variants of one scene: in plan where that will do, else in full, together or one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from enum import Enum

import numpy as np

from swingcheck.chance.full import full_job, why_one_at_a_time
from swingcheck.chance.in_plan import in_plan
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import KINDS, VERDICTS, Outcomes, joined, replaced
from swingcheck.chance.plan_sizes import SIZES_OF, plan_sizes, why_not_prismatic
from swingcheck.chance.tolerances import Draws
from swingcheck.chance.values import Lean
from swingcheck.chance.workers import HERE, Spread, answers
from swingcheck.errors import GeometryError, Problem, SceneError, WorkError
from swingcheck.geometry.pairs import SAME_TURN_RAD
from swingcheck.geometry.solid import Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import trial

FEW_ALONE = 40
"""So many variants are swung one at a time before a job for them all is settled."""


Box = tuple[tuple[float, ...], tuple[float, ...]]
"""The least and the most of each measurement."""


class How(Enum):
    """How variants are answered."""

    IN_PLAN = "in plan"
    TOGETHER = "in full"
    ALONE = "each swung in full"


BATCH = {How.IN_PLAN: 16384, How.TOGETHER: 4096, How.ALONE: 8}
"""How many variants a worker takes at a time."""

FEW = {How.IN_PLAN: 65536, How.ALONE: 0}
"""So many variants are done sooner here than processes are started for them: as a job tells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """How variants were answered: how many, and how many of them were swung ``alone``.

    ``why`` says why all of them were, where they were.
    """

    how: How
    count: int
    alone: int
    why: str = ""

    @property
    def in_plan(self) -> bool:
        """Whether plan answered them."""
        return self.how is How.IN_PLAN

    @property
    def one_at_a_time(self) -> float:
        """Share of them that were swung one at a time."""
        return self.alone / self.count

    @property
    def together(self) -> float:
        """Share of them that were answered many at a time."""
        return 1 - self.one_at_a_time


def answered(
    scene: Scene, measurements: Sequence[Measurement], how: How, found: Outcomes
) -> Answered:
    """Return how outcomes were come by."""
    why = why_alone(scene, measurements) if how is How.ALONE else ""
    return Answered(how=how, count=len(found.alone), alone=int(found.alone.sum()), why=why)


def how_answered(scene: Scene, measurements: Sequence[Measurement], *, full: bool = False) -> How:
    """Return how variants of a scene are answered; ``full`` leaves out the plan."""
    if not full and can_plan(scene, measurements):
        return How.IN_PLAN
    return How.ALONE if why_alone(scene, measurements) else How.TOGETHER


def why_alone(scene: Scene, measurements: Sequence[Measurement]) -> str:
    """Return why variants in full are swung one at a time, in trade words; empty where not."""
    if not measurements:
        return "nothing is off"
    if any(one.path == "hinge.screw_proud" for each in measurements for one in each.along):
        return "screw heads may stand proud"
    return why_one_at_a_time(scene)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Batch:
    """Variants of a scene: ``values`` (n, d), or how to draw them, a column a measurement.

    ``box`` holds the least and the most of each where they are answered together.
    """

    scene: Scene
    measurements: tuple[Measurement, ...]
    values: Floats | _Drawn
    box: Box | None = None

    @property
    def rows(self) -> Floats:
        """The values (n, d)."""
        return self.values.rows if isinstance(self.values, _Drawn) else self.values

    def picked(self, rows: Ints) -> _Batch:
        """Return some of the variants."""
        return replace(self, values=self.rows[rows])


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Drawn:
    """Draws whose columns are taken in an order."""

    draws: Draws
    order: tuple[int, ...]

    @property
    def rows(self) -> Floats:
        """The values (n, d)."""
        return self.draws.values[:, self.order]


def outcome_batches(
    scene: Scene,
    measurements: Sequence[Measurement],
    values: Floats | Draws,
    *,
    spread: Spread = HERE,
    full: bool = False,
) -> Iterator[Outcomes]:
    """Yield what variants of a scene come to, in their order, some at a time.

    Raises SceneError where two of them change the same one; and WorkError where a
    variant cannot be built, or the work cannot be shared out.

    ``values`` (n, d) are each variant's of each measurement, inches or radians; or draws
    of them, which are drawn where they are answered. ``full`` answers every variant in
    full, even where the plan would do. Variants in which nothing is changed are swung once.
    """
    order = change_order(scene, measurements)
    placed = tuple(measurements[k] for k in order)
    count = values.count if isinstance(values, Draws) else len(values)
    how, box = how_answered(scene, measurements, full=full), None
    if how is How.TOGETHER:
        box = _box(scene, placed, _part(values, order, 0, count))
        how = how if box else How.ALONE
    if not measurements:
        one = _WORK[how](_Batch(scene=scene, measurements=(), values=np.zeros((1, 0))))
        return iter([joined([one], np.zeros(count, dtype=np.int64))])
    size = BATCH[how]
    job = full_job(scene, placed, *box) if box else None
    if count <= (job.few if job else FEW[how]) and not spread.cluster:
        spread = HERE
    batches = [
        _Batch(scene=scene, measurements=placed, values=_part(values, order, low, size), box=box)
        for low in range(0, count, size)
    ]
    return iter(answers(_WORK[how], batches, spread))


def _part(values: Floats | Draws, order: Sequence[int], low: int, size: int) -> Floats | _Drawn:
    """Return some variants, their columns in an order."""
    if isinstance(values, Draws):
        return _Drawn(draws=values.part(low, size), order=tuple(order))
    return values[low : low + size, order]


def _box(
    scene: Scene, measurements: tuple[Measurement, ...], values: Floats | _Drawn
) -> Box | None:
    """Return what holds all the variants; None where they are better swung one at a time."""
    rows = values.rows if isinstance(values, _Drawn) else values
    if len(rows) <= FEW_ALONE:
        return None
    box = tuple(rows.min(axis=0).tolist()), tuple(rows.max(axis=0).tolist())
    return box if full_job(scene, measurements, *box) else None


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
                    scene.called, [Problem(key=second.key, value="", expected=expected)]
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
    return planned(batch.scene, batch.measurements, batch.rows)


def _together(batch: _Batch) -> Outcomes:
    """Return a batch's outcomes, those that cannot be told together swung one at a time."""
    assert batch.box is not None
    job = full_job(batch.scene, batch.measurements, *batch.box)
    assert job is not None
    found = job.outcomes(batch.rows)
    alone = np.flatnonzero(found.alone)
    if not len(alone):
        return found
    return replaced(found, alone, _alone(batch.picked(alone)))


def _alone(batch: _Batch) -> Outcomes:
    """Return a batch's outcomes, every variant built and swung."""
    kept = Variants()
    rows = [_swung(batch, row, kept) for row in batch.rows]
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
        alone=np.ones(len(rows), dtype=bool),
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


_WORK: dict[How, Callable[[_Batch], Outcomes]] = {
    How.IN_PLAN: _in_plan,
    How.TOGETHER: _together,
    How.ALONE: _alone,
}
