"""The page as one HTML file: markup, style, scripts and data, and no address to ask."""

from __future__ import annotations

import json
from collections.abc import Sequence
from html import escape
from importlib.resources import files
from typing import Any

from swingcheck.page.sheet import Sheet
from swingcheck.palette import drawing_colours
from swingcheck.report.text import card_markup
from swingcheck.version import __version__

SCRIPTS = ("lengths.js", "swing.js", "view.js", "plan.js", "chart.js", "page.js")
LIVE_SCRIPT = "live.js"

LARGEST = 1_000_000
"""A page is to stay under this, bytes."""


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
