"""How likely a slab is to swing, and what decides it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from swingcheck.assembly import PartKind
from swingcheck.chance.batches import Answered, How, answered, how_answered, outcome_batches
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.odds import Blame, blamed, wilson_interval
from swingcheck.chance.outcomes import KINDS, VERDICTS, Outcomes, joined
from swingcheck.chance.tolerances import (
    Draws,
    Tolerance,
    kept_above_nothing,
    tolerances,
)
from swingcheck.chance.workers import HERE, Spread
from swingcheck.geometry.solid import Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.fit import SURE
from swingcheck.swing.found import Verdict

DRAWS = {How.IN_PLAN: 20_000, How.TOGETHER: 20_000, How.ALONE: 1_000}
"""Draws where nothing is said."""

QUICK = {How.IN_PLAN: 400, How.TOGETHER: 400, How.ALONE: 24}
"""Draws of a plain check."""

BLOCKED_IN = 1e3
"""What never gets to close is farther from swinging than any opening at the strike edge."""

Watch = Callable[[str, float], None]
"""Called with what is being worked out, and how much of it is done, 0 to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worst:
    """The tolerance corner that is farthest from swinging.

    ``corners`` were tried (all of them, but where each is swung alone those
    that the draws point to), and ``swinging`` of them swing. ``off`` are those of its
    errors that keep the slab from swinging without the others, the weightiest
    first: none where it swings, or does not even without an error.
    """

    corners: int
    swinging: int
    verdict: Verdict
    angle: float
    short: float
    off: tuple[tuple[Tolerance, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """How likely the slab is to swing.

    ``asked`` draws were wanted and ``drawn`` done, ``swinging`` of them
    swing; ``verdicts`` counts what the others do. ``nominal`` is the verdict
    with no error at all. ``worst`` is missing where it was ``stopped`` before it.
    ``answered`` tells how the draws were, ``as_cut`` whether they are without paint and
    the year.
    """

    scene: Scene
    asked: int
    drawn: int
    swinging: int
    answered: Answered
    nominal: Verdict
    verdicts: tuple[tuple[Verdict, int], ...]
    tolerances: tuple[Tolerance, ...]
    blame: tuple[Blame, ...]
    worst: Worst | None = None
    seed: int = 0
    stopped: bool = False
    as_cut: bool = True

    @property
    def chance(self) -> float:
        """Share of the draws that swing."""
        return self.swinging / self.drawn

    @property
    def interval(self) -> tuple[float, float]:
        """The chance's 95 percent interval."""
        return wilson_interval(self.swinging, self.drawn)


def risk(
    scene: Scene,
    *,
    draws: int | None = None,
    seed: int = 0,
    spread: Spread = HERE,
    full: bool = False,
    watch: Watch = lambda what, share: None,
) -> Risk:
    """Return how likely the slab is to swing, and what decides it.

    Ctrl-C ends it early: what was drawn until then is the answer, marked so. Raises
    KeyboardInterrupt where it is stopped before anything is drawn; and WorkError
    where a draw cannot be built, or the work cannot be shared out.

    ``draws`` is how many slabs are drawn, ``None`` for the usual number, each off by the
    tolerances of the scene's shop; the same ``seed`` gives the same answer. The others are
    as for :func:`.vary`, and the answer depends on none of them.
    """
    held = tolerances(scene)
    run = _Run(scene, held, spread, full, watch)
    count = draws or (DRAWS[run.how])
    nominal = run.outcomes("drawing", np.zeros((1, len(held))))
    drawn = Draws(scene=scene, held=held, seed=seed, count=count)
    errors, parts = drawn.errors, list[Outcomes]()
    answer = None
    try:
        for part in run.batches("drawing", drawn):
            parts.append(part)
        for told in _told(run, nominal, joined(parts), errors):
            answer = told
        stopped = False
    except KeyboardInterrupt:
        if not parts:
            raise
        stopped = True
    answer = answer or _answer(run, nominal, joined(parts), errors)
    return replace(answer, seed=seed, stopped=stopped)


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """The share of some slabs ``drawn`` that are ``swinging``, as few as a plain check draws.

    Of the others the commonest ``verdict``, and what kind of part most of those with it
    are ``against``; ``None`` where there are none.
    """

    swinging: float
    drawn: int
    verdict: Verdict | None = None
    against: PartKind | None = None


def share_swinging(scene: Scene) -> Share:
    """Return the share of a few slabs drawn that swing: a quick :func:`risk`.

    No more are drawn where those that were are too few to be :data:`.SURE`.

    With ``few`` as few as a share is told of, ``None`` where each would be swung alone.
    Raises WorkError where a draw cannot be built.
    """
    held = tolerances(scene)
    run = _Run(scene, held, HERE, full=False, watch=lambda what, share: None)
    count = QUICK[run.how]
    parts = list[Outcomes]()
    for part in run.batches("drawing", Draws(scene=scene, held=held, seed=0, count=count)):
        parts.append(part)
        found = joined(parts)
        if wilson_interval(int(found.swings.sum()), len(found.swings))[1] < SURE:
            break
    share = Share(swinging=float(found.swings.mean()), drawn=len(found.swings))
    if not _counted(found):
        return share
    verdict = _counted(found)[0][0]
    met = found.against[(found.verdict == VERDICTS.index(verdict)) & (found.against >= 0)]
    most = KINDS[np.bincount(met).argmax()] if len(met) else None
    return replace(share, verdict=verdict, against=most)


def _answer(run: _Run, nominal: Outcomes, found: Outcomes, errors: Floats) -> Risk:
    drawn = len(found.verdict)
    return Risk(
        scene=run.scene,
        asked=len(errors),
        drawn=drawn,
        swinging=int(found.swings.sum()),
        answered=answered(run.scene, run.measurements, run.how, found),
        nominal=VERDICTS[nominal.verdict[0]],
        verdicts=_counted(found),
        tolerances=run.held,
        blame=blamed(run.held, errors[:drawn], found.swings),
    )


def _counted(found: Outcomes) -> tuple[tuple[Verdict, int], ...]:
    """Return how many variants come to each verdict but swinging, the commonest first."""
    counts = np.bincount(found.verdict, minlength=len(VERDICTS)).tolist()
    others = [
        (word, count)
        for word, count in zip(VERDICTS, counts, strict=True)
        if count and word is not Verdict.SWINGS
    ]
    return tuple(sorted(others, key=lambda pair: -pair[1]))


@dataclass(frozen=True, slots=True)
class _Run:
    """A scene and what it is held to, and how its variants are worked out."""

    scene: Scene
    held: tuple[Tolerance, ...]
    spread: Spread
    full: bool
    watch: Watch

    @property
    def measurements(self) -> tuple[Measurement, ...]:
        """What is held."""
        return tuple(each.measurement for each in self.held)

    @property
    def how(self) -> How:
        """How its variants are answered."""
        return how_answered(self.scene, self.measurements, full=self.full)

    @property
    def nominal(self) -> Floats:
        """The measurements (d,) as they are meant."""
        return np.array([each.value(self.scene) for each in self.measurements])

    @property
    def amounts(self) -> Floats:
        """The tolerances (d,)."""
        return np.array([each.amount for each in self.held])

    def outcomes(self, what: str, errors: Floats) -> Outcomes:
        """Return what variants with these errors (n, d) come to; those alike are swung once."""
        rows, place = np.unique(errors, axis=0, return_inverse=True)
        return joined(list(self.batches(what, rows)), place.reshape(-1))

    def batches(self, what: str, errors: Floats | Draws) -> Iterator[Outcomes]:
        """Yield what variants with these errors (n, d) come to, some at a time, and say so."""
        self.watch(what, 0.0)
        done = 0
        values = errors if isinstance(errors, Draws) else self.nominal + errors
        count = errors.count if isinstance(errors, Draws) else len(errors)
        for part in outcome_batches(
            self.scene, self.measurements, values, spread=self.spread, full=self.full
        ):
            yield part
            done += len(part.angle)
            self.watch(what, done / count)


def _told(run: _Run, nominal: Outcomes, found: Outcomes, errors: Floats) -> Iterator[Risk]:
    """Yield the answer, then with the worst corner too."""
    answer = _answer(run, nominal, found, errors)
    yield answer
    slopes = _margin_slopes(run, errors, found)
    corners = _likely_corners(run, slopes) if run.how is How.ALONE else _all_corners(run)
    yield replace(answer, worst=_worst(run, corners, slopes))


def _margin_slopes(run: _Run, errors: Floats, found: Outcomes) -> Floats:
    """Return how each margin changes with each error (3, d): hinge, strike, hinge stop.

    By the whole tolerance, from the draws; a margin changes nearly evenly with
    every error.
    """
    stop = found.hinge_stop if run.scene.stop else np.zeros(len(errors))
    left = np.column_stack([found.hinge_margin, found.strike_margin, stop])
    shares = errors / run.amounts
    fitted = np.linalg.lstsq(np.column_stack([shares, np.ones(len(shares))]), left, rcond=None)
    slopes: Floats = fitted[0][:-1].T
    return slopes


def _all_corners(run: _Run) -> Floats:
    """Return every way (n, d) in which all errors are as great as they can be."""
    signs = np.array(list(product((-1.0, 1.0), repeat=len(run.held))))
    return signs * run.amounts


def _likely_corners(run: _Run, slopes: Floats) -> Floats:
    """Return the corners (n, d) at which each margin is least, and those between two of them."""
    both = [slopes, slopes[[0, 0, 1]] + slopes[[1, 2, 2]]]
    return np.unique(np.where(np.vstack(both) > 0, -1.0, 1.0), axis=0) * run.amounts


#: Which margin, hinge, strike or hinge stop, a verdict comes of.
_MARGIN_OF = {Verdict.HINGE_BOUND: 0, Verdict.STRIKES: 1}


def _worst(run: _Run, corners: Floats, slopes: Floats) -> Worst:
    """Return the corner that is farthest from swinging."""
    corners = kept_above_nothing(run.scene, run.held, corners)
    found = run.outcomes("tolerance corners", corners)
    far = _far(found)
    at = int(far.argmax())
    word = VERDICTS[found.verdict[at]]
    order = np.argsort(np.abs(slopes[_MARGIN_OF.get(word, 2)]), kind="stable")
    off = _enough(run, corners[at], order) if far[at] > 0 else corners[at] * 0
    return Worst(
        corners=len(corners),
        swinging=int(found.swings.sum()),
        verdict=word,
        angle=float(found.angle[at]),
        short=float(found.short[at]),
        off=tuple((run.held[k], float(off[k])) for k in order[::-1] if off[k]),
    )


def _enough(run: _Run, corner: Floats, order: Ints) -> Floats:
    """Return a corner (d,) with the errors left out that it takes not to swing, in turn."""
    off = corner.copy()
    for k in order:
        without = off.copy()
        without[k] = 0.0
        if not run.outcomes("tolerance corners", without[None, :]).swings[0]:
            off = without
    return off


def _far(found: Outcomes) -> Floats:
    """Return how far from swinging variants are (n,): inches at the strike edge."""
    return np.where(np.isnan(found.short), BLOCKED_IN, found.short)
