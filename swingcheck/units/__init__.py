"""Inches, fractions, millimetres and degrees: the only place that converts.

Inside the library a length is inches and an angle radians. A person writes
either as the trade does, and reads it back as a fraction of an inch or in
millimetres.
"""

from swingcheck.units.reading import (
    parsed_angle,
    parsed_length,
    parsed_percent,
    parsed_slope,
    parsed_temperature,
)
from swingcheck.units.writing import (
    MM_PER_INCH,
    UNITS,
    angle_text,
    counted,
    fraction_text,
    grouped,
    in_unit,
    inches,
    length_text,
    lengths_text,
    rough_length,
    rounded_down,
    rounded_nearest,
    rounded_up,
    slope_text,
    tallied,
)
