"""The command line; one file a command.

A command is a module ``swingcheck.cli.<name>`` with a click command called
``command``, which asks the library as any other user of it does and returns an
exit code, and one line in :data:`COMMANDS`. The module is imported when its
command runs, and not for the list of commands: numpy, meshes and pictures cost
nothing until they are asked for.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from importlib import import_module
from typing import Any

import click

from swingcheck import __version__
from swingcheck.cli.interrupt import listen
from swingcheck.cli.output import Exit
from swingcheck.errors import SwingcheckError

COMMANDS = {
    "check": "Say whether the slab swings shut, and what is in its way.",
    "setback": "Say where to set the jig: the setbacks that work, and which one to take.",
    "bevel": "Say the least bevel of each edge, and the strike margin that a bevel asks for.",
    "leeway": "Say how far a dimension can go before the slab no longer swings as wanted.",
    "risk": "Say how likely the slab is to swing, and which error decides.",
    "vary": "Map what the slab does as one or two dimensions change.",
    "new": "Write a starter scene to fill in at the opening.",
    "picture": "Draw the slab in its opening at an angle.",
    "film": "Film the swing, slowing down as it nears contact.",
    "page": "Write a page that swings the slab under a finger.",
    "live": "Serve a page whose dials change the slab as you watch.",
    "mesh": "Write the slab, jamb and stops as a mesh file, every part under its name.",
    "bench": "Give every cut, mark and set-up of one door, in cutting order.",
    "house": "Check every opening of a job: which swing, what to cut, what to order.",
    "card": "Write a page a door for the bench, or templates at true scale.",
}
"""Each command's name and the first line of its help."""


class Commands(click.Group):
    """The commands of :data:`COMMANDS`, imported by name when they run."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return a command, or ``None`` for a name that is not in the table."""
        if cmd_name not in COMMANDS:
            return None
        command = import_module(f"{__name__}.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command; name the nearest one where there is none."""
        name = args[0]
        if name not in COMMANDS and not name.startswith("-"):
            from difflib import get_close_matches

            near = get_close_matches(name, COMMANDS, n=1, cutoff=0.5)
            hint = f"did you mean '{near[0]}'?" if near else f"there are {', '.join(COMMANDS)}."
            ctx.fail(f"No command '{name}': {hint}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the table without importing what it names."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run, printing what the terminal cannot show as question marks.

        Exits with 2 where the answer cannot be printed: nothing was said, so
        nothing may be read off the exit code.
        """
        _open_what_is_closed()
        for stream in (sys.stdout, sys.stderr):
            reconfigure = getattr(stream, "reconfigure", None)
            if reconfigure is not None:
                reconfigure(errors="replace")
        try:
            return super().main(*args, **kwargs)
        except OSError as error:
            with suppress(OSError):
                why = error.strerror or str(error)
                click.echo(f"Error: the answer cannot be printed: {why}", err=True)
            _silence(1)
            _silence(2)
            raise SystemExit(Exit.BAD_INPUT) from None

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; exit with the code that it returns, or for what went wrong."""
        listen()
        try:
            code = super().invoke(ctx) or Exit.YES
        except SwingcheckError as error:
            click.echo(f"Error: {error}", err=True)
            code = Exit.BAD_INPUT
        except KeyboardInterrupt:
            click.echo(err=True)
            code = Exit.INTERRUPTED
        except BrokenPipeError:
            _silence(1)  # no second complaint at exit
            raise SystemExit(Exit.BROKEN_PIPE) from None
        if code == Exit.INTERRUPTED:
            click.echo("stopped", err=True)
        ctx.exit(code)


def _silence(descriptor: int) -> None:
    """Let what is still to be written to an output come to nothing."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), descriptor)


def _open_what_is_closed() -> None:
    """Give a closed input or error output a place of its own, before a file takes it.

    Refuses a closed output: every command answers on it.
    """
    if sys.stdin is None:
        os.open(os.devnull, os.O_RDONLY)  # the lowest that is free: 0
    if sys.stdout is None:
        if sys.stderr is not None:
            click.echo("Error: the answer cannot be printed: standard output is closed", err=True)
        raise SystemExit(Exit.BAD_INPUT)
    if sys.stderr is None:
        sys.stderr = os.fdopen(os.open(os.devnull, os.O_WRONLY), "w")


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="swingcheck", message="%(prog)s %(version)s")
def main() -> None:
    """Swing a door slab past its stops before a router touches it.

    A scene is one TOML file: one opening with its slab, as measured.
    """
