"""The bevel of a slab's edges: the least that works, and what margin each bevel asks for.

A square strike edge swings out before it swings in: its narrow-face arris is
farther from the pin than its wide-face arris is across the opening, so the
margin has to be that much wider. A bevel takes the arris back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot, sqrt

import numpy as np

from swingcheck.advice.judge import Judge
from swingcheck.advice.search import flip
from swingcheck.advice.setback import Setting, on_mark
from swingcheck.advice.window import END_IN, Window, window_of
from swingcheck.assembly import PartKind, bare_assembly
from swingcheck.assembly.frame import jamb_parts
from swingcheck.assembly.hang import hanging
from swingcheck.assembly.slab import slab_solid
from swingcheck.chance.measurements import measurement
from swingcheck.geometry.contact import first_contact
from swingcheck.geometry.features import Features, features
from swingcheck.model import Edge, EdgeShape, Floor, LeafLayout, Leg, Rabbet, Scene, station_value
from swingcheck.swing.margins import closed_margins, pins_found

#: How much room beside the slab a margin is looked for in, inches.
ROOM_IN = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LeastBevel:
    """One edge's bevels that work: the window, and the least of them rounded up to half a degree.

    ``least`` is ``None`` where no bevel works, 0 where the edge may be square.
    """

    edge: str
    window: Window
    least: float | None
    setting: Setting | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginRow:
    """The least strike margin of a slab of one width, inches, for each bevel."""

    width: float
    margins: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginTable:
    """The least strike margin against bevel for slabs of one thickness.

    ``proud`` is how far the pin stands beyond the wide face; ``bevels`` are
    radians.
    """

    thickness: float
    proud: float
    bevels: tuple[float, ...]
    rows: tuple[MarginRow, ...]


def least_bevels(scene: Scene) -> tuple[LeastBevel, ...]:
    """Return the least bevel of either edge that is not round, the other edge as it is."""
    edges = {"hinge": scene.slab.hinge_edge, "strike": scene.slab.strike_edge}
    return tuple(_least_bevel(scene, name) for name, edge in edges.items() if not edge.is_round)


def _least_bevel(scene: Scene, edge: str) -> LeastBevel:
    judge = Judge(scene, measurement(scene, f"slab.{edge}_edge.bevel"))
    found = window_of(judge)
    if not found.works:
        return LeastBevel(edge=edge, window=found, least=None, setting=None)
    first = found.works[0]
    least, step = first.low.value, judge.measurement.step(scene)
    value = on_mark(judge, found, 0.0, least)
    fit = judge.fit(value)
    assert fit is not None
    setting = Setting(value=value, step=step, interval=first, fit=fit)
    return LeastBevel(edge=edge, window=found, least=least, setting=setting)


def margin_tables(
    scene: Scene,
    *,
    widths: Sequence[float],
    thicknesses: Sequence[float],
    bevels: Sequence[float],
) -> tuple[MarginTable, ...]:
    """Return the least strike margin that lets slabs swing, one table a thickness.

    ``scene`` is where the hinges come from. The opening is taken plumb, square and
    level; with the thickness its rabbet and the hinges' width grow, so that the pin
    stands as far beyond the wide face as in the scene. Widths (on the wide face)
    and thicknesses are inches, the strike edge's bevels radians.
    """
    tables = []
    for thickness in thicknesses:
        true = true_opening(scene, thickness)
        leg = strike_leg_features(true)
        rows = [
            MarginRow(
                width=width,
                margins=tuple(least_strike_margin(true, width, bevel, leg) for bevel in bevels),
            )
            for width in widths
        ]
        proud = pins_found(bare_assembly(true)).proud
        tables.append(
            MarginTable(thickness=thickness, proud=proud, bevels=tuple(bevels), rows=tuple(rows))
        )
    return tuple(tables)


def true_opening(scene: Scene, thickness: float) -> Scene:
    """Return the scene's hinges in a plumb, square and level opening, for a slab so thick."""
    opening, slab, hinge = scene.opening, scene.slab, scene.hinge
    by = thickness - slab.thickness
    rabbet = opening.rabbet.hinge[0] + by
    height = max(slab.height)
    level = opening.height[0]
    return replace(
        scene,
        opening=replace(
            opening,
            width=opening.width[:1],
            height=(level, level),
            rabbet=Rabbet(hinge=(rabbet,), strike=(rabbet,), head=(rabbet, rabbet)),
            hinge_leg=Leg(),
            strike_leg=Leg(),
        ),
        slab=replace(slab, thickness=thickness, height=(height, height)),
        hinge=replace(
            hinge,
            open_width=hinge.open_width + 2 * by,
            jamb=_alike(hinge.jamb),
            slab=_alike(hinge.slab),
        ),
        lock=None,
        floor=Floor(),
        casing=None,
        obstacles=(),
    )


def _alike(layout: LeafLayout) -> LeafLayout:
    count = len(layout.tops)
    return replace(layout, setbacks=layout.setbacks[:1] * count, depths=layout.depths[:1] * count)


def strike_leg_features(scene: Scene) -> Features:
    """Return the strike leg's features where the scene's opening width puts it."""
    leg = next(part for part in jamb_parts(scene) if part.kind is PartKind.STRIKE_LEG)
    return features(leg.solid)


def least_strike_margin(
    scene: Scene, width: float, bevel: float, leg: Features | None = None
) -> float:
    """Return the least strike margin that a slab swings past the strike leg with, inches.

    ``scene`` is a plumb, square and level opening; how wide it is does not count.
    The slab is ``width`` on its wide face, its strike edge's ``bevel`` radians;
    ``leg`` is the scene's strike leg, where it is known already.

    The slab is swung against the strike leg, which is brought nearer until they
    touch. The search starts at the closed form for a leg's straight edge and goes
    wide where that does not hold.
    """
    edge = Edge(shape=EdgeShape.BEVEL, bevel=bevel)
    own = replace(scene, slab=replace(scene.slab, width=(width,), strike_edge=edge))
    past = _PastLeg(own, leg or strike_leg_features(scene))
    if past.is_clear(END_IN):
        return 0.0
    proud = pins_found(past.assembly).proud
    near = strike_run_out(own, 0.5, proud, float(past.assembly.axis.point[1]))
    low, high = near - END_IN / 2, near + END_IN / 2
    if past.is_clear(low) or not past.is_clear(high):
        low, high = END_IN, ROOM_IN
    clear, _ = flip(past.is_clear, high, low, END_IN)
    return clear


class _PastLeg:
    """A slab to be swung past its strike leg, the leg as near as is asked for."""

    def __init__(self, scene: Scene, leg: Features) -> None:
        self.assembly = bare_assembly(scene)
        place = self.assembly.place
        self.slab = features(slab_solid(scene)).moved(place[:, :3], place[:, 3])
        self.leg, self.margin = leg, min(closed_margins(self.assembly).strike)

    def is_clear(self, margin: float) -> bool:
        """Tell whether the slab swings past a leg that leaves so much of a strike margin."""
        axis, start = self.assembly.axis, self.assembly.scene.swing.start
        leg = self.leg.moved(np.eye(3), np.array([margin - self.margin, 0.0, 0.0]))
        touch = first_contact(
            [self.slab],
            [leg],
            point=axis.point,
            direction=axis.direction,
            start=start,
            stop=0.0,
            rise=axis.rise,
        )
        return touch is None


def strike_run_out(scene: Scene, fraction: float, proud: float, off_jamb: float) -> float:
    """Return how far past the wide-face arris's closed place the narrow-face arris reaches.

    With ``L`` along the slab from the pin to the strike edge's wide-face
    arris (its width read at a ``fraction`` of the height, 0 at the top), ``T`` the
    thickness, ``p`` how far the pin stands ``proud`` of the wide face and ``i`` how
    far the narrow-face arris stands in from the wide-face one, the narrow-face
    arris sweeps the radius ``hypot(L - i, T + p)``. It meets the strike leg no
    sooner than at the leg's pull-side edge, which the pin stands off by ``o``
    (``off_jamb``): it reaches ``sqrt(radius^2 - o^2)`` across, and the run-out is
    that less ``L``; ``sqrt(L^2 + T^2 + 2 p T) - L`` for a square edge that closes
    flush. Negative where the edge leans enough. Inches.
    """
    slab = scene.slab
    along = station_value(slab.width, fraction) - float(hanging(scene).slab_pins(scene)[0, 0, 0])
    narrow = along - slab.strike_edge.narrow_inset(slab.thickness)
    radius = hypot(narrow, slab.thickness + proud)
    return sqrt(radius**2 - max(off_jamb, 0.0) ** 2) - along
