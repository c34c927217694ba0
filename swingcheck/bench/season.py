"""The margins across the year: what the wood swells, and what paint takes.

Equilibrium moisture content: the two-hydrate sorption equation of Hailwood and
Horrobin with the constants of Simpson (USDA Forest Products Laboratory,
FPL-RN-0268, 1998; Wood Handbook, FPL-GTR-190, equation 4-5), temperature in
Fahrenheit and humidity as a fraction. Read in secondary texts; one of them
labels the humidity a percentage, which it is not. Change of size: Wood
Handbook, chapter 13: the size times a coefficient times the change of moisture
content, for 6 to 14 %. Read in an extension page.

The slab grows away from its hinges, so all that it gains in width comes off
the strike margin; on a pair the inactive slab's growth does too. How much of
it grows is its construction's: a solid slab all of its width, a stile and rail
one its two stiles (its rails run the other way and its panels float), a
veneered or engineered core the solid strips along its edges, and the board
between them by a board's own figures; hollow metal nothing. Every month is
taken as if the slab came to rest in that month's air; paint and thickness slow
it, so what it does is at most this. Growth of the jamb is not counted.

Paint builds on both faces of a margin: film thickness times coats on each.
One dry film is about 1.5 mils for a waterborne coat (MIL-HDBK-1110, Handbook
for Paints and Protective Coatings, section 4.4.1.2, read).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swingcheck.bench.materials import (
    COMMON,
    SOLID,
    VALID_PERCENT,
    Material,
    board_growth,
    board_moisture,
    construction_of,
    material,
)
from swingcheck.model import Assumed, Finish, Scene, Season, Stations, inactive_scene
from swingcheck.swing.fit import film_of
from swingcheck.swing.found import Margins
from swingcheck.units import length_text


def moisture_content(temperature: float, humidity: float) -> float:
    """Return what wood comes to in air: percent, from Fahrenheit and percent of humidity.

    Examples
    --------
    >>> round(moisture_content(70.0, 50.0), 1)
    9.2
    """
    t, h = temperature, humidity / 100
    w = 330 + 0.452 * t + 0.00415 * t**2
    k = 0.791 + 0.000463 * t - 0.000000844 * t**2
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t**2
    kh = k * h
    held = kh / (1 - kh)
    hydrated = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (held + hydrated)


def swelling(size: float, coefficient: float, before: float, after: float) -> float:
    """Return how much larger a piece is after than before, inches.

    ``size`` is across the grain, inches, before; ``coefficient`` its change for
    each percent of moisture content.

    Examples
    --------
    >>> round(swelling(8.0, 0.0026, 6.0, 12.0), 3)
    0.125
    """
    return size * coefficient * (after - before)


_NAMES = "January February March April May June July August September October November December"
MONTHS = tuple(_NAMES.split())

USUAL_TEMPERATURES = (68.0, 68.0, 68.0, 69.0, 71.0, 74.0, 76.0, 76.0, 73.0, 70.0, 68.0, 68.0)
USUAL_HUMIDITIES = (30.0, 30.0, 35.0, 40.0, 48.0, 55.0, 60.0, 62.0, 55.0, 48.0, 40.0, 33.0)
"""Inside a house that is heated and not cooled, January to December. Invented for want of
readings; common practice, no source."""

USUAL_MOISTURE = 8.0
"""Of a slab as it is delivered indoors, percent. Wood Handbook, chapter 13, from memory."""

USUAL_LEAST_IN = 1 / 16
"""The least strike margin in any month. Common practice, no source."""

_NOTHING_IN = 1e-9

_Moisture = tuple[float, float]  # of wood and of board, percent


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthMargins:
    """One month, painted: the slab's moisture, what its width gained, and its margins.

    On a pair ``gained`` is what both slabs' widths did.

    ``temperature`` is Fahrenheit, ``humidity`` and ``moisture`` percent;
    ``hinge`` and ``strike`` are top, middle, bottom.
    """

    month: str
    temperature: float
    humidity: float
    moisture: float
    gained: float
    hinge: Stations
    strike: Stations


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonMargins:
    """The year.

    ``moving`` is how much of the width grows, and ``species`` how it does,
    ``None`` where the wood is not in the tables or none of it grows; ``board``
    is how much of it is board.
    ``now`` is the slab's moisture content today and ``unpainted`` its strike
    margins; ``film`` is what the finish takes off each margin, ``through``
    the most that the slab thickens. ``tightest`` and ``widest`` are months;
    ``closes`` the month in which the strike margin comes to be gone,
    ``falls_short`` that in which it comes to be under ``least``; ``leave`` is
    the least strike margin to leave today for it never to be.
    ``past_valid``: a moisture content beyond what the coefficients hold for.
    """

    months: tuple[MonthMargins, ...]
    moving: float
    board: float
    species: Material | None
    now: float
    unpainted: Stations
    film: float
    through: float
    tightest: str
    widest: str
    closes: str | None
    falls_short: str | None
    least: float
    leave: float
    past_valid: bool
    assumed: tuple[Assumed, ...]


def season_margins(scene: Scene, margins: Margins) -> SeasonMargins:
    """Return the margins of a scene's slab month by month, from today's as a check finds them."""
    told, assumed = _told(scene), _assumed(scene)
    moving, board, strip_assumed = moving_width(scene)
    species, (across, through) = _moved(scene)
    if not moving:
        species, across, through = None, 0.0, 0.0
    air = _air(told)
    both = [(moisture_content(*each), board_moisture(each[1])) for each in air]
    today = _today(told, both)
    now, contents = today[0], [wood for wood, _ in both]
    film = film_of(scene)
    own = _gains(scene, today, both)
    beside = [0.0] * len(MONTHS)
    if scene.inactive is not None:
        beside = _gains(inactive_scene(scene)[0], today, both)
    months = tuple(
        MonthMargins(
            month=name,
            temperature=air[k][0],
            humidity=air[k][1],
            moisture=contents[k],
            gained=own[k] + beside[k],
            hinge=tuple(margin - film for margin in margins.hinge),
            strike=tuple(margin - film - own[k] - beside[k] for margin in margins.strike),
        )
        for k, name in enumerate(MONTHS)
    )
    least = USUAL_LEAST_IN if told.least is None else told.least
    growth = swelling(1.0, across, now, max(now, *contents))
    kept = least + film + max(0.0, *beside)
    return SeasonMargins(
        months=months,
        moving=moving,
        board=board,
        species=species,
        now=now,
        unpainted=margins.strike,
        film=film,
        through=swelling(scene.slab.thickness, through, now, max(contents)),
        tightest=min(months, key=lambda month: min(month.strike)).month,
        widest=max(months, key=lambda month: min(month.strike)).month,
        closes=_first_under(months, 0.0),
        falls_short=_first_under(months, least),
        least=least,
        leave=_margin_to_leave(kept, max(0.0, *own), growth, min(margins.strike)),
        past_valid=species is not None and not _is_within((now, *contents)),
        assumed=(*assumed, *strip_assumed),
    )


def most_growth(scene: Scene) -> tuple[float, float]:
    """Return how much wider and thicker than now a slab is in its wettest month, inches."""
    both = [(moisture_content(*each), board_moisture(each[1])) for each in _air(_told(scene))]
    today = _today(_told(scene), both)
    through = _moved(scene)[1][1] if moving_width(scene)[0] > 0 else 0.0
    wettest = max(wood for wood, _ in both)
    thicker = swelling(scene.slab.thickness, through, today[0], wettest)
    return max(0.0, *_gains(scene, today, both)), max(0.0, thicker)


def _told(scene: Scene) -> Season:
    return scene.season or Season()


def _is_within(contents: Sequence[float]) -> bool:
    return VALID_PERCENT[0] <= min(contents) and max(contents) <= VALID_PERCENT[1]


def _air(told: Season) -> list[tuple[float, float]]:
    """Return each month's temperature and humidity, as told or usual."""
    temperatures = told.temperatures or USUAL_TEMPERATURES
    return [*zip(temperatures, told.humidities or USUAL_HUMIDITIES, strict=True)]


def _today(told: Season, months: Sequence[_Moisture]) -> _Moisture:
    """Return what the slab's wood and board have now; a meter's reading is of either."""
    if told.moisture is None and told.month is not None:
        return months[told.month - 1]
    read = USUAL_MOISTURE if told.moisture is None else told.moisture
    return read, read


def _moved(scene: Scene) -> tuple[Material | None, tuple[float, float]]:
    """Return the slab's wood, ``None`` without coefficients; and across the face and through it."""
    found = material(scene.slab.material)
    if found is None or found.radial is None:
        return None, (0.0, 0.0)
    return found, found.moves(scene.slab.grain)


def _gains(scene: Scene, now: _Moisture, contents: Sequence[_Moisture]) -> list[float]:
    """Return what a slab's width gains until each month, inches: its wood and its board."""
    moving, board, _ = moving_width(scene)
    _, (across, _) = _moved(scene)
    return [
        swelling(moving, across, now[0], wood) + board * board_growth(now[1], content)
        for wood, content in contents
    ]


def moving_width(scene: Scene) -> tuple[float, float, tuple[Assumed, ...]]:
    """Return how much of a slab's width is wood across the grain, and board; what was assumed."""
    slab, wide = scene.slab, max(scene.slab.width)
    built = construction_of(slab)
    assumed: tuple[Assumed, ...] = ()
    is_assumed = any(item.key == "slab.construction" for item in scene.assumed)
    if is_assumed and built is SOLID and _moved(scene)[0] is not None:
        # Weighed as the heaviest kind, and moved as the common one.
        built = COMMON
        why = "the common kind: a solid slab moves more"
        assumed = (Assumed(key="slab.construction", value=COMMON.name, why=why),)
    if built is None:
        why = "nothing known of how it is built: as if it were solid"
        return wide, 0.0, (Assumed(key="slab.construction", value=SOLID.name, why=why),)
    if not built.strip:
        moving = 0.0 if built.strip == 0.0 else wide
        own = material(slab.material)
        if own is not None and own.kind == "panel":
            return 0.0, moving, ()
        return moving, 0.0, ()
    strip = slab.delivered.edge_strip if slab.delivered else None
    if strip is None:
        strip = built.strip
        value = length_text(strip, scene.unit)
        assumed += (Assumed(key="slab.delivered.edge_strip", value=value, why="usual"),)
    moving = min(2 * strip, wide)
    return moving, (wide - moving) * built.board, assumed


def _assumed(scene: Scene) -> tuple[Assumed, ...]:
    """Return what was assumed of the air and the finish."""
    told, finish = _told(scene), scene.finish or Finish()
    air = ("of a house that is heated and not cooled", "no readings; give your own")
    moisture = (f"{USUAL_MOISTURE:g} %", "no meter reading: as delivered indoors")
    least = (length_text(USUAL_LEAST_IN, scene.unit), "the least to leave")
    coats = f"{finish.slab} coats on the slab, {finish.jamb} on the jamb"
    left_out = (
        (told.temperatures is None, "season.temperatures", *air),
        (told.humidities is None, "season.humidities", *air),
        (told.moisture is None and told.month is None, "season.moisture", *moisture),
        (told.least is None, "season.least", *least),
        (scene.finish is None, "finish", coats, "a first coat and a second"),
    )
    return tuple(
        Assumed(key=key, value=value, why=why) for is_out, key, value, why in left_out if is_out
    )


def _margin_to_leave(least: float, gained: float, growth: float, margin: float) -> float:
    """Return the strike margin to leave today for ``least`` to be left in the wettest month.

    What comes off the slab to open its ``margin`` no longer swells: with the
    ``growth`` of each inch there, ``leave = least + gained - growth (leave - margin)``.
    """
    return (least + gained + growth * margin) / (1 + growth)


def _first_under(months: tuple[MonthMargins, ...], least: float) -> str | None:
    """Return the month in which the least strike margin comes to be under what it must be.

    The first such month after one that is not; January where every one is. A
    margin of nothing at all is gone.
    """
    margins = [min(month.strike) for month in months]
    under = [margin < least - _NOTHING_IN or margin <= 0.0 for margin in margins]
    if not any(under):
        return None
    first = next((k for k in range(len(under)) if under[k] and not under[k - 1]), 0)
    return months[first].month
