"""Outlines carried up a leg from the floor: legs, stops and casing, opening frame.

Each horizontal section of a leg is straight-sided, so a twisted face is ruled
by level lines. It is parted by levels and, across, into strips; two triangles
stand off it by a quarter of what their cell is twisted, and that is kept
within :data:`TWIST_SAGITTA`. With both counts doubled that falls to a quarter.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, sqrt
from typing import NamedTuple

import numpy as np

from swingcheck.assembly.drafts import Pattern
from swingcheck.assembly.ground import lowest_floor
from swingcheck.assembly.legs import FACE_SAGITTA, LegPlan, Mark, leg_plan, marks_of
from swingcheck.geometry.sizes import Sizes, hold, point, variants
from swingcheck.geometry.solid import Floats
from swingcheck.geometry.solids import Skin, fan
from swingcheck.model import Opening, Scene

#: How far a twisted face's facets may stand off what was measured, inches.
TWIST_SAGITTA = 1e-4

#: Heights nearer to each other than this are one, inches.
_SAME_HEIGHT = 2e-9


@dataclass(frozen=True, slots=True)
class Stage:
    """A height that is none of a leg's marks: an end of the zone ``zone``, where none is parted."""

    zone: int
    is_top: bool


class Levels(NamedTuple):
    """What a leg is carried up through.

    ``marks`` stand between its ends, ``bands`` are the counts of bands
    between them, ``strips`` those of strips on each side of its outline.
    """

    marks: tuple[Mark | Stage, ...]
    bands: tuple[int, ...]
    strips: tuple[int, ...]


class Upright(NamedTuple):
    """An outline of so many ``sides`` carried up a leg: rings (s, k, 3, n), and their levels."""

    name: str
    rings: Floats
    levels: Levels
    sides: int

    @property
    def skin(self) -> Skin:
        """Its solid; the first corner is between two sides that are one strip each."""
        cap = fan(self.rings.shape[1]) if self.sides < 6 else None
        return Skin(self.name, self.rings, cap=cap)


def carried(
    name: str,
    scene: Scene,
    side: int,
    outline: Floats,
    over: Sizes,
    pattern: Pattern,
    *,
    beyond: Sequence[int] = (),
    from_stop: bool = False,
    twists: bool = True,
    stages: Mapping[Stage, Sizes] | None = None,
) -> Upright:
    """Return the rings of an outline carried up a leg from the floor.

    ``side`` is the hinge leg (0) or the strike leg (1). The ``outline`` (k, 2, ...) runs
    along the leg's face from its pull-side edge (``from_stop``: from the stop's face) and
    out of it, and goes so far ``over`` the opening's height, a float or (n,). The slab
    cannot reach the sides ``beyond``. What ``twists`` turns with the leg's face; casing,
    flat on the wall, does not. ``stages`` are heights of its own, the ``pattern`` settles
    its levels.
    """
    opening, flat, stages = scene.opening, variants(outline, 2), stages or {}
    foot = leg_plan(opening, side, 0.0, twists=twists)
    low = lowest_floor(scene, _along(foot, flat, from_stop))
    ends = low, opening.height[side] + over
    levels = pattern.once(
        name, lambda: _settled(opening, side, ends, stages, (flat[..., 0], beyond), twists)
    )
    heights = _heights(name, levels, opening, side, ends, stages)
    leg = leg_plan(opening, side, heights, twists=twists)
    x, y = _along(leg, _parted(flat, levels.strips), from_stop)
    return Upright(name, np.moveaxis(point(x, y, heights), 0, 2), levels, len(outline))


def _along(leg: LegPlan, outline: Floats, from_stop: bool) -> Floats:
    """Return an outline's corners (2, ..., k, n) in plan, on a leg as it stands there."""
    start = leg.rabbet if from_stop else 0.0
    return leg.at(start + outline[:, 0], outline[:, 1])


def _parted(outline: Floats, strips: Sequence[int]) -> Floats:
    """Return an outline (k, 2, n) with its sides parted into strips."""
    following = np.roll(outline, -1, axis=0)
    side = np.repeat(np.arange(len(outline)), strips)
    share = np.concatenate([np.arange(count) / count for count in strips])[:, None, None]
    parted: Floats = outline[side] + share * (following - outline)[side]
    return parted


def _settled(
    opening: Opening,
    side: int,
    ends: tuple[Sizes, Sizes],
    stages: Mapping[Stage, Sizes],
    section: tuple[Floats, Sequence[int]],
    twists: bool,
) -> Levels:
    """Return what an outline (k, 2) of one scene is carried up through.

    A side ``L`` long that turns by ``a`` between two heights is parted into
    ``m`` strips and ``n`` bands with ``L a / (4 m n)`` within the sagitta:
    :data:`FACE_SAGITTA` on the sides that are beyond the slab's reach. The
    first side and the last one, on the wall, and bands in a zone are whole.
    """
    known: dict[float, Mark | Stage] = {
        _first(mark.height(opening)): mark for mark in marks_of(opening, side)
    }
    known |= {_first(height): stage for stage, height in stages.items()}
    low, high = (_first(end) for end in ends)
    heights = [low]
    for z in sorted(known):
        if heights[-1] + _SAME_HEIGHT < z < high - _SAME_HEIGHT:
            heights.append(z)
    marks = tuple(known[z] for z in heights[1:])
    leg = leg_plan(opening, side, np.array([*heights, high]), twists=twists)
    turns, (outline, beyond) = np.hypot(*np.diff(leg.along)), section
    long = np.hypot(*(np.roll(outline, -1, axis=0) - outline).T)
    cells = np.multiply.outer(turns, long) / 4 / TWIST_SAGITTA
    cells[:, list(beyond)] *= TWIST_SAGITTA / FACE_SAGITTA
    if len(outline) < 6:
        cells[:, [0, -1]] = 0.0
    in_zone = np.cumsum([0, *(_step(mark) for mark in marks)]) > 0
    cells[in_zone] = 0.0
    bands = [max(1, ceil(sqrt(row.max()) - 1e-9)) for row in cells]
    strips = np.ceil((cells / np.array(bands)[:, None]).max(axis=0) - 1e-9)
    return Levels(marks, tuple(bands), tuple(np.maximum(strips, 1).astype(int).tolist()))


def _step(mark: Mark | Stage) -> int:
    return 0 if isinstance(mark, Mark) else -1 if mark.is_top else 1


def _first(size: Sizes) -> float:
    return float(np.ravel(size)[0])


def _heights(
    name: str,
    levels: Levels,
    opening: Opening,
    side: int,
    ends: tuple[Sizes, Sizes],
    stages: Mapping[Stage, Sizes],
) -> Floats:
    """Return the heights (s, 1, n) of rings, lowest first.

    Raises GeometryError where they do not rise, or a reading lies between them.
    """
    low, high = ends
    marks = [stages[m] if isinstance(m, Stage) else m.height(opening) for m in levels.marks]
    known = variants(point(low, *marks, high), 1)[:, None]
    band = np.repeat(np.arange(len(levels.bands)), levels.bands)
    up = np.concatenate([np.arange(count) / count for count in levels.bands])[:, None, None]
    found = np.concatenate([known[band] + (known[band + 1] - known[band]) * up, known[-1:]])
    hold(name, np.diff(found, axis=0) > 0, "its heights do not rise at these sizes")
    for mark in set(marks_of(opening, side)) - set(levels.marks):
        z = np.asarray(mark.height(opening))
        beyond = (z < low + _SAME_HEIGHT) | (z > high - _SAME_HEIGHT)
        at_mark = (np.abs(known[:, 0] - z) < _SAME_HEIGHT).any(axis=0)
        hold(name, beyond | at_mark, "a reading lies between its heights at these sizes")
    return found
