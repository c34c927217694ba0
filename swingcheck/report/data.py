"""What a check found as plain data, ready for JSON: inches and degrees, named so.

Points are in the opening frame seen with the hinges on the left: ``x`` from
the hinge leg toward the strike leg, ``y`` toward the pull side from the jamb's
edge, ``z`` up from the floor.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import degrees
from typing import Any

from swingcheck.analysis.result import CheckResult, Clearance, Margins, Touch
from swingcheck.report.others import other_data

SCHEMA = "swingcheck.check/1"
"""Name and version of the data; the number rises when a key changes its meaning or goes."""

PLACES = 10
"""Decimals that lengths are rounded to; angles keep every digit."""


def check_data(result: CheckResult) -> dict[str, Any]:
    """Return a check as nested dicts, lists, texts and numbers, in a fixed order.

    ``blocked_by`` is there only where the start pose overlaps, ``curve`` only
    where a step was asked for, and ``others`` only where further slabs swing
    beside this one; ``decided_by`` names the one that the verdict is about.
    """
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
        "remedies": [{"words": cure.words, "set": dict(cure.settings)} for cure in result.remedies],
        "assumed": [
            {"key": item.key, "value": item.value, "why": item.why} for item in result.scene.assumed
        ],
        "cautions": list(result.cautions),
    }
    if result.others:
        data["decided_by"] = result.decided_by or None
        data["others"] = [other_data(other) for other in result.others]
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
    }


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
