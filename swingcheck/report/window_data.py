"""Windows and settings as plain data, ready for JSON: inches and degrees, named so.

Values of a dimension that is an angle are degrees under ``_deg`` keys, all
others inches under ``_in`` keys.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees
from typing import Any

from swingcheck.advice.answer import Answer
from swingcheck.advice.setback import Setback
from swingcheck.advice.setting import Setting
from swingcheck.advice.window import End, Fault, Interval, Miss, Window
from swingcheck.chance.measurements import Dimension
from swingcheck.model import Scene
from swingcheck.report.data import check_data, inches
from swingcheck.swing.trial import Trial, wanted_of

WINDOW_SCHEMA = "swingcheck.leeway/1"
SETBACK_SCHEMA = "swingcheck.setback/1"


def window_data(scene: Scene, window: Window, setting: Setting | None) -> dict[str, Any]:
    """Return a window as nested dicts, lists, texts and numbers, in a fixed order."""
    return {
        "schema": WINDOW_SCHEMA,
        "scene": scene.title,
        "key": window.dimension.key,
        "what": window.dimension.words,
        **_value(window, "now", window.now),
        "works_now": window.works_now,
        **_value(window, "setting", None if setting is None else setting.value),
        "set": {} if setting is None else dict(window.dimension.settings(scene, setting.value)),
        **_spans(window),
        "wanted": wanted_data(scene),
    }


def dimensions_data(scene: Scene, free: Sequence[Dimension]) -> list[dict[str, Any]]:
    """Return the dimensions of a scene that can be left free, with what they are now."""
    rows = []
    for each in free:
        suffix, now = ("deg", degrees) if each.is_angle else ("in", inches)
        rows.append({"key": each.key, "what": each.words, f"now_{suffix}": now(each.value(scene))})
    return rows


def setback_data(found: Setback) -> dict[str, Any]:
    """Return where to set the jig as nested dicts, lists, texts and numbers, in a fixed order."""
    setting, scene, jig = found.setting, found.scene, found.scene.shop.jig_setback
    away = None if setting is None else inches(setting.value - found.now)
    settings = {} if setting is None else found.window.dimension.settings(scene, setting.value)
    return {
        "schema": SETBACK_SCHEMA,
        "scene": scene.title,
        "side": found.side,
        "setting_in": None if setting is None else inches(setting.value),
        "rounded_to_in": None if setting is None else inches(setting.step),
        "room_in": None if setting is None or setting.room is None else inches(setting.room),
        "set": dict(settings),
        "jig_in": None if jig is None or found.side != "slab" else inches(jig),
        "now_in": inches(found.now),
        "away_in": away,
        "least_change_in": None if found.least is None else inches(found.least - found.now),
        **_spans(found.window),
        "at_setting": None if setting is None else fit_data(setting.fit),
        "at_now": fit_data(found.at_now),
        "check": None if found.result is None else check_data(Answer(found=found.result)),
        "wanted": wanted_data(scene),
    }


def wanted_data(scene: Scene) -> dict[str, float]:
    """Return what a setting may not go past."""
    wanted = wanted_of(scene)
    return {
        "least_margin_in": inches(wanted.least_margin),
        "hinge_stop_in": inches(wanted.hinge_stop),
        "flush_in": inches(wanted.flush),
    }


def fit_data(fit: Trial) -> dict[str, Any]:
    """Return what a scene comes to: its verdict, and the least of its closed margins."""
    margins = fit.margins
    return {
        "verdict": fit.verdict.value,
        "fits": fit.fits,
        "hinge_stop_in": None if margins.hinge_stop is None else inches(min(margins.hinge_stop)),
        "hinge_margin_in": inches(min(margins.hinge)),
        "strike_margin_in": inches(min(margins.strike)),
        "head_margin_in": inches(min(margins.head)),
        "bottom_margin_in": inches(min(margins.bottom)),
        "wide_face_in": [inches(value) for value in margins.flush],
    }


def _value(window: Window, name: str, value: float | None) -> dict[str, float | None]:
    suffix = "deg" if window.dimension.is_angle else "in"
    if value is None:
        return {f"{name}_{suffix}": None}
    return {f"{name}_{suffix}": inches(degrees(value) if window.dimension.is_angle else value)}


def _spans(window: Window) -> dict[str, Any]:
    low, high = window.span
    return {
        "looked_at": {**_value(window, "low", low), **_value(window, "high", high)},
        "works": [_interval(window, each) for each in window.works],
        "swings": [_interval(window, each) for each in window.swings],
        "near_miss": _miss(window, window.miss),
    }


def _interval(window: Window, interval: Interval) -> dict[str, Any]:
    return {
        **_value(window, "low", interval.low.value),
        **_value(window, "high", interval.high.value),
        "below": _beyond(interval.low),
        "above": _beyond(interval.high),
    }


def _beyond(end: End) -> dict[str, Any] | None:
    return None if end.beyond is None else _fault(end.beyond)


def _miss(window: Window, miss: Miss | None) -> dict[str, Any] | None:
    if miss is None:
        return None
    return {
        **_value(window, "value", miss.value),
        "faults": [_fault(fault) for fault in miss.faults],
    }


def _fault(fault: Fault) -> dict[str, Any]:
    touch = fault.touch
    return {
        "verdict": None if fault.verdict is None else fault.verdict.value,
        "limit": None if fault.limit is None else fault.limit.value,
        "short_in": inches(fault.short),
        "against": listed_against(fault),
        "slab_feature": None if touch is None else touch.feature,
        "angle_deg": None if touch is None else degrees(touch.angle),
        "opening_at_strike_in": None if touch is None else inches(touch.opening_at_strike),
    }


def listed_against(fault: Fault) -> list[str]:
    """Return the fixed parts that are touched, or overlapped at the start."""
    if fault.touch is None:
        return list(fault.blocked_by)
    return [fault.touch.against, *fault.touch.also]
