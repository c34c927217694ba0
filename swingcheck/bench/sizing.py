"""Where the closed slab hangs, what the opening asks of it, and the slab it may be cut from.

No solid is built. Points on the slab are told from its top corner at the hinge
edge's wide-face arris, since that is where a tape is hooked: ``across`` toward
the strike edge, ``back`` from the wide face, ``down`` along the hinge edge. The
corner's place is fixed by the hinges and the head margin alone, so no cut in
width or height moves it.

Where a strike or bottom margin is wanted, the widths that leave it at every
height that was measured are solved for, and the strike edge is the straight
line under them that leaves the least most. Otherwise the slab is as told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from math import asin, atan2, ceil, cos, hypot, pi, sin, tan

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.ground import ground_height
from swingcheck.assembly.legs import leg_heights, strike_leg_plan
from swingcheck.assembly.slab import width_at
from swingcheck.assembly.warp import warp_at
from swingcheck.files import table_rows
from swingcheck.geometry.solid import Floats
from swingcheck.model import Assumed, Delivered, Edge, Scene, Slab, Stations, Wanted
from swingcheck.swing.margins import head_gap
from swingcheck.units import in_unit, inches, length_text

FLOOR_STEP_RAD = pi / 360
"""Between the angles at which a floor with a profile is looked at, radians."""

PARTS_OVER_LAID = 16
"""Into how many parts the slab's bottom is looked at over what is laid on a floor."""

_NEAR_IN = 1e-12
_MOST_STEPS = 40


def on_slab(hung: Assembly, across: float, back: float, down: float) -> Floats:
    """Return the place (3,) of a point on the closed slab, opening frame."""
    slab = hung.scene.slab
    up = slab.height[0] - down
    placed: Floats = hung.place @ [across, warp_at(slab, across, up) - back, up, 1.0]
    return placed


def strike_margin(hung: Assembly, width: float, down: float) -> float:
    """Return the gap from the strike edge of a slab so wide to the strike leg."""
    slab = hung.scene.slab
    point = on_slab(hung, width, slab.strike_edge.crown(slab.thickness), down)
    return float(strike_leg_plan(hung.scene.opening, float(point[2])).gap(point[:2]))


def width_for_margin(hung: Assembly, margin: float, down: float) -> float:
    """Return the width on the wide face that leaves this strike margin, inches."""
    start = hung.scene.opening.width[0]
    return zero_of(lambda width: strike_margin(hung, width, down) - margin, start)


def down_for_head(hung: Assembly, margin: float, across: float) -> float:
    """Return how far down from the hinge corner the strike edge's top is, for a head margin."""
    slab = hung.scene.slab
    back = slab.strike_edge.crown(slab.thickness)
    return zero_of(
        lambda down: head_gap(hung.scene, on_slab(hung, across, back, down)) - margin, 0.0
    )


def least_floor_margin(hung: Assembly, width: float, down: float, until: float) -> float:
    """Return the least gap from the slab's bottom to the floor, swung open to ``until``, radians.

    The slab is so wide at its bottom, on the wide face, and that is ``down`` from
    its hinge corner. The bottom is level in the slab, so its four corners tell.
    Over a plane each corner's gap is ``a + b cos t + c sin t + d t`` in the swing
    angle ``t``, and the least is at an end or where that turns. A floor with a
    profile, or with a saddle or a carpet on it, is looked at every half degree, and
    closer about the least of these; under what is laid, all along the bottom.
    """
    scene = hung.scene
    is_laid = scene.threshold is not None or scene.carpet is not None
    across = np.linspace(0.0, width, PARTS_OVER_LAID + 1 if is_laid else 2).tolist()
    corners = [on_slab(hung, x, back, down) for x in across for back in (0.0, scene.slab.thickness)]
    if is_laid or scene.floor.profile:
        return min(_stepped_floor_margin(hung, corner, until) for corner in corners)
    return min(_plane_floor_margin(hung, corner, until) for corner in corners)


def stations_down(hung: Assembly, top: float, bottom: float) -> tuple[float, ...]:
    """Return where along the strike edge the legs were measured, and the edge's two ends.

    ``top`` and ``bottom`` are its ends, down from the hinge corner.
    """
    heights = leg_heights(hung.scene.opening, 1)
    level = float(on_slab(hung, hung.scene.opening.width[0], 0.0, 0.0)[2])
    found = {top, bottom, *((level - z) / float(hung.place[2, 2]) for z in heights)}
    return tuple(sorted(down for down in found if top <= down <= bottom))


def zero_of(gap: Callable[[float], float], start: float) -> float:
    """Return where a nearly straight function is 0, by the secant from ``start``."""
    here, value = start, gap(start)
    there = start + 0.125
    for _ in range(_MOST_STEPS):
        beyond = gap(there)
        if abs(beyond) < _NEAR_IN or beyond == value:
            break
        here, value, there = there, beyond, there - beyond * (there - here) / (beyond - value)
    return there


def _plane_floor_margin(hung: Assembly, corner: Floats, until: float) -> float:
    """Return a corner's least gap to a floor without a profile, exactly.

    Rodrigues: the corner's turn is ``middle + cos t across + sin t ahead``,
    with ``middle`` its foot on the pin line; rising hinges lift it by ``t``
    times their rise.
    """
    floor, axis = hung.scene.floor, hung.axis
    up = np.array([-floor.across, -floor.out, 1.0])
    away = corner - axis.point
    along = (away @ axis.direction) * axis.direction
    across, ahead = away - along, np.cross(axis.direction, away)
    level = float(up @ (axis.point + along)) - floor.covering
    cosine, sine, climb = (float(up @ part) for part in (across, ahead, axis.rise * axis.direction))
    angles = [0.0, until]
    if abs(climb) < hypot(cosine, sine):
        least_at = (atan2(-sine, -cosine) - asin(climb / hypot(cosine, sine))) % (2 * pi)
        angles += [least_at] if least_at < until else []
    return min(level + cosine * cos(t) + sine * sin(t) + climb * t for t in angles)


def _stepped_floor_margin(hung: Assembly, corner: Floats, until: float) -> float:
    """Return a corner's least gap to a floor with a profile, looked for about its least step."""

    def gap(angle: float) -> float:
        x, y, z = hung.axis.turned_points(corner, angle)
        return float(z - ground_height(hung.scene, float(x), float(y)))

    angles = np.linspace(0.0, until, max(2, int(np.ceil(until / FLOOR_STEP_RAD)) + 1))
    gaps = [gap(float(angle)) for angle in angles]
    least = int(np.argmin(gaps))
    low, high = (float(angles[k]) for k in (max(least - 1, 0), min(least + 1, len(gaps) - 1)))
    for _ in range(_MOST_STEPS):
        third = (high - low) / 3
        if gap(low + third) <= gap(high - third):
            high -= third
        else:
            low += third
    return min(*gaps, gap((low + high) / 2))


SOLD: tuple[tuple[str, *tuple[tuple[float, ...], ...]], ...] = tuple(
    (row["unit"], *(tuple(map(float, row[name].split())) for name in ("widths", "heights")))
    for row in table_rows(__package__, "sold")
)
"""The unit, and in it the widths and the heights that slabs are sold in: a row for each country
and way of measuring, their sources beside them."""

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
    """Return the smallest slab sold in any country, in that unit, that this one can be cut from.

    Past the largest that is sold, the next whole inch up (10 mm up).
    """
    step = 10.0 if unit == "mm" else 1.0
    edges = (slab.hinge_edge, slab.strike_edge)
    wide = max(slab.width) + sum(least_off(edge, slab.thickness) for edge in edges)
    needed = [in_unit(least, unit) - 1e-6 for least in (wide, max(slab.height))]
    found = []
    for of, *sizes in SOLD:
        fitting = [[each for each in s if each >= n] for s, n in zip(sizes, needed, strict=True)]
        size = [s[0] if s else ceil(n / step) * step for s, n in zip(fitting, needed, strict=True)]
        if of == unit:
            found.append((fitting.count([]), size[0] * size[1], size))
    width, height = min(found)[2]
    return Delivered(width=inches(width, unit), height=inches(height, unit))


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
