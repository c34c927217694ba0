"""Run swingcheck as ``swingcheck`` or ``python -m swingcheck``."""

from __future__ import annotations

import os
import signal
from typing import Any, NoReturn


def _stopped(*_: Any) -> NoReturn:
    """End at once: what is half imported cannot be left in order."""
    os.write(2, b"stopped\n")
    os._exit(130)


def run() -> None:
    """Run the command line, deaf to nothing: Ctrl-C ends it from the first import on."""
    signal.signal(signal.SIGINT, _stopped)
    from swingcheck.cli import main

    main()


if __name__ == "__main__":
    run()
