"""``swingcheck mesh``: the slab, jamb and stops as a mesh file."""

from __future__ import annotations

from math import radians
from pathlib import Path

import click

from swingcheck.assembly import Assembly, assemble, barrel_parts
from swingcheck.assembly.parts import as_hung
from swingcheck.cli.options import scene_argument, scene_from, set_option
from swingcheck.geometry.export import SUFFIXES, write_mesh
from swingcheck.geometry.solid import Solid

UNIT_WORDS = {"in": "inches", "mm": "millimetres", "m": "metres"}


@click.command(name="mesh")
@scene_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    metavar="FILE",
    help="The file to write; its suffix says which kind: .glb, .stl or .obj.",
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
@set_option
def command(
    scene: str,
    output: Path,
    angle: float,
    unit: str | None,
    settings: tuple[tuple[str, str], ...],
) -> None:
    """Write the slab, jamb and stops as a mesh file, every part under its name.

    SCENE is a scene file, or - for standard input. The parts stand as the
    opening is built, hinges on the scene's own hand. In STL and OBJ, z is up
    and y runs toward the pull side; in GLB, y is up and the pull side faces
    the viewer.
    """
    suffix = output.suffix.lower()
    if suffix not in SUFFIXES:
        expected = f"{', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]}"
        raise click.BadParameter(
            f"{str(output)!r} must end in {expected}.", param_hint="'-o' / '--output'"
        )
    if suffix == ".glb" and unit is not None:
        raise click.BadParameter("a GLB file is always in metres.", param_hint="'--unit'")
    read = scene_from(scene, settings)
    used = "m" if suffix == ".glb" else unit or read.unit
    solids = posed_solids(assemble(read), radians(angle))
    try:
        write_mesh(output, solids, unit=used)
    except OSError as error:
        raise click.BadParameter(
            f"cannot write {str(output)!r}: {error.strerror or error}",
            param_hint="'-o' / '--output'",
        ) from error
    click.echo(f"{output}: {len(solids)} parts in {UNIT_WORDS[used]}, open {angle:g} degrees")


def posed_solids(assembly: Assembly, angle: float) -> list[tuple[str, Solid]]:
    """Return every part by name at a swing angle (radians), on the scene's own hand."""
    posed = [(part.name, assembly.axis.turned(part.solid, angle)) for part in assembly.moving]
    posed += [(part.name, part.solid) for part in (*assembly.fixed, *barrel_parts(assembly))]
    return [(name, as_hung(assembly.scene, solid)) for name, solid in posed]
