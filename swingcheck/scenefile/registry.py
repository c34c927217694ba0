"""Every table of a scene file, in order: its keys, what reads it, what it cannot be."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

from swingcheck.model import Baseboard, Finish, Obstacle, Scene, Season, Site, Wanted
from swingcheck.scenefile.broken import Broken
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import Names, Table, word, words
from swingcheck.scenefile.tables import (
    floor,
    hinge,
    lock,
    neighbour,
    opening,
    pivot,
    room,
    season,
    second_slab,
    shop,
    slab,
    stop,
    swing,
)
from swingcheck.units import UNITS


@dataclass(frozen=True, slots=True)
class Part:
    """A table of the file and what it is in a scene.

    ``read`` is given what the scene says and the parts read before it, by
    their names in a `Scene`; ``field`` is its own, where that is not ``key``.
    """

    key: str
    table: Table
    read: Callable[[Filling, Any], Any]
    limits: Callable[[Scene], Iterator[Broken]] = lambda _: iter(())
    field: str = ""


PARTS = (
    Part("opening", opening.TABLE, lambda f, _: opening.read(f), opening.limits),
    Part("stop", stop.TABLE, lambda f, p: stop.read(f, p.opening), stop.limits),
    Part("slab", slab.TABLE, lambda f, p: slab.read(f, p.opening), slab.limits),
    Part("hinge", hinge.TABLE, lambda f, p: hinge.read(f, p.opening, p.slab), hinge.limits),
    Part(
        "pivot",
        pivot.TABLE,
        lambda f, p: pivot.read(f, p.opening, p.stop, p.slab),
        pivot.limits,
    ),
    Part(
        "inactive",
        second_slab.INACTIVE,
        lambda f, p: second_slab.read_inactive(f, p.opening, p.stop, p.slab, p.hinge),
        second_slab.limits_of_inactive,
    ),
    Part(
        "lower",
        second_slab.LOWER,
        lambda f, p: second_slab.read_lower(f, p.opening, p.stop, p.slab, p.hinge),
        second_slab.limits_of_lower,
    ),
    Part("lock", lock.TABLE, lambda f, p: lock.read(f, p.slab), lock.limits),
    Part("floor", floor.FLOOR, lambda f, _: floor.read_floor(f), floor.limits),
    Part("carpet", floor.CARPET, lambda f, p: floor.read_carpet(f, p.opening)),
    Part("threshold", floor.THRESHOLD, lambda f, p: floor.read_threshold(f, p.opening)),
    Part("casing", room.CASING, lambda f, _: room.read_casing(f), room.limits),
    Part("baseboard", room.BASEBOARD, lambda f, _: f.made("baseboard", Baseboard)),
    Part("wall_return", room.WALL_RETURN, lambda f, p: room.read_wall_return(f, p.slab)),
    Part(
        "obstacle",
        room.OBSTACLE,
        lambda f, _: f.each_made("obstacle", Obstacle, "obstacle"),
        field="obstacles",
    ),
    Part("neighbour", neighbour.TABLE, lambda f, _: neighbour.read(f), field="neighbours"),
    Part("swing", swing.SWING, lambda f, p: swing.read_swing(f, p.pivot, p.stop), swing.limits),
    Part("shop", shop.SHOP, lambda f, _: shop.read_shop(f), shop.limits),
    Part("site", shop.SITE, lambda f, _: f.made_or_plain("site", Site)),
    Part("wanted", swing.WANTED, lambda f, _: f.made("wanted", Wanted)),
    Part("season", season.SEASON, lambda f, _: f.made("season", Season)),
    Part("finish", season.FINISH, lambda f, _: f.made("finish", Finish)),
)

NAMES = Names(
    Table(
        keys={
            "title": words(ask="what to call it"),
            "unit": word(
                *UNITS,
                usual="in",
                why="bare numbers are usually inches",
                ask='of bare numbers: "in" or "mm"',
            ),
            "hinges_on": word(
                "left",
                "right",
                usual="left",
                why="nothing said; the fit is the same either way",
                ask='"left" or "right", seen from the pull side',
            ),
            **{part.key: part.table for part in PARTS},
        }
    )
)


def completed_scene(filling: Filling, title: str) -> Scene:
    """Return the scene, ``title`` where it has none, with what it left out noted in ``filling``."""
    filling.words("unit")
    parts = SimpleNamespace(hinges_on=filling.words("hinges_on"))
    for part in PARTS:
        setattr(parts, part.field or part.key, part.read(filling, parts))
    return Scene(
        title=filling.values.get("title", title),
        unit=filling.unit,
        assumed=filling.in_order(),
        **vars(parts),
    )


def broken_limits(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that a whole scene breaks: what cannot be built.

    What can be built but will not swing is no fault of a scene: that is what
    a check is for.
    """
    for part in PARTS:
        yield from part.limits(scene)
