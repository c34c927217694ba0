"""What a cut list has to warn of: too small, too deep a cut, an uneven margin.

What a construction bears, and a rated slab, stands in `materials`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from swingcheck.bench.layout import screw_for
from swingcheck.bench.materials import RATED_BOTTOM, SOLID, construction_of
from swingcheck.model import Delivered, Scene, Shop, Slab

_NOTHING_IN = 1e-9


class Concern(Enum):
    """What is wrong with a cut, in the words for a :class:`Warned`."""

    SHORT = "the slab as delivered is {amount} short in {place}: the margin opens by as much"
    PAST = "{amount} off the {place} is more than the {limit} it bears: {why}"
    LISTED = (
        "{amount} off the {place} of a rated slab is past the {limit} that may be cut on site:"
        " see its listing"
    )
    THIN = "the solid strip at the {place} is left {amount}, and a hinge screw is {limit} long"
    UNLIKE = "the two stiles are left {amount} unlike, and it shows"
    TOLD = "{amount} was told for the {place}: {limit} is what can come off it"
    UNEVEN = "the margin along the {place} runs from {limit} to {amount}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Warned:
    """A concern about a cut: where, how much, against how much, and why that.

    An uneven margin runs from ``limit`` to ``amount``.
    """

    concern: Concern
    place: str
    amount: float
    limit: float
    why: str = ""


UNLIKE_IN = 1 / 16
"""Stiles that differ by more than this show, inches. Common practice, no source."""


def short_of(wanted: Slab, finished: Slab) -> Iterator[Warned]:
    """Yield by how much what was delivered is too small for the slab that is wanted."""
    pairs = {
        "width": max(w - f for w, f in zip(wanted.width, finished.width, strict=True)),
        "height": wanted.height[0] - finished.height[0],
    }
    for place, by in pairs.items():
        if by > _NOTHING_IN:
            yield Warned(concern=Concern.SHORT, place=place, amount=by, limit=0.0)


def strip_warnings(
    scene: Scene, delivered: Delivered, off: Sequence[float], deepest: Sequence[float], end: float
) -> Iterator[Warned]:
    """Yield where a cut goes past what the slab's construction bears.

    ``off`` and ``deepest`` are the most that comes off the hinge edge and the
    strike edge, on the wide face and on whichever face is farther in; ``end`` is
    what comes off the bottom.
    """
    built = construction_of(scene.slab) or SOLID
    edge, bottom = built.edge, built.end
    if built.to_core and delivered.edge_strip is not None:
        edge = delivered.edge_strip
    if built.to_core and delivered.end_strip is not None:
        bottom = delivered.end_strip
    cuts = _places(deepest if built.to_core else off, edge, end, bottom)
    yield from _over(Concern.PAST, cuts, built.why)
    if scene.site.fire_rated:
        yield from _over(Concern.LISTED, _places(deepest, 0.0, end, RATED_BOTTOM), "")
    if delivered.edge_strip is not None:
        left, screw = delivered.edge_strip - deepest[0], screw_for(scene.hinge)
        if 0 <= left < screw.length - _NOTHING_IN:
            yield Warned(concern=Concern.THIN, place="hinge edge", amount=left, limit=screw.length)
    unlike = abs(off[0] - off[1])
    if built.is_framed and unlike - UNLIKE_IN > _NOTHING_IN:
        yield Warned(concern=Concern.UNLIKE, place="stiles", amount=unlike, limit=UNLIKE_IN)


def margin_warnings(
    shop: Shop, strike: tuple[float, float], head: tuple[float, float]
) -> Iterator[Warned]:
    """Yield the margins that run uneven by more than this person measures.

    ``strike`` and ``head`` are the least and the most of each.
    """
    for place, (least, most) in {"strike edge": strike, "top": head}.items():
        if most - least - shop.measuring_tolerance > _NOTHING_IN:
            yield Warned(concern=Concern.UNEVEN, place=place, amount=most, limit=least)


def _places(
    edges: Sequence[float], edge: float | None, end: float, bottom: float | None
) -> list[tuple[str, float, float | None]]:
    return [
        ("hinge edge", edges[0], edge),
        ("strike edge", edges[1], edge),
        ("bottom", end, bottom),
    ]


def _over(
    concern: Concern, cuts: Sequence[tuple[str, float, float | None]], why: str
) -> Iterator[Warned]:
    for place, cut, limit in cuts:
        if limit is not None and cut - limit > _NOTHING_IN:
            yield Warned(concern=concern, place=place, amount=cut, limit=limit, why=why)
