"""An option of a sign as an answer a grower could write, in round numbers where they mean the same."""

from __future__ import annotations

from datetime import date
from math import ceil

from assistant.interview.remainder import Remainder
from assistant.model.quantities import Kind, format_number
from assistant.model.readings import Choices, Known, Origin, Reading, Span
from assistant.model.signs import Sign

CANT_TELL = "can't tell"
_UNITS = {Kind.TEMPERATURE: " F", Kind.LENGTH: " in"}


def answer_of(sign: Sign, rest: Remainder, number: int, on: date) -> Known:
    """An answer that is the option of that number."""
    option = rest.options[sign.name].all[number]
    if option.whole:
        return Known(option.reading, Origin.CANT_TELL, CANT_TELL)
    reading = _round(sign, rest, number, option.reading)
    return Known(reading, Origin.ANSWERED, _words(sign, reading))


def _round(sign: Sign, rest: Remainder, number: int, reading: Reading) -> Reading:
    """The reading with its ends raised to whole numbers, where that is still the same option."""
    if isinstance(reading, Choices) or sign.kind is Kind.DATE:
        return reading
    low, high = ceil(reading.low), ceil(reading.high)
    round_one = Span(low, high)
    inside = sign.low <= low and high <= sign.high
    return round_one if inside and rest.option_for(sign.name, round_one) == number else reading


def _words(sign: Sign, reading: Reading) -> str:
    if isinstance(reading, Choices):
        return ", ".join(choice for choice in sign.choices if choice in reading.possible)
    low, high = (_value_words(sign, end) for end in (reading.low, reading.high))
    return low if low == high else f"{low}..{high}"


def _value_words(sign: Sign, value: float) -> str:
    if sign.kind is Kind.DATE:
        return date.fromordinal(round(value)).isoformat()
    return format_number(value) + _UNITS.get(sign.kind, "")
