"""The few sentences that the screens themselves say; what comes of the rules is worded elsewhere."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from assistant.model.derivation import Outcome
from assistant.model.quantities import Kind, Units, format_date, format_number, format_value
from assistant.model.readings import Choices, Known, Origin
from assistant.model.signs import Effort, Sign

if TYPE_CHECKING:
    from assistant.season import Visit

CANT_TELL = Origin.CANT_TELL.value
ABOUT = "about "

EFFORT_WORDS = {
    Effort.GLANCE: "a look across the bed",
    Effort.STOOP: "stoop down",
    Effort.LOOK_UP: "look it up",
    Effort.DIG: "dig up a hill",
}

OUTCOME_WORDS = {
    Outcome.SETTLED: "Settled: no further answer would change it.",
    Outcome.OPEN: "Still open: more answers could change it.",
    Outcome.NO_ADVICE: "No rule of this rulebook fits what is known.",
    Outcome.CONFLICT: "Rules of this rulebook contradict each other here.",
}

SETTLED_BUT_FOR_THE_DAY = "Settled: one more answer would only move the day."
REASON_WORDS = {"source": "Source: "}


def answered(visit: Visit) -> str:
    """How much is answered."""
    return f"{len(visit.answered)} answered"


def progress(visit: Visit) -> str:
    """How far the interview is, promising no more than is known."""
    at_most, about = visit.at_most_left, visit.about_left
    if at_most == 0:
        return f"{answered(visit)} · nothing left to ask"
    if about is None or about >= at_most:
        return f"{answered(visit)} · {at_most} more at most"
    return f"{answered(visit)} · about {about} more, {at_most} at most"


def record_progress(visit: Visit) -> str:
    """How far answering for the record is."""
    return f"{answered(visit)} · {len(visit.not_needed)} for the record"


def what_to_write(sign: Sign, units: Units) -> str:
    """What the answer line takes, with the unit of a bare number and one example of each form."""
    low, high = format_number(sign.low), format_number(sign.high)
    if sign.kind is Kind.DATE:
        return "A day such as 2031-06-20, 20 June, mid June or 3 weeks ago; or FROM..TO."
    if sign.kind is Kind.TEMPERATURE:
        here, there = ("°F", "12 C") if units is Units.US else ("°C", "54 F")
        return f"In {here}; {there} works too. A single value, or LOW..HIGH."
    if sign.kind is Kind.LENGTH:
        here, there = ("inches", "6 cm") if units is Units.US else ("cm", "2.5 in")
        return f"In {here}; {there} works too. A single value, or LOW..HIGH."
    return f"A number{' of ' + sign.unit if sign.unit else ''} from {low} to {high}, or LOW..HIGH."


def unit_beside(sign: Sign, units: Units) -> str:
    """The unit that stands after the answer line."""
    if sign.kind is Kind.TEMPERATURE:
        return "°F" if units is Units.US else "°C"
    if sign.kind is Kind.LENGTH:
        return "in" if units is Units.US else "cm"
    return sign.unit


def about_words(sign: Sign, units: Units) -> str:
    """How far "about" reaches to either side."""
    if sign.kind is Kind.DATE:
        return f"give or take {format_number(sign.about)} days"
    if not sign.about:
        return f"give or take {format_number(sign.about_share * 100)} %"
    if sign.kind is Kind.TEMPERATURE and units is Units.METRIC:
        return f"give or take {sign.about * 5 / 9:.1f} °C"
    unit = "" if sign.kind in (Kind.TEMPERATURE, Kind.LENGTH) else f" {sign.unit}".rstrip()
    return f"give or take {format_value(sign.kind, sign.about, units)}{unit}"


def toggle_about(text: str) -> str:
    """Puts "about" before an answer, or takes it away again."""
    bare = text.lstrip()
    return bare[len(ABOUT) :] if bare.lower().startswith(ABOUT) else ABOUT + bare


def choices_given(sign: Sign, known: Known | None) -> frozenset[str]:
    """The choices an earlier answer named; none when there was none, or when it was *can't tell*."""
    if known is None or known.origin is Origin.CANT_TELL or not isinstance(known.reading, Choices):
        return frozenset()
    return known.reading.possible


def day_words(day: date, on: date) -> str:
    """A date with its weekday and how far it is from the visit."""
    days = (day - on).days
    if days == 0:
        away = "today"
    elif days == 1:
        away = "tomorrow"
    else:
        away = f"in {days} days" if days > 0 else f"{-days} days ago"
    return f"{day:%A} {format_date(day.toordinal())} · {away}"
