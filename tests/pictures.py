"""Sheets drawn once and read back: their pixels, their colours, and the words on them."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache
from math import radians
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from swingcheck.assembly import Assembly, assemble
from swingcheck.model import Casing, Floor, Leg, Obstacle, Scene, Swing
from swingcheck.render.chart.draw import chart_figure
from swingcheck.render.chart.lines import ChartData, chart_data
from swingcheck.render.compare import CHART, CORNERS, Side, compare_figure, sides_of
from swingcheck.render.exploded.sheet import exploded_figure
from swingcheck.render.margins.bands import MapData, map_data
from swingcheck.render.margins.sheet import margin_figure
from swingcheck.render.pen.page import figure_bytes
from swingcheck.render.pen.subject import Subject, subject_of
from swingcheck.render.plan.sheet import plan_figure
from swingcheck.render.plan.true_sheet import true_figure
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import Found
from tests.factory import CASING, LOCK, SQUARE, bevel, changed, plain_scene, rounded, square_scene
from tests.openings import random_opening

HOUSE = Path(__file__).parents[1] / "scenes"

TIGHT: dict[str, Any] = {
    "hinge__jamb__setbacks": (0.28125,) * 3,
    "hinge__slab__setbacks": (0.3125,) * 3,
}
"""The slab set 1/32 past the hinge stop: it pinches."""

NARROW: dict[str, Any] = {"slab__width": (30.0,), "slab__strike_edge": SQUARE}
SOFA = Obstacle(name="sofa", corner=(-20.0, 15.0, 0.0), size=(30.0, 30.0, 30.0))
STOVE = Obstacle(name="stove", corner=(0.5, -30.0, 0.0), size=(25.0, 5.0, 40.0))

BOTH_WAYS = read_scene(HOUSE / "servery.toml")
PAIR, DUTCH = read_scene(HOUSE / "dining_room.toml"), read_scene(HOUSE / "back_kitchen.toml")
HALF_OPEN = Swing(both_ways=True, start=radians(30.0), wanted=radians(90.0), limit=radians(100.0))
PINCHING_PAIR = changed(PAIR, inactive__hinge__slab__setbacks=(0.5,) * PAIR.inactive.hinge.count)

SCENES: dict[str, Scene] = {
    "plain": plain_scene(),
    "plain, right, mm": plain_scene(hinges_on="right", unit="mm", hinge__corner_radius=0.0),
    "swings": plain_scene(lock=LOCK, casing=CASING),
    "swings, mm": plain_scene(unit="mm"),
    "rests": square_scene(hinge__jamb__setbacks=(0.25,) * 3),
    "pinches": plain_scene(**TIGHT),
    "pinches, right": plain_scene(hinges_on="right", **TIGHT),
    "pinches, right, mm": plain_scene(hinges_on="right", unit="mm", **TIGHT),
    "strikes": plain_scene(**NARROW),
    "strikes, right": plain_scene(hinges_on="right", **NARROW),
    "strikes, mm": plain_scene(unit="mm", **NARROW),
    "strikes, bevelled": plain_scene(slab__width=(30.0,), slab__strike_edge=bevel(4.0)),
    "twisted leg": plain_scene(
        slab__hinge_edge=SQUARE, opening__hinge_leg=Leg(twist=(radians(3.0),))
    ),
    "twisted, out of plumb": plain_scene(
        opening__hinge_leg=Leg(twist=(radians(2.0),), plumb=(0.0, 0.1))
    ),
    "cross-legged": plain_scene(opening__hinge_leg=Leg(cross=(0.0, 0.25, 0.5))),
    "drags": plain_scene(floor=Floor(across=-0.0195)),
    "blocked": plain_scene(floor=Floor(covering=0.75)),
    "fouls": plain_scene(swing__start=radians(45.0), obstacles=(SOFA,)),
    "starts half open": plain_scene(swing__start=radians(45.0)),
    "wide casing": plain_scene(casing=Casing(thickness=1.5, width=4.0, reveal=0.1)),
    "no stop": plain_scene(stop=None, hinges_on="right"),
    "no stop, square": plain_scene(stop=None, slab__hinge_edge=SQUARE),
    "round edges": plain_scene(slab__hinge_edge=rounded(6.0), slab__strike_edge=rounded(6.0)),
    "round hinge edge": plain_scene(slab__hinge_edge=rounded(3.0)),
    "narrow": plain_scene(slab__width=(11.875,), opening__width=(12.125,)),
    "wide": plain_scene(opening__width=(36.0,), slab__width=(35.75,)),
    "thick": plain_scene(
        slab__thickness=2.25,
        opening__rabbet__hinge=(2.3125,),
        opening__rabbet__strike=(2.3125,),
        opening__depth=6.0,
    ),
    "proud screws": plain_scene(hinge__screw_proud=0.02, title="The $5 door"),
    "long title": plain_scene(title="The $5 door that nobody could shut in August; " * 6),
    "uneven": plain_scene(
        opening__width=(30.06, 30.125, 30.2),
        opening__hinge_leg=Leg(plumb=(0.0, 0.05, -0.02)),
        opening__height=(80.5, 80.6),
        floor=Floor(across=0.01),
    ),
    "overlaps": plain_scene(opening__strike_leg=Leg(plumb=(0.0, 0.3, 0.0))),
    "right, mm": plain_scene(hinges_on="right", unit="mm", opening__width=(30.1, 30.2)),
    "arched": plain_scene(
        opening__arch=4.0, slab__arch=4.0, opening__height=(76.5, 76.5), slab__height=(75.75, 75.75)
    ),
    "undercut": plain_scene(slab__height=(78.0, 78.0)),
    "push side fouls": replace(BOTH_WAYS, obstacles=(STOVE,), swing=HALF_OPEN),
    "push side blocked": replace(
        BOTH_WAYS, obstacles=(replace(STOVE, corner=(-10.0, -30.0, 0.0)),)
    ),
    "inactive slab": PINCHING_PAIR,
    "inactive slab, right": replace(
        PINCHING_PAIR, hinges_on={"left": "right", "right": "left"}[PAIR.hinges_on]
    ),
    "lower slab": changed(DUTCH, lower__hinge__slab__setbacks=(0.5,) * DUTCH.lower.hinge.count),
}

PAIRS = {
    "square, bevelled": ("strikes", "strikes, bevelled"),
    "pinches, swings": ("pinches", "plain"),
    "right, mm": ("pinches, right, mm", "plain, right, mm"),
    "two alike": ("plain", "plain"),
    "two that touch": ("pinches", "strikes"),
    "another opening": ("plain", "wide"),
    "fouls": ("fouls", "starts half open"),
}
"""What is compared, by its scenes' names."""


@cache
def scene_of(name: str) -> Scene:
    """Return a scene by name: made above, of the house, or random ("opening 3 right mm")."""
    if name.startswith("opening "):
        _, seed, hand, unit = name.split()
        return replace(random_opening(int(seed)), hinges_on=hand, unit=unit)
    return SCENES[name] if name in SCENES else read_scene(HOUSE / f"{name}.toml")


@cache
def found(name: str) -> Found:
    return check(scene_of(name))


@cache
def built(name: str) -> Assembly:
    return assemble(scene_of(name))


@cache
def subject(name: str, degrees: float | None = None) -> Subject:
    """Return what a picture of a scene by name shows, once made for all who ask."""
    return _shown(found(name), None if degrees is None else radians(degrees))


def _shown(result: Found, angle: float | None = None) -> Subject:
    return subject_of(result, f"{result.scene.title}: {result.verdict.value.upper()}", angle)


@cache
def charted(name: str) -> ChartData:
    return chart_data(subject(name))


@cache
def mapped(name: str) -> MapData:
    return map_data(built(name))


@cache
def compared(name: str, angle: float | None = None) -> tuple[Side, Side]:
    first, second = (
        (f"scene {k}", found(scene), subject(scene).caption) for k, scene in enumerate(PAIRS[name])
    )
    return sides_of(first, second, angle)


SHEETS: dict[str, Any] = {
    "plan": lambda name, degrees: plan_figure(subject(name, degrees)),
    "clearance": lambda name, _: chart_figure(charted(name), subject(name).caption),
    "margins": lambda name, _: margin_figure(mapped(name), subject(name).caption),
    "hinge": lambda name, _: exploded_figure(built(name), 1, scene_of(name).title),
    "corners": lambda name, _: true_figure(subject(name)),
    "corners a4": lambda name, _: true_figure(subject(name), "a4"),
    "compare": lambda name, _: compare_figure(compared(name), (CORNERS, CHART)),
}
"""Each sheet's figure of a scene, or of two."""


@dataclass(kw_only=True, eq=False)
class Drawn:
    """A sheet of a scene: its figure, the words on it with their boxes, and its pixels."""

    figure: Any

    def __post_init__(self) -> None:
        self.words = words_on(self.figure)
        self.boxes = dict(self.words)
        self.told = " ".join(line for line, _ in self.words)
        self.misplaced = misplaced(self.figure, self.words)
        self.width = self.figure.bbox.width

    @cached_property
    def picture(self) -> np.ndarray:
        """The sheet, 1000 pixels to a row; its words are measured at its own dots before."""
        return pixels(self.figure, 1000)


@lru_cache(maxsize=12)
def drawn(sheet: str, name: str, degrees: float | None = None) -> Drawn:
    """Return a sheet of a scene; drawn once for all that read it."""
    return Drawn(figure=SHEETS[sheet](name, degrees))


def shown(scene: Scene) -> Subject:
    """Return what a picture of a scene shows, under its verdict's word."""
    return _shown(check(scene))


def pixels(drawn: bytes | Any, width: int = 1000) -> np.ndarray:
    """Return a PNG's pixels, (height, width, 3) uint8, or a figure's so many of them wide."""
    png = drawn if isinstance(drawn, bytes) else figure_bytes(drawn, "png", width)
    return np.array(Image.open(io.BytesIO(png)).convert("RGB"))


def colour_of(code: str) -> np.ndarray:
    return np.array([int(code[k : k + 2], 16) for k in (1, 3, 5)])


def painted(picture: np.ndarray, code: str) -> np.ndarray:
    """Return where a picture has a colour, as (row, column) of every such pixel."""
    return np.argwhere(np.abs(picture - colour_of(code)).sum(axis=2) < 24)


def contrast(first: Any, second: Any) -> float:
    """Return the contrast ratio of two colours (3,), 0 to 255, as WCAG 2.1, 1.4.3, defines it.

    Source: w3.org/TR/WCAG21, "relative luminance".
    """

    def luminance(colour: Any) -> float:
        part = np.asarray(colour) / 255
        linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
        return float(linear @ [0.2126, 0.7152, 0.0722])

    low, high = sorted((luminance(first), luminance(second)))
    return (high + 0.05) / (low + 0.05)


def words_on(figure: Any) -> list[tuple[str, Any]]:
    """Return every line of text on a figure with its box in pixels; no sheet shows its axes."""
    renderer = figure.canvas.get_renderer()
    assert not any(axes.axison for axes in figure.axes)
    written = [*figure.texts, *(text for axes in figure.axes for text in axes.texts)]
    boxes = [(text.get_text(), text.get_window_extent(renderer)) for text in written]
    return [each for each in boxes if each[0].strip()]


def misplaced(figure: Any, written: list[tuple[str, Any]] | None = None) -> list[str]:
    """Return each line of text that leaves the figure or covers another."""
    written = words_on(figure) if written is None else written
    width, height = figure.bbox.width, figure.bbox.height
    faults = [
        f"{words!r} leaves the sheet"
        for words, box in written
        if box.x0 < 0 or box.y0 < 0 or box.x1 > width or box.y1 > height
    ]
    for k, (words, box) in enumerate(written):
        for other, under in written[:k]:
            apart = box.x0 >= under.x1 or under.x0 >= box.x1
            if not apart and box.y0 < under.y1 and under.y0 < box.y1:
                faults.append(f"{words!r} covers {other!r}")
    return faults
