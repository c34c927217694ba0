"""The page as one HTML file: markup, style, scripts, and what they look up of each scene.

It has no address to ask.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from html import escape
from importlib.resources import files
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
from swingcheck.palette import drawing_colours
from swingcheck.render.chart.lines import line_groups
from swingcheck.render.pen.section import plan_hand
from swingcheck.report.bench import door_numbers
from swingcheck.report.card import Card, card
from swingcheck.report.headline import widest_foul
from swingcheck.report.text import card_markup
from swingcheck.report.words import Lengths, leaves_as_one, meeting
from swingcheck.swing.by_angle import clearance_by_angle
from swingcheck.swing.found import Found, Touch
from swingcheck.swing.swung import opening_at_strike
from swingcheck.units.words import listed_parts
from swingcheck.version import __version__

SCRIPTS = ("lengths.js", "swing.js", "view.js", "plan.js", "chart.js", "page.js")
LIVE_SCRIPT = "live.js"


def page_html(sheets: Sequence[Sheet], *, dials: Sequence[dict[str, Any]] | None = None) -> str:
    """Return a page of one or more scenes, whole in itself.

    ``sheets`` stand in the order of the page's chooser; ``dials`` are what can be dialled on
    a page whose scene is served live.
    """
    live = dials is not None
    data = {
        "scenes": [sheet.data for sheet in sheets],
        "colours": drawing_colours(),
        "dials": list(dials or []),
    }
    names = (*SCRIPTS, LIVE_SCRIPT) if live else SCRIPTS
    scripts = "\n".join(_asset(name) for name in names)
    titles = [sheet.report.title for sheet in sheets]
    title = titles[0] if len(titles) == 1 else f"{titles[0]} and {len(titles) - 1} more"
    blocks = {
        "title": escape(f"{title} - does it swing?"),
        "connect": "'self'" if live else "'none'",
        "style": _asset("page.css"),
        "choice": _choice(sheets),
        "dials": _asset("dials.html") if live else "",
        "reports": "\n".join(_report(k, sheet) for k, sheet in enumerate(sheets)),
        "version": escape(__version__),
        "data": _json_in_html(data),
        "script": f'"use strict";\n(() => {{\n{scripts}\n}})();',
    }
    page = _asset("page.html")
    for name, block in blocks.items():
        page = page.replace(f"<!--{name}-->", block, 1)
    return page


def sheet_data(sheet: Sheet) -> dict[str, Any]:
    """Return a sheet as a page that is already open takes it, its report as markup."""
    return {**sheet.data, "report": card_markup(sheet.report)}


def _report(k: int, sheet: Sheet) -> str:
    """Return a scene's reports as they stand in the file, so that they read without a script."""
    hidden = " hidden" if k else ""
    shop = card_markup(sheet.shop) if sheet.shop else ""
    cut = escape(sheet.shop.finding) if sheet.shop else ""
    return (
        f'<article class="reports" data-scene="{k}"{hidden}>\n'
        f'<section class="report"><h2>Report<span class="of">: {escape(sheet.report.title)}</span>'
        f'</h2>\n<p class="said">{escape(sheet.report.finding)}</p>\n'
        f'<div class="card">{card_markup(sheet.report)}</div></section>\n'
        f'<section class="shop"><h2>Shop numbers</h2>\n'
        f'<p class="said">{cut}</p>\n<div class="card">{shop}</div></section>\n</article>'
    )


def _choice(sheets: Sequence[Sheet]) -> str:
    """Return the chooser; nothing where there is nothing to choose."""
    if len(sheets) < 2:
        return ""
    options = "".join(
        f'<option value="{k}">{escape("{title}: {verdict}".format(**sheet.data))}</option>'
        for k, sheet in enumerate(sheets)
    )
    return f'<label for="scene">Opening</label> <select id="scene">{options}</select>'


def _json_in_html(data: dict[str, Any]) -> str:
    """Return JSON that no text in it can end the script element it stands in."""
    text = json.dumps(data, separators=(",", ":"), allow_nan=False, ensure_ascii=False)
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def _asset(name: str) -> str:
    return (files(__package__) / "assets" / name).read_text(encoding="utf-8")


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
    clearance: dict[str, Any] | None = None,
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
        "clearance": clearance,
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
        "groups": [
            {"name": name, "parts": [assembly.fixed[k].name for k in members]}
            for name, members in line_groups(assembly.fixed).items()
        ],
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


def clearance_data(result: Found, assembly: Assembly) -> dict[str, Any]:
    """Return the clearance table as the page's scripts take it; angles keep every digit.

    From closed to the widest angle, contacts in it. Parts that the slab never comes near
    are left out.
    """
    touches = [touch for touch in (result.closing, result.opening) if touch is not None]
    table = clearance_by_angle(assembly, high=widest(result), touches=touches)
    near = [bool((line < table.within).any()) for line in table.distances.T]
    return {
        "angles_deg": [degrees(angle) for angle in table.angles],
        "parts": [name for name, kept in zip(table.parts, near, strict=True) if kept],
        "rows_in": np.round(table.distances[:, near], CLEARANCE_PLACES).tolist(),
        "within_in": table.within,
        "between_in": table.between,
    }


def _touches(result: Found, lengths: Lengths) -> list[dict[str, Any]]:
    met = {"closing": result.closing, "opening": result.opening}
    return [
        {
            "way": way,
            "angle_deg": degrees(touch.angle),
            "parts": [touch.against, *touch.also],
            "named": listed_parts(leaves_as_one([touch.against, *touch.also])),
            "by": touch.by,
            "seated": way == "closing" and result.seated,
            "point": list(touch.point),
            "span": list(touch.span),
            "words": meeting(touch, lengths),
        }
        for way, touch in met.items()
        if touch is not None
    ]


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
