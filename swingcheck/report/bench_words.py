"""What the bench warns of and what the year does, in sentences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import Enum

from swingcheck.bench.concerns import Warned
from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.lock import BoltMarks, LockConcern
from swingcheck.bench.mortise import Refusal, SetUp, bit_for, template_corner_for
from swingcheck.bench.season import SeasonMargins
from swingcheck.report.card import Card, Entry, Table
from swingcheck.report.words import Lengths, assumed_text
from swingcheck.units.words import sentence

NOTICED_IN = 1 / 64
"""A slab that thickens by less is not told of, inches."""


def warning(warned: Warned, lengths: Lengths) -> str:
    """Return the sentence for a concern about a cut."""
    sizes = {"amount": warned.amount, "limit": warned.limit}
    return _concern(warned.concern, lengths, sizes, place=warned.place, why=warned.why)


def refusal(reason: Refusal, set_up: SetUp, lengths: Lengths) -> str:
    """Return why the router's tools cannot cut a leaf's mortise, and what would."""
    tools, radius = set_up.tools, set_up.corner_radius
    sizes = {
        "bit": tools.bit,
        "bit_corner": tools.bit / 2,
        "bushing": tools.bushing,
        "corner": tools.corner,
        "template_corner": tools.template_corner,
        "radius": radius,
        "fitting": bit_for(radius),
        "rounder": template_corner_for(radius, tools.bit, tools.bushing),
    }
    return _concern(reason, lengths, sizes)


def lock_warning(concern: LockConcern, bolt: BoltMarks, lengths: Lengths) -> str:
    """Return the sentence for what is wrong with a bolt or its bores."""
    place, lock = bolt.strike, bolt.lock
    sizes = {"gap": place.gap, "hold": place.hold, "throw": lock.throw}
    return _concern(concern, lengths, {**sizes, "face_width": lock.face_width}, name=bolt.name)


def _concern(concern: Enum, lengths: Lengths, sizes: Mapping[str, float], **names: str) -> str:
    """Return the sentence that a concern's words make with these sizes, inches, and names."""
    told = {name: lengths.full(size) for name, size in sizes.items()}
    return sentence(concern.value.format(**told, **names))


def season_words(season: SeasonMargins, lengths: Lengths) -> tuple[str, ...]:
    """Return what the year does to the strike margin, and what to leave today."""
    film, least = lengths.fine(season.film), lengths.full(season.least)
    by_month = {month.month: month for month in season.months}
    tight, wide = by_month[season.tightest], by_month[season.widest]
    margins = [min(month.strike) for month in (tight, wide)]
    found = [f"{film} of finish comes off every margin."]
    if not season.moving and not season.board:
        found.append("Its construction hardly moves: no month matters.")
    elif season.moving and season.species is None:
        found.append("Nothing is known of how its wood moves: that of it is not counted.")
    if season.species is not None:
        found.append(
            f"{lengths.full(season.moving)} of the width is {season.species.name} across the"
            f" grain, at {season.now:.0f} % now. Strike margin: {tight.month}"
            f" ({tight.moisture:.0f} %) {lengths.full(margins[0])}, {wide.month}"
            f" ({wide.moisture:.0f} %) {lengths.full(margins[1])}."
        )
    if season.board:
        found.append(
            f"{lengths.full(season.board)} of the width is board, which moves about 1 mm a metre"
            " from 9 to 12 %."
        )
    if season.closes is not None:
        found.append(f"The strike margin closes in {season.closes}.")
    elif season.falls_short is not None:
        found.append(f"In {season.falls_short} the strike margin comes to be under {least}.")
    found.append(
        f"Leave {lengths.full(season.leave)} at the strike today to keep {least} all year."
    )
    if season.through >= NOTICED_IN:
        found.append(f"The slab thickens by up to {lengths.fine(season.through)}.")
    if season.past_valid:
        found.append("Past 6 to 14 % moisture the wood's figures are less sure.")
    return tuple(found)


def hinge_rules(numbers: BenchNumbers, lengths: Lengths) -> tuple[str, ...]:
    """Return the hinges told against those the published rules ask for, sources named."""
    rules, hinge, full = numbers.hanging.rules, numbers.scene.hinge, lengths.full
    words = [f"{hinge.count} hinges; NFPA 80's rule (read in quotation) asks for {rules.count}"]
    if rules.leaf_length is not None:
        heavy = f" and heavy gauge, {lengths.fine(rules.gauge)}" if rules.gauge else ""
        words.append(
            f"leaf {full(hinge.leaf_length)}; the hardware trade's table (secondary text) says"
            f" {full(rules.leaf_length)}{heavy}"
        )
    if rules.open_width is not None and rules.stock_width is not None:
        words.append(
            f"open width {full(hinge.open_width)}; to lie back flat it takes"
            f" {full(rules.open_width)}, in stock {full(rules.stock_width)}"
        )
    if rules.adjusted_mass is not None:
        mass = f"{rules.adjusted_mass:.0f} kg"
        grade = "past every grade" if rules.grade is None else f"mass grade {rules.grade} or over"
        words.append(f"EN 1935 (secondary text) for {mass}: {grade}")
    return tuple(words)


_BEFORE = ("Assumed", "Caution")


def with_season(card: Card, season: SeasonMargins, unit: str) -> Card:
    """Return a check's card that tells of the year too, before what was assumed; its ``unit``."""
    lengths = Lengths(unit=unit)
    assumed = assumed_text(season.assumed)
    words = season_words(season, lengths)
    told: tuple[Entry | Table, ...] = (
        Entry("Season", (*words, f"Assumed: {assumed}." if assumed else "")),
        _months(season, lengths),
    )
    place = next((k for k, item in enumerate(card.items) if item.label in _BEFORE), len(card.items))
    return replace(card, items=(*card.items[:place], *told, *card.items[place:]))


def _months(season: SeasonMargins, lengths: Lengths) -> Table:
    rows = []
    for each in season.months:
        least = lengths.cells((min(each.strike), min(each.hinge)))
        rows.append((each.month, (f"{each.moisture:.1f} %", *least)))
    return Table(f"Month, {lengths.unit}", ("moisture", "least strike", "least hinge"), tuple(rows))
