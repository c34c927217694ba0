"""Work shared out over the cores of this machine, or over a cluster.

What goes wrong in a worker is raised here, with its own type: an answer that
is missing is never taken for 'no contact'.
"""

from __future__ import annotations

import logging
import os
import signal
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from importlib.metadata import PackageNotFoundError, version
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.connection import wait
from queue import SimpleQueue
from threading import Thread
from typing import Any, TypeVar

from swingcheck.errors import MissingExtraError, WorkError
from swingcheck.version import __version__

Task = TypeVar("Task")
Answer = TypeVar("Answer")

SCHEDULER_PATIENCE_S = 10.0
"""How long a cluster's scheduler may take to answer, seconds."""

ALONE = 3
"""No more tasks than this are done sooner in this process than another is started."""

GONE = "its scheduler is gone, and what was not answered with it: run the same again"

LOST = "it was ended from outside before its work was done: run the same again"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Where work is done.

    ``cores`` is how many of this machine's are used, all when ``None``;
    ``cluster`` the address of a running Dask scheduler that is used instead,
    such as ``tcp://192.0.2.7:8786``.
    """

    cores: int | None = None
    cluster: str = ""


HERE = Spread(cores=1)
"""In this process, one task after the other."""


def answers(
    work: Callable[[Task], Answer], tasks: Sequence[Task], spread: Spread = HERE
) -> Iterator[Answer]:
    """Yield what ``work`` makes of each task, in their order; see :func:`answers_as_found`."""
    return (answer for _, answer in _shared_out(work, tasks, spread, in_order=True))


def answers_as_found(
    work: Callable[[Task], Answer], tasks: Sequence[Task], spread: Spread = HERE
) -> Generator[tuple[int, Answer], None, None]:
    """Yield the place of each task and what ``work`` makes of it, as soon as it is found.

    When the generator is closed, nothing that was not begun is done. Raises
    MissingExtraError where a cluster is asked for and Dask is not installed; and
    WorkError where a worker died, or the cluster cannot be reached or cannot run
    swingcheck. Whatever ``work`` itself raises is raised as it is.

    ``work`` is a function of a module, so that another process can find it, and is called
    with one of the ``tasks`` after the other, which must pickle.
    """
    return _shared_out(work, tasks, spread, in_order=False)


def _shared_out(
    work: Callable[[Task], Answer], tasks: Sequence[Task], spread: Spread, *, in_order: bool
) -> Generator[tuple[int, Answer], None, None]:
    cores = min(spread.cores or usable_cores(), len(tasks))
    if spread.cluster:
        yield from _over_cluster(work, tasks, spread.cluster, in_order)
    elif cores > 1 and len(tasks) > ALONE:
        yield from _over_cores(work, tasks, cores, in_order)
    else:
        yield from enumerate(map(work, tasks))


def usable_cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _over_cores(
    work: Callable[[Task], Answer], tasks: Sequence[Task], cores: int, in_order: bool
) -> Generator[tuple[int, Answer], None, None]:
    before = set(active_children())
    pool = ProcessPoolExecutor(
        cores, mp_context=get_context("spawn"), initializer=_serve_parent_alone
    )
    # Waited for in a queue: an interrupt while futures are waited for may leave them locked.
    done: SimpleQueue[tuple[int, Future[Answer]]] = SimpleQueue()
    ready: dict[int, Future[Answer]] = {}
    finished = False
    try:
        with _deaf_to_interrupt():
            for place, task in enumerate(tasks):
                future = pool.submit(work, task)
                future.add_done_callback(partial(_put, done, place))
        for turn in range(len(tasks)):
            while not ready or (in_order and turn not in ready):
                place, future = done.get()
                ready[place] = future
            place = turn if in_order else next(iter(ready))
            yield place, ready.pop(place).result()
        finished = True
    except BrokenProcessPool as error:
        raise WorkError("a worker process", LOST) from error
    finally:
        if not finished:
            for worker in set(active_children()) - before:
                worker.terminate()
        pool.shutdown(wait=finished, cancel_futures=True)


def _put(done: SimpleQueue[tuple[int, Future[Answer]]], place: int, future: Future[Answer]) -> None:
    done.put((place, future))


@contextmanager
def _deaf_to_interrupt() -> Iterator[None]:
    """Hold Ctrl-C back, for this process until the end of it and for those begun in it for good.

    What it means is for the process that shares out the work.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _serve_parent_alone() -> None:
    """Leave Ctrl-C to the parent, and end as soon as the parent does, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    assert parent is not None
    wait([parent.sentinel])
    os._exit(1)


def _over_cluster(
    work: Callable[[Task], Answer], tasks: Sequence[Task], address: str, in_order: bool
) -> Generator[tuple[int, Answer], None, None]:
    client, as_done, killed = _client(address)
    try:
        _alike_or_refused(client, address)
        futures = client.map(work, tasks, pure=False)
        places = {future.key: place for place, future in enumerate(futures)}
        try:
            for future in futures if in_order else as_done(futures):
                yield places[future.key], future.result()
        except killed as error:
            raise WorkError(f"the cluster at {address}", "its workers died at it") from error
        except (CancelledError, OSError) as error:
            raise WorkError(f"the cluster at {address}", GONE) from error
        finally:
            if client.status == "running":
                client.cancel(futures)
    finally:
        client.close()


def _client(address: str) -> tuple[Any, Any, type[Exception]]:
    """Return a scheduler's client, what waits for its work, and what is raised if workers die."""
    try:
        from distributed import Client, KilledWorker
        from distributed import as_completed as as_done
    except ImportError as error:
        raise MissingExtraError("cluster", "runs on a cluster") from error
    for name in ("distributed", "distributed.client"):
        logging.getLogger(name).setLevel(logging.CRITICAL)  # what goes wrong is told here
    scheme, parted, _ = address.rpartition("://")
    if parted and scheme not in ("tcp", "tls"):
        raise WorkError(f"the cluster at {address}", "an address is tcp://HOST:PORT")
    try:
        client = Client(address, timeout=SCHEDULER_PATIENCE_S, set_as_default=False)
    except (OSError, ValueError) as error:
        reason = str(error) or f"no scheduler answered within {SCHEDULER_PATIENCE_S:g} s"
        raise WorkError(f"the cluster at {address}", reason) from error
    return client, as_done, KilledWorker


def _alike_or_refused(client: Any, address: str) -> None:
    """Refuse a cluster without workers, or with another swingcheck than this one.

    Work is handed over by name: a worker that does not find it never answers.
    """
    try:
        found = {*client.run(version, "swingcheck").values()}
        if not found:
            raise WorkError(f"the cluster at {address}", "it has no workers")
        found.add(client.run_on_scheduler(version, "swingcheck"))
    except PackageNotFoundError:
        reason = "swingcheck is not installed on its scheduler and all its workers"
        raise WorkError(f"the cluster at {address}", reason) from None
    if found != {__version__}:
        reason = f"it has swingcheck {', '.join(sorted(found))}, and this is {__version__}"
        raise WorkError(f"the cluster at {address}", reason)
