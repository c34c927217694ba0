"""The check in full, for many variants of a scene at once.

A job is settled once: the variants' box, where every corner can stand in it,
and which features can meet. Then thousands are answered together. What cannot
be told for sure that way (a tie, a touch at the start, a shape of its own) is
marked, and is to be swung one at a time; what a batch does not build at all is
refused by name.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi

import numpy as np

from swingcheck.assembly import assemble, why_not_many
from swingcheck.chance.built import Builder, Built, builder_of
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import VERDICTS, Outcomes, joined, verdicts
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
CHUNK_CORNERS = 2**19  # corners of variants that are built at a time
SEAT_DOUBT_IN = 1e-7  # a contact this near the seat may count the other way one at a time
GAP_DOUBT_IN = 1e-9  # so may a hinge stop gap this near nothing


def why_one_at_a_time(scene: Scene) -> str:
    """Return what keeps a scene's variants from being answered together; empty for nothing."""
    swing = scene.swing
    reasons = {
        "the slab swings both ways": swing.both_ways,
        "it has to open farther than closing starts": swing.wanted > swing.start + SAME_TURN_RAD,
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
    """What is settled once for many variants of a scene; the tightest tier goes first."""

    scene: Scene
    builder: Builder
    middle: Floats
    bound: Bounds
    tiers: tuple[_Tier, ...]
    room: float

    @property
    def chunk(self) -> int:
        """How many variants are answered at a time."""
        return CHUNK_CORNERS // len(self.builder.shape.corner_part)

    def outcomes(self, values: Floats) -> Outcomes:
        """Return what variants (n, d) come to; those marked alone are yet to be swung so."""
        off, left = values - self.middle, np.arange(len(values))
        parts: list[Outcomes] = []
        rows: list[Ints] = []
        for tier in self.tiers:
            sure = tier.within.holds(off[left])
            some = left[sure]
            for part in chunks(len(some), self.chunk):
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
    if builder is None or overlapped(assemble(builder.middle), start):
        return None
    probed = builder.built(middle + probes(half))
    bound, sure = bounds(probed.corners, half), _sure(probed, half)
    skins = Skins(
        triangles=builder.shape.triangles,
        edges=convex_edges(builder.shape.triangles, probed.corners[..., : 2 * len(half) + 1]),
        owner=builder.shape.corner_part,
        movers=builder.movers,
    )
    room = ROOM_SHARE * float(np.abs(bound.middle).max())
    deltas = [bound.tight, bound.wide] if (bound.tight < bound.wide).any() else [bound.wide]
    tiers = tuple(_tier(builder, sure, skins, bound, delta, room) for delta in deltas)
    return Job(scene=scene, builder=builder, middle=middle, bound=bound, tiers=tiers, room=room)


def _sure(probed: Built, half: Floats) -> list[frozenset[int]]:
    """Return for each part what of its cut has something to spare all over a box (d,)."""
    if (probed.odd & holds(probed.spare)).any():
        return [frozenset()] * len(probed.spare)
    each = [[bounds(spare, half) for spare in own] for own in probed.spare]
    return [
        frozenset(k for k, one in enumerate(own) if (one.middle > one.wide).all()) for own in each
    ]


def _tier(
    builder: Builder,
    sure: list[frozenset[int]],
    skins: Skins,
    bound: Bounds,
    delta: Floats,
    room: float,
) -> _Tier:
    pairs = reached(skins, bound.middle, delta, builder.middle.swing.start, room)
    ready = made_ready(skins, pairs)
    return _Tier(
        within=within(bound, delta),
        builder=builder.thinned(ready.corners, sure),
        ready=ready,
        starts=starts(skins, pairs, bound.middle).numbered(ready.number),
    )
