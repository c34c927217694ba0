"""How wide hinges have to be to swing the slab as far as it is wanted, past this trim."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from swingcheck.advice.search import flip
from swingcheck.chance.values import with_values
from swingcheck.errors import GeometryError
from swingcheck.model import Scene
from swingcheck.model.hinge import stock_open_width
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.swung import overlapped
from swingcheck.swing.trial import trial

#: The widest hinges that are looked at, how closely, and the first step wider, inches.
WIDEST_IN, CLOSE_IN, STEP_IN = 16.0, 1e-4, 0.5

#: A slab that comes to rest this near the wanted angle opens so far, radians.
AT_REST_RAD = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenWidth:
    """The hinges that a wanted swing needs, inches, ``wanted`` radians.

    ``least`` is the least open width that opens so far, ``stock`` the next one
    that is sold, and ``swings`` whether the slab then also closes.
    """

    wanted: float
    least: float
    stock: float
    swings: bool


def open_width_needed(
    scene: Scene,
    wanted: float | None = None,
    *,
    variants: Variants | None = None,
    close: float = CLOSE_IN,
) -> OpenWidth | None:
    """Return the least open width that lets the slab open as far as ``wanted``, radians.

    The scene's own angle when left out; ``close`` is how near above the very least
    to come. ``None`` where no hinge does it, or the slab is not on plain hinges
    with leaves flat and alike.
    """
    wanted = scene.swing.wanted if wanted is None else wanted
    if scene.pivot is not None or not scene.hinge.is_flat:
        return None
    kept = variants or Variants()

    def opens(width: float) -> bool:
        try:
            swing = kept.swung(with_values(scene, "hinge.open_width", (width,)))
        except GeometryError:
            return False
        start = min(scene.swing.start, wanted)
        blocked = overlapped(swing.assembly, start)
        found = None if blocked else swing.contact(start, wanted)
        return not blocked and (found is None or found.angle >= wanted - AT_REST_RAD)

    least = _least_width(opens, scene.hinge.open_width, close)
    if least is None:
        return None
    stock = stock_open_width(least - close)
    stock = stock if opens(stock) else stock_open_width(stock + close)
    found = trial(with_values(scene, "hinge.open_width", (stock,)), kept)
    return OpenWidth(wanted=wanted, least=least, stock=stock, swings=found.swings)


def _least_width(opens: Callable[[float], bool], narrow: float, close: float) -> float | None:
    if opens(narrow):
        return narrow
    wide, step = narrow + STEP_IN, STEP_IN
    while not opens(wide):
        if wide >= WIDEST_IN:
            return None
        narrow, step = wide, 2 * step
        wide = min(narrow + step, WIDEST_IN)
    return flip(opens, wide, narrow, close)[0]
