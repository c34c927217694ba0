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
    scenes_argument,
    set_option,
    unit_option,
)
from swingcheck.cli.output import Exit, page_width, show_json
from swingcheck.errors import SwingcheckError


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
    slab swings, 1 when one does not, and 2 when a scene cannot be read.

    With --json, one scene prints one object, and several an array in their
    order, null where a scene could not be read. Lengths are inches, angles
    degrees.
    """
    if start is not None:
        settings += (("swing.start", f"{start!r} deg"),)
    swing: list[bool | None] = []
    data: list[Any] = []
    for path in scenes:
        try:
            scene = sc.read(path, settings)
            answer = sc.answered(scene, step=None if step is None else radians(step))
            season = sc.season(answer.found) if with_year else None
        except SwingcheckError as error:
            click.echo(f"Error: {error}", err=True)
            swing.append(None)
            data.append(None)
            continue
        if as_json:
            data.append(sc.plain(answer, season=season))
        else:
            said = sc.text(answer, unit=unit, width=page_width(), season=season)
            click.echo("\n" * (len(swing) > swing.count(None)) + said)
        swing.append(answer.found.verdict is sc.Verdict.SWINGS)
    if as_json and data != [None]:
        show_json(data)
    elif len(scenes) > 1 and not as_json:
        click.echo(f"\n{count_line(swing)}")
    if None in swing:
        return Exit.BAD_INPUT
    return Exit.YES if all(swing) else Exit.NO


def count_line(swing: Sequence[bool | None]) -> str:
    """Return how many scenes swing, how many do not, and how many could not be read.

    Examples
    --------
    >>> count_line([True, False, False]), count_line([True, None])
    ('3 scenes: 1 swings, 2 do not', '2 scenes: 1 swings, 0 do not, 1 could not be read')
    """
    do, do_not, unread = (swing.count(each) for each in (True, False, None))
    parts = [f"{do} swing{'s' * (do == 1)}", f"{do_not} do{'es' * (do_not == 1)} not"]
    parts += [f"{unread} could not be read"] if unread else []
    return f"{len(swing)} scenes: {', '.join(parts)}"
