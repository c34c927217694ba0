"""``swingcheck check``: whether the slab swings, and why not."""

from __future__ import annotations

from collections.abc import Sequence
from math import radians
from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import (
    Degrees,
    Settings,
    json_option,
    of_file,
    scenes_argument,
    set_option,
    unit_option,
)
from swingcheck.cli.output import Exit, page_width, show_json
from swingcheck.errors import GeometryError, SwingcheckError
from swingcheck.units import tallied


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
    settings: Settings,
    start: float | None,
    step: float | None,
    with_year: bool,
    unit: str | None,
    as_json: bool,
) -> Exit:
    """Say whether the slab swings shut, and what is in its way.

    SCENE is a scene file, or - for standard input. Exits with 0 when every
    door is fit to be hung so (good), 1 when one is tight or bad, and 2 when a
    scene cannot be read.

    With --json, one scene prints one object, and several an array in their
    order, null where a scene could not be read. Lengths are inches, angles
    degrees.
    """
    if start is not None:
        settings += (("swing.start", f"{start!r} deg"),)
    fits: list[sc.FitWord | None] = []
    data: list[Any] = []
    for path in scenes:
        try:
            scene = sc.read(path, settings)
            answer = sc.answered(scene, step=None if step is None else radians(step))
            season = sc.season(answer.found) if with_year else None
        except SwingcheckError as error:
            if isinstance(error, GeometryError):
                error = of_file(error, path)
            click.echo(f"Error: {error}", err=True)
            fits.append(None)
            data.append(None)
            continue
        if as_json:
            data.append(sc.plain(answer, season=season))
        else:
            said = sc.text(answer, unit=unit, width=page_width(), season=season)
            click.echo("\n" * (len(fits) > fits.count(None)) + said)
        fits.append(answer.found.fit.word)
    if as_json and data != [None]:
        show_json(data)
    elif len(scenes) > 1 and not as_json:
        click.echo(f"\n{count_line(fits)}")
    if None in fits:
        return Exit.BAD_INPUT
    return Exit.YES if set(fits) <= {sc.FitWord.GOOD} else Exit.NO


def count_line(fits: Sequence[sc.FitWord | None]) -> str:
    """Return how many scenes there are of each fit, and how many could not be read.

    Examples
    --------
    >>> count_line([sc.FitWord.GOOD, sc.FitWord.BAD, None])
    '3 scenes: 1 good, 1 bad, 1 could not be read'
    """
    counts = {word.value: fits.count(word) for word in sc.FitWord}
    return tallied("scene", counts | {"could not be read": fits.count(None)})
