"""One scene's part of a page: what its scripts look up, and its report."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import degrees, pi, radians
from typing import Any

import numpy as np

from swingcheck.advice.answer import Answer
from swingcheck.assembly import Assembly, PartKind
from swingcheck.assembly.parts import is_mirrored
from swingcheck.bench.door import why_no_numbers
from swingcheck.job.answer import door_of
from swingcheck.page.drawn import (
    decided_view,
    drawn_axis,
    drawn_parts,
    plan_drawn,
    shown_touch,
)
from swingcheck.render.pen.section import plan_hand
from swingcheck.report.bench import door_numbers
from swingcheck.report.card import Card, card
from swingcheck.report.headline import widest_foul
from swingcheck.report.words import Lengths, leaves_as_one, meeting
from swingcheck.swing.by_angle import ClearanceByAngle, clearance_by_angle
from swingcheck.swing.found import Found, Touch
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units.words import listed, the

AJAR_RAD = radians(30.0)
"""Where a slab that touches nothing is shown first."""

CLEARANCE_PLACES = 5

CAUTION = "Caution"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What the page says of one scene: ``data`` for its scripts, and cards for its reader.

    ``shop`` are the numbers for the bench, ``None`` where they come later.
    """

    data: dict[str, Any]
    report: Card
    shop: Card | None


def sheet(
    answer: Answer,
    assembly: Assembly,
    *,
    unit: str | None = None,
    clearance: ClearanceByAngle | None = None,
    shop: Card | None = None,
) -> Sheet:
    """Return a scene's part of a page.

    ``assembly`` are the same scene's solids; lengths are written in ``unit``, ``None`` for
    the scene's own. Without a ``clearance`` it is left out of the data, to be sent later;
    ``shop`` are the numbers for the bench.
    """
    result = answer.found
    lengths = Lengths(unit=unit or result.scene.unit)
    said = card(answer, lengths.unit)
    data = {
        "title": said.title,
        "verdict": result.verdict.value,
        "finding": said.finding,
        "fit": result.fit.word.value,
        "unit": lengths.unit,
        **_swing(result, assembly),
        "touches": _touches(result, lengths),
        "blocked_by": list(result.blocked_by),
        **_drawn(result, assembly),
        "clearance": None if clearance is None else clearance_data(clearance),
    }
    return Sheet(data=data, report=said, shop=shop)


def _swing(result: Found, assembly: Assembly) -> dict[str, Any]:
    """Return how far the slab turns, where it is shown first, and how far its strike edge is."""
    return {
        "hand": plan_hand(assembly),
        "hinges_on": result.scene.hinges_on,
        "high_deg": degrees(widest(result)),
        "start_deg": degrees(result.scene.swing.start),
        "shown_deg": degrees(_shown_angle(result, shown_touch(result))),
        "strike_reach_in": opening_at_strike(assembly, pi) / 2,
    }


def _drawn(result: Found, assembly: Assembly) -> dict[str, Any]:
    """Return what the 3D view, the plan and the chart draw."""
    plan = plan_drawn(assembly, result)
    if (decides := decided_view(result)) is not None:
        plan["views"].insert(0, decides)
    return {
        "axis": drawn_axis(assembly),
        "plan_axis": {
            "point": assembly.axis.point.tolist(),
            "direction": assembly.axis.direction.tolist(),
            "rise": assembly.axis.rise,
        },
        "frame": [list(corner) for corner in _frame(assembly)],
        "parts": drawn_parts(assembly),
        "plan": plan,
        "groups": chart_groups(assembly),
    }


def shop_card(answer: Answer, unit: str | None = None) -> Card:
    """Return the numbers for the bench, without the cautions that the report gives too.

    Where a slab of its kind has none, only why.
    """
    scene = answer.found.scene
    if reason := why_no_numbers(scene):
        return Card(scene.title, f"No numbers: {reason}.", ())
    numbers = door_numbers(door_of(scene, answer), unit)
    return replace(numbers, items=tuple(i for i in numbers.items if i.label != CAUTION))


def widest(result: Found) -> float:
    """Return the widest swing angle (radians) that a page turns to."""
    limit = result.scene.swing.limit if result.opening is None else result.opening.angle
    return max(limit, result.scene.swing.start)


def measured_clearance(result: Found, assembly: Assembly) -> ClearanceByAngle:
    """Return the clearance table of a page: closed to the widest angle, contacts in it."""
    touches = [touch for touch in (result.closing, result.opening) if touch is not None]
    return clearance_by_angle(assembly, high=widest(result), touches=touches)


def clearance_data(table: ClearanceByAngle) -> dict[str, Any]:
    """Return a clearance table as the page's scripts take it; angles keep every digit.

    Parts that the slab never comes near are left out.
    """
    near = [bool((line < table.within).any()) for line in table.distances.T]
    return {
        "angles_deg": [degrees(angle) for angle in table.angles],
        "parts": [name for name, kept in zip(table.parts, near, strict=True) if kept],
        "rows_in": np.round(table.distances[:, near], CLEARANCE_PLACES).tolist(),
        "within_in": table.within,
        "between_in": table.between,
    }


def chart_groups(assembly: Assembly) -> list[dict[str, Any]]:
    """Return the lines of the clearance chart: a name, and the fixed parts it stands for.

    Each part is its own line, but that the leaves on the jamb share one.
    """
    names = [part.name for part in assembly.fixed]
    leaves = [part.name for part in assembly.fixed if part.kind is PartKind.JAMB_LEAF]
    groups = [
        {"name": name, "parts": leaves if len(leaves) > 1 and name == "jamb leaves" else [name]}
        for name in leaves_as_one(names)
    ]
    return groups


def _touches(result: Found, lengths: Lengths) -> list[dict[str, Any]]:
    found = []
    for way, touch in (("closing", result.closing), ("opening", result.opening)):
        if touch is not None:
            seated = way == "closing" and result.seated
            found.append(_touch(touch, way, lengths, seated=seated))
    return found


def _touch(touch: Touch, way: str, lengths: Lengths, *, seated: bool) -> dict[str, Any]:
    parts = [touch.against, *touch.also]
    return {
        "way": way,
        "angle_deg": degrees(touch.angle),
        "parts": parts,
        "named": listed([the(name) for name in leaves_as_one(parts)]),
        "by": touch.by,
        "seated": seated,
        "point": list(touch.point),
        "span": list(touch.span),
        "words": meeting(touch, lengths),
    }


def _shown_angle(result: Found, shown: Touch | None) -> float:
    decided = result.decided
    if decided.together is not None and (foul := widest_foul(decided.together)) is not None:
        return foul.angle
    if result.blocked_by:
        return result.scene.swing.start
    if shown is not None and shown is decided.touch:
        return shown.angle
    return min(AJAR_RAD, widest(result))


def _frame(assembly: Assembly) -> Sequence[Sequence[float]]:
    """Return the lowest and highest corner of jamb and slab, as drawn, for the view to fit."""
    kinds = (PartKind.HINGE_LEG, PartKind.STRIKE_LEG, PartKind.HEAD)
    parts = [part for part in assembly.fixed if part.kind in kinds]
    boxes = np.array([part.solid.bounds for part in (*parts, *assembly.moving)])
    low, high = boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)
    if is_mirrored(assembly.scene):
        low[0], high[0] = -high[0], -low[0]
    return [low.tolist(), high.tolist()]
