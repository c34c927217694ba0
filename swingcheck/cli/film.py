"""``swingcheck film``: the swing as a short film."""

from __future__ import annotations

from pathlib import Path

import click

import swingcheck as sc
from swingcheck.cli.options import output_option, reads_scene
from swingcheck.cli.output import progress
from swingcheck.files import whole_file


@click.command(name="film")
@output_option(
    "The film to write: .gif, .webp or .mp4 (the smallest; it needs the extra 'film').",
    ".gif",
    ".webp",
    ".mp4",
)
@click.option(
    "--view",
    type=click.Choice(["plan", "solid"]),
    default="plan",
    show_default=True,
    help="The whole opening in plan, or in 3D (solid), beside the close-up in plan.",
)
@click.option(
    "--seconds",
    type=click.FloatRange(1, 30),
    default=5.0,
    show_default=True,
    metavar="S",
    help="How long the swing takes.",
)
@click.option(
    "--rate",
    type=click.IntRange(2, 30),
    default=12,
    show_default=True,
    metavar="N",
    help="Pictures a second.",
)
@click.option(
    "--size",
    type=click.IntRange(320, 1920),
    default=640,
    show_default=True,
    metavar="PIXELS",
    help="Width of the film; its height is three quarters of that.",
)
@reads_scene
def command(scene: sc.Scene, output: Path, view: str, seconds: float, rate: int, size: int) -> None:
    """Film the swing, slowing down as it nears contact.

    SCENE is a scene file, or - for standard input. The slab closes from where
    the scene starts it to its first contact, or opens where opening is what
    fails; the close-up shows the corner where they meet, and the nearest
    clearance is told in figures. A film with --view solid needs a GL renderer.
    """
    with progress() as watch, whole_file(output) as scratch:
        count, length = sc.film(
            scene, scratch, view=view, seconds=seconds, rate=rate, size=size, watch=watch
        )
    size_kb = output.stat().st_size / 1000
    click.echo(f"{output}: {count} pictures, {length:.1f} s, {size_kb:.0f} kB")
