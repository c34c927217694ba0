"""Why a slab on pivots, on rising hinges or in a pair does not swing."""

from __future__ import annotations

from math import hypot

from swingcheck.assembly import PartKind
from swingcheck.assembly.slab import edge_profile
from swingcheck.model import PivotSet, Scene
from swingcheck.report.lengths import Lengths
from swingcheck.report.words import STATIONS, least_place
from swingcheck.swing.found import Found, Touch

WORTH_SAYING = 1 / 64
"""A rise under this is not the reason for anything, inches."""


def pivot_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return how far the hinge edge swings about its pivots, against the room it has."""
    scene, pivot = result.scene, result.scene.pivot
    assert pivot is not None
    margin, place = least_place(result.margins.hinge, STATIONS)
    if touch.against_kind is PartKind.HINGE_LEG:
        reach = hinge_edge_reach(scene, pivot)
        return (
            f"The hinge edge reaches {lengths.full(reach)} about the pivots, and the hinge leg is"
            f" {lengths.full(min(pivot.leg))} from them: closed, the hinge margin is"
            f" {lengths.full(margin)}{place}."
        )
    deeper = hinge_edge_depth(scene, pivot)
    gap, at = least_place(result.margins.hinge_stop or (0.0, 0.0, 0.0), STATIONS)
    return (
        f"As it turns, the hinge edge swings {lengths.full(deeper)} deeper than the closed slab"
        f" stands, and that is {lengths.full(gap)} off the hinge stop{at}."
    )


def hinge_edge_reach(scene: Scene, pivot: PivotSet) -> float:
    """Return how far from the pivots any part of the hinge edge is, in plan, inches."""
    return max(
        hypot(edge - inset, y + face)
        for edge, face in zip(pivot.edge, pivot.face, strict=True)
        for inset, y in edge_profile(scene.slab.hinge_edge, scene.slab.thickness)
    )


def hinge_edge_depth(scene: Scene, pivot: PivotSet) -> float:
    """Return how much deeper the hinge edge swings than the closed slab's stop-side face, inches.

    What stands beside the pin, away from the slab, goes down as it opens: a
    point ``u`` beside it and ``v`` behind it to ``hypot(u, v)`` behind it.
    """
    thickness = scene.slab.thickness
    deepest = max(
        hypot(max(edge - inset, 0.0), y + face) - (thickness - face)
        for edge, face in zip(pivot.edge, pivot.face, strict=True)
        for inset, y in edge_profile(scene.slab.hinge_edge, thickness)
        if y + face < 0
    )
    return max(float(deepest), 0.0)


def rise_reasons(result: Found, touch: Touch, lengths: Lengths) -> list[str]:
    """Return how far rising hinges have lifted the slab, where it matters."""
    lifted = result.scene.hinge.rise_rate * touch.angle
    if abs(lifted) < WORTH_SAYING:
        return []
    way = "lifted" if lifted > 0 else "let down"
    return [f"its rising hinges have {way} it {lengths.full(abs(lifted))} there"]
