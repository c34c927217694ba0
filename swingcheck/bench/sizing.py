"""The slab that the opening asks for, and the one it may be cut from.

Where a strike or bottom margin is wanted, the closed slab hangs where its
hinges put it, the widths that leave the margin at every height that was
measured are solved for, and the strike edge is the straight line under them
that leaves the least most. Otherwise the slab is as the scene tells it.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import ceil, tan

from swingcheck.assembly import Assembly
from swingcheck.assembly.slab import width_at
from swingcheck.bench.hung import (
    down_for_head,
    least_floor_margin,
    stations_down,
    width_for_margin,
    zero_of,
)
from swingcheck.model import Assumed, Delivered, Edge, Scene, Slab, Stations, Wanted
from swingcheck.units import in_unit, inches, length_text

Sizes = tuple[float, ...]

SOLD_IN: tuple[Sizes, Sizes] = (
    (18.0, 24.0, 28.0, 30.0, 32.0, 36.0, 42.0, 48.0),
    (80.0, 84.0, 96.0),
)
"""Widths and heights that slabs are sold in, inches. Common practice, no source."""

SOLD_MM: tuple[Sizes, Sizes] = ((584.0, 709.0, 834.0, 959.0, 1084.0), (1972.0, 2097.0))
"""Flush leaves of DIN 18101, mm, as an architects' encyclopedia gives them (read)."""

_SETTLED_IN = 1e-10
_MOST_TURNS = 12


def wanted_slab(hung: Assembly, strike: float | None, bottom: float | None) -> Slab:
    """Return the slab as told, its width and height cut for the margins that are wanted.

    Its top follows the head, unless its two edges were told to differ. Where a
    margin is ``None`` the width, or the hinge edge's height, stands as told. The
    width depends on how far down the edge runs, and the height on how wide the
    bottom is, by as little as the opening is out of true: a few turns settle both.
    """
    slab = hung.scene.slab
    for _ in range(_MOST_TURNS):
        before = slab
        slab = replace(slab, height=_heights(hung, slab, bottom))
        if strike is not None:
            slab = replace(slab, width=_widths(hung, slab, strike))
        if _is_settled(before, slab):
            break
    return slab


def wanted_margins(scene: Scene) -> tuple[float | None, float | None, tuple[Assumed, ...]]:
    """Return the strike and bottom margins to cut for, and which were assumed.

    ``None`` where the slab's own size stands: it was told, and no margin was.
    """
    left_out = {item.key for item in scene.assumed}
    told = (None, None) if scene.wanted is None else (scene.wanted.strike, scene.wanted.bottom)
    found: list[float | None] = []
    assumed = []
    for margin, key, of, usual in (
        (told[0], "wanted.strike", "slab.width", Wanted.USUAL_STRIKE_IN),
        (told[1], "wanted.bottom", "slab.height", Wanted.USUAL_BOTTOM_IN),
    ):
        if margin is None and of in left_out:
            value = length_text(usual, scene.unit)
            assumed.append(Assumed(key=key, value=value, why="usual, where no size is told"))
            margin = usual
        found.append(margin)
    return found[0], found[1], tuple(assumed)


def nominal_slab(slab: Slab, unit: str) -> Delivered:
    """Return the smallest slab sold that this one can be cut from.

    Past the largest that is sold, the next whole inch up (10 mm up).
    """
    is_metric = unit == "mm"
    widths, heights = SOLD_MM if is_metric else SOLD_IN
    step = 10.0 if is_metric else 1.0

    def sold(least: float, sizes: Sizes) -> float:
        needed = in_unit(least, unit) - 1e-6
        fitting = [size for size in sizes if size >= needed]
        return inches(fitting[0] if fitting else ceil(needed / step) * step, unit)

    edges = (slab.hinge_edge, slab.strike_edge)
    wide = max(slab.width) + sum(least_off(edge, slab.thickness) for edge in edges)
    return Delivered(width=sold(wide, widths), height=sold(max(slab.height), heights))


def least_off(edge: Edge, thickness: float) -> float:
    """Return the least that comes off the wide face for an edge's shape to be cut at all.

    Nothing, but where the edge leans the other way, wider at the stop side.
    """
    return max(0.0, -thickness * tan(edge.lean))


def straight_under(points: list[tuple[float, float]]) -> tuple[float, float]:
    """Return the straight line under (place, value) points that leaves the least most above it.

    Its slope, and its value at place 0; places rise. The thinnest strip, along the
    value, that holds all the points has two of them on one of its sides, so a slope
    between two of them is the best. Of slopes as good, the least.

    Examples
    --------
    >>> straight_under([(0.0, 30.0), (40.0, 29.75), (80.0, 30.0)])
    (0.0, 29.75)
    """
    slopes = {0.0}
    slopes |= {(high - low) / (far - near) for (near, low), (far, high) in combinations(points, 2)}

    def spread(slope: float) -> tuple[float, float]:
        above = [value - slope * place for place, value in points]
        return round(max(above) - min(above), 12), abs(slope)

    best = min(slopes, key=spread)
    return best, min(value - best * place for place, value in points)


def _is_settled(before: Slab, after: Slab) -> bool:
    if len(before.width) != len(after.width):
        return False
    pairs = zip((*before.width, *before.height), (*after.width, *after.height), strict=True)
    return all(abs(old - new) < _SETTLED_IN for old, new in pairs)


def _heights(hung: Assembly, slab: Slab, margin: float | None) -> tuple[float, float]:
    """Return the heights that follow the head and clear the floor by a margin.

    A head out of level by no more than the saw is held to is not followed.
    """
    told = hung.scene.slab.height
    if margin is None and told[0] != told[1]:
        return told
    fall = down_for_head(hung, slab.head_margin, width_at(slab, slab.height[1]))
    if abs(fall) <= hung.scene.shop.rip_tolerance:
        fall = 0.0
    if margin is None:
        return told[0], told[0] - fall
    width, until = width_at(slab, 0.0), hung.scene.swing.wanted
    height = zero_of(
        lambda down: least_floor_margin(hung, width, down, until) - margin, slab.height[0]
    )
    return height, height - fall


def _widths(hung: Assembly, slab: Slab, margin: float) -> Stations:
    """Return the width, or top and bottom widths, that leave no less than a strike margin.

    A taper of no more than the saw is held to is not cut.
    """
    fall, foot = slab.height[0] - slab.height[1], slab.height[0]
    points = [
        (down, width_for_margin(hung, margin, down)) for down in stations_down(hung, fall, foot)
    ]
    slope, start = straight_under(points)
    if abs(slope) * (foot - fall) <= hung.scene.shop.rip_tolerance:
        return (min(width for _, width in points),)
    return start + slope * fall, start + slope * foot
