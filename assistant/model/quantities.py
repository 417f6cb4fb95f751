"""Values with units: what a grower or an author writes, as one number on one scale, and back.

Inside the program a temperature is in °F, a length in inches and a date is its ordinal day; all
are rounded to a hundredth, so a value converted there and back compares equal to itself.
"""

from __future__ import annotations

import re
from datetime import date
from enum import Enum


class Kind(str, Enum):
    """What a sign's values are."""

    NUMBER = "number"
    TEMPERATURE = "temperature"
    LENGTH = "length"
    DATE = "date"
    CHOICE = "choice"


class Units(str, Enum):
    """Which units bare numbers are in, and which the answers are shown in."""

    US = "us"
    METRIC = "metric"


class NotAValue(ValueError):
    """A text is no value of the wanted kind; the message says what to write instead."""


CM_PER_INCH = 2.54  # exact by definition (international inch, 1959)
DECIMALS = 2

FIRST_YEAR, LAST_YEAR = 1000, 8999
"""Years of dates that are taken: nobody grows outside them, and a century may be counted to either side."""
MOST_DAYS = 36_525
"""Days, a century: no rule reaches farther."""
LARGEST = 1e9
"""No number that is written is larger; beyond any count, weight, temperature or length of a garden."""
LONGEST_NUMBER = 40
"""Letters of a number."""

_NUMBER = re.compile(r"[-+−]?(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)")
_UNIT_WORDS = {
    Kind.TEMPERATURE: {"f": Units.US, "c": Units.METRIC},
    Kind.LENGTH: {
        **dict.fromkeys(("in", "inch", "inches", '"'), Units.US),
        **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetre", "centimetres"), Units.METRIC),
    },
}
_EXAMPLE = {
    Kind.NUMBER: "a number such as 12",
    Kind.TEMPERATURE: "a temperature such as 54 F or 12 C",
    Kind.LENGTH: "a length such as 2.5 in or 6 cm",
    Kind.DATE: "a date such as 2031-06-20",
    Kind.CHOICE: "one of the choices",
}


def rounded(value: float) -> float:
    """The value on the scale that comparisons use (a hundredth)."""
    return round(value, DECIMALS) + 0.0


def fahrenheit(celsius: float) -> float:
    """°C to °F, rounded to a hundredth."""
    return rounded(celsius * 9 / 5 + 32)


def celsius(fahrenheit: float) -> float:
    """°F to °C, not rounded."""
    return (fahrenheit - 32) * 5 / 9


def inches(centimetres: float) -> float:
    """cm to inches, rounded to a hundredth."""
    return rounded(centimetres / CM_PER_INCH)


def centimetres(inches: float) -> float:
    """Inches to cm, not rounded."""
    return inches * CM_PER_INCH


def example_of(kind: Kind) -> str:
    """What to write for a value of this kind, in words."""
    return _EXAMPLE[kind]


def split_unit(kind: Kind, text: str) -> tuple[str, Units | None]:
    """A text without its trailing unit, and the unit system that unit belongs to (None: no unit).

    Raises `NotAValue` on a unit that this kind does not have, such as 54 K.
    """
    match = re.fullmatch(r"(.*?[\d.])\s*°?\s*([^\d\s.]*)", text.strip())
    if match is None or not match[2]:
        return text.strip(), None
    words = _UNIT_WORDS.get(kind, {})
    unit = words.get(match[2].lower())
    if unit is None:
        raise NotAValue(f"'{text.strip()}' has the unit '{match[2]}'; write {_EXAMPLE[kind]}")
    return match[1].strip(), unit


def plain_number(text: str, kind: Kind = Kind.NUMBER) -> float:
    """A decimal number or a mixed fraction such as `1 3/4`, without a unit.

    Raises `NotAValue` when the text is neither.
    """
    if len(text) > LONGEST_NUMBER or not _NUMBER.fullmatch(text):
        raise NotAValue(f"'{text}' is not a value here; write {_EXAMPLE[kind]}")
    number = _number(text.replace("−", "-"), kind)
    if abs(number) > LARGEST:
        raise NotAValue(f"'{text}' is larger than any number here; write {_EXAMPLE[kind]}")
    return number


def _number(text: str, kind: Kind) -> float:
    try:
        if "/" not in text:
            return float(text)
        from fractions import Fraction  # seldom needed, and slow to import

        sign = -1 if text.startswith("-") else 1
        return sign * float(sum(Fraction(part) for part in text.lstrip("+-").split()))
    except ZeroDivisionError:
        raise NotAValue(f"'{text}' divides by zero; write {_EXAMPLE[kind]}") from None


def to_scale(kind: Kind, number: float, units: Units) -> float:
    """A bare number in the given units, on the program's own scale for the kind."""
    if kind is Kind.TEMPERATURE and units is Units.METRIC:
        return fahrenheit(number)
    if kind is Kind.LENGTH and units is Units.METRIC:
        return inches(number)
    return rounded(number)


def parse_date(text: str) -> date:
    """An ISO date. Raises `NotAValue` for one that does not exist, such as 2031-02-30, or is out of reach."""
    match = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", text.strip())
    if match is None:
        raise NotAValue(f"'{text}' is not a date; write it as year-month-day, such as 2031-06-20")
    if not FIRST_YEAR <= int(match[1]) <= LAST_YEAR:
        raise NotAValue(f"{text.strip()} is too far away; write a year from {FIRST_YEAR} to {LAST_YEAR}")
    try:
        return date(int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        raise NotAValue(f"there is no day {text.strip()} in the calendar; check month and day") from None


def parse_value(kind: Kind, text: str, units: Units | None) -> float:
    """One value of a numeric kind on the program's scale; dates give their ordinal day.

    `units` are those of a bare number; None means that a unit must be written (rulebooks).
    Raises `NotAValue` with what to write instead.
    """
    if kind is Kind.DATE:
        return float(parse_date(text).toordinal())
    number_text, written = split_unit(kind, text)
    number = plain_number(number_text, kind)
    unit = written or units
    if unit is None:
        if kind in _UNIT_WORDS:
            raise NotAValue(f"'{text.strip()}' has no unit; write {_EXAMPLE[kind]}")
        unit = Units.US
    return to_scale(kind, number, unit)


def format_number(value: float) -> str:
    """A number without needless zeros, at most two decimals."""
    return f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")


def format_date(value: float, year: bool = True) -> str:
    """An ordinal day as `20 June 2031`."""
    return format_day(date.fromordinal(round(value)), year)


def format_day(day: date, year: bool = True) -> str:
    """A day as `20 June 2031`, or as `20 June`."""
    return f"{day.day} {day:%B} {day.year}" if year else f"{day.day} {day:%B}"


def short_day(day: date) -> str:
    """A day of a season that is plain from what stands around, as `20 Jun`."""
    return f"{day.day} {day:%b}"


def format_value(kind: Kind, value: float, units: Units) -> str:
    """A value on the program's scale as people write it in the given units."""
    if kind is Kind.DATE:
        return format_date(value)
    if kind is Kind.TEMPERATURE:
        return f"{format_number(value)} °F" if units is Units.US else f"{round(celsius(value), 1):g} °C"
    if kind is Kind.LENGTH:
        return f"{format_number(value)} in" if units is Units.US else f"{round(centimetres(value), 1):g} cm"
    return format_number(value)
