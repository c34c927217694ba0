"""``[stop]``: the strip that the closed slab rests against."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Opening, Scene, Stop
from swingcheck.scenefile.broken import Broken, beyond
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import NONE, Table, over_0
from swingcheck.scenefile.tables.opening import narrowest

_WIDTH_IN = 1.25
_STEEL_PROJECTION_IN = 5 / 8  # from memory of the Steel Door Institute's details

TABLE = Table(
    keys={
        "projection": over_0(12.0, usual=7 / 16, ask="from the face of the jamb into the opening"),
        "width": over_0(48.0, usual=_WIDTH_IN, ask="along the jamb, face to back"),
    },
    words=NONE,
    why="usual stop stock",
    ask='The strip that the closed slab rests against. For none: stop = "none" at the top instead.',
)


def read(filling: Filling, opening: Opening) -> Stop | None:
    """Return the stop, or None where it is said that there is none."""
    if "stop" in filling.values:
        return None
    usual: Taken = {}
    if opening.steel is not None:
        why, rabbet = "usual steel frame", max(opening.rabbet.hinge)
        between = opening.depth - 2 * rabbet
        width = between if between > 0 else min(_WIDTH_IN, opening.depth - rabbet)
        usual = {"projection": (_STEEL_PROJECTION_IN, why), "width": (width, why)}
    return filling.made_or_plain("stop", Stop, usual)


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield the limit of stops that meet."""
    least = narrowest(scene.opening, scene.slab.width)
    if scene.stop is not None and least > 0:
        held = ("<", least / 2, "under half the opening's width, {}", "opening.width")
        yield from beyond(scene, "stop.projection", *held)
