"""``swingcheck mesh``: the slab, jamb and stops as a mesh file."""

from __future__ import annotations

from math import radians
from pathlib import Path

import click

import swingcheck as sc
from swingcheck.cli.options import output_option, reads_scene
from swingcheck.files import whole_file

UNIT_WORDS = {"in": "inches", "mm": "millimetres"}


@click.command(name="mesh")
@output_option(
    "The file to write; its suffix says which kind: .glb, .stl or .obj.", ".glb", ".stl", ".obj"
)
@click.option(
    "--angle",
    type=click.FloatRange(-180, 180),
    default=0.0,
    metavar="DEG",
    help="How far the slab stands open; closed (0) when left out.",
)
@click.option(
    "--unit",
    type=click.Choice(["in", "mm"]),
    help="Unit of an STL or OBJ file; the scene's own when left out. GLB is in metres.",
)
@reads_scene
def command(scene: sc.Scene, output: Path, angle: float, unit: str | None) -> None:
    """Write the slab, jamb and stops as a mesh file, every part under its name.

    SCENE is a scene file, or - for standard input. The parts stand as the
    opening is built, hinges on the scene's own hand. In STL and OBJ, z is up
    and y runs toward the pull side; in GLB, y is up and the pull side faces
    the viewer.
    """
    in_metres = output.suffix.lower() == ".glb"
    if in_metres and unit is not None:
        raise click.BadParameter("a GLB file is always in metres.", param_hint="'--unit'")
    with whole_file(output) as scratch:
        parts = sc.mesh(scene, scratch, angle=radians(angle), unit=unit)
    used = "metres" if in_metres else UNIT_WORDS[unit or scene.unit]
    click.echo(f"{output}: {len(parts)} parts in {used}, open {angle:g} degrees")
