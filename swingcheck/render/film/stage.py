"""The swing as a film: which angles it shows, slower the nearer to contact, and each drawn.

The whole opening, a close-up beside it, and the clearance in figures. What stands still
is drawn once; for each picture only the slab, its leaves and the figures are drawn over it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.assembly import PartKind
from swingcheck.errors import RenderError
from swingcheck.geometry.solid import Floats
from swingcheck.palette import INK, QUIET
from swingcheck.render.pen.ink import Pen, contact_colour, page
from swingcheck.render.pen.lettering import wrapped
from swingcheck.render.pen.page import blank_figure
from swingcheck.render.pen.panel import Box, View, draw_cut, fill_parts, opened_pen, paper_pen
from swingcheck.render.pen.section import LEVEL, PlanCut, cut_height, plan_hand
from swingcheck.render.pen.subject import Pose, Subject
from swingcheck.render.plan.closeups import OPENING_SHOWN, strike_view
from swingcheck.render.plan.corners import Corners, corners_of
from swingcheck.render.plan.measures import strike_corner
from swingcheck.render.plan.sheet import overview_view, swing_arc
from swingcheck.render.still.camera import SolidView
from swingcheck.swing.by_angle import turning_gaps
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units import angle_text, length_text
from swingcheck.units.words import listed_parts, the, upper

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
            f"no film: at the start the {subject.slab or 'slab'} overlaps"
            f" {listed_parts(pose.overlaps)} and cannot swing; a picture shows it"
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


WIDTH, HEIGHT = 6.4, 4.8
"""A picture at its usual size, inches of paper; what is larger is scaled up whole."""

MARGIN, GUTTER, HEAD, FOOT = 0.14, 0.16, 0.62, 0.86
"""Around, between the panels, above and below them, inches."""

WHOLE = 3.3
"""Width of the whole opening's panel, inches."""

WITHIN = 1.0
"""Clearances are told up to this, inches."""

WINDOW_LINE = 0.8
PIN_REACH = 0.34
"""Width of a window's frame, points; how far a pin's centre lines reach, inches."""


def pictures(
    subject: Subject, shown: Sequence[Moment], pixels: int, solid: SolidView | None = None
) -> Iterator[Any]:
    """Yield a film's pictures, (height, width, 3) uint8 arrays, one a moment.

    The subject's pose is the moment at the swing's end. A picture is so many ``pixels`` wide
    and three quarters of that high; ``solid`` is the 3D view in place of the whole plan.
    """
    stage = _Stage(subject, shown, pixels, solid)
    assembly = subject.assembly
    gaps = turning_gaps(assembly, assembly.fixed, WITHIN)
    found = gaps.at([moment.angle for moment in shown])
    for moment, row in zip(shown, found, strict=True):
        nearest = int(row.argmin())
        yield stage.picture(moment.angle, assembly.fixed[nearest].name, float(row[nearest]))


class _Stage:
    """The figure: its still ground, and what is drawn over it for each picture."""

    def __init__(
        self, subject: Subject, shown: Sequence[Moment], pixels: int, solid: SolidView | None
    ) -> None:
        self.subject, self.solid = subject, solid
        self.figure = blank_figure(WIDTH, HEIGHT)
        self.figure.set_dpi(pixels / WIDTH)
        self.canvas = self.figure.canvas
        self.paper = paper_pen(self.figure, Box(x=0.0, y=0.0, width=WIDTH, height=HEIGHT))
        self.moving: list[_Moving] = []
        self.marks: list[tuple[Any, Any]] = []
        self.image: Any = None
        self._draw_ground(max((moment.angle for moment in shown), key=abs))
        self.lines = self._lines()
        self.canvas.draw()
        self.ground = self.canvas.copy_from_bbox(self.figure.bbox)

    def picture(self, angle: float, nearest: str, distance: float) -> Any:
        """Return one picture as an array."""
        self.canvas.restore_region(self.ground)
        if self.image is not None and self.solid is not None:
            self.image.set_data(self.solid.at(angle))
            self.image.axes.draw_artist(self.image)
        for moving in self.moving:
            moving.draw(self._turn(angle, moving.height))
        pose = self.subject.pose
        touching = pose.at is not None and abs(angle - pose.angle) < 1e-9
        for axes, artist in self.marks:
            artist.set_visible(touching)
            axes.draw_artist(artist)
        self._say(angle, nearest, distance, touching=touching)
        pixels = np.asarray(self.canvas.buffer_rgba())[:, :, :3]
        return np.ascontiguousarray(pixels)

    def _draw_ground(self, widest: float) -> None:
        tall = HEIGHT - HEAD - FOOT
        left = Box(x=MARGIN, y=FOOT, width=WHOLE, height=tall)
        wide = WIDTH - 2 * MARGIN - WHOLE - GUTTER
        right = Box(x=MARGIN + WHOLE + GUTTER, y=FOOT, width=wide, height=tall)
        height = cut_height(self.subject.assembly, self.subject.pose)
        closed = replace(self.subject, pose=Pose(angle=0.0))
        corners = corners_of(closed, right, height=height)
        detail = self._detail(corners, right)
        if self.solid is None:
            swing = swing_arc(corners, widest)
            view = overview_view(corners, swing, left, self.subject.pose.at)
            low = FOOT + (tall - view.height) / 2
            box = Box(x=left.x, y=low, width=left.width, height=view.height)
            pen = self._panel(box, view, corners)
            pen.line(list(swing.arc), width=1.0, color=QUIET, clipped=True, halo=False)
            pen.frame(detail.low, detail.high, width=1.2)
        else:
            self._solid_panel(left, self.solid)
        self._panel(right, detail, corners)

    def _detail(self, corners: Corners, box: Box) -> View:
        """Return the close-up's view: where the plan shows the contact, or the hinge corner."""
        assembly, pose = self.subject.assembly, self.subject.pose
        hinge, strike = corners.details[0].view, corners.strike
        if pose.at is None or self._is_level:
            return hinge
        at = page(pose.at[:2])
        if hinge.shows(at):
            return hinge
        if opening_at_strike(assembly, pose.angle) < OPENING_SHOWN:
            strike = strike_corner(assembly, pose, pose.at[2])
        there = strike_view(assembly, strike, box)
        if there.shows(at):
            return there
        half = (hinge.high - hinge.low) / 2
        return View(low=at - half, high=at + half, scale=hinge.scale)

    @property
    def _is_level(self) -> bool:
        """Whether a plan does not show the slab meeting what it meets."""
        touch = self.subject.pose.touch
        return touch is not None and touch.against_kind in LEVEL

    def _panel(self, box: Box, view: View, corners: Corners) -> Pen:
        """Draw a panel's ground: what is fixed, the closed ghost, its frame and the pin."""
        cut = corners.cut
        pen = opened_pen(self.figure, box, box, view, plan_hand(self.subject.assembly))
        beyond = tuple(part for part in cut.beyond if part.kind is not PartKind.SLAB_LEAF)
        draw_cut(pen, replace(cut, moving=(), beyond=beyond), ghost=True)
        pen.pin(page(corners.hinge.pin), PIN_REACH)
        low = np.array([box.x, box.y])
        self.paper.frame(low, low + np.array([box.width, box.height]), width=WINDOW_LINE)
        self._hang(pen, cut)
        at = self.subject.pose.at
        if at is not None and not self._is_level and view.shows(page(at[:2])):
            self._mark(pen, page(at[:2]))
        return pen

    def _mark(self, pen: Pen, at: Floats) -> None:
        """Ring the contact, to be seen when the slab is there."""
        with _animated(pen.notes) as fresh:
            pen.contact(at, seated=self.subject.pose.seated)
        self.marks += [(pen.notes, artist) for artist in fresh]

    def _hang(self, pen: Pen, cut: PlanCut) -> None:
        """Draw the moving parts closed, to be turned; hatched all over, not only in the window."""
        window = pen.window
        limits = window.get_xlim(), window.get_ylim()
        reach = 2.0 * max(self.subject.assembly.scene.slab.width)
        window.set_xlim(-reach, reach)
        window.set_ylim(-reach, reach)
        with _animated(window) as fresh:
            fill_parts(pen, cut.moving)
        window.set_xlim(*limits[0])
        window.set_ylim(*limits[1])
        self.moving.append(_Moving(window=window, artists=tuple(fresh), height=cut.height))

    def _solid_panel(self, box: Box, solid: SolidView) -> None:
        """Make room for the 3D view, and a ring in it where the contact is."""
        dots = self.figure.dpi
        wide, tall = (round(side * dots) for side in (box.width, box.height))
        solid.look((wide, tall))
        pen = paper_pen(self.figure, box)
        blank = np.full((tall, wide, 3), 255, dtype=np.uint8)
        self.image = pen.window.imshow(
            blank,
            animated=True,
            aspect="auto",
            interpolation="none",
            extent=(0.0, box.width, 0.0, box.height),
        )
        if self.subject.pose.at is not None:
            x, y = solid.place(self.subject.pose.at)
            self._mark(pen, np.array([x, tall - y]) / dots)

    def _lines(self) -> tuple[Any, Any, Any]:
        """Write the caption; return the figures' lines, to be written for each picture."""
        caption = wrapped(self.subject.caption, (WIDTH - 2 * MARGIN) * 72, 12.0, bold=True)
        for k, line in enumerate(caption[:2]):
            at = [MARGIN, HEIGHT - 0.2 - 0.23 * k]
            self.paper.text(at, line, side=1.0, size=12.0, bold=True)
        places = ((MARGIN, 0.55, 19.0), (MARGIN + 1.75, 0.55, 11.0), (MARGIN, 0.2, 12.0))
        angle, strike, nearest = (
            self.paper.text([x, y], "", side=1.0, size=size, bold=size > 11.0)
            for x, y, size in places
        )
        for text in (angle, strike, nearest):
            text.set_animated(True)
        return angle, strike, nearest

    def _say(self, angle: float, nearest: str, distance: float, *, touching: bool) -> None:
        """Write the figures: the angle, the opening at the strike edge, the clearance."""
        pose, unit = self.subject.pose, self.subject.unit
        opening = length_text(opening_at_strike(self.subject.assembly, angle), unit)
        verb = "at rest on" if pose.seated else "overlaps" if pose.overlaps else "touches"
        if touching:
            slab = f"{the(self.subject.slab)} " if self.subject.slab else ""
            words = upper(f"{slab}{verb} {listed_parts(pose.against)}")
        elif distance >= WITHIN:
            words = f"Nothing nearer than {length_text(WITHIN, unit)}"
        else:
            words = f"Nearest: {the(nearest)}, {length_text(distance, unit)}"
        loud = contact_colour(seated=pose.seated) if touching else INK
        side = " push side" if angle < 0 else ""
        texts = (f"{angle_text(abs(angle))}{side}", f"strike edge {opening} from closed", words)
        for line, text in zip(self.lines, texts, strict=True):
            line.set_text(text)
            line.set_color(loud if line is self.lines[2] else INK)
            self.figure.draw_artist(line)

    def _turn(self, angle: float, height: float) -> Floats:
        """Return the swing within the cut's plane, page points: a (3, 3) affine matrix."""
        axis = self.subject.assembly.axis
        turn, shift = axis.move(angle)
        shift = shift + turn[:, 2] * height
        flip = np.diag([plan_hand(self.subject.assembly), -1.0])
        made = np.eye(3)
        made[:2, :2] = flip @ turn[:2, :2] @ flip
        made[:2, 2] = flip @ shift[:2]
        return made


@contextmanager
def _animated(axes: Any) -> Iterator[list[Any]]:
    """Gather what is drawn within, the lowest first, to be drawn anew for each picture."""
    before = set(axes.get_children())
    fresh: list[Any] = []
    yield fresh
    fresh += [artist for artist in axes.get_children() if artist not in before]
    fresh.sort(key=lambda artist: float(artist.get_zorder()))
    for artist in fresh:
        artist.set_animated(True)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Moving:
    """A window's moving artists, cut at ``height`` of the closed slab."""

    window: Any
    artists: tuple[Any, ...]
    height: float

    def draw(self, turn: Floats) -> None:
        from matplotlib.collections import LineCollection
        from matplotlib.transforms import Affine2D

        place = Affine2D(turn) + self.window.transData
        body = None
        for artist in self.artists:
            artist.set_transform(place)
            if isinstance(artist, LineCollection):
                artist.set_clip_path(body)  # the hatching's body, as it stands now
            else:
                body = artist
            self.window.draw_artist(artist)
