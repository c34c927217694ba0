"""Work over processes and over a cluster: the same answers, and no answer taken for another."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import numpy as np
import pytest

from swingcheck.chance.batches import outcome_batches
from swingcheck.chance.measurements import measurement
from swingcheck.chance.vary import over, vary
from swingcheck.chance.workers import HERE, Spread, answers, answers_as_found
from swingcheck.errors import GeometryError, MissingExtraError, WorkError
from tests.commands import gone
from tests.factory import plain_scene

TWO = Spread(cores=2)


def halved(task: int) -> float:
    if task == 13:
        raise GeometryError("slab", "nothing is left of it")
    return task / 2


def late_first(task: int) -> tuple[int, int]:
    time.sleep(0.5 if task == 0 else 0.0)
    return task, os.getpid()


def dying(task: int) -> int:
    if task == 4:
        os._exit(9)
    return task


def sleeping(path: str) -> None:
    with open(path, "a", encoding="utf-8") as file:
        file.write(f"{os.getpid()}\n")
    time.sleep(60)


def test_answers_come_in_order_or_as_they_are_found_and_a_worker_that_is_gone_is_told() -> None:
    found = list(answers(late_first, range(8), TWO))
    assert [task for task, _ in found] == list(range(8))
    assert os.getpid() not in {process for _, process in found}
    assert {process for _, process in answers(late_first, range(1, 9))} == {os.getpid()}
    few = {process for _, process in answers(late_first, range(1, 4), TWO)}
    assert few == {os.getpid()}, "not worth a process"
    assert list(answers(halved, [], TWO)) == []
    with closing(answers_as_found(late_first, range(8), TWO)) as results:
        place, (task, _) = next(results)
    assert place == task != 0
    with pytest.raises(StopIteration):
        next(results)
    with pytest.raises(WorkError, match="ended from outside before its work was done"):
        list(answers_as_found(dying, range(12), TWO))


@pytest.mark.parametrize("spread", [HERE, TWO])
def test_what_a_worker_raises_is_raised_here(spread: Spread) -> None:
    with pytest.raises(GeometryError, match="slab: nothing is left of it"):
        list(answers(halved, range(10, 16), spread))


@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
@pytest.mark.parametrize("end", [signal.SIGKILL, signal.SIGINT])
def test_workers_end_with_who_began_them(tmp_path: Path, end: signal.Signals) -> None:
    """However it ends: killed outright, or by Ctrl-C, which is sent to it alone here."""
    noted = tmp_path / "pids"
    script = tmp_path / "run.py"
    script.write_text(
        "from swingcheck.chance.workers import Spread, answers\n"
        "from tests.unit.test_workers import sleeping\n"
        "if __name__ == '__main__':\n"
        f"    list(answers(sleeping, [{str(noted)!r}] * 6, Spread(cores=2)))\n"
    )
    paths = os.pathsep.join([str(Path(__file__).parents[2]), *sys.path])
    run = subprocess.Popen([sys.executable, str(script)], env={**os.environ, "PYTHONPATH": paths},
                           stderr=subprocess.DEVNULL)  # fmt: skip
    deadline = time.monotonic() + 60
    while not noted.exists() or len(noted.read_text().split()) < 2:
        assert time.monotonic() < deadline and run.poll() is None
        time.sleep(0.1)
    pids = [int(pid) for pid in noted.read_text().split()]
    run.send_signal(end)
    run.wait(timeout=30)
    while not all(map(gone, pids)):
        assert time.monotonic() < deadline + 30
        time.sleep(0.1)


@pytest.fixture(scope="module")
def cluster() -> Iterator[str]:
    """The address of a scheduler with two workers, each a process of its own."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as running:
        yield running.scheduler_address


def test_a_clusters_answers_and_errors_are_the_same_as_here(cluster: str) -> None:
    scene = plain_scene()
    overs = [over(measurement(scene, "hinge.slab.setback", free=False), 1 / 4, 3 / 8, 1 / 64)]
    for full in (False, True):
        here = vary(scene, overs, full=full).outcomes
        there = vary(scene, overs, full=full, spread=Spread(cluster=cluster)).outcomes
        assert np.array_equal(here.verdict, there.verdict)
        assert np.array_equal(here.angle, there.angle, equal_nan=True)
    own = measurement(scene, "slab.thickness", free=False)
    thin = np.array([[1.375], [0.0]])
    with pytest.raises(WorkError, match=r"slab\.thickness = 0 in: "):
        list(outcome_batches(scene, [own], thin, full=True, spread=Spread(cluster=cluster)))


def test_another_swingcheck_and_a_missing_dask_are_named(
    cluster: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("swingcheck.chance.workers.__version__", "99.1")
    with pytest.raises(WorkError, match=r"and this is 99\.1"):
        list(answers(halved, range(3), Spread(cluster=cluster)))
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(MissingExtraError, match=r"pip install 'swingcheck\[cluster\]'"):
        list(answers(halved, range(3), Spread(cluster="tcp://127.0.0.1:8786")))


def test_a_scheduler_that_is_killed_is_told_in_one_line(tmp_path: Path) -> None:
    """In a process of its own, which says nothing besides."""
    pytest.importorskip("distributed")
    file, dask = tmp_path / "scheduler.json", [sys.executable, "-m", "distributed.cli.dask_"]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    own = ["--scheduler-file", str(file), "--no-dashboard"]
    begun = [
        subprocess.Popen([*dask[:2], f"{dask[2]}{kind}", *own, *more], **quiet)
        for kind, more in (
            ("scheduler", ["--host", "127.0.0.1", "--port", "0"]),
            ("worker", ["--nthreads", "1", "--no-nanny"]),
        )
    ]
    script = (
        "import json, os, signal, sys, time\n"
        "from swingcheck.chance.workers import Spread, answers\n"
        "from swingcheck.errors import WorkError\n"
        "while True:\n"
        "    try:\n"
        f"        address = json.load(open({str(file)!r}))['address']\n"
        "        found = answers(time.sleep, [0.0, 60.0, 60.0], Spread(cluster=address))\n"
        "        next(found)\n"
        "        break\n"
        "    except (OSError, ValueError, WorkError):\n"
        "        time.sleep(0.2)\n"
        f"os.kill({begun[0].pid}, signal.SIGKILL)\n"
        "try:\n"
        "    next(found)\n"
        "except WorkError as error:\n"
        "    print(error, file=sys.stderr)\n"
    )
    try:
        run = subprocess.run(
            [sys.executable, "-c", script], capture_output=True, text=True, timeout=120
        )
    finally:
        for each in begun:
            each.kill()
            each.wait()
    assert re.fullmatch(r"the cluster at tcp://\S+: its scheduler is gone.*\n", run.stderr)


@pytest.mark.parametrize(
    ("address", "reason"),
    [
        ("tcp://127.0.0.1:1", "127.0.0.1:1"),
        ("nonsense", "missing port number"),
        ("gopher://127.0.0.1:8786", "an address is tcp://HOST:PORT"),
    ],
)
def test_a_cluster_that_is_not_there_is_told(
    address: str, reason: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("distributed")
    monkeypatch.setattr("swingcheck.chance.workers.SCHEDULER_PATIENCE_S", 0.5)
    with pytest.raises(WorkError, match=f"the cluster at {address}") as refused:
        list(answers(halved, range(3), Spread(cluster=address)))
    assert reason in refused.value.reason
