"""``swingcheck risk``: the chance that the slab swings, cut as closely as this person works."""

from __future__ import annotations

from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import cluster_option, full_option, reads_scene, reports
from swingcheck.cli.output import Exit, progress

FEWEST, MOST = 100, 1_000_000
"""Draws that can be asked for."""


@click.command(name="risk")
@click.option(
    "--draws",
    type=click.IntRange(FEWEST, MOST),
    metavar="N",
    help="How many slabs to draw; 20000, or 1000 where each is swung alone, when left out.",
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
@click.option(
    "--as-cut", is_flag=True, help="Leave out paint and the year: the slab as it leaves the bench."
)
@full_option
@cluster_option
@reads_scene
@reports
def command(
    scene: sc.Scene,
    draws: int | None,
    seed: int,
    at_least: float,
    as_cut: bool,
    full: bool,
    cluster: str,
) -> tuple[Any, Exit]:
    """Say how likely the slab is to swing, and which error decides.

    SCENE is a scene file, or - for standard input. Every draw is a slab whose
    dimensions are off by chance, each within the plus-or-minus that the scene
    has for it under [shop.tolerance], small errors likelier than great ones;
    painted, and in the month in which it is widest. The interval is the 95
    percent one for the number of draws.

    Exits with 0 when it works often enough, 1 when it does not, and 2 when the
    scene cannot be read. Ctrl-C ends the drawing, says what was found until
    then and exits with 130.
    """
    spread = sc.Spread(cluster=cluster)
    with progress() as watch:
        how = {"draws": draws, "seed": seed, "spread": spread, "full": full, "watch": watch}
        found = sc.risk(scene, as_cut=as_cut, **how)
    if found.stopped:
        return found, Exit.INTERRUPTED
    return found, Exit.YES if found.interval[0] * 100 >= at_least else Exit.NO
