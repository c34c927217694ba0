"""Options that several commands share, and how their values are read."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from swingcheck.model import Scene


class Setting(click.ParamType):
    """``KEY=VALUE``, as a pair of texts; what they mean is the scene reader's to say."""

    name = "KEY=VALUE"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, str]:
        """Split at the first equals sign."""
        if isinstance(value, tuple):
            return value
        key, equals, setting = str(value).partition("=")
        if not equals or not key.strip():
            self.fail(f"{value!r} is not KEY=VALUE, such as slab.width='29 7/8'", param, ctx)
        return key.strip(), setting.strip()


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


scene_argument = click.argument("scene", metavar="SCENE")
"""One scene file, or ``-`` for standard input."""

scenes_argument = click.argument("scenes", metavar="SCENE...", nargs=-1, required=True)
"""One or more scene files; ``-`` is standard input."""

set_option = click.option(
    "--set",
    "settings",
    type=Setting(),
    multiple=True,
    metavar="KEY=VALUE",
    help="Change a measurement of the scene, such as slab.width='29 7/8'. Can be repeated.",
)

unit_option = click.option(
    "--unit",
    type=click.Choice(["in", "mm"]),
    help="Report inches or millimetres; the scene's own unit when left out.",
)

json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of text.")


def scene_from(path: str, settings: Sequence[tuple[str, str]] = ()) -> Scene:
    """Return the scene of a file, or of standard input for ``-``, with settings laid over it.

    Raises
    ------
    SceneError
        When there is no such file, or it is no scene.
    """
    from swingcheck.scenefile import read_scene

    return read_scene(Path(path), settings=settings)
