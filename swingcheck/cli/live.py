"""``swingcheck live``: a scene with dials, in a browser on this machine."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from swingcheck.cli.options import Settings, scene_argument, set_option

PUT_DOWN_S = 0.5
"""Seconds after Ctrl-C in which the last answer may be worked out to its end."""


@click.command(name="live")
@scene_argument
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    metavar="N",
    help="Serve at this port; any that is free when left out.",
)
@click.option("--open", "open_it", is_flag=True, help="Open the page in a browser.")
@set_option
def command(scene: str, port: int, open_it: bool, settings: Settings) -> None:
    """Serve a page whose dials change the slab as you watch.

    Setback, depth, bevel, width, thickness and head margin, each checked again
    at every turn; the scene as dialled can be saved beside SCENE as a new
    file. Only this machine can reach the page. Ctrl-C stops.
    """
    from swingcheck.live import Session, server

    session = Session(Path(scene), settings)
    try:
        served = server(session, port)
    except OSError as error:
        raise click.BadParameter(
            f"cannot serve at port {port}: {error.strerror}", param_hint="'--port'"
        ) from error
    click.echo(f"{served.address} - Ctrl-C stops")
    if open_it:
        click.launch(served.address)
    with served:
        try:
            served.serve_forever()
        except KeyboardInterrupt:
            click.echo()
            # What is still worked out would be torn down half way, and be heard of.
            if not served.desk.close(PUT_DOWN_S):
                sys.stdout.flush()
                os._exit(0)
