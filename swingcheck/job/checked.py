"""Many scenes checked, several at once in processes of their own."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Generator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from threading import Thread
from typing import TypeVar

from swingcheck.advice.answer import Answer, answered
from swingcheck.errors import GeometryError, SwingcheckError
from swingcheck.model import Scene

_Item = TypeVar("_Item")
_Result = TypeVar("_Result")

ALONE = 3
"""With no more items than this, starting another process takes longer than it saves."""


class WorkerLostError(SwingcheckError, RuntimeError):
    """A process that was at work is gone; what it had found is not."""

    def __str__(self) -> str:
        return "a process of this run was ended from outside: run the same again"


def processors() -> int:
    """Return how many processors this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def checks(
    scenes: Sequence[Scene], *, processes: int
) -> Generator[tuple[int, Answer | GeometryError], None, None]:
    """Yield the place and the check of every scene, as soon as each is found.

    A scene whose sizes leave nothing of a part gives the error that says so.
    See `results_of`.
    """
    return results_of(_check_or_error, scenes, processes=processes)


def results_of(
    function: Callable[[_Item], _Result], items: Sequence[_Item], *, processes: int
) -> Generator[tuple[int, _Result], None, None]:
    """Yield the place of every item and what a function returns for it, as soon as it has.

    When the generator is closed, nothing that was not begun is done.

    Parameters
    ----------
    function : callable
        Of a module, so that another process can be told of it.
    items : sequence
        In any order; what is yielded is in no order.
    processes : int
        How many at once; one does it in this process.

    Raises
    ------
    WorkerLostError
        When a process was ended from outside.
    """
    if processes <= 1 or len(items) <= ALONE:
        for place, item in enumerate(items):
            yield place, function(item)
        return
    pool = ProcessPoolExecutor(
        max_workers=min(processes, len(items)),
        mp_context=get_context("spawn"),
        initializer=_serve_parent_alone,
    )
    try:
        places: dict[Future[_Result], int] = {
            pool.submit(function, item): place for place, item in enumerate(items)
        }
        for done in as_completed(places):
            yield places.pop(done), done.result()
    except BrokenProcessPool:
        raise WorkerLostError from None
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _check_or_error(scene: Scene) -> Answer | GeometryError:
    try:
        return answered(scene)
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
