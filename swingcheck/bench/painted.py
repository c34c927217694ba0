"""A scene as it will be once its door is painted, in the month in which the slab is widest.

Paint stands on every face: of the slab, on both its faces, its edges and its
ends, and of the jamb with its stops, which it carries to the pull side as much
as the jamb's edge, so that the rabbet stays. Leaves are let in before, so their
setbacks and depths change with the faces that they are measured from. Wood
swells away from the hinges, and the setback by its share of the thickness.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from swingcheck.bench.season import most_growth
from swingcheck.model import (
    Finish,
    HingeSet,
    LeafLayout,
    Opening,
    PivotSet,
    Scene,
    Slab,
    inactive_scene,
    lower_scene,
)


def in_its_wettest_month(scene: Scene) -> Scene:
    """Return a scene with its slabs painted and swollen and its jamb painted."""
    finish = scene.finish or Finish()
    films = finish.film * finish.slab, finish.film * finish.jamb
    inactive, lower = scene.inactive, scene.lower
    if inactive is not None:
        own = _hung(inactive_scene(scene)[0], films)
        inactive = replace(inactive, **own)
    if lower is not None:
        lower = replace(lower, **_hung(lower_scene(scene), films), gap=lower.gap - 2 * films[0])
    opening = _painted_opening(scene.opening, films[1])
    return replace(scene, opening=opening, inactive=inactive, lower=lower, **_hung(scene, films))


def _painted_opening(opening: Opening, film: float) -> Opening:
    low, high = opening.height
    return replace(
        opening,
        width=tuple(width - 2 * film for width in opening.width),
        height=(low - film, high - film),
    )


def _hung(scene: Scene, films: tuple[float, float]) -> dict[str, Any]:
    """Return a scene's own slab, painted and swollen, with its hinges and pivots."""
    on_slab, on_jamb = films
    wider, thicker = most_growth(scene)
    swollen = 1 + thicker / scene.slab.thickness
    return {
        "slab": _painted_slab(scene.slab, films, wider, thicker),
        "hinge": _painted_hinges(scene.hinge, films, swollen),
        "pivot": scene.pivot and _painted_pivots(scene.pivot, on_slab, on_jamb),
    }


def _painted_slab(slab: Slab, films: tuple[float, float], wider: float, thicker: float) -> Slab:
    film = films[0]
    low, high = slab.height
    return replace(
        slab,
        width=tuple(width + wider + 2 * film for width in slab.width),
        height=(low + 2 * film, high + 2 * film),
        thickness=slab.thickness + thicker + 2 * film,
        head_margin=slab.head_margin - sum(films),
    )


def _painted_hinges(hinge: HingeSet, films: tuple[float, float], swollen: float) -> HingeSet:
    on_slab, on_jamb = films

    def let_in(layout: LeafLayout, film: float, out: float, grown: float) -> LeafLayout:
        return replace(
            layout,
            tops=tuple(top + out for top in layout.tops),
            setbacks=tuple(max(0.0, each * grown + out) for each in layout.setbacks),
            depths=tuple(depth + film for depth in layout.depths),
        )

    return replace(
        hinge,
        jamb=let_in(hinge.jamb, on_jamb, -on_jamb, 1.0),
        slab=let_in(hinge.slab, on_slab, on_slab, swollen),
    )


def _painted_pivots(pivot: PivotSet, on_slab: float, on_jamb: float) -> PivotSet:
    def farther(ends: tuple[float, float], by: float) -> tuple[float, float]:
        return ends[0] + by, ends[1] + by

    return replace(
        pivot,
        edge=farther(pivot.edge, on_slab),
        face=farther(pivot.face, on_slab),
        leg=farther(pivot.leg, -on_jamb),
        out=farther(pivot.out, -on_jamb),
    )
