"""``swingcheck setback``: where to set the jig."""

from __future__ import annotations

from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import reads_scene, reports
from swingcheck.cli.output import Exit


@click.command(name="setback")
@click.option(
    "--on",
    "side",
    type=click.Choice(["slab", "jamb"]),
    default="slab",
    show_default=True,
    help="Whose leaves are still to be let in.",
)
@reads_scene
@reports
def command(scene: sc.Scene, side: str) -> tuple[Any, Exit]:
    """Say where to set the jig: the setbacks that work, and which one to take.

    SCENE is a scene file, or - for standard input. Every setback is swung in
    full; the one to take is on a mark of the tape, was swung as rounded, and is
    the one with which most doors swing as cut, painted and in their wettest
    month; of those alike what the jig is set to. Exits with 0 when at least 95
    of 100 swing with it, 1 when fewer do or none works, and 2 when the scene
    cannot be read.
    """
    found = sc.setback(scene, side)
    return found, Exit.YES if found.is_sure else Exit.NO
