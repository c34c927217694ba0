"""Variants of a scene as a table: rows for a spreadsheet, data, and a summary to read."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from math import degrees, isnan
from pathlib import Path
from typing import Any

import numpy as np

from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import KINDS, VERDICTS
from swingcheck.chance.vary import Over, Varied
from swingcheck.errors import MissingExtraError
from swingcheck.geometry.solid import Floats
from swingcheck.report.card import Card, Entry, Table
from swingcheck.report.shapes import data_of
from swingcheck.report.words import Lengths
from swingcheck.swing.found import Verdict
from swingcheck.units.plain import rounded

SCHEMA = "swingcheck.vary/1"
"""Name and version of the data; the number rises when a key changes its meaning or goes."""

Cell = float | str | None
Columns = dict[str, list[Cell]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A run of neighbouring values that come to the same verdict, by their places."""

    verdict: Verdict
    first: int
    last: int


def variant_columns(varied: Varied) -> Columns:
    """Return a column for each dimension and each finding, a row a variant.

    Lengths are inches and angles degrees, named so; ``None`` is nothing: no
    contact, or no stop.
    """
    outcomes = varied.outcomes
    columns: Columns = {
        _name(over.measurement): _numbers(values, over.measurement.is_angle)
        for over, values in zip(varied.overs, varied.values.T, strict=True)
    }
    return columns | {
        "verdict": [VERDICTS[k].value for k in outcomes.verdict],
        "angle_deg": _numbers(outcomes.angle, True),
        "opening_at_strike_in": _numbers(outcomes.short, False),
        "against": [KINDS[k].value if k >= 0 else None for k in outcomes.against],
        "hinge_margin_in": _numbers(outcomes.hinge_margin, False),
        "strike_margin_in": _numbers(outcomes.strike_margin, False),
        "hinge_stop_in": _numbers(outcomes.hinge_stop, False),
    }


def _name(dimension: Measurement) -> str:
    return f"{dimension.key}_{'deg' if dimension.is_angle else 'in'}"


def _numbers(values: Floats, is_angle: bool) -> list[Cell]:
    return [None if isnan(value) else _number(value, is_angle) for value in values.tolist()]


def _number(value: float, is_angle: bool) -> float:
    return rounded(degrees(value) if is_angle else value)


def variants_csv(varied: Varied) -> str:
    """Return the variants as comma-separated text, headed by the columns' names."""
    columns = variant_columns(varied)
    written = StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(zip(*columns.values(), strict=True))
    return written.getvalue()


def variants_data(varied: Varied) -> dict[str, Any]:
    """Return the variants as data: what varied, then a list a column, a place a variant."""
    return {
        "schema": SCHEMA,
        "scene": varied.scene.title,
        **data_of(varied.answered),
        "over": [
            {
                "key": over.measurement.key,
                "words": over.measurement.words,
                "column": _name(over.measurement),
                "values": _numbers(over.values, over.measurement.is_angle),
                "now": _number(over.measurement.value(varied.scene), over.measurement.is_angle),
            }
            for over in varied.overs
        ],
        "columns": variant_columns(varied),
    }


def write_parquet(varied: Varied, file: Path) -> None:
    """Write the variants as a Parquet table; raises MissingExtraError without pyarrow."""
    try:
        import pyarrow
        from pyarrow import parquet
    except ImportError as error:
        raise MissingExtraError("table", "Parquet files") from error
    described = {"scene": varied.scene.title, "schema": SCHEMA}
    table = pyarrow.table(variant_columns(varied)).replace_schema_metadata(described)
    parquet.write_table(table, file)


def bands(verdicts: list[Verdict]) -> Iterator[Band]:
    """Yield the runs of one verdict after another along one dimension."""
    first = 0
    for k, verdict in enumerate(verdicts):
        if k + 1 == len(verdicts) or verdicts[k + 1] is not verdict:
            yield Band(verdict=verdict, first=first, last=k)
            first = k + 1


def variants_card(varied: Varied, unit: str | None = None) -> Card:
    """Return what there is to say about variants: the count, and for one dimension its bands."""
    lengths = Lengths(unit=unit or varied.scene.unit)
    swinging, total = int(varied.outcomes.swings.sum()), len(varied.outcomes.verdict)
    finding = f"{swinging:,} of {total:,} variants swing"
    over = varied.overs[0]
    items: list[Entry | Table] = [Entry(label="Varied", texts=_varied(varied, lengths))]
    if len(varied.overs) == 1:
        words = [VERDICTS[k] for k in varied.outcomes.verdict]
        rows = [_band_row(over, band, varied, lengths) for band in bands(words)]
        columns = ("to", "verdict", "short of closed")
        items.append(Table(label="From", columns=columns, rows=tuple(rows)))
    else:
        counts = np.bincount(varied.outcomes.verdict, minlength=len(VERDICTS))
        counted = zip(VERDICTS, counts.tolist(), strict=True)
        rows = [(word.value, (f"{count:,}",)) for word, count in counted if count]
        items.append(Table(label="Verdict", columns=("variants",), rows=tuple(rows)))
    return Card(title=varied.scene.title, verdict="", finding=finding, items=tuple(items))


def _varied(varied: Varied, lengths: Lengths) -> tuple[str, ...]:
    how = varied.answered.how.value
    texts = []
    for over in varied.overs:
        own = over.measurement
        ends = (over.values[0], over.values[-1], own.value(varied.scene))
        first, last, now = (lengths.of(own, value) for value in ends)
        texts.append(f"The {own.words}, {first} to {last}; now {now}.")
    return (*texts, f"All else as it is; {how}.")


def _band_row(
    over: Over, band: Band, varied: Varied, lengths: Lengths
) -> tuple[str, tuple[str, ...]]:
    first, last = (lengths.of(over.measurement, over.values[k]) for k in (band.first, band.last))
    short = varied.outcomes.short[band.first : band.last + 1]
    if band.verdict is Verdict.SWINGS or np.isnan(short).all():
        return first, (last, band.verdict.value, "")
    low, high = (lengths.full(end) for end in (np.nanmin(short), np.nanmax(short)))
    return first, (last, band.verdict.value, low if low == high else f"{low} to {high}")
