"""Scene files as a test writes them: the plain opening, what is read of it, and its faults."""

from __future__ import annotations

import re
from fractions import Fraction
from math import radians
from operator import attrgetter
from pathlib import Path
from typing import Any

import pytest

from swingcheck.errors import Problem, SceneError
from swingcheck.model import Scene
from swingcheck.scenefile import read_scene

SCENES = Path(__file__).parents[1] / "scenes"
"""The folder of the invented house's scenes."""

OPENING = '[opening]\nwidth = "30 1/8"\nheight = "80 1/2"\n'

METRIC = """
title = "Study"
unit = "mm"
[opening]
width = 841
height = 2005
rabbet = 41
[slab]
width = 834
thickness = 39
height = 1985
[hinge]
slab = { setback = 6 }
"""


def read(text: str, *settings: str) -> Scene:
    """Return a scene, with settings written ``key=value``."""
    return read_scene(text, settings=[setting.partition("=")[::2] for setting in settings])


def faults(text: str, *settings: str) -> tuple[Problem, ...]:
    """Return the faults of a scene; fail where it has none."""
    with pytest.raises(SceneError) as caught:
        read(text, *settings)
    return caught.value.problems


def assumed(scene: Scene) -> dict[str, str]:
    """Return what a scene assumed, by key."""
    return {each.key: each.value for each in scene.assumed}


def assert_holds(scene: Scene, told: str) -> None:
    """Check what a scene holds: ``path value ...; path value ...``.

    A value is a number, a fraction or so many ``deg``, to the last digits; or a word, with
    ``_`` for a blank, ``None``, ``True``, an enumeration's value. A list has its values in a row,
    an empty one none.
    """
    for each in told.split(";"):
        path, *values = each.split()
        found = attrgetter(path)(scene)
        assert list(map(_as_told, found if isinstance(found, tuple) else [found])) == [
            _number(value) for value in values
        ], path


def _as_told(value: Any) -> Any:
    """Return a number as it is, anything else as a word."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    return str(getattr(value, "value", value)).replace(" ", "_")


def _number(value: str) -> Any:
    """Return a number that is written as one, a word as it is."""
    if not re.fullmatch(r"-?[\d.]+(/\d+)?(deg)?", value):
        return value
    number = float(Fraction(value.removesuffix("deg")))
    return pytest.approx(radians(number) if value.endswith("deg") else number, abs=1e-12)
