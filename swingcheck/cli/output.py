"""What a command leaves behind: a report, files that are whole, an exit code; and how far it is."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager
from enum import IntEnum
from functools import partial
from pathlib import Path
from time import monotonic
from types import TracebackType
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


class Progress(AbstractContextManager["Progress"]):
    """Called with what is being worked out and how much of it is done, 0 to 1.

    Draws a bar on standard error once it takes a while, and nothing where that
    is no terminal.
    """

    def __init__(self) -> None:
        self._begun = monotonic()
        self._what = ""
        self._bar: Any = None

    def __call__(self, what: str, share: float) -> None:
        """Draw how far it is."""
        if not sys.stderr.isatty() or monotonic() - self._begun < PATIENCE_S:
            return
        if self._bar is None or what != self._what:
            self._close()
            self._what = what
            label = what.capitalize()
            self._bar = click.progressbar(length=BAR_PARTS, label=label, file=sys.stderr)
            self._bar.__enter__()
        self._bar.update(round(share * BAR_PARTS) - self._bar.pos)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End the line of the bar."""
        self._close()

    def _close(self) -> None:
        if self._bar is not None:
            self._bar.__exit__(None, None, None)
            self._bar = None
