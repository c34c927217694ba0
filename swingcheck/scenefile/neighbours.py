"""Other openings beside a scene's own, each read from its own file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from swingcheck.errors import SceneError
from swingcheck.model import Neighbour, Scene
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.hung_keys import MOST_NEIGHBOURS


def completed_neighbours(
    filling: Filling, folder: Path, read: Callable[..., Scene]
) -> tuple[Neighbour, ...]:
    """Return the openings whose slabs swing in the same room.

    Parameters
    ----------
    filling : Filling
        What the scene says.
    folder : Path
        Where it stands: a neighbour's file is looked for from there.
    read : callable
        What reads a scene's file, ``read(path, alone=True)``.

    Notes
    -----
    A neighbour's own neighbours are left out.
    """
    return tuple(_neighbours(filling, folder, read))


def _neighbours(filling: Filling, folder: Path, read: Callable[..., Scene]) -> Iterator[Neighbour]:
    measured = filling.measured
    count = measured.counts.get("neighbour", 0)
    if count > MOST_NEIGHBOURS:
        measured.must_be("neighbour", f"{count} of them", f"at most {MOST_NEIGHBOURS}")
        return
    for place in range(count):
        path = f"neighbour[{place}]"
        across = filling.required(f"{path}.across", (0.0,), _ACROSS)[0]
        out = filling.required(f"{path}.out", (0.0,), _OUT)[0]
        turn = filling.number(f"{path}.turn", 0.0, "in the same wall, the same way round")
        scene = _scene(filling, path, folder, read)
        if scene is not None:
            name = measured.words.get(f"{path}.name", scene.title)
            yield Neighbour(name=name, scene=scene, across=across, out=out, turn=turn)


_ACROSS = "from this hinge leg to its hinge leg's face, across this opening"
_OUT = "from this jamb's pull-side edge to its own, toward this pull side"


def _scene(filling: Filling, path: str, folder: Path, read: Callable[..., Scene]) -> Scene | None:
    """Return the neighbour's scene; None, with the fault noted, where it cannot be read."""
    measured, key = filling.measured, f"{path}.scene"
    file = measured.words.get(key)
    if file is None:
        if key not in measured.faulty:
            measured.fault(key, "", "missing: the file of the other opening's scene")
        return None
    try:
        return read(folder / file, alone=True)
    except SceneError as error:
        first, more = error.problems[0], len(error.problems) - 1
        told = f"{first}{f', and {more} more faults' if more else ''}"
        measured.fault(key, measured.typed.get(key, ""), f"must be a scene without faults: {told}")
        return None
