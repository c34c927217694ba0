"""The two corners close up, at true proportions, with their measurements."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.geometry.solid import Floats
from swingcheck.model import Edge
from swingcheck.palette import QUIET
from swingcheck.render.pen.ink import Pen, page
from swingcheck.render.pen.lettering import label
from swingcheck.render.pen.panel import Box, Note, View, fitted_view, write_column
from swingcheck.render.plan.measures import Gap, HingeCorner, LeafIn, StrikeCorner
from swingcheck.units import angle_text, length_text

OPENING_SHOWN = 5.0
"""The widest opening at the strike edge that its close-up stretches to show, inches."""

ROOM = 1.7
"""Air shown to the inside of a stop's nose, for labels, inches at the usual scale."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Corner:
    """What a close-up needs besides its pen: the assembly, its view, and how wide a label may be.

    ``column`` is the width of the column beside the window, points.
    """

    assembly: Assembly
    view: View
    column: float

    def length(self, value: float) -> str:
        """Return a length as the scene's own unit reads it."""
        return length_text(value, self.assembly.scene.unit)

    def gap(self, value: float) -> str:
        """Return a gap's length, or that there is none."""
        return self.length(value) if value >= 0 else f"overlaps {self.length(-value)}"


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


def write_hinge_corner(pen: Pen, corner: Corner, found: HingeCorner) -> None:
    """Write the hinge corner's measurements: margin, clearance, setbacks, mortises, pin."""
    view, scene = corner.view, corner.assembly.scene
    nose = page(found.margin.start)[0] + (scene.stop.projection if scene.stop else 0.0)
    air = nose + pen.points(46.0)
    room = (view.high[0] - air) / pen.points(1.0) - 6.0
    write_column(
        pen,
        [*_jamb_leaf(pen, corner, found), _pin(pen, corner, found)],
        x=view.low[0] - pen.points(6.0),
        side=-1.0,
        low=view.low[1],
        high=view.high[1],
        backed=False,
    )
    push, pull = [], [_hinge_margin(pen, corner, found.margin, room)]
    if found.slab is not None:
        push.append(_slab_setback(pen, corner, found.slab, nose, room))
        pull.append(_mortise(corner, found.slab, "slab", room))
    if found.clearance is not None:
        push.append(_clearance(pen, corner, found.clearance, nose, room))
    floor = max((float(note.at[1]) for note in push), default=0.0) - pen.points(4.0)
    write_column(
        pen,
        push,
        x=air,
        side=1.0,
        low=floor,
        high=view.high[1] - pen.points(6.0),
        backed=True,
    )
    write_column(
        pen,
        pull,
        x=air
        if found.slab is None
        else max(air, page(found.pin)[0] + scene.hinge.barrel / 2 + pen.points(24.0)),
        side=1.0,
        low=view.low[1] + pen.points(6.0),
        high=page(found.margin.end)[1] - pen.points(10.0),
        backed=True,
    )


def _jamb_leaf(pen: Pen, corner: Corner, found: HingeCorner) -> list[Note]:
    """Return what is written of the jamb's leaf; nothing without one."""
    if found.jamb is None:
        return []
    return [_jamb_setback(pen, corner, found.jamb), _mortise(corner, found.jamb, "jamb")]


def write_strike_corner(pen: Pen, corner: Corner, found: StrikeCorner) -> None:
    """Write the strike corner's measurements: margin, stop gap, bevel, opening."""
    view, scene = corner.view, corner.assembly.scene
    nose = page(found.margin.start)[0] - (scene.stop.projection if scene.stop else 0.0)
    beside = [_strike_margin(pen, corner, found.margin), _strike_edge(pen, corner, found)]
    if found.opening.length > 1e-6:
        beside.append(_opening(pen, corner, found.opening))
    write_column(
        pen,
        beside,
        x=view.high[0] + pen.points(6.0),
        side=1.0,
        low=view.low[1],
        high=view.high[1],
        backed=False,
    )
    if found.stop_gap is not None:
        air = nose - pen.points(34.0)
        room = (air - view.low[0]) / pen.points(1.0) - 6.0
        note = _stop_gap(pen, corner, found.stop_gap, nose, room)
        write_column(
            pen,
            [note],
            x=air,
            side=-1.0,
            low=float(note.at[1]) - pen.points(4.0),
            high=view.high[1] - pen.points(6.0),
            backed=True,
        )


def _hinge_margin(pen: Pen, corner: Corner, margin: Gap, room: float) -> Note:
    _, end = _dropped(pen, page(margin.start), page(margin.end))
    return Note(at=end, words=label("hinge margin", corner.gap(margin.length), room))


def _strike_margin(pen: Pen, corner: Corner, margin: Gap) -> Note:
    start, _ = _dropped(pen, page(margin.start), page(margin.end))
    return Note(at=start, words=label("strike margin", corner.gap(margin.length), corner.column))


def _dropped(pen: Pen, start: Floats, end: Floats) -> tuple[Floats, Floats]:
    """Dimension a margin just beyond the wide face; return the arrows' outer ends."""
    y = min(start[1], end[1]) - pen.points(13.0)
    below = [np.array([point[0], y]) for point in (start, end)]
    for point, foot in zip((start, end), below, strict=True):
        pen.line([point, foot - [0.0, pen.points(4.0)]], width=0.8)
    side = np.sign(end[0] - start[0]) if abs(end[0] - start[0]) > 1e-9 else 1.0
    return pen.gap(below[0], below[1], along=np.array([side, 0.0]))


def _clearance(pen: Pen, corner: Corner, gap: Gap, nose: float, room: float) -> Note:
    at = nose + pen.points(12.0)
    outer = _beside(pen, gap, at)
    return Note(at=outer, words=label("hinge-stop clearance", corner.gap(gap.length), room))


def _stop_gap(pen: Pen, corner: Corner, gap: Gap, nose: float, room: float) -> Note:
    outer = _beside(pen, gap, nose - pen.points(12.0))
    return Note(at=outer, words=label("stop gap", corner.gap(gap.length), room))


def _beside(pen: Pen, gap: Gap, at: float) -> Floats:
    """Dimension a gap to a stop at page ``x``, clear of its nose; return the arrow's outer end."""
    start, end = page(gap.start), page(gap.end)
    away = np.array([at - start[0], 0.0])
    for point in (start, end):
        pen.line([point, point + away + np.sign(away) * pen.points(4.0)], width=0.8)
    outer, _ = pen.gap(start + away, end + away, along=np.array([0.0, -1.0]))
    return outer


def _jamb_setback(pen: Pen, corner: Corner, leaf: LeafIn) -> Note:
    depth = corner.assembly.scene.opening.thickness * 0.6
    outer = _extended(pen, leaf, depth)
    words = label("setback, jamb", corner.length(leaf.setback.length), corner.column)
    return Note(at=outer, words=words)


def _slab_setback(pen: Pen, corner: Corner, leaf: LeafIn, nose: float, room: float) -> Note:
    clear = nose + pen.points(34.0) - page(leaf.setback.end)[0]
    outer = _extended(pen, leaf, max(clear, pen.points(24.0)))
    return Note(at=outer, words=label("setback, slab", corner.length(leaf.setback.length), room))


def _extended(pen: Pen, leaf: LeafIn, depth: float) -> Floats:
    """Dimension a setback inside the wood, this far under the surface; return its outer end."""
    inward = -page(leaf.out)
    start, end = page(leaf.setback.start), page(leaf.setback.end)
    for point in (start, end):
        pen.line([point, point + inward * (depth + pen.points(4.0))], width=0.8)
    outer, _ = pen.gap(start + inward * depth, end + inward * depth, along=page(leaf.toward))
    return outer


def _mortise(corner: Corner, leaf: LeafIn, name: str, room: float | None = None) -> Note:
    """Point to a mortise's floor, between its buried edge and the arris."""
    along = 0.45 if name == "jamb" else 0.3
    at = page(leaf.floor + along * corner.assembly.scene.hinge.reach * leaf.toward)
    width = corner.column if room is None else room
    words = label(f"mortise, {name}", f"{corner.length(leaf.depth)} deep", width)
    return Note(at=at, words=words, arrow=True)


def _pin(pen: Pen, corner: Corner, found: HingeCorner) -> Note:
    at = page(found.pin) - pen.points(9.0)
    proud = "proud of the wide face" if found.proud >= 0 else "inside the wide face"
    return Note(at=at, words=label(f"pin, {proud}", corner.length(abs(found.proud)), corner.column))


def _strike_edge(pen: Pen, corner: Corner, found: StrikeCorner) -> Note:
    """Show what a square edge would be, and point to the edge as it is."""
    edge = corner.assembly.scene.slab.strike_edge
    wide, narrow, square = (
        page(point) for point in (found.wide_arris, found.narrow_arris, found.square)
    )
    if edge.lean:
        pen.line([wide, square + (square - wide) * 0.08], color=QUIET, width=1.0, clipped=True)
    at = wide + 0.72 * (narrow - wide)
    words = label("strike edge", _edge_words(corner, edge), corner.column)
    return Note(at=at, words=words, arrow=True)


def _edge_words(corner: Corner, edge: Edge) -> str:
    if edge.is_round:
        return f"radius {corner.length(edge.radius)}"
    if edge.lean:
        return f"bevel {angle_text(edge.bevel)}"
    return "square"


def _opening(pen: Pen, corner: Corner, opening: Gap) -> Note:
    """Dimension how far the strike edge is from its closed place."""
    start, end = page(opening.start), page(opening.end)
    words = label("opening at the strike edge", corner.length(opening.length), corner.column)
    along = (end - start) / opening.length
    aside = np.array([along[1], -along[0]])
    aside *= -np.sign(aside[0]) if aside[0] else 1.0
    shift = aside * pen.points(40.0)
    for point in (start, end):
        pen.line([point, point + shift * 1.1], width=0.8)
    if opening.length > pen.points(30.0):
        pen.span(start + shift, end + shift)
        return Note(at=(start + end) / 2 + shift, words=words)
    _, outer = pen.gap(start + shift, end + shift, along=along)
    return Note(at=outer, words=words)
