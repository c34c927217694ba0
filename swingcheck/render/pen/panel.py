"""A panel of the sheet: a view of the plan, its frame, and columns of labels beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.assembly import BESIDE, PartKind
from swingcheck.geometry.solid import Floats
from swingcheck.palette import INK, MATERIALS
from swingcheck.render.pen.ink import Pen, page
from swingcheck.render.pen.lettering import Label, stacked, text_width, wrapped
from swingcheck.render.pen.section import Cut, PlanCut

_ORDER = {
    1.0: (PartKind.WALL, PartKind.FLOOR),
    1.1: (PartKind.CARPET,),
    1.2: (PartKind.THRESHOLD,),
    1.4: (PartKind.BASEBOARD,),
    1.5: (PartKind.CASING,),
    1.6: (PartKind.WALL_RETURN, PartKind.OBSTACLE),
    2.0: (PartKind.HINGE_LEG, PartKind.STRIKE_LEG, PartKind.HEAD),
    2.5: (PartKind.HINGE_STOP, PartKind.STRIKE_STOP, PartKind.HEAD_STOP),
    2.8: BESIDE,
    2.9: (PartKind.SHELF,),
    3.0: (PartKind.SLAB,),
    3.2: (PartKind.ASTRAGAL, PartKind.APPLIED),
    3.4: (PartKind.HANDLE,),
    4.0: (PartKind.JAMB_LEAF, PartKind.OTHER_LEAF),
    4.2: (PartKind.SLAB_LEAF,),
    4.4: (PartKind.BARREL,),
}
LEVELS = {kind: level for level, kinds in _ORDER.items() for kind in kinds}
"""Which part is drawn over which: the higher over the lower."""

GHOST_LEVEL = 5.0
BEYOND_LEVEL = 5.2
CONTACT_SIZE = 12.0
SHELF = 4.0
"""Room between the contact's words and the line under them, points."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Box:
    """A rectangle: lower left corner, width and height."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class View:
    """What a window shows, page inches: ``low`` and ``high`` corner, and the paper's scale."""

    low: Floats
    high: Floats
    scale: float

    @property
    def height(self) -> float:
        """How tall it is on paper, inches."""
        return float((self.high - self.low)[1] * self.scale)

    def shows(self, at: Floats | Sequence[float], room: float = 0.0) -> bool:
        """Return whether a page point lies inside, at least ``room`` from the frame."""
        point = np.asarray(at)
        return bool((point > self.low + room).all() and (point < self.high - room).all())


def fitted_view(low: Sequence[float], high: Sequence[float], box: Box) -> View:
    """Return the view that shows a page rectangle as large as a box of paper allows.

    What room is left over shows more: above and below alike.
    """
    paper = np.array([box.width, box.height])
    corner, across = np.array(low), np.subtract(high, low)
    scale = float((paper / across).min())
    spare = (paper / scale - across) / 2
    return View(low=corner - spare, high=corner + across + spare, scale=scale)


def snug_view(low: Sequence[float], high: Sequence[float], box: Box, *, over: float = 0.0) -> View:
    """Return such a view no taller than it has to be, but for ``over`` points at either end."""
    view = fitted_view(low, high, box)
    more = over / 72 / view.scale
    return View(
        low=np.array([view.low[0], low[1] - more]),
        high=np.array([view.high[0], high[1] + more]),
        scale=view.scale,
    )


def opened_pen(figure: Any, panel: Box, window: Box, view: View, hand: float) -> Pen:
    """Return a pen for a panel whose window (both sheet inches) shows a view."""
    size = figure.get_size_inches()
    # page corners of what either box shows: the window the view, the panel more around it
    corner = np.array([hand * view.low[0], hand * view.high[0]]).min()
    axes = []
    for box in (window, panel):
        away = np.array([box.x - window.x, box.y - window.y]) / view.scale
        low = np.array([corner, view.low[1]]) + away
        high = low + np.array([box.width, box.height]) / view.scale
        made = figure.add_axes(
            (box.x / size[0], box.y / size[1], box.width / size[0], box.height / size[1])
        )
        made.set_axis_off()
        made.patch.set_visible(False)
        made.set_xlim(low[0], high[0])
        made.set_ylim(low[1], high[1])
        axes.append(made)
    axes[1].set_zorder(axes[0].get_zorder() + 1)
    return Pen(window=axes[0], notes=axes[1], scale=view.scale, hand=hand)


def paper_pen(figure: Any, box: Box, window: Box | None = None) -> Pen:
    """Return a pen whose page points are inches of paper from a box's lower left corner.

    What is clipped is clipped to ``window``, a box in the box, where there is one.
    """
    inner = window or Box(x=0.0, y=0.0, width=box.width, height=box.height)
    low = np.array([inner.x, inner.y])
    view = View(low=low, high=low + np.array([inner.width, inner.height]), scale=1.0)
    shown = Box(x=box.x + inner.x, y=box.y + inner.y, width=inner.width, height=inner.height)
    return opened_pen(figure, box, shown, view, 1.0)


def draw_cut(pen: Pen, cut: PlanCut, *, ghost: bool) -> None:
    """Draw a plan section: what is cut, filled; the closed slab dashed; what lies beyond, thin."""
    fill_parts(pen, (*cut.fixed, *cut.moving))
    for part in cut.beyond:
        pen.outline(_paged(part), BEYOND_LEVEL, dashed=False)
    if ghost:
        for part in cut.ghost:
            pen.outline(_paged(part), GHOST_LEVEL, dashed=True)


def fill_parts(pen: Pen, parts: Sequence[Cut]) -> None:
    """Fill what is cut of parts, each as its material is drawn."""
    for part in parts:
        pen.fill(_paged(part), MATERIALS[part.kind], LEVELS[part.kind])


def _paged(part: Cut) -> list[Floats]:
    return [page(outline) for outline in part.outlines]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Note:
    """A label and the page point that it speaks of; ``arrow``: an arrowhead at the point."""

    at: Floats
    words: Label
    arrow: bool = False


def write_column(
    pen: Pen,
    notes: Sequence[Note],
    *,
    x: float,
    side: float,
    low: float,
    high: float,
    backed: bool,
) -> None:
    """Write notes one under another at page ``x``, each with a line to its point.

    ``side`` is the way the text runs from ``x``: 1 toward the strike leg, -1
    toward the hinge leg. The notes stand between page heights ``low`` and
    ``high``, in the order of their points, and never on each other.
    """
    ordered = sorted(notes, key=lambda note: -note.at[1])
    heights = [pen.points(note.words.height) for note in ordered]
    wanted = [float(note.at[1]) for note in ordered]
    centres = stacked(wanted, heights, low, high, pen.points(7.0))
    for note, y in zip(ordered, centres, strict=True):
        near = np.array([x - side * pen.points(4.0), y])
        pen.line([near, note.at])
        if note.arrow:
            pen.arrow(note.at, note.at - near)
        pen.label([x, y], note.words, side=side, backed=backed)


def write_beside(pen: Pen, view: View, notes: Sequence[Note], side: float) -> None:
    """Write notes in a column beside the window; see :func:`write_column`."""
    x = (view.low if side < 0 else view.high)[0] + side * pen.points(6.0)
    low, high = view.low[1], view.high[1]
    write_column(pen, notes, x=float(x), side=side, low=low, high=high, backed=False)


def write_title(pen: Pen, view: View, title: str, unit: str, *, above: float) -> None:
    """Write a close-up's name, and a bar of known length at the other end.

    ``above`` is how far the row's middle stands above the window, points.
    """
    y = view.high[1] + pen.points(above)
    left, right = _ends(pen)
    side = pen.hand
    pen.text([left, y], title, side=side, size=13.0, bold=True)
    length, words = (1.0, "1 in") if unit == "in" else (20 / 25.4, "20 mm")
    run = length * side
    end = right - side * pen.points(text_width(words) + 8.0)
    pen.line([np.array([end - run, y]), np.array([end, y])], color=INK, width=2.2, halo=False)
    for mark in (end - run, end):
        ticks = [np.array([mark, y + k * pen.points(4.0)]) for k in (-1, 1)]
        pen.line(ticks, color=INK, width=1.2, halo=False)
    pen.text([right, y], words, side=-side)


def contact_lines(words: str, width: float) -> tuple[str, ...]:
    """Return the contact's sentence as lines that fit a width in points."""
    return wrapped(words, width, CONTACT_SIZE, bold=True)


def contact_room(lines: Sequence[str]) -> float:
    """Return the height in inches of the band that holds the contact's sentence, if any."""
    return (len(lines) * CONTACT_SIZE * 1.35 + 3 * SHELF) / 72 if lines else 0.0


def write_contact(
    pen: Pen, view: View, at: Floats | None, lines: Sequence[str], color: str
) -> None:
    """Write the contact's sentence over the window, a shelf under it, a line down to the mark."""
    left, _ = _ends(pen)
    shelf = view.high[1] + pen.points(SHELF)
    step = pen.points(CONTACT_SIZE * 1.35)
    for k, line in enumerate(lines):
        y = shelf + pen.points(SHELF) + step * (len(lines) - k - 0.5)
        pen.text([left, y], line, side=pen.hand, size=CONTACT_SIZE, bold=True, color=color)
    run = max((text_width(line, CONTACT_SIZE, bold=True) for line in lines), default=0.0)
    end = left + pen.hand * pen.points(run)
    if at is None:
        return
    drop = float(at[0])
    low, *_, high = sorted((left, end, drop))
    for ends, halo in (
        ([[low, shelf], [high, shelf]], False),
        ([[drop, shelf], [drop, at[1] + pen.points(10.0)]], True),
    ):
        pen.line(np.array(ends), color=color, width=1.5, level=7.9, halo=halo)


def _ends(pen: Pen) -> tuple[float, float]:
    """Return the panel's left and right end on paper, as page ``x``."""
    xa, xb = pen.notes.get_xlim()
    return float(xa) * pen.hand, float(xb) * pen.hand
