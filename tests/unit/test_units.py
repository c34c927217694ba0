"""Lengths, angles, slopes and temperatures, written as a carpenter writes them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import atan, degrees, radians, tan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.errors import SwingcheckError, UnitError
from swingcheck.units import (
    angle_text,
    fraction_text,
    in_unit,
    inches,
    length_text,
    lengths_text,
    parsed_angle,
    parsed_length,
    parsed_percent,
    parsed_slope,
    parsed_temperature,
    rounded_down,
    rounded_nearest,
    rounded_up,
    slope_text,
)

# The right side is inches by hand arithmetic: a foot is 12 in, an inch 25.4 mm exactly
# (International yard and pound, 1959).
LENGTHS = {
    "29 13/16": 29.8125,
    "1-3/8": 1.375,
    "1 7/16 in": 1.4375,
    "1 7/16 in.": 1.4375,
    "1 7/16 inches": 1.4375,
    '29 13/16"': 29.8125,
    "29 13/16''": 29.8125,
    "29 13/16 \u201d": 29.8125,
    "29 13/16\u2033": 29.8125,
    "29\u00bd": 29.5,
    "\u215b": 0.125,
    "1 \u215d in": 1.625,
    "1 3\u20448": 1.375,
    "1 3 / 8": 1.375,
    " 1  3/8 ": 1.375,
    "1\u00a03/8": 1.375,
    "6' 8\"": 80.0,
    "6'8": 80.0,
    "6' 8 1/2\"": 80.5,
    "6'-8 1/2\"": 80.5,
    "6' 11 63/64\"": 83.984375,
    "6 ft 8 1/2 in": 80.5,
    "6 ft. 8 1/2 in.": 80.5,
    "6 feet": 72.0,
    "1 foot 1 in": 13.0,
    "6.5'": 78.0,
    "6\u2019 8\u201d": 80.0,
    "0.097": 0.097,
    ".097": 0.097,
    "3.": 3.0,
    "17/16": 1.0625,
    "-1/16": -0.0625,
    "-1 3/8": -1.375,
    "\u22121 3/8": -1.375,
    "- 1/16": -0.0625,
    "+1/16": 0.0625,
    "25.4 mm": 1.0,
    "25.4MM": 1.0,
    "2.54 cm": 1.0,
    "0": 0.0,
}

NO_LENGTHS = {
    "6-8": "6' 8\"",
    "3,5 mm": "point",
    "1,200": "point",
    "1 17/16": "under 1",
    "1/0": "divides by 0",
    "6' 12\"": "under 12",
    "6' 14\"": "under 12",
    "6' 8 mm": "inches",
    "3 m": "mm",
    "3 furlongs": "furlongs",
    "": "",
    "   ": "",
    "wide": "",
    "nan": "",
    "inf": "",
    "1e3": "",
    "0x10": "",
    "1 2": "",
    "1.5 3/8": "",
    "1 - 3/8": "",
    "--1": "",
    "1/8/2": "",
    "1/8 in 2": "",
    "\u0663": "",
    "\u00b2": "",
    "9" * 400: "60 characters",
}


@pytest.mark.parametrize(("text", "expected"), LENGTHS.items())
def test_a_length_is_read_as_a_carpenter_writes_it(text: str, expected: float) -> None:
    assert parsed_length(text) == expected


@pytest.mark.parametrize(("text", "hint"), NO_LENGTHS.items())
def test_what_is_no_length_is_refused_with_a_hint(text: str, hint: str) -> None:
    with pytest.raises(UnitError) as caught:
        parsed_length(text)
    assert "a length" in caught.value.expected
    assert hint in caught.value.hint
    assert isinstance(caught.value, ValueError)
    assert isinstance(caught.value, SwingcheckError)


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf"), 10**400])
def test_a_number_that_is_not_finite_is_refused(number: float) -> None:
    for parsed in (parsed_length, parsed_angle, parsed_slope, parsed_temperature, parsed_percent):
        with pytest.raises(UnitError):
            parsed(number)


ANGLES = {
    "2": 2.0,
    "2 deg": 2.0,
    "2\u00b0": 2.0,
    "-2 1/2 degrees": -2.5,
    "1/2": 0.5,
    # 1/8 in 2 is a slope of 1/16: 3.576 degrees, the modern bevel (ANSI/SDI A250.8).
    "1/8 in 2": degrees(atan(1 / 16)),
    "1/8 in in 2 in": degrees(atan(1 / 16)),
    '1/8" in 2"': degrees(atan(1 / 16)),
    "3 mm in 48": degrees(atan(1 / 16)),
    "1:16": degrees(atan(1 / 16)),
    "-1/8 in 2": -degrees(atan(1 / 16)),
    # 1/8 in 2 1/4, the older bevel: 3.180 degrees (The Building Trades Pocketbook).
    "1/8 in 2 1/4": degrees(atan(1 / 18)),
}


@pytest.mark.parametrize(("text", "expected"), ANGLES.items())
def test_an_angle_is_degrees_or_a_rise_and_a_run(text: str, expected: float) -> None:
    assert degrees(parsed_angle(text)) == pytest.approx(expected, abs=1e-12)
    assert parsed_slope(text) == pytest.approx(tan(radians(expected)), abs=1e-12)


# The same for every kind, with the unit of its bare numbers where one is told. Water freezes at
# 32 F and boils at 212 F, and -40 is the same on both.
READ = [
    (parsed_length, ("25.4", "mm"), 1.0),
    (parsed_length, (25.4, "mm"), 1.0),
    (parsed_length, (1, "in"), 1.0),
    (parsed_length, ("1 in", "mm"), 1.0),
    (parsed_length, ("29 13/16 in", "mm"), 29.8125),
    (parsed_slope, ("1/4 in in 1 ft",), 0.25 / 12),
    (parsed_temperature, ("0 C",), 32.0),
    (parsed_temperature, ("100 \u00b0C",), 212.0),
    (parsed_temperature, ("-40 C",), -40.0),
    (parsed_temperature, ("70 F", "mm"), 70.0),
    (parsed_temperature, (70,), 70.0),
    (parsed_percent, ("45 %",), 45.0),
    (parsed_percent, ("45%",), 45.0),
    (parsed_percent, (45,), 45.0),
]
# A bare fraction among millimetres could be either; so could 21 degrees.
REFUSED = [
    (parsed_length, ("29 13/16", "mm"), "in inches"),
    (parsed_length, ("\u00bd", "mm"), "in inches"),
    (parsed_slope, (90,), "under 90"),
    (parsed_temperature, (21, "mm"), "C or F"),
    (parsed_temperature, ("21", "mm"), "C or F"),
    (parsed_temperature, ("warm",), ""),
    (parsed_percent, ("half",), ""),
]
NO_ANGLES = ("", "square", "1 in", "1/8 in 0", "deg", "1:2:3", "2 mm")
REFUSED += [(parsed, (text,), "") for text in NO_ANGLES for parsed in (parsed_angle, parsed_slope)]


@pytest.mark.parametrize(("parsed", "told", "expected"), READ)
def test_a_value_is_read_in_its_unit(
    parsed: Callable[..., float], told: tuple[Any, ...], expected: float
) -> None:
    assert parsed(*told) == expected


@pytest.mark.parametrize(("parsed", "told", "words"), REFUSED)
def test_what_is_no_value_or_could_be_two_is_refused(
    parsed: Callable[..., float], told: tuple[Any, ...], words: str
) -> None:
    with pytest.raises(UnitError) as caught:
        parsed(*told)
    assert words in str(caught.value)


sixty_fourths = st.integers(min_value=-64 * 480, max_value=64 * 480)
lengths = st.floats(min_value=-480.0, max_value=480.0, allow_nan=False)


@given(sixty_fourths)
def test_a_tapes_fractions_come_back_and_stay_on_their_mark(parts: int) -> None:
    text = fraction_text(parts / 64)
    assert parsed_length(text) == parsed_length(length_text(parts / 64)) == parts / 64
    over, slash, under = text.split()[-1].lstrip("-").partition("/")
    assert not slash or Fraction(int(over), int(under)).denominator == int(under)
    value = parts / 64
    for near in (value, value + 1e-10, value - 1e-10):
        assert rounded_down(near, 1 / 64) == rounded_up(near, 1 / 64) == value


@given(lengths, st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
def test_a_fraction_is_the_nearest(value: float, denominator: int) -> None:
    read = parsed_length(fraction_text(value, denominator))
    assert abs(read - value) <= 0.5 / denominator + 1e-12


@given(lengths)
def test_decimals_and_millimetres_stand_for_what_is_off(value: float) -> None:
    text = length_text(value)
    read = parsed_length(text.split(" in")[0])
    if "(" in text:
        assert float(text.split("(")[1].rstrip(")")) == pytest.approx(value, abs=0.0005)
        assert abs(read - value) >= 0.00049
    else:
        assert read == pytest.approx(value, abs=0.0005)
    assert parsed_length(length_text(value, "mm")) == pytest.approx(value, abs=0.05 / 25.4 + 1e-9)
    assert inches(in_unit(value, "mm"), "mm") == pytest.approx(value, abs=1e-12)


@given(lengths, st.sampled_from(["in", "mm"]))
def test_nothing_is_written_as_minus_nothing(value: float, unit: str) -> None:
    text = length_text(value, unit)
    assert not text.startswith(("-0 ", "-0.0 "))


@given(lengths, st.sampled_from([1 / 64, 1 / 32, 1 / 16, 0.1 / 25.4, 1 / 25.4]))
def test_rounding_the_safe_way_never_passes_the_value(value: float, step: float) -> None:
    low, high = rounded_down(value, step), rounded_up(value, step)
    assert low <= value + 2e-6 * step
    assert high >= value - 2e-6 * step
    assert value - low < step * (1 + 1e-6)
    assert high - value < step * (1 + 1e-6)
    assert abs(rounded_nearest(value, step) - value) <= step * (0.5 + 1e-6)


@given(st.floats(min_value=-89.0, max_value=89.0))
def test_degrees_go_out_and_come_back_to_a_hundredth(angle: float) -> None:
    assert degrees(parsed_angle(angle_text(radians(angle)))) == pytest.approx(angle, abs=0.00501)


@pytest.mark.parametrize(
    ("written", "text"),
    [
        (length_text(3.497), "3 1/2 in (3.497)"),
        (length_text(-0.0625), "-1/16 in"),
        (length_text(3.497, "mm"), "88.8 mm"),
        (lengths_text((7.0, 37.75, 68.5)), "7 in, 37 3/4 in, 68 1/2 in"),
        (lengths_text((0.25, 0.25)), "1/4 in"),
        (angle_text(radians(2)), "2 deg"),
        (angle_text(radians(10)), "10 deg"),
        (slope_text(0.125 / 12), "1/8 in 12"),
        (slope_text(0.0, "mm"), "level"),
    ],
)
def test_texts_read_as_the_trade_writes_them(written: str, text: str) -> None:
    assert written == text
