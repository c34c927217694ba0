"""How tests run a command, in this process or in one of its own, and the closet they run it on."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from swingcheck.cli import main

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
rabbet = "1 7/16"
[slab]
width = "29 7/8"
height = "79 3/4"
thickness = "1 3/8"
hinge_edge = { bevel = 2 }
strike_edge = { bevel = 2 }
material = "red oak"
construction = "stile and rail"
[hinge]
jamb = { setback = "5/16" }
slab = { setback = "1/4" }
"""
"""A closet that swings; the fixture ``closet`` has it in a file."""

PINCHED = ("--set", "hinge.jamb.setback=1/4", "--set", "hinge.slab.setback=5/16")
"""What makes the closet pinch on its hinge stop."""

JOB = """\
door,opening width,opening height,slab width,jamb setback,slab setback
Closet,30 1/8,80 1/2,29 7/8,5/16,1/4
Pantry,30 1/8,80 1/2,29 7/8,1/4,5/16
"""
"""A schedule of one door that swings and one that pinches; the fixture ``job`` has it in a file."""


def run(*args: object, text: str | None = None) -> Result:
    """Run swingcheck in this process."""
    return CliRunner().invoke(main, [str(arg) for arg in args], input=text)


def data(*args: object, text: str | None = None) -> Any:
    """Return what a command prints with ``--json``."""
    return json.loads(run(*args, "--json", text=text).stdout)


def flat(result: Result) -> str:
    """Return what a command printed on one line."""
    return " ".join(result.stdout.split())


def refused(result: Result, *said: str) -> None:
    """Hold a command to have refused its input: a message with these parts, and exit code 2."""
    assert result.exit_code == 2, result.output
    assert isinstance(result.exception, SystemExit)
    words = " ".join(result.stderr.split())
    assert [part for part in said if part not in words] == [], words
    assert "Traceback" not in words and result.stdout == ""


def started(*args: object, **options: Any) -> subprocess.Popen[bytes]:
    """Start swingcheck in a process of its own, its output and errors in pipes."""
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    words = [sys.executable, "-m", "swingcheck", *map(str, args)]
    return subprocess.Popen(words, **(pipes | options))


def gone(pid: int) -> bool:
    """Tell whether a process has ended, a zombie that nobody has asked after too."""
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="ascii").split()[2] == "Z"
    except OSError:
        return True
