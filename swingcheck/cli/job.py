"""A job's doors worked out: read, cut, checked several at once, and kept as they are found."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import closing, nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from swingcheck.analysis.house import Door, Refused
from swingcheck.analysis.many import checks, processors
from swingcheck.analysis.record import check_of, check_record, scene_digest
from swingcheck.analysis.result import CheckResult
from swingcheck.bench.door import BenchNumbers, bench_numbers
from swingcheck.errors import GeometryError
from swingcheck.schedule import Listed, read_openings
from swingcheck.schedule.kept import Kept

RESULTS = "results.jsonl"


@dataclass(frozen=True, slots=True, kw_only=True)
class JobDone:
    """Every door of a job, in its order, and the openings that cannot be built."""

    doors: tuple[Door, ...]
    refused: tuple[Refused, ...]


def job_done(
    job: Path,
    settings: Sequence[tuple[str, str]],
    *,
    kept_in: Path | None,
    processes: int | None,
) -> JobDone:
    """Return a job's doors, checked with the slabs that their cuts leave.

    Parameters
    ----------
    job : Path
        A folder of scene files, one scene file, or a schedule.
    settings : sequence of (key, value)
        Measurements to change in every opening.
    kept_in : Path or None
        The folder whose results are taken up and added to.
    processes : int or None
        How many openings at once; ``None`` for as many as there are processors.

    Raises
    ------
    SceneError
        With every fault of the job.
    """
    openings = read_openings(job, settings)
    numbers = [_numbers_or_error(opening) for opening in openings]
    built = [each for each in numbers if isinstance(each, BenchNumbers)]
    with _kept(kept_in) as kept:
        found = _checked(built, kept, processes or processors())
    return _job(openings, numbers, iter(found))


def _numbers_or_error(opening: Listed) -> BenchNumbers | GeometryError:
    if not opening.scene.hinge.count:
        return GeometryError("slab", "not on hinges, and bench numbers are for hinges alone")
    try:
        return bench_numbers(opening.scene)
    except GeometryError as error:
        return error


def _kept(folder: Path | None) -> Any:
    """Return the open file of results, or nothing to keep them in."""
    if folder is None:
        return nullcontext()
    return Kept(folder / RESULTS)


def _checked(
    built: Sequence[BenchNumbers], kept: Kept | None, processes: int
) -> list[CheckResult | GeometryError]:
    """Return the checks of finished slabs in their order: kept ones, and the rest anew."""
    digests = [scene_digest(numbers.finished) for numbers in built]
    found: dict[int, CheckResult | GeometryError] = {}
    if kept is not None:
        found = dict(_taken_up(built, digests, kept))
        _say_taken_up(len(found), len(built), kept)
    missing = [place for place in range(len(built)) if place not in found]
    scenes = [built[place].finished for place in missing]
    try:
        with (
            _progress(len(built), len(found)) as bar,
            closing(checks(scenes, processes=processes)) as results,
        ):
            for k, result in results:
                place = missing[k]
                found[place] = result
                if kept is not None and isinstance(result, CheckResult):
                    kept.add(digests[place], check_record(result))
                if bar is not None:
                    bar.update(1)
    except KeyboardInterrupt:
        if kept is not None:
            say = f"{len(found)} of {len(built)} doors are kept: run the same again for the rest"
            click.echo(f"\n{say}", err=True)
        raise
    return [found[place] for place in range(len(built))]


def _taken_up(
    built: Sequence[BenchNumbers], digests: Sequence[str], kept: Kept
) -> Iterator[tuple[int, CheckResult]]:
    """Yield the checks that were kept; a line that is no check is passed over."""
    for place, digest in enumerate(digests):
        record = kept.lines.get(digest)
        if record is None:
            continue
        try:
            yield place, check_of(record, built[place].finished)
        except (KeyError, TypeError, ValueError):
            kept.damaged += 1


def _say_taken_up(taken: int, count: int, kept: Kept) -> None:
    if taken:
        click.echo(f"{taken} of {count} doors were checked before", err=True)
    if kept.damaged:
        lines = f"{kept.damaged} line{'s' * (kept.damaged != 1)}"
        click.echo(f"{lines} of {kept.path} cannot be read: checked again", err=True)


def _progress(count: int, done: int) -> Any:
    """Return a bar on a terminal's stderr; nothing where nobody is watching."""
    if done == count or not sys.stderr.isatty():
        return nullcontext()
    bar = click.progressbar(length=count, label="Doors", file=sys.stderr, show_pos=True)
    bar.update(done)
    return bar


def _job(
    openings: Sequence[Listed],
    numbers: Sequence[BenchNumbers | GeometryError],
    checked: Iterator[CheckResult | GeometryError],
) -> JobDone:
    doors = []
    refused = []
    for opening, bench in zip(openings, numbers, strict=True):
        check = next(checked) if isinstance(bench, BenchNumbers) else bench
        if isinstance(bench, BenchNumbers) and isinstance(check, CheckResult):
            doors.append(Door(name=opening.name, where=opening.where, bench=bench, check=check))
        else:
            refused.append(Refused(name=opening.name, where=opening.where, reason=str(check)))
    return JobDone(doors=tuple(doors), refused=tuple(refused))
