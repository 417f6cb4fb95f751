"""From a grower's words to a reading: exact, about, from..to, one of several, or can't tell."""

from __future__ import annotations

import re
from datetime import date

from assistant.interview.dates import parse_day_range
from assistant.model.quantities import (
    Kind,
    NotAValue,
    Units,
    example_of,
    format_date,
    format_value,
    parse_value,
    split_unit,
)
from assistant.model.readings import Choices, Known, Origin, Span
from assistant.model.signs import Sign

CANT_TELL = "can't tell"
_CANT_TELL_WORDS = {CANT_TELL, "cant tell", "can’t tell", "cannot tell", "don't know", "?"}
_LONGEST_ANSWER = 200


def parse_answer(sign: Sign, text: str, on: date, units: Units) -> Known:
    """The reading a grower's words stand for.

    Raises `NotAValue` with one sentence on what to write instead.
    """
    written = " ".join(text.split())
    if len(written) > _LONGEST_ANSWER:
        raise NotAValue(f"an answer has at most {_LONGEST_ANSWER} letters")
    if written.lower() in _CANT_TELL_WORDS:
        return Known(sign.domain(on), Origin.CANT_TELL, CANT_TELL)
    if not written:
        raise NotAValue(f"write {_what_to_write(sign)}, or can't tell")
    reading = _choices(sign, written) if sign.kind is Kind.CHOICE else _span(sign, written, on, units)
    return Known(reading, Origin.ANSWERED, written)


def _choices(sign: Sign, written: str) -> Choices:
    words = [word.strip().strip("[]").strip() for word in re.split(r",|\bor\b", written)]
    if not any(words):
        raise NotAValue(f"'{written}' is not a choice for {sign.name}; write {_what_to_write(sign)}")
    return Choices(frozenset(_choice(sign, word) for word in words if word))


def _choice(sign: Sign, word: str) -> str:
    name = re.sub(r"[\s_]+", "-", word.lower())
    if name in sign.choices:
        return name
    from difflib import get_close_matches  # slow to load, and only needed when something is wrong

    near = get_close_matches(name, sign.choices, n=1, cutoff=0.7)
    meant = f"; did you mean '{near[0]}'?" if near else ""
    raise NotAValue(f"'{word}' is not a choice for {sign.name}; write {_what_to_write(sign)}{meant}")


def _span(sign: Sign, written: str, on: date, units: Units) -> Span:
    domain = sign.domain(on)
    assert isinstance(domain, Span)
    about = re.fullmatch(r"(?:about|around|roughly|~)\s*(.+)", written, re.IGNORECASE)
    span = _plain_span(sign, about[1] if about else written, on, units)
    if about:
        margin = sign.margin(span.low)
        span = Span(span.low - margin, span.high + margin)
    inside = domain.meet(span)
    if inside is None or (not about and inside != span):
        raise NotAValue(_outside(sign, domain, span, on, units))
    return inside


def _plain_span(sign: Sign, text: str, on: date, units: Units) -> Span:
    if sign.kind is Kind.DATE:
        return parse_day_range(text, on)
    low, dots, high = text.partition("..")
    if not dots:
        value = parse_value(sign.kind, text, units)
        return Span(value, value)
    _, high_unit = split_unit(sign.kind, high)
    ends = parse_value(sign.kind, low, high_unit or units), parse_value(sign.kind, high, units)
    if ends[0] > ends[1]:
        raise NotAValue(f"'{text}' runs from high to low; write the smaller value first")
    return Span(*ends)


def _what_to_write(sign: Sign) -> str:
    if sign.kind is Kind.CHOICE:
        return "one of " + ", ".join(sign.choices)
    return example_of(sign.kind)


def _outside(sign: Sign, domain: Span, span: Span, on: date, units: Units) -> str:
    if sign.kind is Kind.DATE:
        if span.high > on.toordinal():
            visit = format_date(on.toordinal())
            return f"{format_date(span.high)} is after the day of the visit, {visit}; check the year"
        return f"{format_date(span.low)} is too long ago; write a date from {format_date(domain.low)} on"
    low, high = (format_value(sign.kind, end, units) for end in (domain.low, domain.high))
    unit = f" {sign.unit}" if sign.unit else ""
    return f"{sign.name} lies between {low} and {high}{unit}; check the number and its unit"
