"""``swingcheck page``: a fit to hold in the hand, as one HTML file."""

from __future__ import annotations

from pathlib import Path

import click

import swingcheck as sc
from swingcheck.cli.options import Settings, output_option, scenes_argument, set_option, unit_option
from swingcheck.files import write_whole
from swingcheck.units import counted

LARGEST_BYTES = 1_000_000
"""A page is to stay under this."""


@click.command(name="page")
@scenes_argument
@output_option("The HTML file to write.", ".html", ".htm")
@set_option
@unit_option
def command(scenes: tuple[str, ...], output: Path, settings: Settings, unit: str | None) -> None:
    """Write a page that swings the slab under a finger.

    One HTML file for one scene or several, with a chooser: the slab in 3D, the
    plan at hinge and strike, the clearance by angle, the report and the shop
    numbers. It asks nothing of any network, and it works on a phone.
    """
    page = sc.web_page([sc.read(path, settings) for path in scenes], unit=unit).encode()
    write_whole(output, page)
    click.echo(f"{output}: {counted(len(scenes), 'scene')}, {len(page) / 1000:.0f} kB")
    if len(page) > LARGEST_BYTES:
        click.echo(
            f"Warning: over {LARGEST_BYTES / 1e6:g} MB, slow to open on a phone: "
            "make several pages of fewer scenes each.",
            err=True,
        )
