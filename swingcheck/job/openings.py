"""The openings of a job: a schedule, a folder of scene files, or one scene file."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from swingcheck.errors import Problem, SceneError, UnfitError
from swingcheck.job.columns import (
    DOOR,
    EMPTY,
    REPEATS,
    REQUIRED,
    Column,
    column,
    is_none,
    likely_name,
    plain_cell,
    setting,
)
from swingcheck.job.table import Grid, Row, grid, schedule_bytes
from swingcheck.model import Scene
from swingcheck.scenefile import read_scene, refused, source_name

Settings = Sequence[tuple[str, str]]

_PLACE = re.compile(r"\[[0-9]+\]$")
_SET = "--set "


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One opening of a job: what it is called there, where it is written down, and its scene.

    ``where`` is its row in a schedule or its file in a folder.
    """

    name: str
    where: str
    scene: Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class _Heading:
    """A header's columns, its faults, and the keys of required columns that it lacks."""

    columns: tuple[Column, ...]
    problems: tuple[Problem, ...]
    absent: frozenset[str]


def read_openings(path: Path, settings: Settings = ()) -> tuple[Listed, ...]:
    """Return the openings of a schedule, a folder of scene files or one scene file, in order.

    A folder holds ``.toml`` files; a file that ends in ``.toml`` is a scene; any
    other is a schedule, ``-`` one from standard input. ``settings`` are measurements
    to change in every opening. Raises SceneError with every fault of every opening,
    by row and column or by file and key.
    """
    if path.is_dir():
        return _folder_openings(path, settings)
    if path.suffix.casefold() == ".toml":
        scene = read_scene(path, settings=settings)
        return (Listed(name=scene.title, where=path.name, scene=scene),)
    name = source_name(path)
    return schedule_openings(schedule_bytes(path, name), name, settings)


def schedule_openings(data: bytes, name: str, settings: Settings = ()) -> tuple[Listed, ...]:
    """Return the openings of a schedule's bytes; ``name`` is what messages call it.

    Raises SceneError with every fault, by row and column.
    """
    cells = grid(data, name)
    heading = _heading(cells.header, {key for key, _ in settings})
    problems = list(heading.problems)
    if not cells.rows:
        problems.append(Problem(key="", value="", expected="no opening under the column names"))
    twice = _named_twice(cells.rows, heading.columns)
    openings = []
    for row in _with_repeats(cells, heading.columns):
        problems += [found[row.number] for found in (cells.problems, twice) if row.number in found]
        opening, faults = _opening(row, heading, settings)
        problems += faults
        openings += [opening] if opening else []
    if problems:
        raise SceneError(name, problems)
    return tuple(openings)


def _heading(header: Row, own: set[str]) -> _Heading:
    """Return what a header says; ``own`` are the keys that the command line gives."""
    columns: list[Column] = []
    problems, likely = [], set()
    for place, typed in enumerate(header.cells):
        label = f"row {header.number}, column {letters(place)}"
        found = column(place, typed) if typed else None
        if found is None and typed:
            meant = likely_name(typed)
            likely.add(meant)
            hint = f"did you mean {meant}?" if meant else ""
            expected = "no column of a schedule and no key of a scene"
            problems.append(_fault(label, typed, expected, hint))
        elif found and (twice := next((each for each in columns if each.key == found.key), None)):
            expected = f"given twice: column {letters(twice.place)} is {twice.name}"
            problems.append(_fault(label, typed, expected))
        elif found:
            columns.append(found)
    there = {_PLACE.sub("", each.key) for each in columns} | own
    absent = {
        name: needed
        for name, needed in REQUIRED.items()
        if not any(_is_within(key, needed) for key in there)
    }
    problems += [
        Problem(key=f"row {header.number}", value="", expected=f"no column {name}")
        for name, needed in absent.items()
        if not {name, needed} & likely
    ]
    return _Heading(
        columns=tuple(columns), problems=tuple(problems), absent=frozenset(absent.values())
    )


def letters(place: int) -> str:
    """Return what a spreadsheet calls a column, from its place from 0.

    Examples
    --------
    >>> letters(0), letters(25), letters(26), letters(701)
    ('A', 'Z', 'AA', 'ZZ')
    """
    first, last = divmod(place, 26)
    return (letters(first - 1) if first else "") + chr(ord("A") + last)


def _with_repeats(cells: Grid, columns: Sequence[Column]) -> Iterator[Row]:
    """Yield the rows with every cell that says "same" as the one above it."""
    above: tuple[str, ...] = ("",) * len(cells.header.cells)
    repeated = {found.place for found in columns if found.key != DOOR}
    for row in cells.rows:
        above = tuple(
            before if place in repeated and cell.casefold() in REPEATS else cell
            for place, (cell, before) in enumerate(zip(row.cells, above, strict=True))
        )
        yield Row(number=row.number, cells=above)


def _opening(
    row: Row, heading: _Heading, settings: Settings
) -> tuple[Listed | None, list[Problem]]:
    """Return a row's opening where it has one, and its faults, each by row and column."""
    columns = heading.columns
    door = _door_column(columns)
    title = row.cells[door.place] if door else ""
    label = f"row {row.number} ({title})" if title else f"row {row.number}"
    given, problems = _settings(row, columns, label)
    if door and not title:
        key = f"{label}, {door.name}"
        problems.append(Problem(key=key, value="", expected="missing: its name"))
    from_row = [pair for _, pair in sorted(given.items())]
    try:
        scene = read_scene("", name=f"row {row.number}", settings=[*from_row, *settings])
    except SceneError as error:
        faulty = {problem.key for problem in problems}
        own = {key for key, _ in settings}
        told = [
            _by_column(problem, label, columns, own)
            for problem in error.problems
            if problem.key not in heading.absent
        ]
        return None, problems + [problem for problem in told if problem.key not in faulty]
    return Listed(name=scene.title, where=f"row {row.number}", scene=scene), problems


def _door_column(columns: Sequence[Column]) -> Column | None:
    return next((each for each in columns if each.key == DOOR), None)


def _settings(
    row: Row, columns: Sequence[Column], label: str
) -> tuple[dict[str, tuple[str, str]], list[Problem]]:
    given: dict[str, tuple[str, str]] = {}
    problems = []
    for each in columns:
        cell = plain_cell(row.cells[each.place])
        if cell.casefold() in EMPTY:
            continue
        try:
            given[each.key] = setting(each, cell)
        except UnfitError as error:
            problems.append(_fault(f"{label}, {each.name}", cell, error.expected, error.hint))
    names = {each.key: each.name for each in columns}
    for key, (_, value) in given.items():
        inside = [other for other in given if other != key and _is_within(other, key)]
        if is_none(value) and inside:
            expected = f"said not to be there, but {names[inside[0]]} is given"
            problems.append(_fault(f"{label}, {names[key]}", "none", expected))
    return given, problems


def _by_column(problem: Problem, label: str, columns: Sequence[Column], own: set[str]) -> Problem:
    """Return a scene's fault by row and column; ``own`` are the command line's keys."""
    key = problem.key.removeprefix(_SET)
    told = _PLACE.sub("", key) in own or key in own
    where = f"{_SET}{key}" if told else _column_name(key, columns)
    return replace(problem, key=f"{label}, {where}")


def _column_name(key: str, columns: Sequence[Column]) -> str:
    names = {each.key: each.name for each in columns}
    here = key
    while here:
        if here in names:
            return names[here]
        without = _PLACE.sub("", here)
        here = without if without != here else here.rpartition(".")[0]
    return key


def _is_within(key: str, path: str) -> bool:
    return f"{key}.".startswith(f"{path}.")


def _named_twice(rows: Sequence[Row], columns: Sequence[Column]) -> dict[int, Problem]:
    """Return the faults of rows whose door's name is that of a row above, by row number."""
    door = _door_column(columns)
    if door is None:
        return {}
    first: dict[str, int] = {}
    faults = {}
    for row in rows:
        name = row.cells[door.place]
        before = first.setdefault(name.casefold(), row.number)
        if name and before != row.number:
            label = f"row {row.number}, {door.name}"
            faults[row.number] = _fault(label, name, f"the name of row {before} too")
    return faults


def _fault(label: str, value: str, expected: str, hint: str = "") -> Problem:
    shown = value.replace("\n", " ")
    shown = f'"{shown[:37]}..."' if len(shown) > 40 else f'"{shown}"'
    return Problem(key=label, value=shown, expected=expected, hint=hint)


def _folder_openings(folder: Path, settings: Settings) -> tuple[Listed, ...]:
    paths = [path for path in folder.iterdir() if path.suffix.casefold() == ".toml"]
    if not paths:
        raise refused(str(folder), "no scene files (.toml) in this folder")
    scenes: dict[Path, Scene] = {}
    problems = []
    for path in sorted(paths, key=_in_order):
        try:
            scenes[path] = read_scene(path, settings=settings)
        except SceneError as error:
            problems += [
                replace(each, key=", ".join(filter(None, (path.name, each.key))))
                for each in error.problems
            ]
    if problems:
        raise SceneError(str(folder), problems)
    count = Counter(scene.title.casefold() for scene in scenes.values())
    return tuple(
        Listed(
            name=scene.title + f" ({path.stem})" * (count[scene.title.casefold()] > 1),
            where=path.name,
            scene=scene,
        )
        for path, scene in scenes.items()
    )


def _in_order(path: Path) -> tuple[list[tuple[int, str]], str]:
    parts = re.findall(r"\d+|\D+", path.stem.casefold())
    return [(int(part), "") if part.isdecimal() else (-1, part) for part in parts], path.name
