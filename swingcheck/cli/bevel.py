"""``swingcheck bevel``: the least bevel that works, and the margin that each bevel asks for."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from math import atan, degrees, radians
from typing import Any

import click

from swingcheck.cli.options import json_option, scene_argument, scene_from, set_option, unit_option
from swingcheck.errors import UnitError
from swingcheck.model import Scene

WORKS, NOTHING_WORKS = 0, 1

WIDTHS = {"in": (18.0, 24.0, 30.0, 36.0), "mm": (450 / 25.4, 600 / 25.4, 750 / 25.4, 900 / 25.4)}
"""Widths of the table where none are given, inches."""

BEVELS = (0.0, radians(1), radians(2), radians(3), atan(1 / 16))
"""Bevels of the table where none are given, radians; the last is 1/8 in 2."""

LEAST, MOST = {"width": 6.0, "thickness": 0.5}, {"width": 120.0, "thickness": 4.0}
STEEPEST = radians(15)


@click.command(name="bevel")
@scene_argument
@click.option("--widths", metavar="LIST", help="Slab widths of the table, such as '24, 29 7/8'.")
@click.option("--thicknesses", metavar="LIST", help="Slab thicknesses, such as '1 3/8, 1 3/4'.")
@click.option("--bevels", metavar="LIST", help="Bevels, such as '0, 2, 1/8 in 2'.")
@set_option
@unit_option
@json_option
def command(
    scene: str,
    widths: str | None,
    thicknesses: str | None,
    bevels: str | None,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
    as_json: bool,
) -> None:
    """Say the least bevel of each edge, and the strike margin that a bevel asks for.

    SCENE is a scene file, or - for standard input. The least bevels are the
    scene's own, each edge with the other as it is. The table is for slabs on
    the scene's hinges in a plumb, square and level opening. Exits with 0 when
    every edge has a bevel that works, 1 when one has none, and 2 when the
    scene cannot be read.
    """
    from swingcheck.advice.bevel import least_bevels, margin_tables
    from swingcheck.cli.check import page_width
    from swingcheck.report.bevel import bevel_card, bevel_data
    from swingcheck.report.text import text

    read = scene_from(scene, settings)
    tables = margin_tables(
        read,
        widths=_lengths(read, "width", widths) or WIDTHS[read.unit],
        thicknesses=_lengths(read, "thickness", thicknesses) or (read.slab.thickness,),
        bevels=_angles(bevels) or BEVELS,
    )
    edges = least_bevels(read)
    if as_json:
        click.echo(json.dumps(bevel_data(read, edges, tables), indent=2, allow_nan=False))
    else:
        click.echo(text(bevel_card(read, edges, tables, unit), page_width()))
    works = all(edge.least is not None for edge in edges)
    sys.exit(WORKS if works else NOTHING_WORKS)


def _lengths(scene: Scene, what: str, typed: str | None) -> tuple[float, ...]:
    from swingcheck.units import length_text, parsed_length

    option = "--widths" if what == "width" else "--thicknesses"
    values = _list(typed, option, lambda each: parsed_length(each, scene.unit))
    low, high = LEAST[what], MOST[what]
    if any(not low <= value <= high for value in values):
        limits = f"{length_text(low, scene.unit)} to {length_text(high, scene.unit)}"
        raise click.BadParameter(f"a {what} is from {limits}.", param_hint=f"'{option}'")
    return values


def _angles(typed: str | None) -> tuple[float, ...]:
    from swingcheck.units import parsed_angle

    values = _list(typed, "--bevels", parsed_angle)
    if any(not 0 <= value <= STEEPEST for value in values):
        limits = f"0 to {degrees(STEEPEST):g} degrees"
        raise click.BadParameter(f"a bevel is from {limits}.", param_hint="'--bevels'")
    return values


def _list(typed: str | None, option: str, read: Callable[[Any], float]) -> tuple[float, ...]:
    """Return what a list with commas says, each value once, in its order."""
    parts: Sequence[str] = [] if typed is None else typed.split(",")
    try:
        return tuple(dict.fromkeys(read(part.strip()) for part in parts))
    except UnitError as error:
        raise click.BadParameter(str(error), param_hint=f"'{option}'") from None
