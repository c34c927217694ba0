"""``swingcheck film``: the swing as a short film."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swingcheck.cli.options import scene_argument, scene_from, set_option
from swingcheck.cli.output import suffix_of, whole_file

if TYPE_CHECKING:
    from swingcheck.model import Scene
    from swingcheck.render.film.moments import Moment
    from swingcheck.render.film.stage import Story

PLAN, SOLID = "plan", "solid"


@click.command(name="film")
@scene_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    metavar="FILE",
    help="The film to write: .gif, .webp or .mp4 (the smallest; it needs the extra 'film').",
)
@click.option(
    "--view",
    type=click.Choice([PLAN, SOLID]),
    default=PLAN,
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
@set_option
def command(
    scene: str,
    output: Path,
    view: str,
    seconds: float,
    rate: int,
    size: int,
    settings: tuple[tuple[str, str], ...],
) -> None:
    """Film the swing, slowing down as it nears contact.

    SCENE is a scene file, or - for standard input. The slab closes from where
    the scene starts it to its first contact, or opens where opening is what
    fails; the close-up shows the corner where they meet, and the nearest
    clearance is told in figures. A film with --view solid needs a GL renderer.
    """
    from swingcheck.render.film.file import SUFFIXES, require_encoder, write_film
    from swingcheck.render.film.moments import moments

    require_encoder(suffix_of(output, SUFFIXES))
    read = scene_from(scene, settings)
    with ExitStack() as opened:
        story, begin, end = _story(read, view, opened)
        shown = moments(begin, end, seconds=seconds, rate=rate)
        scratch = opened.enter_context(whole_file(output))
        write_film(scratch, _drawn(story, shown, size), shown, rate=rate)
    length = sum(moment.seconds for moment in shown)
    size_kb = output.stat().st_size / 1000
    click.echo(f"{output}: {len(shown)} pictures, {length:.1f} s, {size_kb:.0f} kB")


def _story(read: Scene, view: str, opened: ExitStack) -> tuple[Story, float, float]:
    """Return what the film is about, and the angles that it begins and ends at, radians."""
    from swingcheck.assembly import assemble
    from swingcheck.render.film.moments import film_way
    from swingcheck.render.film.solid import solid_view
    from swingcheck.render.film.stage import Story
    from swingcheck.report.headline import headline
    from swingcheck.report.lengths import Lengths
    from swingcheck.swing.check import check

    result, assembly = check(read), assemble(read)
    begin, end, touch = film_way(result)
    solid = None
    if view == SOLID:
        solid = opened.enter_context(solid_view(assembly, max(begin, end)))
    caption = headline(result, Lengths(unit=read.unit))
    story = Story(assembly=assembly, result=result, touch=touch, caption=caption, solid=solid)
    return story, begin, end


def _drawn(story: Story, shown: Sequence[Moment], size: int) -> Iterator[Any]:
    """Yield the film's pictures, a progress bar on the error stream as they are drawn."""
    from swingcheck.render.film.stage import pictures

    with click.progressbar(
        pictures(story, shown, size),
        length=len(shown),
        label="Filming",
        file=sys.stderr,
    ) as bar:
        yield from bar
