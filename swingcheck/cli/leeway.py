"""``swingcheck leeway``: how far any free dimension can go."""

from __future__ import annotations

from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import Settings, reports, scene_argument, set_option
from swingcheck.cli.output import Exit


@click.command(name="leeway")
@click.argument("keys", metavar="[KEY]...", nargs=-1)
@scene_argument
@set_option
@reports
def command(keys: tuple[str, ...], scene: str, settings: Settings) -> tuple[Any, Exit]:
    """Say how far a dimension can go before the slab no longer swings as wanted.

    KEY is a dimension that is still free, such as slab.strike_edge.bevel or
    hinge.jamb.depth; without one, those that the scene has are listed. SCENE
    is a scene file, or - for standard input. Exits with 0 when every KEY has a
    value that works, 1 when one has none, and 2 when the scene cannot be read.
    """
    words = (*keys, scene)  # the scene may stand anywhere if it is plain which it is
    files = [word for word in words if word == "-" or word.endswith(".toml")]
    scene = files[0] if len(files) == 1 else words[-1]
    keys = tuple(word for word in words if word != scene)
    read = sc.read(scene, settings)
    if not keys:
        return sc.measurements(read), Exit.YES
    found = [sc.leeway(read, key) for key in keys]
    return found, Exit.YES if all(each.window.works for each in found) else Exit.NO
