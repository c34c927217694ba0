"""The 3D still as one page: the whole opening, the contact close by, cut open, and the words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.assembly import BESIDE, GROUND, Part, PartKind, barrel_parts
from swingcheck.assembly.parts import as_hung
from swingcheck.geometry.booleans import clipped
from swingcheck.geometry.solid import Floats
from swingcheck.palette import GHOST, INK, PAPER, QUIET
from swingcheck.render.pen.eye import dashes
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
from swingcheck.render.pen.section import cut_height, ghosts_of
from swingcheck.render.pen.subject import Subject, turned_parts
from swingcheck.render.pen.words import contact_words, moment_words
from swingcheck.render.still.camera import (
    Camera,
    add_parts,
    add_strokes,
    edges_of,
    fitted_camera,
    looking,
    mirror_of,
    picture_of,
    plotter_of,
)
from swingcheck.render.still.gl import gl
from swingcheck.units import rough_length

FRAME = (
    PartKind.HINGE_LEG,
    PartKind.STRIKE_LEG,
    PartKind.HEAD,
    PartKind.HINGE_STOP,
    PartKind.STRIKE_STOP,
    PartKind.HEAD_STOP,
    PartKind.CASING,
)
AROUND_FRAME = (
    PartKind.OBSTACLE,
    PartKind.WALL_RETURN,
    PartKind.BASEBOARD,
    PartKind.THRESHOLD,
)
GLASS = 0.38
"""How solid the frame looks in the whole view."""

NEAR_HALF_IN = 2.48
"""Half the height that the near view sees, inches."""

PEELS = 12
"""How many layers of glass are told apart."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shot:
    """A rendered view: ``pixels`` (height, width, 3) uint8, and where points fall in it.

    ``at`` is (n, 2), pixels from the left and from the top, one row for each
    point that was asked for.
    """

    pixels: Any
    at: Floats


def whole_shot(subject: Subject, size: tuple[int, int], points: Floats) -> Shot:
    """Return the whole opening from the pull side, the frame like glass, the closed ghost dashed.

    ``size`` is width and height in pixels, ``points`` (n, 3) some of the opening frame to find
    in the picture. Raises RenderError where this machine cannot draw in 3D.
    """
    assembly = subject.assembly
    slab = turned_parts(assembly.axis, assembly.moving, subject.pose.angle)
    glass = [part for part in assembly.fixed if part.kind in FRAME]
    around = [part for part in assembly.fixed if part.kind in AROUND_FRAME]
    leaves = [part for part in assembly.fixed if part.kind is PartKind.JAMB_LEAF]
    beside = [part for part in assembly.fixed if part.kind in BESIDE]
    fitted = [part.solid for part in (*slab, *glass, *beside)]
    camera = fitted_camera(assembly, fitted, looking(assembly, 24.0, 14.0), size)
    with gl():
        plotter = plotter_of(size)
        plotter.enable_depth_peeling(number_of_peels=PEELS)
        add_parts(plotter, assembly, (*glass, *around), opacity=GLASS)
        add_parts(plotter, assembly, (*slab, *beside, *leaves, *barrel_parts(assembly)))
        _add_ghosts(plotter, subject, ghosts_of(subject), 1.6)
        low, high = assembly.moving[0].solid.bounds[:, 2]
        ends = np.array([assembly.axis.at(z) for z in (low - 3.0, high + 5.0)])
        chain = dashes((ends @ mirror_of(assembly))[None], (3.0, 0.7, 0.5, 0.7))
        add_strokes(plotter, chain, INK, 1.4)
        return _shot(plotter, camera, size, points @ mirror_of(assembly))


def near_shot(subject: Subject, size: tuple[int, int], about: Floats) -> Shot:
    """Return what is about a point, from the pull side and above, cut open at the section.

    ``about`` (3,) is the point to look at, opening frame, and the one point that
    the shot finds. A contact with the floor is looked at from low down, uncut.
    """
    assembly, pose = subject.assembly, subject.pose
    low = pose.touch is not None and pose.touch.against_kind in GROUND
    height = cut_height(assembly, pose)
    left_out = (PartKind.WALL,) if low else (PartKind.WALL, PartKind.FLOOR)
    fixed = [part for part in assembly.fixed if part.kind not in left_out]
    slab = turned_parts(assembly.axis, assembly.moving, pose.angle)
    parts, ghosts = [*slab, *fixed, *barrel_parts(assembly)], ghosts_of(subject)
    if not low:
        parts, ghosts = (_below(each, height) for each in (parts, ghosts))
    middle = about @ mirror_of(assembly)
    aside = 38.0 if about[0] < max(assembly.scene.opening.width) / 2 else -38.0
    with gl():
        plotter = plotter_of(size)
        add_parts(plotter, assembly, parts)
        _add_ghosts(plotter, subject, ghosts, 0.5)
        if pose.at is not None and pose.span[0] < min(pose.span[1], height):
            x, y, _ = pose.at
            ends = np.array([[x, y, pose.span[0]], [x, y, min(pose.span[1], height)]])
            color = contact_colour(seated=pose.seated)
            add_strokes(plotter, (ends @ mirror_of(assembly))[None], color, 5.0)
        camera = Camera(
            middle=middle, eye=looking(assembly, aside, 12.0 if low else 50.0), half=NEAR_HALF_IN
        )
        return _shot(plotter, camera, size, middle[None])


def _below(parts: Sequence[Part], height: float) -> list[Part]:
    return [kept for part in parts if (kept := below_plane(part, height)) is not None]


def below_plane(part: Part, height: float) -> Part | None:
    """Return what of a part is below a height, its cut closed; ``None`` where nothing is."""
    bottom, top = part.solid.bounds[:, 2]
    if not bottom < height < top:
        return part if top <= height else None
    low, high = np.full(3, -np.inf), np.array([np.inf, np.inf, height])
    return replace(part, solid=clipped(part.solid, low, high))


def _add_ghosts(plotter: Any, subject: Subject, ghosts: Sequence[Part], dash: float) -> None:
    """Add what stands closed as dashed edges, each dash so many inches."""
    for part in ghosts if not subject.pose.closed else ():
        edges = edges_of(as_hung(subject.assembly.scene, part.solid))
        add_strokes(plotter, dashes(edges, (dash, 0.6 * dash)), GHOST, 1.6)


def _shot(plotter: Any, camera: Camera, size: tuple[int, int], points: Floats) -> Shot:
    """Render, bring down to size, and find the points in the picture."""
    camera.aim(plotter)
    pixels = picture_of(plotter, size)
    plotter.close()
    return Shot(pixels=pixels, at=camera.seen(points, size))


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
