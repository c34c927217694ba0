"""``swingcheck setback``: where to set the jig."""

from __future__ import annotations

import json
import sys

import click

from swingcheck.cli.options import json_option, scene_argument, scene_from, set_option, unit_option

WORKS, NOTHING_WORKS = 0, 1


@click.command(name="setback")
@scene_argument
@click.option(
    "--on",
    "side",
    type=click.Choice(["slab", "jamb"]),
    default="slab",
    show_default=True,
    help="Whose leaves are still to be let in.",
)
@set_option
@unit_option
@json_option
def command(
    scene: str, side: str, settings: tuple[tuple[str, str], ...], unit: str | None, as_json: bool
) -> None:
    """Say where to set the jig: the setbacks that work, and which one to take.

    SCENE is a scene file, or - for standard input. Every setback is swung in
    full; the one to take is on a mark of the tape and was swung as rounded.
    Exits with 0 when one works, 1 when none does, and 2 when the scene cannot
    be read.
    """
    from swingcheck.advice.setback import setback
    from swingcheck.cli.check import page_width
    from swingcheck.report.text import text
    from swingcheck.report.window import setback_card
    from swingcheck.report.window_data import setback_data

    found = setback(scene_from(scene, settings), side)
    if as_json:
        click.echo(json.dumps(setback_data(found), indent=2, allow_nan=False))
    else:
        click.echo(text(setback_card(found, unit), page_width()))
    sys.exit(WORKS if found.setting else NOTHING_WORKS)
