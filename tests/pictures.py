"""Reading pictures back: their pixels, their colours, and the words on them."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
from PIL import Image

from swingcheck.model import Scene
from swingcheck.render.pen.page import figure_bytes
from swingcheck.render.pen.subject import Subject, subject_of
from swingcheck.swing.check import check

TIGHT = {"hinge__jamb__setbacks": (0.28125,) * 3, "hinge__slab__setbacks": (0.3125,) * 3}
"""The slab set 1/32 past the hinge stop: it pinches."""


def shown(scene: Scene, angle: float | None = None, caption: str = "") -> Subject:
    """Return what a picture of a scene shows, under its verdict's word."""
    found = check(scene)
    words = caption or f"{scene.title}: {found.verdict.value.upper()}"
    return subject_of(found, words, angle)


def pixels(drawn: bytes | Any, width: int = 1000) -> np.ndarray:
    """Return a PNG's pixels, or a figure's so many of them wide."""
    png = drawn if isinstance(drawn, bytes) else figure_bytes(drawn, "png", width)
    return np.array(Image.open(io.BytesIO(png)).convert("RGB"), dtype=int)


def colour_of(code: str) -> np.ndarray:
    return np.array([int(code[k : k + 2], 16) for k in (1, 3, 5)])


def painted(picture: np.ndarray, code: str) -> np.ndarray:
    """Return where a picture has a colour, as (row, column) of every such pixel."""
    return np.argwhere(np.abs(picture - colour_of(code)).sum(axis=2) < 24)


def words_on(figure: Any) -> list[tuple[str, Any]]:
    """Return every line of text on a figure with its box in pixels."""
    from matplotlib.text import Text

    renderer = figure.canvas.get_renderer()
    written = [text for text in figure.findobj(Text) if text.get_text().strip()]
    return [(text.get_text(), text.get_window_extent(renderer)) for text in written]


def misplaced(figure: Any) -> list[str]:
    """Return each line of text that leaves the figure or covers another."""
    written = words_on(figure)
    width, height = figure.bbox.width, figure.bbox.height
    faults = [
        f"{words!r} leaves the sheet"
        for words, box in written
        if box.x0 < 0 or box.y0 < 0 or box.x1 > width or box.y1 > height
    ]
    for k, (words, box) in enumerate(written):
        for other, under in written[:k]:
            apart = box.x0 >= under.x1 or under.x0 >= box.x1
            if not apart and box.y0 < under.y1 and under.y0 < box.y1:
                faults.append(f"{words!r} covers {other!r}")
    return faults
