"""First contact in plan, worked out apart from swingcheck: to 40 digits, and in closed form.

The axis is the origin of the plan, and angles grow counter-clockwise. Nothing here solves the
equation that :mod:`swingcheck.geometry.contact` solves: the 40-digit search cuts the circle of
each corner with each edge and then looks whether the outlines overlap a hair later; the closed
forms are polar.

Closed forms
------------
A corner at radius ``r`` and polar angle ``f`` stands at polar angle ``f + t`` after a turn of
``t``. It is on the line ``n . x = d``, whose unit normal has the polar angle ``v``, where
``r cos(f + t - v) = d``, so at ``t = v - f -+ acos(d / r)``. Every way a slab can meet its frame is
that:

* the strike edge's narrow-face arris, ``L`` across from the axis and ``T + p`` behind it, and the
  strike leg's face, ``v = 0``: it comes from the pull side, so it meets that at the larger turn;
* the hinge edge's narrow-face arris and a stop's face, ``v = -pi/2``: straight under the axis it is
  at its lowest, and it comes from the strike side of that, so closing meets the lesser;
* a fixed corner, such as a stop's nose, and a face of the slab, ``v = -pi/2`` for the narrow one,
  ``v = pi/2`` for the wide one: seen from the slab the corner turns by ``-t``;
* a bottom corner and a sloping floor, the height ``z`` of the corner never changing: the floor
  ``z = z0 + g . x`` has there the level line ``g . x = z - z0``;
* a bottom corner about a leaning axis and a level floor. Lean the axis by ``l`` toward polar
  angle ``0`` (a turn about +y): the corner ``(r cos, r sin, h)`` of the axis' own frame gets the
  height ``h cos l - r sin l cos(f + t)``, so ``v = 0`` and ``d = h / tan l``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import acos, atan2, hypot, pi

import numpy as np
from mpmath import atan2 as mp_atan2
from mpmath import cos as mp_cos
from mpmath import mp, mpf
from mpmath import pi as mp_pi
from mpmath import sin as mp_sin
from mpmath import sqrt as mp_sqrt
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Point = tuple[mpf, mpf]
Outline = list[Point]

DIGITS = 40
HAIR = mpf(10) ** -16  # radians: how much later the outlines are looked at again


# Closed forms.


def corner_meets_line(corner: tuple[float, float], toward: float, offset: float) -> list[float]:
    """Return the turns in [0, 2 pi), rising, at which a turning corner is on a fixed line.

    ``toward`` is the polar angle of the line's normal, ``offset`` its distance from the axis.
    """
    radius, polar = hypot(*corner), atan2(corner[1], corner[0])
    half = acos(offset / radius)
    return sorted((toward - polar + side * half) % (2 * pi) for side in (-1, 1))


def line_meets_corner(corner: tuple[float, float], toward: float, offset: float) -> float:
    """Return the least turn in [0, 2 pi] at which a turning line meets a fixed corner.

    Seen from the line, told as it stands at angle 0, the corner turns back.
    """
    return 2 * pi - corner_meets_line(corner, toward, offset)[-1]


def first_corner_meets_line(
    corners: Sequence[tuple[float, float]], toward: float, offset: float
) -> float:
    """Return the least turn at which any of several turning corners is on a fixed line."""
    reach = [corner for corner in corners if abs(offset) < hypot(*corner)]
    return min(corner_meets_line(corner, toward, offset)[0] for corner in reach)


# Forty digits.


def plan_first_contact(
    moving: Sequence[Floats], fixed: Sequence[Floats], start: float, stop: float
) -> mpf | None:
    """Return the first angle from start to stop at which outlines begin to overlap, to 40 digits.

    Outlines are (n, 2), counter-clockwise, their floats taken as exact; the moving ones as they
    stand at angle 0, apart at ``start`` or touching.
    """
    with mp.workdps(DIGITS):
        movers, rest = [_exact(o) for o in moving], [_exact(o) for o in fixed]
        sense = 1 if stop > start else -1
        turns = sorted(set(_candidate_turns(movers, rest, mpf(start), sense)))
        for turn in turns:
            if turn > abs(mpf(stop) - mpf(start)):
                return None
            angle = mpf(start) + sense * turn
            later = angle + sense * HAIR
            if any(_overlap(_turned(m, later), f) for m in movers for f in rest):
                return angle
    return None


def _exact(outline: Floats) -> Outline:
    return [(mpf(float(x)), mpf(float(y))) for x, y in outline]


def _turned(outline: Outline, angle: mpf) -> Outline:
    c, s = mp_cos(angle), mp_sin(angle)
    return [(c * x - s * y, s * x + c * y) for x, y in outline]


def _candidate_turns(
    movers: Sequence[Outline], rest: Sequence[Outline], start: mpf, sense: int
) -> Iterator[mpf]:
    """Yield the turns from the start at which a corner of either is on an edge of the other."""
    whole = 2 * mp_pi
    for mover in movers:
        for other in rest:
            for corner in mover:
                for place in _circle_cuts(corner, other):
                    yield (sense * (_polar(place) - _polar(corner) - start)) % whole
            for corner in other:
                for place in _circle_cuts(corner, mover):
                    yield (sense * (_polar(corner) - _polar(place) - start)) % whole


def _polar(p: Point) -> mpf:
    return mp_atan2(p[1], p[0])


def _circle_cuts(corner: Point, outline: Outline) -> Iterator[Point]:
    """Yield where the circle about the origin through a corner cuts an outline."""
    square = corner[0] ** 2 + corner[1] ** 2
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        ux, uy = bx - ax, by - ay
        a, b, c = ux * ux + uy * uy, ax * ux + ay * uy, ax * ax + ay * ay - square
        under = b * b - a * c
        if under < 0:
            continue
        root = mp_sqrt(under)
        for s in ((-b - root) / a, (-b + root) / a):
            if -HAIR < s < 1 + HAIR:
                yield ax + s * ux, ay + s * uy


def _overlap(first: Outline, second: Outline) -> bool:
    """Return whether two outlines share area: edges that cross, or a corner inside the other."""
    if any(_inside(p, second) for p in first) or any(_inside(p, first) for p in second):
        return True
    return any(_cross(a, b, c, d) for a, b in _sides(first) for c, d in _sides(second))


def _sides(outline: Outline) -> list[tuple[Point, Point]]:
    return list(zip(outline, outline[1:] + outline[:1], strict=True))


def _side(a: Point, b: Point, p: Point) -> mpf:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _inside(p: Point, outline: Outline) -> bool:
    """Return whether a point is strictly inside, by counting crossings of a ray along +x."""
    odd = False
    for a, b in _sides(outline):
        if (a[1] > p[1]) != (b[1] > p[1]):
            side = _side(a, b, p)
            if side == 0:
                return False
            if (side > 0) == (b[1] > a[1]):
                odd = not odd
    return odd
