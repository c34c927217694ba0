"""Inches, fractions, millimetres and degrees: the only place that converts.

Inside the library a length is inches and an angle radians. A person writes
either as the trade does, and reads it back as a fraction of an inch or in
millimetres.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import atan2, ceil, degrees, floor, gcd, isfinite, radians, tan
from unicodedata import decomposition, normalize

from swingcheck.errors import UnitError

UNITS = ("in", "mm")
MM_PER_INCH = 25.4  # exact, by the definition of the inch

_LENGTH = 'a length, such as "29 13/16", "1 7/16 in" or "36.5 mm"'
_ANGLE = 'an angle, such as 2, "2 deg" or "1/8 in 2"'
_SLOPE = 'a slope, such as "1/8 in 12", or an angle in degrees'
_LONGEST = 60  # characters; nothing a person measures takes more

_IN_AN_INCH = {
    "": 0.0,
    '"': 1.0,
    "in": 1.0,
    "inch": 1.0,
    "inches": 1.0,
    "mm": MM_PER_INCH,
    "cm": MM_PER_INCH / 10,
}
# Quotes, dashes and slashes as a word processor or a phone writes them.
_MARKS = str.maketrans(
    dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u02ba", '"')
    | dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u02b9\u02bc", "'")
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-")
    | dict.fromkeys("\u2044\u2215", "/")
)
_NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]+)(?: |-))?(?P<over>[0-9]+)/(?P<under>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
)
_WITH_UNIT = re.compile(r"(?P<number>[0-9][0-9 /.-]*|\.[0-9]+) ?(?P<unit>\"|[a-z]*)\.?")
_FEET = re.compile(r"(?P<feet>[0-9.]+) ?(?:'|ft\.?|foot|feet) ?-? ?(?P<inches>.*)")
_DEGREES = re.compile(r"(?P<number>.*?) ?(?:\u00b0|deg\.?|degrees?)?")


def parsed_length(value: str | float, unit: str = "in") -> float:
    r"""Return a length in inches, read as a carpenter writes it.

    Parameters
    ----------
    value : str or float
        ``"29 13/16"``, ``"1-3/8"``, ``"6' 8 1/2\""``, ``"3 mm"``, ``0.097``.
    unit : str
        ``"in"`` or ``"mm"``: what a bare number is in.

    Raises
    ------
    UnitError
        When it is no length, is not finite, or could be read in two ways.

    Examples
    --------
    >>> parsed_length("29 13/16")
    29.8125
    >>> parsed_length("6 ft 8 1/2 in")
    80.5
    >>> parsed_length("25.4 mm")
    1.0
    """
    if not isinstance(value, str):
        return _finite(value, _LENGTH) / _IN_AN_INCH[unit]
    text = _plain(value, _LENGTH)
    amount, per = _amount(text, value)
    if not per and unit == "mm" and "/" in text:
        raise UnitError(value, _LENGTH, 'a fraction is in inches: end it with "in"')
    return amount / (per or _IN_AN_INCH[unit])


def parsed_angle(value: str | float) -> float:
    """Return an angle in radians from degrees or from a rise and a run.

    Raises
    ------
    UnitError
        When it is no angle, or is not finite.

    Examples
    --------
    >>> round(degrees(parsed_angle("1/8 in 2")), 3)
    3.576
    >>> round(degrees(parsed_angle("2 deg")), 9)
    2.0
    """
    if not isinstance(value, str):
        return radians(_finite(value, _ANGLE))
    text = _plain(value, _ANGLE)
    ratio = _rise_and_run(text, value)
    return atan2(*ratio) if ratio else radians(_plain_degrees(text, value, _ANGLE))


def parsed_slope(value: str | float) -> float:
    """Return a slope, rise over run, from a rise and a run or from degrees.

    Raises
    ------
    UnitError
        When it is no slope, or stands as steep as 90 degrees.

    Examples
    --------
    >>> parsed_slope("1/8 in 12")
    0.010416666666666666
    """
    if isinstance(value, str):
        text = _plain(value, _SLOPE)
        if ratio := _rise_and_run(text, value):
            return ratio[0] / ratio[1]
        angle = _plain_degrees(text, value, _SLOPE)
    else:
        angle = _finite(value, _SLOPE)
    if abs(angle) >= 90:
        raise UnitError(str(value), "a slope under 90 degrees")
    return tan(radians(angle))


def inches(value: float, unit: str) -> float:
    """Return in inches a number that is in ``unit``."""
    return value / _IN_AN_INCH[unit]


def in_unit(value: float, unit: str) -> float:
    """Return in ``unit`` a number that is in inches."""
    return value * _IN_AN_INCH[unit]


def fraction_text(value: float, denominator: int = 64) -> str:
    """Return inches as the nearest reduced fraction, as read off a tape.

    Parameters
    ----------
    value : float
        Inches.
    denominator : int
        The tape's finest division.

    Examples
    --------
    >>> fraction_text(3.497), fraction_text(-0.0625), fraction_text(0.001)
    ('3 1/2', '-1/16', '0')
    """
    parts = round(abs(value) * denominator)
    whole, over = divmod(parts, denominator)
    sign = "-" if value < 0 and parts else ""
    if not over:
        return f"{sign}{whole}"
    shared = gcd(over, denominator)
    fraction = f"{over // shared}/{denominator // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def length_text(value: float, unit: str = "in", denominator: int = 64) -> str:
    """Return a length for reading: a fraction of an inch, or millimetres.

    The decimal stands behind the fraction wherever the two differ by half a
    thousandth or more.

    Examples
    --------
    >>> length_text(3.497), length_text(1.4375), length_text(3.497, "mm")
    ('3 1/2 in (3.497)', '1 7/16 in', '88.8 mm')
    """
    if unit == "mm":
        return f"{_decimal(value * MM_PER_INCH, 1)} mm"
    fraction = fraction_text(value, denominator)
    off = value - round(value * denominator) / denominator
    if abs(off) < 0.0005:
        return f"{fraction} in"
    return f"{fraction} in ({_decimal(value, 3)})"


def lengths_text(values: Sequence[float], unit: str = "in") -> str:
    """Return several lengths for reading; one where they are all the same.

    Examples
    --------
    >>> lengths_text((7.0, 37.75)), lengths_text((0.25, 0.25))
    ('7 in, 37 3/4 in', '1/4 in')
    """
    texts = [length_text(value, unit) for value in values]
    return texts[0] if len(set(texts)) == 1 else ", ".join(texts)


def angle_text(angle: float) -> str:
    """Return radians for reading, in degrees to a hundredth.

    Examples
    --------
    >>> angle_text(radians(2)), angle_text(radians(3.5763))
    ('2 deg', '3.58 deg')
    """
    return f"{_trimmed(degrees(angle), 2)} deg"


def slope_text(slope: float, unit: str = "in") -> str:
    """Return a slope for reading: its rise in a run of a foot or a metre.

    Examples
    --------
    >>> slope_text(0.125 / 12), slope_text(0.01, "mm"), slope_text(0.0)
    ('1/8 in 12', '10 mm in 1000', 'level')
    """
    if not slope:
        return "level"
    if unit == "mm":
        return f"{_trimmed(slope * 1000, 1)} mm in 1000"
    return f"{fraction_text(slope * 12)} in 12"


def rounded_down(value: float, step: float) -> float:
    """Return the largest multiple of ``step`` that is not above ``value``.

    A value within a millionth of a step of a multiple is that multiple.

    Examples
    --------
    >>> rounded_down(0.33, 1 / 64), rounded_down(0.3125 - 1e-12, 1 / 64)
    (0.328125, 0.3125)
    """
    return floor(value / step + 1e-6) * step


def rounded_up(value: float, step: float) -> float:
    """Return the smallest multiple of ``step`` that is not below ``value``.

    A value within a millionth of a step of a multiple is that multiple.

    Examples
    --------
    >>> rounded_up(0.33, 1 / 64), rounded_up(0.3125 + 1e-12, 1 / 64)
    (0.34375, 0.3125)
    """
    return ceil(value / step - 1e-6) * step


def rounded_nearest(value: float, step: float) -> float:
    """Return the multiple of ``step`` nearest to ``value``."""
    return round(value / step) * step


def _finite(value: float, expected: str) -> float:
    try:
        number = float(value)
    except OverflowError:
        raise UnitError("a whole number of over 300 digits", expected) from None
    if not isfinite(number):
        raise UnitError(str(value), expected)
    return number


def _plain(value: str, expected: str) -> str:
    """Return the text in plain ASCII marks, one space between words, lower case."""
    if len(value) > _LONGEST:
        raise UnitError(f"{value[:_LONGEST]}...", expected, f"over {_LONGEST} characters")
    if not value.isascii():
        value = "".join(map(_spaced_fraction, value)).translate(_MARKS)
    text = " ".join(value.casefold().split()).replace("''", '"')
    text = re.sub(r" ?/ ?", "/", re.sub(r"^([+-]) ", r"\1", text))
    if not text:
        raise UnitError('""', expected)
    if re.search(r"[0-9],[0-9]", text):
        hint = "no commas: the decimal takes a point, such as 3.5 mm"
        raise UnitError(value, expected, hint)
    return text


def _spaced_fraction(mark: str) -> str:
    is_fraction = decomposition(mark).startswith("<fraction>")
    return f" {normalize('NFKC', mark)}" if is_fraction else mark


def _amount(text: str, typed: str) -> tuple[float, float]:
    """Return a signed amount, and how many of its unit make an inch (0: it has none)."""
    sign = -1.0 if text.startswith("-") else 1.0
    text = text[1:] if text[:1] in "+-" else text
    if found := _FEET.fullmatch(text):
        feet = _number(found["feet"], typed)
        return sign * (12 * feet + _inches_after(found["inches"], typed)), 1.0
    found = _WITH_UNIT.fullmatch(text)
    if found is None:
        raise UnitError(typed, _LENGTH)
    if found["unit"] not in _IN_AN_INCH:
        raise UnitError(typed, _LENGTH, _unit_hint(found["unit"]))
    return sign * _number(found["number"].rstrip(), typed), _IN_AN_INCH[found["unit"]]


def _inches_after(text: str, typed: str) -> float:
    if not text:
        return 0.0
    found = _WITH_UNIT.fullmatch(text)
    if found is None or _IN_AN_INCH.get(found["unit"]) not in (0.0, 1.0):
        raise UnitError(typed, _LENGTH, "after the feet come inches, such as 6' 8 1/2\"")
    after = _number(found["number"].rstrip(), typed)
    if after >= 12:
        raise UnitError(typed, _LENGTH, "the inches after the feet are under 12")
    return after


def _unit_hint(word: str) -> str:
    if re.fullmatch(r"m|met(?:er|re)s?", word):
        return "write it in mm"
    return f'"{word}" is no unit; the units are in, mm, cm and ft'


def _number(text: str, typed: str) -> float:
    found = _NUMBER.fullmatch(text)
    if found is None:
        if re.fullmatch(r"[0-9]+-[0-9]+", text):
            first, second = text.split("-")
            hint = f"feet and inches? {first}' {second}\"; a fraction? {first}-{second}/16"
            raise UnitError(typed, _LENGTH, hint)
        raise UnitError(typed, _LENGTH)
    if found["decimal"]:
        return float(found["decimal"])
    over, under = float(found["over"]), float(found["under"])
    if not under:
        raise UnitError(typed, _LENGTH, "nothing divides by 0")
    if found["whole"] and over >= under:
        raise UnitError(typed, _LENGTH, "after a whole number the fraction is under 1")
    return float(found["whole"] or 0) + over / under


def _plain_degrees(text: str, typed: str, expected: str) -> float:
    found = _DEGREES.fullmatch(text)
    number = found["number"] if found else text
    sign = -1.0 if number.startswith("-") else 1.0
    try:
        return sign * _number(number.lstrip("+-") if number[:1] in "+-" else number, typed)
    except UnitError as error:
        raise UnitError(typed, expected, error.hint) from None


def _rise_and_run(text: str, typed: str) -> tuple[float, float] | None:
    """Return the rise and the run of "1/8 in 2" or "1:16", in one unit; None for neither."""
    if text.count(":") == 1:
        pairs = [text.split(":")]
    else:
        words = text.split(" ")
        places = [k for k, word in enumerate(words) if word == "in" and 0 < k < len(words) - 1]
        pairs = [[" ".join(words[:k]), " ".join(words[k + 1 :])] for k in places]
    for rise_text, run_text in pairs:
        try:
            rise, rise_per = _amount(rise_text.strip(), typed)
            run, run_per = _amount(run_text.strip(), typed)
        except UnitError:
            continue
        if run <= 0:
            raise UnitError(typed, _SLOPE, "the run is above 0")
        return rise / (rise_per or run_per or 1.0), run / (run_per or rise_per or 1.0)
    return None


def _decimal(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.lstrip("-") if not text.strip("-0.") else text


def _trimmed(value: float, places: int) -> str:
    text = _decimal(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text
