"""A job's doors worked out: read, cut, checked several at once, and kept as they are found."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, nullcontext
from functools import partial
from pathlib import Path
from typing import TypeVar

from swingcheck.advice.answer import Answer, answered
from swingcheck.bench.door import BenchNumbers, bench_numbers
from swingcheck.chance.workers import Spread, answers_as_found
from swingcheck.errors import GeometryError
from swingcheck.job.house import Bare, Door, Job, Refused
from swingcheck.job.kept import Kept, check_of, check_record, kept_lines, scene_digest
from swingcheck.job.openings import Listed, read_openings
from swingcheck.model import Scene
from swingcheck.units import counted

_T = TypeVar("_T")

RESULTS = "results.jsonl"

Say = Callable[[str], None]
"""Told in a sentence what was taken up, or what is kept of a run that is broken off."""

Watch = Callable[[int, int], None]
"""Told how many openings are done, and of how many."""


def job_done(
    job: Path,
    settings: Sequence[tuple[str, str]],
    *,
    kept_in: Path | None = None,
    processes: int | None = None,
    say: Say = lambda words: None,
    watch: Watch = lambda done, count: None,
) -> Job:
    """Return a job's openings, checked with the slabs that their cuts leave.

    Where there are no bench numbers an opening is checked as it was told. ``job`` is
    a folder of scene files, one scene file, or a schedule; ``settings`` are
    measurements to change in every opening. Results are taken up from the folder
    ``kept_in`` and added to it; ``processes`` is how many openings at once, ``None``
    for as many as there are processors. Raises SceneError with every fault of the job.
    """
    openings = read_openings(job, settings)
    numbers = [or_error(bench_numbers, opening.scene) for opening in openings]
    scenes = [
        each.finished if isinstance(each, BenchNumbers) else opening.scene
        for opening, each in zip(openings, numbers, strict=True)
    ]
    with nullcontext() if kept_in is None else kept_lines(kept_in / RESULTS) as kept:
        checked = _checked(scenes, kept, Spread(cores=processes), say, watch)
    title = "Job" if str(job) == "-" else job.resolve().stem.replace("_", " ")
    return _job(title, openings, numbers, checked)


def _checked(
    scenes: Sequence[Scene], kept: Kept | None, spread: Spread, say: Say, watch: Watch
) -> list[Answer | GeometryError]:
    digests = [scene_digest(scene) for scene in scenes]
    done: dict[int, Answer | GeometryError] = {}
    if kept is not None:
        done = dict(_taken_up(scenes, digests, kept))
        if done:
            say(f"{len(done)} of {len(scenes)} doors were checked before")
        if kept.damaged:
            say(f"{counted(kept.damaged, 'line')} of {kept.path} cannot be read: checked again")
    missing = [place for place in range(len(scenes)) if place not in done]
    anew = [scenes[place] for place in missing]
    watch(len(done), len(scenes))
    try:
        with closing(answers_as_found(partial(or_error, answered), anew, spread)) as results:
            for k, result in results:
                place = missing[k]
                done[place] = result
                if kept is not None and isinstance(result, Answer):
                    kept.add(digests[place], check_record(result))
                watch(len(done), len(scenes))
    except KeyboardInterrupt:
        if kept is not None:
            kept_now = f"{len(done)} of {len(scenes)} doors are kept"
            say(f"\n{kept_now}: run the same again for the rest")
        raise
    return [done[place] for place in range(len(scenes))]


def door_of(scene: Scene, known: Answer | None = None) -> Door:
    """Return one door with its bench numbers, checked as its cuts leave it.

    ``known`` is the scene's own answer, where there is one. Raises GeometryError as
    :func:`swingcheck.bench.door.bench_numbers` does.
    """
    bench = bench_numbers(scene)
    is_cut = known is None or bool(bench.settings)
    answer = answered(bench.finished) if known is None or is_cut else known
    return Door(name=scene.title, where="", bench=bench, answer=answer)


def or_error(of: Callable[[Scene], _T], scene: Scene) -> _T | GeometryError:
    """Return what is asked of a scene, or the error of one whose sizes leave nothing of a part."""
    try:
        return of(scene)
    except GeometryError as error:
        return error


def _taken_up(
    scenes: Sequence[Scene], digests: Sequence[str], kept: Kept
) -> Iterator[tuple[int, Answer]]:
    for place, digest in enumerate(digests):
        record = kept.lines.get(digest)
        if record is None:
            continue
        try:
            yield place, check_of(record, scenes[place])
        except (KeyError, TypeError, ValueError):
            kept.damaged += 1


def _job(
    title: str,
    openings: Sequence[Listed],
    numbers: Sequence[BenchNumbers | GeometryError],
    checked: Sequence[Answer | GeometryError],
) -> Job:
    doors, bare, refused = [], [], []
    for opening, bench, check in zip(openings, numbers, checked, strict=True):
        name, where = opening.name, opening.where
        if isinstance(check, GeometryError):
            refused.append(Refused(name=name, where=where, reason=str(check)))
        elif isinstance(bench, GeometryError):
            bare.append(Bare(name=name, where=where, answer=check, reason=str(bench)))
        else:
            doors.append(Door(name=name, where=where, bench=bench, answer=check))
    return Job(title=title, doors=tuple(doors), bare=tuple(bare), refused=tuple(refused))
