"""Settings for every test: repeatable property tests, and no 3D still where none can be drawn."""

from __future__ import annotations

import os
import signal
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "repeatable",
    derandomize=True,
    deadline=None,
    max_examples=25,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("thorough", parent=settings.get_profile("default"), deadline=None)
settings.load_profile("repeatable")

# Every processor has a test of its own: more threads for a small product only wait for each other.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# What many processes import is compiled once, outside the tree, even where none may be kept in it.
if os.environ.pop("PYTHONDONTWRITEBYTECODE", ""):
    os.environ.setdefault(
        "PYTHONPYCACHEPREFIX", str(Path(tempfile.gettempdir(), "swingcheck_bytecode"))
    )

# A run started in the background is deaf to Ctrl-C, and so would be what it starts.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Run one process more than there are processors: many tests wait for a process or a page."""
    return (os.cpu_count() or 1) + 1


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip what draws a 3D still where no GL renderer works, with the reason."""
    drawing = [item for item in items if item.get_closest_marker("gl")]
    if not drawing:
        return
    from swingcheck.errors import RenderError
    from swingcheck.render.still.gl import gl_window

    try:
        gl_window()
    except RenderError as error:
        for item in drawing:
            item.add_marker(pytest.mark.skip(reason=str(error)))


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Yield one browser for every test of a process that opens a page."""
    from tests.browser import windows

    with windows() as found:
        yield found
