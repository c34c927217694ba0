"""``swingcheck vary``: what the slab does over a range of one or two dimensions."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swingcheck.cli.options import json_option, scene_argument, scene_from, set_option, unit_option
from swingcheck.cli.risk import cluster_option, full_option

if TYPE_CHECKING:
    from swingcheck.chance.vary import Over, Varied
    from swingcheck.model import Scene

PICTURES, TABLES = (".png", ".svg", ".pdf"), (".csv", ".parquet", ".json")
SHOWN = ("verdict", "angle", "short", "margin")
MOST_OVERS = 2
_UNIT = re.compile(r"(?:mm|cm|in|inch|inches|ft|deg|degrees|[\"'\u00b0\u2032\u2033])\.?$")
LONGEST = 250_000
"""Values of one dimension, past which the range is a slip of the pen."""


@dataclass(frozen=True, slots=True)
class Range:
    """``KEY=FROM:TO:STEP`` as it was typed."""

    key: str
    ends: tuple[str, str, str]

    @property
    def typed(self) -> str:
        """How messages name it."""
        return f"--over {self.key}={':'.join(self.ends)}"


class OverType(click.ParamType):
    """``KEY=FROM:TO:STEP``, as texts; what they mean is for the scene to say."""

    name = "KEY=FROM:TO:STEP"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Range:
        """Split at the equals sign and the colons."""
        if isinstance(value, Range):
            return value
        key, equals, rest = str(value).partition("=")
        ends = tuple(part.strip() for part in rest.split(":"))
        if not equals or not key.strip() or len(ends) != 3 or not all(ends):
            such = "hinge.slab.setback=1/8:3/8:1/64"
            self.fail(f"{value!r} is not KEY=FROM:TO:STEP, such as {such}", param, ctx)
        return Range(key.strip(), (ends[0], ends[1], ends[2]))


@click.command(name="vary")
@scene_argument
@click.option(
    "--over",
    "ranges",
    type=OverType(),
    multiple=True,
    required=True,
    metavar="KEY=FROM:TO:STEP",
    help="A dimension and its values, such as hinge.slab.setback=1/8:3/8:1/64. Once or twice."
    " 'swingcheck leeway SCENE' lists the keys.",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    metavar="FILE",
    help="A picture (.png, .svg, .pdf) or a table (.csv, .parquet, .json) to write.",
)
@click.option(
    "--show",
    type=click.Choice(SHOWN),
    help="What the picture shows: the verdict, which is usual, the contact's angle, how far"
    " short of closed it is, or the margins.",
)
@full_option
@cluster_option
@set_option
@unit_option
@json_option
def command(
    scene: str,
    ranges: tuple[Range, ...],
    output: Path | None,
    show: str | None,
    full: bool,
    cluster: str,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
    as_json: bool,
) -> None:
    """Map what the slab does as one or two dimensions change.

    SCENE is a scene file, or - for standard input. All else stays as the scene
    has it, what it left out too. The first dimension runs across the picture,
    the second up it. Exits with 0, or 2 when the scene or a range cannot be
    read.
    """
    from swingcheck.chance.vary import vary
    from swingcheck.chance.workers import Spread
    from swingcheck.cli.check import page_width
    from swingcheck.cli.progress import Progress
    from swingcheck.report.text import text
    from swingcheck.report.variants import variants_card, variants_data

    write = _writer(output, show, unit)
    if len(ranges) > MOST_OVERS:
        raise click.UsageError("--over is given once or twice: a curve or a map.")
    read = scene_from(scene, settings)
    overs = overs_of(read, ranges)
    with Progress() as watch:
        varied = vary(read, overs, spread=Spread(cluster=cluster), full=full, watch=watch)
    if output is not None:
        write(varied)
    if as_json:
        click.echo(json.dumps(variants_data(varied), allow_nan=False))
        return
    click.echo(text(variants_card(varied, unit), page_width()))
    if output is not None:
        click.echo(f"Wrote {output}")


def overs_of(scene: Scene, ranges: tuple[Range, ...]) -> list[Over]:
    """Return the ranges as dimensions of a scene with their values.

    Raises
    ------
    SceneError
        With every fault of the ranges.
    """
    from swingcheck.chance.vary import corner_scenes, varied_dimension
    from swingcheck.errors import Problem, SceneError
    from swingcheck.scenefile import broken_limits

    problems: list[Problem] = []
    overs = []
    for each in ranges:
        found = _over(scene, each, varied_dimension(scene, each.key))
        if isinstance(found, Problem):
            problems.append(found)
        else:
            overs.append(found)
    if problems:
        raise SceneError(scene.title, problems)
    for corner, values in corner_scenes(scene, overs):
        where = " and ".join(
            f"{over.dimension.key} = {_value(over, value, scene.unit)}"
            for over, value in zip(overs, values.tolist(), strict=True)
        )
        problems += [
            Problem(
                key=broken.key,
                value=broken.value,
                expected=f"must be {broken.expected}",
                hint=f"at {where}",
            )
            for broken in broken_limits(corner)
        ]
    if problems:
        raise SceneError(scene.title, problems)
    return overs


def _over(scene: Scene, typed: Range, dimension: Any) -> Any:
    """Return the values of a range, or what is wrong with it."""
    from swingcheck.chance.vary import over, steps_between
    from swingcheck.errors import Problem, UnitError
    from swingcheck.units import parsed_angle, parsed_length

    if len({bool(_UNIT.search(end)) for end in typed.ends}) > 1:
        expected = "each of FROM, TO and STEP must have its unit, or none of them"
        return Problem(key=typed.typed, value="", expected=expected)
    try:
        if dimension.is_angle:
            low, high, step = (parsed_angle(end) for end in typed.ends)
        else:
            low, high, step = (parsed_length(end, scene.unit) for end in typed.ends)
    except UnitError as error:
        return Problem(key=typed.typed, value="", expected=str(error))
    if not (low < high and step > 0):
        expected = "FROM must be less than TO, and STEP above 0"
        return Problem(key=typed.typed, value="", expected=expected)
    if steps_between(low, high, step) > LONGEST:
        expected = f"must come to at most {LONGEST:,} values: take a wider STEP"
        return Problem(key=typed.typed, value="", expected=expected)
    found = over(dimension, low, high, step)
    return _beyond(typed, found, scene) or found


def _beyond(typed: Range, over: Over, scene: Scene) -> Any:
    """Return the limit of the scene file's key that a range goes past, or None."""
    from swingcheck.errors import Problem
    from swingcheck.scenefile import Key, known_keys

    spec = known_keys().get(over.dimension.key)
    if not isinstance(spec, Key):
        return None
    measure: Callable[[float], float] = degrees if over.dimension.is_angle else float
    if all(spec.within(measure(end)) for end in over.values[[0, -1]].tolist()):
        return None
    expected = f"must keep {spec.limits_text(scene.unit)}"
    return Problem(key=typed.typed, value="", expected=expected)


def _value(over: Over, value: float, unit: str) -> str:
    from swingcheck.chance.outcomes import value_text

    return value_text(over.dimension, value, unit)


def _writer(output: Path | None, show: str | None, unit: str | None) -> Callable[[Varied], None]:
    """Return what writes the file, refusing one that cannot be before anything is swung."""
    from swingcheck.cli.output import suffix_of, whole_file

    suffix = suffix_of(output, (*PICTURES, *TABLES)) if output is not None else ""
    if show is not None and suffix not in PICTURES:
        raise click.UsageError("--show is for a picture: give -o FILE.png, .svg or .pdf.")

    def write(varied: Varied) -> None:
        assert output is not None
        with whole_file(output) as file:
            if suffix in PICTURES:
                from swingcheck.render.map.draw import variation_picture

                kind = suffix.removeprefix(".")
                file.write_bytes(variation_picture(varied, show or SHOWN[0], kind, unit=unit))
            else:
                _write_table(varied, file, suffix)

    return write


def _write_table(varied: Varied, file: Path, suffix: str) -> None:
    from swingcheck.report.variants import variants_csv, variants_data, write_parquet

    if suffix == ".parquet":
        write_parquet(varied, file)
    elif suffix == ".csv":
        file.write_text(variants_csv(varied), encoding="utf-8")
    else:
        file.write_text(json.dumps(variants_data(varied), allow_nan=False), encoding="utf-8")
