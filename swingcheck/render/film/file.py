"""Pictures to a film file: GIF and WebP by Pillow, MP4 by an encoder that is an extra."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from swingcheck.errors import MissingExtraError
from swingcheck.palette import CONTACT, FRAME_LINE, GHOST, INK, MATERIALS, PAPER, QUIET, SEAT
from swingcheck.render.film.stage import Moment

HOW: dict[str, dict[str, Any]] = {
    ".gif": {"format": "GIF"},
    ".webp": {"format": "WEBP", "lossless": True, "quality": 60, "method": 3},
}
"""How Pillow writes a film: of a flat drawing a WebP without loss is smaller than one with.

Where a picture is as the one before it, it stores nothing again.
"""

_NOT_WHOLE = "the encoder wrote no whole film: is the disk full?"

COLOURS = 64
"""Colours of a GIF or WebP, one palette for all its pictures."""


def write_film(
    path: Path, pictures: Iterable[Any], moments: Sequence[Moment], *, rate: float
) -> None:
    """Write pictures as a film of the kind that the path's suffix names.

    The ``path`` ends in ``.gif``, ``.webp`` or ``.mp4``; ``pictures`` (height, width, 3)
    uint8 are one a moment, an MP4 has ``rate`` of them a second, and repeats a longer
    moment's. Raises MissingExtraError where its encoder is not installed; and OSError where
    the file cannot be written.
    """
    suffix = path.suffix.lower()
    if suffix == ".mp4":
        _write_mp4(path, pictures, moments, rate)
        return
    from PIL import Image

    frames = list(pictures)
    durations = [max(round(moment.seconds * 1000), 20) for moment in moments]
    palette = _palette([frames[0], frames[durations.index(max(durations))]])
    images = []
    for frame in frames:
        image = Image.fromarray(_indices(frame, palette))
        image.putpalette(_rgb(palette).tobytes())
        images.append(image if suffix == ".gif" else image.convert("RGB"))
    first, *rest = images
    first.save(path, save_all=True, append_images=rest, duration=durations, loop=0, **HOW[suffix])


def _palette(frames: Sequence[Any]) -> Any:
    """Return the colours to keep, (n,) as one number each.

    The drawings' own, which so come out exactly, and of the blends along
    their lines those that are commonest.
    """
    drawn = [PAPER, INK, QUIET, FRAME_LINE, CONTACT, SEAT, GHOST]
    drawn += [colour for each in MATERIALS.values() for colour in (each.fill, each.line)]
    own = np.unique([int(colour[1:], 16) for colour in drawn])
    colours, counts = np.unique(np.concatenate([_packed(f) for f in frames]), return_counts=True)
    common = colours[np.argsort(-counts, kind="stable")]
    return np.concatenate([own, common[~np.isin(common, own)]])[:COLOURS]


def _indices(frame: Any, palette: Any) -> Any:
    """Return the nearest palette entry of every pixel, (height, width) uint8."""
    colours, place = np.unique(_packed(frame), return_inverse=True)
    away = _rgb(colours).astype(np.int64)[:, None] - _rgb(palette).astype(np.int64)[None]
    nearest = (away**2).sum(axis=2).argmin(axis=1).astype(np.uint8)
    return nearest[place].reshape(frame.shape[:2])


def _packed(frame: Any) -> Any:
    """Return a picture's pixels, (n,), as one number each."""
    red, green, blue = (frame[:, :, k].astype(np.int64).ravel() for k in range(3))
    return red << 16 | green << 8 | blue


def _rgb(packed: Any) -> Any:
    """Return colours (n, 3) uint8 of one number each."""
    return np.stack([packed >> 16, packed >> 8 & 255, packed & 255], axis=1).astype(np.uint8)


def _write_mp4(path: Path, pictures: Iterable[Any], moments: Sequence[Moment], rate: float) -> None:
    """Write an MP4 that phones and browsers play: H.264, 4:2:0, its index at the front."""
    encoder = _encoder()
    film: Any = None
    sent = 0
    try:
        for picture, moment in zip(pictures, moments, strict=True):
            if film is None:
                height, width = picture.shape[:2]
                film = encoder.write_frames(
                    str(path),
                    (width, height),
                    fps=rate,
                    codec="libx264",
                    macro_block_size=2,
                    ffmpeg_log_level="quiet",
                    quality=None,
                    output_params=["-crf", "22", "-movflags", "+faststart", "-an"],
                )
                film.send(None)
            for _ in range(max(round(moment.seconds * rate), 1)):
                film.send(picture)
                sent += 1
    except OSError as error:
        raise OSError(_NOT_WHOLE) from error
    finally:
        if film is not None:
            film.close()
    # The encoder does not tell how it ended: what it wrote is read back.
    try:
        written, _ = encoder.count_frames_and_secs(str(path))
    except RuntimeError as error:
        raise OSError(_NOT_WHOLE) from error
    if written != sent:
        raise OSError(_NOT_WHOLE)


def _encoder() -> Any:
    try:
        import imageio_ffmpeg
    except ModuleNotFoundError as error:
        raise MissingExtraError("film", "films in MP4") from error
    return imageio_ffmpeg
