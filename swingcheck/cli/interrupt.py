"""Ctrl-C while a command runs: an interrupt that waits until what is being imported is whole."""

from __future__ import annotations

import signal
from threading import current_thread, main_thread
from types import FrameType

_AGAIN_S = 0.02
"""Seconds after which an interrupt that waits is looked at again."""


def listen() -> None:
    """Raise KeyboardInterrupt at Ctrl-C from now on, were it ignored before or not."""
    if current_thread() is not main_thread():
        return
    signal.signal(signal.SIGINT, _interrupt)
    if hasattr(signal, "setitimer"):
        signal.signal(signal.SIGALRM, _interrupt)


def _interrupt(_: int, frame: FrameType | None) -> None:
    """Raise, or be called again soon where a module is half imported.

    A native module that is broken off while it is set up may end the process.
    """
    while frame is not None and hasattr(signal, "setitimer"):
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            signal.setitimer(signal.ITIMER_REAL, _AGAIN_S)
            return
        frame = frame.f_back
    raise KeyboardInterrupt
