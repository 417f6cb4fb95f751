"""Ranges, margins and bounds as authors write them, on the program's own scale."""

from __future__ import annotations

from assistant.model.quantities import MOST_DAYS, Kind, NotAValue, Units, parse_value, plain_number, rounded, split_unit
from assistant.model.readings import Span
from assistant.rulebook.names import quoted

DEGREES_F_IN_ONE_C = 9 / 5
NUMBER_SHARE = 0.05  # "about 100" reaches five in a hundred to either side (our own judgement, no source)
DATE_DAYS = 7  # "about 20 June" reaches a week to either side (our own judgement, no source)
TEMPERATURE_DEGREES = 3  # °F, as far as thermometers in a garden differ (our own judgement, no source)
LENGTH_INCHES = 0.25  # in, as well as an eye judges a root (our own judgement, no source)
USUAL_MARGIN = {
    Kind.NUMBER: (0.0, NUMBER_SHARE),
    Kind.DATE: (float(DATE_DAYS), 0.0),
    Kind.TEMPERATURE: (float(TEMPERATURE_DEGREES), 0.0),
    Kind.LENGTH: (LENGTH_INCHES, 0.0),
    Kind.CHOICE: (0.0, 0.0),
}


def has_wrong_unit(kind: Kind, text: str) -> bool:
    """Whether a text that is no value of the kind fails by its unit: a foreign one, or none where one is needed."""
    try:
        number, unit = split_unit(kind, text)
        plain_number(number, kind)
    except NotAValue as error:
        return "has the unit" in str(error)
    return unit is None and kind in (Kind.TEMPERATURE, Kind.LENGTH)


def range_of(kind: Kind, text: str) -> Span:
    """`LOW..HIGH` with a unit at the end (or at both), or one figure. Raises `NotAValue`."""
    low_text, dots, high_text = text.partition("..")
    high = parse_value(kind, high_text if dots else low_text, None)
    low = parse_value(kind, _with_unit(kind, low_text, high_text), None) if dots else high
    if low > high:
        raise NotAValue(f"{quoted(text)} runs downward; write the lower end first")
    return Span(low, high)


def _with_unit(kind: Kind, low: str, high: str) -> str:
    """The low end with the unit of the high end, when it has none of its own."""
    number, unit = split_unit(kind, high)
    return f"{low} {high.strip()[len(number) :]}" if unit and not split_unit(kind, low)[1] else low


def margin_of(kind: Kind, text: str) -> tuple[float, float]:
    """A margin, as a width on the program's scale and as a share of the value; one is 0. Raises `NotAValue`."""
    width, share = _margin(kind, text)
    if min(width, share) < 0:
        raise NotAValue(f"{quoted(text)} is below zero; write how far it reaches to either side")
    if kind is Kind.DATE and width > MOST_DAYS:
        raise NotAValue(f"{quoted(text)} is more than a century of days; write how far it reaches to either side")
    return width, share


def _margin(kind: Kind, text: str) -> tuple[float, float]:
    if kind is Kind.NUMBER and text.strip().endswith("%"):
        return 0.0, plain_number(text.strip()[:-1].strip()) / 100
    if kind is Kind.DATE:
        return plain_number(text), 0.0
    number, unit = split_unit(kind, text)
    if kind is Kind.TEMPERATURE and unit is Units.METRIC:
        return rounded(plain_number(number) * DEGREES_F_IN_ONE_C), 0.0
    return parse_value(kind, text, None), 0.0
