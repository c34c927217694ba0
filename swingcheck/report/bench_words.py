"""What the bench warns of and what the year does, in sentences."""

from __future__ import annotations

from dataclasses import replace

from swingcheck.bench.concerns import Concern, Warned
from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.lock import BoltMarks, LockConcern
from swingcheck.bench.mortise import Refusal, SetUp, bit_for, template_corner_for
from swingcheck.bench.season import SeasonMargins
from swingcheck.report.card import Card, Entry, Table
from swingcheck.report.words import Lengths, assumed_text, sentence

NOTICED_IN = 1 / 64
"""A slab that thickens by less is not told of, inches."""


def warning(warned: Warned, lengths: Lengths) -> str:
    """Return the sentence for a concern about a cut."""
    amount, limit = lengths.full(warned.amount), lengths.full(warned.limit)
    place = warned.place
    words = {
        Concern.SHORT: f"the slab as delivered is {amount} short in {place}:"
        " the margin opens by as much",
        Concern.PAST: f"{amount} off the {place} is more than the {limit} it bears: {warned.why}",
        Concern.LISTED: f"{amount} off the {place} of a rated slab is past the {limit} that may"
        " be cut on site: see its listing",
        Concern.THIN: f"the solid strip at the {place} is left {amount}, and a hinge screw"
        f" is {limit} long",
        Concern.UNLIKE: f"the two stiles are left {amount} unlike, and it shows",
        Concern.TOLD: f"{amount} was told for the {place}: {limit} is what can come off it",
        Concern.UNEVEN: f"the margin along the {place} runs from {limit} to {amount}",
    }
    return sentence(words[warned.concern])


def refusal(reason: Refusal, set_up: SetUp, lengths: Lengths) -> str:
    """Return why the router's tools cannot cut a leaf's mortise, and what would."""
    tools, radius = set_up.tools, set_up.corner_radius
    bit, bushing = lengths.full(tools.bit), lengths.full(tools.bushing)
    fitting = lengths.full(bit_for(radius))
    words = {
        Refusal.BIT_TOO_LARGE: f"a {bit} bit leaves a {lengths.full(tools.bit / 2)} corner and"
        f" the leaf has {lengths.full(radius)}: use a {fitting} bit or a smaller one, or pare"
        " the corners out by chisel",
        Refusal.TEMPLATE_TOO_ROUND: f"the template's {lengths.full(tools.template_corner)} corner"
        f" leaves {lengths.full(tools.corner)} and the leaf has {lengths.full(radius)}: round it"
        f" to {lengths.full(template_corner_for(radius, tools.bit, tools.bushing))}",
        Refusal.BUSHING_TOO_SMALL: f"the {bushing} bushing is no larger than the {bit} bit:"
        " the bit cuts the template",
        Refusal.BIT_TOO_LONG: f"the {bit} bit is larger than the leaf is long",
    }
    return sentence(words[reason])


def lock_warning(concern: LockConcern, bolt: BoltMarks, lengths: Lengths) -> str:
    """Return the sentence for what is wrong with a bolt or its bores."""
    place, name = bolt.strike, bolt.name
    gap = lengths.full(place.gap)
    words = {
        LockConcern.MISSES: f"the {name} does not reach its strike: it throws"
        f" {lengths.full(bolt.lock.throw)} and the gap is {gap}",
        LockConcern.SHALLOW: f"the {name} stands only {lengths.full(place.hold)} into its strike",
        LockConcern.REVEAL: f"the gap from the edge to the {name}'s strike is {gap},"
        " over 1/8 in: close the strike margin or pack the strike out",
        LockConcern.FACE_TOO_WIDE: f"the {name}'s face, {lengths.full(bolt.lock.face_width)}, is"
        " wider than the edge",
        LockConcern.BORE_TOO_WIDE: f"the {name}'s edge bore is as wide as the slab is thick",
        LockConcern.BREAKS_OUT: f"the {name}'s cross bore breaks out of the strike edge",
        LockConcern.PAST_STRIP: f"the {name}'s cross bore runs past the stile",
    }
    return sentence(words[concern])


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
            f"{lengths.full(season.moving)} of the width is {season.species.species} across the"
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
