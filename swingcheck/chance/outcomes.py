"""What many variants of one scene come to: in plan where that will do, else swung in full."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields
from functools import partial

import numpy as np

from swingcheck.chance.in_plan import KINDS, checked_sizes
from swingcheck.chance.measurements import Dimension
from swingcheck.chance.plan_sizes import plan_sizes, why_not_prismatic
from swingcheck.chance.values import Lean
from swingcheck.chance.workers import HERE, Spread, answers
from swingcheck.errors import GeometryError, Problem, SceneError, WorkError
from swingcheck.geometry.pairs import SAME_TURN_RAD
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.found import Verdict
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import trial
from swingcheck.units import angle_text, length_text

VERDICTS = tuple(Verdict)

IN_PLAN, IN_FULL = 16384, 8
"""How many variants a worker takes at a time."""

FEW = 65536
"""So many variants in plan are done sooner here than processes are started for them."""

_SIZES: dict[tuple[str, Lean], tuple[str, ...]] = {
    ("opening.width", Lean.NONE): ("opening_width",),
    ("opening.rabbet.hinge", Lean.NONE): ("hinge_rabbet",),
    ("opening.rabbet.strike", Lean.NONE): ("strike_rabbet",),
    ("opening.rabbet.head", Lean.NONE): ("head_rabbet", "head_rabbet_strike"),
    ("opening.rabbet.head", Lean.TOP): ("head_rabbet",),
    ("opening.rabbet.head", Lean.BOTTOM): ("head_rabbet_strike",),
    ("opening.hinge_leg.twist", Lean.NONE): ("hinge_twist",),
    ("opening.strike_leg.twist", Lean.NONE): ("strike_twist",),
    ("stop.projection", Lean.NONE): ("projection",),
    ("slab.width", Lean.NONE): ("width",),
    ("slab.thickness", Lean.NONE): ("thickness",),
    ("slab.hinge_edge.bevel", Lean.NONE): ("hinge_bevel",),
    ("slab.strike_edge.bevel", Lean.NONE): ("strike_bevel",),
    ("hinge.open_width", Lean.NONE): ("open_width",),
    ("hinge.closed_gap", Lean.NONE): ("closed_gap",),
    ("hinge.leaf_thickness", Lean.NONE): ("leaf_thickness",),
    ("hinge.jamb.setbacks", Lean.NONE): ("jamb_setback",),
    ("hinge.jamb.depths", Lean.NONE): ("jamb_depth",),
    ("hinge.slab.setbacks", Lean.NONE): ("slab_setback",),
    ("hinge.slab.depths", Lean.NONE): ("slab_depth",),
}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Outcomes:
    """What n variants come to: (n,) each.

    ``angle`` is where closing ends short of the seat, radians, nan for
    nowhere; ``short`` the opening at the strike edge there, inches, 0 where it
    swings, nan where it never gets to close or is stopped as it opens;
    ``verdict`` indexes ``VERDICTS`` and ``against`` ``KINDS`` (-1 for
    nothing). ``hinge_margin``, ``strike_margin`` and ``hinge_stop`` are the
    closed slab's, at their least, inches (nan without a stop).
    """

    angle: Floats
    short: Floats
    verdict: Ints
    against: Ints
    hinge_margin: Floats
    strike_margin: Floats
    hinge_stop: Floats

    @property
    def swings(self) -> Bools:
        """Tell (n,) which variants swing."""
        found: Bools = self.verdict == VERDICTS.index(Verdict.SWINGS)
        return found

    @property
    def margin(self) -> Floats:
        """Return the lesser margin (n,) of the two legs."""
        return np.minimum(self.hinge_margin, self.strike_margin)

    def picked(self, rows: Bools | Ints) -> Outcomes:
        """Return some of the variants."""
        return Outcomes(**{own.name: getattr(self, own.name)[rows] for own in fields(self)})


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Batch:
    """Variants of a scene: ``values`` (n, d), a column for each dimension."""

    scene: Scene
    dimensions: tuple[Dimension, ...]
    values: Floats


def outcome_batches(
    scene: Scene,
    dimensions: Sequence[Dimension],
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
    dimensions : sequence of Dimension
        What varies.
    values : (n, d) float64
        Each variant's value of each dimension, inches or radians.
    spread : Spread
        Where the work is done.
    full : bool
        Swing every variant in full, even where the plan would do.

    Raises
    ------
    SceneError
        Where two of the dimensions change the same measurement.
    WorkError
        Where a variant cannot be built, or the work cannot be shared out.
    """
    order = change_order(scene, dimensions)
    placed, columns = tuple(dimensions[k] for k in order), values[:, order]
    planned = not full and in_plan(scene, dimensions)
    size = IN_PLAN if planned else IN_FULL
    if planned and len(values) <= FEW and not spread.cluster:
        spread = HERE
    batches = [
        _Batch(scene=scene, dimensions=placed, values=columns[low : low + size])
        for low in range(0, len(columns), size)
    ]
    work: Callable[[_Batch], Outcomes] = _in_plan if planned else _in_full
    return iter(answers(work, batches, spread))


def outcomes(
    scene: Scene,
    dimensions: Sequence[Dimension],
    values: Floats,
    *,
    spread: Spread = HERE,
    full: bool = False,
) -> Outcomes:
    """Return what variants of a scene come to; see :func:`outcome_batches`."""
    return joined(list(outcome_batches(scene, dimensions, values, spread=spread, full=full)))


def joined(parts: Sequence[Outcomes]) -> Outcomes:
    """Return outcomes, at least one lot of them, as one."""
    return Outcomes(
        **{
            own.name: np.concatenate([getattr(part, own.name) for part in parts])
            for own in fields(Outcomes)
        }
    )


def in_plan(scene: Scene, dimensions: Sequence[Dimension]) -> bool:
    """Tell whether variants can be answered in plan: prismatic, and so at any value."""
    alongs = (one for each in dimensions for one in each.along if one.factor)
    return not why_not_prismatic(scene) and all((one.path, one.lean) in _SIZES for one in alongs)


def value_text(dimension: Dimension, value: float, unit: str = "in") -> str:
    """Return a value of a dimension for reading."""
    return angle_text(value) if dimension.is_angle else length_text(value, unit)


def change_order(scene: Scene, dimensions: Sequence[Dimension]) -> list[int]:
    """Return the order to change dimensions in, so that each ends at its value.

    One that takes another's own measurement along goes before it.
    """
    takes = [{one.path for one in each.along[1:]} for each in dimensions]
    own = [each.along[0].path for each in dimensions]
    for j, second in enumerate(dimensions):
        for i, first in enumerate(dimensions[:j]):
            both = own[j] in takes[i] and own[i] in takes[j]
            if both or _same_places(first, second):
                expected = f"another measurement than {first.key}"
                raise SceneError(
                    scene.title, [Problem(key=second.key, value="", expected=expected)]
                )
    ahead = {
        j: sum(own[j] in taken for i, taken in enumerate(takes) if i != j)
        for j in range(len(dimensions))
    }
    return sorted(range(len(dimensions)), key=ahead.__getitem__)


def _same_places(first: Dimension, second: Dimension) -> bool:
    """Tell whether two dimensions are of one measurement, and not of two ends or places of it."""
    a, b = first.along[0], second.along[0]
    if a.path.split("[")[0] != b.path.split("[")[0]:
        return False
    two_ends = {a.lean, b.lean} == {Lean.TOP, Lean.BOTTOM}
    return not (two_ends or ("[" in a.path and "[" in b.path and a.path != b.path))


def _in_plan(batch: _Batch) -> Outcomes:
    """Return a batch's outcomes from its sizes in plan."""
    scene, count = batch.scene, len(batch.values)
    base = plan_sizes(scene)
    sizes = {own.name: getattr(base, own.name) for own in fields(base)}
    for dimension, values in zip(batch.dimensions, batch.values.T, strict=True):
        own = dimension.along[0]
        by = values - sizes[_SIZES[own.path, own.lean][0]]
        for one in dimension.along:
            for name in _SIZES[one.path, one.lean] if one.factor else ():
                sizes[name] = values if one is own else sizes[name] + by * one.factor
    found = checked_sizes(scene, base.with_values(sizes, count))
    swings = found.swings
    blocked = found.verdict == VERDICTS.index(Verdict.BLOCKED)
    return Outcomes(
        angle=np.where(swings, np.nan, found.angle),
        short=np.where(swings, 0.0, np.where(blocked, np.nan, found.opening_at_strike)),
        verdict=found.verdict,
        against=np.where(swings, -1, found.against),
        hinge_margin=found.hinge_margin,
        strike_margin=found.strike_margin,
        hinge_stop=found.hinge_stop if scene.stop else np.full(count, np.nan),
    )


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
    for dimension, value in zip(batch.dimensions, row, strict=True):
        scene = dimension.changed(scene, float(value))
    try:
        found = trial(scene, kept)
    except GeometryError as error:
        write = partial(value_text, unit=scene.unit)
        pairs = zip(batch.dimensions, row, strict=True)
        what = ", ".join(f"{each.key} = {write(each, float(value))}" for each, value in pairs)
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
