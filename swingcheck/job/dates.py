"""Cells that a spreadsheet has made something else of: a fraction turned to a date, a rounding."""

from __future__ import annotations

import re
from datetime import date, timedelta

_MONTHS = (
    ("jan", "ene", "gen", "janv"),
    ("feb", "fév", "févr"),
    ("mar", "mrz", "mär", "mars"),
    ("apr", "avr", "abr"),
    ("may", "mai", "mag"),
    ("jun", "juin", "giu"),
    ("jul", "juil", "lug"),
    ("aug", "aoû", "août", "ago"),
    ("sep", "sept", "set"),
    ("oct", "okt", "ott"),
    ("nov",),
    ("dec", "dez", "déc", "dic"),
)
_WORD = r"(?P<month>[^\W\d]{3,9})\.?"
_DATES = (
    re.compile(rf"(?P<day>\d{{1,2}})\.?[- ]+{_WORD}(?:[- ]+\d{{2,4}})?"),
    re.compile(rf"{_WORD}[- ]+(?P<day>\d{{1,2}}),?(?:[- ]+\d{{2,4}})?"),
    re.compile(r"(?P<day>\d{1,2})[/.-](?P<month>\d{1,2})[/.-](?:\d{4}|\d{2})(?: [\d:]+)?"),
    re.compile(r"\d{4}[/.-](?P<month>\d{1,2})[/.-](?P<day>\d{1,2})(?:[ T][\d:]+)?"),
)
_SERIAL = range(36526, 73051)  # days of the years 2000 to 2099, as spreadsheets count them
_FIRST_DAY = date(1899, 12, 30)
_OVERFLOW = re.compile(r"#+|#[A-Z/0!?]+")
_FRACTION = re.compile(r"/\s*(\d+)")
_ON_A_TAPE = (2, 4, 8, 16, 32, 64, 128)
_AS_TEXT = "set the column's format to Text, then type it again"


def spreadsheet_slip(cell: str, *, is_length: bool) -> tuple[str, str] | None:
    """Return what a spreadsheet has made of a measurement, and what to do; ``None`` for nothing.

    Parameters
    ----------
    cell : str
        As typed.
    is_length : bool
        The cell is a length: its fractions are a tape's, and it is no day's number.

    Examples
    --------
    >>> spreadsheet_slip("8-Mar", is_length=True)[0]
    'a date, which the spreadsheet made of a fraction, likely 3/8'
    >>> spreadsheet_slip("29 13/16", is_length=True) is None
    True
    """
    if _OVERFLOW.fullmatch(cell):
        return "not shown by the spreadsheet", "widen the column or mend the formula, save it again"
    if found := _as_date(cell, is_length=is_length):
        likely = _proper_fraction(*found)
        said = f", likely {likely}" if likely else ""
        return f"a date, which the spreadsheet made of a fraction{said}", _AS_TEXT
    if is_length:
        odd = [under for under in _FRACTION.findall(cell) if int(under) not in _ON_A_TAPE]
        if odd:
            said = f"no tape reads in parts of {odd[0]}: a spreadsheet may have rounded it"
            return said, _AS_TEXT
    return None


def _as_date(cell: str, *, is_length: bool) -> tuple[int, int] | None:
    """Return the day (or the year's last two digits) and the month, 0 for an unknown one."""
    if is_length and cell.isdecimal() and int(cell[:9]) in _SERIAL:
        day = _FIRST_DAY + timedelta(days=int(cell))
        return day.day, day.month
    for pattern in _DATES:
        if found := pattern.fullmatch(cell):
            month = _month(found["month"])
            if month is not None:
                return int(found["day"]), month
    return None


def _month(text: str) -> int | None:
    if text.isdecimal():
        return int(text)
    short = text.casefold()
    for number, names in enumerate(_MONTHS, 1):
        if short in names or short[:3] in names:
            return number
    return None


def _proper_fraction(day: int, month: int) -> str:
    """Return the fraction of a tape that two numbers are, or nothing."""
    over, under = sorted((day, month))
    return f"{over}/{under}" if under in _ON_A_TAPE and 0 < over < under else ""
