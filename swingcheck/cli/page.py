"""``swingcheck page``: a fit to hold in the hand, as one HTML file."""

from __future__ import annotations

from pathlib import Path

import click

from swingcheck.cli.options import scene_from, scenes_argument, set_option, unit_option
from swingcheck.cli.output import suffix_of, whole_file

SUFFIXES = (".html", ".htm")


@click.command(name="page")
@scenes_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    metavar="FILE",
    help="The HTML file to write.",
)
@set_option
@unit_option
def command(
    scenes: tuple[str, ...],
    output: Path,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
) -> None:
    """Write a page that swings the slab under a finger.

    One HTML file for one scene or several, with a chooser: the slab in 3D, the
    plan at hinge and strike, the clearance by angle, the report and the shop
    numbers. It asks nothing of any network, and it works on a phone.
    """
    from swingcheck.advice.answer import answered
    from swingcheck.assembly import assemble
    from swingcheck.page import (
        LARGEST,
        measured_clearance,
        page_html,
        sheet,
        shop_card,
    )

    suffix_of(output, SUFFIXES)
    sheets = []
    for path in scenes:
        scene = scene_from(path, settings)
        answer, assembly = answered(scene), assemble(scene)
        table = measured_clearance(answer.found, assembly)
        shop = shop_card(scene, unit)
        sheets.append(sheet(answer, assembly, unit=unit, clearance=table, shop=shop))
    page = page_html(sheets).encode()
    with whole_file(output) as scratch:
        scratch.write_bytes(page)
    click.echo(f"{output}: {len(sheets)} scene{'s' * (len(sheets) > 1)}, {len(page) / 1000:.0f} kB")
    if len(page) > LARGEST:
        click.echo(
            f"Warning: over {LARGEST / 1e6:g} MB, slow to open on a phone: "
            "make several pages of fewer scenes each.",
            err=True,
        )
