"""A progress bar for work that takes a while: on a terminal, and only once it does."""

from __future__ import annotations

import sys
from contextlib import AbstractContextManager
from time import monotonic
from types import TracebackType
from typing import Any

import click

PATIENCE = 1.0
"""Seconds before a bar is drawn."""

PARTS = 1000


class Progress(AbstractContextManager["Progress"]):
    """Called with what is being worked out and how much of it is done, 0 to 1.

    Draws on standard error, and nothing where that is no terminal.
    """

    def __init__(self) -> None:
        self._begun = monotonic()
        self._what = ""
        self._bar: Any = None

    def __call__(self, what: str, share: float) -> None:
        """Draw how far it is."""
        if not sys.stderr.isatty() or monotonic() - self._begun < PATIENCE:
            return
        if self._bar is None or what != self._what:
            self._close()
            self._what = what
            self._bar = click.progressbar(length=PARTS, label=what.capitalize(), file=sys.stderr)
            self._bar.__enter__()
        self._bar.update(round(share * PARTS) - self._bar.pos)

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
