"""``[[neighbour]]``: other openings beside a scene's own, each read from its own file."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.errors import SceneError
from swingcheck.model import Neighbour, Scene
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import Table, angle, either_way, words

_MOST = 4

TABLE = Table(
    keys={
        "name": words(),
        "scene": words(),
        "across": either_way(
            usual=0.0, needed="from this hinge leg to its hinge leg's face, across this opening"
        ),
        "out": either_way(
            usual=0.0,
            needed="from this jamb's pull-side edge to its own, toward this pull side",
        ),
        "turn": angle(-360.0, 360.0, usual=0.0, why="in the same wall, the same way round"),
    },
    many=True,
)


def read(filling: Filling) -> tuple[Neighbour, ...]:
    """Return the openings whose slabs swing in the same room; their own are left out."""
    return tuple(_neighbours(filling)) if filling.read_beside else ()


def _neighbours(filling: Filling) -> Iterator[Neighbour]:
    count = filling.counts.get("neighbour", 0)
    if count > _MOST:
        filling.must_be("neighbour", f"{count} of them", f"at most {_MOST}")
        return
    for place in range(count):
        path = f"neighbour[{place}]"
        said = filling.all_of(path)
        scene = _scene(filling, f"{path}.scene")
        if scene is not None:
            yield Neighbour(**{"name": scene.title, **said, "scene": scene})


def _scene(filling: Filling, key: str) -> Scene | None:
    """Return the neighbour's scene; None, with the fault noted, where it cannot be read."""
    file = filling.values.get(key)
    if file is None or filling.read_beside is None:
        if key not in filling.faulty:
            filling.fault(key, "", "missing: the file of the other opening's scene")
        return None
    try:
        return filling.read_beside(file)
    except SceneError as error:
        first, more = error.problems[0], len(error.problems) - 1
        told = f"{first}{f', and {more} more faults' if more else ''}"
        filling.fault(key, filling.typed.get(key, ""), f"must be a scene without faults: {told}")
        return None
