"""Lengths, angles, slopes and temperatures, read as a person writes them.

All raise UnitError for what is none, is not finite, or could be read in two ways.
"""

from __future__ import annotations

import re
from math import atan2, isfinite, radians, tan
from unicodedata import decomposition, normalize

from swingcheck.errors import UnitError
from swingcheck.units.writing import MM_PER_INCH

_LENGTH = 'a length, such as "29 13/16", "1 7/16 in" or "36.5 mm"'
_ANGLE = 'an angle, such as 2, "2 deg" or "1/8 in 2"'
_SLOPE = 'a slope, such as "1/8 in 12", or an angle in degrees'
_TEMPERATURE = 'a temperature, such as "70 F" or "21 C"'
_PERCENT = 'a percentage, such as 45 or "45 %"'
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

    Such as ``"29 13/16"``, ``"1-3/8"``, ``"6' 8 1/2\""``, ``"3 mm"`` or ``0.097``; a bare
    number is in ``unit``, ``"in"`` or ``"mm"``.

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

    Examples
    --------
    >>> from math import degrees
    >>> round(degrees(parsed_angle("1/8 in 2")), 3)
    3.576
    """
    if not isinstance(value, str):
        return radians(_finite(value, _ANGLE))
    text = _plain(value, _ANGLE)
    ratio = _rise_and_run(text, value)
    return atan2(*ratio) if ratio else radians(_plain_degrees(text, value, _ANGLE))


def parsed_slope(value: str | float) -> float:
    """Return a slope, rise over run, from a rise and a run or from degrees.

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


def parsed_temperature(value: str | float, unit: str = "in") -> float:
    """Return a temperature in degrees Fahrenheit.

    A bare number is Fahrenheit where bare lengths are inches, and refused
    where they are millimetres: it could be either.

    Examples
    --------
    >>> parsed_temperature("21 C"), parsed_temperature(70)
    (69.8, 70.0)
    """
    if isinstance(value, str):
        text = _plain(value, _TEMPERATURE)
        scale = text[-1] if text[-1] in "cf" else ""
        number = text.removesuffix(scale).rstrip(" \u00b0") if scale else text
        degrees_read = _signed(number, value, _TEMPERATURE)
    else:
        scale, degrees_read = "", _finite(value, _TEMPERATURE)
    if not scale and unit == "mm":
        raise UnitError(str(value), _TEMPERATURE, "say which: end it with C or F")
    return degrees_read * 9 / 5 + 32 if scale == "c" else degrees_read


def parsed_percent(value: str | float) -> float:
    """Return a percentage, read with its sign or without.

    Examples
    --------
    >>> parsed_percent("45 %"), parsed_percent(8.5)
    (45.0, 8.5)
    """
    if not isinstance(value, str):
        return _finite(value, _PERCENT)
    return _signed(_plain(value, _PERCENT).removesuffix("%").rstrip(), value, _PERCENT)


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
        value = "".join(
            f" {normalize('NFKC', mark)}" if decomposition(mark).startswith("<fraction>") else mark
            for mark in value
        ).translate(_MARKS)
    text = " ".join(value.casefold().split()).replace("''", '"')
    text = re.sub(r" ?/ ?", "/", re.sub(r"^([+-]) ", r"\1", text))
    if not text:
        raise UnitError('""', expected)
    if re.search(r"[0-9],[0-9]", text):
        hint = "no commas: the decimal takes a point, such as 3.5 mm"
        raise UnitError(value, expected, hint)
    return text


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
    unit = found["unit"]
    if unit not in _IN_AN_INCH:
        in_metres = re.fullmatch(r"m|met(?:er|re)s?", unit)
        hint = f'"{unit}" is no unit; the units are in, mm, cm and ft'
        raise UnitError(typed, _LENGTH, "write it in mm" if in_metres else hint)
    return sign * _number(found["number"].rstrip(), typed), _IN_AN_INCH[unit]


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
    return _signed(found["number"] if found else text, typed, expected)


def _signed(text: str, typed: str, expected: str) -> float:
    """Return a number with or without a sign; ``expected`` says what it was to be."""
    try:
        amount = _number(text[1:] if text[:1] in ("+", "-") else text, typed)
    except UnitError as error:
        raise UnitError(typed, expected, error.hint) from None
    return -amount if text.startswith("-") else amount


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
