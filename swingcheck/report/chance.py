"""How likely a slab is to swing, and variants of a scene as a table and in words."""

from __future__ import annotations

import csv
from io import StringIO
from itertools import groupby
from math import degrees, isnan
from pathlib import Path
from typing import Any

import numpy as np

from swingcheck.chance.batches import How
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import KINDS, VERDICTS
from swingcheck.chance.risk import Risk, Worst
from swingcheck.chance.tolerances import Tolerance
from swingcheck.chance.vary import Varied
from swingcheck.errors import MissingExtraError
from swingcheck.geometry.solid import Floats
from swingcheck.report.card import Card, Entry, Table, card_of
from swingcheck.report.fit_words import SEASON
from swingcheck.report.shapes import data_of
from swingcheck.report.words import Lengths, of_hundred
from swingcheck.swing.fit import SURE
from swingcheck.swing.found import Verdict
from swingcheck.units import angle_text
from swingcheck.units.plain import rounded
from swingcheck.units.words import listed, sentence

_SURER = "'swingcheck setback' says which mark does best, 'swingcheck check' what else to change."

TELLING = 0.01
"""An error that decides less than this is not named; the data name them all."""


def risk_card(found: Risk, unit: str | None = None) -> Card:
    """Return what there is to say, lengths in ``unit``, in the scene's own where it is ``None``."""
    lengths = Lengths(unit=unit or found.scene.unit)
    return card_of(
        found.scene.title,
        chance_words(found),
        Entry("Drawn", _drawn(found, lengths)),
        Entry("Fails", _failures(found)),
        _decides(found, lengths),
        Entry("Worst", _worst(found, lengths)),
        Entry("Surer", (_SURER,) if found.chance < SURE else ()),
    )


def chance_words(found: Risk) -> str:
    """Return the answer in one line."""
    low, high = found.interval
    works = of_hundred(found.chance, fine=high - low < 0.01)
    words = f"works in {works} of 100 ({_hundredths(low)} to {_hundredths(high)})"
    if found.drawn < found.asked:
        return f"stopped after {found.drawn:,} of {found.asked:,} draws: so far it {words}"
    return words


def _hundredths(share: float) -> str:
    """Return an end of an interval: a decimal, two where it is near all or none."""
    places = 2 if min(share, 1 - share) < 0.001 else 1
    text = f"{share * 100:.{places}f}"
    return text.rstrip("0").rstrip(".") if float(text) in (0.0, 100.0) else text


def _drawn(found: Risk, lengths: Lengths) -> tuple[str, ...]:
    how = found.answered.how.value
    held = []
    for name in ("setback", "depth", "bevel", "rip", "measuring"):
        amount = getattr(found.scene.shop, f"{name}_tolerance")
        held.append(f"{name} {angle_text(amount) if name == 'bevel' else lengths.full(amount)}")
    return (
        f"{found.drawn:,} slabs, {how} (seed {found.seed}), every dimension off by chance within"
        f" your plus-or-minus: {listed(held)}; {'as cut' if found.as_cut else SEASON}.",
    )


def _failures(found: Risk) -> tuple[str, ...]:
    if not found.verdicts:
        return ()
    failing = [
        f"{word.value} in {of_hundred(count / found.drawn)}" for word, count in found.verdicts
    ]
    texts = [sentence(f"it {listed(failing)} of 100")]
    if found.nominal is not Verdict.SWINGS:
        texts.append(sentence(f"with nothing off at all it {found.nominal.value}"))
    return (" ".join(texts),)


def _decides(found: Risk, lengths: Lengths) -> Table:
    telling = (blame for blame in found.blame if blame.share >= TELLING)
    rows = tuple(
        (
            blame.tolerance.words,
            (
                lengths.of(blame.tolerance.measurement, blame.tolerance.amount),
                f"{blame.share * 100:.0f} %",
                "over" if blame.over else "under",
                f"{of_hundred(blame.held)} of 100",
            ),
        )
        for blame in telling
    )
    columns = ("off by up to", "decides", "fails if", "works, held to 1/4")
    return Table("To blame", columns, rows)


def _worst(found: Risk, lengths: Lengths) -> tuple[str, ...]:
    worst = found.worst
    if worst is None:
        return ()
    tried = "with every error as great as it can be"
    if worst.verdict is Verdict.SWINGS:
        ways = (
            "the ways that leave least room"
            if found.answered.how is How.ALONE
            else "whichever way they go"
        )
        return (sentence(f"{tried}, {ways}, it still swings"),)
    texts = [sentence(f"{tried} it {worst.verdict.value}{_short(worst, lengths)}")]
    if worst.off:
        off = [_off(held, amount, lengths) for held, amount in worst.off]
        texts.append(sentence(f"this is enough to stop it: {listed(off)}"))
    return tuple(texts)


def _short(worst: Worst, lengths: Lengths) -> str:
    if isnan(worst.short) or isnan(worst.angle):
        return ""
    return f" at {angle_text(worst.angle)}, {lengths.full(worst.short)} short of closed"


def _off(held: Tolerance, amount: float, lengths: Lengths) -> str:
    way = "over" if amount > 0 else "under"
    return f"{held.words} {lengths.of(held.measurement, abs(amount))} {way}"


SCHEMA = "swingcheck.vary/1"
"""Name and version of the data; the number rises when a key changes its meaning or goes."""

Cell = float | str | None
Columns = dict[str, list[Cell]]


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


def variants_card(varied: Varied, unit: str | None = None) -> Card:
    """Return what there is to say about variants: the count, and for one dimension its bands."""
    lengths = Lengths(unit=unit or varied.scene.unit)
    swinging, total = int(varied.outcomes.swings.sum()), len(varied.outcomes.verdict)
    finding = f"{swinging:,} of {total:,} variants swing"
    if len(varied.overs) == 1:
        found = varied.outcomes.verdict
        bands = groupby(range(total), key=lambda k: VERDICTS[found[k]])
        rows = [_band_row(word, list(places), varied, lengths) for word, places in bands]
        told = Table("From", ("to", "verdict", "short of closed"), tuple(rows))
    else:
        counts = np.bincount(varied.outcomes.verdict, minlength=len(VERDICTS))
        counted = zip(VERDICTS, counts.tolist(), strict=True)
        rows = [(word.value, (f"{count:,}",)) for word, count in counted if count]
        told = Table("Verdict", ("variants",), tuple(rows))
    return card_of(varied.scene.title, finding, Entry("Varied", _varied(varied, lengths)), told)


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
    verdict: Verdict, places: list[int], varied: Varied, lengths: Lengths
) -> tuple[str, tuple[str, ...]]:
    """Return a row for neighbouring values of the one dimension that come to the same verdict."""
    over, short = varied.overs[0], varied.outcomes.short[places]
    first, last = (lengths.of(over.measurement, over.values[places[k]]) for k in (0, -1))
    if verdict is Verdict.SWINGS or np.isnan(short).all():
        return first, (last, verdict.value, "")
    low, high = (lengths.full(end) for end in (np.nanmin(short), np.nanmax(short)))
    return first, (last, verdict.value, low if low == high else f"{low} to {high}")
