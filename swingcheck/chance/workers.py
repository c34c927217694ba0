"""Work shared out over the cores of this machine, or over a cluster; answers in order.

What goes wrong in a worker is raised here, with its own type: an answer that
is missing is never taken for 'no contact'.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from multiprocessing import active_children
from typing import Any, TypeVar

from swingcheck import __version__
from swingcheck.errors import MissingExtraError, WorkError

Task = TypeVar("Task")
Answer = TypeVar("Answer")

SECONDS = 10.0
"""How long a cluster's scheduler may take to answer."""


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
    """Yield what ``work`` makes of each task, in the order of the tasks.

    Parameters
    ----------
    work : callable
        A function of a module, so that another process can find it.
    tasks : sequence
        What it is called with, one after the other; they must pickle.
    spread : Spread
        Where it is done.

    Raises
    ------
    MissingExtraError
        Where a cluster is asked for and Dask is not installed.
    WorkError
        Where a worker died, or the cluster cannot be reached or cannot run
        swingcheck. Whatever ``work`` itself raises is raised as it is.
    """
    if spread.cluster:
        return _over_cluster(work, tasks, spread.cluster)
    cores = min(spread.cores or usable_cores(), len(tasks))
    return _over_cores(work, tasks, cores) if cores > 1 else map(work, tasks)


def usable_cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _over_cores(
    work: Callable[[Task], Answer], tasks: Sequence[Task], cores: int
) -> Iterator[Answer]:
    others = set(active_children())
    pool = ProcessPoolExecutor(cores, initializer=_end_at_interrupt)
    finished = False
    try:
        for future in [pool.submit(work, task) for task in tasks]:
            yield future.result()
        finished = True
    except BrokenProcessPool as error:
        raise WorkError("a worker process", "it ended before its work was done") from error
    finally:
        if not finished:
            for worker in set(active_children()) - others:
                worker.terminate()
        pool.shutdown(wait=False, cancel_futures=True)


def _end_at_interrupt() -> None:
    """End at Ctrl-C without a word: what it means is for the process that shares out the work."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _over_cluster(
    work: Callable[[Task], Answer], tasks: Sequence[Task], address: str
) -> Iterator[Answer]:
    client, killed = _client(address)
    try:
        _alike_or_refused(client, address)
        futures = client.map(work, tasks, pure=False)
        try:
            for future in futures:
                yield future.result()
        except killed as error:
            raise WorkError(f"the cluster at {address}", "its workers died at it") from error
        finally:
            client.cancel(futures)
    finally:
        client.close()


def _client(address: str) -> tuple[Any, type[Exception]]:
    """Return a client of a scheduler, and what it raises where workers die at their work."""
    try:
        from distributed import Client, KilledWorker
    except ImportError as error:
        raise MissingExtraError("cluster", "runs on a cluster") from error
    scheme, parted, _ = address.rpartition("://")
    if parted and scheme not in ("tcp", "tls"):
        raise WorkError(f"the cluster at {address}", "an address is tcp://HOST:PORT")
    try:
        client = Client(address, timeout=SECONDS, set_as_default=False)
    except (OSError, ValueError) as error:
        reason = str(error) or f"no scheduler answered within {SECONDS:g} s"
        raise WorkError(f"the cluster at {address}", reason) from error
    return client, KilledWorker


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
