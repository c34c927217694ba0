"""Where a yes turns into a no along one number, and where a measure is least."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

_GOLDEN = (sqrt(5) - 1) / 2


def flip(
    good: Callable[[float], bool], inside: float, outside: float, width: float
) -> tuple[float, float]:
    """Return where good turns bad, by halving: a good place and a bad one, within ``width``.

    Examples
    --------
    >>> flip(lambda x: x < 0.3, 0.0, 1.0, 0.125)
    (0.25, 0.375)
    """
    while abs(outside - inside) > width:
        middle = (inside + outside) / 2
        if middle in (inside, outside):
            break
        if good(middle):
            inside = middle
        else:
            outside = middle
    return inside, outside


def first_good(good: Callable[[int], bool], count: int, *, start: int = 0) -> int | None:
    """Return the first good place of a row, by doubling steps until one is, then halving back.

    Bad places come first. ``count`` is how many there are, ``start`` the first that is
    looked at.

    Examples
    --------
    >>> first_good(lambda k: k >= 5, 20), first_good(lambda k: False, 20)
    (5, None)
    """
    if start >= count:
        return None
    bad, here, step = start - 1, start, 1
    while not good(here):
        if here == count - 1:
            return None
        bad, here, step = here, min(here + step, count - 1), step * 2
    while here - bad > 1:
        middle = (bad + here) // 2
        bad, here = (bad, middle) if good(middle) else (middle, here)
    return here


def crossing(
    measure: Callable[[float], float], inside: float, outside: float, width: float
) -> tuple[float, float]:
    """Return where a continuous measure falls below 0, by false position.

    A place where it is not negative and one where it is, no more than ``width``
    apart. The Illinois rule: the end that stays put counts half, so that both ends
    come in (Dowell and Jarratt (1971), BIT 11, 168).
    """
    at_inside, at_outside = measure(inside), measure(outside)
    kept = 0
    while abs(outside - inside) > width:
        share = at_inside / (at_inside - at_outside)
        middle = inside + (outside - inside) * share
        room = min(width / 4, abs(outside - inside) / 4)
        low, high = sorted((inside, outside))
        middle = min(max(middle, low + room), high - room)
        found = measure(middle)
        if found >= 0:
            inside, at_inside = middle, found
            at_outside = at_outside / 2 if kept == 1 else at_outside
            kept = 1
        else:
            outside, at_outside = middle, found
            at_inside = at_inside / 2 if kept == -1 else at_inside
            kept = -1
    return inside, outside


def least(
    measure: Callable[[float], float], low: float, high: float, *, rounds: int, enough: float
) -> float:
    """Return where a measure with one hollow is least, by the golden section.

    Stops as soon as it has found a place where the measure is ``enough`` or
    less.

    Examples
    --------
    >>> round(least(lambda x: (x - 2) ** 2, 0.0, 5.0, rounds=40, enough=-1.0), 6)
    2.0
    """
    near, far = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_near, at_far = measure(near), measure(far)
    for _ in range(rounds):
        if min(at_near, at_far) <= enough:
            break
        if at_near <= at_far:
            high, far, at_far = far, near, at_near
            near = high - _GOLDEN * (high - low)
            at_near = measure(near)
        else:
            low, near, at_near = near, far, at_far
            far = low + _GOLDEN * (high - low)
            at_far = measure(far)
    return near if at_near <= at_far else far
