"""What a command leaves behind: a report, files that are whole, an exit code; and how far it is."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from enum import IntEnum
from functools import partial
from pathlib import Path
from time import monotonic
from typing import Any

import click

import swingcheck as sc
from swingcheck.files import write_whole

OUTPUT = "'-o' / '--output'"

PAGE_WIDTH = 78
"""Columns of a report where there is no terminal, and the most on one."""

PATIENCE_S = 1.0
"""Seconds before a bar is drawn."""

BAR_PARTS = 1000


class Exit(IntEnum):
    """How a command ends."""

    YES = 0
    NO = 1
    BAD_INPUT = 2
    INTERRUPTED = 130
    BROKEN_PIPE = 141


def show(answer: Any, unit: str | None, as_json: bool, *, indent: int | None = 2) -> None:
    """Print an answer, or a list of them: in words, or as JSON, of one no list."""
    answers = answer if isinstance(answer, list) else [answer]
    if as_json:
        show_json([sc.plain(each) for each in answers], indent=indent)
    else:
        texts = [sc.text(each, unit=unit, width=page_width()) for each in answers]
        click.echo("\n\n".join(texts))


def show_json(data: Sequence[Any], *, indent: int | None = 2) -> None:
    """Print plain data as JSON: one as it is, several as an array."""
    import json

    click.echo(json.dumps(data if len(data) != 1 else data[0], indent=indent, allow_nan=False))


def page_width() -> int:
    """Return the columns to fill: the terminal's up to a page, a page where there is none."""
    if not sys.stdout.isatty():
        return PAGE_WIDTH
    return min(shutil.get_terminal_size((PAGE_WIDTH, 24)).columns, PAGE_WIDTH)


def named(words: Sequence[str]) -> str:
    """Return words as a choice.

    Examples
    --------
    >>> named([".png", ".svg", ".pdf"]), named([".pdf"])
    ('.png, .svg or .pdf', '.pdf')
    """
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def refuse_to_overwrite(file: str, what_then: str) -> None:
    """Refuse a file that is there already, and say what to do; ``-`` never is."""
    if file != "-" and os.path.exists(file):
        raise click.UsageError(f"{file} is there already: {what_then}.")


def write_to_fill_in(file: str, content: str, command: str) -> None:
    """Write what is to be filled in, ``-`` on standard output, and say what comes then."""
    if file == "-":
        click.echo(content, nl=False)
        return
    write_whole(Path(file), content)
    click.echo(f"Wrote {file}. Fill it in, then: swingcheck {command} {file}", err=True)


@contextmanager
def doors_told() -> Iterator[dict[str, Any]]:
    """Yield what :func:`swingcheck.house` tells how far it is: on standard error.

    Sentences as they come, and a bar where that is a terminal.
    """
    bars: list[Any] = []
    with ExitStack() as held:

        def watch(done: int, count: int) -> None:
            if not bars and done < count and sys.stderr.isatty():
                bar = click.progressbar(length=count, label="Doors", file=sys.stderr, show_pos=True)
                bars.append(held.enter_context(bar))
            for bar in bars:
                bar.update(done - bar.pos)

        yield {"say": partial(click.echo, err=True), "watch": watch}


@contextmanager
def progress() -> Iterator[Callable[[str, float], None]]:
    """Yield what is called with what is being worked out and how much of it is done, 0 to 1.

    It draws a bar on standard error once it takes a while, and nothing where that
    is no terminal.
    """
    begun = monotonic()
    bars: dict[str, Any] = {}
    with ExitStack() as held:

        def watch(what: str, share: float) -> None:
            if not sys.stderr.isatty() or monotonic() - begun < PATIENCE_S:
                return
            if what not in bars:
                held.close()
                bars.clear()
                bar = click.progressbar(length=BAR_PARTS, label=what.capitalize(), file=sys.stderr)
                bars[what] = held.enter_context(bar)
            bars[what].update(round(share * BAR_PARTS) - bars[what].pos)

        yield watch
