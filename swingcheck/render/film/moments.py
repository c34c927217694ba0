"""Which angles a film shows, and for how long: slower the nearer the slab comes to contact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.errors import RenderError
from swingcheck.render.pen.subject import Subject
from swingcheck.render.pen.words import named

SLOWING = 3.6
"""How much a swing slows: it ends ``exp`` of this slower than it begins."""

HOLD, BACK = 1.6, 0.25
"""Seconds that the end is held, and the share of the way's time that the way back takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """One picture of a film: the swing angle in radians, and how long it stands, seconds."""

    angle: float
    seconds: float


def film_way(subject: Subject) -> tuple[float, float]:
    """Return where a film's swing begins and ends, radians: at what the verdict speaks of, if any.

    Closing, from the start to the first contact or closed; opening instead where
    opening is what fails. Raises RenderError where the slab overlaps something
    before it has moved.
    """
    pose = subject.pose
    if pose.overlaps:
        raise RenderError(
            f"no film: at the start the {subject.slab or 'slab'} overlaps {named(pose.overlaps)}"
            " and cannot swing; a picture shows it"
        )
    opening = subject.ends.opening
    opens = pose.touch is not None and opening is not None and pose.angle == opening.angle
    return (0.0 if opens else subject.begin), pose.angle


def moments(begin: float, end: float, *, seconds: float, rate: float) -> tuple[Moment, ...]:
    """Return a film's moments: there slowing down, held, and quickly back.

    From ``begin`` to ``end``, radians, in ``seconds`` with ``rate`` pictures a second. After a
    share ``s`` of the time the way left is ``(exp(-k s) - exp(-k)) / (1 - exp(-k))`` of the
    whole.
    """
    count = max(round(seconds * rate), 2)
    share = np.arange(count) / count
    left = (np.exp(-SLOWING * share) - np.exp(-SLOWING)) / (1 - np.exp(-SLOWING))
    there = end + (begin - end) * left
    returning = max(round(seconds * BACK * rate), 2)
    eased = (1 - np.cos(np.pi * np.arange(1, returning) / returning)) / 2
    step = 1 / rate
    return (
        *(Moment(angle=float(angle), seconds=step) for angle in there),
        Moment(angle=end, seconds=HOLD),
        *(Moment(angle=float(end + (begin - end) * e), seconds=step) for e in eased),
    )
