"""Dates as growers remember them: an exact day, a month, a part of one, or so many weeks ago."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta

from assistant.model.case import MonthDay
from assistant.model.quantities import NotAValue, parse_date
from assistant.model.readings import Span, exactly

_MONTHS = {
    name: number
    for number, names in enumerate(
        ("jan january", "feb february", "mar march", "apr april", "may", "jun june", "jul july", "aug august",
         "sep sept september", "oct october", "nov november", "dec december"),
        start=1,
    )
    for name in names.split()
}  # fmt: skip
_PARTS = {"early": (1, 10), "mid": (11, 20), "late": (21, 31)}
_DAYS_IN = {"day": 1, "week": 7, "month": 30}


def parse_day_range(text: str, on: date) -> Span:
    """The ordinal days a text allows, looking back from the day of the visit.

    Takes 2031-06-20, 06-20, 20 June, June, early/mid/late June, today, yesterday, 3 weeks ago, and
    FROM..TO of two of these. Raises `NotAValue`.
    """
    first, dots, last = text.partition("..")
    if not dots:
        return _days(text.strip().lower(), on)
    span = _days(first.strip().lower(), on), _days(last.strip().lower(), on)
    if span[0].low > span[1].high:
        raise NotAValue(f"'{text}' runs from late to early; write the earlier date first")
    return Span(span[0].low, span[1].high)


def _days(text: str, on: date) -> Span:
    if text in ("today", "yesterday"):
        return exactly(on.toordinal() - (text == "yesterday"))
    if ago := re.fullmatch(r"(\d{1,3}) (day|week|month)s? ago", text):
        return exactly((on - timedelta(days=int(ago[1]) * _DAYS_IN[ago[2]])).toordinal())
    if month_day := re.fullmatch(r"(\d{1,2})-(\d{1,2})", text):
        return _day_of_month(int(month_day[1]), int(month_day[2]), text, on)
    if words := re.fullmatch(r"(\d{1,2}) ([a-z]+)|([a-z]+) (\d{1,2})", text):
        month = _MONTHS.get(words[2] or words[3])
        if month:
            return _day_of_month(month, int(words[1] or words[4]), text, on)
    if part := re.fullmatch(r"(?:(early|mid|late)[ -])?([a-z]+)", text):
        month = _MONTHS.get(part[2])
        if month:
            return _month_part(month, *_PARTS.get(part[1], (1, 31)), on)
    return exactly(parse_date(text).toordinal())


def _day_of_month(month: int, day: int, text: str, on: date) -> Span:
    if not 1 <= month <= 12 or not 1 <= day <= monthrange(2000, month)[1]:
        raise NotAValue(f"there is no day {text} in the calendar; check month and day")
    return exactly(_latest_before(MonthDay(month, day), on).toordinal())


def _month_part(month: int, first: int, last: int, on: date) -> Span:
    start = _latest_before(MonthDay(month, first), on)
    end = start.replace(day=min(last, monthrange(start.year, month)[1]))
    return Span(start.toordinal(), min(end, on).toordinal())


def _latest_before(day: MonthDay, on: date) -> date:
    this_year = day.in_year(on.year)
    return this_year if this_year <= on else day.in_year(on.year - 1)
