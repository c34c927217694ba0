"""Where the slab hangs when closed, without building a solid: what a cut is measured against.

Points on the slab are told from its top corner at the hinge edge's wide-face
arris, since that is where a tape is hooked: ``across`` toward the strike edge,
``back`` from the wide face, ``down`` along the hinge edge. The corner's place
is fixed by the hinges and the head margin alone, so no cut in width or height
moves it.
"""

from __future__ import annotations

from collections.abc import Callable
from math import asin, atan2, cos, hypot, pi, sin

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.assembly.ground import ground_height
from swingcheck.assembly.legs import leg_heights, strike_leg_plan
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.solid import Floats
from swingcheck.swing.margins import head_gap

FLOOR_STEP_RAD = pi / 360
"""Between the angles at which a floor with a profile is looked at, radians."""

PARTS_OVER_LAID = 16
"""Into how many parts the slab's bottom is looked at over what is laid on a floor."""

_NEAR_IN = 1e-12
_MOST_TURNS = 40


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
    for _ in range(_MOST_TURNS):
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
        x, y, z = hung.axis.turned_point(corner, angle)
        return float(z - ground_height(hung.scene, float(x), float(y)))

    angles = np.linspace(0.0, until, max(2, int(np.ceil(until / FLOOR_STEP_RAD)) + 1))
    gaps = [gap(float(angle)) for angle in angles]
    least = int(np.argmin(gaps))
    low, high = (float(angles[k]) for k in (max(least - 1, 0), min(least + 1, len(gaps) - 1)))
    for _ in range(_MOST_TURNS):
        third = (high - low) / 3
        if gap(low + third) <= gap(high - third):
            high -= third
        else:
            low += third
    return min(*gaps, gap((low + high) / 2))
