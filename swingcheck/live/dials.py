"""What can be dialled on a live page, and the settings that turned dials come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees

from swingcheck.model import Edge, Scene
from swingcheck.units import in_unit

BEVEL_STEP, BEVEL_HIGH = 0.25, 8.0
"""A bevel's dial, degrees."""

STEP = {"in": 1 / 64, "mm": 0.5}
"""A length's dial, in its unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dial:
    """One key of a scene that can be turned.

    ``values`` are as the scene has them, in ``unit`` (``"in"``, ``"mm"`` or
    ``"deg"``): one, or one each where they differ; turning moves them all.
    ``low`` to ``high`` is how far the dial turns; what is typed may go beyond.
    """

    key: str
    label: str
    unit: str
    values: tuple[float, ...]
    low: float
    high: float
    step: float


_Length = tuple[str, str, tuple[float, ...], float, float]


def dials(scene: Scene) -> tuple[Dial, ...]:
    """Return the dials of a scene, at its own measurements and in its own unit."""
    slab = scene.slab
    lengths = (
        *_hanging(scene),
        ("slab.width", "Slab width", slab.width, -0.5, 0.5),
        ("slab.thickness", "Slab thickness", (slab.thickness,), 1.0, 2.5),
        ("slab.head_margin", "Head margin", (slab.head_margin,), 0.0, 0.5),
    )
    bevels = (
        ("slab.hinge_edge.bevel", "Bevel of the hinge edge", slab.hinge_edge),
        ("slab.strike_edge.bevel", "Bevel of the strike edge", slab.strike_edge),
    )
    turned = [_length(scene, *each) for each in lengths]
    leaning = [_bevel(key, label, edge) for key, label, edge in bevels if not edge.is_round]
    return (*turned[:4], *leaning, *turned[4:])


def _hanging(scene: Scene) -> tuple[_Length, ...]:
    """Return the four dials of how the slab hangs: on its leaves, or on its pivots."""
    hinge, pivot, thick = scene.hinge, scene.pivot, scene.slab.thickness
    if pivot is not None:
        return (
            ("pivot.slab.edge", "Pivot from the hinge edge", pivot.edge, -0.5, 0.5),
            ("pivot.slab.face", "Pivot inside the wide face", pivot.face, -0.5, 0.5),
            ("pivot.jamb.leg", "Pivot from the hinge leg", pivot.leg, -0.5, 0.5),
            ("pivot.jamb.out", "Pivot beyond the jamb's edge", pivot.out, -0.5, 0.5),
        )
    return (
        ("hinge.slab.setback", "Setback on the slab", hinge.slab.setbacks, 0.0, thick),
        ("hinge.jamb.setback", "Setback on the jamb", hinge.jamb.setbacks, 0.0, thick),
        ("hinge.slab.depth", "Mortise depth on the slab", hinge.slab.depths, 0.0, 0.25),
        ("hinge.jamb.depth", "Mortise depth on the jamb", hinge.jamb.depths, 0.0, 0.25),
    )


def settings(turned: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return turned dials as settings: key and value as a command line would take them.

    Values with commas between them are a list, one a place.
    """
    return [(key, _listed(text)) for key, text in turned.items()]


def _listed(text: str) -> str:
    if "," not in text or text.lstrip().startswith("["):
        return text
    places = [place.strip().replace("\\", "\\\\").replace('"', '\\"') for place in text.split(",")]
    return "[" + ", ".join(f'"{place}"' for place in places) + "]"


def _length(
    scene: Scene, key: str, label: str, inches: tuple[float, ...], low: float, high: float
) -> Dial:
    unit = scene.unit
    alike = inches[:1] if len(set(inches)) == 1 else inches
    values = tuple(in_unit(value, unit) for value in alike)
    low, high = in_unit(low, unit), in_unit(high, unit)
    if low < 0:
        low, high = values[0] + low, values[0] + high
    return Dial(
        key=key,
        label=label,
        unit=unit,
        values=values,
        low=min(low, *values),
        high=max(high, *values),
        step=STEP[unit],
    )


def _bevel(key: str, label: str, edge: Edge) -> Dial:
    lean = round(degrees(edge.lean), 9)
    return Dial(
        key=key,
        label=label,
        unit="deg",
        values=(lean,),
        low=min(0.0, lean),
        high=max(BEVEL_HIGH, lean),
        step=BEVEL_STEP,
    )
