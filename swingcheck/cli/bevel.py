"""``swingcheck bevel``: the least bevel that works, and the margin that each bevel asks for."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, radians
from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import reads_scene, reports
from swingcheck.cli.output import Exit
from swingcheck.errors import UnitError

WIDTHS_IN = 6.0, 120.0
THICKNESSES_IN = 0.5, 4.0
"""The least and the most that a table is made for."""

STEEPEST_RAD = radians(15)

Floats = tuple[float, ...]


@click.command(name="bevel")
@click.option("--widths", metavar="LIST", help="Slab widths of the table, such as '24, 29 7/8'.")
@click.option("--thicknesses", metavar="LIST", help="Slab thicknesses, such as '1 3/8, 1 3/4'.")
@click.option("--bevels", metavar="LIST", help="Bevels, such as '0, 2, 1/8 in 2'.")
@reads_scene
@reports
def command(
    scene: sc.Scene, widths: str | None, thicknesses: str | None, bevels: str | None
) -> tuple[Any, Exit]:
    """Say the least bevel of each edge, and the strike margin that a bevel asks for.

    SCENE is a scene file, or - for standard input. The least bevels are the
    scene's own, each edge with the other as it is. The table is for slabs on
    the scene's hinges in a plumb, square and level opening. Exits with 0 when
    every edge has a bevel that works, 1 when one has none, and 2 when the
    scene cannot be read.
    """
    from swingcheck.units import length_text, parsed_angle, parsed_length

    def lengths(option: str, what: str, typed: str | None, low: float, high: float) -> Floats:
        limits = f"a {what} is from {length_text(low, unit)} to {length_text(high, unit)}"
        return _values(option, typed, lambda part: parsed_length(part, unit), low, high, limits)

    unit = scene.unit
    limits = f"a bevel is from 0 to {degrees(STEEPEST_RAD):g} degrees"
    found = sc.bevel(
        scene,
        widths=lengths("--widths", "width", widths, *WIDTHS_IN),
        thicknesses=lengths("--thicknesses", "thickness", thicknesses, *THICKNESSES_IN),
        bevels=_values("--bevels", bevels, parsed_angle, 0.0, STEEPEST_RAD, limits),
    )
    works = all(edge.least is not None for edge in found.edges)
    return found, Exit.YES if works else Exit.NO


def _values(
    option: str,
    typed: str | None,
    parsed: Callable[[str], float],
    low: float,
    high: float,
    limits: str,
) -> Floats:
    """Return what a list with commas says, each value once, in its order; none where none is."""
    try:
        values = [parsed(part.strip()) for part in typed.split(",")] if typed is not None else []
    except UnitError as error:
        raise click.BadParameter(str(error), param_hint=f"'{option}'") from None
    if not all(low <= value <= high for value in values):
        raise click.BadParameter(f"{limits}.", param_hint=f"'{option}'")
    return tuple(dict.fromkeys(values))
