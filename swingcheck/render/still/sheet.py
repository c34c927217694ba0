"""The 3D still as one page: the whole opening, the contact close by, and the words."""

from __future__ import annotations

from typing import Any

import numpy as np

from swingcheck.assembly import GROUND
from swingcheck.geometry.solid import Floats
from swingcheck.palette import PAPER, QUIET
from swingcheck.render.pen.ink import contact_colour
from swingcheck.render.pen.page import INNER, PIXELS, WIDTH, plain_page
from swingcheck.render.pen.panel import (
    Box,
    View,
    contact_lines,
    contact_room,
    paper_pen,
    write_contact,
)
from swingcheck.render.pen.section import cut_height
from swingcheck.render.pen.subject import Subject
from swingcheck.render.pen.words import contact_words, moment_words, rough_length
from swingcheck.render.still.shots import near_shot, whole_shot

LEFT, BETWEEN, TALL = 4.0, 0.3, 7.2
"""Width of the whole view, the room between the two, and their height, inches."""

RIGHT = INNER - LEFT - BETWEEN
FOOT = 0.34
"""Room under the views for how they are seen, inches."""

RING = 13.0
"""Radius of the ring about the contact, points."""


def still_figure(subject: Subject, pixels: int = PIXELS) -> Any:
    """Return the 3D still as a matplotlib figure whose canvas is ``pixels`` wide.

    Raises RenderError where this machine cannot draw in 3D; the message says what to
    install.
    """
    assembly, pose = subject.assembly, subject.pose
    height, dots = cut_height(assembly, pose), pixels / WIDTH
    lines = contact_lines(contact_words(subject, height), RIGHT * 72)
    band = contact_room(lines)
    tall = round(TALL * dots)
    marks = _marks(subject)
    whole = whole_shot(subject, (round(LEFT * dots), tall), marks)
    near = near_shot(subject, (round(RIGHT * dots), tall), _about(subject, height))
    page = plain_page(subject.caption, f"{moment_words(subject)}.")
    figure, box = page.opened(FOOT + TALL + band)
    figure.set_dpi(dots)
    pen = paper_pen(figure, box)
    places = []
    for x, shot in ((0.0, whole), (LEFT + BETWEEN, near)):
        low = np.round(np.array([box.x + x, box.y + FOOT]) * dots)
        figure.figimage(shot.pixels, xo=low[0], yo=low[1], origin="upper", zorder=0.0)
        up = shot.at * [1.0, -1.0] + [0.0, len(shot.pixels)]
        places.append((low + up) / dots - [box.x, box.y])
    seen = _seen_words(subject, height)
    for x, words in ((0.0, "From the pull side, the frame as glass"), (LEFT + BETWEEN, seen)):
        pen.text([x, 0.06], words, side=1.0, color=QUIET, va="baseline")
    color = contact_colour(seated=pose.seated)
    if pose.at is not None:
        for width, stroke in ((4.0, PAPER), (2.2, color)):
            pen.line(list(places[0][1:]), color=stroke, width=width, halo=False, level=7.8)
        for place in places:
            pen.contact(place[0], seated=pose.seated, size=RING)
    if lines:
        panel = Box(x=box.x + LEFT + BETWEEN, y=box.y, width=RIGHT, height=box.height)
        view = View(low=np.array([0.0, FOOT]), high=np.array([RIGHT, FOOT + TALL]), scale=1.0)
        at = places[1][0] - [LEFT + BETWEEN, 0.0]
        write_contact(paper_pen(figure, panel), view, at, lines, color)
    return figure


def _marks(subject: Subject) -> Floats:
    """Return the contact's point and the ends of the line along which it touches, (3, 3)."""
    if subject.pose.at is None:
        return np.zeros((0, 3))
    x, y, z = subject.pose.at
    return np.array([[x, y, z], *([x, y, end] for end in subject.pose.span)])


def _about(subject: Subject, height: float) -> Floats:
    """Return what the near view looks at: the contact where it is cut, or the pin there."""
    pose = subject.pose
    if pose.at is None:
        return subject.assembly.axis.at(height)
    x, y, z = pose.at
    low, high = pose.span
    return np.array([x, y, height if low <= height <= high else z])


def _seen_words(subject: Subject, height: float) -> str:
    """Return how the near view is seen."""
    touch = subject.pose.touch
    words = (
        f"Cut open {rough_length(height, subject.unit)} above the floor, seen from the pull side"
    )
    if touch is not None and touch.against_kind in GROUND:
        words = "At the floor, seen from the pull side"
    return words if subject.pose.closed else f"{words}; dashed: the slab closed"
