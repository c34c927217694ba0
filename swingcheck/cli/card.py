"""``swingcheck card``: a page a door for the bench, and templates at true scale."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

import click

from swingcheck.assembly import assemble
from swingcheck.chance.workers import Spread, answers_as_found
from swingcheck.cli.options import set_option, unit_option
from swingcheck.cli.output import OUTPUT, suffix_of, whole_file
from swingcheck.errors import GeometryError
from swingcheck.job.answer import job_done
from swingcheck.job.house import Bare, Door, Refused
from swingcheck.model import Scene
from swingcheck.report.cards.content import door_card
from swingcheck.report.cards.html import Pictures, cards_html
from swingcheck.report.cards.paper import PAPERS, Paper
from swingcheck.report.cards.pdf import cards_pdf
from swingcheck.report.cards.templates import fits, templates, templates_pdf
from swingcheck.report.cards.txt import cards_text

PDF, HTML, TXT = SUFFIXES = (".pdf", ".html", ".txt")


@click.command(name="card")
@click.argument("job", metavar="SCENE|FOLDER|SCHEDULE")
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    required=True,
    metavar="FILE",
    help="The file to write; its suffix says which kind: .pdf, .html or .txt.",
)
@click.option(
    "--template",
    "at_true_scale",
    is_flag=True,
    help="Write templates at true scale instead: leaf, setback line, spacer block. PDF only.",
)
@click.option(
    "--paper",
    type=click.Choice(list(PAPERS)),
    default="letter",
    show_default=True,
    help="What it is printed on.",
)
@click.option(
    "--pictures/--no-pictures",
    default=True,
    help="Draw the corners in plan on each card, which is usual, or leave them out.",
)
@click.option(
    "--house",
    "kept_in",
    type=click.Path(file_okay=False, exists=True, path_type=Path),
    metavar="FOLDER",
    help="Take up the results that swingcheck house -o FOLDER has kept.",
)
@set_option
@unit_option
def command(
    job: str,
    output: Path,
    at_true_scale: bool,
    paper: str,
    pictures: bool,
    kept_in: Path | None,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
) -> None:
    """Write a page a door for the bench, or templates at true scale.

    A card has one door's cuts, marks and set-ups in cutting order; that of a
    door that does not swing says so first. SCENE is a scene file, FOLDER holds
    several, and SCHEDULE is a CSV as swingcheck house takes it.

    Print templates at 100 %, and measure the rulers on the page before
    anything else.
    """
    suffix = suffix_of(output, (PDF,) if at_true_scale else SUFFIXES)
    done = job_done(Path(job), settings, kept_in=kept_in, processes=None)
    without: list[Refused | Bare] = [*done.refused, *done.bare]
    for each in without:
        click.echo(f"Error: {each.name} ({each.where}): {each.reason}", err=True)
    if done.doors:
        if at_true_scale:
            content = _templates(done.doors, unit, PAPERS[paper])
        else:
            drawn = _closeups(done.doors) if pictures and suffix != TXT else {}
            content = _cards(done.doors, unit, drawn, PAPERS[paper], suffix)
        with whole_file(output) as scratch:
            scratch.write_bytes(content)
        count = len(done.doors)
        click.echo(f"{output}: {count} door{'s' * (count != 1)}")
    if without:
        raise click.exceptions.Exit(2)


def closeup_png(scene: Scene) -> bytes | None:
    """Return the two corners of a closed slab in plan; ``None`` where a part has no solid."""
    from swingcheck.render.plan.pair import closeup_pair

    try:
        return closeup_pair(assemble(scene))
    except GeometryError:
        return None


def _closeups(doors: Sequence[Door]) -> Pictures:
    scenes = [door.bench.finished for door in doors]
    with closing(answers_as_found(closeup_png, scenes, Spread())) as drawn:
        return {doors[place].name: png for place, png in drawn if png is not None}


def _cards(
    doors: Sequence[Door], unit: str | None, pictures: Pictures, paper: Paper, suffix: str
) -> bytes:
    cards = [door_card(door, unit) for door in doors]
    if suffix == PDF:
        return cards_pdf(cards, pictures, paper)
    if suffix == HTML:
        return cards_html(cards, pictures, paper).encode()
    return cards_text(cards).encode()


def _templates(doors: Sequence[Door], unit: str | None, paper: Paper) -> bytes:
    pages = templates(doors, unit)
    if not any(fits(page, paper) for page in pages):
        raise click.BadParameter(
            f"no leaf of this job fits {paper.name} at true scale.", param_hint=OUTPUT
        )
    return templates_pdf(pages, paper)
