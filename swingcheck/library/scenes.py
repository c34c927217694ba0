"""A scene from its file, a starter for one, and a whole job of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from swingcheck.bench.door import settled
from swingcheck.model import Scene, Source, with_source
from swingcheck.scenefile import read_scene
from swingcheck.scenefile.reading import read_source

if TYPE_CHECKING:
    from swingcheck.job.house import Job

_T = TypeVar("_T")

Settings = Mapping[str, str] | Iterable[tuple[str, str]]


def pairs(given: Mapping[str, _T] | Iterable[tuple[str, _T]]) -> list[tuple[str, _T]]:
    """Return what is given by its keys as pairs, in its order."""
    return list(given.items() if isinstance(given, Mapping) else given)


def read(file: str | Path, settings: Settings = ()) -> Scene:
    """Return the scene of a TOML file, with settings laid over it in their order.

    Raises SceneError with every fault of the file and of the settings.

    Parameters
    ----------
    file : str or Path
        A scene file; ``-`` is standard input.
    settings : mapping of str to str, or pairs
        Measurements to change, as typed: ``{"hinge.slab.setback[1]": "5/16"}``.
    """
    return _settled(read_scene(Path(file), settings=pairs(settings)))


def _settled(scene: Scene) -> Scene:
    """Return a scene that was read, and whatever it is read anew to, with the slab that is cut."""
    assert scene.source is not None
    return with_source(settled(scene), replace(scene.source, read=_read_anew))


def _read_anew(source: Source) -> Scene:
    return _settled(read_source(source))


def new(measurements: Settings) -> str:
    """Return a starter scene as TOML, with a line on how to take each measurement.

    Raises SceneError with every fault of what is given.

    Parameters
    ----------
    measurements : mapping of str to str, or pairs
        By their keys, as typed; ``opening.width`` and ``opening.height`` at least.
    """
    from swingcheck.scenefile.starter import starter_scene

    return starter_scene(dict(pairs(measurements)))


def house(
    job: str | Path,
    settings: Settings = (),
    *,
    kept_in: Path | None = None,
    processes: int | None = None,
    say: Callable[[str], None] = lambda words: None,
    watch: Callable[[int, int], None] = lambda done, count: None,
) -> Job:
    """Return every opening of a job, checked with the slab that its cuts leave.

    Raises SceneError with every fault of the job.

    Parameters
    ----------
    job : str or Path
        A folder of scene files, one scene file, or a schedule; ``-`` is a
        schedule on standard input.
    settings : mapping of str to str, or pairs
        Measurements to change in every opening, as typed.
    kept_in : Path, optional
        A folder whose results are taken up and added to.
    processes : int, optional
        How many openings at once; as many as there are processors when left out.
    say : callable
        Told in a sentence what was taken up, or is kept of a run that is broken off.
    watch : callable
        Told how many openings are done, and of how many.
    """
    from swingcheck.job.answer import job_done

    given = Path(job), pairs(settings)
    return job_done(*given, kept_in=kept_in, processes=processes, say=say, watch=watch)
