"""The check in full, for many variants of a scene at once.

A job is settled once: the variants' box, where every corner can stand in it,
and which features can meet. Then thousands are answered together. What cannot
be told for sure that way (a tie, a touch at the start, a shape of its own) is
marked, and is to be swung one at a time; what a batch does not build at all is
refused by name.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import pi

import numpy as np

from swingcheck.assembly import assembled, shape_of, why_not_many
from swingcheck.chance.built import Builder, Built, builder_of, changed
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import VERDICTS, Outcomes, joined, replaced, verdicts
from swingcheck.errors import GeometryError
from swingcheck.geometry.cutting import holds
from swingcheck.geometry.many.reach import (
    Bounds,
    Skins,
    Within,
    bounds,
    convex_edges,
    probes,
    reached,
    within,
)
from swingcheck.geometry.many.search import Met, first_met
from swingcheck.geometry.many.starts import Starts, starts
from swingcheck.geometry.many.tiers import Tier, chunks
from swingcheck.geometry.many.tiers import tier as made_ready
from swingcheck.geometry.pairs import SAME_TURN_RAD
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.found import Verdict
from swingcheck.swing.swung import overlapped

ROOM_SHARE = 1e-11  # of the scene's size: how far outside a face or an edge still counts as on it
CHUNK_VARIANTS = 2048  # variants at a time
SOME, MOST_OTHERS = 8, 3  # so many of another shape are answered together, and so many shapes
PAIRS_HERE = 2**22  # pairs in all variants that are looked at sooner here than elsewhere
NEAR_IN, MANY = 1 / 16, 512  # so many variants are parted while corners go so far either way
SEAT_DOUBT_IN = 1e-7  # a contact this near the seat may count the other way one at a time
GAP_DOUBT_IN = 1e-9  # so may a hinge stop gap this near nothing


def why_one_at_a_time(scene: Scene) -> str:
    """Return what keeps a scene's variants from being answered together; empty for nothing."""
    swing = scene.swing
    reasons = {
        "the slab swings both ways": swing.both_ways,
        "it has to open farther than closing starts": swing.wanted > swing.start + SAME_TURN_RAD,
        "it need not open past what stands in the room": bool(
            swing.wanted < swing.start - SAME_TURN_RAD and (scene.obstacles or scene.wall_return)
        ),
        "closing starts from beyond 180 degrees": swing.start > pi + SAME_TURN_RAD,
    }
    found = [reason for reason, holds in reasons.items() if holds]
    return ", ".join([*found, *why_not_many(scene)])


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Tier:
    """Variants whose corners are ``within`` a delta, what can meet in them, what builds that."""

    within: Within
    builder: Builder
    ready: Tier
    starts: Starts


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Job:
    """What is settled once for many variants of a scene; the tightest tier goes first.

    What is ``sure`` of each part's cut is so all over the box. Variants of
    another shape, where there are some, are for the ``others``.
    """

    scene: Scene
    builder: Builder
    middle: Floats
    bound: Bounds
    skins: Skins
    sure: list[frozenset[int]]
    tiers: tuple[_Tier, ...]
    room: float
    others: list[Job] = field(default_factory=list)

    @property
    def few(self) -> int:
        """So many variants are done sooner here than processes are started for them."""
        return PAIRS_HERE // max(1, len(self.tiers[0].ready.pairs.kind))

    def outcomes(self, values: Floats) -> Outcomes:
        """Return what variants (n, d) come to; those marked alone are yet to be swung so."""
        found = self._of_shape(values)
        for k in range(MOST_OTHERS):
            alone = np.flatnonzero(found.alone)
            if len(alone) < SOME or (k == len(self.others) and not self._has_other(values[alone])):
                break
            found = replaced(found, alone, self.others[k]._of_shape(values[alone]))
        return found

    def _has_other(self, values: Floats) -> bool:
        """Settle another shape that some variants (n, d) have, if there is one."""
        for job in (self, *self.others):
            values = values[job.builder.built(values).odd]
        own = self.builder
        try:
            scene = changed(own.middle, own.measurements, values[0])
            builder = replace(own, shape=shape_of(scene, own.shape.pattern))
        except (IndexError, GeometryError):
            return False
        self.others.append(_job(self.scene, builder, self.middle, self.bound.half, values))
        return True

    def _of_shape(self, values: Floats) -> Outcomes:
        """Return what variants (n, d) come to, those of another shape marked alone."""
        groups = list(self._near(values, np.arange(len(values))))
        if len(groups) == 1:
            return self._of_box(values, self.middle, self.tiers)
        parts = [self._of_box(values[rows], *self._settled(values[rows])) for rows in groups]
        return joined(parts, np.argsort(np.concatenate(groups), kind="stable"))

    def _near(self, values: Floats, rows: Ints) -> Iterator[Ints]:
        """Yield those of some variants that are near each other: there less can meet."""
        low, high = values[rows].min(axis=0), values[rows].max(axis=0)
        motion = np.abs(self.bound.slopes).max(axis=1) * (high - low) / 2
        most = int(np.argmax(motion))
        if motion[most] <= NEAR_IN or len(rows) < MANY:
            yield rows
            return
        over = values[rows, most] > (low[most] + high[most]) / 2
        yield from self._near(values, rows[~over])
        yield from self._near(values, rows[over])

    def _settled(self, values: Floats) -> tuple[Floats, tuple[_Tier, ...]]:
        """Return the middle (d,) of the box about some variants (n, d), and its tiers.

        What is of the second order between two places of the whole box is
        twice what is between one and the middle, at the most.
        """
        low, high = values.min(axis=0), values.max(axis=0)
        middle, last = (low + high) / 2, self.tiers[-1]
        built = self.builder.built(middle[None])
        if built.odd[0] or not last.starts.clear(built.corners[last.ready.corners])[0]:
            return self.middle, self.tiers
        bound = replace(
            self.bound,
            middle=built.corners[..., 0],
            rest=2 * self.bound.rest,
            half=(high - low) / 2,
        )
        return middle, _tiers(self.builder, self.sure, self.skins, bound, self.room)

    def _of_box(self, values: Floats, middle: Floats, tiers: tuple[_Tier, ...]) -> Outcomes:
        """Return what variants (n, d) about a middle (d,) come to."""
        off, left = values - middle, np.arange(len(values))
        parts: list[Outcomes] = []
        rows: list[Ints] = []
        for tier in tiers:
            sure = tier.within.holds(off[left])
            some = left[sure]
            for part in chunks(len(some), CHUNK_VARIANTS):
                parts.append(self._answered(values[some[part]], tier))
                rows.append(some[part])
            left = left[~sure]
        if len(left):
            parts.append(_unanswered(len(left)))
            rows.append(left)
        return joined(parts, np.argsort(np.concatenate(rows), kind="stable"))

    def _answered(self, values: Floats, tier: _Tier) -> Outcomes:
        """Return what variants (n, d) of a tier come to."""
        built = tier.builder.built(values)
        met = first_met(tier.ready, built.corners, self.scene.swing.start, self.room)
        clear = tier.starts.clear(built.corners)
        return _told(self.scene, self.builder.kinds, built, met, built.odd | ~clear)


def _told(scene: Scene, kinds: Ints, built: Built, met: Met, doubtful: Bools) -> Outcomes:
    """Return first contacts as outcomes; what is in doubt is marked to be swung alone."""
    start, seat = scene.swing.start, scene.swing.seat
    touched = met.fixed >= 0
    angle = start - np.where(touched, met.turn, start)
    opening = 2 * built.arm * np.sin(np.abs(angle) / 2)
    against = np.where(touched, kinds[met.fixed], -1)
    verdict = verdicts(scene, built.hinge_stop[0], against, opening)
    swings = verdict == VERDICTS.index(Verdict.SWINGS)
    near = touched & (np.abs(opening - seat) < SEAT_DOUBT_IN)
    near |= np.abs(built.hinge_stop[0]) < GAP_DOUBT_IN
    return Outcomes(
        angle=np.where(swings, np.nan, angle),
        short=np.where(swings, 0.0, opening),
        verdict=verdict,
        against=np.where(swings, -1, against),
        hinge_margin=built.hinge_margin,
        strike_margin=built.strike_margin,
        hinge_stop=built.hinge_stop[1],
        alone=met.doubtful | near | doubtful,
    )


def _unanswered(count: int) -> Outcomes:
    none = np.full(count, np.nan)
    return Outcomes(
        angle=none,
        short=none,
        verdict=np.zeros(count, dtype=np.int64),
        against=np.full(count, -1),
        hinge_margin=none,
        strike_margin=none,
        hinge_stop=none,
        alone=np.ones(count, dtype=bool),
    )


@lru_cache(maxsize=4)
def full_job(
    scene: Scene,
    measurements: tuple[Measurement, ...],
    low: tuple[float, ...],
    high: tuple[float, ...],
) -> Job | None:
    """Return what is settled for variants of a scene; None where all go one at a time.

    Each measurement goes from ``low`` to ``high``, and is changed in the order
    that is given. The same is kept for the next who asks: workers settle it
    for themselves.
    """
    middle, half = (np.array(high) + low) / 2, (np.array(high) - low) / 2
    builder = builder_of(scene, measurements, middle, half)
    start = scene.swing.start
    if builder is None or overlapped(assembled(builder.shape), start):
        return None
    return _job(scene, builder, middle, half, middle + probes(half))


def _job(scene: Scene, builder: Builder, middle: Floats, half: Floats, known: Floats) -> Job:
    """Return what is settled for variants of one shape.

    Some that it is ``known`` for (k, d) tell which edges are convex, one or more.
    """
    probed, shape = builder.built(middle + probes(half)), builder.shape
    bound, sure = bounds(probed.corners, half), _sure(probed, half)
    like = builder.built(known[: 2 * len(half) + 1])
    skins = Skins(
        triangles=shape.triangles,
        edges=convex_edges(shape.triangles, like.corners[..., ~like.odd]),
        owner=shape.corner_part,
        movers=builder.movers,
    )
    room = ROOM_SHARE * float(np.abs(bound.middle).max())
    return Job(
        scene=scene,
        builder=builder,
        middle=middle,
        bound=bound,
        skins=skins,
        sure=sure,
        tiers=_tiers(builder, sure, skins, bound, room),
        room=room,
    )


def _sure(probed: Built, half: Floats) -> list[frozenset[int]]:
    """Return for each part what of its cut has something to spare all over a box (d,)."""
    if (probed.odd & holds(probed.spare)).any():
        return [frozenset()] * len(probed.spare)
    each = [[bounds(spare, half) for spare in own] for own in probed.spare]
    return [
        frozenset(k for k, one in enumerate(own) if (one.middle > one.wide).all()) for own in each
    ]


def _tiers(
    builder: Builder, sure: list[frozenset[int]], skins: Skins, bound: Bounds, room: float
) -> tuple[_Tier, ...]:
    """Return the tiers of a box: one where most variants are as far off as any."""
    found = []
    for delta in (bound.tight, bound.wide)[int((bound.tight >= bound.wide).all()) :]:
        pairs = reached(skins, bound.middle, delta, builder.middle.swing.start, room)
        ready = made_ready(skins, pairs)
        tier = _Tier(
            within=within(bound, delta),
            builder=builder.thinned(ready.corners, sure),
            ready=ready,
            starts=starts(skins, pairs, bound.middle).numbered(ready.number),
        )
        found.append(tier)
    return tuple(found)
