"""``swingcheck house``: every opening of a job, solved together."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from swingcheck.cli.check import page_width
from swingcheck.cli.options import json_option, set_option, unit_option
from swingcheck.cli.output import whole_file
from swingcheck.job.answer import job_done
from swingcheck.job.house import Job, swings
from swingcheck.report.house import house_card
from swingcheck.report.house_data import house_json
from swingcheck.report.text import text

SWING, DO_NOT, BAD_INPUT = 0, 1, 2

STDIN = "-"
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
    type=click.Path(dir_okay=False, path_type=Path, allow_dash=True),
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
    sheet: Path | None,
    jobs: int | None,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
    as_json: bool,
) -> None:
    """Check every opening of a job: which swing, what to cut, what to order.

    The job is a FOLDER of scene files or a SCHEDULE: a CSV with a row for each
    opening, - for standard input. A column is named in plain words, such as
    "opening width" or "slab setback", or by any key of a scene; --template
    writes one with the usual columns. A list in one cell is 30 1/8, 30, 30 1/8.

    Each slab is checked as its cuts leave it. With -o the results are kept as
    they are found: run the same again after Ctrl-C or a power cut, and only
    what is missing is checked.

    Exits with 0 when every slab swings, 1 when one does not, and 2 when the
    job cannot be read.
    """
    if sheet is not None:
        _write_sheet(sheet)
        return
    if job is None:
        raise click.UsageError("Give a FOLDER, a SCHEDULE, or --template FILE.")
    done = job_done(Path(job), settings, kept_in=output, processes=jobs)
    data = house_json(done) if as_json or output else ""
    if output is not None:
        plain = text(house_card(done, unit))
        for name, content in ((SUMMARY, plain), (DATA, data)):
            with whole_file(output / name) as scratch:
                scratch.write_text(f"{content}\n", encoding="utf-8")
    if as_json:
        click.echo(data)
    else:
        click.echo(text(house_card(done, unit), page_width()))
    sys.exit(_exit_code(done))


def _exit_code(done: Job) -> int:
    if done.refused:
        return BAD_INPUT
    return SWING if all(map(swings, done.checked)) else DO_NOT


def _write_sheet(sheet: Path) -> None:
    from swingcheck.job import blank_sheet

    content = blank_sheet()
    if str(sheet) == STDIN:
        click.echo(content, nl=False)
        return
    if sheet.exists():
        raise click.UsageError(f"{sheet} is there already: name another file.")
    with whole_file(sheet) as scratch:
        scratch.write_text(content, encoding="utf-8", newline="")
    click.echo(f"Wrote {sheet}. Fill it in, then: swingcheck house {sheet}", err=True)
