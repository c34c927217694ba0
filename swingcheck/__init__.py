"""swingcheck: a 3D fit simulator for a door slab swinging past its stops.

As a library it is a handful of functions, one for each question::

    import swingcheck as sc

    scene = sc.read("door.toml")
    found = sc.check(scene)
    print(found.verdict, [cure.words for cure in sc.cures(scene)])
    print(sc.text(sc.setback(scene.with_({"slab.thickness": "1 3/4"}))))

Lengths are inches and angles radians, whatever the scene's file is in; what is
read off a tape is given as it is written there (``"29 13/16"``, ``"3 mm"``).
Everything that is refused is a :class:`SwingcheckError`. The names stand in
``__init__.pyi``, where a type checker reads them too; nothing is imported before it
is used.
"""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path
from typing import Any

from swingcheck.version import __version__ as __version__

_OFFERED = Path(__file__).with_suffix(".pyi").read_text("utf-8")
_HOMES = {
    name: home
    for home, name in re.findall(r"^from (\S+) import (\w+)", _OFFERED, re.MULTILINE)
    if name != "__version__"
}
"""Every name that the library offers, and its module."""

__all__ = ["__version__", *sorted(_HOMES)]


def __getattr__(name: str) -> Any:
    """Return what a name stands for, imported the first time it is asked for."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOMES})
