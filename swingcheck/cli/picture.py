"""``swingcheck picture``: the plan section and other pictures of one check, or of two compared."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import radians
from pathlib import Path
from typing import TYPE_CHECKING

import click

from swingcheck.cli.options import Degrees, Setting, scene_argument, scene_from, set_option
from swingcheck.cli.output import OUTPUT, suffix_of, whole_file
from swingcheck.errors import RenderError

if TYPE_CHECKING:
    from swingcheck.model import Scene
    from swingcheck.render.compare.sides import Compared
    from swingcheck.render.pen.figure import Subject
    from swingcheck.swing.found import Found

SUFFIXES = (".png", ".svg", ".pdf")
BOTH, PLAN, SOLID, HINGE, MARGINS, CLEARANCE, CORNERS, ALL = VIEWS = (
    "both",
    "plan",
    "solid",
    "hinge",
    "margins",
    "clearance",
    "corners",
    "all",
)
PAPERS = ("letter", "a4")
PIXELS = 2000

COMPARED = {
    BOTH: ("corners", "chart"),
    PLAN: ("corners",),
    CLEARANCE: ("chart",),
    MARGINS: ("margins",),
    ALL: ("corners", "margins", "chart"),
}
"""What a comparison shows for each view that it can."""

Settings = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """One scene's check, and how its pictures are to be written."""

    read: Scene
    result: Found
    subject: Subject
    output: Path
    size: int
    paper: str

    @property
    def kind(self) -> str:
        """What the output's suffix says: ``png``, ``svg`` or ``pdf``."""
        return self.output.suffix.lower()[1:]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picture:
    """A picture to be drawn: where it goes, what it is called, what draws it.

    One that is not ``needed`` is left out with a note where it cannot be drawn.
    """

    file: Path
    what: str
    drawn: Callable[[], bytes]
    needed: bool = True


@click.command(name="picture")
@scene_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    metavar="FILE",
    help="The file to write: .png, or .svg or .pdf for all but the 3D still.",
)
@click.option(
    "--view",
    type=click.Choice(VIEWS),
    default=BOTH,
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
    type=click.Choice(PAPERS),
    help="Paper for --view corners; letter for scenes in inches, a4 in mm, when left out.",
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
    other: str | None,
    changes: Settings,
    paper: str | None,
    size: int,
    settings: Settings,
) -> None:
    r"""Draw the slab in its opening at an angle.

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
    """
    _check_output(output, view)
    if other is not None or changes:
        _compare(scene, other, output, view, angle, size, (settings, changes))
        return
    read = scene_from(scene, settings)
    usual = "a4" if read.unit == "mm" else "letter"
    _draw(_job(read, angle, output, size, paper or usual), view)


def _draw(job: _Job, view: str) -> None:
    """Draw a view's pictures; note which of those that are not needed cannot be drawn."""
    for picture in _pictures(job, view):
        try:
            _write(picture)
        except RenderError as error:
            if picture.needed:
                raise
            click.echo(f"Note: {error}", err=True)


def _check_output(output: Path, view: str) -> None:
    """Refuse a file that no picture can be written to, before anything is drawn."""
    if view == SOLID and output.suffix.lower() != ".png":
        raise click.BadParameter(f"a 3D still is a .png, not {output.name!r}.", param_hint=OUTPUT)
    suffix_of(output, SUFFIXES)
    if not output.parent.is_dir():
        raise click.BadParameter(f"there is no folder {str(output.parent)!r}.", param_hint=OUTPUT)


def _job(read: Scene, angle: float | None, output: Path, size: int, paper: str) -> _Job:
    from swingcheck.assembly import assemble
    from swingcheck.render.pen.figure import Subject
    from swingcheck.render.plan.pose import shown_pose
    from swingcheck.swing.check import check

    result = check(read)
    pose = shown_pose(result, None if angle is None else radians(angle))
    subject = Subject(assembly=assemble(read), pose=pose, caption=_caption(result))
    return _Job(read=read, result=result, subject=subject, output=output, size=size, paper=paper)


def _caption(result: Found) -> str:
    from swingcheck.report.headline import headline
    from swingcheck.report.lengths import Lengths

    return headline(result, Lengths(unit=result.scene.unit))


def _pictures(job: _Job, view: str) -> Iterator[_Picture]:
    """Yield the pictures of a view, the file's own name for the first or only one."""
    every = view == ALL
    if view in (BOTH, PLAN, ALL):
        yield _Picture(file=job.output, what="plan section", drawn=lambda: _plan(job))
    if view in (BOTH, SOLID, ALL):
        file = job.output if view == SOLID else _beside(job.output, "3d", ".png")
        yield _Picture(file=file, what="3D still", drawn=lambda: _solid(job), needed=view == SOLID)
    for name, what, drawn in (
        (HINGE, "hinge pulled apart", _hinge),
        (MARGINS, "margin map", _margins),
        (CLEARANCE, "clearance chart", _clearance),
    ):
        if view in (name, ALL):
            file = _beside(job.output, name) if every else job.output
            yield _Picture(file=file, what=what, drawn=partial(drawn, job), needed=not every)
    if view in (CORNERS, ALL):
        file = _beside(job.output, CORNERS, ".pdf") if every else job.output
        kind = file.suffix.lower()[1:]
        yield _Picture(file=file, what="corners at true scale", drawn=lambda: _true(job, kind))


def _beside(output: Path, name: str, suffix: str | None = None) -> Path:
    """Return the file beside the one that was asked for."""
    return output.with_name(f"{output.stem}-{name}{suffix or output.suffix}")


def _plan(job: _Job) -> bytes:
    from swingcheck.render.plan.sheet import plan_sheet

    return plan_sheet(job.subject, job.kind, job.size)


def _solid(job: _Job) -> bytes:
    from swingcheck.render.still.sheet import still_sheet

    return still_sheet(job.subject, job.size)


def _hinge(job: _Job) -> bytes:
    from swingcheck.render.exploded.sheet import exploded_sheet
    from swingcheck.render.plan.pose import cut_height, nearest_hinge

    if not job.read.hinge.count:
        raise RenderError("no hinge to pull apart: the slab hangs on pivots")
    assembly = job.subject.assembly
    hinge = nearest_hinge(assembly, cut_height(assembly, job.subject.pose))
    return exploded_sheet(assembly, hinge, job.read.title, job.kind, job.size)


def _margins(job: _Job) -> bytes:
    from swingcheck.render.margins.bands import map_data
    from swingcheck.render.margins.sheet import margin_sheet

    data = map_data(job.subject.assembly)
    return margin_sheet(data, job.subject.caption, job.kind, job.size)


def _clearance(job: _Job) -> bytes:
    from swingcheck.render.chart.lines import chart_data
    from swingcheck.render.chart.sheet import chart_sheet

    data = chart_data(job.subject.assembly, job.result)
    return chart_sheet(data, job.subject.caption, job.kind, job.size)


def _true(job: _Job, kind: str) -> bytes:
    from swingcheck.render.plan.true_sheet import true_sheet

    return true_sheet(job.subject, job.paper, kind, job.size)


def _compare(
    scene: str,
    other: str | None,
    output: Path,
    view: str,
    angle: float | None,
    size: int,
    settings: tuple[Settings, Settings],
) -> None:
    """Draw two scenes side by side into one file."""
    if view not in COMPARED:
        named = ", ".join(name for name in COMPARED if name != BOTH)
        raise click.BadParameter(f"a comparison shows {named}, not {view}.", param_hint="'--view'")
    if scene == "-" and other in (None, "-"):
        raise click.BadParameter(
            "standard input is read once; name a scene file to compare.", param_hint="'SCENE'"
        )
    from swingcheck.render.compare.sheet import compare_sheet
    from swingcheck.render.compare.sides import sides_of

    pair = _compared(scene, other, settings)
    sides = sides_of(pair, None if angle is None else radians(angle))
    kind = output.suffix.lower()[1:]
    _write(
        _Picture(
            file=output,
            what="comparison",
            drawn=lambda: compare_sheet(sides, COMPARED[view], kind, size),
        )
    )


def _compared(
    scene: str, other: str | None, settings: tuple[Settings, Settings]
) -> tuple[Compared, Compared]:
    """Return both scenes with their checks; the second in the first one's unit."""
    from swingcheck.assembly import assemble
    from swingcheck.render.compare.sides import Compared
    from swingcheck.swing.check import check

    own, changes = settings
    first = scene_from(scene, own)
    second = scene_from(other, changes) if other is not None else scene_from(scene, own + changes)
    second = replace(second, unit=first.unit)
    changed = ", ".join(f"{key} = {value}" for key, value in changes)
    names = ("as it is", changed)
    if other is not None:
        names = (Path(scene).name, ", ".join([Path(other).name, *([changed] if changed else [])]))
    found = []
    for name, read in zip(names, (first, second), strict=True):
        result = check(read)
        caption = _caption(result)
        found.append(Compared(name=name, assembly=assemble(read), result=result, caption=caption))
    return found[0], found[1]


def _write(picture: _Picture) -> None:
    """Draw a picture, write it, and say so."""
    drawn = picture.drawn()
    with whole_file(picture.file) as scratch:
        scratch.write_bytes(drawn)
    click.echo(f"{picture.file}: {picture.what}")
