"""What every benchmark shares: the median time of a call, and a table of times and ratios."""

from __future__ import annotations

import platform
import time
from collections.abc import Callable, Sequence
from importlib.metadata import version
from statistics import median
from typing import TypeVar

Answer = TypeVar("Answer")


def median_seconds(call: Callable[[], Answer], *, times: int) -> tuple[float, Answer]:
    """Return the median time of a call after a first one that is not counted, and its answer."""
    answer = call()
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        answer = call()
        taken.append(time.perf_counter() - begin)
    return median(taken), answer


def machine(*packages: str) -> str:
    """Return what the numbers depend on, in one line."""
    versions = ", ".join(f"{name} {version(name)}" for name in packages)
    return f"Python {platform.python_version()}, {versions}, {platform.machine()}"


def table(title: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return a table in plain text, the first column flush left, the others right."""
    widths = [max(len(row[k]) for row in (heads, *rows)) for k in range(len(heads))]
    lines = [title]
    for row in (heads, *rows):
        cells = [row[0].ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True)]
        lines.append("  " + "  ".join(cells))
    return "\n".join(lines)
