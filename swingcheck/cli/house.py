"""``swingcheck house``: every opening of a job, solved together."""

from __future__ import annotations

import json
from pathlib import Path

import click

import swingcheck as sc
from swingcheck.cli.options import Settings, json_option, set_option, unit_option
from swingcheck.cli.output import Exit, doors_told, refuse_to_overwrite, show, write_to_fill_in
from swingcheck.files import write_whole

SUMMARY, DATA = "summary.txt", "house.json"


@click.command(name="house")
@click.argument("job", metavar="FOLDER|SCHEDULE", required=False)
@click.option(
    "-o",
    "--output",
    type=click.Path(file_okay=False, path_type=Path),
    metavar="FOLDER",
    help="Write the summary, the data and every result here; resume what is in it.",
)
@click.option(
    "--template",
    "sheet",
    type=click.Path(dir_okay=False, allow_dash=True),
    metavar="FILE",
    help="Write a schedule to fill in, and do nothing else; - is standard output.",
)
@click.option(
    "-j",
    "--jobs",
    type=click.IntRange(1, 64),
    metavar="N",
    help="How many openings at once; as many as there are processors when left out.",
)
@set_option
@unit_option
@json_option
def command(
    job: str | None,
    output: Path | None,
    sheet: str | None,
    jobs: int | None,
    settings: Settings,
    unit: str | None,
    as_json: bool,
) -> Exit:
    """Check every opening of a job: which swing, what to cut, what to order.

    The job is a FOLDER of scene files or a SCHEDULE: a CSV with a row for each
    opening, - for standard input. A column is named in plain words, such as
    "opening width" or "slab setback", or by any key of a scene; --template
    writes one with the usual columns. A list in one cell is 30 1/8, 30, 30 1/8.

    Each slab is checked as its cuts leave it. With -o the results are kept as
    they are found: run the same again after Ctrl-C or a power cut, and only
    what is missing is checked.

    Exits with 0 when every door is fit to be hung (good), 1 when one is tight
    or bad, and 2 when the job cannot be read.
    """
    if sheet is not None:
        refuse_to_overwrite(sheet, "name another file")
        write_to_fill_in(sheet, sc.blank_sheet(), "house")
        return Exit.YES
    if job is None:
        raise click.UsageError("Give a FOLDER, a SCHEDULE, or --template FILE.")
    with doors_told() as told:
        done = sc.house(job, settings, kept_in=output, processes=jobs, **told)
    if output is not None:
        write_whole(output / SUMMARY, f"{sc.text(done, unit=unit)}\n")
        write_whole(output / DATA, f"{json.dumps(sc.plain(done), indent=2, allow_nan=False)}\n")
    show(done, unit, as_json)
    if done.refused:
        return Exit.BAD_INPUT
    good = all(door.check.fit.word is sc.FitWord.GOOD for door in done.checked)
    return Exit.YES if good else Exit.NO
