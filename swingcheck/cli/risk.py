"""``swingcheck risk``: the chance that the slab swings, cut as closely as this person works."""

from __future__ import annotations

import json
import sys

import click

from swingcheck.cli.options import json_option, scene_argument, scene_from, set_option, unit_option

LIKELY, NOT_LIKELY, STOPPED = 0, 1, 130

FEWEST, MOST = 100, 1_000_000
"""Draws that can be asked for."""

cluster_option = click.option(
    "--cluster",
    default="",
    metavar="ADDRESS",
    help="Hand the work to a running Dask scheduler, such as tcp://192.0.2.7:8786.",
)

full_option = click.option(
    "--full", is_flag=True, help="Swing every variant in full 3D, even where a plan would do."
)


@click.command(name="risk")
@scene_argument
@click.option(
    "--draws",
    type=click.IntRange(FEWEST, MOST),
    metavar="N",
    help="How many slabs to draw; 20000 where a plan will do, else 1000, when left out.",
)
@click.option(
    "--seed",
    type=click.IntRange(0, 2**32 - 1),
    default=0,
    show_default=True,
    metavar="N",
    help="Of the random draws: the same seed gives the same answer.",
)
@click.option(
    "--at-least",
    type=click.FloatRange(0, 100),
    default=95.0,
    show_default=True,
    metavar="N",
    help="How many of 100 must work, at the low end of the interval, for an exit with 0.",
)
@full_option
@cluster_option
@set_option
@unit_option
@json_option
def command(
    scene: str,
    draws: int | None,
    seed: int,
    at_least: float,
    full: bool,
    cluster: str,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
    as_json: bool,
) -> None:
    """Say how likely the slab is to swing, and which error decides.

    SCENE is a scene file, or - for standard input. Every draw is a slab whose
    dimensions are off by chance, each within the plus-or-minus that the scene
    has for it under [shop.tolerance], small errors likelier than great ones.
    The interval is the 95 percent one for the number of draws.

    Exits with 0 when it works often enough, 1 when it does not, and 2 when the
    scene cannot be read. Ctrl-C ends the drawing, says what was found until
    then and exits with 130.
    """
    from swingcheck.chance.risk import risk
    from swingcheck.chance.workers import Spread
    from swingcheck.cli.check import page_width
    from swingcheck.cli.progress import Progress
    from swingcheck.report.risk import risk_card, risk_data
    from swingcheck.report.text import text

    read = scene_from(scene, settings)
    with Progress() as watch:
        found = risk(
            read, draws=draws, seed=seed, spread=Spread(cluster=cluster), full=full, watch=watch
        )
    if as_json:
        click.echo(json.dumps(risk_data(found), indent=2, allow_nan=False))
    else:
        click.echo(text(risk_card(found, unit), page_width()))
    if found.stopped:
        click.echo("stopped", err=True)
        sys.exit(STOPPED)
    sys.exit(LIKELY if found.interval[0] * 100 >= at_least else NOT_LIKELY)
