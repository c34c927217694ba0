"""The two corners close up, at true proportions, with their measurements."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.geometry.solid import Floats
from swingcheck.palette import QUIET
from swingcheck.render.pen.ink import Pen, page
from swingcheck.render.pen.lettering import label
from swingcheck.render.pen.panel import Box, Note, View, fitted_view, write_beside, write_column
from swingcheck.render.pen.words import gap_words
from swingcheck.render.plan.measures import Gap, HingeCorner, LeafIn, StrikeCorner
from swingcheck.units import angle_text, length_text

OPENING_SHOWN = 5.0
"""The widest opening at the strike edge that its close-up stretches to show, inches."""

ROOM = 1.7
"""Air shown to the inside of a stop's nose, for labels, inches at the usual scale."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Corner:
    """What a close-up is written with: a pen, the assembly, its view, how wide a label may be.

    ``column`` is the width of the column beside the window, points.
    """

    pen: Pen
    assembly: Assembly
    view: View
    column: float

    def length(self, value: float) -> str:
        """Return a length as the scene's own unit reads it."""
        return length_text(value, self.assembly.scene.unit)

    def note(
        self, at: Floats, name: str, value: str, room: float | None = None, *, arrow: bool = False
    ) -> Note:
        """Return a note at a page point, as wide as the column or so many points."""
        return Note(at=at, words=label(name, value, room or self.column), arrow=arrow)

    def gap(self, at: Floats, name: str, gap: Gap, room: float | None = None) -> Note:
        """Return a note of a gap's length, or that there is none."""
        return self.note(at, name, gap_words(gap.length, self.assembly.scene.unit), room)

    def nose(self, margin: Gap, way: float) -> float:
        """Return how far a leg's stop comes into the opening, page ``x``."""
        stop = self.assembly.scene.stop
        return float(page(margin.start)[0] + way * (stop.projection if stop else 0.0))

    def column_inside(
        self,
        notes: list[Note],
        x: float,
        side: float,
        low: float | None = None,
        high: float | None = None,
    ) -> None:
        """Write notes in the window's air, as low and as high as page heights or its frame."""
        inset = self.pen.points(6.0)
        low = float(self.view.low[1]) + inset if low is None else low
        high = float(self.view.high[1]) - inset if high is None else high
        write_column(self.pen, notes, x=x, side=side, low=low, high=high, backed=True)


def hinge_view(assembly: Assembly, corner: HingeCorner, box: Box) -> View:
    """Return the view of the hinge corner that fits a box of paper."""
    scene = assembly.scene
    nose = scene.stop.projection if scene.stop else 0.5
    edge, push = _edge_and_push(assembly, corner.margin.start)
    pin = page(corner.pin)
    barrel = scene.hinge.barrel / 2
    back = edge[0] - scene.opening.thickness
    beside = max(back - (pin[0] - barrel), 0.0)
    low = [back - beside - 0.3, pin[1] - barrel - 0.65]
    high = [max(edge[0] + nose + ROOM, pin[0] + 1.8) + beside, push]
    return fitted_view(low, high, box)


def strike_view(assembly: Assembly, corner: StrikeCorner, box: Box) -> View:
    """Return the view of the strike corner that fits a box of paper."""
    scene = assembly.scene
    nose = scene.stop.projection if scene.stop else 0.5
    edge, push = _edge_and_push(assembly, corner.margin.start)
    low = [edge[0] - nose - ROOM, edge[1] - max(corner.opening.length, 0.5) - 0.5]
    high = [edge[0] + scene.opening.thickness + 0.3, push]
    return fitted_view(low, high, box)


def _edge_and_push(assembly: Assembly, margin: Floats) -> tuple[Floats, float]:
    """Return where a leg's margin is read, and how far to the push side to look, page."""
    scene = assembly.scene
    edge = page(margin)
    deep = scene.slab.thickness + 1.1
    if scene.stop is not None:
        rabbet = max(*scene.opening.rabbet.hinge, *scene.opening.rabbet.strike)
        deep = max(deep, rabbet + min(scene.stop.width, 1.5) + 0.15)
    return edge, float(edge[1] + deep)


def write_hinge_corner(corner: Corner, found: HingeCorner) -> None:
    """Write the hinge corner's measurements: margin, clearance, setbacks, mortises, pin."""
    pen, view, scene = corner.pen, corner.view, corner.assembly.scene
    nose = corner.nose(found.margin, 1.0)
    air = nose + pen.points(46.0)
    room = (view.high[0] - air) / pen.points(1.0) - 6.0
    beside = []
    if found.jamb is not None:
        outer = _extended(pen, found.jamb, scene.opening.thickness * 0.6)
        beside.append(corner.note(outer, "setback, jamb", corner.length(found.jamb.setback.length)))
        beside.append(_mortise(corner, found.jamb, "mortise, jamb", 0.45))
    proud = "proud of the wide face" if found.proud >= 0 else "inside the wide face"
    at = page(found.pin) - pen.points(9.0)
    write_beside(
        pen,
        view,
        [*beside, corner.note(at, f"pin, {proud}", corner.length(abs(found.proud)))],
        -1.0,
    )
    _, outer = _dropped(pen, found.margin)
    push, pull, under = [], [corner.gap(outer, "hinge margin", found.margin, room)], air
    if found.slab is not None:
        clear = nose + pen.points(34.0) - page(found.slab.setback.end)[0]
        outer = _extended(pen, found.slab, max(clear, pen.points(24.0)))
        setback = corner.length(found.slab.setback.length)
        push.append(corner.note(outer, "setback, slab", setback, room))
        pull.append(_mortise(corner, found.slab, "mortise, slab", 0.3, room))
        under = max(air, page(found.pin)[0] + scene.hinge.barrel / 2 + pen.points(24.0))
    if found.clearance is not None:
        outer = _beside(pen, found.clearance, nose + pen.points(12.0))
        push.append(corner.gap(outer, "hinge-stop clearance", found.clearance, room))
    floor = max((float(note.at[1]) for note in push), default=0.0) - pen.points(4.0)
    corner.column_inside(push, air, 1.0, low=floor)
    corner.column_inside(pull, under, 1.0, high=page(found.margin.end)[1] - pen.points(10.0))


def write_strike_corner(corner: Corner, found: StrikeCorner) -> None:
    """Write the strike corner's measurements: margin, stop gap, bevel, opening."""
    pen, view = corner.pen, corner.view
    outer, _ = _dropped(pen, found.margin)
    beside = [corner.gap(outer, "strike margin", found.margin), _strike_edge(corner, found)]
    if found.opening.length > 1e-6:
        at, words = _opening(pen, found.opening), corner.length(found.opening.length)
        beside.append(corner.note(at, "opening at the strike edge", words))
    write_beside(pen, view, beside, 1.0)
    if found.stop_gap is not None:
        nose = corner.nose(found.margin, -1.0)
        air = nose - pen.points(34.0)
        room = (air - view.low[0]) / pen.points(1.0) - 6.0
        outer = _beside(pen, found.stop_gap, nose - pen.points(12.0))
        note = corner.gap(outer, "stop gap", found.stop_gap, room)
        corner.column_inside([note], air, -1.0, low=float(outer[1]) - pen.points(4.0))


def _dropped(pen: Pen, margin: Gap) -> tuple[Floats, Floats]:
    """Dimension a margin just beyond the wide face; return the arrows' outer ends."""
    start, end = page(margin.start), page(margin.end)
    y = min(start[1], end[1]) - pen.points(13.0)
    below = [np.array([point[0], y]) for point in (start, end)]
    for point, foot in zip((start, end), below, strict=True):
        pen.line([point, foot - [0.0, pen.points(4.0)]], width=0.8)
    side = np.sign(end[0] - start[0]) if abs(end[0] - start[0]) > 1e-9 else 1.0
    return pen.gap(below[0], below[1], along=np.array([side, 0.0]))


def _beside(pen: Pen, gap: Gap, at: float) -> Floats:
    """Dimension a gap to a stop at page ``x``, clear of its nose; return the arrow's outer end."""
    away = np.array([at - page(gap.start)[0], 0.0])
    return pen.dimension(
        page(gap.start), page(gap.end), away, pen.points(4.0), along=np.array([0.0, -1.0])
    )[0]


def _extended(pen: Pen, leaf: LeafIn, depth: float) -> Floats:
    """Dimension a setback inside the wood, this far under the surface; return its outer end."""
    start, end = page(leaf.setback.start), page(leaf.setback.end)
    away = -page(leaf.out) * depth
    return pen.dimension(start, end, away, pen.points(4.0), along=page(leaf.toward))[0]


def _mortise(
    corner: Corner, leaf: LeafIn, name: str, along: float, room: float | None = None
) -> Note:
    """Point to a mortise's floor, between its buried edge and the arris."""
    at = page(leaf.floor + along * corner.assembly.scene.hinge.reach * leaf.toward)
    return corner.note(at, name, f"{corner.length(leaf.depth)} deep", room, arrow=True)


def _strike_edge(corner: Corner, found: StrikeCorner) -> Note:
    """Show what a square edge would be, and point to the edge as it is."""
    edge, words = corner.assembly.scene.slab.strike_edge, "square"
    wide, narrow, square = (
        page(point) for point in (found.wide_arris, found.narrow_arris, found.square)
    )
    if edge.lean:
        ends = [wide, square + (square - wide) * 0.08]
        corner.pen.line(ends, color=QUIET, width=1.0, clipped=True)
        words = f"bevel {angle_text(edge.bevel)}"
    if edge.is_round:
        words = f"radius {corner.length(edge.radius)}"
    return corner.note(wide + 0.72 * (narrow - wide), "strike edge", words, arrow=True)


def _opening(pen: Pen, opening: Gap) -> Floats:
    """Dimension how far the strike edge is from its closed place; return where to speak of it."""
    start, end = page(opening.start), page(opening.end)
    along = (end - start) / opening.length
    aside = np.array([along[1], -along[0]])
    aside *= -np.sign(aside[0]) if aside[0] else 1.0
    shift = aside * pen.points(40.0)
    if opening.length <= pen.points(30.0):
        return pen.dimension(start, end, shift, pen.points(4.0), along=along)[1]
    for point in (start, end):
        pen.line([point, point + shift * 1.1], width=0.8)
    pen.span(start + shift, end + shift)
    return (start + end) / 2 + shift
