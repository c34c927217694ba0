"""Further slabs of the same opening: a pair's inactive slab, a Dutch door's lower one."""

from __future__ import annotations

from dataclasses import replace

from swingcheck.model import (
    NO_HINGES,
    HingeSet,
    Inactive,
    Lower,
    MeetingRebate,
    Opening,
    PivotSet,
    Shelf,
    Slab,
    Stop,
)
from swingcheck.scenefile import usual
from swingcheck.scenefile.edges import slab_edge
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.hinges import completed_hinges
from swingcheck.scenefile.pivots import completed_pivots

_ALIKE = "as the other slab's"


def is_pair(filling: Filling) -> bool:
    """Return whether there is an inactive slab."""
    return filling.has_table("inactive")


def active_width(filling: Filling, between: float) -> tuple[float, str]:
    """Return a pair's active slab's usual width, of so much between the legs, and why."""
    gap = usual.MEETING_GAP
    room = between - 2 * usual.HINGE_MARGIN - gap
    given = filling.measured.numbers.get("inactive.slab.width")
    margins = f"{filling.length(usual.HINGE_MARGIN)} at the hinges and {filling.length(gap)}"
    if given is None:
        return room / 2, f"half the opening less {margins} between the slabs"
    return room - max(given), f"what the inactive slab leaves, less {margins} between the slabs"


def under_upper(filling: Filling, between: float) -> float:
    """Return how high a Dutch door's lower slab, its shelf and its gap stand, inches.

    ``between`` is what both slabs share. Nothing where there is no lower slab.
    """
    if not filling.has_table("lower"):
        return 0.0
    gap = filling.said("lower.gap")
    taken = usual.HEAD_MARGIN if gap is None else gap
    if filling.has_table("lower.shelf"):
        thickness = filling.said("lower.shelf.thickness")
        taken += usual.SHELF["thickness"] if thickness is None else thickness
    height = filling.said("lower.slab.height")
    return taken + ((between - taken) / 2 if height is None else height)


def completed_inactive(
    filling: Filling, opening: Opening, stop: Stop | None, slab: Slab, hinge: HingeSet
) -> Inactive | None:
    """Return the inactive slab of a pair, or None; what is left out is as the active slab's.

    ``opening`` is as seen from the strike leg, which it hangs on.
    """
    path = "inactive"
    if not filling.has_table(path):
        return None
    between = usual.HINGE_MARGIN * 2 + usual.MEETING_GAP
    width = min(opening.width) - between - max(slab.width)
    margins = f"{filling.length(usual.HINGE_MARGIN)} at the hinges"
    own = replace(
        _own_slab(filling, f"{path}.slab", slab),
        width=filling.numbers(
            f"{path}.slab.width",
            (width,),
            f"what the active slab leaves, less {margins}"
            f" and {filling.length(usual.MEETING_GAP)} between the slabs",
        ),
        height=_pair(filling.numbers(f"{path}.slab.height", slab.height[::-1], _ALIKE)),
        head_margin=filling.number(f"{path}.slab.head_margin", slab.head_margin, _ALIKE),
    )
    hinges, pivot = _hung(filling, opening, stop, own, hinge, path)
    return Inactive(slab=own, hinge=hinges, pivot=pivot, rebate=_rebate(filling, slab))


def completed_lower(
    filling: Filling, opening: Opening, stop: Stop | None, slab: Slab, hinge: HingeSet, under: float
) -> Lower | None:
    """Return the lower slab of a Dutch door, or None; what is left out is as the upper slab's.

    ``under`` is how high it usually stands off the finished floor.
    """
    path = "lower"
    if not filling.has_table(path):
        return None
    gap = filling.number(f"{path}.gap", usual.HEAD_MARGIN, "usual margin")
    shelf = _shelf(filling, stop)
    above = slab.head_margin + slab.height[0] + gap + (shelf.thickness if shelf else 0.0)
    height = opening.height[0] - above - under
    own = replace(
        _own_slab(filling, f"{path}.slab", slab),
        width=filling.numbers(f"{path}.slab.width", (slab.width[-1],), "as the upper slab's"),
        height=_pair(
            filling.numbers(
                f"{path}.slab.height",
                (height,),
                f"what the upper slab leaves, {filling.length(under)} above the finished floor",
            )
        ),
        head_margin=above,
    )
    hinges, pivot = _hung(filling, opening, stop, own, hinge, path)
    return Lower(slab=own, hinge=hinges, gap=gap, pivot=pivot, shelf=shelf)


def _hung(
    filling: Filling,
    opening: Opening,
    stop: Stop | None,
    slab: Slab,
    hinge: HingeSet,
    path: str,
) -> tuple[HingeSet, PivotSet | None]:
    pivot = completed_pivots(filling, opening, stop, slab, path=f"{path}.pivot")
    if pivot is not None:
        return NO_HINGES, pivot
    like = hinge if hinge.count else None
    taken = _quietly(filling, f"{path}.hinge", "the other slab's, at the usual heights")
    return completed_hinges(taken, opening, slab, path=f"{path}.hinge", like=like), None


def _quietly(filling: Filling, path: str, words: str) -> Filling:
    """Return what fills a table up: noted down as one where nothing at all is said of it."""
    if filling.has_table(path):
        return filling
    filling.assume(path, words, "nothing said of it")
    return replace(filling, assumed=[])


def _own_slab(filling: Filling, path: str, like: Slab) -> Slab:
    """Return a plain slab that is like another where nothing is said of it."""
    filling = _quietly(filling, path, "the other slab's thickness, edges and material")
    thickness = filling.number(f"{path}.thickness", like.thickness, _ALIKE)
    return Slab(
        width=like.width,
        height=like.height,
        thickness=thickness,
        hinge_edge=slab_edge(filling, f"{path}.hinge_edge", thickness, like.hinge_edge),
        strike_edge=slab_edge(filling, f"{path}.strike_edge", thickness, like.strike_edge),
        head_margin=like.head_margin,
        material=filling.words(f"{path}.material", like.material, _ALIKE),
        construction=filling.words(f"{path}.construction", like.construction, _ALIKE),
        grain=like.grain,
    )


def _rebate(filling: Filling, active: Slab) -> MeetingRebate | None:
    """Return the rebate along the inactive slab's strike edge, or None."""
    path = "inactive.rebate"
    if not filling.has_table(path):
        return None
    lip = active.lip
    width = usual.LIP["width"] if lip is None else lip.strike + usual.MEETING_GAP
    depth = active.thickness / 2 if lip is None else active.thickness - lip.depth + 1 / 16
    why = "half the thickness" if lip is None else "the active slab's lip, and room about it"
    return MeetingRebate(
        width=filling.number(f"{path}.width", width, why),
        depth=filling.number(f"{path}.depth", depth, why),
    )


def _shelf(filling: Filling, stop: Stop | None) -> Shelf | None:
    path = "lower.shelf"
    if not filling.has_table(path):
        return None
    ends = usual.SHELF_SHORT + (stop.projection if stop else 0.0)
    sizes = {**usual.SHELF, "ends": ends}
    return Shelf(**filling.each_of(path, sizes, "usual shelf, between the stops"))


def _pair(values: tuple[float, ...]) -> tuple[float, float]:
    return values[0], values[-1]
