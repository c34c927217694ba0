"""``swingcheck check``: whether the slab swings, and why not."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Sequence
from math import radians
from typing import Any

import click

from swingcheck.advice.answer import Answer, answered
from swingcheck.bench.season import season_margins
from swingcheck.cli.options import (
    Degrees,
    json_option,
    scene_from,
    scenes_argument,
    set_option,
    unit_option,
)
from swingcheck.errors import SwingcheckError
from swingcheck.report.bench_data import season_data
from swingcheck.report.card import card
from swingcheck.report.data import check_data
from swingcheck.report.season import with_season
from swingcheck.report.text import WIDEST, text
from swingcheck.swing.found import Verdict

SWINGS, DOES_NOT, BAD_INPUT = 0, 1, 2


@click.command(name="check")
@scenes_argument
@set_option
@click.option(
    "--from",
    "start",
    type=Degrees(0, 180, min_open=True),
    metavar="DEG",
    help="Start closing from here; the scene's own, or 90, when left out.",
)
@click.option(
    "--step",
    type=Degrees(0, 90, min_open=True),
    metavar="DEG",
    help="Also give the clearance at every step of the closing.",
)
@click.option(
    "--season",
    "with_year",
    is_flag=True,
    help="Also give the margins across the year, and what to leave at the strike today.",
)
@unit_option
@json_option
def command(
    scenes: tuple[str, ...],
    settings: tuple[tuple[str, str], ...],
    start: float | None,
    step: float | None,
    with_year: bool,
    unit: str | None,
    as_json: bool,
) -> None:
    """Say whether the slab swings shut, and what is in its way.

    SCENE is a scene file, or - for standard input. Exits with 0 when every
    slab swings, 1 when one does not, and 2 when a scene cannot be read.

    With --json, one scene prints one object, and several an array in their
    order, null where a scene could not be read. Lengths are inches, angles
    degrees.
    """
    if start is not None:
        settings += (("swing.start", f"{start!r} deg"),)
    results: list[Answer | None] = []
    for path in scenes:
        result = checked(path, settings, step)
        if result is not None and not as_json:
            said = card(result, unit)
            if with_year:
                scene = result.found.scene
                season = season_margins(scene, result.found.margins)
                said = with_season(said, season, unit or scene.unit)
            click.echo("\n" * any(results) + text(said, page_width()))
        results.append(result)
    if as_json:
        _print_json([None if r is None else _data(r, with_year) for r in results])
    elif len(scenes) > 1:
        click.echo(f"\n{count_line(results)}")
    sys.exit(exit_code(results))


def checked(path: str, settings: Sequence[tuple[str, str]], step: float | None) -> Answer | None:
    """Return a scene's check; ``None``, and the message on stderr, where it is bad input.

    ``step`` is degrees.
    """
    try:
        scene = scene_from(path, settings)
        return answered(scene, step=None if step is None else radians(step))
    except SwingcheckError as error:
        click.echo(f"Error: {error}", err=True)
        return None


def _data(result: Answer, with_year: bool) -> dict[str, Any]:
    """Return a check's data, with the year under ``season`` where it was asked for."""
    data = check_data(result)
    if with_year:
        data["season"] = season_data(season_margins(result.found.scene, result.found.margins))
    return data


def exit_code(results: Sequence[Answer | None]) -> int:
    """Return the worst: bad input over not swinging over swinging."""
    if any(result is None for result in results):
        return BAD_INPUT
    swing = all(result.found.verdict is Verdict.SWINGS for result in results if result)
    return SWINGS if swing else DOES_NOT


def count_line(results: Sequence[Answer | None]) -> str:
    """Return how many scenes swing, how many do not, and how many could not be read."""
    read = [result for result in results if result is not None]
    swing = sum(result.found.verdict is Verdict.SWINGS for result in read)
    parts = [f"{swing} swing{'s' * (swing == 1)}"]
    parts.append(f"{len(read) - swing} do{'es' * (len(read) - swing == 1)} not")
    if len(read) < len(results):
        parts.append(f"{len(results) - len(read)} could not be read")
    return f"{len(results)} scenes: {', '.join(parts)}"


def _print_json(data: list[dict[str, Any] | None]) -> None:
    """Print one scene's data as an object, several's as an array; nothing for one bad scene."""
    if data != [None]:
        click.echo(json.dumps(data if len(data) > 1 else data[0], indent=2, allow_nan=False))


def page_width() -> int:
    """Return the columns to fill: the terminal's up to a page, a page where there is none."""
    if not sys.stdout.isatty():
        return WIDEST
    return min(shutil.get_terminal_size((WIDEST, 24)).columns, WIDEST)
