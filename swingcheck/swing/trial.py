"""What one scene of many comes to: whether it swings, and what is to spare of what is wanted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum

from swingcheck.assembly import Assembly, PartKind
from swingcheck.model import Scene, Wanted
from swingcheck.swing.decide import SLACK, decide, wanted_of
from swingcheck.swing.found import Decided, Margins, Touch, Verdict, Way
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.margins import closed_margins
from swingcheck.swing.swung import Swung, opening_at_strike, swung_sides

FOULING_IN = 1 / 64
"""How far from swinging a slab counts that swings but for a neighbour's: less than any that
does not swing by itself, for what is changed of it cures no neighbour."""


class Limit(Enum):
    """A limit that a person cares about, on the closed slab; what matters most first."""

    HINGE_STOP = "hinge stop clearance"
    HINGE_MARGIN = "hinge margin"
    STRIKE_MARGIN = "strike margin"
    HEAD_MARGIN = "head margin"
    PROUD = "wide face proud"
    SHY = "wide face shy"
    PINS = "pins off their line"


Spares = Mapping[Limit, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """What one scene comes to, of the many that are tried.

    ``decided`` is what its verdict speaks of, as in a check of it, and
    ``spares`` how much is left of each limit, inches, negative where it is
    broken. ``open_by`` is how far from swinging it is, inches at the strike
    edge: 0 where it swings, the more the earlier it touches.
    """

    scene: Scene
    decided: Decided
    blocked_kinds: tuple[PartKind, ...]
    margins: Margins
    spares: Spares
    open_by: float

    @property
    def verdict(self) -> Verdict:
        """The one word for how it hangs."""
        return self.decided.verdict

    @property
    def touch(self) -> Touch | None:
        """The contact that the verdict speaks of."""
        return self.decided.touch

    @property
    def blocked_by(self) -> tuple[str, ...]:
        """What the start pose overlaps."""
        return self.decided.blocked_by

    @property
    def swings(self) -> bool:
        """Whether it reaches its seat and opens as far as wanted."""
        return self.verdict is Verdict.SWINGS

    @property
    def fits(self) -> bool:
        """Whether it swings within every limit."""
        return self.swings and within(self.spares)


def trial(scene: Scene, variants: Variants | None = None) -> Trial:
    """Return what a scene comes to, on the full simulation.

    ``variants`` keeps parts of earlier scenes. Raises GeometryError where the sizes
    leave nothing of a part.
    """
    variants = variants or Variants()
    swing = variants.swung(scene)
    if not swing.assembly.others:
        return trial_of(swing)
    from swingcheck.swing.second_slab import decided_beside

    return trial_of(swing, decided_beside(swing, variants))


def trial_of(swing: Swung, beside: Iterable[Decided] = ()) -> Trial:
    """Return what an assembly comes to, with the parts that it has, and what is beside it."""
    assembly, scene = swing.assembly, swing.assembly.scene
    margins = closed_margins(assembly)
    side, push = swung_sides(swing, decisive=True)
    decided = decide(scene, side, push, beside)
    blocked = decided.blocked_by
    return Trial(
        scene=scene,
        decided=decided,
        blocked_kinds=tuple(part.kind for part in assembly.fixed if part.name in blocked),
        margins=margins,
        spares=limit_spares(margins, wanted_of(scene)),
        open_by=_open_by(assembly, decided),
    )


def _open_by(assembly: Assembly, decided: Decided) -> float:
    """Return how far from swinging a scene is, inches at the strike edge."""
    if decided.way is None:
        return 0.0
    if decided.way is Way.TOGETHER:
        return FOULING_IN
    if decided.touch is None:
        return 2 * max(assembly.scene.slab.width)
    if decided.way is Way.OPENING:
        return opening_at_strike(assembly, assembly.scene.swing.wanted - abs(decided.touch.angle))
    return decided.touch.opening_at_strike


def limits_read(margins: Margins, wanted: Wanted) -> dict[Limit, tuple[float, float]]:
    """Return what each limit is of on the closed slab, and the limit, inches.

    A slab without a stop, that swings both ways, has no side to be flush on.
    """
    read = {
        Limit.HINGE_MARGIN: (min(margins.hinge), wanted.least_margin),
        Limit.STRIKE_MARGIN: (min(margins.strike), wanted.least_margin),
        Limit.HEAD_MARGIN: (min(margins.head), wanted.least_margin),
    }
    if margins.hinge_stop is not None:
        read[Limit.HINGE_STOP] = (min(margins.hinge_stop), wanted.hinge_stop)
        read[Limit.PROUD] = (max(margins.flush_all), wanted.flush)
        read[Limit.SHY] = (-min(margins.flush_all), wanted.flush)
    return read


MOST = (Limit.PROUD, Limit.SHY)
"""Limits that are the most there may be, not the least."""


def limit_spares(margins: Margins, wanted: Wanted) -> Spares:
    """Return how much the closed slab's margins leave of each limit, inches."""
    return {
        limit: most - read if limit in MOST else read - most
        for limit, (read, most) in limits_read(margins, wanted).items()
    }


def within(spares: Spares) -> bool:
    """Tell whether no limit is broken."""
    return all(spare >= -SLACK for spare in spares.values())
