"""The margin map as one page: the closed slab from the pull side, its margins and their figures.

Margins are drawn wide and coloured by how wide they are. What is seen here is not cut,
so nothing is hatched.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from swingcheck.assembly import barrel_parts
from swingcheck.assembly.slab import bore_centre
from swingcheck.geometry.solid import Floats
from swingcheck.palette import CONTACT, FRAME_LINE, INK, JAMB, METAL, PAPER, QUIET, SLAB
from swingcheck.render.margins.bands import (
    EVEN_IN,
    STEPS,
    Band,
    MapData,
    gap_material,
    runs,
    scale_items,
    widest,
)
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.lettering import SIZE, Label, label, stacked, wrapped
from swingcheck.render.pen.page import GUTTER, SWATCH, draw_swatch, plain_page
from swingcheck.render.pen.panel import Box, Note, View, opened_pen, paper_pen, write_column
from swingcheck.render.pen.section import plan_hand
from swingcheck.render.pen.words import gap_words
from swingcheck.swing.margins import MarginLine
from swingcheck.units import length_text, rough_length

COLUMN = 1.3
"""Room for the legs' figures at either side, inches."""

END_COLUMN, ALONE = 1.35, 2.0
"""Widest figure over the head and under the floor, and of one that is alone there, inches."""

STRIP = 0.16
"""Width on paper of what is drawn of the legs and the head, inches."""

SPREAD, WIDEST = 1.8, 1.0
"""Paper inches to an inch of gap, unless a gap would come out wider than this."""

FACE = replace(SLAB, hatch=())
FRAME = replace(JAMB, hatch=())
LEAST_SIZE, READ_SIZE = 6.0, 3.0
"""Radii of the rings at the least gap and wherever a gap is told, points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MapScale:
    """Paper inches to an inch: of the slab, and across its gaps.

    ``over`` and ``under`` are the room for the figures over the head and under
    the floor, inches of paper.
    """

    slab: float
    gap: float
    over: float
    under: float

    @property
    def times(self) -> float:
        """How many times wider than the slab's own scale the gaps are drawn."""
        return self.gap / self.slab


def map_scale(maps: Sequence[MapData], box: Box) -> MapScale:
    """Return one scale at which each of the maps fits a box of paper."""
    gap = min(SPREAD, WIDEST / max(widest(maps), 1e-6))
    over = max(_end_room(data.head, data.unit) for data in maps)
    under = max(_end_room(data.bottom, data.unit) for data in maps)
    scales = []
    for data in maps:
        corners = np.concatenate([band.line.points for band in data.bands])
        across, _, tall = np.ptp(corners, axis=0)
        sides = [float(np.abs(band.line.gaps).max()) * gap for band in data.bands]
        room = box.width - 2 * COLUMN - sides[0] - sides[1] - 2 * STRIP
        height = box.height - over - under - sides[2] - sides[3] - STRIP
        scales.append(min(room / float(across), height / float(tall)))
    return MapScale(slab=min(scales), gap=gap, over=over, under=under)


def _end_room(band: Band, unit: str) -> float:
    """Return the room that a band's figures need over or under it, inches."""
    return max(words.height for _, words in _end_labels(band, unit)) / 72 + 0.28


def draw_map(figure: Any, box: Box, data: MapData, scale: MapScale | None = None) -> None:
    """Draw a margin map into a box of a sheet, hinges on their own side.

    ``scale`` is a common one, where several maps are to be compared.
    """
    scale = scale or map_scale([data], box)
    window = Box(
        x=box.x + COLUMN,
        y=box.y + scale.under,
        width=box.width - 2 * COLUMN,
        height=box.height - scale.over - scale.under,
    )
    view = _view(data, scale, window)
    pen = opened_pen(figure, box, window, view, plan_hand(data.assembly))
    spread = scale.gap / scale.slab
    _draw_frame(pen, data, spread)
    _draw_slab(pen, data)
    for band in data.bands:
        _draw_band(pen, band, spread, data.unit)
    _write_legs(pen, data, view, spread)
    _write_ends(pen, data, spread)


def _view(data: MapData, scale: MapScale, window: Box) -> View:
    """Return the view that has the slab with its gaps in the middle."""
    outer = np.concatenate([_outer(band.line, scale.times) for band in data.bands])
    low, high = outer.min(axis=0), outer.max(axis=0)
    half = np.array([window.width, window.height]) / scale.slab / 2
    middle = np.array([(low[0] + high[0]) / 2, low[1] + half[1]])
    return View(low=middle - half, high=middle + half, scale=scale.slab)


def _inner(line: MarginLine) -> Floats:
    """Return the slab's side on the drawing, (n, 2): across, up."""
    return line.points[:, [0, 2]]


def _outer(line: MarginLine, spread: float) -> Floats:
    """Return the frame's side on the drawing, the gap drawn so many times as wide."""
    return _inner(line) + line.out * (line.gaps * spread)[:, None]


def _draw_band(pen: Pen, band: Band, spread: float, unit: str) -> None:
    """Draw a gap, a colour a class, and a line along the slab and along the frame."""
    inner, outer = _inner(band.line), _outer(band.line, spread)
    for kind, first, last in runs(band.line.gaps, unit):
        ring = np.concatenate([inner[first : last + 1], outer[first : last + 1][::-1]])
        pen.fill([ring], gap_material(kind), 3.5 if kind < 0 else 3.0, edge=0.0)
        if kind < 0:
            along = list(inner[first : last + 1])
            pen.line(along, color=CONTACT, width=5.0, clipped=True, halo=False, level=4.5)
    pen.line(list(outer), color=INK, width=1.3, clipped=True, halo=False, level=4.0)
    pen.line(list(inner), color=INK, width=1.3, clipped=True, halo=False, level=4.0)


def _draw_frame(pen: Pen, data: MapData, spread: float) -> None:
    """Draw a strip of the legs and the head along the gaps, and the floor as a line."""
    strip = STRIP / pen.scale
    hinge, strike, head, floor = (_outer(band.line, spread) for band in data.bands)
    top = max(float(hinge[0, 1]), float(strike[0, 1]), float(head[:, 1].max())) + strip
    foot = floor[:, 1].min()
    for side, way in ((hinge, -1.0), (strike, 1.0)):
        inside = np.concatenate([[[side[0, 0], top]], side, [[side[-1, 0], foot]]])
        beyond = np.array([[side[-1, 0] + way * strip, foot], [side[0, 0] + way * strip, top]])
        pen.fill([np.concatenate([inside, beyond])], FRAME, 1.0, edge=0.8)
    ends = [float(hinge[0, 0]), float(strike[0, 0])]
    under = np.concatenate([[[ends[0], head[0, 1]]], head, [[ends[1], head[-1, 1]]]])
    over = under[::-1] + np.array([0.0, strip])
    pen.fill([np.concatenate([under, over])], FRAME, 1.1, edge=0.8)
    reach = strip + pen.points(8.0)
    left = [float(floor[0, 0]) - reach, float(floor[0, 1])]
    right = [float(floor[-1, 0]) + reach, float(floor[-1, 1])]
    pen.line([np.array(left), *floor, np.array(right)], color=INK, width=2.4, halo=False)


def _draw_slab(pen: Pen, data: MapData) -> None:
    """Draw the slab's face, its barrels and its lock bore, so that sides and ends are known."""
    hinge, strike, head, bottom = (_inner(band.line) for band in data.bands)
    ring = np.concatenate([head, strike[1:], bottom[::-1], hinge[::-1]])
    pen.fill([ring], FACE, 2.0, edge=0.0)
    scene, place = data.assembly.scene, data.assembly.place
    for barrel in barrel_parts(data.assembly):
        if barrel.hinge is None:
            continue
        low, high = barrel.solid.bounds
        x = float(np.interp(-(low[2] + high[2]) / 2, -hinge[:, 1], hinge[:, 0]))
        half = max((high[0] - low[0]) / 2, pen.points(3.5))
        corners = np.array([[x - half, low[2]], [x + half, low[2]]])
        corners = np.concatenate([corners, [[x + half, high[2]], [x - half, high[2]]]])
        pen.fill([corners], METAL, 5.0, edge=0.0)
    if scene.lock is not None:
        centre = place[:, :3] @ bore_centre(scene, scene.lock) + place[:, 3]
        radius = scene.lock.bore / 2 / pen.points(1.0)
        pen.disc(centre[[0, 2]], radius, edge=INK, fill=PAPER, width=1.0, level=2.5)


def told_places(band: Band) -> list[tuple[int, str]]:
    """Return the places of a band that get a figure, and what each is called.

    Those that the check tells, and the least and the most where they are
    somewhere else; an even band says so once.
    """
    if band.is_even:
        return [(STEPS // 2, f"{band.name}, all along")]
    marks = {band.least: "least", band.most: "most"}
    places = dict(zip(band.told, band.places, strict=True))
    for k in marks:
        places.setdefault(k, "")
    told = []
    for k in sorted(places):
        words = [word for word in (places[k], marks.get(k, "")) if word]
        told.append((k, f"{band.name}, {': '.join(words)}"))
    return told


def _write_legs(pen: Pen, data: MapData, view: View, spread: float) -> None:
    """Write the legs' figures in a column at either side."""
    strip = STRIP / pen.scale
    for band, side in ((data.hinge, -1.0), (data.strike, 1.0)):
        inner, outer = _inner(band.line), _outer(band.line, spread)
        edge = outer[:, 0].max() if side > 0 else outer[:, 0].min()
        x = float(edge) + side * (strip + pen.points(16.0))
        notes = []
        for k, name in told_places(band):
            words = label(name, gap_words(float(band.line.gaps[k]), data.unit), COLUMN * 72 - 4)
            notes.append(Note(at=(inner[k] + outer[k]) / 2, words=words))
            _mark(pen, band, k, (inner[k] + outer[k]) / 2)
        write_column(pen, notes, x=x, side=side, low=view.low[1], high=view.high[1], backed=True)


def _mark(pen: Pen, band: Band, place: int, at: Floats) -> None:
    """Mark where a figure is read: a small ring, a larger one about it at the least."""
    color = CONTACT if band.line.gaps[place] < 0 else INK
    is_least = place == band.least and not band.is_even
    for size in (*((LEAST_SIZE,) if is_least else ()), READ_SIZE):
        pen.disc(at, size, edge=color, fill=PAPER)


def _write_ends(pen: Pen, data: MapData, spread: float) -> None:
    """Write the head's figures over it, and the bottom's under the floor."""
    strip = STRIP / pen.scale
    for band, up in ((data.head, 1.0), (data.bottom, -1.0)):
        inner, outer = _inner(band.line), _outer(band.line, spread)
        edge = float(outer[:, 1].max() if up > 0 else outer[:, 1].min())
        edge += up * (strip if up > 0 else 0.0)
        places, labels = zip(*_end_labels(band, data.unit), strict=True)
        widths = [pen.points(words.width) for words in labels]
        wanted = [-float(inner[k, 0]) for k in places]
        far = (-float(inner[-1, 0]) - max(widths), -float(inner[0, 0]) + max(widths))
        centres = stacked(wanted, widths, *far, pen.points(10.0))
        for k, words, x in zip(places, labels, centres, strict=True):
            at = (inner[k] + outer[k]) / 2
            height = pen.points(words.height)
            y = edge + up * (pen.points(12.0) + height / 2)
            pen.line([at, np.array([-x, y - up * height / 2])], width=0.9)
            _mark(pen, band, k, at)
            pen.label([-x, y], words, side=0.0, backed=True)


def _end_labels(band: Band, unit: str) -> list[tuple[int, Label]]:
    """Return the places that are told over the head or under the floor, with their labels."""
    told = told_places(band)
    width = (END_COLUMN if len(told) > 1 else ALONE) * 72
    return [(k, label(name, gap_words(float(band.line.gaps[k]), unit), width)) for k, name in told]


MAP_WIDTH, MAP_HEIGHT = 7.0, 9.6
FLUSH_IN = 1 / 128
"""A face that stands out or back by less is flush."""

ROW = 0.3
STEP = SIZE * 1.36 / 72
"""Heights of a row of the colour scale, and of a line of words, inches."""


def margin_figure(data: MapData, caption: str) -> Any:
    """Return the margin map as a matplotlib figure."""
    map_box = Box(x=0.0, y=0.0, width=MAP_WIDTH, height=MAP_HEIGHT)
    scale = map_scale([data], map_box)
    figure, box = plain_page(caption, map_words(data, scale)).opened(MAP_HEIGHT)
    draw_map(figure, Box(x=box.x, y=box.y, width=MAP_WIDTH, height=MAP_HEIGHT), data, scale)
    beside = MAP_WIDTH + GUTTER
    column = Box(x=box.x + beside, y=box.y, width=box.width - beside, height=MAP_HEIGHT)
    _draw_side(figure, column, data)
    return figure


def map_words(data: MapData, scale: MapScale) -> str:
    """Return the line under the headline: how the map is seen and drawn."""
    side = data.assembly.scene.hinges_on
    return (
        f"The closed slab from the pull side, hinges on your {side}."
        f" Gaps are drawn {scale.times:.0f} times as wide as the slab's scale, and read on the"
        " wide face."
    )


def told_lines(data: MapData) -> tuple[tuple[str, str], ...]:
    """Return what is told beside the map: a name and its figures, as the check has them."""
    sides = (data.hinge, data.strike, data.head)
    tight = min(sides, key=lambda band: float(band.line.gaps[band.least]))
    wide = max(sides, key=lambda band: float(band.line.gaps[band.most]))
    margins, unit = data.margins, data.unit
    told = [
        ("least beside and over the slab", _place(data, tight, tight.least)),
        ("most beside and over the slab", _place(data, wide, wide.most)),
        ("least under the slab", _place(data, data.bottom, data.bottom.least)),
    ]
    for name, gaps in (("hinge stop", margins.hinge_stop), ("strike stop", margins.strike_stop)):
        if gaps is not None:
            told.append((f"slab's face to the {name}", _down(gaps, unit, gap_words)))
    for leg, out in (("hinge", margins.flush), ("strike", margins.flush_strike)):
        told.append((f"wide face, at the {leg} leg's edge", _down(out, unit, _proud_words)))
    return tuple(told)


def _place(data: MapData, band: Band, place: int) -> str:
    """Return a gap and where it is."""
    words = f"{gap_words(float(band.line.gaps[place]), data.unit)}, {band.name}"
    if band.is_even:
        return f"{words}, all along"
    if place in band.told:
        return f"{words}, {band.places[band.told.index(place)]}"
    if len(band.places) == 3:
        height = rough_length(float(band.line.points[place, 2]), data.unit)
        return f"{words}, {height} above the floor"
    first, last = band.line.points[0, 0], band.line.points[place, 0]
    return f"{words}, {rough_length(abs(float(last - first)), data.unit)} from the hinge edge"


def _down(values: Sequence[float], unit: str, words: Callable[[float, str], str]) -> str:
    """Return a figure at the top, the middle and the bottom; one where they are the same."""
    if np.ptp(values) < EVEN_IN:
        return words(values[0], unit)
    told = zip(("top", "middle", "bottom"), values, strict=True)
    return ", ".join(f"{place} {words(value, unit)}" for place, value in told)


def _proud_words(out: float, unit: str) -> str:
    """Return how far a face stands out from an edge, or back of it."""
    if abs(out) < FLUSH_IN:
        return "flush"
    return f"{length_text(abs(out), unit)} {'proud' if out > 0 else 'shy'}"


def _draw_side(figure: Any, box: Box, data: MapData) -> None:
    """Write the colour scale and the figures beside the map."""
    pen = paper_pen(figure, box)
    y = box.height - 0.75
    pen.text([0.0, y], "The gap's colour", side=1.0, size=13.0, bold=True)
    y -= 0.32
    for item in reversed(scale_items(data.unit)):
        draw_swatch(pen, item, np.array([0.0, y]), high=ROW / 2, edge=FRAME_LINE)
        pen.text([SWATCH + 0.12, y], item.words, side=1.0)
        y -= ROW
    y -= 0.35
    for name, figures in told_lines(data):
        pen.text([0.0, y], name, side=1.0, color=QUIET)
        for line in wrapped(figures, box.width * 72, bold=True):
            y -= STEP
            pen.text([0.0, y], line, side=1.0, bold=True)
        y -= STEP * 1.6
