"""``swingcheck bench``: every bench number of one door, in cutting order."""

from __future__ import annotations

import json
import sys

import click

from swingcheck.bench.door import bench_numbers
from swingcheck.cli.check import page_width
from swingcheck.cli.options import (
    json_option,
    scene_argument,
    scene_from,
    set_option,
    unit_option,
)
from swingcheck.report.bench import bench_card
from swingcheck.report.bench_data import bench_data
from swingcheck.report.text import text

DONE, CANNOT_BE_DONE = 0, 1


@click.command(name="bench")
@scene_argument
@set_option
@unit_option
@json_option
def command(
    scene: str, settings: tuple[tuple[str, str], ...], unit: str | None, as_json: bool
) -> None:
    """Give every cut, mark and set-up of one door, in cutting order.

    SCENE is a scene file, or - for standard input. [wanted] says what margins
    to cut for, [slab.delivered] what to cut from, [shop] which bit, bushing
    and template there are, [season] and [finish] the air and the paint.

    Exits with 0; with 1 when what was delivered is too small or the bit and
    bushing cannot cut the leaves; with 2 when the scene cannot be read.
    """
    numbers = bench_numbers(scene_from(scene, settings))
    if as_json:
        click.echo(json.dumps(bench_data(numbers), indent=2, allow_nan=False))
    else:
        click.echo(text(bench_card(numbers, unit), page_width()))
    sys.exit(DONE if numbers.can_be_done else CANNOT_BE_DONE)
