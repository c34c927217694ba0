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
    """Yield what :func:`swingcheck.house` tells how far it is, in sentences and by a bar."""
    with _bars(0.0, show_pos=True) as watch:
        yield {"say": partial(click.echo, err=True), "watch": partial(watch, "doors")}


@contextmanager
def progress() -> Iterator[Callable[[str, float], None]]:
    """Yield what is called with what is being worked out and how much of it is done, 0 to 1."""
    with _bars(PATIENCE_S) as watch:
        yield lambda what, share: watch(what, round(share * BAR_PARTS), BAR_PARTS)


@contextmanager
def _bars(patience: float, **how: Any) -> Iterator[Callable[[str, int, int], None]]:
    """Yield what draws a bar of what is done, of how much, on standard error.

    Once ``patience`` seconds are over, and nothing where that is no terminal.
    """
    begun = monotonic()
    bars: dict[str, Any] = {}
    with ExitStack() as held:

        def watch(what: str, done: int, count: int) -> None:
            if not sys.stderr.isatty() or monotonic() - begun < patience:
                return
            if what not in bars and done < count:
                held.close()
                bars.clear()
                label = what.capitalize()
                bar = click.progressbar(length=count, label=label, file=sys.stderr, **how)
                bars[what] = held.enter_context(bar)
            if what in bars:
                bars[what].update(done - bars[what].pos)

        yield watch
