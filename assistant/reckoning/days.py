"""Counting days, and choosing the day to act by or to look again on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from assistant.model.case import Garden
from assistant.model.quantities import MOST_DAYS
from assistant.model.readings import Reading, Span
from assistant.model.rules import AfterNights, DayChoice, InDays, OnGardenDate, WhenReached


def days_since(start: Span, on: float) -> Span:
    """Whole days from a range of ordinal days to an ordinal day; the earliest start gives the most days."""
    return Span(on - start.high, on - start.low)


def days_until(day: date, on: date) -> int:
    """Whole days from one day to another, below zero once it has passed."""
    return (day - on).days


def soonest(
    choices: Iterable[DayChoice], on: date, readings: Mapping[str, Reading], garden: Garden, not_before: date
) -> date | None:
    """The earliest of the candidate days, none of them before `not_before`; None when no candidate is known."""
    days = [candidate(choice, on, readings, garden) for choice in choices]
    return min((max(day, not_before) for day in days if day), default=None)


def candidate(choice: DayChoice, on: date, readings: Mapping[str, Reading], garden: Garden) -> date | None:
    """The calendar day a choice names; None when what it rests on is not known.

    Nights until a frost count at their earliest, so a vague forecast gives the soonest day.
    """
    match choice:
        case InDays(days):
            return on + timedelta(days=days)
        case AfterNights(reading):
            return _later(on, _span(readings, reading).low)
        case OnGardenDate(garden_date, days):
            return garden.day_named(garden_date, on, days)
        case WhenReached(reading, other):
            return _day_reached(_span(readings, reading), _span(readings, other), on)


def _later(on: date, days: float) -> date | None:
    """So many days after a day; None where that is more than a century away."""
    return on + timedelta(days=int(days)) if abs(days) <= MOST_DAYS else None


def _day_reached(count: Span, wanted: Span, on: date) -> date | None:
    """The first day a count of days may reach what is wanted; None once it may have, or after half a year."""
    days_ahead = int(wanted.low - count.high)
    return on + timedelta(days=days_ahead) if 0 < days_ahead <= 183 else None


def _span(readings: Mapping[str, Reading], name: str) -> Span:
    reading = readings[name]
    assert isinstance(reading, Span), f"{name} is counted in days"
    return reading
