"""What a check says of the year, beside the rest."""

from __future__ import annotations

from dataclasses import replace

from swingcheck.bench.season import SeasonMargins
from swingcheck.report.bench_words import season_words
from swingcheck.report.card import Card, Entry, Table
from swingcheck.report.words import Lengths, assumed_text

_BEFORE = ("Assumed", "Caution")


def with_season(card: Card, season: SeasonMargins, unit: str) -> Card:
    """Return a check's card that tells of the year too, before what was assumed; its ``unit``."""
    lengths = Lengths(unit=unit)
    assumed = assumed_text(season.assumed)
    words = season_words(season, lengths)
    told: tuple[Entry | Table, ...] = (
        Entry(label="Season", texts=(*words, f"Assumed: {assumed}." if assumed else "")),
        _months(season, lengths),
    )
    place = next((k for k, item in enumerate(card.items) if item.label in _BEFORE), len(card.items))
    return replace(card, items=(*card.items[:place], *told, *card.items[place:]))


def _months(season: SeasonMargins, lengths: Lengths) -> Table:
    rows = tuple(
        (month.month, (f"{month.moisture:.1f} %", *lengths.cells(map(min, sides))))
        for month in season.months
        for sides in ((month.strike, month.hinge),)
    )
    columns = ("moisture", "least strike", "least hinge")
    return Table(label=f"Month, {lengths.unit}", columns=columns, rows=rows)
