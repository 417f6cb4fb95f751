"""Readings, days and headlines in plain words."""

from __future__ import annotations

from datetime import date

from assistant.model.quantities import Kind, Units, format_value
from assistant.model.readings import Choices, Known, Origin, Reading, Span
from assistant.model.rules import Rulebook

_ORIGINS = {
    Origin.ANSWERED: "you said",
    Origin.CANT_TELL: "you can't tell",
    Origin.NOT_ASKED: "not asked yet",
    Origin.TEST_DIG: "from the test dig",
    Origin.GARDEN: "from the garden's frost dates",
    Origin.RECKONED: "reckoned",
    Origin.FORECAST: "from the forecast",
    Origin.NOTEBOOK: "from the notebook",
}


def day_words(day: date) -> str:
    """A day as `Saturday 4 October`."""
    return f"{day:%A} {day.day} {day:%B}"


def format_reading(rulebook: Rulebook, name: str, reading: Reading, units: Units) -> str:
    """A sign's or measure's reading in plain words, such as `95 to 105 days` or `green or yellowing`."""
    if isinstance(reading, Choices):
        order = rulebook.signs[name].choices
        return " or ".join(choice for choice in order if choice in reading.possible)
    sign = rulebook.signs.get(name)
    kind, unit = (sign.kind, sign.unit) if sign else (Kind.NUMBER, rulebook.measures[name].unit)
    return _span_words(kind, reading, units) + (f" {unit}" if unit else "")


def _span_words(kind: Kind, span: Span, units: Units) -> str:
    low, high = (format_value(kind, end, units) for end in (span.low, span.high))
    return low if low == high else f"{low} to {high}"


def origin_words(known: Known) -> str:
    """Where a reading came from, with the grower's own words where they gave some."""
    words = _ORIGINS[known.origin]
    if known.origin is Origin.ANSWERED and known.written:
        return f"{words} “{known.written}”"
    return f"{words}: {known.written}" if known.origin is Origin.TEST_DIG else words


def known_words(rulebook: Rulebook, name: str, known: Known, units: Units) -> str:
    """What is known of a sign in one phrase; a whole domain is never shown as if it were an answer."""
    if known.origin in (Origin.CANT_TELL, Origin.NOT_ASKED):
        return origin_words(known)
    return f"{format_reading(rulebook, name, known.reading, units)} ({origin_words(known)})"


def name_words(rulebook: Rulebook, name: str) -> str:
    """A sign, measure or finding as a phrase for the reader."""
    if name in rulebook.measures:
        return rulebook.measures[name].says
    if name in rulebook.signs and rulebook.signs[name].called:
        return rulebook.signs[name].called
    return name.replace("_", " ").replace("-", " ")


def headline(
    rulebook: Rulebook, advice: str | None, conflict: bool, act_by: date | None, look_again: date | None
) -> str:
    """The verdict in one line, with its days."""
    if conflict:
        return "The rules disagree here; read both sides before you act"
    if advice is None:
        return "No advice: no rule speaks to what is known"
    parts = [rulebook.advice[advice].headline]
    if act_by:
        parts.append(f"act by {day_words(act_by)}")
    if look_again:
        parts.append(f"look again on {day_words(look_again)}")
    return "; ".join(parts)
