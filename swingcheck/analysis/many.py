"""Many scenes checked, several at once in processes of their own."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from threading import Thread

from swingcheck.analysis.check import check
from swingcheck.analysis.result import CheckResult
from swingcheck.errors import GeometryError, SwingcheckError
from swingcheck.model import Scene

ALONE = 3
"""With no more openings than this, starting another process takes longer than it saves."""


class WorkerLostError(SwingcheckError, RuntimeError):
    """A process that was checking openings is gone; what it had found is not."""

    def __str__(self) -> str:
        return "a process that checked openings was ended from outside: run the same again"


def processors() -> int:
    """Return how many processors this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def checks(
    scenes: Sequence[Scene], *, processes: int
) -> Iterator[tuple[int, CheckResult | GeometryError]]:
    """Yield the place and the check of every scene, as soon as each is found.

    A scene whose sizes leave nothing of a part gives the error that says so.
    When the caller stops early, nothing that was not begun is checked.

    Parameters
    ----------
    scenes : sequence of Scene
        In any order; what is yielded is in no order.
    processes : int
        How many at once; one does it in this process.

    Raises
    ------
    WorkerLostError
        When a process was ended from outside.
    """
    if processes <= 1 or len(scenes) <= ALONE:
        for place, scene in enumerate(scenes):
            yield place, _check_or_error(scene)
        return
    pool = ProcessPoolExecutor(
        max_workers=min(processes, len(scenes)),
        mp_context=get_context("spawn"),
        initializer=_serve_parent_alone,
    )
    try:
        places: dict[Future[CheckResult | GeometryError], int] = {
            pool.submit(_check_or_error, scene): place for place, scene in enumerate(scenes)
        }
        for done in as_completed(places):
            yield places.pop(done), done.result()
    except BrokenProcessPool:
        raise WorkerLostError from None
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _check_or_error(scene: Scene) -> CheckResult | GeometryError:
    try:
        return check(scene)
    except GeometryError as error:
        return error


def _serve_parent_alone() -> None:
    """Leave Ctrl-C to the parent, and end as soon as the parent does, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    assert parent is not None
    wait([parent.sentinel])
    os._exit(1)
