"""Pixels to a small PNG file."""

from __future__ import annotations

from io import BytesIO
from typing import Any

COLOURS = 256
WHITE = 253
"""The palette is averages: what comes this near to full is full, so that paper stays white."""


def palette_png(pixels: Any, dots: float | None = None) -> bytes:
    """Return a (height, width, 3 or 4) uint8 picture as a PNG with its 256 best colours.

    ``dots`` is how many of its pixels make an inch, where that is to be told.

    A line drawing has few colours: this is a third of the size, and no eye
    tells it from the full picture.
    """
    import numpy as np
    from PIL import Image

    picture = Image.fromarray(np.ascontiguousarray(np.asarray(pixels)[:, :, :3]))
    few = picture.quantize(COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    palette = [255 if value >= WHITE else value for value in few.getpalette() or []]
    corner = few.getpixel((0, 0))
    if picture.getpixel((0, 0)) == (255, 255, 255) and isinstance(corner, int):
        palette[3 * corner : 3 * corner + 3] = [255] * 3
    few.putpalette(palette)
    written = BytesIO()
    size = {} if dots is None else {"dpi": (dots, dots)}
    few.save(written, "png", optimize=True, **size)
    return written.getvalue()
