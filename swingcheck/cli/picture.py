"""``swingcheck picture``: the plan section and a 3D still of one check."""

from __future__ import annotations

from collections.abc import Callable
from math import radians
from pathlib import Path

import click

from swingcheck.analysis.check import check
from swingcheck.assembly import assemble
from swingcheck.cli.options import Degrees, scene_argument, scene_from, set_option
from swingcheck.errors import RenderError
from swingcheck.render.pose import shown_pose
from swingcheck.render.sheet import PIXELS, Subject, plan_sheet
from swingcheck.render.still_sheet import still_sheet
from swingcheck.report.headline import headline
from swingcheck.report.lengths import Lengths

SUFFIXES = (".png", ".svg", ".pdf")
BOTH, PLAN, SOLID = "both", "plan", "solid"
OUTPUT = "'-o' / '--output'"


@click.command(name="picture")
@scene_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    metavar="FILE",
    help="The file to write: .png, or .svg or .pdf for the plan.",
)
@click.option(
    "--view",
    type=click.Choice([BOTH, PLAN, SOLID]),
    default=BOTH,
    help="The plan section, the 3D still (solid), or both, which is usual.",
)
@click.option(
    "--angle",
    type=Degrees(0, 180),
    metavar="DEG",
    help="Draw the slab this far open; at first contact when left out.",
)
@click.option(
    "--size",
    type=click.IntRange(600, 8000),
    default=PIXELS,
    show_default=True,
    metavar="PIXELS",
    help="Width of a PNG.",
)
@set_option
def command(
    scene: str,
    output: Path,
    view: str,
    angle: float | None,
    size: int,
    settings: tuple[tuple[str, str], ...],
) -> None:
    """Draw the slab in its opening at an angle.

    SCENE is a scene file, or - for standard input. With -o fit.png the plan
    section is fit.png and the 3D still beside it fit-3d.png; with --view plan
    or --view solid the one picture is fit.png. The slab stands at first
    contact, the closed slab dashed under it and the contact ringed.

    The 3D still needs a GL renderer. Where there is none the plan is drawn
    all the same, and a note says what to install.
    """
    _check_suffix(output, view)
    read = scene_from(scene, settings)
    result = check(read)
    pose = shown_pose(result, None if angle is None else radians(angle))
    caption = headline(result, Lengths(unit=read.unit))
    subject = Subject(assembly=assemble(read), pose=pose, caption=caption)
    if view != SOLID:
        kind = output.suffix.lower()[1:]
        _write(output, lambda: plan_sheet(subject, kind, size), "plan section")
    if view == SOLID:
        _write(output, lambda: still_sheet(subject, size), "3D still")
    elif view == BOTH:
        beside = output.with_name(f"{output.stem}-3d.png")
        try:
            _write(beside, lambda: still_sheet(subject, size), "3D still")
        except RenderError as error:
            click.echo(f"Note: {error}", err=True)


def _check_suffix(output: Path, view: str) -> None:
    """Refuse a file that no picture can be written to, before anything is drawn."""
    suffix = output.suffix.lower()
    if view == SOLID and suffix != ".png":
        raise click.BadParameter(f"a 3D still is a .png, not {output.name!r}.", param_hint=OUTPUT)
    if suffix not in SUFFIXES:
        expected = f"{', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]}"
        raise click.BadParameter(f"{str(output)!r} must end in {expected}.", param_hint=OUTPUT)
    if not output.parent.is_dir():
        raise click.BadParameter(f"there is no folder {str(output.parent)!r}.", param_hint=OUTPUT)


def _write(file: Path, picture: Callable[[], bytes], what: str) -> None:
    """Draw a picture, write it, and say so."""
    drawn = picture()
    try:
        file.write_bytes(drawn)
    except OSError as error:
        raise click.BadParameter(
            f"cannot write {str(file)!r}: {error.strerror or error}", param_hint=OUTPUT
        ) from error
    click.echo(f"{file}: {what}")
