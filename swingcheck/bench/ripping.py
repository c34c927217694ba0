"""How much to take off each edge and end of a slab as delivered, and the marks to do it by.

Marks are in cutting order: hinge edge, strike edge, top, bottom. Each says
what the wide face measures once that cut is made, so that the tape is read on
the wide face alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from swingcheck.assembly import Assembly, bare_assembly
from swingcheck.assembly.slab import width_at
from swingcheck.bench.concerns import Concern, Warned, margin_warnings, short_of, strip_warnings
from swingcheck.bench.sizing import (
    least_floor_margin,
    least_off,
    nominal_slab,
    stations_down,
    strike_margin,
    wanted_margins,
    wanted_slab,
)
from swingcheck.model import Assumed, Delivered, Scene, Share, Slab, Stations
from swingcheck.swing.found import Margins
from swingcheck.swing.margins import closed_margins
from swingcheck.units import length_text

_NOTHING_IN = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One place to measure at while an edge is ripped.

    ``down`` runs from the delivered slab's top end; ``off`` is what comes off
    there on the wide face, ``left`` what the wide face then measures across,
    and ``narrow`` what the narrow face does.
    """

    down: float
    off: float
    left: float
    narrow: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeCut:
    """One vertical edge: marks from the top down, and how the saw is set.

    ``tilt`` is from square, radians, positive in under the wide face;
    ``drop`` how much more comes off the narrow face. ``at_crown``: the edge is
    round, and its width is read at the crown.
    """

    edge: str
    marks: tuple[Mark, ...]
    tilt: float
    drop: float
    at_crown: bool

    @property
    def is_tapered(self) -> bool:
        """Whether more comes off at one end than at the other."""
        off = [mark.off for mark in self.marks]
        return max(off) - min(off) > _NOTHING_IN

    @property
    def is_needed(self) -> bool:
        """Whether the edge is cut or shaped at all."""
        return self.at_crown or bool(self.drop) or self.most_off > _NOTHING_IN

    @property
    def most_off(self) -> float:
        """The most that comes off the wide face."""
        return max(mark.off for mark in self.marks)

    @property
    def deepest(self) -> float:
        """How far the cut goes into the delivered edge, on whichever face is farther."""
        return self.most_off + max(self.drop, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCut:
    """The top or the bottom: what comes off, and how high each edge then is.

    Both are told at the hinge edge and at the strike edge.
    """

    end: str
    off: tuple[float, float]
    left: tuple[float, float]

    @property
    def is_needed(self) -> bool:
        """Whether the end is cut at all."""
        return max(self.off) > _NOTHING_IN


@dataclass(frozen=True, slots=True, kw_only=True)
class Ripping:
    """The cuts, the slab they leave, and the margins it hangs with.

    ``strike_run`` is the least and the
    most strike margin at any height that was measured, and ``over_floor`` the
    least bottom margin through the swing.
    """

    delivered: Delivered
    finished: Slab
    edges: tuple[EdgeCut, EdgeCut]
    ends: tuple[EndCut, EndCut]
    margins: Margins
    strike_run: tuple[float, float]
    over_floor: float
    warned: tuple[Warned, ...]
    assumed: tuple[Assumed, ...]

    @property
    def is_short(self) -> bool:
        """Whether what was delivered is too small for the slab that is wanted."""
        return any(warned.concern is Concern.SHORT for warned in self.warned)

    @property
    def narrow_width(self) -> Stations:
        """The finished width on the narrow face, at the stations of the wide one."""
        slab = self.finished
        edges = (slab.hinge_edge, slab.strike_edge)
        taken = sum(edge.narrow_inset(slab.thickness) for edge in edges)
        return tuple(width - taken for width in slab.width)


def ripping(scene: Scene) -> Ripping:
    """Return the cuts that make the scene's slab of what was delivered.

    What is too small to cut it from makes the largest slab it can, and a
    warning.
    """
    hung = bare_assembly(scene)
    strike, bottom, assumed = wanted_margins(scene)
    wanted = wanted_slab(hung, strike, bottom)
    delivered = scene.slab.delivered
    if delivered is None:
        delivered = nominal_slab(wanted, scene.unit)
        sizes = (length_text(each, scene.unit) for each in (delivered.width, delivered.height))
        why = "smallest that is sold and large enough"
        assumed = (*assumed, Assumed(key="slab.delivered", value=" x ".join(sizes), why=why))
    finished, ends = _trimmed(wanted, delivered)
    finished, edges = _ripped(finished, delivered, ends)
    hung = bare_assembly(replace(scene, slab=finished))
    margins, run = closed_margins(hung), _strike_run(hung)
    warned = (
        *short_of(wanted, finished),
        *_hinge_off_warning(delivered, edges[0]),
        *strip_warnings(
            scene,
            delivered,
            off=[cut.most_off for cut in edges],
            deepest=[cut.deepest for cut in edges],
            end=ends[1].off[0],
        ),
        *margin_warnings(scene.shop, run, (min(margins.head), max(margins.head))),
    )
    foot = width_at(finished, 0.0)
    return Ripping(
        delivered=delivered,
        finished=finished,
        edges=edges,
        ends=ends,
        margins=margins,
        strike_run=run,
        over_floor=least_floor_margin(hung, foot, finished.height[0], scene.swing.wanted),
        warned=warned,
        assumed=assumed,
    )


def finished_scene(scene: Scene, cuts: Ripping) -> Scene:
    """Return the scene with the slab that the cuts leave."""
    return replace(scene, slab=cuts.finished)


def _trimmed(slab: Slab, delivered: Delivered) -> tuple[Slab, tuple[EndCut, EndCut]]:
    spare = delivered.height - max(slab.height)
    hinge, strike = slab.height
    if spare < 0:
        hinge, strike, spare = hinge + spare, strike + spare, 0.0
    high = max(hinge, strike)
    top = EndCut(end="top", off=(high - hinge, high - strike), left=(hinge + spare, strike + spare))
    bottom = EndCut(end="bottom", off=(spare, spare), left=(hinge, strike))
    return replace(slab, height=(hinge, strike)), (top, bottom)


def _ripped(
    slab: Slab, delivered: Delivered, ends: tuple[EndCut, EndCut]
) -> tuple[Slab, tuple[EdgeCut, EdgeCut]]:
    edges = (slab.hinge_edge, slab.strike_edge)
    least = [least_off(edge, slab.thickness) for edge in edges]
    widest = delivered.width - sum(least)
    slab = replace(slab, width=tuple(min(width, widest) for width in slab.width))
    places = _mark_places(slab, ends, delivered.height)
    downs = [down for down, _ in places]
    left = [min(width, widest) for _, width in places]
    hinge = _hinge_off(delivered, [delivered.width - width for width in left], least)
    drop = edges[0].narrow_inset(slab.thickness)
    both = drop + edges[1].narrow_inset(slab.thickness)
    first = [delivered.width - hinge] * len(left)
    return slab, (
        _edge_cut("hinge edge", slab, downs, [delivered.width] * len(left), first, drop),
        _edge_cut("strike edge", slab, downs, first, left, both),
    )


def _mark_places(
    slab: Slab, ends: tuple[EndCut, EndCut], height: float
) -> list[tuple[float, float]]:
    """Return marks down from the delivered slab's top (its ends, or where told) and widths."""
    top, long = ends[0].off[1], slab.height[1]
    last = len(slab.width) - 1
    if last > 1:
        return [(top + long * k / last, width) for k, width in enumerate(slab.width)]
    slope = (slab.width[-1] - slab.width[0]) / long
    return [(down, slab.width[0] + slope * (down - top)) for down in (0.0, height)]


def _hinge_off(delivered: Delivered, off: Sequence[float], least: Sequence[float]) -> float:
    """Return what comes off the hinge edge, of what comes off in all at each mark."""
    most, even = min(off) - least[1], (off[0] + off[-1]) / 4
    wanted = {Share.HINGE: most, Share.STRIKE: least[0]}.get(delivered.share, even)
    told = delivered.hinge_off
    return max(min(wanted if told is None else told, most), least[0])


def _edge_cut(
    name: str,
    slab: Slab,
    downs: Sequence[float],
    before: Sequence[float],
    left: Sequence[float],
    drop: float,
) -> EdgeCut:
    """Return one edge's cut; ``drop`` is what the edges cut so far take off the narrow face."""
    edge = slab.hinge_edge if name == "hinge edge" else slab.strike_edge
    marks = tuple(
        Mark(down=down, off=was - now, left=now, narrow=now - drop)
        for down, was, now in zip(downs, before, left, strict=True)
    )
    return EdgeCut(
        edge=name,
        marks=marks,
        tilt=edge.lean,
        drop=edge.narrow_inset(slab.thickness),
        at_crown=edge.is_round,
    )


def _hinge_off_warning(delivered: Delivered, cut: EdgeCut) -> list[Warned]:
    told = delivered.hinge_off
    if told is None or abs(told - cut.most_off) < _NOTHING_IN:
        return []
    return [Warned(concern=Concern.TOLD, place=cut.edge, amount=told, limit=cut.most_off)]


def _strike_run(hung: Assembly) -> tuple[float, float]:
    slab = hung.scene.slab
    fall, foot = slab.height[0] - slab.height[1], slab.height[0]
    margins = [
        strike_margin(hung, width_at(slab, foot - down), down)
        for down in stations_down(hung, fall, foot)
    ]
    return min(margins), max(margins)
