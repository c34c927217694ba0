"""What was found as plain data, ready for JSON: the commands that take more than one result.

The number in a schema's name rises when a key changes its meaning or goes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from swingcheck.chance.measurements import Measurement
from swingcheck.model import Scene
from swingcheck.report.shapes import SHAPES, data_of, of_measurement, spans
from swingcheck.swing.trial import wanted_of
from swingcheck.units.plain import measured, plain

if TYPE_CHECKING:
    from swingcheck.advice.bevel import LeastBevel, MarginTable
    from swingcheck.advice.setback import Setting
    from swingcheck.advice.window import Window

__all__ = ["bevel_data", "data_of", "measurements_data", "window_data"]


def window_data(scene: Scene, window: Window, setting: Setting | None) -> dict[str, Any]:
    """Return a window as nested dicts, lists, texts and numbers, in a fixed order."""
    free = window.measurement
    value = None if setting is None else setting.value
    return {
        "schema": "swingcheck.leeway/1",
        "scene": scene.title,
        "key": free.key,
        "what": free.words,
        **of_measurement(free, now=window.now),
        "works_now": window.works_now,
        **of_measurement(free, setting=value),
        "set": {} if value is None else dict(free.settings(scene, value)),
        **spans(window),
        "wanted": data_of(wanted_of(scene)),
    }


def measurements_data(scene: Scene, free: Sequence[Measurement]) -> list[dict[str, Any]]:
    """Return the dimensions of a scene that can be left free, with what they are now."""
    return [
        {"key": each.key, "what": each.words, **of_measurement(each, now=each.value(scene))}
        for each in free
    ]


def bevel_data(
    scene: Scene, edges: Sequence[LeastBevel], tables: Sequence[MarginTable]
) -> dict[str, Any]:
    """Return the least bevel of each edge, and the least strike margin against bevel."""
    return {
        "schema": "swingcheck.bevel/1",
        "scene": scene.title,
        "edges": {
            f"{edge.edge}_edge": {
                **measured("least", edge.least, is_angle=True),
                **window_data(scene, edge.window, edge.setting),
            }
            for edge in edges
        },
        "strike_margin": plain(tables, SHAPES),
    }
