"""A hinge pulled apart, as one page: drawn to one scale along all three directions, with sizes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import groupby
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly
from swingcheck.geometry.features import creased
from swingcheck.geometry.solid import Floats
from swingcheck.palette import (
    CHAIN,
    DASHED,
    INK,
    JAMB,
    MATERIALS,
    METAL,
    QUIET,
    SLAB,
    STOP,
    Dash,
    Material,
    mixed,
)
from swingcheck.render.exploded.axonometry import ISOMETRIC, Piece, facing, painted, strokes
from swingcheck.render.exploded.parts import Exploded, LetIn, exploded_hinge
from swingcheck.render.pen.eye import SHARP_RAD, dashes
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.lettering import LEADING, SIZE, label
from swingcheck.render.pen.page import INNER, KeyItem, plain_page, swatch
from swingcheck.render.pen.panel import Box, Note, View, opened_pen, snug_view, write_beside
from swingcheck.render.pen.section import plan_hand
from swingcheck.units import length_text

COLUMN, TALLEST = 1.7, 9.6
LIGHT = np.array([0.35, 0.55, 0.76])
"""Where the light comes from: the pull side, high, a little from the opening."""

EYE = ISOMETRIC

STROKES: tuple[tuple[str, float, Dash], ...] = (
    (INK, 1.1, (0.0, ())),
    (QUIET, 1.1, DASHED),
    (INK, 1.2, CHAIN),
)
"""Colour, width in points and dashes of edges, of the ways back, and of the pin line."""

ASIDE = -0.4
"""Where a leaf's length is dimensioned: off its buried edge, inches."""

LEVEL = 0.98
"""A cut that was made level leans no farther than this once the slab is swung back."""


def exploded_figure(assembly: Assembly, hinge: int, title: str) -> Any:
    """Return a hinge pulled apart as a matplotlib figure; ``hinge`` counts from the top."""
    shown = exploded_hinge(assembly, hinge)
    wide = INNER - 2 * COLUMN
    view = _view(shown, Box(x=0.0, y=0.0, width=wide, height=TALLEST))
    page = plain_page(f"{title}: {shown.name} pulled apart", _words(assembly), _key(assembly))
    figure, box = page.opened(view.height)
    window = Box(x=box.x + COLUMN, y=box.y, width=wide, height=box.height)
    pen = opened_pen(figure, box, window, view, -plan_hand(assembly))
    _draw_solids(pen, shown)
    _write_sizes(pen, view, assembly, shown)
    return figure


def _key(assembly: Assembly) -> list[KeyItem]:
    materials = (SLAB, JAMB, *((STOP,) if assembly.scene.stop else ()), METAL)
    return [
        *(swatch(material) for material in materials),
        KeyItem(words="the way back", mark="way"),
        KeyItem(words="pin line", mark="pin"),
    ]


def _words(assembly: Assembly) -> str:
    return (
        "The slab swung right back, seen from the opening on the pull side; the wood is cut short"
        " where it is hatched. One scale along all three directions."
        f" Hinges on your {assembly.scene.hinges_on} from the pull side."
    )


def _view(shown: Exploded, box: Box) -> View:
    """Return the view that holds everything, as wide as the box and no taller than it has to be."""
    half = (shown.pin[1] - shown.pin[0])[2] / 2
    beside = [shown.jamb.at(ASIDE - 0.15, side * half, pulled=True) for side in (-0.7, 0.7)]
    points = np.concatenate([*(solid.vertices for solid in shown.solids), shown.pin, beside])
    flat = EYE.seen(points)
    low, high = flat.min(axis=0) - 0.2, flat.max(axis=0) + 0.2
    return snug_view(low, high, box, over=14.0)


def _draw_solids(pen: Pen, shown: Exploded) -> None:
    """Draw the pieces, their edges, the ways and the pin line, the farthest first."""
    corners = [creased(solid, SHARP_RAD, EYE.toward) for solid in shown.solids]
    broken = [[pen.points(each * width) for each in dash[1]] for _, width, dash in STROKES]
    lines = (
        np.concatenate([points[ends] for points, _, ends in corners]),
        dashes(shown.ways, broken[1]),
        dashes(shown.pin[None], broken[2]),
    )
    drawn = [stroke for kind, each in enumerate(lines) for stroke in strokes(each, kind, EYE)]
    order = painted([*facing(shown.solids, EYE), *drawn])
    for k, (hatched, run) in enumerate(groupby(order, key=partial(_is_hatched, shown))):
        level = 3.0 + k * 1e-3
        if not hatched:
            _paint(pen, shown, list(run), level)
            continue
        for piece in run:
            pen.fill([EYE.seen(piece.corners)], _material(shown, piece), level, edge=0.0)


def _material(shown: Exploded, piece: Piece) -> Material:
    return MATERIALS[shown.pieces[piece.owner].kind]


def _is_hatched(shown: Exploded, piece: Piece) -> bool:
    """Return whether a piece is where wood was cut short: level, at its solid's top."""
    if piece.normal is None:
        return False
    top = shown.solids[piece.owner].bounds[1, 2]
    level = piece.normal[2] > LEVEL and piece.corners[:, 2].max() > top - (1 - LEVEL)
    return bool(level and _material(shown, piece).hatch)


def _paint(pen: Pen, shown: Exploded, run: Sequence[Piece], level: float) -> None:
    """Paint pieces one over another, skin lighter or darker as it lies to the light."""
    from matplotlib.collections import PolyCollection

    tones = [
        STROKES[piece.owner][0]
        if piece.normal is None
        else shaded(_material(shown, piece).fill, float(piece.normal @ LIGHT))
        for piece in run
    ]
    bodies = PolyCollection(
        [pen.place(EYE.seen(piece.corners)) for piece in run],
        facecolors=tones,
        edgecolors=tones,
        linewidths=[0.5 if piece.normal is not None else STROKES[piece.owner][1] for piece in run],
        joinstyle="round",
        capstyle="round",
        zorder=level,
    )
    pen.window.add_collection(bodies, autolim=False)


def shaded(color: str, facing_light: float) -> str:
    """Return a colour as it is on a face turned to the light, from -1 to 1."""
    return mixed(color, 0, 0.215 * max(1.0 - max(facing_light, -1.0), 0.0))


def _write_sizes(pen: Pen, view: View, assembly: Assembly, shown: Exploded) -> None:
    """Write the jamb's sizes in a column on its side, the slab's on the other, and the barrel's."""
    hinge, unit, jamb, slab = assembly.scene.hinge, assembly.scene.unit, shown.jamb, shown.slab
    half, thick = hinge.leaf_length / 2, hinge.leaf_thickness

    def size(name: str, value: float, at: Floats, more: str = "") -> Note:
        """Return a note that points to a place (3,), or stands by a dimension (2,)."""
        words = label(name, f"{length_text(value, unit)}{more}", COLUMN * 72 - 10.0)
        flat = len(at) == 2
        return Note(at=at if flat else EYE.seen(at), words=words, arrow=not flat)

    def let_in(leaf: LetIn, wood: str, over: str) -> list[Note]:
        return [
            size(f"{over} to the top of the leaf", leaf.top, leaf.at(0.5, half)),
            size(f"setback, {wood}", leaf.setback, _setback(pen, leaf, half)),
            size(f"mortise, {wood}", leaf.depth, leaf.at(0.35, 0.2 * half), " deep"),
        ]

    def reach(name: str, value: float, leaf: LetIn, out: float) -> Note:
        place = leaf.at(0.5 * value, -0.5 * half, out, pulled=True)
        return size(f"{name} leaf, buried edge to pin", value, place)

    edge = jamb.at(0.5 * hinge.jamb_reach, half, 0.5 * thick, pulled=True)
    on_jamb = [
        *let_in(jamb, "jamb", "head"),
        size("leaf length", hinge.leaf_length, _length(pen, assembly, jamb, half)),
        size("leaf thickness", thick, edge),
        reach("jamb", hinge.jamb_reach, jamb, thick),
    ]
    on_slab = let_in(slab, "slab", "slab top")
    if hinge.slab_reach != hinge.jamb_reach:
        on_slab.append(reach("slab", hinge.slab_reach, slab, 0.0))
    if hinge.corner_radius > 0:
        bend = hinge.corner_radius * (1 - np.sqrt(0.5))
        corner = slab.at(bend, -half + bend, slab.depth)
        on_slab.append(size("corner radius", hinge.corner_radius, corner))
    write_beside(pen, view, on_jamb, -1.0)
    write_beside(pen, view, on_slab, 1.0)
    _write_barrel(pen, assembly, shown)


def _write_barrel(pen: Pen, assembly: Assembly, shown: Exploded) -> None:
    """Write the barrel's size under the pin line's lower end."""
    low, _ = EYE.seen(shown.pin)
    across = length_text(assembly.scene.hinge.barrel, assembly.scene.unit)
    for k, (words, bold) in enumerate((("barrel diameter", False), (across, True))):
        at = low - [0.0, pen.points(9.0 + k * SIZE * LEADING)]
        pen.text(at, words, bold=bold, color=INK if bold else QUIET, backed=True)


def _setback(pen: Pen, leaf: LetIn, half: float) -> Floats:
    """Dimension a setback on the surface over the mortise; return its outer end (2,)."""
    over = half + 0.3
    start, end = (leaf.at(across, over, leaf.depth) for across in (-leaf.setback, 0.0))
    feet = [leaf.at(across, half, leaf.depth) for across in (-leaf.setback, 0.0)]
    for foot, point in zip(feet, (start, end), strict=True):
        _thin(pen, [foot, point + 0.12 * leaf.frame[:, 1]])
    flat = EYE.seen(np.array([start, end]))
    along = (flat[1] - flat[0]) / np.linalg.norm(flat[1] - flat[0])
    return pen.gap(flat[0], flat[1], along=along)[0]


def _length(pen: Pen, assembly: Assembly, leaf: LetIn, half: float) -> Floats:
    """Dimension the leaf's length beside its buried edge; return its middle (2,)."""
    hinge = assembly.scene.hinge
    thick = hinge.leaf_thickness
    ends = [leaf.at(ASIDE, along, thick, pulled=True) for along in (-half, half)]
    for along, end in zip((-half, half), ends, strict=True):
        start = leaf.at(hinge.corner_radius, along, thick, pulled=True)
        _thin(pen, [start, end - 0.12 * leaf.frame[:, 0]])
    flat = EYE.seen(np.array(ends))
    pen.span(flat[0], flat[1])
    middle: Floats = flat.mean(axis=0)
    return middle


def _thin(pen: Pen, points: Sequence[Floats]) -> None:
    pen.line(list(EYE.seen(np.array(points))), width=0.8)
