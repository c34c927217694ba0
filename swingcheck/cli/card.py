"""``swingcheck card``: a page a door for the bench, and templates at true scale."""

from __future__ import annotations

from pathlib import Path

import click

import swingcheck as sc
from swingcheck.cli.options import Settings, output_option, set_option, unit_option
from swingcheck.cli.output import OUTPUT, Exit, doors_told
from swingcheck.files import write_whole
from swingcheck.units import counted


@click.command(name="card")
@click.argument("job", metavar="SCENE|FOLDER|SCHEDULE")
@output_option(
    "The file to write; its suffix says which kind: .pdf, .html or .txt.", ".pdf", ".html", ".txt"
)
@click.option(
    "--template",
    "at_true_scale",
    is_flag=True,
    help="Write templates at true scale instead: leaf, setback line, spacer block. PDF only.",
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
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
    settings: Settings,
    unit: str | None,
) -> Exit:
    """Write a page a door for the bench, or templates at true scale.

    A card has one door's cuts, marks and set-ups in cutting order; that of a
    door that is not fit to be hung says so first, and the command exits with 1.
    SCENE is a scene file, FOLDER holds several, and SCHEDULE is a CSV as
    swingcheck house takes it.

    Print templates at 100 %, and measure the rulers on the page before
    anything else.
    """
    kind = output.suffix.lower()[1:]
    if at_true_scale and kind != "pdf":
        raise click.BadParameter(f"{str(output)!r} must end in .pdf.", param_hint=OUTPUT)
    with doors_told() as told:
        done = sc.house(job, settings, kept_in=kept_in, **told)
    for group in (done.refused, done.bare):
        for each in group:
            click.echo(f"Error: {each.name} ({each.where}): {each.reason}", err=True)
    if done.doors:
        if at_true_scale:
            content = sc.templates(done, unit=unit, paper=paper)
        else:
            content = sc.cards(done, kind, unit=unit, paper=paper, drawn=pictures)
        write_whole(output, content)
        click.echo(f"{output}: {counted(len(done.doors), 'door')}")
    if done.refused or done.bare:
        return Exit.BAD_INPUT
    good = all(door.check.fit.word is sc.FitWord.GOOD for door in done.doors)
    return Exit.YES if good else Exit.NO
