"""The swing as a film: the whole opening, a close-up beside it, and the clearance in figures.

What stands still is drawn once; for each picture only the slab, its leaves and
the figures are drawn over it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.assembly import GROUND, Assembly, PartKind
from swingcheck.assembly.parts import is_mirrored
from swingcheck.geometry.gaps import TurningGaps
from swingcheck.geometry.solid import Floats
from swingcheck.palette import FRAME_LINE, INK, PAPER, QUIET
from swingcheck.render.film.moments import Moment
from swingcheck.render.film.solid import SolidView
from swingcheck.render.pen.ink import Pen, contact_colour, page
from swingcheck.render.pen.lettering import font, wrapped
from swingcheck.render.pen.panel import LEVELS, MATERIALS, Box, View, draw_cut, opened_pen
from swingcheck.render.plan.closeups import OPENING_SHOWN, hinge_view, strike_view
from swingcheck.render.plan.measures import StrikeCorner, hinge_corner, strike_corner
from swingcheck.render.plan.overview import overview_height, overview_view, swing_arc
from swingcheck.render.plan.pose import PlanCut, Pose, cut_height, plan_cut
from swingcheck.swing.found import Found, Touch
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units import angle_text, length_text

WIDTH, HEIGHT = 6.4, 4.8
"""A picture at its usual size, inches of paper; what is larger is scaled up whole."""

MARGIN, GUTTER, HEAD, FOOT = 0.14, 0.16, 0.62, 0.86
"""Around, between the panels, above and below them, inches."""

WHOLE = 3.3
"""Width of the whole opening's panel, inches."""

WITHIN = 1.0
"""Clearances are told up to this, inches."""

WINDOW_LINE = 0.8

LEVEL = (*GROUND, PartKind.HEAD, PartKind.HEAD_STOP)
"""Parts that a plan does not show the slab meeting."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Story:
    """What a film is about.

    ``touch`` is what the swing meets at its end, ``None`` where nothing does;
    ``seated`` whether that is its seat; ``caption`` the verdict's words;
    ``solid`` the 3D view in place of the whole plan, or ``None``.
    """

    assembly: Assembly
    result: Found
    touch: Touch | None
    caption: str
    solid: SolidView | None = None

    @property
    def seated(self) -> bool:
        """Whether the swing ends at rest on a stop."""
        return self.touch is self.result.closing and self.result.seated

    @property
    def pose(self) -> Pose:
        """The moment at the swing's end."""
        angle = 0.0 if self.touch is None else self.touch.angle
        return Pose(angle=angle, touch=self.touch, seated=self.seated)


def pictures(story: Story, shown: Sequence[Moment], pixels: int) -> Iterator[Any]:
    """Yield a film's pictures, (height, width, 3) uint8 arrays, one a moment.

    Parameters
    ----------
    story : Story
        What is shown.
    shown : sequence of Moment
        Which angles.
    pixels : int
        Width; the height is three quarters of it.
    """
    stage = _Stage(story, shown, pixels)
    for moment, least in zip(shown, _nearest(story, shown), strict=True):
        yield stage.picture(moment.angle, least)


def _nearest(story: Story, shown: Sequence[Moment]) -> list[tuple[str, float]]:
    """Return the nearest fixed part at each moment and how near, inches."""
    assembly = story.assembly
    gaps = TurningGaps(
        [part.solid for part in assembly.moving],
        [part.solid for part in assembly.fixed],
        point=assembly.axis.point,
        direction=assembly.axis.direction,
        rise=assembly.axis.rise,
        within=WITHIN,
    )
    found = gaps.at([moment.angle for moment in shown])
    least = found.argmin(axis=1)
    return [(assembly.fixed[k].name, float(row[k])) for k, row in zip(least, found, strict=True)]


class _Stage:
    """The figure: its still ground, and what is drawn over it for each picture."""

    def __init__(self, story: Story, shown: Sequence[Moment], pixels: int) -> None:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

        self.story = story
        figure = Figure(figsize=(WIDTH, HEIGHT), dpi=pixels / WIDTH, facecolor=PAPER)
        self.canvas = FigureCanvasAgg(figure)
        self.figure = figure
        self.hand = 1.0 if is_mirrored(story.assembly.scene) else -1.0
        self.moving: list[_Moving] = []
        self.marks: list[tuple[Any, Any]] = []
        self.image: Any = None
        self._draw_ground(max(moment.angle for moment in shown))
        self.lines = self._lines()
        self.canvas.draw()
        self.ground = self.canvas.copy_from_bbox(figure.bbox)

    def picture(self, angle: float, least: tuple[str, float]) -> Any:
        """Return one picture as an array."""
        self.canvas.restore_region(self.ground)
        if self.image is not None and self.story.solid is not None:
            self.image.set_data(self.story.solid.at(angle))
            self.image.axes.draw_artist(self.image)
        for moving in self.moving:
            moving.draw(self._turn(angle, moving.height))
        touching = self.story.touch is not None and abs(angle - self.story.touch.angle) < 1e-9
        for axes, artist in self.marks:
            artist.set_visible(touching)
            axes.draw_artist(artist)
        self._say(angle, least, touching=touching)
        pixels = np.asarray(self.canvas.buffer_rgba())[:, :, :3]
        return np.ascontiguousarray(pixels)

    def _draw_ground(self, widest: float) -> None:
        assembly, pose = self.story.assembly, self.story.pose
        cut = plan_cut(assembly, Pose(angle=0.0), cut_height(assembly, pose))
        hinge = hinge_corner(assembly, Pose(angle=0.0), cut.height, cut.hinge)
        strike = strike_corner(assembly, Pose(angle=0.0), cut.height)
        tall = HEIGHT - HEAD - FOOT
        left = Box(x=MARGIN, y=FOOT, width=WHOLE, height=tall)
        right = Box(
            x=MARGIN + WHOLE + GUTTER,
            y=FOOT,
            width=WIDTH - 2 * MARGIN - WHOLE - GUTTER,
            height=tall,
        )
        detail = self._detail(hinge_view(assembly, hinge, right), strike, right)
        if self.story.solid is None:
            swing = swing_arc(hinge, strike, assembly, Pose(angle=widest))
            view = overview_view(hinge, strike, swing, assembly, left)
            low = FOOT + (tall - overview_height(view)) / 2
            box = Box(x=left.x, y=low, width=left.width, height=overview_height(view))
            pen = self._panel(box, view, cut)
            pen.line(list(swing.arc), width=1.0, color=QUIET, clipped=True, halo=False)
            pen.frame(detail.low, detail.high, width=1.2)
        else:
            self._solid_panel(left, self.story.solid)
        self._panel(right, detail, cut)

    def _detail(self, hinge: View, strike: StrikeCorner, box: Box) -> View:
        """Return the close-up's view: where the plan shows the contact, or the hinge corner."""
        touch = self.story.touch
        if touch is None or touch.against_kind in LEVEL:
            return hinge
        at = page(touch.point[:2])
        if hinge.shows(at):
            return hinge
        if opening_at_strike(self.story.assembly, touch.angle) < OPENING_SHOWN:
            strike = strike_corner(self.story.assembly, self.story.pose, touch.point[2])
        there = strike_view(self.story.assembly, strike, box)
        return there if there.shows(at) else _about(hinge, at)

    def _panel(self, box: Box, view: View, cut: PlanCut) -> Pen:
        """Draw a panel's ground: what is fixed, the closed ghost, its frame and the pin."""
        pen = opened_pen(self.figure, box, box, view, self.hand)
        still = PlanCut(
            height=cut.height,
            hinge=cut.hinge,
            fixed=cut.fixed,
            moving=(),
            ghost=cut.ghost,
            beyond=tuple(part for part in cut.beyond if part.kind is not PartKind.SLAB_LEAF),
        )
        draw_cut(pen, still, ghost=True)
        closed = hinge_corner(self.story.assembly, Pose(angle=0.0), cut.height, cut.hinge)
        pen.pin(page(closed.pin), 0.34)
        self._frame(box)
        self._hang(pen, cut)
        self._ring(pen, view)
        return pen

    def _frame(self, box: Box) -> None:
        from matplotlib.patches import Rectangle

        edge = Rectangle(
            (box.x / WIDTH, box.y / HEIGHT),
            box.width / WIDTH,
            box.height / HEIGHT,
            transform=self.figure.transFigure,
            fill=False,
            edgecolor=FRAME_LINE,
            linewidth=WINDOW_LINE,
        )
        self.figure.add_artist(edge)

    def _hang(self, pen: Pen, cut: PlanCut) -> None:
        """Draw the moving parts closed, to be turned; hatched all over, not only in the window."""
        window = pen.window
        limits = window.get_xlim(), window.get_ylim()
        reach = 2.0 * max(self.story.assembly.scene.slab.width)
        window.set_xlim(-reach, reach)
        window.set_ylim(-reach, reach)
        before = set(window.get_children())
        for part in cut.moving:
            outlines = [page(outline) for outline in part.outlines]
            pen.fill(outlines, MATERIALS[part.kind], LEVELS[part.kind])
        window.set_xlim(*limits[0])
        window.set_ylim(*limits[1])
        fresh = [artist for artist in window.get_children() if artist not in before]
        fresh.sort(key=lambda artist: float(artist.get_zorder()))
        for artist in fresh:
            artist.set_animated(True)
        self.moving.append(_Moving(window=window, artists=tuple(fresh), height=cut.height))

    def _ring(self, pen: Pen, view: View) -> None:
        touch = self.story.touch
        level = touch is not None and touch.against_kind in LEVEL
        if touch is None or level or not view.shows(page(touch.point[:2])):
            return
        before = set(pen.notes.get_children())
        pen.contact(page(touch.point[:2]), seated=self.story.seated)
        fresh = [artist for artist in pen.notes.get_children() if artist not in before]
        for artist in sorted(fresh, key=lambda artist: float(artist.get_zorder())):
            artist.set_animated(True)
            self.marks.append((pen.notes, artist))

    def _solid_panel(self, box: Box, solid: SolidView) -> None:
        """Make room for the 3D view, and a ring in it where the contact is."""
        wide, tall = (round(side * self.figure.dpi) for side in (box.width, box.height))
        solid.look((wide, tall))
        axes = self.figure.add_axes(
            (box.x / WIDTH, box.y / HEIGHT, box.width / WIDTH, box.height / HEIGHT)
        )
        axes.set_axis_off()
        blank = np.full((tall, wide, 3), 255, dtype=np.uint8)
        self.image = axes.imshow(blank, animated=True, aspect="auto", interpolation="none")
        touch = self.story.touch
        if touch is None:
            return
        at = solid.place(touch.point)
        loud = contact_colour(seated=self.story.seated)
        for colour, width in ((PAPER, 5.0), (loud, 2.6)):
            ring = axes.plot(
                *([value] for value in at),
                marker="o",
                markersize=20,
                markerfacecolor="none",
                markeredgecolor=colour,
                markeredgewidth=width,
                clip_on=False,
            )[0]
            ring.set_animated(True)
            self.marks.append((axes, ring))

    def _lines(self) -> tuple[Any, Any, Any]:
        """Write the caption; return the figures' lines, to be written for each picture."""
        caption = wrapped(self.story.caption, (WIDTH - 2 * MARGIN) * 72, 12.0, bold=True)
        for k, line in enumerate(caption[:2]):
            self._text(MARGIN, HEIGHT - 0.2 - 0.23 * k, line, size=12.0, bold=True)
        places = ((MARGIN, 0.55, 19.0), (MARGIN + 1.75, 0.55, 11.0), (MARGIN, 0.2, 12.0))
        angle, strike, nearest = (
            self._text(x, y, "", size=size, bold=size > 11.0) for x, y, size in places
        )
        for text in (angle, strike, nearest):
            text.set_animated(True)
        return angle, strike, nearest

    def _text(self, x: float, y: float, words: str, *, size: float, bold: bool) -> Any:
        return self.figure.text(
            x / WIDTH,
            y / HEIGHT,
            words,
            fontproperties=font(size, bold=bold),
            color=INK,
            va="center_baseline",
            parse_math=False,
        )

    def _say(self, angle: float, least: tuple[str, float], *, touching: bool) -> None:
        """Write the figures: the angle, the opening at the strike edge, the clearance."""
        unit = self.story.assembly.scene.unit
        opening = length_text(opening_at_strike(self.story.assembly, angle), unit)
        name, distance = least
        if touching and self.story.touch is not None:
            verb = "At rest on" if self.story.seated else "Touches"
            words = f"{verb} {_the(self.story.touch.against)}"
        elif distance >= WITHIN:
            words = f"Nothing nearer than {length_text(WITHIN, unit)}"
        else:
            words = f"Nearest: {_the(name)}, {length_text(distance, unit)}"
        loud = contact_colour(seated=self.story.seated) if touching else INK
        texts = (angle_text(angle), f"strike edge {opening} from closed", words)
        for line, text in zip(self.lines, texts, strict=True):
            line.set_text(text)
            line.set_color(loud if line is self.lines[2] else INK)
            self.figure.draw_artist(line)

    def _turn(self, angle: float, height: float) -> Floats:
        """Return the swing within the cut's plane, page points: a (3, 3) affine matrix."""
        axis = self.story.assembly.axis
        turn, shift = axis.move(angle)
        shift = shift + turn[:, 2] * height
        flip = np.diag([self.hand, -1.0])
        made = np.eye(3)
        made[:2, :2] = flip @ turn[:2, :2] @ flip
        made[:2, 2] = flip @ shift[:2]
        return made


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


def _about(view: View, at: Floats) -> View:
    """Return a view of the same size about a page point."""
    half = (view.high - view.low) / 2
    return View(low=at - half, high=at + half, scale=view.scale)


def _the(name: str) -> str:
    return name if name.startswith("the ") else f"the {name}"
