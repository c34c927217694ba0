"""The colours and hatchings of every drawing, as the page's scripts take them."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from swingcheck import palette


def drawing_colours() -> dict[str, Any]:
    """Return the drawing's own colours by name, and the materials by kind of part."""
    return {
        "paper": palette.PAPER,
        "ink": palette.INK,
        "quiet": palette.QUIET,
        "line": palette.FRAME_LINE,
        "contact": palette.CONTACT,
        "seat": palette.SEAT,
        "ghost": palette.GHOST,
        "materials": {kind.value: asdict(each) for kind, each in palette.MATERIALS.items()},
    }
