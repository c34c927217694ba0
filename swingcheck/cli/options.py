"""Options that several commands share, and how their values are read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import wraps
from math import isfinite
from pathlib import Path
from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.output import Exit, named, show
from swingcheck.errors import GeometryError, Problem, SceneError
from swingcheck.units import counted

Settings = tuple[tuple[str, str], ...]
"""What ``--set`` gave: keys and values as typed."""


class Setting(click.ParamType):
    """``KEY=VALUE``, as a pair of texts; what they mean is the scene reader's to say."""

    name = "KEY=VALUE"
    such = "slab.width='29 7/8'"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, Any]:
        """Split at the first equals sign."""
        if isinstance(value, tuple):
            return value
        key, equals, typed = (part.strip() for part in str(value).partition("="))
        found = self.value(typed)
        if not equals or not key or found is None:
            self.fail(f"{value!r} is not {self.name}, such as {self.such}", param, ctx)
        return key, found

    def value(self, typed: str) -> Any:
        """Return what stands behind the equals sign; ``None`` where it will not do."""
        return typed


class Range(Setting):
    """``KEY=FROM:TO:STEP``, as texts; what they mean is for the scene to say."""

    name = "KEY=FROM:TO:STEP"
    such = "hinge.slab.setback=1/8:3/8:1/64"

    def value(self, typed: str) -> tuple[str, ...] | None:
        """Split at the colons."""
        ends = tuple(part.strip() for part in typed.split(":"))
        return ends if len(ends) == 3 and all(ends) else None


class Degrees(click.FloatRange):
    """An angle in degrees within bounds, and a number."""

    name = "DEG"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Refuse what is not a number, which is within any bounds."""
        angle = float(super().convert(value, param, ctx))
        if not isfinite(angle):
            self.fail(f"{value!r} is no angle", param, ctx)
        return angle


class OutputFile(click.Path):
    """A file to write whose suffix, in any case, is one of a few."""

    def __init__(self, *suffixes: str) -> None:
        super().__init__(dir_okay=False, path_type=Path)
        self.suffixes = suffixes

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        """Refuse another suffix, and a folder that is not there."""
        path = Path(str(super().convert(value, param, ctx)))
        if path.suffix.lower() not in self.suffixes:
            self.fail(f"{str(path)!r} must end in {named(self.suffixes)}.", param, ctx)
        if not path.parent.is_dir():
            self.fail(f"there is no folder {str(path.parent)!r}.", param, ctx)
        return path


def output_option(help: str, *suffixes: str, required: bool = True) -> Callable[[Any], Any]:
    """Return ``-o FILE``, of one of the suffixes."""
    kind = OutputFile(*suffixes)
    return click.option("-o", "--output", type=kind, required=required, metavar="FILE", help=help)


scene_argument = click.argument("scene", metavar="SCENE")
"""One scene file, or ``-`` for standard input."""

scenes_argument = click.argument("scenes", metavar="SCENE...", nargs=-1, required=True)
"""One or more scene files; ``-`` is standard input."""

_set_option = click.option(
    "--set",
    "settings",
    type=Setting(),
    multiple=True,
    metavar="KEY=VALUE",
    help="Change a measurement of the scene, such as slab.width='29 7/8'. Can be repeated.",
)

_CURE = "--cure"
_cure_option = click.option(
    _CURE,
    type=click.IntRange(min=1),
    metavar="N",
    help="Take the scene as cured by the cure of that number, as swingcheck check counts them.",
)


def set_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command ``--set`` and ``--cure``; what either changes comes to it as settings."""

    @_set_option
    @_cure_option
    @wraps(command)
    def set_first(*, settings: Settings, cure: int | None, **options: Any) -> Any:
        if cure is not None:
            settings += _cured(options, settings, cure)
        try:
            return command(settings=settings, **options)
        except GeometryError as error:
            raise of_file(error, ", ".join(_named(options))) from error

    return set_first


def _cured(options: Mapping[str, Any], settings: Settings, number: int) -> Settings:
    """Return what a cure sets, of the one scene that a command was given."""
    named = _named(options)
    if len(named) > 1 or not _is_scene(Path(named[0])):
        raise click.BadParameter("takes one scene file.", param_hint=_CURE)
    found = sc.cures(sc.read(named[0], settings))
    if number > len(found):
        told = f"has only {counted(len(found), 'cure')}" if found else "has no cures"
        raise click.BadParameter(f"{named[0]} {told}.", param_hint=_CURE)
    click.echo(f"Note: as cured: {found[number - 1].words}", err=True)
    return found[number - 1].settings


def _named(options: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the files that a command was given."""
    return tuple(options.get("scenes") or (options.get("scene") or options["job"],))


def of_file(error: GeometryError, file: str) -> SceneError:
    """Return what a scene's sizes leave nothing of, its file named."""
    return SceneError(file, [Problem(key=error.what, value="", expected=error.reason)])


def _is_scene(path: Path) -> bool:
    return path.is_file() and path.suffix.lower() != ".csv"


unit_option = click.option(
    "--unit",
    type=click.Choice(["in", "mm"]),
    help="Report inches or millimetres; the scene's own unit when left out.",
)

json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of text.")


def _address(_: click.Context, option: click.Parameter, value: str | None) -> str:
    if value is not None and not value.strip():
        raise click.BadParameter("an address is tcp://HOST:PORT", param=option)
    return value or ""


cluster_option = click.option(
    "--cluster",
    callback=_address,
    metavar="ADDRESS",
    help="Hand the work to a running Dask scheduler, such as tcp://192.0.2.7:8786.",
)

full_option = click.option(
    "--full", is_flag=True, help="Swing every variant in full 3D, even where a plan would do."
)


def reads_scene(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command SCENE and ``--set``; it is called with the scene that they make."""

    @scene_argument
    @set_option
    @wraps(command)
    def reading(*, scene: str, settings: Settings, **options: Any) -> Any:
        return command(sc.read(scene, settings), **options)

    return reading


def reports(command: Callable[..., tuple[Any, Exit]]) -> Callable[..., Exit]:
    """Give a command ``--unit`` and ``--json``; what it returns is printed so."""

    @unit_option
    @json_option
    @wraps(command)
    def reporting(*scene: sc.Scene, unit: str | None, as_json: bool, **options: Any) -> Exit:
        answer, code = command(*scene, **options)
        show(answer, unit, as_json)
        return code

    return reporting
