"""The key at the foot of a sheet: what each hatching and line stands for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.palette import (
    APPLIED,
    ASTRAGAL,
    BASEBOARD,
    CASING,
    DASHED,
    HANDLE,
    INK,
    JAMB,
    MATERIALS,
    METAL,
    OBSTACLE,
    OTHER_SLAB,
    QUIET,
    SHELF,
    SLAB,
    STOP,
    WALL,
    Material,
)
from swingcheck.render.pen.ink import Pen
from swingcheck.render.pen.lettering import text_width
from swingcheck.render.pen.panel import Box, paper_pen
from swingcheck.render.pen.section import PlanCut
from swingcheck.render.pen.subject import Pose

ROW = 0.32
SWATCH = 0.38
SPACE = 0.2
ORDER = (
    SLAB, OTHER_SLAB, JAMB, STOP, METAL, ASTRAGAL, APPLIED, HANDLE, SHELF, CASING, BASEBOARD,
    WALL, OBSTACLE,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyItem:
    """One entry: a material's swatch, or a mark called ``ghost``, ``pin``, ``way`` ..."""

    words: str
    material: Material | None = None
    mark: str = ""

    @property
    def width(self) -> float:
        """Width on paper, inches, with the space after it."""
        return SWATCH + 0.1 + text_width(self.words) / 72 + SPACE


def swatch(material: Material, words: str = "") -> KeyItem:
    """Return a material's entry, in other words than its own where they are given."""
    return KeyItem(words=words or material.label, material=material)


def key_items(cut: PlanCut, pose: Pose) -> tuple[KeyItem, ...]:
    """Return an entry for everything that the section shows."""
    used = {id(MATERIALS[part.kind]) for part in (*cut.fixed, *cut.moving)}
    items = [swatch(material) for material in ORDER if id(material) in used]
    if cut.beyond:
        items.append(KeyItem(words="hinge above or below", mark="beyond"))
    if not pose.closed:
        items.append(KeyItem(words="slab closed", mark="ghost"))
    items.append(KeyItem(words="pin", mark="pin"))
    if pose.at is not None:
        words = "rests on its stop" if pose.seated else "first contact"
        words = words if pose.touch is not None else "overlap"
        items.append(KeyItem(words=words, mark="seat" if pose.seated else "contact"))
    return tuple(items)


def key_rows(items: Sequence[KeyItem], width: float) -> list[list[KeyItem]]:
    """Break the entries into rows that fit a width of paper, inches."""
    rows: list[list[KeyItem]] = [[]]
    run = 0.0
    for item in items:
        if rows[-1] and run + item.width - SPACE > width:
            rows.append([])
            run = 0.0
        rows[-1].append(item)
        run += item.width
    return rows


def draw_key(figure: Any, box: Box, rows: Sequence[Sequence[KeyItem]]) -> None:
    """Draw the key's rows into a box of the sheet, from its top."""
    pen = paper_pen(figure, box)
    for k, row in enumerate(rows):
        x, y = 0.0, box.height - (k + 0.5) * ROW
        for item in row:
            draw_swatch(pen, item, np.array([x, y]))
            pen.text([x + SWATCH + 0.1, y], item.words, side=1.0)
            x += item.width


def draw_swatch(pen: Pen, item: KeyItem, at: Floats, *, high: float = 0.1, edge: str = INK) -> None:
    """Draw an entry's swatch or mark from a page point to the right, ``high`` up and down."""
    corners = np.array([[0.0, -high], [SWATCH, -high], [SWATCH, high], [0.0, high]]) + at
    middle, ends = corners.mean(axis=0), [at, at + np.array([SWATCH, 0.0])]
    if item.material is not None:
        pen.fill([corners], item.material, 3.0, edge=0.0)
        width = 1.3 if edge == INK else 0.8
        pen.line([*corners, corners[0]], color=edge, width=width, halo=False)
    elif item.mark in ("ghost", "beyond"):
        pen.outline([corners], 3.0, dashed=item.mark == "ghost")
    elif item.mark == "way":
        pen.line(ends, color=QUIET, width=1.3, dash=DASHED)
    elif item.mark == "pin":
        pen.pin(middle, 0.16)
    else:
        pen.line(ends, color=QUIET, halo=False)
        pen.contact(middle, seated=item.mark == "seat", size=6.5)
