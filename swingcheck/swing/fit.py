"""How one scene fits: whether it swings, and how much is to spare of what is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from swingcheck.assembly import Assembly, PartKind
from swingcheck.model import Scene, Wanted
from swingcheck.swing.found import Margins, Touch, Verdict
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.margins import closed_margins
from swingcheck.swing.swung import (
    Swung,
    is_seat,
    opening_at_strike,
    overlapped,
    push_side,
    touch,
    verdict,
)

#: What is short by no more than this is not short, inches.
SLACK = 1e-9


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
class Fit:
    """What one scene comes to.

    ``touch`` is what the verdict speaks of: the closing contact, or where that
    is clean an opening contact short of the wanted angle. ``spares`` is how
    much is left of each limit, inches, negative where it is broken. ``open_by``
    is how far from swinging it is, inches at the strike edge: 0 where it
    swings, the more the earlier it touches.
    """

    scene: Scene
    verdict: Verdict
    touch: Touch | None
    blocked_by: tuple[str, ...]
    blocked_kinds: tuple[PartKind, ...]
    margins: Margins
    spares: Spares
    open_by: float

    @property
    def swings(self) -> bool:
        """Whether it reaches its seat and opens as far as wanted."""
        return self.verdict is Verdict.SWINGS

    @property
    def fits(self) -> bool:
        """Whether it swings within every limit."""
        return self.swings and within(self.spares)


def fit(scene: Scene, variants: Variants | None = None) -> Fit:
    """Return what a scene comes to, on the full simulation.

    Parameters
    ----------
    scene : Scene
        The opening and its slab.
    variants : Variants, optional
        Where parts of earlier scenes are kept.

    Raises
    ------
    GeometryError
        Where the sizes leave nothing of a part.
    """
    return fit_of((variants or Variants()).swung(scene))


def fit_of(swing: Swung) -> Fit:
    """Return what an assembly comes to, with the parts that it has."""
    assembly, scene = swing.assembly, swing.assembly.scene
    asked = scene.swing
    margins = closed_margins(assembly)
    blocked = overlapped(assembly, asked.start)
    closing = None if blocked else touch(assembly, swing.contact(asked.start, 0.0))
    if closing is not None and is_seat(scene, closing):
        closing = None
    opening = None
    if not blocked and closing is None and asked.wanted > asked.start:
        opening = touch(assembly, swing.contact(asked.start, asked.wanted))
    word = verdict(scene, margins, blocked, closing, opening)
    if word is Verdict.SWINGS and asked.both_ways:
        push = push_side(swing, asked.start)
        blocked, closing, opening = push.blocked_by, push.closing, push.opening
        word = verdict(scene, margins, blocked, closing, opening)
    found = opening if closing is None and word is not Verdict.SWINGS else closing
    return Fit(
        scene=scene,
        verdict=word,
        touch=found,
        blocked_by=blocked,
        blocked_kinds=tuple(part.kind for part in assembly.fixed if part.name in blocked),
        margins=margins,
        spares=limit_spares(margins, wanted_of(scene)),
        open_by=_open_by(assembly, word, found, opening),
    )


def _open_by(
    assembly: Assembly, word: Verdict, found: Touch | None, opening: Touch | None
) -> float:
    """Return how far from swinging a scene is, inches at the strike edge."""
    if word is Verdict.BLOCKED:
        return 2 * max(assembly.scene.slab.width)
    if found is None:
        return 0.0
    if found is opening:
        return opening_at_strike(assembly, assembly.scene.swing.wanted - abs(found.angle))
    return found.opening_at_strike


def wanted_of(scene: Scene) -> Wanted:
    """Return what is wanted of a scene, the usual where it says nothing."""
    return scene.wanted or Wanted()


def limit_spares(margins: Margins, wanted: Wanted) -> Spares:
    """Return how much the closed slab's margins leave of each limit, inches.

    A slab without a stop, that swings both ways, has no side to be flush on.
    """
    spares = {
        Limit.HINGE_MARGIN: min(margins.hinge) - wanted.least_margin,
        Limit.STRIKE_MARGIN: min(margins.strike) - wanted.least_margin,
        Limit.HEAD_MARGIN: min(margins.head) - wanted.least_margin,
    }
    if margins.hinge_stop is not None:
        spares[Limit.HINGE_STOP] = min(margins.hinge_stop) - wanted.hinge_stop
        spares[Limit.PROUD] = wanted.flush - max(margins.flush)
        spares[Limit.SHY] = wanted.flush + min(margins.flush)
    return spares


def within(spares: Spares) -> bool:
    """Tell whether no limit is broken."""
    return all(spare >= -SLACK for spare in spares.values())
