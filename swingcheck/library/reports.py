"""Every answer in words and as plain data, and a map as a table."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from swingcheck.advice.answer import Answer
from swingcheck.report.card import Card
from swingcheck.report.text import WIDEST
from swingcheck.report.text import text as card_text
from swingcheck.swing.found import Found

if TYPE_CHECKING:
    from swingcheck.bench.season import SeasonMargins
    from swingcheck.chance.vary import Varied

_REPORTS = {
    "Answer": ("card:card", "shapes:data_of"),
    "Setback": ("window:setback_card", "shapes:data_of"),
    "Leeway": ("window:window_card", "shapes:window_data"),
    "Measurements": ("window:measurements_card", "shapes:measurements_data"),
    "Bevels": ("window:bevel_card", "shapes:bevel_data"),
    "Risk": ("chance:risk_card", "shapes:data_of"),
    "Varied": ("chance:variants_card", "chance:variants_data"),
    "BenchNumbers": ("bench:bench_card", "shapes:data_of"),
    "Door": ("bench:door_numbers", "bench:bench_data"),
    "Job": ("house:house_card", "shapes:data_of"),
}
"""Which functions of ``report`` say an answer, by its class: as a card, and as data."""

TABLES = (".csv", ".parquet", ".json")


def _said(answer: Any, how: int, *more: Any) -> Any:
    """Return what a report makes of an answer; a tuple's parts are told one after the other."""
    module, name = _REPORTS[type(answer).__name__][how].split(":")
    parts = answer if isinstance(answer, tuple) else (answer,)
    return getattr(import_module(f"swingcheck.report.{module}"), name)(*parts, *more)


def text(
    answer: Any,
    *,
    unit: str | None = None,
    width: int = WIDEST,
    season: SeasonMargins | None = None,
) -> str:
    """Return an answer in words, as the commands print it.

    Parameters
    ----------
    answer : Found, Answer, Setback, Leeway, Bevels, Risk, Varied, BenchNumbers, Job ...
        What one of the library's functions returned.
    unit : {"in", "mm"}, optional
        What lengths are written in; the scene's own when left out.
    width : int
        Columns, held between 32 and 78.
    season : SeasonMargins, optional
        Of the same scene, told in a check too.
    """
    answer = Answer(found=answer) if isinstance(answer, Found) else answer
    card: Card = _said(answer, 0, unit)
    if season is not None:
        from swingcheck.report.bench_words import with_season

        card = with_season(card, season, unit or answer.found.scene.unit)
    return card_text(card, width)


def plain(answer: Any, *, season: SeasonMargins | None = None) -> Any:
    """Return an answer as dicts, lists, texts and numbers: inches and degrees, named so."""
    answer = Answer(found=answer) if isinstance(answer, Found) else answer
    data = _said(answer, 1)
    if season is not None:
        from swingcheck.report.shapes import data_of

        data["season"] = data_of(season)
    return data


def write_table(varied: Varied, file: Path) -> None:
    """Write a map as the table that the file's suffix names: ``.csv``, ``.parquet``, ``.json``.

    Raises MissingExtraError where Parquet's package is not installed; and OSError
    where the file cannot be written.
    """
    from swingcheck.report.chance import variants_csv, variants_data, write_parquet

    suffix = file.suffix.lower()
    if suffix == ".parquet":
        write_parquet(varied, file)
    elif suffix == ".csv":
        file.write_text(variants_csv(varied), encoding="utf-8")
    elif suffix == ".json":
        import json

        file.write_text(json.dumps(variants_data(varied), allow_nan=False), encoding="utf-8")
    else:
        raise ValueError(f"a table ends in {', '.join(TABLES)}, not {suffix!r}")
