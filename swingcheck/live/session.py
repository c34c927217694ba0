"""The scene on a live page: what can be dialled, checked again as it is, and saved on request."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import cached_property
from math import degrees
from pathlib import Path
from typing import Any

import swingcheck as sc
from swingcheck.assembly import Assembly, assemble
from swingcheck.errors import Problem, SceneError
from swingcheck.files import write_beside
from swingcheck.model import Edge, Scene
from swingcheck.page import (
    card_markup,
    clearance_data,
    sheet,
    sheet_data,
    shop_card,
)
from swingcheck.report.card import card
from swingcheck.scenefile import saved_text
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


Turned = Mapping[str, str]
"""Values as typed, by the key of their dial; only of dials that were turned."""


class Session:
    """One scene file, read once, and what its dials make of it; ``-`` is standard input.

    Settings that are ``laid_over`` it hold from the start. Raises SceneError when it is
    no scene.
    """

    def __init__(self, path: Path, laid_over: tuple[tuple[str, str], ...] = ()) -> None:
        self._path = path
        self._start = sc.read(path, laid_over)
        self._last: tuple[sc.Scene, sc.Found, Assembly] | None = None

    def scene(self, turned: Turned) -> sc.Scene:
        """Return the scene as dialled.

        Raises SceneError when a value is bad, in the words of the command line, or a
        key is none of a dial's: a scene may name files, and what asks may be no page.
        """
        own = {dial.key for dial in dials(self._start)}
        astray = [Problem(key=key, value="", expected="no dial") for key in sorted({*turned} - own)]
        if astray:
            raise SceneError(str(self._path), astray)
        return self._start.with_(dict(settings(turned)))

    @cached_property
    def page(self) -> str:
        """Return the page as it opens."""
        return sc.web_page([self._start], dials=[asdict(dial) for dial in dials(self._start)])

    def checked(self, turned: Turned) -> dict[str, Any]:
        """Return the sheet of the scene as dialled, quickly.

        Its clearances, its cures and its shop numbers are left for
        :meth:`clearance` and :meth:`cards`. Raises SwingcheckError when a value is
        bad, or nothing can be built of it.
        """
        result, assembly = self._checked(self.scene(turned))
        return sheet_data(sheet(sc.Answer(found=result), assembly))

    def clearance(self, turned: Turned) -> dict[str, Any]:
        """Return the clearance table of the scene as dialled.

        Raises SwingcheckError when a value is bad, or nothing can be built of it.
        """
        return clearance_data(*self._checked(self.scene(turned)))

    def cards(self, turned: Turned) -> dict[str, Any]:
        """Return the report of the scene as dialled, with its cures, and the shop numbers.

        Raises SwingcheckError when a value is bad, or nothing can be built of it.
        """
        scene = self.scene(turned)
        answer = sc.answered(scene)
        report, shop = card(answer), shop_card(answer)
        return {
            "report": card_markup(report),
            "finding": report.finding,
            "fit": answer.found.fit.word.value,
            "shop": card_markup(shop),
            "cut": shop.finding,
        }

    def save(self, turned: Turned) -> Path:
        """Write the scene as dialled beside its file, and return the new file.

        The scene's own file is never touched, nor any other that is there. Raises
        SwingcheckError when a value is bad, or the file cannot be written.
        """
        text = saved_text(self.scene(turned))
        on_disk = str(self._path) != "-"
        folder, stem = (self._path.parent, self._path.stem) if on_disk else (Path(), "scene")
        return write_beside(folder, f"{stem}-dialled", ".toml", text)

    def _checked(self, scene: sc.Scene) -> tuple[sc.Found, Assembly]:
        if self._last is None or self._last[0] != scene:
            self._last = (scene, sc.check(scene), assemble(scene))
        return self._last[1:]
