"""The 3D still as one page: the whole opening, the contact close by, and the words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.assembly import GROUND, Assembly
from swingcheck.geometry.solid import Floats
from swingcheck.palette import INK, PAPER, QUIET
from swingcheck.render.pen.figure import HEADLINE, INNER, MARGIN, PIXELS, WIDTH, Subject
from swingcheck.render.pen.ink import contact_colour
from swingcheck.render.pen.lettering import LEADING, SIZE, font, text_width, wrapped
from swingcheck.render.pen.png import palette_png
from swingcheck.render.pen.words import contact_words, moment_words, rough_length
from swingcheck.render.plan.pose import Pose, cut_height
from swingcheck.render.still.shots import Shot, near_shot, whole_shot

LEFT, GAP, TALL = 4.0, 0.3, 7.2
RIGHT = INNER - LEFT - GAP
CONTACT_SIZE = 13.0
FOOT = 0.34
RING = 13.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Page:
    """A still's words as lines that fit, and its measures on paper, inches."""

    headline: tuple[str, ...]
    moment: tuple[str, ...]
    contact: tuple[str, ...]

    @property
    def heading(self) -> float:
        lines = len(self.headline) * HEADLINE + len(self.moment) * SIZE
        return lines * LEADING / 72 + 0.2

    @property
    def band(self) -> float:
        return (len(self.contact) * CONTACT_SIZE * LEADING + 14.0) / 72 if self.contact else 0.0

    @property
    def height(self) -> float:
        return 2 * MARGIN + self.heading + self.band + TALL + FOOT


def still_sheet(subject: Subject, pixels: int = PIXELS) -> bytes:
    """Return the 3D still as a PNG's bytes, ``pixels`` wide.

    Raises
    ------
    RenderError
        Where this machine cannot draw in 3D; the message says what to install.
    """
    figure = still_figure(subject, pixels)
    figure.canvas.draw()
    return palette_png(figure.canvas.buffer_rgba())


def still_figure(subject: Subject, pixels: int = PIXELS) -> Any:
    """Return the 3D still as a matplotlib figure whose canvas is ``pixels`` wide."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    assembly, pose = subject.assembly, subject.pose
    dots = pixels / WIDTH
    height = cut_height(assembly, pose)
    page = _page(subject, height)
    marks = _marks(pose)
    about = _about(assembly, pose, height)
    tall = round(TALL * dots)
    whole = whole_shot(assembly, pose, (round(LEFT * dots), tall), marks)
    near = near_shot(assembly, pose, (round(RIGHT * dots), tall), about)
    figure = Figure(figsize=(WIDTH, page.height), dpi=dots, facecolor=PAPER)
    FigureCanvasAgg(figure)
    low = round((MARGIN + FOOT) * dots)
    places = (round(MARGIN * dots), low), (round((MARGIN + LEFT + GAP) * dots), low)
    _paste(figure, whole, places[0])
    _paste(figure, near, places[1])
    _write_heading(figure, page)
    _write_foot(figure, page, assembly, pose, height)
    if pose.touch is not None:
        _mark(figure, _on_page(whole, places[0]), pose, line=True)
        _mark(figure, _on_page(near, places[1]), pose, line=False)
    if page.contact:
        drop = _on_page(near, places[1])[0] if pose.touch is not None else None
        _write_contact(figure, page, drop, seated=pose.seated)
    return figure


def _page(subject: Subject, height: float) -> _Page:
    words = contact_words(subject.pose, height, subject.assembly.scene.unit)
    return _Page(
        headline=wrapped(subject.caption, INNER * 72, HEADLINE, bold=True),
        moment=wrapped(moment_words(subject.pose) + ".", INNER * 72),
        contact=wrapped(words, RIGHT * 72, CONTACT_SIZE, bold=True),
    )


def _marks(pose: Pose) -> Floats:
    """Return the contact's point and the ends of the line along which it touches, (3, 3)."""
    if pose.touch is None:
        return np.zeros((0, 3))
    x, y, z = pose.touch.point
    low, high = pose.touch.span
    return np.array([[x, y, z], [x, y, low], [x, y, high]])


def _about(assembly: Assembly, pose: Pose, height: float) -> Floats:
    """Return what the near view looks at: the contact where it is cut, or the pin there."""
    if pose.touch is None:
        axis = assembly.axis
        return axis.point + axis.direction * ((height - axis.point[2]) / axis.direction[2])
    x, y, z = pose.touch.point
    low, high = pose.touch.span
    return np.array([x, y, height if low <= height <= high else z])


def _paste(figure: Any, shot: Shot, place: tuple[int, int]) -> None:
    figure.figimage(shot.pixels, xo=place[0], yo=place[1], origin="upper", zorder=0.0)


def _on_page(shot: Shot, place: tuple[int, int]) -> Floats:
    """Return a shot's points as dots from the page's lower left corner, (n, 2)."""
    return np.array(place) + shot.at * [1.0, -1.0] + [0.0, len(shot.pixels)]


def _mark(figure: Any, at: Floats, pose: Pose, *, line: bool) -> None:
    """Ring the contact on the page; ``line``: draw it as far as it reaches, too."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Circle
    from matplotlib.transforms import IdentityTransform

    color = contact_colour(seated=pose.seated)
    dots = figure.dpi / 72
    style: dict[str, Any] = {"transform": IdentityTransform(), "zorder": 5}
    strokes = [(6.0, PAPER), (3.0, color)]
    if line:
        for width, stroke in [(4.0, PAPER), (2.2, color)]:
            figure.add_artist(Line2D(at[1:, 0], at[1:, 1], color=stroke, lw=width, **style))
    x, y = (float(v) for v in at[0])
    for width, stroke in strokes:
        ring = Circle((x, y), RING * dots, fill=False, ec=stroke, lw=width, **style)
        figure.add_artist(ring)
    figure.add_artist(Circle((x, y), 3.2 * dots, fc=color, ec=PAPER, lw=0.8, **style))


def _write(
    figure: Any, x: float, y: float, words: str, *, size: float, bold: bool, color: str
) -> None:
    """Write a line whose baseline starts at a place on paper, inches from the lower left."""
    width, height = figure.get_size_inches()
    figure.text(
        x / width,
        y / height,
        words,
        fontproperties=font(size, bold=bold),
        color=color,
        va="baseline",
        parse_math=False,
        zorder=9,
    )


def _write_heading(figure: Any, page: _Page) -> None:
    y = page.height - MARGIN
    rows = [(line, HEADLINE, True, INK) for line in page.headline]
    rows += [(line, SIZE, False, QUIET) for line in page.moment]
    for line, size, bold, color in rows:
        y -= size * LEADING / 72
        _write(figure, MARGIN, y + size * 0.3 / 72, line, size=size, bold=bold, color=color)


def _write_foot(figure: Any, page: _Page, assembly: Assembly, pose: Pose, height: float) -> None:
    """Write under each view how it is seen."""
    unit = assembly.scene.unit
    near = f"Cut open {rough_length(height, unit)} above the floor, seen from the pull side"
    if pose.touch is not None and pose.touch.against_kind in GROUND:
        near = "At the floor, seen from the pull side"
    if not pose.closed:
        near += "; dashed: the slab closed"
    whole = "From the pull side, the frame as glass"
    for x, words in ((MARGIN, whole), (MARGIN + LEFT + GAP, near)):
        _write(figure, x, MARGIN, words, size=SIZE, bold=False, color=QUIET)


def _write_contact(figure: Any, page: _Page, drop: Floats | None, *, seated: bool) -> None:
    """Write what touches over the near view, a shelf under it, a line down to the ring."""
    from matplotlib.lines import Line2D
    from matplotlib.transforms import IdentityTransform

    color = contact_colour(seated=seated)
    left, shelf = MARGIN + LEFT + GAP, MARGIN + FOOT + TALL + 4 / 72
    step = CONTACT_SIZE * LEADING / 72
    for k, words in enumerate(page.contact):
        y = shelf + 6 / 72 + (len(page.contact) - 1 - k) * step
        _write(figure, left, y, words, size=CONTACT_SIZE, bold=True, color=color)
    if drop is None:
        return
    run = max(text_width(words, CONTACT_SIZE, bold=True) for words in page.contact) / 72
    dots = figure.dpi
    ends = sorted((left * dots, (left + run) * dots, float(drop[0])))
    top = float(drop[1]) + RING * dots / 72
    for xs, ys in (
        ((ends[0], ends[-1]), (shelf * dots, shelf * dots)),
        ((float(drop[0]),) * 2, (top, shelf * dots)),
    ):
        stroke = Line2D(xs, ys, color=color, lw=1.8, transform=IdentityTransform(), zorder=4)
        figure.add_artist(stroke)
