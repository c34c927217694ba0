"""``swingcheck picture``: the plan section and other pictures of one check, or of two compared."""

from __future__ import annotations

from math import radians
from pathlib import Path
from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import (
    Degrees,
    Setting,
    Settings,
    output_option,
    scene_argument,
    set_option,
)
from swingcheck.cli.output import OUTPUT
from swingcheck.errors import RenderError
from swingcheck.files import write_whole

WHAT = {
    "plan": "plan section",
    "solid": "3D still",
    "hinge": "hinge pulled apart",
    "margins": "margin map",
    "clearance": "clearance chart",
    "corners": "corners at true scale",
}
"""Every picture that there is, and what it is called."""

DRAWN = {"both": ("plan", "solid"), **{view: (view,) for view in WHAT}, "all": tuple(WHAT)}
"""The pictures of each view."""

BESIDE = {"solid": ("3d", ".png"), "corners": ("corners", ".pdf")}
"""How a picture's file beside the others is named and ends, where not as its view and they."""

NEEDED = ("plan", "corners")
"""What is no picture less without: another, among several, may be left out with a note."""

COMPARED = {
    "both": ("corners", "chart"),
    "plan": ("corners",),
    "clearance": ("chart",),
    "margins": ("margins",),
    "all": ("corners", "margins", "chart"),
}
"""What a comparison shows for each view that it can."""


@click.command(name="picture")
@scene_argument
@output_option(
    "The file to write: .png, or .svg or .pdf for all but the 3D still.", ".png", ".svg", ".pdf"
)
@click.option(
    "--view",
    type=click.Choice(list(DRAWN)),
    default="both",
    help="What to draw: both, which is usual, is the plan section and the 3D still (solid).",
)
@click.option(
    "--angle",
    type=Degrees(0, 180),
    metavar="DEG",
    help="Draw the slab this far open; at first contact when left out.",
)
@click.option(
    "--compare",
    "other",
    metavar="OTHER",
    help="Draw a second scene file beside SCENE, at the same scale.",
)
@click.option(
    "--compare-set",
    "changes",
    type=Setting(),
    multiple=True,
    metavar="KEY=VALUE",
    help="Draw SCENE, or OTHER, with a change beside SCENE. Can be repeated.",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    help="Paper for --view corners; letter for scenes in inches, a4 in mm, when left out.",
)
@click.option(
    "--size",
    type=click.IntRange(600, 8000),
    default=2000,
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
    other: str | None,
    changes: Settings,
    paper: str | None,
    size: int,
    settings: Settings,
) -> None:
    """Draw the slab in its opening at an angle.

    SCENE is a scene file, or - for standard input. With -o fit.png:

    \b
      --view both       fit.png, the plan section with both corners close up,
                        and fit-3d.png, the 3D still
      --view plan       the plan section alone
      --view solid      the 3D still alone
      --view hinge      a hinge pulled apart, with its sizes
      --view margins    the margins of the closed slab, coloured by gap
      --view clearance  the clearance to each part against the angle
      --view corners    both corners at true scale to print, with a ruler
      --view all        fit.png, fit-3d.png, fit-hinge.png, fit-margins.png,
                        fit-clearance.png, and fit-corners.pdf

    In plan and in 3D the slab stands at first contact, the closed slab dashed
    under it and the contact ringed.

    With --compare or --compare-set two scenes stand side by side in one file
    at one scale: the corners that differ and the clearance charts, or what
    --view names of plan, margins, clearance and all. A slab that touches
    nothing is drawn as far open as the one that does.

    Only the 3D still needs a GL renderer; where there is none, a note says
    what to install.
    """  # noqa: D301
    if view == "solid" and output.suffix.lower() != ".png":
        raise click.BadParameter(f"a 3D still is a .png, not {output.name!r}.", param_hint=OUTPUT)
    how: dict[str, Any] = {"angle": None if angle is None else radians(angle), "size": size}
    if other is not None or changes:
        _refuse_comparison(scene, other, view)
        names, pair = _pair(scene, other, settings, changes)
        kind = output.suffix.lower()[1:]
        write_whole(output, sc.compare(*pair, names=names, rows=COMPARED[view], kind=kind, **how))
        click.echo(f"{output}: comparison")
    else:
        _draw(sc.Pictures(sc.read(scene, settings), paper=paper, **how), view, output)


def _draw(pictures: sc.Pictures, view: str, output: Path) -> None:
    """Draw a view's pictures; note which of those that are not needed cannot be drawn."""
    for picture in DRAWN[view]:
        file = output
        if picture not in ("plan", view):
            name, suffix = BESIDE.get(picture, (picture, output.suffix))
            file = output.with_name(f"{output.stem}-{name}{suffix}")
        try:
            write_whole(file, pictures.draw(picture, file.suffix.lower()[1:]))
        except RenderError as error:
            if picture in (view, *NEEDED):
                raise
            click.echo(f"Note: {error}", err=True)
        else:
            click.echo(f"{file}: {WHAT[picture]}")


def _refuse_comparison(scene: str, other: str | None, view: str) -> None:
    if view not in COMPARED:
        named = ", ".join(name for name in COMPARED if name != "both")
        raise click.BadParameter(f"a comparison shows {named}, not {view}.", param_hint="'--view'")
    if scene == "-" and other in (None, "-"):
        raise click.BadParameter(
            "standard input is read once; name a scene file to compare.", param_hint="'SCENE'"
        )


def _pair(
    scene: str, other: str | None, settings: Settings, changes: Settings
) -> tuple[tuple[str, str], tuple[sc.Scene, sc.Scene]]:
    """Return what the two scenes of a comparison are called, and the scenes."""
    first = sc.read(scene, settings)
    changed = ", ".join(f"{key} = {value}" for key, value in changes)
    if other is None:
        return ("as it is", changed), (first, sc.read(scene, settings + changes))
    named = ", ".join(filter(None, (Path(other).name, changed)))
    return (Path(scene).name, named), (first, sc.read(other, changes))
