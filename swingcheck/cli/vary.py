"""``swingcheck vary``: what the slab does over a range of one or two dimensions."""

from __future__ import annotations

from pathlib import Path

import click

import swingcheck as sc
from swingcheck.cli.options import (
    Range,
    cluster_option,
    full_option,
    json_option,
    output_option,
    reads_scene,
    unit_option,
)
from swingcheck.cli.output import Exit, progress, show
from swingcheck.files import whole_file

PICTURES, TABLES = (".png", ".svg", ".pdf"), (".csv", ".parquet", ".json")
SHOWN = ("verdict", "angle", "short", "margin")
MOST_RANGES = 2


@click.command(name="vary")
@click.option(
    "--over",
    "ranges",
    type=Range(),
    multiple=True,
    required=True,
    metavar="KEY=FROM:TO:STEP",
    help="A dimension and its values, such as hinge.slab.setback=1/8:3/8:1/64. Once or twice."
    " 'swingcheck leeway SCENE' lists the keys.",
)
@output_option(
    "A picture (.png, .svg, .pdf) or a table (.csv, .parquet, .json) to write.",
    *PICTURES,
    *TABLES,
    required=False,
)
@click.option(
    "--show",
    "shown",
    type=click.Choice(SHOWN),
    help="What the picture shows: the verdict, which is usual, the contact's angle, how far"
    " short of closed it is, or the margins.",
)
@full_option
@cluster_option
@reads_scene
@unit_option
@json_option
def command(
    scene: sc.Scene,
    ranges: tuple[tuple[str, tuple[str, str, str]], ...],
    output: Path | None,
    shown: str | None,
    full: bool,
    cluster: str,
    unit: str | None,
    as_json: bool,
) -> Exit:
    """Map what the slab does as one or two dimensions change.

    SCENE is a scene file, or - for standard input. All else stays as the scene
    has it, what it left out too. The first dimension runs across the picture,
    the second up it. Exits with 0, or 2 when the scene or a range cannot be
    read.
    """
    suffix = output.suffix.lower() if output is not None else ""
    if shown is not None and suffix not in PICTURES:
        raise click.UsageError("--show is for a picture: give -o FILE.png, .svg or .pdf.")
    if len(ranges) > MOST_RANGES:
        raise click.UsageError("--over is given once or twice: a curve or a map.")
    with progress() as watch:
        varied = sc.vary(scene, ranges, spread=sc.Spread(cluster=cluster), full=full, watch=watch)
    if output is not None:
        with whole_file(output) as scratch:
            if suffix in PICTURES:
                scratch.write_bytes(sc.draw_map(varied, shown or SHOWN[0], suffix[1:], unit))
            else:
                sc.write_table(varied, scratch)
    show(varied, unit, as_json, indent=None)
    if output is not None and not as_json:
        click.echo(f"Wrote {output}")
    return Exit.YES
