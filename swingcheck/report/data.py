"""What a check found as plain data, ready for JSON: inches and degrees, named so.

Points are in the opening frame seen with the hinges on the left: ``x`` from
the hinge leg toward the strike leg, ``y`` toward the pull side from the jamb's
edge, ``z`` up from the floor.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import degrees, inf
from typing import Any

from swingcheck.advice.answer import Answer
from swingcheck.bench.cautions import cautions
from swingcheck.bench.weight import slab_weight
from swingcheck.report.second_slab import other_data
from swingcheck.swing.found import Clearance, Margins, RoundEdge, Touch

SCHEMA = "swingcheck.check/1"
"""Name and version of the data; the number rises when a key changes its meaning or goes."""

PLACES = 10
"""Decimals that lengths are rounded to; angles keep every digit."""


def check_data(answer: Answer) -> dict[str, Any]:
    """Return a check as nested dicts, lists, texts and numbers, in a fixed order.

    ``blocked_by`` is there only where the start pose overlaps, ``curve`` only
    where a step was asked for, ``push_side`` and ``edges`` only of a slab that
    swings both ways, and ``others`` only where further slabs swing beside this
    one; ``decided_by`` names the one that the verdict is about.
    """
    result = answer.found
    axis = result.axis
    data: dict[str, Any] = {
        "schema": SCHEMA,
        "scene": result.scene.title,
        "verdict": result.verdict.value,
        "closing": _touch(result.closing),
        "opening": _touch(result.opening),
        "margins_in": _margins(result.margins),
        "clearance": _clearance(result.clearances),
        "axis": {
            "point_in": _inches(axis.point),
            "direction": [float(part) for part in axis.direction],
            "proud_in": inches(axis.proud),
            "off_line_in": _inches(axis.off_line),
        },
        "clear_width_in": None if result.clear_width is None else inches(result.clear_width),
        "remedies": [{"words": cure.words, "set": dict(cure.settings)} for cure in answer.cures],
        "assumed": [
            {"key": item.key, "value": item.value, "why": item.why} for item in result.scene.assumed
        ],
        "cautions": list(cautions(result.scene, slab_weight(result.scene))),
    }
    if result.others:
        data["decided_by"] = result.decided_by or None
        data["others"] = [other_data(other) for other in result.others]
    data |= _as_open(answer)
    if result.blocked_by:
        data["blocked_by"] = list(result.blocked_by)
    if result.curve:
        data["curve"] = [
            {
                "angle_deg": degrees(point.angle),
                "clearance_in": inches(point.distance),
                "against": point.against,
            }
            for point in result.curve
        ]
    return data


def _as_open(answer: Answer) -> dict[str, Any]:
    """Return how the slab stands where it stops, and the other side of a double-acting one."""
    data: dict[str, Any] = {}
    result, opened = answer.found, answer.found.opened
    if opened is not None:
        data["opened"] = {"clear_width_in": inches(opened.clear_width)}
        if not opened.by_slab:
            data["opened"]["slab"] = _touch(opened.slab)
        if answer.hinges is not None:
            data["opened"]["hinges"] = {
                "wanted_deg": degrees(answer.hinges.wanted),
                "least_in": inches(answer.hinges.least),
                "stock_in": inches(answer.hinges.stock),
                "swings": answer.hinges.swings,
            }
    if result.push is not None:
        data["push_side"] = {
            "blocked_by": list(result.push.blocked_by),
            "closing": _touch(result.push.closing),
            "opening": _touch(result.push.opening),
        }
    if result.edges:
        data["edges"] = [_edge(edge) for edge in result.edges]
    return data


def _edge(edge: RoundEdge) -> dict[str, Any]:
    """Return a round edge; a radius that is null is a square edge's, or none clears."""

    def radius(value: float | None) -> float | None:
        return None if value is None or value == inf else inches(value)

    return {
        "edge": edge.edge,
        "radius_in": radius(edge.radius),
        "from_axis_in": inches(edge.along),
        "run_out_in": inches(edge.run_out),
        "left_in": inches(edge.left),
        "least_radius_in": radius(edge.least),
        "greatest_radius_in": radius(edge.greatest),
        "left_by_least_in": inches(edge.least_left),
        "at_faces_in": inches(edge.at_faces),
    }


def inches(value: float) -> float:
    """Return a length rounded past any meaning, so that the same scene prints the same.

    Examples
    --------
    >>> inches(0.1 + 0.2), inches(-1e-14)
    (0.3, 0.0)
    """
    return round(float(value), PLACES) + 0.0


def _inches(values: Iterable[float]) -> list[float]:
    return [inches(value) for value in values]


def _touch(touch: Touch | None) -> dict[str, Any] | None:
    if touch is None:
        return None
    return {
        "angle_deg": degrees(touch.angle),
        "opening_at_strike_in": inches(touch.opening_at_strike),
        "against": touch.against,
        "slab_feature": touch.feature,
        "point_in": _inches(touch.point),
    }


def _margins(margins: Margins) -> dict[str, Any]:
    return {
        "hinge": _inches(margins.hinge),
        "strike": _inches(margins.strike),
        "head": _inches(margins.head),
        "bottom": _inches(margins.bottom),
        "hinge_stop": None if margins.hinge_stop is None else _inches(margins.hinge_stop),
        "strike_stop": None if margins.strike_stop is None else _inches(margins.strike_stop),
        **_lip(margins),
    }


def _lip(margins: Margins) -> dict[str, Any]:
    """Return how far a lip's back stands off the frame that it laps."""
    if margins.lip_strike is None:
        return {}
    return {"lip_hinge": _inches(margins.flush), "lip_strike": _inches(margins.lip_strike)}


def _clearance(clearances: tuple[Clearance, ...]) -> dict[str, Any]:
    by_part = [_least(found) for found in clearances]
    if not clearances:
        return {"least_in": None, "angle_deg": None, "against": None, "by_part": by_part}
    return {**_least(min(clearances, key=lambda found: found.least)), "by_part": by_part}


def _least(found: Clearance) -> dict[str, Any]:
    return {
        "least_in": inches(found.least),
        "angle_deg": degrees(found.angle),
        "against": found.against,
    }
